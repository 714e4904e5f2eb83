//! A plain value as a tree, whoever wrote it.

/// A plain value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Tree {
    Nothing,
    Bool(bool),
    Number(f64),
    Text(String),
    List(Vec<Tree>),
    Record(Vec<(String, Tree)>),
}
