//! "77", "4x5.65", "100 × 100 mm", "4.5 in round".

use super::letters::small;
use super::{Reading, SpokenError, read_length};
use crate::quantity::Length;
use alloc::format;
use alloc::string::String;

/// Bare numbers below this are inches: no panel or thread in use is so small in
/// millimetres or so large in inches.
///
/// Common practice, no source.
const INCHES_BELOW: f64 = 20.0;

/// What the trade calls the size of a flat piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpokenSize {
    /// Round, by thread or diameter.
    Round(Length),
    /// A panel, by the two numbers as said.
    Panel(Length, Length),
}

/// Reads a size; the unit behind the last number goes for both.
///
/// # Errors
///
/// Every variant of [`SpokenError`] but `Ambiguous`.
pub fn read_size(text: &str) -> Reading<SpokenSize> {
    let text: String = text.trim().chars().map(small).collect();
    let round = ["round", "rund"];
    let text = (round.iter().find_map(|word| text.strip_suffix(word))).unwrap_or(&text);
    let text = text.trim();
    if text.is_empty() {
        return Err(SpokenError::Empty);
    }
    let number_ends = text.rfind(|c: char| c.is_numeric()).map_or(0, |at| {
        at + text[at..].chars().next().map_or(0, char::len_utf8)
    });
    let (numbers, unit) = text.split_at(number_ends);
    let side = |said: &str| -> Result<Length, SpokenError<SpokenSize>> {
        let length = |text: &str| {
            read_length(text).map_err(|error| match error {
                SpokenError::OutOfRange(error) => SpokenError::OutOfRange(error),
                SpokenError::Empty => SpokenError::Empty,
                SpokenError::TooLong => SpokenError::TooLong,
                SpokenError::NotUnderstood | SpokenError::Ambiguous(_) => {
                    SpokenError::NotUnderstood
                }
            })
        };
        let bare = length(said)?;
        let small = unit.trim().is_empty() && bare.millimetres() < INCHES_BELOW;
        let with_unit: String = match small {
            true => format!("{said} in"),
            false => format!("{said} {unit}"),
        };
        length(&with_unit)
    };
    match numbers.split_once(['x', '×']) {
        Some((one, other)) => Ok(SpokenSize::Panel(side(one)?, side(other)?)),
        None => Ok(SpokenSize::Round(side(numbers)?)),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{SpokenSize, read_size};

    fn sides(text: &str) -> (f64, f64) {
        match read_size(text).unwrap() {
            SpokenSize::Round(diameter) => (diameter.millimetres(), 0.0),
            SpokenSize::Panel(one, other) => (one.millimetres(), other.millimetres()),
        }
    }

    #[test]
    fn small_numbers_are_inches_and_large_ones_millimetres() {
        assert_eq!(sides("77"), (77.0, 0.0));
        assert_eq!(sides("100 × 150"), (100.0, 150.0));
        let (one, other) = sides("4x5.65");
        assert!((one - 101.6).abs() < 1e-9 && (other - 143.51).abs() < 1e-9);
        assert!((sides("4.5 round").0 - 114.3).abs() < 1e-9);
        assert!((sides("4,5 Zoll rund").0 - 114.3).abs() < 1e-9);
    }

    #[test]
    fn the_unit_goes_for_both() {
        assert_eq!(sides("85 x 85 mm"), (85.0, 85.0));
        assert_eq!(sides("10 X 15 cm"), (100.0, 150.0));
        assert!((sides("6,6 × 6,6 in").0 - 167.64).abs() < 1e-9);
    }

    #[test]
    fn a_name_is_no_size() {
        assert!(read_size("big").is_err());
        assert!(read_size("").is_err());
        assert!(read_size("4x").is_err());
    }
}
