//! Flat glass in the way of focused light.

use crate::quantity::{
    Aperture, Disc, Distance, Length, Magnification, OutOfRange, Reach, RefractiveIndex, Thickness,
};
use crate::setup::Focus;

/// One flat piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// How thick.
    pub thickness: Thickness,
    /// Its refractive index.
    pub index: RefractiveIndex,
}

/// How much farther on a flat piece makes rays meet.
///
/// Paraxial: at the edge of a fast cone the shift is a little more, which blurs.
///
/// # Units
///
/// t·(1 − 1/n) in millimetres, along the light; pieces in a row add.
///
/// # Source
///
/// Snell's law for small angles: inside, the cone closes n times as slowly, so t
/// of glass closes it as t/n of air would. What a steeper ray adds: Smith, Modern
/// Optical Engineering, 7.8, figure 7.14.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::plane_plate::{Plate, shift};
/// use glasscall_core::quantity::{RefractiveIndex, Thickness};
///
/// let plate = Plate {
///     thickness: Thickness::constant(3.0),
///     index: RefractiveIndex::constant(1.5),
/// };
/// assert!((shift(plate) - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn shift(plate: Plate) -> f64 {
    plate.thickness.millimetres() * (1.0 - 1.0 / plate.index.index())
}

/// What the scale reads once a place is sharp through glass behind the lens.
///
/// The image lies farther back by the shift, so the lens must move out as if
/// for something nearer. `None` when it would have to move in past infinity, as
/// it may where glass was taken away.
///
/// # Units
///
/// 1/scale = 1/f − 1/(v + shift), v the image distance without the glass; from
/// the lens. A negative shift is glass taken away.
///
/// # Errors
///
/// [`OutOfRange`] nearer than the nearest distance.
///
/// # Source
///
/// Our derivation from the thin-lens equation.
pub fn scale_for(sharp: Focus, behind: Length) -> Result<Option<Reach>, OutOfRange> {
    place_of_image(sharp, behind.millimetres())
}

/// What is sharp through glass behind the lens when the scale is at `scale`.
///
/// `None` when that lies beyond infinity: nothing is sharp.
///
/// # Units
///
/// As for [`scale_for`], with v − shift.
///
/// # Errors
///
/// [`OutOfRange`] nearer than the nearest distance.
pub fn sharp_at(scale: Focus, behind: Length) -> Result<Option<Reach>, OutOfRange> {
    place_of_image(scale, -behind.millimetres())
}

/// The place whose image lies `back` behind that of `focus`.
fn place_of_image(focus: Focus, back: f64) -> Result<Option<Reach>, OutOfRange> {
    let (f, image) = (focus.focal().millimetres(), focus.image_distance());
    // 1/f − 1/(v + back), arranged so that equal terms cancel before rounding.
    let vergence = (image - f + back) / (f * (image + back));
    // Rounding at infinity without glass must not count as beyond it.
    if vergence < -1e-12 {
        return Ok(None);
    }
    Reach::from_vergence(vergence).map(Some)
}

/// Where something seems to be through flat glass in front of the lens: nearer
/// by the shift, unchanged at infinity.
///
/// # Units
///
/// Millimetres from the lens.
///
/// # Errors
///
/// [`OutOfRange`] when that falls inside the lens.
///
/// # Source
///
/// As for [`shift`], with the light reversed.
pub fn seen_through(place: Reach, in_front: Length) -> Result<Reach, OutOfRange> {
    match place {
        Reach::At(distance) => {
            let seen = distance.millimetres() - in_front.millimetres();
            Distance::new(seen).map(Reach::At)
        }
        Reach::Infinity => Ok(Reach::Infinity),
    }
}

/// How far the sensor may lie to either side of the sharp image.
///
/// # Units
///
/// N·(1 + m)·c in millimetres, each way.
///
/// # Source
///
/// Similar triangles in the cone behind the lens: f/N wide at the lens, which is
/// f·(1 + m) away, it is c wide N·(1 + m)·c from its tip.
#[must_use]
pub fn depth_of_focus(number: Aperture, magnification: Magnification, circle: Disc) -> f64 {
    number.number() * (1.0 + magnification.ratio()) * circle.millimetres()
}

