//! What each word of a script is: a variable, a property or the language's own.

use super::tokens::{Kind, Token};

/// What a word is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Role {
    /// No variable: a sign, a text, a keyword, the name of a property.
    Plain,
    /// A variable.
    Variable,
    /// A property and a variable of the same name: `{ name }`.
    Both,
}

/// Words that name nothing.
const KEYWORDS: [&str; 38] = [
    "await",
    "break",
    "case",
    "catch",
    "class",
    "const",
    "continue",
    "debugger",
    "default",
    "delete",
    "do",
    "else",
    "export",
    "extends",
    "false",
    "finally",
    "for",
    "function",
    "if",
    "import",
    "in",
    "instanceof",
    "let",
    "new",
    "null",
    "return",
    "super",
    "switch",
    "this",
    "throw",
    "true",
    "try",
    "typeof",
    "var",
    "void",
    "while",
    "with",
    "yield",
];

/// Whether a word belongs to the language.
pub(crate) fn is_keyword(word: &str) -> bool {
    KEYWORDS.contains(&word)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Inside {
    /// Statements.
    Block,
    /// An object or a pattern that takes one apart.
    Object,
    Class,
    /// Parentheses, brackets, the value in a template text.
    List,
    /// What `for` goes through.
    For,
}

struct Open {
    inside: Inside,
    /// `?` whose `:` has not come.
    choices: usize,
    /// A `case` whose `:` has not come.
    case: bool,
}

impl Open {
    const fn new(inside: Inside) -> Self {
        Self {
            inside,
            choices: 0,
            case: false,
        }
    }
}

/// The role of each token.
pub(crate) fn roles(tokens: &[Token]) -> Vec<Role> {
    let mut walk = Walk {
        tokens,
        open: vec![Open::new(Inside::Block)],
        class: false,
        after_case: None,
    };
    (0..tokens.len()).map(|at| walk.role(at)).collect()
}

struct Walk<'a> {
    tokens: &'a [Token<'a>],
    open: Vec<Open>,
    /// A class was begun and its brace has not come.
    class: bool,
    /// The last `:` that ended a `case`.
    after_case: Option<usize>,
}

impl<'a> Walk<'a> {
    fn before(&self, at: usize) -> Option<&'a Token<'a>> {
        self.tokens.get(at.checked_sub(1)?)
    }

    fn role(&mut self, at: usize) -> Role {
        let token = self.tokens[at];
        match token.kind {
            Kind::Word => return self.word(at),
            Kind::Text => {
                if token.text.starts_with('}') {
                    self.open.pop();
                }
                if token.text.ends_with("${") && token.text.starts_with(['`', '}']) {
                    self.open.push(Open::new(Inside::List));
                }
            }
            Kind::Sign => self.sign(at),
            Kind::Number => {}
        }
        Role::Plain
    }

    fn sign(&mut self, at: usize) {
        let opened = match self.tokens[at].text {
            "(" => {
                let before = self.before(at);
                let is_for = before.is_some_and(|token| token.is_word("for"))
                    || (before.is_some_and(|token| token.is_word("await"))
                        && at > 1
                        && self.tokens[at - 2].is_word("for"));
                Some(if is_for { Inside::For } else { Inside::List })
            }
            "[" => Some(Inside::List),
            "{" => Some(self.brace(at)),
            ")" | "]" | "}" => {
                self.open.pop();
                None
            }
            "?" => {
                self.innermost().choices += 1;
                None
            }
            ":" => {
                let innermost = self.innermost();
                if innermost.choices > 0 {
                    innermost.choices -= 1;
                } else if innermost.case {
                    innermost.case = false;
                    self.after_case = Some(at);
                }
                None
            }
            _ => None,
        };
        self.open.extend(opened.map(Open::new));
    }

    fn innermost(&mut self) -> &mut Open {
        if self.open.is_empty() {
            self.open.push(Open::new(Inside::Block));
        }
        let last = self.open.len() - 1;
        &mut self.open[last]
    }

    /// What a brace begins.
    fn brace(&mut self, at: usize) -> Inside {
        if std::mem::take(&mut self.class) {
            return Inside::Class;
        }
        let Some(before) = self.before(at) else {
            return Inside::Block;
        };
        match (before.kind, before.text) {
            (Kind::Sign, ")" | ";" | "{" | "}" | "=>") => Inside::Block,
            (Kind::Sign, ":") if self.after_case == at.checked_sub(1) => Inside::Block,
            (Kind::Sign, _) => Inside::Object,
            (Kind::Word, "else" | "do" | "try" | "finally" | "catch" | "static") => Inside::Block,
            (Kind::Word, word) if is_keyword(word) || word == "of" => Inside::Object,
            (Kind::Text, text) if text.ends_with("${") => Inside::Object,
            _ => Inside::Block,
        }
    }

