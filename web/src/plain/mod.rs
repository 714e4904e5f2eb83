//! Plain values: read, written, refused.

pub(crate) mod iso_8601;
pub(crate) mod reading;
pub(crate) mod refusal;
pub(crate) mod tree;
pub(crate) mod writing;

pub use iso_8601::{moment_text, read_date, read_moment};
pub use refusal::{ChoiceReply, Code, Given, Refusal};
pub use tree::Tree;
