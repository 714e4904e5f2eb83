//! Steps, costs and tolerances as planning requests give them.

use crate::plain::refusal::{At, Refusal};
use glasscall_core::quantity::Stops;
use glasscall_core::search::budget::Budget;

/// Steps unless said otherwise: some seconds on a phone.
const USUAL_STEPS: f64 = 2e8;
/// The most steps that can be asked for.
const MOST_STEPS: f64 = 1e12;
/// The dearest a piece may be.
const MOST_COST: f64 = 1e9;
/// Off by no more than this serves a need, unless said otherwise: a third.
const USUAL_TOLERANCE: f64 = 1.0 / 3.0;

/// The steps a request allows.
pub(crate) fn budget(steps: Option<f64>) -> Result<Budget, Refusal> {
    let steps = in_range(steps.unwrap_or(USUAL_STEPS), 0.0, MOST_STEPS, "steps")?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "from 0 to 10¹² by the check before"
    )]
    let steps = steps as u64;
    Ok(Budget::steps(steps))
}

/// A plain number of a request, ends included.
pub(crate) fn in_range(given: f64, min: f64, max: f64, field: &str) -> Result<f64, Refusal> {
    if given >= min && given <= max {
        return Ok(given);
    }
    Err(Refusal::outside(field, given, min, max))
}

/// A cost in hundredths, so that sums are exact.
pub(crate) fn hundredths(cost: f64, field: &str) -> Result<u64, Refusal> {
    let cost = in_range(cost, 0.0, MOST_COST, field)?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "from 0 to 10¹¹ by the check before"
    )]
    let hundredths = (cost * 100.0).round() as u64;
    Ok(hundredths)
}

#[expect(clippy::cast_precision_loss, reason = "sums of costs stay below 2⁵³")]
pub(crate) fn from_hundredths(cost: u64) -> f64 {
    cost as f64 / 100.0
}

/// A tolerance in stops, never negative.
pub(crate) fn tolerance(given: Option<f64>, field: &str) -> Result<Stops, Refusal> {
    Stops::new(in_range(
        given.unwrap_or(USUAL_TOLERANCE),
        0.0,
        10.0,
        field,
    )?)
    .at(field)
}
