//! "30", "−12.5°", "2 o'clock".

use super::amount::Words;
use super::{Reading, SpokenError};
use crate::quantity::Angle;

/// Reads an angle; a bare number is in degrees, an hour of the clock is 30°.
///
/// # Errors
///
/// Every variant of [`SpokenError`] but `Ambiguous`.
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::read_angle;
///
/// assert_eq!(read_angle("172.8°").map(|angle| angle.degrees()), Ok(172.8));
/// assert!(read_angle("wide").is_err());
/// ```
pub fn read_angle(text: &str) -> Reading<Angle> {
    let mut words = Words::new(text)?;
    let direction = words.direction();
    let amount = words.amount().ok_or(SpokenError::NotUnderstood)?;
    let on_the_clock =
        words.word(&["uhr"]) || words.word(&["o"]) && words.sign('\'') && words.word(&["clock"]);
    if !on_the_clock {
        let _ = words.sign('°') || words.sign('º') || words.word(&["deg", "degree", "degrees"]);
    }
    words.end()?;
    if amount.numeral.third_group.is_some() {
        return Err(SpokenError::NotUnderstood);
    }
    let scale = if on_the_clock { 30.0 } else { 1.0 };
    Ok(Angle::new(direction * amount.total() * scale)?)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::read_angle;

    #[test]
    fn degrees_and_hours_are_read() {
        assert_eq!(read_angle("-12,5°").unwrap().degrees(), -12.5);
        assert_eq!(read_angle("30").unwrap().degrees(), 30.0);
        assert_eq!(read_angle("2 o'clock").unwrap().degrees(), 60.0);
        assert_eq!(read_angle("2 Uhr").unwrap().degrees(), 60.0);
        assert!(read_angle("north").is_err());
    }
}
