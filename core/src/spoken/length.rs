//! "35", "3.5 cm", "1.2 m", "4 in", "6 ft 2".

use super::amount::Words;
use super::{Reading, SpokenError};
use crate::quantity::Length;

const INCH: f64 = 25.4;
const FOOT: f64 = 12.0 * INCH;

/// Reads a length; a bare number is in millimetres.
///
/// # Errors
///
/// Every variant of [`SpokenError`] but `Ambiguous`.
///
/// # Source
///
/// Inch: 25.4 mm exactly, international yard and pound agreement of 1959.
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::read_length;
///
/// assert_eq!(read_length("1,5 m").map(|length| length.millimetres()), Ok(1500.0));
/// assert!(read_length("").is_err());
/// ```
pub fn read_length(text: &str) -> Reading<Length> {
    let mut words = Words::new(text)?;
    let direction = words.direction();
    let first = words.amount().ok_or(SpokenError::NotUnderstood)?;
    if first.numeral.third_group.is_some() {
        return Err(SpokenError::NotUnderstood);
    }
    let scale = unit(&mut words);
    let mut millimetres = first.total() * scale;
    if scale == FOOT
        && let Some(inches) = words.amount()
    {
        millimetres += inches.total() * INCH;
        let _ = inch(&mut words);
    }
    words.end()?;
    Ok(Length::new(direction * millimetres)?)
}

fn inch(words: &mut Words) -> bool {
    words.word(&["in", "inch", "inches"]) || words.sign('"')
}

fn unit(words: &mut Words) -> f64 {
    if words.word(&["cm"]) {
        10.0
    } else if words.word(&["m", "metre", "metres", "meter", "meters"]) {
        1000.0
    } else if words.word(&["km"]) {
        1e6
    } else if words.word(&["ft", "foot", "feet"]) || words.sign('\'') {
        FOOT
    } else if inch(words) {
        INCH
    } else {
        let _ = words.word(&["mm", "millimetre", "millimetres"]);
        1.0
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::read_length;

    fn millimetres(text: &str) -> f64 {
        read_length(text).unwrap().millimetres()
    }

    #[test]
    fn a_bare_number_is_millimetres() {
        assert_eq!(millimetres("35"), 35.0);
        assert_eq!(millimetres("77 mm"), 77.0);
        assert_eq!(millimetres("-2,5 cm"), -25.0);
        assert_eq!(millimetres("1.2 m"), 1200.0);
    }

    #[test]
    fn feet_and_inches_are_read_together() {
        assert!((millimetres("6 ft 2") - 1879.6).abs() < 1e-9);
        assert!((millimetres("6'2\"") - 1879.6).abs() < 1e-9);
        assert!((millimetres("4 1/2 in") - 114.3).abs() < 1e-9);
        assert!(read_length("4 stops").is_err());
    }
}
