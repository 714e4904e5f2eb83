//! "800", "EI 640", "23,976 fps", "eight hundred".

use super::amount::Words;
use super::{Reading, SpokenError};
use crate::quantity::Number;

/// Reads a bare number; the words EI before it and fps behind it are passed over.
///
/// # Errors
///
/// Every variant of [`SpokenError`] but `Ambiguous`.
pub fn read_number(text: &str) -> Reading<Number> {
    let mut words = Words::new(text)?;
    let _ = words.word(&["ei"]);
    let direction = words.direction();
    let amount = words.amount().ok_or(SpokenError::NotUnderstood)?;
    let hundreds = if words.word(&["hundred"]) {
        100.0
    } else if words.word(&["thousand"]) {
        1000.0
    } else {
        1.0
    };
    let _ = words.word(&["fps", "frames"]);
    words.end()?;
    if amount.numeral.third_group.is_some() {
        return Err(SpokenError::NotUnderstood);
    }
    Ok(Number::new(direction * amount.total() * hundreds)?)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::read_number;

    #[test]
    fn numbers_are_read_with_their_usual_words() {
        assert_eq!(read_number("EI 640").unwrap().value(), 640.0);
        assert_eq!(read_number("23,976 fps").unwrap().value(), 23.976);
        assert_eq!(read_number("eight hundred").unwrap().value(), 800.0);
        assert_eq!(read_number("-3").unwrap().value(), -3.0);
        assert!(read_number("fast").is_err());
    }
}
