//! How much lies in acceptable focus.

use crate::quantity::{Aperture, Bounds, Disc, Distance, FocalLength, OutOfRange, Reach, Span};
use crate::setup::Focus;
use crate::square_root::length;

/// The circle of confusion as a part of the sensor's diagonal, unless the user
/// says otherwise: diagonal/1500.
///
/// Common practice, no source. Anything from 1000 (small prints) to 3000 (a
/// large screen seen from the front) is in use, so it is shown and editable.
pub const DIAGONAL_PARTS: f64 = 1500.0;

/// The circle of confusion a sensor is given by rule: its diagonal in so many
/// parts.
///
/// # Units
///
/// Sides and result in millimetres, `parts` a pure number.
///
/// # Errors
///
/// [`OutOfRange`] when no such disc is allowed.
///
/// # Source
///
/// Common practice, no source; see [`DIAGONAL_PARTS`].
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::depth_of_field::circle_of_confusion;
/// use glasscall_core::quantity::Span;
///
/// let [width, height] = [36.0, 24.0].map(Span::constant);
/// let circle = circle_of_confusion(width, height, 1500.0)?;
/// assert!((circle.millimetres() - 0.02884).abs() < 1e-5);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn circle_of_confusion(width: Span, height: Span, parts: f64) -> Result<Disc, OutOfRange> {
    Disc::new(length(width.millimetres(), height.millimetres()) / parts)
}

/// The zone whose blur stays within the circle of confusion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthOfField {
    /// Nearest sharp place, from the lens.
    pub near: Distance,
    /// Farthest sharp place, from the lens.
    pub far: Reach,
}

/// The focus distance whose far limit is just infinity.
///
/// # Units
///
/// H = f²/(N·c) + f, in millimetres from the lens; N is an f-number.
///
/// # Errors
///
/// [`OutOfRange`] beyond a thousand kilometres.
///
/// # Source
///
/// Own derivation, by similar triangles from the pupil's edge, in the tests. The
/// Photographic Lenses FAQ, question 11, counts depth from the subject: the same
/// places, with h = H − f.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::depth_of_field::hyperfocal;
/// use glasscall_core::quantity::{Aperture, Disc, FocalLength};
///
/// let (focal, circle) = (FocalLength::constant(50.0), Disc::constant(0.025));
/// // 50²/(4·0.025) + 50.
/// let there = hyperfocal(focal, Aperture::from_marking(4.0)?, circle)?;
/// assert!((there.millimetres() - 25_050.0).abs() < 1e-6);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn hyperfocal(
    focal: FocalLength,
    number: Aperture,
    circle: Disc,
) -> Result<Distance, OutOfRange> {
    Distance::new(reach_of_blur(focal, number, circle) + focal.millimetres())
}

/// Near and far limits of acceptable focus.
///
/// Geometrical optics of a thin lens with equal pupils; diffraction and
/// aberrations are left out.
///
/// # Units
///
/// 1/near = 1/s + (1 − f/s)/A and 1/far = 1/s − (1 − f/s)/A with A = f²/(N·c),
/// which is near = s(H − f)/(H + s − 2f) and far = s(H − f)/(H − s). Counted
/// from the lens, in millimetres.
///
/// # Domain
///
/// Focused at infinity near is H − f. Far is infinity from s = H on.
///
/// # Errors
///
/// [`OutOfRange`] when the near limit would fall inside the lens.
///
/// # Source
///
/// As for [`hyperfocal`]; written with reciprocals so that infinity is an ordinary
/// case.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::depth_of_field::{depth_of_field, hyperfocal};
/// use glasscall_core::quantity::{Aperture, Disc, FocalLength, Reach};
/// use glasscall_core::setup::Focus;
///
/// let (focal, circle) = (FocalLength::constant(50.0), Disc::constant(0.025));
/// let number = Aperture::from_marking(4.0)?;
/// let there = hyperfocal(focal, number, circle)?;
/// let depth = depth_of_field(Focus::from_lens(focal, Reach::At(there))?, number, circle)?;
/// assert!((depth.near.millimetres() - there.millimetres() / 2.0).abs() < 1e-6);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn depth_of_field(
    focus: Focus,
    number: Aperture,
    circle: Disc,
) -> Result<DepthOfField, OutOfRange> {
    let here = focus.on().vergence();
    let margin = focus.closeness() / reach_of_blur(focus.focal(), number, circle);
    let far = Reach::from_vergence(here - margin)?;
    let near = Distance::new(1.0 / (here + margin))?;
    Ok(DepthOfField { near, far })
}

/// The f-number that gives this much depth around the focus, far less near.
///
/// # Units
///
/// N = f²/(c·A), A = (s − f)·(s/W + √((s/W)² + 1)), W the wanted depth; all in
/// millimetres from the lens. For a depth to infinity A = s − f.
///
/// # Errors
///
/// [`OutOfRange`] when no such aperture number is allowed.
///
/// # Source
///
/// Our derivation: far − near of [`depth_of_field`] solved for A, the positive
/// root.
pub fn number_for_depth(
    focal: FocalLength,
    on: Distance,
    circle: Disc,
    wanted: Reach,
) -> Result<Aperture, OutOfRange> {
    let (f, s) = (focal.millimetres(), on.millimetres());
    let beyond = s - f;
    let per_wanted = s * wanted.vergence();
    let reach = beyond * (per_wanted + length(per_wanted, 1.0));
    Aperture::from_number(f * f / (circle.millimetres() * reach))
}

