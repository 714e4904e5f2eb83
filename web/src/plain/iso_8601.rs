//! Moments and dates as ISO 8601 writes them.

use crate::plain::refusal::{Code, Refusal};
use glasscall_core::quantity::{CivilDate, Moment, UtcOffset};

/// First and last year read.
const YEARS: (f64, f64) = (1900.0, 2199.0);

/// Reads `2026-11-25T14:30:00+01:00` or the like with `Z`.
///
/// Seconds and their decimals may be left out, the offset may not: a time
/// without one is the sun's place off by hours.
///
/// # Errors
///
/// `notUnderstood` for any other text and for a day or hour that does not
/// exist, `outOfRange` for a year outside 1900 to 2199.
pub fn read_moment(text: &str, field: &str) -> Result<Moment, Refusal> {
    let not_understood = || Refusal::new(Code::NotUnderstood, field).given(text);
    let mut reader = Reader(text.as_bytes());
    let parts = reader.moment().ok_or_else(not_understood)?;
    let date = date_of(parts.date, text, field)?;
    let utc = UtcOffset::new(0.0).map_err(|e| Refusal::out_of_range(field, e))?;
    let seconds = parts.seconds - f64::from(parts.offset_minutes) * 60.0;
    Ok(date.span(utc).start.later_by(seconds))
}

/// Reads `2026-11-25`.
///
/// # Errors
///
/// As [`read_moment`].
pub fn read_date(text: &str, field: &str) -> Result<CivilDate, Refusal> {
    let mut reader = Reader(text.as_bytes());
    let date = reader.date().filter(|_| reader.0.is_empty());
    let date = date.ok_or_else(|| Refusal::new(Code::NotUnderstood, field).given(text))?;
    date_of(date, text, field)
}

/// A moment to the nearest second, as `2026-11-25T13:30:00Z`.
#[must_use]
pub fn moment_text(moment: Moment) -> String {
    let (date, seconds) = moment.later_by(0.5).date_and_seconds();
    let (minutes, second) = ((seconds / 60.0).floor(), seconds % 60.0);
    let (hour, minute) = ((minutes / 60.0).floor(), minutes % 60.0);
    format!(
        "{:04}-{:02}-{:02}T{hour:02.0}:{minute:02.0}:{:02.0}Z",
        date.year(),
        date.month(),
        date.day(),
        second.floor(),
    )
}

fn date_of(
    (year, month, day): (u16, u8, u8),
    text: &str,
    field: &str,
) -> Result<CivilDate, Refusal> {
    CivilDate::new(i32::from(year), month, day).ok_or_else(|| {
        let (first, last) = YEARS;
        let known = (first..=last).contains(&f64::from(year));
        let refusal = Refusal::new(
            if known {
                Code::NotUnderstood
            } else {
                Code::OutOfRange
            },
            field,
        );
        let refusal = refusal.given(text);
        if known {
            refusal
        } else {
            refusal.needs(first, last)
        }
    })
}

struct Parts {
    date: (u16, u8, u8),
    seconds: f64,
    offset_minutes: i16,
}

/// What is left to read.
struct Reader<'a>(&'a [u8]);

