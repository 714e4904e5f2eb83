//! Declarations that nobody uses.

use super::declared::partners;
use super::roles::is_keyword;
use super::tokens::{Kind, Token};
use anyhow::Result;
use std::ops::Range;

/// Functions and plain values that a script declares, by name, and where: what
/// happens nowhere when nobody uses them.
///
/// # Errors
///
/// When brackets do not match.
pub(super) fn droppable<'a>(tokens: &[Token<'a>]) -> Result<Vec<(&'a str, Range<usize>)>> {
    let reader = Reader {
        tokens,
        partner: partners(tokens)?,
    };
    let mut found = Vec::new();
    let (mut at, mut begins) = (0, true);
    while at < tokens.len() {
        let declared = begins
            .then(|| reader.function(at).or_else(|| reader.constant(at)))
            .flatten();
        let end = match declared {
            Some((name, end)) => {
                found.push((name, at..end));
                end
            }
            None => reader.past(at),
        };
        begins = [";", "}"].iter().any(|sign| tokens[end - 1].is(sign));
        at = end;
    }
    Ok(found)
}

struct Reader<'a, 'b> {
    tokens: &'b [Token<'a>],
    partner: Vec<Option<usize>>,
}

impl<'a> Reader<'a, '_> {
    fn is(&self, at: usize, sign: &str) -> bool {
        self.tokens.get(at).is_some_and(|token| token.is(sign))
    }

    fn is_word(&self, at: usize, word: &str) -> bool {
        self.tokens.get(at).is_some_and(|token| token.is_word(word))
    }

    fn name(&self, at: usize) -> Option<&'a str> {
        let token = self.tokens.get(at)?;
        (token.kind == Kind::Word && !is_keyword(token.text)).then_some(token.text)
    }

    /// Behind a bracket and all in it, or behind one token.
    fn past(&self, mut at: usize) -> usize {
        while let Some(other) = self.partner[at].filter(|other| *other > at) {
            at = other;
        }
        at + 1
    }

    /// `function name(…) {…}`, and where it ends.
    fn function(&self, at: usize) -> Option<(&'a str, usize)> {
        let at = at + usize::from(self.is_word(at, "async"));
        if !self.is_word(at, "function") {
            return None;
        }
        let at = at + 1 + usize::from(self.is(at + 1, "*"));
        let name = self.name(at)?;
        let body = self.is(at + 1, "(").then(|| self.past(at + 1))?;
        self.is(body, "{").then(|| (name, self.past(body)))
    }

    /// `const name = …;` of a function or of a value that is written out.
    fn constant(&self, at: usize) -> Option<(&'a str, usize)> {
        let name = self.name(at + 1)?;
        if !self.is_word(at, "const") || !self.is(at + 2, "=") {
            return None;
        }
        let value = at + 3;
        let mut end = value;
        while !self.is(end, ";") {
            // A second constant, or the end without a semicolon.
            if end >= self.tokens.len() || self.is(end, ",") {
                return None;
            }
            end = self.past(end);
        }
        self.is_plain(value, end).then_some((name, end + 1))
    }

    /// Where the body of `(…) => …` or `name => …` begins, with or without
    /// `async`.
    fn body(&self, at: usize) -> Option<usize> {
        let at = at + usize::from(self.is_word(at, "async"));
        let behind = if self.is(at, "(") {
            self.past(at)
        } else {
            at + 1
        };
        self.is(behind, "=>").then_some(behind + 1)
    }

    /// Whether nothing runs where this stands but what leaves no trace.
    fn is_plain(&self, mut at: usize, end: usize) -> bool {
        while at < end {
            if let Some(body) = self.body(at) {
                at = body;
                while at < end && !self.is(at, ",") {
                    at = self.past(at);
                }
                continue;
            }
            let says = QUIET.iter().any(|word| self.is_word(at, word)) && self.is(at + 1, "(");
            let open = at + usize::from(says);
            let next = self.past(open);
            let holds = says || self.is(at, "{") || self.is(at, "[");
            let plain = if holds {
                self.is_plain(open + 1, next - 1)
            } else {
                is_plain(&self.tokens[at])
            };
            if !plain {
                return false;
            }
            at = next;
        }
        true
    }
}

/// `language/say.js` only looks a sentence up, `questions/question.js` only puts
/// together what it is given.
const QUIET: [&str; 3] = ["say", "sayCount", "question"];

/// What runs nothing when it is read.
fn is_plain(token: &Token) -> bool {
    match token.kind {
        Kind::Number => true,
        Kind::Text => !token.text.ends_with("${"),
        Kind::Word => !is_keyword(token.text) || ["true", "false", "null"].contains(&token.text),
        Kind::Sign => [",", ":", "-"].contains(&token.text),
    }
}

#[cfg(test)]
mod tests {
    use super::droppable;
    use crate::script::tokens::tokens;

    fn names(source: &str) -> String {
        let tokens = tokens(source).unwrap_or_default();
        let found = droppable(&tokens).unwrap_or_default();
        let names: Vec<&str> = found.iter().map(|(name, _)| *name).collect();
        names.join(" ")
    }

    #[test]
    fn functions_and_written_values_may_go() {
        let source = "function a(b = {}) { c(); } const d = async (e) => f(); const g = h => h;\n\
             const m = { n: say(\"o\"), p: (q) => r(q), s: [sayCount(1, \"t\", \"u\")] };\n\
             const i = { j: [1, -2, \"k\"] }; async function* l() {}\n\
             const q = question(\"r\", s, { t: \"u\" }, v);";
        assert_eq!(names(source), "a d g m i l q");
    }

    #[test]
    fn what_does_something_stays() {
        for source in [
            "const a = b();",
            "const a = { say: c() };",
            "const a = [() => 1, b()];",
            "const a = say(b());",
            "const a = question(b());",
            "const a = new B();",
            "const a = b.c;",
            "const a = `${b}`;",
            "const a = { ...b };",
            "const a = () => 1, b = c();",
            "const { a } = b;",
            "let a = 1;",
            "class A { static b = c(); }",
            "(function a() {})();",
            "if (a) { function b() {} }",
        ] {
            assert_eq!(names(source), "", "{source}");
        }
    }
}