    fn word(&mut self, at: usize) -> Role {
        let word = self.tokens[at].text;
        let next = self.tokens.get(at + 1);
        let next_is = |sign: &str| next.is_some_and(|token| token.is(sign));
        let before = self.before(at).copied();
        let before_is = |sign: &str| before.is_some_and(|token| token.is(sign));
        if before_is(".") || before_is("?.") || before_is("#") {
            return Role::Plain;
        }
        let inside = self.innermost().inside;
        if self.is_name_in(inside, at) {
            let alone = next_is(",") || next_is("}") || next_is("=");
            return if inside == Inside::Object && alone && !is_keyword(word) {
                Role::Both
            } else {
                Role::Plain
            };
        }
        match word {
            "class" => self.class = true,
            "case" => self.innermost().case = true,
            "default" if next_is(":") => self.innermost().case = true,
            _ => {}
        }
        let of_for = word == "of"
            && inside == Inside::For
            && before.is_some_and(|token| {
                token.is("]")
                    || token.is("}")
                    || (token.kind == Kind::Word && !is_keyword(token.text))
            });
        let modifier = (word == "async" || word == "static") && !next_is("=") && !next_is(",");
        if is_keyword(word) || of_for || modifier {
            Role::Plain
        } else {
            Role::Variable
        }
    }

    /// Whether a word stands where an object or a class names what it holds.
    fn is_name_in(&self, inside: Inside, at: usize) -> bool {
        let starts = |at: usize| {
            self.before(at).is_some_and(|before| match inside {
                Inside::Object => before.is("{") || before.is(","),
                Inside::Class => before.is("{") || before.is("}") || before.is(";"),
                _ => false,
            })
        };
        let is_modifier = |token: &Token| {
            token.is("*")
                || ["async", "get", "set", "static"]
                    .iter()
                    .any(|word| token.is_word(word))
        };
        let mut from = at;
        while from > 0 && is_modifier(&self.tokens[from - 1]) && !starts(from) {
            from -= 1;
        }
        starts(from)
    }
}

#[cfg(test)]
mod tests {
    use super::{Role, roles};
    use crate::script::tokens::{Kind, tokens};

    /// The variables of a script, those that are properties as well with a star.
    fn variables(source: &str) -> String {
        let Ok(tokens) = tokens(source) else {
            return "refused".into();
        };
        let named = tokens
            .iter()
            .zip(roles(&tokens))
            .filter_map(|(token, role)| {
                let word = token.kind == Kind::Word;
                match role {
                    Role::Plain => None,
                    Role::Variable => Some(token.text.to_owned()),
                    Role::Both => Some(format!("{}*", token.text)),
                }
                .filter(|_| word)
            });
        named.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn properties_are_no_variables() {
        assert_eq!(variables("a.b?.c = { d: e, f, g() { h(); } };"), "a e f* h");
        assert_eq!(
            variables("const { a, b: c, d = e, ...f } = g;"),
            "a* c d* e f g"
        );
        assert_eq!(
            variables("({ async a() {}, get b() { return c; }, [d]: 1 })"),
            "c d"
        );
    }

    #[test]
    fn a_brace_is_an_object_only_where_a_value_stands() {
        assert_eq!(variables("if (a) { b, c }"), "a b c");
        assert_eq!(variables("a => { b }"), "a b");
        assert_eq!(variables("a => ({ b })"), "a b*");
        assert_eq!(
            variables("switch (a) { case b: { c } default: { d } }"),
            "a b c d"
        );
        assert_eq!(variables("a ? { b } : { c }"), "a b* c*");
        assert_eq!(variables("return { a: b ? c : d, e }"), "b c d e*");
    }

    #[test]
    fn a_class_names_its_members() {
        assert_eq!(
            variables(
                "class A extends B { c = d; static e() { f(); } #g = 1; get h() { return i; } }"
            ),
            "A B d f i"
        );
    }

    #[test]
    fn of_is_a_name_but_in_a_loop() {
        assert_eq!(variables("for (const of of a) of.b(of);"), "of a of of");
        assert_eq!(
            variables("for (const [a, b] of c) d = async () => a;"),
            "a b c d a"
        );
    }

    #[test]
    fn values_of_template_texts_are_looked_into() {
        assert_eq!(variables("`${a.b} ${{ c }}`"), "a c*");
    }
}