impl Reader<'_> {
    fn moment(&mut self) -> Option<Parts> {
        let date = self.date()?;
        self.one_of(b"Tt ")?;
        let seconds = self.time_of_day()?;
        let offset_minutes = self.offset()?;
        self.0.is_empty().then_some(Parts {
            date,
            seconds,
            offset_minutes,
        })
    }

    fn date(&mut self) -> Option<(u16, u8, u8)> {
        let year = u16::from(self.pair(99)?) * 100 + u16::from(self.pair(99)?);
        self.one_of(b"-")?;
        let month = self.pair(12)?;
        self.one_of(b"-")?;
        Some((year, month, self.pair(31)?))
    }

    fn time_of_day(&mut self) -> Option<f64> {
        let hour = self.pair(23)?;
        self.one_of(b":")?;
        let minute = self.pair(59)?;
        let mut second = 0.0;
        if self.one_of(b":").is_some() {
            second = f64::from(self.pair(59)?);
            if self.one_of(b".,").is_some() {
                second += self.decimals()?;
            }
        }
        Some(f64::from(hour) * 3600.0 + f64::from(minute) * 60.0 + second)
    }

    fn offset(&mut self) -> Option<i16> {
        let sign = match self.one_of(b"Zz+-")? {
            b'+' => 1,
            b'-' => -1,
            _ => return Some(0),
        };
        let hours = self.pair(18)?;
        let minutes = match self.one_of(b":") {
            Some(_) => self.pair(59)?,
            None if self.0.is_empty() => 0,
            None => self.pair(59)?,
        };
        // Eighteen hours are the most, as for an offset in minutes.
        let is_less = hours < 18 || minutes == 0;
        is_less.then(|| sign * (i16::from(hours) * 60 + i16::from(minutes)))
    }

    fn decimals(&mut self) -> Option<f64> {
        let digits = self
            .0
            .iter()
            .take_while(|byte| byte.is_ascii_digit())
            .count();
        let (read, left) = self.0.split_at_checked(digits)?;
        self.0 = left;
        (1..=9).contains(&digits).then(|| {
            let tenths = |sum: f64, byte: &u8| (sum + f64::from(byte - b'0')) / 10.0;
            read.iter().rev().fold(0.0, tenths)
        })
    }

    /// Two digits up to `most`.
    fn pair(&mut self, most: u8) -> Option<u8> {
        let ([tens, ones], left) = self.0.split_first_chunk()?;
        let digits = tens.is_ascii_digit() && ones.is_ascii_digit();
        let value = digits.then(|| (tens - b'0') * 10 + (ones - b'0'))?;
        self.0 = left;
        (value <= most).then_some(value)
    }

    fn one_of(&mut self, bytes: &[u8]) -> Option<u8> {
        let (first, left) = self.0.split_first()?;
        bytes.contains(first).then(|| {
            self.0 = left;
            *first
        })
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Code, moment_text, read_date, read_moment};

    fn seconds(text: &str) -> f64 {
        read_moment(text, "time").unwrap().unix_seconds()
    }

    #[test]
    fn offsets_lead_to_the_same_moment() {
        // 1 000 000 000 s is 2001-09-09T01:46:40Z by Python's datetime.
        for text in [
            "2001-09-09T01:46:40Z",
            "2001-09-09t01:46:40z",
            "2001-09-09T03:46:40+02:00",
            "2001-09-09T03:46:40+0200",
            "2001-09-09T03:46:40+02",
            "2001-09-08T20:16:40-05:30",
            "2001-09-09 01:46:40Z",
        ] {
            assert_eq!(seconds(text), 1e9, "{text}");
        }
        assert_eq!(seconds("2001-09-09T01:46Z"), 1e9 - 40.0);
        // Eighteen hours are the most.
        assert_eq!(seconds("2001-09-09T19:46:40+18:00"), 1e9);
        assert!(read_moment("2001-09-09T20:16:40+18:30", "time").is_err());
        assert!((seconds("2001-09-09T01:46:40.25Z") - 1e9 - 0.25).abs() < 1e-6);
        assert!((seconds("2001-09-09T01:46:40,5Z") - 1e9 - 0.5).abs() < 1e-6);
    }

    #[test]
    fn what_is_written_is_read_again() {
        for text in [
            "2001-09-09T01:46:40Z",
            "2024-02-29T23:59:59Z",
            "1969-12-31T00:00:00Z",
        ] {
            assert_eq!(moment_text(read_moment(text, "time").unwrap()), text);
        }
        let late = read_moment("2024-12-31T23:59:59.7Z", "time").unwrap();
        assert_eq!(moment_text(late), "2025-01-01T00:00:00Z");
    }

    #[test]
    fn a_time_without_an_offset_is_refused() {
        for text in [
            "2001-09-09T01:46:40",
            "2001-09-09",
            "2023-02-29T00:00Z",
            "2001-13-09T00:00Z",
            "2001-09-09T24:00Z",
            "2001-09-09T01:46:40+02:0",
            "2001-09-09T01:46:40.Z",
            "2001-09-09T01:46:40Z ",
            "",
            "½",
        ] {
            let refusal = read_moment(text, "time").unwrap_err();
            assert_eq!(refusal.code, Code::NotUnderstood, "{text}");
            assert_eq!(refusal.field, "time");
        }
    }

    #[test]
    fn years_out_of_reach_name_the_range() {
        let refusal = read_date("1066-10-14", "date").unwrap_err();
        assert_eq!(refusal.code, Code::OutOfRange);
        assert_eq!((refusal.min, refusal.max), (Some(1900.0), Some(2199.0)));
    }
}
