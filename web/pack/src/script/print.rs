//! Writes tokens one after another with as few signs as will do.

use super::tokens::{Kind, Token, is_in_word};

/// A script that is being written.
#[derive(Debug, Default)]
pub(crate) struct Printer {
    out: String,
    last: Option<Kind>,
    /// What may be left out before a closing bracket.
    held: Option<&'static str>,
    /// Open parentheses, and whether each asks a condition.
    open: Vec<bool>,
    /// A condition has just ended: a statement must follow, if only an empty one.
    wants_statement: bool,
}

/// Words whose parentheses a statement follows.
const CONDITIONS: [&str; 5] = ["if", "for", "while", "with", "await"];

impl Printer {
    /// One token, under another name where it has one.
    pub(crate) fn token(&mut self, token: Token, name: Option<&str>) {
        let text = name.unwrap_or(token.text);
        if token.is("}") || token.is("]") || token.is(")") {
            // `{ a; }` and `[a, ]` are `{ a }` and `[a]`.
            let needed = self
                .held
                .take()
                .filter(|sign| *sign == ";" && !token.is("}"));
            self.out.push_str(needed.unwrap_or_default());
        } else if let Some(held) = self.held.take() {
            self.out.push_str(held);
            self.last = Some(Kind::Sign);
        }
        let wants_statement = std::mem::take(&mut self.wants_statement);
        if token.is("(") {
            let asks = CONDITIONS.iter().any(|word| self.ends_with_word(word));
            self.open.push(asks);
        } else if token.is(")") {
            self.wants_statement = self.open.pop().unwrap_or(false);
        }
        let sign = [";", ","].into_iter().find(|sign| token.is(sign));
        if let Some(sign) = sign.filter(|_| !wants_statement && !self.out.ends_with(['(', ';'])) {
            self.held = Some(sign);
            return;
        }
        self.separate(token, text);
        self.out.push_str(text);
        self.last = Some(token.kind);
    }

    fn ends_with_word(&self, word: &str) -> bool {
        self.last == Some(Kind::Word)
            && self
                .out
                .strip_suffix(word)
                .is_some_and(|before| !before.ends_with(|c| is_in_word(c) || c == '.'))
    }

    /// An expression in brackets of its own, or a statement, as it stands.
    pub(crate) fn written(&mut self, text: &str) {
        self.flush();
        let word = Token {
            kind: Kind::Word,
            text,
            on_new_line: false,
        };
        self.separate(word, text);
        self.out.push_str(text);
        self.last = Some(Kind::Sign);
    }

    /// Ends the statement, if one is open.
    pub(crate) fn end(&mut self) {
        self.flush();
        if !self.out.is_empty() && !self.out.ends_with([';', '}']) {
            self.out.push(';');
        }
        self.last = None;
    }

    fn flush(&mut self) {
        self.out.push_str(self.held.take().unwrap_or_default());
    }

    /// A blank, or a line where one may end a statement.
    fn separate(&mut self, token: Token, text: &str) {
        let (Some(last), Some(first)) = (self.out.chars().next_back(), text.chars().next()) else {
            return;
        };
        let words = is_in_word(last) && is_in_word(first);
        let signs =
            (last == first && matches!(first, '+' | '-' | '/')) || (last == '/' && first == '*');
        let number = self.last == Some(Kind::Number) && first == '.';
        let ends = matches!(self.last, Some(Kind::Word | Kind::Number | Kind::Text))
            || last == ')'
            || last == ']';
        let begins = matches!(token.kind, Kind::Word | Kind::Number)
            || (token.kind == Kind::Text && !text.starts_with('}'));
        if token.on_new_line && ends && begins && !self.out.ends_with("${") {
            self.out.push('\n');
        } else if words || signs || number {
            self.out.push(' ');
        }
    }

    /// What was written.
    pub(crate) fn done(mut self) -> String {
        self.flush();
        self.out
    }
}

#[cfg(test)]
mod tests {
    use super::Printer;
    use crate::script::tokens::tokens;

    fn printed(source: &str) -> String {
        let mut printer = Printer::default();
        for token in tokens(source).unwrap_or_default() {
            printer.token(token, None);
        }
        printer.done()
    }

    #[test]
    fn blanks_stay_where_two_would_be_one() {
        assert_eq!(
            printed("const a = b + +c - -d;\nreturn \"e\" in f"),
            "const a=b+ +c- -d;return\"e\"in f"
        );
        assert_eq!(
            printed("1 .toFixed(2); a / /b/.c"),
            "1 .toFixed(2);a/ /b/.c"
        );
    }

    #[test]
    fn what_a_bracket_ends_needs_no_other_end() {
        assert_eq!(printed("{ a; b(c, d,); [e,]; }"), "{a;b(c,d);[e]}");
        assert_eq!(
            printed("for (; ;) a; for (let b = 1; b;) ; c"),
            "for(;;)a;for(let b=1;b;);c"
        );
        assert_eq!(printed("{ if (a) ; }"), "{if(a);}");
    }

    #[test]
    fn an_empty_statement_stays() {
        assert_eq!(
            printed("{ while (a()) ; } b.if(c); }"),
            "{while(a());}b.if(c)}"
        );
    }

    #[test]
    fn a_line_that_may_end_a_statement_stays() {
        assert_eq!(printed("a\nb\n  .c()\nreturn"), "a\nb.c()\nreturn");
        assert_eq!(
            printed("if (a)\n  b();\nelse\n  c();"),
            "if(a)\nb();else\nc();"
        );
    }

    #[test]
    fn template_texts_stay_as_they_are() {
        assert_eq!(printed("`a  ${ b } c`"), "`a  ${b} c`");
        assert_eq!(printed("`a ${\n b }`"), "`a ${b}`");
    }
}
