//! A plain value as a tree, whoever wrote it.

/// A plain value: what JavaScript hands over and takes back.
#[derive(Debug, Clone, PartialEq)]
pub enum Tree {
    /// `undefined` or `null`.
    Nothing,
    /// True or false.
    Bool(bool),
    /// Any number, what is no number included.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Tree>),
    /// Fields by name.
    Record(Vec<(String, Tree)>),
}
