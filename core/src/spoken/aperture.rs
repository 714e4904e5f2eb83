//! "T11 and two thirds", "2.8⅓", "5,6", "2.8.1", "f/4".

use super::amount::Words;
use super::{Reading, SpokenError};
use crate::quantity::{Aperture, Stops};

/// Which of the two numbers was named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ApertureKind {
    /// Counts light: a T-number, or a number said without a letter.
    Transmission,
    /// Counts the size of the pupil: an f-number.
    Focal,
}

/// An aperture and the letter it was said with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpokenAperture {
    /// The exact aperture.
    pub aperture: Aperture,
    /// The letter.
    pub kind: ApertureKind,
}

/// Reads an aperture as engraved, shown by a meter, or said.
///
/// A label stands for its exact value, but an f-number, which names a pupil, for
/// what lenses are engraved with; what follows closes from there: thirds
/// as said, and a third group of digits as the tenths that meters show
/// (common practice, no source), so 2.8.1 is a tenth closed from 2.8.
///
/// # Errors
///
/// Every variant of [`SpokenError`] but `Ambiguous`.
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::read_aperture;
///
/// let said = read_aperture("T11 and two thirds").unwrap();
/// assert_eq!(said.aperture.label().to_string(), "11⅔");
/// assert!(read_aperture("wide open").is_err());
/// ```
pub fn read_aperture(text: &str) -> Reading<SpokenAperture> {
    read(text, Ring::Meter)
}

/// Reads an aperture as it is engraved on a lens, whose pupil it names:
/// "1.2" and "T1.2" are 1.2 itself; see [`Aperture::engraved`].
///
/// # Errors
///
/// As [`read_aperture`].
pub fn read_engraved_aperture(text: &str) -> Reading<SpokenAperture> {
    read(text, Ring::Lens)
}

/// Whose ring a number is read off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ring {
    /// A meter's, or one that is set: labels of thirds.
    Meter,
    /// A lens's own name.
    Lens,
}

fn read(text: &str, ring: Ring) -> Reading<SpokenAperture> {
    let mut words = Words::new(text)?;
    let kind = if words.word(&["f"]) {
        ApertureKind::Focal
    } else {
        let _ = words.word(&["t"]);
        ApertureKind::Transmission
    };
    let _ = words.word(&["stop"]);
    let _ = words.sign('/');
    let direction = words.direction();
    let amount = words.amount().ok_or(SpokenError::NotUnderstood)?;
    words.end()?;
    if amount.is_ratio {
        return Err(SpokenError::NotUnderstood);
    }
    let tenths = amount.numeral.third_group.unwrap_or(0.0) / 10.0;
    let closed = Stops::new(amount.part + tenths)?;
    let number = direction * amount.numeral.value;
    // With thirds behind it, it is a ring's label whoever says it.
    let aperture = if closed != Stops::ZERO {
        Aperture::from_marking(number)?.closed_by(closed)?
    } else if ring == Ring::Lens || kind == ApertureKind::Focal {
        Aperture::engraved(number)?
    } else {
        Aperture::from_marking(number)?
    };
    Ok(SpokenAperture { aperture, kind })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{ApertureKind, SpokenError, read_aperture, read_engraved_aperture};

    fn index(text: &str) -> f64 {
        read_aperture(text).unwrap().aperture.index()
    }

    #[test]
    fn thirds_close_from_the_label_however_they_are_said() {
        for text in [
            "2.8⅓",
            "T2,8 1/3",
            "two point eight and a third",
            "t 2.8 + 1/3",
            "two eight ⅓",
        ] {
            assert!((index(text) - (3.0 + 1.0 / 3.0)).abs() < 1e-12, "{text}");
        }
        for text in [
            "T11 and two thirds",
            "eleven and two-thirds",
            "eleven and two‑thirds",
        ] {
            assert!((index(text) - (7.0 + 2.0 / 3.0)).abs() < 1e-12, "{text}");
        }
        assert!((index("twenty-two") - 9.0).abs() < 1e-12);
        assert!((index("8 less a third") - (6.0 - 1.0 / 3.0)).abs() < 1e-12);
    }

    #[test]
    fn what_names_a_pupil_is_literal() {
        let number = |text| read_aperture(text).unwrap().aperture.number();
        let engraved = |text| read_engraved_aperture(text).unwrap().aperture.number();
        // A meter's 1.2 is a third or a half of a stop; no lens of 1.2 is.
        assert!((number("1.2") - 2f64.powf(1.0 / 3.0)).abs() < 1e-12);
        assert_eq!(
            [
                number("f/1.2"),
                number("f 1.2"),
                engraved("1.2"),
                engraved("T1.2")
            ],
            [1.2; 4]
        );
        // Full stops are engraved short: 2.8 is 2√2 on every ring.
        assert!((number("f/2.8") - 8f64.sqrt()).abs() < 1e-12);
        assert!((engraved("2.8") - 8f64.sqrt()).abs() < 1e-12);
        assert_eq!(number("f/1 and a third"), number("1 and a third"));
    }

    #[test]
    fn a_comma_and_other_digits_are_read() {
        assert_eq!(index("5,6"), index("5.6"));
        assert_eq!(index("٥٫٦"), index("5.6"));
        assert_eq!(index("five six"), index("5.6"));
        assert!((index("twenty two") - 9.0).abs() < 1e-12);
    }

    #[test]
    fn a_third_group_is_tenths_of_a_stop() {
        assert!((index("2.8.1") - 3.1).abs() < 1e-12);
        assert!((index("16.0.5") - 8.5).abs() < 1e-12);
    }

    #[test]
    fn the_letter_is_kept() {
        assert_eq!(read_aperture("f/4").unwrap().kind, ApertureKind::Focal);
        assert_eq!(
            read_aperture("T4").unwrap().kind,
            ApertureKind::Transmission
        );
    }

    #[test]
    fn nonsense_and_nothing_are_told_apart() {
        assert_eq!(read_aperture("  "), Err(SpokenError::Empty));
        assert_eq!(read_aperture("wide"), Err(SpokenError::NotUnderstood));
        assert_eq!(read_aperture("2.8 mm"), Err(SpokenError::NotUnderstood));
        assert!(matches!(
            read_aperture("0"),
            Err(SpokenError::OutOfRange(_))
        ));
        assert_eq!(read_aperture(&"8".repeat(81)), Err(SpokenError::TooLong));
    }
}
