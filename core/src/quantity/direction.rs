//! A direction in the open: where the sun stands, where the lens points.

use super::{Angle, Elevation};
use crate::square_root::square_root;

/// A direction from the camera, as a unit vector east, north and up.
///
/// # Units
///
/// Azimuth in degrees clockwise from true north, elevation in degrees above
/// the horizon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Direction {
    east: f64,
    north: f64,
    up: f64,
}

impl Direction {
    /// Straight up.
    pub const UP: Self = Self {
        east: 0.0,
        north: 0.0,
        up: 1.0,
    };

    /// The level direction of an azimuth in degrees.
    #[must_use]
    pub(crate) fn level(azimuth: f64) -> Self {
        let (east, north) = libm::sincos(azimuth.to_radians());
        Self {
            east,
            north,
            up: 0.0,
        }
    }

    /// The direction of an azimuth and an elevation.
    #[must_use]
    pub fn from_bearing(azimuth: Angle, elevation: Elevation) -> Self {
        Self::level(azimuth.degrees()).turned_towards(Self::UP, elevation.degrees())
    }

    /// The direction of a vector east, north and up, or `None` for one too
    /// short to point anywhere.
    #[must_use]
    pub fn from_vector([east, north, up]: [f64; 3]) -> Option<Self> {
        let length = square_root(east * east + north * north + up * up);
        (length > 1e-12).then(|| Self {
            east: east / length,
            north: north / length,
            up: up / length,
        })
    }

    /// Parts east, north and up; their squares add to 1.
    #[must_use]
    pub const fn vector(self) -> [f64; 3] {
        [self.east, self.north, self.up]
    }

    /// In degrees clockwise from true north, [0, 360); 0 straight up and down.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::{Angle, Direction, Elevation};
    ///
    /// let east = Direction::from_bearing(Angle::constant(90.0), Elevation::constant(0.0));
    /// assert!((east.azimuth_degrees() - 90.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn azimuth_degrees(self) -> f64 {
        let azimuth = libm::atan2(self.east, self.north).to_degrees();
        // A hair west of north may round to 360 itself.
        let turned = if azimuth < 0.0 {
            azimuth + 360.0
        } else {
            azimuth
        };
        if turned < 360.0 { turned } else { 0.0 }
    }

    /// In degrees above the horizon, [−90, 90].
    #[must_use]
    pub fn elevation_degrees(self) -> f64 {
        let level = square_root(self.east * self.east + self.north * self.north);
        libm::atan2(self.up, level).to_degrees()
    }

    /// Cosine of the angle to another direction, [−1, 1].
    #[must_use]
    pub fn cosine_to(self, other: Self) -> f64 {
        let along = self.east * other.east + self.north * other.north + self.up * other.up;
        along.clamp(-1.0, 1.0)
    }

    /// The angle to another direction in degrees, [0, 180].
    #[must_use]
    pub fn degrees_to(self, other: Self) -> f64 {
        // The sine keeps small angles that the cosine alone would lose.
        let [east, north, up] = self.cross(other);
        let sine = square_root(east * east + north * north + up * up);
        libm::atan2(sine, self.cosine_to(other)).to_degrees()
    }

    /// The direction across this and another (right-handed), or `None` when
    /// they lie on one line.
    #[must_use]
    pub fn across(self, other: Self) -> Option<Self> {
        Self::from_vector(self.cross(other))
    }

    fn cross(self, other: Self) -> [f64; 3] {
        [
            self.north * other.up - self.up * other.north,
            self.up * other.east - self.east * other.up,
            self.east * other.north - self.north * other.east,
        ]
    }

    /// This direction turned towards another that stands across it.
    #[must_use]
    pub(crate) fn turned_towards(self, across: Self, degrees: f64) -> Self {
        let (sine, cosine) = libm::sincos(degrees.to_radians());
        Self {
            east: cosine * self.east + sine * across.east,
            north: cosine * self.north + sine * across.north,
            up: cosine * self.up + sine * across.up,
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Angle, Direction, Elevation};

    fn towards(azimuth: f64, elevation: f64) -> Direction {
        Direction::from_bearing(
            Angle::new(azimuth).unwrap(),
            Elevation::new(elevation).unwrap(),
        )
    }

    #[test]
    fn east_is_a_quarter_turn_clockwise_from_north() {
        let [east, north, up] = towards(90.0, 0.0).vector();
        assert!((east - 1.0).abs() < 1e-15 && north.abs() < 1e-15 && up.abs() < 1e-15);
    }

    #[test]
    fn bearings_come_back() {
        for (azimuth, elevation) in [(0.0, 0.0), (123.4, -56.7), (359.99, 89.0), (270.0, 12.0)] {
            let there = towards(azimuth, elevation);
            assert!((there.azimuth_degrees() - azimuth).abs() < 1e-11);
            assert!((there.elevation_degrees() - elevation).abs() < 1e-11);
        }
    }

    #[test]
    fn angles_between_directions_keep_their_small_ends() {
        let sun = towards(40.0, 30.0);
        assert!((sun.degrees_to(towards(40.0, 30.0 + 1e-7)) - 1e-7).abs() < 1e-13);
        assert!((sun.degrees_to(towards(220.0, -30.0)) - 180.0).abs() < 1e-6);
        assert!((sun.degrees_to(towards(130.0, 0.0)) - 90.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_lies_across_one_line() {
        assert!(towards(10.0, 0.0).across(towards(10.0, 0.0)).is_none());
        let up = towards(90.0, 0.0).across(towards(0.0, 0.0)).unwrap();
        assert!((up.elevation_degrees() - 90.0).abs() < 1e-12);
    }

    #[test]
    fn a_hair_west_of_north_is_north_and_a_hair_long_points_nowhere() {
        let found = Direction::from_vector([-1e-18, 1.0, 0.0]).unwrap();
        assert_eq!(found.azimuth_degrees(), 0.0);
        assert!(Direction::from_vector([1e-12, 0.0, 0.0]).is_none());
        assert!(Direction::from_vector([2e-12, 0.0, 0.0]).is_some());
    }
}
