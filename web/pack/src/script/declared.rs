//! The variables that a script itself declares.

use super::roles::is_keyword;
use super::tokens::{Kind, Token};
use anyhow::{Context as _, Result};
use std::collections::BTreeSet;

/// Variables by where they are declared.
#[derive(Debug, Default)]
pub(crate) struct Declared<'a> {
    /// For the whole script.
    pub(crate) top: BTreeSet<&'a str>,
    /// Within a function or block.
    pub(crate) local: BTreeSet<&'a str>,
    /// For the whole script, and declared more than once.
    pub(crate) twice: BTreeSet<&'a str>,
}

/// What a script declares.
///
/// # Errors
///
/// When brackets do not match.
pub(crate) fn declared<'a>(tokens: &[Token<'a>]) -> Result<Declared<'a>> {
    let partner = partners(tokens)?;
    let mut depth = 0_usize;
    let mut found = Declared::default();
    let reader = Reader {
        tokens,
        partner: &partner,
    };
    for (at, token) in tokens.iter().enumerate() {
        let mut names = Vec::new();
        let mut are_top = depth == 0;
        if token.kind == Kind::Word && !reader.is_property(at) {
            match token.text {
                "const" | "let" | "var" => reader.declarations(at + 1, &mut names),
                "function" | "class" => {
                    let name = at + 1 + usize::from(reader.is(at + 1, "*"));
                    names.extend(reader.name(name).filter(|name| *name != "extends"));
                }
                _ => {}
            }
        } else if token.is("=>") {
            are_top = false;
            match partner[at - 1] {
                Some(open) => reader.list(open, &mut names),
                None => names.extend(reader.name(at - 1)),
            }
        } else if token.is("(") && reader.begins_parameters(at) {
            are_top = false;
            reader.list(at, &mut names);
        }
        if are_top {
            for name in names {
                if !found.top.insert(name) {
                    found.twice.insert(name);
                }
            }
        } else {
            found.local.extend(names);
        }
        if let Some(other) = partner[at] {
            depth = if other > at { depth + 1 } else { depth - 1 };
        }
        // A part between two values of a template text ends one and begins the
        // next: its partner is the next, and the depth stays.
        if token.kind == Kind::Text
            && token.text.starts_with('}')
            && partner[at].is_some_and(|other| other > at)
        {
            depth -= 1;
        }
    }
    Ok(found)
}

/// Where the bracket that fits each bracket stands; of a part of a template
/// text, where the next one does.
pub(super) fn partners(tokens: &[Token]) -> Result<Vec<Option<usize>>> {
    let mut partner = vec![None; tokens.len()];
    let mut open = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        let (closes, opens) = match token.kind {
            Kind::Sign => (
                matches!(token.text, ")" | "]" | "}"),
                matches!(token.text, "(" | "[" | "{"),
            ),
            Kind::Text => (
                token.text.starts_with('}'),
                token.text.starts_with(['`', '}']) && token.text.ends_with("${"),
            ),
            _ => (false, false),
        };
        if closes {
            let from: usize = open.pop().context("a bracket that was not opened")?;
            partner[from] = Some(at);
            partner[at] = Some(from);
        }
        if opens {
            open.push(at);
        }
    }
    anyhow::ensure!(open.is_empty(), "a bracket that is not closed");
    Ok(partner)
}

struct Reader<'a, 'b> {
    tokens: &'b [Token<'a>],
    partner: &'b [Option<usize>],
}

