//! A script as its words and signs, without what only its readers need.

use anyhow::{Result, bail, ensure};

/// What a piece of a script is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A name or a keyword.
    Word,
    /// A number.
    Number,
    /// A text in quotes, a pattern, or a part of a template text between two of
    /// its values: left as it stands.
    Text,
    /// Anything else.
    Sign,
}

/// A piece of a script.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Token<'a> {
    /// What it is.
    pub(crate) kind: Kind,
    /// How it stands there.
    pub(crate) text: &'a str,
    /// Whether a line begins before it.
    pub(crate) on_new_line: bool,
}

impl Token<'_> {
    /// Whether it is this sign.
    pub(crate) fn is(&self, sign: &str) -> bool {
        self.kind == Kind::Sign && self.text == sign
    }

    /// Whether it is this word.
    pub(crate) fn is_word(&self, word: &str) -> bool {
        self.kind == Kind::Word && self.text == word
    }
}

/// Longest first, so that none is taken for two.
const SIGNS: [&str; 36] = [
    ">>>=", "...", "===", "!==", "**=", "<<=", ">>=", ">>>", "&&=", "||=", "??=", "=>", "==", "!=",
    "<=", ">=", "&&", "||", "??", "?.", "++", "--", "+=", "-=", "*=", "/=", "%=", "&=", "|=", "^=",
    "<<", ">>", "**", "#", "@", "\\",
];

/// Words after which a stroke begins a pattern and not a division.
const BEFORE_PATTERN: [&str; 12] = [
    "return", "typeof", "case", "in", "of", "delete", "void", "throw", "new", "await", "else", "do",
];

/// Takes a script apart.
pub(crate) fn tokens(source: &str) -> Result<Vec<Token<'_>>> {
    let mut reader = Reader {
        source,
        at: 0,
        found: Vec::with_capacity(source.len() / 4),
        templates: Vec::new(),
        on_new_line: false,
    };
    while reader.skip_blank()? {
        reader.next()?;
    }
    ensure!(reader.templates.is_empty(), "a template text has no end");
    Ok(reader.found)
}

struct Reader<'a> {
    source: &'a str,
    at: usize,
    found: Vec<Token<'a>>,
    /// Open braces inside each value of a template text that is open.
    templates: Vec<usize>,
    on_new_line: bool,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        &self.source[self.at..]
    }

    /// Blanks and comments; false at the end.
    fn skip_blank(&mut self) -> Result<bool> {
        self.on_new_line = false;
        loop {
            let rest = self.rest();
            let blank = rest.len() - rest.trim_start().len();
            self.on_new_line |= rest[..blank].contains('\n');
            self.at += blank;
            let rest = self.rest();
            if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                let Some(end) = rest.find("*/") else {
                    bail!("a comment has no end");
                };
                self.at += end + 2;
            } else {
                return Ok(!rest.is_empty());
            }
        }
    }

    fn next(&mut self) -> Result<()> {
        let rest = self.rest();
        let first = rest.chars().next().unwrap_or_default();
        if is_in_word(first) && !first.is_ascii_digit() {
            let end = rest.find(|c| !is_in_word(c)).unwrap_or(rest.len());
            return self.take(Kind::Word, end);
        }
        let decimal = first == '.' && rest[1..].starts_with(|c: char| c.is_ascii_digit());
        if first.is_ascii_digit() || decimal {
            return self.take(Kind::Number, number(rest));
        }
        match first {
            '"' | '\'' => {
                let end = quoted(rest, first)?;
                self.take(Kind::Text, end)
            }
            '`' => self.template(1),
            '/' if self.begins_pattern() => {
                let end = pattern(rest)?;
                self.take(Kind::Text, end)
            }
            '}' if self.templates.last() == Some(&0) => {
                self.templates.pop();
                self.template(1)
            }
            '{' | '}' => {
                if let Some(open) = self.templates.last_mut() {
                    *open = if first == '{' { *open + 1 } else { *open - 1 };
                }
                self.take(Kind::Sign, 1)
            }
            _ => {
                let sign = SIGNS.iter().find(|sign| rest.starts_with(**sign));
                // `a?.5:b` is a choice.
                let sign = sign.filter(|sign| {
                    **sign != "?." || !rest[2..].starts_with(|c: char| c.is_ascii_digit())
                });
                self.take(Kind::Sign, sign.map_or(first.len_utf8(), |sign| sign.len()))
            }
        }
    }

    fn take(&mut self, kind: Kind, length: usize) -> Result<()> {
        self.found.push(Token {
            kind,
            text: &self.rest()[..length],
            on_new_line: self.on_new_line,
        });
        self.at += length;
        Ok(())
    }

    /// A part of a template text, from its tick or the end of a value to the
    /// next value or the last tick.
    fn template(&mut self, skipped: usize) -> Result<()> {
        let rest = self.rest();
        let mut at = skipped;
        loop {
            let Some(step) = rest[at..].find(['`', '\\', '$']) else {
                bail!("a template text has no end");
            };
            at += step;
            if rest[at..].starts_with('`') {
                return self.take(Kind::Text, at + 1);
            }
            if rest[at..].starts_with("${") {
                self.templates.push(0);
                return self.take(Kind::Text, at + 2);
            }
            at += if rest[at..].starts_with('\\') {
                1 + rest[at + 1..].chars().next().map_or(0, char::len_utf8)
            } else {
                1
            };
        }
    }

    fn begins_pattern(&self) -> bool {
        let Some(last) = self.found.last() else {
            return true;
        };
        match last.kind {
            Kind::Word => BEFORE_PATTERN.contains(&last.text),
            Kind::Number => false,
            // A value of a template text begins.
            Kind::Text => last.text.ends_with("${"),
            Kind::Sign => !matches!(last.text, ")" | "]" | "++" | "--"),
        }
    }
}

