//! Moments and dates of the civil calendar, without a clock.

use super::{Bounds, quantity};
use core::ops::Range;

const SECONDS_A_DAY: f64 = 86_400.0;

/// A moment, from 1900 to 2200.
///
/// # Units
///
/// Seconds of UTC since 1970-01-01T00:00:00Z, every day having 86 400: leap
/// seconds are not counted. A hundredth of a millisecond is kept.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Moment(f64);

quantity!(
    /// Local time less UTC, east positive.
    UtcOffset,
    UTC_OFFSET,
    /// In minutes.
    minutes
);

/// A day of the Gregorian calendar that exists, from 1900 to 2199.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct CivilDate {
    year: i32,
    month: u8,
    day: u8,
}

impl Moment {
    /// The start of 1970, from which seconds count.
    pub const EPOCH: Self = Self(0.0);

    /// Seconds since the start of 1970.
    #[must_use]
    pub const fn unix_seconds(self) -> f64 {
        self.0
    }

    /// Days since noon of 2000-01-01 UTC, where astronomy starts to count.
    #[must_use]
    pub const fn days_since_2000(self) -> f64 {
        (self.0 - 946_728_000.0) / SECONDS_A_DAY
    }

    /// So many seconds later; at the ends of the range it stays there.
    #[must_use]
    pub const fn later_by(self, seconds: f64) -> Self {
        Self((self.0 + seconds).clamp(Bounds::MOMENT.min, Bounds::MOMENT.max))
    }

    /// How many seconds after another moment this is.
    #[must_use]
    pub const fn seconds_since(self, other: Self) -> f64 {
        self.0 - other.0
    }

    /// The UTC day of this moment and the seconds into it.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "days from 1900 to 2200 fit i32"
    )]
    pub fn date_and_seconds(self) -> (CivilDate, f64) {
        let days = libm::floor(self.0 / SECONDS_A_DAY);
        (
            CivilDate::from_days(days as i32),
            self.0 - days * SECONDS_A_DAY,
        )
    }
}

impl CivilDate {
    /// The day, or `None` when the calendar has none such.
    #[must_use]
    pub fn new(year: i32, month: u8, day: u8) -> Option<Self> {
        let exists = (1900..2200).contains(&year)
            && (1..=12).contains(&month)
            && (1..=days_in(year, month)).contains(&day);
        exists.then_some(Self { year, month, day })
    }

    /// The year.
    #[must_use]
    pub const fn year(self) -> i32 {
        self.year
    }

    /// The month, 1 to 12.
    #[must_use]
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from 1.
    #[must_use]
    pub const fn day(self) -> u8 {
        self.day
    }

    /// The local day at an offset: its first moment and the one after its last.
    #[must_use]
    pub fn span(self, offset: UtcOffset) -> Range<Moment> {
        let midnight = Moment::EPOCH
            .later_by(f64::from(self.days()) * SECONDS_A_DAY - offset.minutes() * 60.0);
        midnight..midnight.later_by(SECONDS_A_DAY)
    }

    /// Days since 1970-01-01.
    ///
    /// Years are counted from March, so that the leap day comes last and the
    /// months before any day add up by one rule, 153 days to five months.
    fn days(self) -> i32 {
        let (month, day) = (i32::from(self.month), i32::from(self.day));
        let year = self.year - i32::from(month < 3);
        let from_march = (month + 9) % 12;
        365 * year + year / 4 - year / 100 + year / 400 + (153 * from_march + 2) / 5 + day - 719_469
    }

    /// The inverse of [`CivilDate::days`].
    fn from_days(days: i32) -> Self {
        // The guess is never late, and at most a year early.
        let mut year = 1970 + days.div_euclid(366) + days / 40_000;
        let mut first = Self::new_year(year);
        while days >= Self::new_year(year + 1).days() {
            year += 1;
            first = Self::new_year(year);
        }
        while days < first.days() {
            year -= 1;
            first = Self::new_year(year);
        }
        let (mut month, mut day) = (1, days - first.days());
        while day >= i32::from(days_in(year, month)) {
            day -= i32::from(days_in(year, month));
            month += 1;
        }
        Self {
            year,
            month,
            day: u8::try_from(day + 1).unwrap_or(1),
        }
    }

    const fn new_year(year: i32) -> Self {
        Self {
            year,
            month: 1,
            day: 1,
        }
    }
}

const fn days_in(year: i32, month: u8) -> u8 {
    match month {
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{CivilDate, Moment, UtcOffset};

    #[test]
    fn the_day_of_the_epoch_is_day_nothing() {
        assert_eq!(CivilDate::new(1970, 1, 1).unwrap().days(), 0);
        // 30 years with 7 leap days, by hand.
        assert_eq!(CivilDate::new(2000, 1, 1).unwrap().days(), 10_957);
    }

    #[test]
    fn every_day_of_three_centuries_comes_back() {
        let first = CivilDate::new(1900, 1, 1).unwrap().days();
        let last = CivilDate::new(2199, 12, 31).unwrap().days();
        // 300 years with 73 leap days: 1900 and 2100 have none, 2000 has one.
        assert_eq!(last - first + 1, 300 * 365 + 73);
        let mut before = None;
        for days in first..=last {
            let date = CivilDate::from_days(days);
            assert_eq!(date.days(), days);
            assert!(CivilDate::new(date.year(), date.month(), date.day()).is_some());
            assert!(before < Some(date));
            before = Some(date);
        }
    }

    #[test]
    fn days_that_do_not_exist_are_refused() {
        assert!(CivilDate::new(2023, 2, 29).is_none());
        assert!(CivilDate::new(2024, 2, 29).is_some());
        assert!(CivilDate::new(2100, 2, 29).is_none());
        assert!(CivilDate::new(2026, 13, 1).is_none());
        assert!(CivilDate::new(2026, 4, 31).is_none());
    }

    #[test]
    fn a_local_day_east_of_greenwich_starts_early() {
        let day = CivilDate::new(1970, 1, 2).unwrap();
        let span = day.span(UtcOffset::new(600.0).unwrap());
        assert_eq!(span.start.unix_seconds(), 14.0 * 3600.0);
        assert_eq!(span.end.seconds_since(span.start), 86_400.0);
    }

    #[test]
    fn a_moment_stays_within_its_three_centuries() {
        let at = |seconds| Moment::EPOCH.later_by(seconds).date_and_seconds().0;
        assert_eq!(at(-1e10), CivilDate::new(1900, 1, 1).unwrap());
        assert_eq!(at(1e10).year(), 2200);
    }

    #[test]
    fn a_moment_is_a_day_and_the_seconds_into_it() {
        // 1 710 914 400 s is 2024-03-20T06:00Z; a second before 1970 is 1969.
        let at = |unix| Moment::EPOCH.later_by(unix).date_and_seconds();
        assert_eq!(
            at(1_710_914_400.0),
            (CivilDate::new(2024, 3, 20).unwrap(), 21_600.0)
        );
        assert_eq!(at(-1.0), (CivilDate::new(1969, 12, 31).unwrap(), 86_399.0));
        assert_eq!(at(86_400.0), (CivilDate::new(1970, 1, 2).unwrap(), 0.0));
    }
}
