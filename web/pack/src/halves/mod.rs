//! The module in two halves that share one memory: what the first screen asks,
//! and the rest. The second takes memory, tables and functions from the first.

mod cut;
mod links;

pub(crate) use cut::cut;
pub(crate) use links::{Links, without};
