//! "172.8", "180°", "1/50", "0.02 s", "20 ms", "half a second".

use super::amount::Words;
use super::{Choice, Reading, SpokenError, TakenAs};
use crate::quantity::{Seconds, ShutterAngle};
use alloc::vec::Vec;

/// A shutter as an angle or as a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpokenShutter {
    /// The open part of the frame's time.
    Angle(ShutterAngle),
    /// The exposure time.
    Time(Seconds),
}

/// Whole numbers that shutter dials show as fractions of a second and that an
/// angle could be too (common practice, no source).
const DIAL_FRACTIONS: [f64; 14] = [
    1.0, 2.0, 4.0, 8.0, 15.0, 24.0, 25.0, 30.0, 48.0, 50.0, 60.0, 100.0, 120.0, 125.0,
];

/// Reads a shutter.
///
/// A bare number is an angle, unless it is a usual fraction of a second (50)
/// or less than a degree (0.02, "half") and so ambiguous, or beyond 360 and so
/// only a fraction.
///
/// # Errors
///
/// Every variant of [`SpokenError`].
pub fn read_shutter(text: &str) -> Reading<SpokenShutter> {
    let mut words = Words::new(text)?;
    let direction = words.direction();
    let amount = words.amount().ok_or(SpokenError::NotUnderstood)?;
    let number = direction * amount.total();
    let _ = amount.is_ratio && words.word(&["th", "st", "nd", "rd"]);
    // A share must be of something: half a second.
    let is_share = words.word(&["of"]) | words.word(&["a"]);
    let in_degrees =
        words.sign('°') || words.sign('º') || words.word(&["deg", "degree", "degrees"]);
    let in_seconds = words.word(&["s", "sec", "second", "seconds"]) || words.sign('"');
    let in_milliseconds = words.word(&["ms"]);
    words.end()?;
    if amount.numeral.third_group.is_some() || is_share && !in_degrees && !in_seconds {
        return Err(SpokenError::NotUnderstood);
    }
    match (in_degrees, in_seconds, in_milliseconds) {
        (true, false, false) => angle(number),
        (false, true, false) => time(number),
        (false, false, true) => time(number / 1000.0),
        (false, false, false) if amount.is_ratio => time(number),
        (false, false, false) => bare(number),
        _ => Err(SpokenError::NotUnderstood),
    }
}

fn angle(degrees: f64) -> Reading<SpokenShutter> {
    Ok(SpokenShutter::Angle(ShutterAngle::new(degrees)?))
}

fn time(seconds: f64) -> Reading<SpokenShutter> {
    Ok(SpokenShutter::Time(Seconds::new(seconds)?))
}

fn bare(number: f64) -> Reading<SpokenShutter> {
    if number > 360.0 {
        return time(1.0 / number);
    }
    let choice = |taken_as, value| Choice { value, taken_as };
    // No camera has a shutter under a degree; a time in seconds is as likely.
    if number > 0.0 && number < 1.0 {
        return Err(SpokenError::Ambiguous(Vec::from([
            choice(TakenAs::Seconds, time(number)?),
            choice(TakenAs::ShutterAngle, angle(number)?),
        ])));
    }
    if DIAL_FRACTIONS.contains(&number) {
        return Err(SpokenError::Ambiguous(Vec::from([
            choice(TakenAs::ShutterAngle, angle(number)?),
            choice(TakenAs::FractionOfSecond, time(1.0 / number)?),
        ])));
    }
    angle(number)
}

#[cfg(test)]
mod tests {
    use super::{SpokenError, SpokenShutter, read_shutter};

    fn degrees(text: &str) -> Option<f64> {
        match read_shutter(text) {
            Ok(SpokenShutter::Angle(angle)) => Some(angle.degrees()),
            _ => None,
        }
    }

    fn seconds(text: &str) -> Option<f64> {
        match read_shutter(text) {
            Ok(SpokenShutter::Time(time)) => Some(time.seconds()),
            _ => None,
        }
    }

    #[test]
    fn a_bare_number_is_an_angle() {
        assert_eq!(degrees("172.8"), Some(172.8));
        assert_eq!(degrees("180"), Some(180.0));
        assert_eq!(degrees("90 deg"), Some(90.0));
        assert_eq!(degrees("50°"), Some(50.0));
    }

    #[test]
    fn a_fraction_is_a_time() {
        assert_eq!(seconds("1/50"), Some(0.02));
        assert_eq!(seconds("1/50th s"), Some(0.02));
        assert_eq!(seconds("20 ms"), Some(0.02));
        assert_eq!(seconds("500"), Some(0.002));
        assert_eq!(seconds("half a second"), Some(0.5));
        assert_eq!(seconds("a quarter of a second"), Some(0.25));
        assert_eq!(seconds("eine halbe Sekunde"), Some(0.5));
        for text in ["half a", "half of", "half a ms", "1/50 of"] {
            let read = read_shutter(text);
            assert_eq!(read, Err(SpokenError::NotUnderstood), "{text}");
        }
    }

    #[test]
    fn a_dial_number_asks_back() {
        for text in ["50", "0.02", "half", "½"] {
            let read = read_shutter(text);
            assert!(matches!(read, Err(SpokenError::Ambiguous(_))), "{text}");
        }
        assert_eq!(seconds("0.02 s"), Some(0.02));
    }

    #[test]
    fn no_shutter_opens_for_nothing() {
        assert!(matches!(read_shutter("0"), Err(SpokenError::OutOfRange(_))));
        assert!(matches!(
            read_shutter("400°"),
            Err(SpokenError::OutOfRange(_))
        ));
    }
}
