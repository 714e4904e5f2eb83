//! A lens focused somewhere.

use crate::quantity::{Bounds, Distance, FocalLength, OutOfRange, Reach};
use crate::square_root::square_root;

/// A thin lens and the place it is focused on.
///
/// # Units
///
/// Places are measured from the lens unless a name says otherwise; focus marks
/// and tapes count from the sensor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Focus {
    focal: FocalLength,
    on: Reach,
}

impl Focus {
    /// Focused on a place so far from the lens.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the place is not beyond the focal length: the image
    /// would form nowhere.
    pub fn from_lens(focal: FocalLength, on: Reach) -> Result<Self, OutOfRange> {
        if let Reach::At(distance) = on {
            let nearest = focal.millimetres() * NEAREST;
            Bounds::DISTANCE
                .from(nearest)
                .check(distance.millimetres())?;
        }
        Ok(Self { focal, on })
    }

    /// Focused on a place so far from the sensor, as tapes and focus marks say.
    ///
    /// # Units
    ///
    /// s = (L + √(L² − 4·f·L))/2, from L = s + f·s/(s − f); the larger root, as
    /// the lens sits nearer the sensor than the subject.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] nearer than four focal lengths, where life size is.
    ///
    /// # Source
    ///
    /// Our derivation from the thin-lens equation.
    pub fn from_sensor(focal: FocalLength, on: Reach) -> Result<Self, OutOfRange> {
        let Reach::At(distance) = on else {
            return Self::from_lens(focal, on);
        };
        let (f, whole) = (focal.millimetres(), distance.millimetres());
        Bounds::DISTANCE.from(4.0 * f).check(whole)?;
        let subject = (whole + square_root(whole * (whole - 4.0 * f))) / 2.0;
        Self::from_lens(focal, Reach::At(Distance::new(subject)?))
    }

    /// The focal length.
    #[must_use]
    pub const fn focal(self) -> FocalLength {
        self.focal
    }

    /// The place in focus, from the lens.
    #[must_use]
    pub const fn on(self) -> Reach {
        self.on
    }

    /// The place in focus as a tape from the sensor measures it.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] beyond a thousand kilometres.
    pub fn on_tape(self) -> Result<Reach, OutOfRange> {
        let Reach::At(distance) = self.on else {
            return Ok(Reach::Infinity);
        };
        Distance::new(distance.millimetres() + self.image_distance()).map(Reach::At)
    }

    /// How far behind the lens the sharp image lies: f·s/(s − f), f at infinity.
    ///
    /// # Units
    ///
    /// Millimetres.
    #[must_use]
    pub fn image_distance(self) -> f64 {
        self.focal.millimetres() / self.closeness()
    }

    /// Image size over subject size: f/(s − f), 0 at infinity.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::{Distance, FocalLength, Reach};
    /// use glasscall_core::setup::Focus;
    ///
    /// // Life size from two focal lengths.
    /// let there = Reach::At(Distance::constant(100.0));
    /// let focus = Focus::from_lens(FocalLength::constant(50.0), there)?;
    /// assert!((focus.magnification() - 1.0).abs() < 1e-12);
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    #[must_use]
    pub fn magnification(self) -> f64 {
        self.focal.millimetres() * self.on.vergence() / self.closeness()
    }

    /// 1 − f/s: one at infinity, a half at life size.
    pub(crate) fn closeness(self) -> f64 {
        1.0 - self.focal.millimetres() * self.on.vergence()
    }
}

/// Nearest focus in focal lengths, a hundredth beyond the focal point: 100 times
/// life size, nearer than any lens goes.
const NEAREST: f64 = 1.01;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Distance, FocalLength, Focus, Reach};

    fn at(millimetres: f64) -> Reach {
        Reach::At(Distance::new(millimetres).unwrap())
    }

    fn fifty() -> FocalLength {
        FocalLength::new(50.0).unwrap()
    }

    #[test]
    fn life_size_is_two_focal_lengths_from_the_lens_and_four_from_the_sensor() {
        let life = Focus::from_lens(fifty(), at(100.0)).unwrap();
        assert_eq!(life.magnification(), 1.0);
        assert_eq!(life.image_distance(), 100.0);
        let taped = Focus::from_sensor(fifty(), at(200.0)).unwrap();
        assert_eq!(taped, life);
    }

    #[test]
    fn the_tape_measures_subject_and_image_together() {
        let focus = Focus::from_sensor(fifty(), at(1000.0)).unwrap();
        let subject = focus.on().distance().unwrap().millimetres();
        assert!((subject + focus.image_distance() - 1000.0).abs() < 1e-9);
        let back = focus.on_tape().unwrap().distance().unwrap();
        assert!((back.millimetres() - 1000.0).abs() < 1e-9);
    }

    #[test]
    fn at_infinity_the_image_lies_at_the_focal_length() {
        let far = Focus::from_sensor(fifty(), Reach::Infinity).unwrap();
        assert_eq!(far.image_distance(), 50.0);
        assert_eq!(far.magnification(), 0.0);
    }

    #[test]
    fn a_subject_at_the_focal_point_is_refused() {
        assert!(Focus::from_lens(fifty(), at(50.0)).is_err());
        assert!(Focus::from_sensor(fifty(), at(199.0)).is_err());
    }
}