/// A focus and an f-number that put two places just at the limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// Where to focus.
    pub focus: Focus,
    /// The f-number.
    pub number: Aperture,
}

/// Where to focus and how far to close so that both places are just sharp.
///
/// # Units
///
/// 1/s = (1/near + 1/far)/2 and N = f²·(1/near − 1/far)/(2·c·(1 − f/s)).
///
/// # Errors
///
/// [`OutOfRange`] when the focus would fall inside the lens or no such aperture
/// number is allowed; places in the wrong order ask for a negative number.
///
/// # Source
///
/// Sum and difference of the two limits of [`depth_of_field`].
pub fn between(
    focal: FocalLength,
    near: Distance,
    far: Reach,
    circle: Disc,
) -> Result<Between, OutOfRange> {
    let near = 1.0 / near.millimetres();
    let focus = Focus::from_lens(focal, Reach::from_vergence((near + far.vergence()) / 2.0)?)?;
    let f = focal.millimetres();
    let margin = (near - far.vergence()) / 2.0;
    let number = f * f * margin / (circle.millimetres() * focus.closeness());
    let number = Aperture::from_number(number)?;
    Ok(Between { focus, number })
}

/// The far limit at this f-number of a lens focused so that `near` is its near
/// limit: what [`between`] can be asked for.
///
/// # Units
///
/// 1/s = (1/near − 1/A)/(1 − f/A), 1/far = 2/s − 1/near, A = f²/(N·c).
///
/// # Errors
///
/// [`OutOfRange`] when that far limit falls inside the lens.
///
/// # Source
///
/// Our derivation from [`depth_of_field`].
pub fn far_with(
    focal: FocalLength,
    near: Distance,
    number: Aperture,
    circle: Disc,
) -> Result<Reach, OutOfRange> {
    let reach = reach_of_blur(focal, number, circle);
    let near = 1.0 / near.millimetres();
    let focus = (near - 1.0 / reach) / (1.0 - focal.millimetres() / reach);
    Reach::from_vergence(2.0 * focus - near)
}

/// As [`between`], for places measured from the sensor.
///
/// # Units
///
/// Each place less the image distance of the focus that is found, until that
/// rests; it shrinks its error by the square of the magnification each time.
///
/// # Errors
///
/// As for [`between`], and nearer than four focal lengths, where life size is and
/// no focus rests.
pub fn between_on_tape(
    focal: FocalLength,
    near: Distance,
    far: Reach,
    circle: Disc,
) -> Result<Between, OutOfRange> {
    let too_near = OutOfRange {
        bounds: Bounds::DISTANCE.from(4.0 * focal.millimetres()),
        given: near.millimetres(),
    };
    // What a round cannot take is no place that anybody gave.
    let told = |wrong: OutOfRange| {
        if near.millimetres() < too_near.bounds.min {
            too_near
        } else {
            wrong
        }
    };
    let from_lens = |place: Distance, image: f64| Distance::new(place.millimetres() - image);
    let mut image = focal.millimetres();
    for _ in 0..MOST_ROUNDS {
        let far = match far {
            Reach::At(place) => Reach::At(from_lens(place, image).map_err(told)?),
            Reach::Infinity => Reach::Infinity,
        };
        let near = from_lens(near, image).map_err(told)?;
        let found = between(focal, near, far, circle).map_err(told)?;
        let moved = found.focus.image_distance() - image;
        image += moved;
        if moved.abs() < RESTED {
            return Ok(found);
        }
    }
    Err(too_near)
}

/// At three quarters of life size 50 rounds do.
const MOST_ROUNDS: usize = 200;

/// Image distances this close are one, mm.
const RESTED: f64 = 1e-9;