/// Whether a name may hold this letter.
pub(crate) fn is_in_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_' || letter == '$'
}

fn number(rest: &str) -> usize {
    let mut before = ' ';
    let is_hex = rest.starts_with("0x");
    let end = rest.find(|c: char| {
        let goes_on = is_in_word(c)
            || c == '.'
            || (matches!(c, '+' | '-') && matches!(before, 'e' | 'E') && !is_hex);
        before = c;
        !goes_on
    });
    end.unwrap_or(rest.len())
}

fn quoted(rest: &str, quote: char) -> Result<usize> {
    let mut escaped = false;
    for (at, letter) in rest.char_indices().skip(1) {
        if letter == quote && !escaped {
            return Ok(at + 1);
        }
        escaped = letter == '\\' && !escaped;
    }
    bail!("a text has no end")
}

fn pattern(rest: &str) -> Result<usize> {
    let (mut escaped, mut in_class) = (false, false);
    for (at, letter) in rest.char_indices().skip(1) {
        match letter {
            '\n' => break,
            _ if escaped => {
                escaped = false;
                continue;
            }
            '[' => in_class = true,
            ']' => in_class = false,
            '/' if !in_class => {
                let flags = &rest[at + 1..];
                let flags = flags.find(|c| !is_in_word(c)).unwrap_or(flags.len());
                return Ok(at + 1 + flags);
            }
            _ => {}
        }
        escaped = letter == '\\';
    }
    bail!("a pattern has no end")
}

#[cfg(test)]
mod tests {
    use super::tokens;

    fn texts(source: &str) -> Vec<&str> {
        tokens(source).map_or_else(
            |_| vec!["refused"],
            |found| found.iter().map(|token| token.text).collect(),
        )
    }

    #[test]
    fn comments_go_and_texts_stay() {
        assert_eq!(
            texts("/** why */ a = \"// no\"; // how\nb"),
            ["a", "=", "\"// no\"", ";", "b"]
        );
    }

    #[test]
    fn a_stroke_divides_or_begins_a_pattern() {
        assert_eq!(texts("a / b / c"), ["a", "/", "b", "/", "c"]);
        assert_eq!(texts("x = /[/]\\//gu.test(a)")[2], "/[/]\\//gu");
        assert_eq!(texts("(a) / 2 / b"), ["(", "a", ")", "/", "2", "/", "b"]);
        assert_eq!(texts("return /a b/"), ["return", "/a b/"]);
    }

    #[test]
    fn values_of_a_template_text_are_code() {
        assert_eq!(
            texts("`a ${b + `${{ c: d }.c}`} \\` /* e */`"),
            [
                "`a ${",
                "b",
                "+",
                "`${",
                "{",
                "c",
                ":",
                "d",
                "}",
                ".",
                "c",
                "}`",
                "} \\` /* e */`"
            ]
        );
    }

    #[test]
    fn numbers_and_long_signs_are_one_piece() {
        assert_eq!(
            texts("1e-7+.5**0x1F>>>2"),
            ["1e-7", "+", ".5", "**", "0x1F", ">>>", "2"]
        );
        assert_eq!(
            texts("a?.b ?? c?.5:d"),
            ["a", "?.", "b", "??", "c", "?", ".5", ":", "d"]
        );
    }

    #[test]
    fn what_has_no_end_is_refused() {
        for source in ["`a", "\"a", "/* a", "x = /a"] {
            assert_eq!(texts(source), ["refused"], "{source}");
        }
    }
}
