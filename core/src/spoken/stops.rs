//! "5 stops", "two and a third", "−⅓", and any filter's marking as stops.

use super::amount::Words;
use super::density::read_density;
use super::{Choice, Reading, SpokenError};
use crate::quantity::Stops;

/// Reads a difference of exposure; a bare number or fraction counts stops.
///
/// Anything else is read as a filter's marking ([`read_density`]).
///
/// # Errors
///
/// Every variant of [`SpokenError`].
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::read_stops;
///
/// let stops = read_stops("two and a third").map(|stops| stops.stops());
/// assert!(stops.is_ok_and(|stops| (stops - 7.0 / 3.0).abs() < 1e-12));
/// ```
pub fn read_stops(text: &str) -> Reading<Stops> {
    let mut words = Words::new(text)?;
    let direction = words.direction();
    if let Some(amount) = words.amount() {
        let _ = words.word(&["of"]);
        let _ = words.word(&["a"]);
        let _ = words.word(&["stop", "stops"]);
        if words.end::<Stops>().is_ok() && amount.numeral.third_group.is_none() {
            return Ok(Stops::new(direction * amount.total())?);
        }
    }
    read_density(text).map_or_else(
        |error| {
            Err(match error {
                SpokenError::Empty => SpokenError::Empty,
                SpokenError::TooLong => SpokenError::TooLong,
                SpokenError::NotUnderstood => SpokenError::NotUnderstood,
                SpokenError::OutOfRange(error) => SpokenError::OutOfRange(error),
                SpokenError::Ambiguous(choices) => SpokenError::Ambiguous(
                    choices
                        .into_iter()
                        .map(|Choice { value, taken_as }| Choice {
                            value: value.stops(),
                            taken_as,
                        })
                        .collect(),
                ),
            })
        },
        |density| Ok(density.stops()),
    )
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{SpokenError, read_stops};

    fn stops(text: &str) -> f64 {
        read_stops(text).unwrap().stops()
    }

    #[test]
    fn a_bare_number_counts_stops() {
        assert_eq!(stops("5"), 5.0);
        assert_eq!(stops("5 stops"), 5.0);
        assert!((stops("two and a third") - 7.0 / 3.0).abs() < 1e-12);
        assert!((stops("−⅓") + 1.0 / 3.0).abs() < 1e-12);
        assert!((stops("a third of a stop") - 1.0 / 3.0).abs() < 1e-12);
        assert_eq!(stops("half a stop"), 0.5);
    }

    #[test]
    fn a_marking_is_turned_into_stops() {
        assert!((stops("ND64") - 6.0).abs() < 1e-12);
        assert!((stops("0.9 D") - 2.989_735).abs() < 1e-6);
        assert!(matches!(read_stops("ND2"), Err(SpokenError::Ambiguous(_))));
    }
}