impl<'a> Reader<'a, '_> {
    fn is(&self, at: usize, sign: &str) -> bool {
        self.tokens.get(at).is_some_and(|token| token.is(sign))
    }

    fn name(&self, at: usize) -> Option<&'a str> {
        let token = self.tokens.get(at)?;
        (token.kind == Kind::Word && !is_keyword(token.text)).then_some(token.text)
    }

    fn is_property(&self, at: usize) -> bool {
        at > 0 && (self.is(at - 1, ".") || self.is(at - 1, "?."))
    }

    /// The parentheses of a function, a method or `catch`: a brace follows, and
    /// no word of the language that asks a condition stands before.
    fn begins_parameters(&self, at: usize) -> bool {
        let Some(close) = self.partner[at].filter(|close| self.is(close + 1, "{")) else {
            return false;
        };
        debug_assert!(close > at);
        let before = at.checked_sub(1).map(|at| self.tokens[at]);
        !before.is_some_and(|token| {
            let asks = ["if", "for", "while", "switch", "with", "await"];
            asks.iter().any(|word| token.is_word(word)) && !self.is_property(at - 1)
        })
    }

    /// `a = 1, { b } = c` up to its end.
    fn declarations(&self, mut at: usize, names: &mut Vec<&'a str>) {
        loop {
            at = self.past_value(self.binding(at, names));
            if !self.is(at, ",") {
                return;
            }
            at += 1;
        }
    }

    /// What stands between an opening bracket and its end, with commas between.
    fn list(&self, open: usize, names: &mut Vec<&'a str>) {
        let end = self.partner[open].unwrap_or(open);
        let mut at = open + 1;
        while at < end {
            at = if self.is(at, ",") {
                at + 1
            } else {
                self.past_value(self.binding(at, names))
            };
        }
    }

    /// One name, or a pattern of names; where it ends.
    fn binding(&self, at: usize, names: &mut Vec<&'a str>) -> usize {
        let Some(token) = self.tokens.get(at) else {
            return at;
        };
        match token.text {
            "..." => self.binding(at + 1, names),
            "[" if token.is("[") => {
                self.list(at, names);
                self.past(at)
            }
            "{" if token.is("{") => {
                self.fields(at, names);
                self.past(at)
            }
            _ => {
                names.extend(self.name(at));
                at + 1
            }
        }
    }

    fn fields(&self, open: usize, names: &mut Vec<&'a str>) {
        let end = self.partner[open].unwrap_or(open);
        let mut at = open + 1;
        while at < end {
            if self.is(at, ",") {
                at += 1;
                continue;
            }
            let after = self.past(at);
            let value = if self.is(after, ":") { after + 1 } else { at };
            at = self.past_value(self.binding(value, names));
        }
    }

    /// Behind a bracket and all in it, or behind one token.
    fn past(&self, mut at: usize) -> usize {
        while let Some(other) = self.partner[at].filter(|other| *other > at) {
            at = other;
        }
        at + 1
    }

    /// Behind `= value`, where there is one.
    fn past_value(&self, mut at: usize) -> usize {
        if !self.is(at, "=") {
            return at;
        }
        while let Some(token) = self.tokens.get(at) {
            let ends =
                matches!(token.text, "," | ";" | ")" | "]" | "}") && token.kind == Kind::Sign;
            let ends_value = token.kind == Kind::Text && token.text.starts_with('}');
            if ends || ends_value {
                break;
            }
            at = self.past(at);
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use super::declared;
    use crate::script::tokens::tokens;

    fn names(source: &str) -> (String, String) {
        let found = tokens(source).and_then(|tokens| {
            declared(&tokens).map(|found| {
                let join = |names: &std::collections::BTreeSet<&str>| {
                    names.iter().copied().collect::<Vec<_>>().join(" ")
                };
                (join(&found.top), join(&found.local))
            })
        });
        found.unwrap_or_else(|error| (error.to_string(), String::new()))
    }

    #[track_caller]
    fn expect(source: &str, top: &str, local: &str) {
        assert_eq!(
            names(source),
            (top.to_owned(), local.to_owned()),
            "{source}"
        );
    }

    #[test]
    fn whole_script_and_inside_are_told_apart() {
        expect(
            "const a = 1; function b(c) { let d; } class E {}",
            "E a b",
            "c d",
        );
        expect("for (const a of b) { const c = `${d => d}`; }", "", "a c d");
        expect("let a = f(() => { const b = 1; }), c;", "a c", "b");
    }

    #[test]
    fn patterns_declare_what_they_take_out() {
        expect(
            "const { a, b: c, d = e, f: [g, ...h], ...i } = j;",
            "a c d g h i",
            "",
        );
        expect("const [a, { b }] = c, d = 2;", "a b d", "");
        expect("const { a = () => `${b}`, c } = d;", "a c", "");
    }

    #[test]
    fn parameters_are_inside() {
        expect("x = (a, { b = c } = {}, ...d) => a;", "", "a b d");
        expect("x = a => a; y = async b => b;", "", "a b");
        expect(
            "x = { m(a) { }, set n(b) { } }; try { } catch (e) { }",
            "",
            "a b e",
        );
        expect("if (a) { } for (b of c) { } while (d) { }", "", "");
        expect("x = (await a)(b); y = (c) + d;", "", "");
    }

    #[test]
    fn brackets_must_fit() {
        assert!(names("(").0.contains("not closed"));
        assert!(names(")").0.contains("not opened"));
    }
}
