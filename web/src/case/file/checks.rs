//! What the records of a case have in common.

use crate::plain::refusal::{Code, Refusal};
use crate::shapes::planning::in_range;

/// A length, mass or the like that may be left out.
pub(super) fn positive(given: Option<f64>, max: f64, field: &str) -> Result<(), Refusal> {
    given.map_or(Ok(()), |given| in_range(given, 0.0, max, field).map(|_| ()))
}

pub(super) fn named(id: &str, path: &str) -> Result<(), Refusal> {
    if id.trim().is_empty() {
        return Err(Refusal::new(Code::Empty, &format!("{path}.id")));
    }
    Ok(())
}

/// A name within what it belongs to.
pub(super) fn inside(owner: &str, id: &str) -> Option<String> {
    Some(format!("{owner}\u{0}{id}"))
}
