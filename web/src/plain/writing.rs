//! A reply as a plain tree.

use crate::plain::tree::Tree;

/// What is written as a plain value.
pub(crate) trait ToPlain {
    /// The value as a tree.
    fn to_plain(&self) -> Tree;
}

#[inline(never)]
pub(crate) fn text_of(text: &str) -> Tree {
    Tree::Text(text.to_owned())
}

/// A record while it is written.
pub(crate) struct Record(Vec<(String, Tree)>);

// Out of line, each: they are the same for every field of a kind.
impl Record {
    #[inline(never)]
    pub(crate) fn of(fields: usize) -> Self {
        Self(Vec::with_capacity(fields))
    }

    #[inline(never)]
    fn add(&mut self, name: &'static str, value: Tree) {
        self.0.push((name.to_owned(), value));
    }

    #[inline(never)]
    pub(crate) fn put<T: ToPlain>(&mut self, name: &'static str, value: &T) {
        self.add(name, value.to_plain());
    }

    /// A field that is left out when it is nothing.
    #[inline(never)]
    pub(crate) fn put_some<T: ToPlain>(&mut self, name: &'static str, value: &Option<T>) {
        if let Some(value) = value {
            self.add(name, value.to_plain());
        }
    }

    /// A field that is left out when it is an empty list.
    #[inline(never)]
    pub(crate) fn put_list<T: ToPlain>(&mut self, name: &'static str, value: &Vec<T>) {
        if !value.is_empty() {
            self.add(name, value.to_plain());
        }
    }

    #[inline(never)]
    pub(crate) fn done(self) -> Tree {
        Tree::Record(self.0)
    }
}

impl ToPlain for Tree {
    fn to_plain(&self) -> Tree {
        self.clone()
    }
}

impl ToPlain for bool {
    fn to_plain(&self) -> Tree {
        Tree::Bool(*self)
    }
}

impl ToPlain for String {
    fn to_plain(&self) -> Tree {
        text_of(self)
    }
}

impl ToPlain for &str {
    fn to_plain(&self) -> Tree {
        text_of(self)
    }
}

/// Numbers that a double holds exactly.
macro_rules! numbers {
    ($($kind:ty)*) => { $(
        impl ToPlain for $kind {
            fn to_plain(&self) -> Tree {
                Tree::Number(f64::from(*self))
            }
        }
    )* };
}

numbers! { f64 f32 u8 u32 i32 }

impl ToPlain for usize {
    fn to_plain(&self) -> Tree {
        #[expect(
            clippy::cast_precision_loss,
            reason = "a count; what JavaScript holds exactly ends at 2⁵³"
        )]
        let number = *self as f64;
        Tree::Number(number)
    }
}

impl<T: ToPlain> ToPlain for Option<T> {
    fn to_plain(&self) -> Tree {
        self.as_ref().map_or(Tree::Nothing, T::to_plain)
    }
}

impl<T: ToPlain> ToPlain for Box<T> {
    fn to_plain(&self) -> Tree {
        T::to_plain(self)
    }
}

impl<T: ToPlain> ToPlain for [T] {
    fn to_plain(&self) -> Tree {
        Tree::List(self.iter().map(T::to_plain).collect())
    }
}

impl<T: ToPlain> ToPlain for Vec<T> {
    fn to_plain(&self) -> Tree {
        self.as_slice().to_plain()
    }
}

impl<T: ToPlain, const N: usize> ToPlain for [T; N] {
    fn to_plain(&self) -> Tree {
        self.as_slice().to_plain()
    }
}
