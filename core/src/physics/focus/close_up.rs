//! Close-up lenses on the front of a lens.

use crate::quantity::{
    Bounds, Distance, FocalLength, Length, LensPower, Magnification, OutOfRange, Reach, Span,
};

/// Power of close-up lenses screwed together.
///
/// # Units
///
/// Dioptres add; their spacing is left out.
///
/// # Errors
///
/// [`OutOfRange`] for none, or beyond the range of [`LensPower`].
///
/// # Source
///
/// The thin-lens equation, 1/s′ = 1/s + P, once for each lens: what the first
/// draws at s′ is what the next sees, in the same place.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::close_up::power_together;
/// use glasscall_core::quantity::LensPower;
///
/// assert_eq!(power_together([1.0, 2.0].map(LensPower::constant))?.dioptres(), 3.0);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn power_together(
    lenses: impl IntoIterator<Item = LensPower>,
) -> Result<LensPower, OutOfRange> {
    LensPower::new(lenses.into_iter().map(LensPower::dioptres).sum())
}

/// Where the subject must be, for a lens set to `setting`.
///
/// The close-up lens draws the subject where the lens is set to.
///
/// # Units
///
/// 1/s = 1/s′ + D, both counted from the close-up lens, D in 1/m.
///
/// # Domain
///
/// At infinity s = 1/D, whatever the focal length.
///
/// # Errors
///
/// [`OutOfRange`] nearer than the nearest [`Distance`].
///
/// # Source
///
/// Smith, as for [`power_together`]; Ray, Applied Photographic Optics (from
/// memory).
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::close_up::subject_distance;
/// use glasscall_core::quantity::{LensPower, Reach};
///
/// // Set to infinity a lens sees 1/D ahead.
/// let subject = subject_distance(Reach::Infinity, LensPower::constant(2.0))?;
/// assert!((subject.millimetres() - 500.0).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn subject_distance(setting: Reach, power: LensPower) -> Result<Distance, OutOfRange> {
    Distance::new(1.0 / (setting.vergence() + power.dioptres() / 1000.0))
}

/// What the lens must be set to for a subject at `subject`: the inverse of
/// [`subject_distance`].
///
/// # Errors
///
/// [`OutOfRange`] for a subject beyond 1/D, out of reach at every setting.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::close_up::setting_for;
/// use glasscall_core::quantity::{Distance, LensPower};
///
/// let power = LensPower::constant(2.0);
/// let setting = setting_for(Distance::constant(250.0), power)?;
/// assert!((setting.distance().map_or(0.0, Distance::millimetres) - 500.0).abs() < 1e-9);
/// // Farther than 1/D nothing is sharp.
/// assert!(setting_for(Distance::constant(600.0), power).is_err());
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn setting_for(subject: Distance, power: LensPower) -> Result<Reach, OutOfRange> {
    let farthest = Bounds::DISTANCE.to(1000.0 / power.dioptres());
    let subject = farthest.check(subject.millimetres())?;
    Reach::from_vergence(1.0 / subject - power.dioptres() / 1000.0)
}

/// Image size over subject size with the close-up lens on.
///
/// # Units
///
/// m = f/((s′ − f)·s/s′) = (f/s)/(1 − f/s′), s the subject, s′ the setting; f/s
/// = f·D at infinity.
///
/// # Errors
///
/// [`OutOfRange`] when the setting is no place to focus on.
///
/// # Source
///
/// Product of the magnifications of two thin lenses in contact.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::close_up::magnification;
/// use glasscall_core::quantity::{FocalLength, LensPower, Reach};
///
/// let power = LensPower::constant(2.0);
/// let image = magnification(FocalLength::constant(50.0), Reach::Infinity, power)?;
/// assert!((image.ratio() - 0.1).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn magnification(
    focal: FocalLength,
    setting: Reach,
    power: LensPower,
) -> Result<Magnification, OutOfRange> {
    let subject = subject_distance(setting, power)?;
    let f = focal.millimetres();
    Magnification::new(f / subject.millimetres() / (1.0 - f * setting.vergence()))
}