/// f²/(N·c): the hyperfocal distance less one focal length.
fn reach_of_blur(focal: FocalLength, number: Aperture, circle: Disc) -> f64 {
    let f = focal.millimetres();
    f * f / (number.number() * circle.millimetres())
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn focal(millimetres: f64) -> FocalLength {
        FocalLength::new(millimetres).unwrap()
    }

    fn disc(millimetres: f64) -> Disc {
        Disc::new(millimetres).unwrap()
    }

    fn at(millimetres: f64) -> Reach {
        Reach::At(Distance::new(millimetres).unwrap())
    }

    fn number(number: f64) -> Aperture {
        Aperture::from_number(number).unwrap()
    }

    #[test]
    fn fifty_at_eight_reaches_infinity_from_ten_metres_and_a_half() {
        // 50²/(8·0.03) + 50 = 10 466.67, by hand.
        let h = hyperfocal(focal(50.0), number(8.0), disc(0.03)).unwrap();
        assert!((h.millimetres() - 10_466.666_667).abs() < 1e-6);
    }

    #[test]
    fn focused_at_the_hyperfocal_distance_half_of_it_is_sharp() {
        let (f, n, c) = (focal(50.0), number(8.0), disc(0.03));
        let h = hyperfocal(f, n, c).unwrap();
        // A hair beyond, so that rounding cannot bring the limit back.
        let focus = Focus::from_lens(f, at(h.millimetres() * (1.0 + 1e-9))).unwrap();
        let zone = depth_of_field(focus, n, c).unwrap();
        assert_eq!(zone.far, Reach::Infinity);
        assert!((zone.near.millimetres() / h.millimetres() - 0.5).abs() < 1e-8);
    }

    #[test]
    fn at_infinity_the_near_limit_is_a_focal_length_short_of_hyperfocal() {
        let (f, n, c) = (focal(35.0), number(4.0), disc(0.02));
        let zone = depth_of_field(Focus::from_lens(f, Reach::Infinity).unwrap(), n, c).unwrap();
        let h = hyperfocal(f, n, c).unwrap();
        assert!((zone.near.millimetres() - (h.millimetres() - 35.0)).abs() < 1e-9);
    }

    #[test]
    fn the_limits_blur_to_just_the_circle_by_ray_construction() {
        // Independent route: image each limit, then similar triangles from the
        // pupil's edge to the sensor.
        let (f, n, c) = (85.0, 2.8, 0.025);
        let focus = Focus::from_lens(focal(f), at(3000.0)).unwrap();
        let zone = depth_of_field(focus, number(n), disc(c)).unwrap();
        let sensor = focus.image_distance();
        for limit in [zone.near, zone.far.distance().unwrap()] {
            let s = limit.millimetres();
            let image = f * s / (s - f);
            let blur = f / n * (image - sensor).abs() / image;
            assert!((blur - c).abs() < 1e-12, "{blur}");
        }
    }

    #[test]
    fn a_wanted_depth_comes_back_as_that_depth() {
        let (f, s, c) = (focal(75.0), Distance::new(4000.0).unwrap(), disc(0.02));
        for wanted in [100.0, 400.0, 9000.0] {
            let n = number_for_depth(f, s, c, at(wanted)).unwrap();
            let zone = depth_of_field(Focus::from_lens(f, Reach::At(s)).unwrap(), n, c).unwrap();
            let depth = zone.far.distance().unwrap().millimetres() - zone.near.millimetres();
            assert!((depth / wanted - 1.0).abs() < 1e-9);
        }
        let n = number_for_depth(f, s, c, Reach::Infinity).unwrap();
        assert!((hyperfocal(f, n, c).unwrap().millimetres() - 4000.0).abs() < 1e-9);
    }

    #[test]
    fn two_places_give_the_focus_between_and_the_stop() {
        let (f, c) = (focal(50.0), disc(0.025));
        let found = between(f, Distance::new(2000.0).unwrap(), at(6000.0), c).unwrap();
        // The harmonic mean of two and six metres is three.
        assert!((found.focus.on().vergence() - 1.0 / 3000.0).abs() < 1e-15);
        let zone = depth_of_field(found.focus, found.number, c).unwrap();
        assert!((zone.near.millimetres() - 2000.0).abs() < 1e-8);
        assert!((zone.far.distance().unwrap().millimetres() - 6000.0).abs() < 1e-8);
        assert!(between(f, Distance::new(6000.0).unwrap(), at(2000.0), c).is_err());
        let far = far_with(f, Distance::new(2000.0).unwrap(), found.number, c).unwrap();
        assert!((far.distance().unwrap().millimetres() - 6000.0).abs() < 1e-8);
    }

    #[test]
    fn a_tape_from_the_sensor_finds_the_same_zone() {
        let (f, c) = (focal(50.0), disc(0.025));
        let found = between_on_tape(f, Distance::new(600.0).unwrap(), at(700.0), c).unwrap();
        let image = found.focus.image_distance();
        let zone = depth_of_field(found.focus, found.number, c).unwrap();
        assert!((zone.near.millimetres() + image - 600.0).abs() < 1e-6);
        assert!((zone.far.distance().unwrap().millimetres() + image - 700.0).abs() < 1e-6);
        assert!(between_on_tape(f, Distance::new(190.0).unwrap(), at(195.0), c).is_err());
        // The refusal names the place that was given, not one of a round.
        for near in [22.1, 60.0, 120.0] {
            let refused = between_on_tape(f, Distance::new(near).unwrap(), at(near + 5.0), c);
            let OutOfRange { bounds, given } = refused.unwrap_err();
            assert_eq!((bounds.min, given), (200.0, near));
        }
        // A hair under life size the place never rests.
        let refused = between_on_tape(f, Distance::new(199.5).unwrap(), at(200.5), c);
        assert_eq!(refused.unwrap_err().bounds.min, 4.0 * f.millimetres());
    }

    #[test]
    fn a_sensor_of_forty_five_diagonal_gets_three_hundredths() {
        let side = |millimetres| Span::new(millimetres).unwrap();
        let circle = circle_of_confusion(side(36.0), side(27.0), DIAGONAL_PARTS).unwrap();
        assert!((circle.millimetres() - 0.03).abs() < 1e-15);
    }
}