/// Blur on the sensor when nobody refocuses: shift/(N·(1 + m)), millimetres.
///
/// # Source
///
/// Similar triangles in the cone behind the lens.
#[must_use]
pub fn blur_of_shift(behind: Length, number: Aperture, magnification: Magnification) -> f64 {
    behind.millimetres().abs() / (number.number() * (1.0 + magnification.ratio()))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::FocalLength;

    fn plate(thickness: f64, index: f64) -> Plate {
        Plate {
            thickness: Thickness::new(thickness).unwrap(),
            index: RefractiveIndex::new(index).unwrap(),
        }
    }

    fn at(millimetres: f64) -> Reach {
        Reach::At(Distance::new(millimetres).unwrap())
    }

    fn focus(millimetres: f64, on: Reach) -> Focus {
        Focus::from_lens(FocalLength::new(millimetres).unwrap(), on).unwrap()
    }

    fn length(millimetres: f64) -> Length {
        Length::new(millimetres).unwrap()
    }

    #[test]
    fn ordinary_glass_shifts_by_a_third_of_its_thickness() {
        assert!((shift(plate(3.0, 1.5)) - 1.0).abs() < 1e-15);
        assert!(shift(plate(3.0, 1.0001)) < 0.001);
    }

    #[test]
    fn a_narrow_cone_traced_by_snell_agrees() {
        // Independent route: sin i = n·sin r, ray displacement along the axis.
        let (thickness, n) = (2.0, 1.52);
        let i: f64 = 1e-4;
        let r = libm::asin(libm::sin(i) / n);
        let traced = thickness * (1.0 - libm::tan(r) / libm::tan(i));
        assert!((shift(plate(thickness, n)) - traced).abs() < 1e-8);
    }

    #[test]
    fn infinity_then_reads_f_squared_over_the_shift() {
        // 50 mm, 1 mm of 1.5: δ = 1/3, 50·50.333/0.3333 = 7550, by hand.
        let scale = scale_for(focus(50.0, Reach::Infinity), length(1.0 / 3.0)).unwrap();
        assert!((scale.unwrap().distance().unwrap().millimetres() - 7550.0).abs() < 1e-9);
    }

    #[test]
    fn the_scale_leads_back_to_what_is_sharp() {
        let delta = length(0.35);
        let scale = scale_for(focus(35.0, at(4000.0)), delta).unwrap().unwrap();
        let sharp = sharp_at(focus(35.0, scale), delta).unwrap().unwrap();
        assert!((sharp.distance().unwrap().millimetres() - 4000.0).abs() < 1e-6);
    }

    #[test]
    fn a_scale_at_infinity_leaves_nothing_sharp() {
        let far = focus(35.0, Reach::Infinity);
        assert_eq!(sharp_at(far, length(0.3)).unwrap(), None);
        assert_eq!(sharp_at(far, length(0.0)).unwrap(), Some(Reach::Infinity));
        // Glass taken away asks for the same the other way round.
        assert_eq!(scale_for(far, length(-0.3)).unwrap(), None);
    }

    #[test]
    fn in_front_only_near_things_move() {
        assert_eq!(
            seen_through(Reach::Infinity, length(1.4)),
            Ok(Reach::Infinity)
        );
        let seen = seen_through(at(300.0), length(1.4)).unwrap();
        assert!((seen.distance().unwrap().millimetres() - 298.6).abs() < 1e-12);
    }

    #[test]
    fn a_shift_of_the_depth_of_focus_blurs_to_the_circle() {
        let (n, m) = (
            Aperture::from_number(2.8).unwrap(),
            Magnification::new(0.1).unwrap(),
        );
        let reach = depth_of_focus(n, m, Disc::new(0.025).unwrap());
        assert!((blur_of_shift(length(reach), n, m) - 0.025).abs() < 1e-15);
    }
}