/// How much of the subject one side of the picture takes in: side/m, millimetres.
///
/// # Domain
///
/// Any subject this lens is focused on with a close-up lens on: m is never 0.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::close_up::taken_in;
/// use glasscall_core::quantity::{Magnification, Span};
///
/// assert_eq!(taken_in(Span::constant(24.0), Magnification::constant(0.5)), 48.0);
/// ```
#[must_use]
pub fn taken_in(side: Span, magnification: Magnification) -> f64 {
    side.millimetres() / magnification.ratio()
}

/// How much narrower the field in front becomes: a ray that leaves the pupil at
/// tan θ goes on at tan θ times this.
///
/// What the rim of the close-up lens cuts off is a question of the pupil and of
/// the opening, as for any piece: rays between it and the lens are not bent.
///
/// # Units
///
/// 1 − z·D, z from the entrance pupil forward to the close-up lens.
///
/// # Domain
///
/// Negative beyond 1/D, where the picture would turn over: refused.
///
/// # Errors
///
/// [`OutOfRange`] for a close-up lens farther ahead than its focal length.
///
/// # Source
///
/// Paraxial refraction at a thin lens: the angle changes by −y·D at height
/// y = z·tan θ.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::close_up::field_factor;
/// use glasscall_core::quantity::{Length, LensPower};
///
/// assert!((field_factor(Length::constant(100.0), LensPower::constant(2.0))? - 0.8).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn field_factor(ahead_of_pupil: Length, power: LensPower) -> Result<f64, OutOfRange> {
    let ahead =
        (Bounds::LENGTH.to(1000.0 / power.dioptres())).check(ahead_of_pupil.millimetres())?;
    Ok(1.0 - ahead * power.dioptres() / 1000.0)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn power(dioptres: f64) -> LensPower {
        LensPower::new(dioptres).unwrap()
    }

    fn at(millimetres: f64) -> Reach {
        Reach::At(Distance::new(millimetres).unwrap())
    }

    fn focal(millimetres: f64) -> FocalLength {
        FocalLength::new(millimetres).unwrap()
    }

    #[test]
    fn two_dioptres_on_a_lens_at_infinity_focus_half_a_metre_away() {
        let subject = subject_distance(Reach::Infinity, power(2.0)).unwrap();
        assert_eq!(subject.millimetres(), 500.0);
    }

    #[test]
    fn the_setting_for_a_subject_leads_back_to_it() {
        let subject = Distance::new(300.0).unwrap();
        let setting = setting_for(subject, power(2.0)).unwrap();
        assert!((setting.vergence() - (1.0 / 300.0 - 0.002)).abs() < 1e-15);
        let back = subject_distance(setting, power(2.0)).unwrap();
        assert!((back.millimetres() - 300.0).abs() < 1e-10);
        assert!(setting_for(Distance::new(501.0).unwrap(), power(2.0)).is_err());
    }

    #[test]
    fn at_infinity_the_magnification_is_focal_length_times_power() {
        let m = magnification(focal(100.0), Reach::Infinity, power(4.0)).unwrap();
        assert!((m.ratio() - 0.4).abs() < 1e-15);
        let side = Span::new(36.0).unwrap();
        assert!((taken_in(side, m) - 90.0).abs() < 1e-12);
    }

    #[test]
    fn one_lens_of_the_summed_power_draws_the_same_size() {
        // Independent route: a single thin lens of 1/f + D, image at v.
        let (f, set, d) = (80.0, 900.0, 3.0);
        let v = f * set / (set - f);
        let both = 1.0 / (1.0 / f + d / 1000.0);
        let by_one_lens = v / both - 1.0;
        let m = magnification(focal(f), at(set), power(d)).unwrap();
        assert!((m.ratio() - by_one_lens).abs() < 1e-12);
    }

    #[test]
    fn in_contact_with_the_pupil_the_field_keeps_its_angle() {
        let here = Length::new(0.0).unwrap();
        let ahead = Length::new(60.0).unwrap();
        assert_eq!(field_factor(here, power(4.0)).unwrap(), 1.0);
        assert!((field_factor(ahead, power(4.0)).unwrap() - 0.76).abs() < 1e-15);
        assert!(field_factor(Length::new(300.0).unwrap(), power(4.0)).is_err());
    }
}
