//! What a stop does to the picture's depth, and the stop a wanted depth needs.

use crate::physics::bellows::working_number;
use crate::physics::blur::{blur_disc, number_for_blur};
use crate::physics::depth_of_field::{DepthOfField, depth_of_field, hyperfocal, number_for_depth};
use crate::physics::diffraction::{airy_disc, number_for_airy};
use crate::quantity::{
    Aperture, Bounds, Disc, Distance, Magnification, OutOfRange, PupilRatio, Reach, Wavelength,
};
use crate::setup::Focus;

/// Everything but the stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scene {
    /// The lens and where it is focused.
    pub focus: Focus,
    /// The largest blur that still looks sharp.
    pub circle: Disc,
    /// Where the background is, from the lens.
    pub background: Reach,
    /// The light whose diffraction counts.
    pub wavelength: Wavelength,
}

/// The picture's depth at one stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtStop {
    /// The f-number.
    pub number: Aperture,
    /// The sharp zone.
    pub zone: DepthOfField,
    /// The focus that just reaches infinity.
    pub hyperfocal: Distance,
    /// The disc a background point is drawn as, mm.
    pub background_blur: f64,
    /// The disc light itself draws, mm.
    pub diffraction: f64,
    /// The f-number as the sensor sees it, focused this near.
    pub working: Aperture,
}

/// A wish no stop grants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfReach {
    /// The least that could be had.
    pub least: f64,
    /// The most; `None` when there is no end to it.
    pub most: Option<f64>,
}

impl Scene {
    /// The picture's depth at this f-number.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the near limit would fall inside the lens or a
    /// quantity leaves its range.
    pub fn at(self, number: Aperture) -> Result<AtStop, OutOfRange> {
        let working = working_number(number, self.magnification()?, equal_pupils()?)?;
        Ok(AtStop {
            number,
            zone: depth_of_field(self.focus, number, self.circle)?,
            hyperfocal: hyperfocal(self.focus.focal(), number, self.circle)?,
            background_blur: blur_disc(self.focus, number, self.background),
            diffraction: airy_disc(working, self.wavelength),
            working,
        })
    }

    /// The f-number for this much depth, in millimetres.
    ///
    /// # Errors
    ///
    /// [`OutOfReach`] when no stop of any iris gives it; focused at infinity
    /// every stop has depth without end.
    pub fn number_for_depth(self, wanted: Reach) -> Result<Aperture, OutOfReach> {
        let never = OutOfReach {
            least: Bounds::DISTANCE.max,
            most: None,
        };
        let on = self.focus.on().distance().ok_or(never)?;
        number_for_depth(self.focus.focal(), on, self.circle, wanted).map_err(|_| OutOfReach {
            least: self.depth_at(Bounds::APERTURE.min).unwrap_or_default(),
            most: self.depth_at(Bounds::APERTURE.max),
        })
    }

    /// The f-number that draws the background as a disc of this size.
    ///
    /// # Errors
    ///
    /// [`OutOfReach`] when no stop of any iris does.
    pub fn number_for_blur(self, wanted: Disc) -> Result<Aperture, OutOfReach> {
        number_for_blur(self.focus, self.background, wanted).map_err(|_| {
            let at = |number| {
                Aperture::from_number(number)
                    .map_or(0.0, |number| blur_disc(self.focus, number, self.background))
            };
            OutOfReach {
                least: at(Bounds::APERTURE.max),
                most: Some(at(Bounds::APERTURE.min)),
            }
        })
    }

    /// The f-number from which diffraction draws larger than the circle.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when no such aperture number is allowed.
    pub fn number_where_diffraction_shows(self) -> Result<Aperture, OutOfRange> {
        let near = 1.0 + self.focus.magnification();
        let working = number_for_airy(self.circle, self.wavelength)?;
        Aperture::from_number(working.number() / near)
    }

    fn magnification(self) -> Result<Magnification, OutOfRange> {
        Magnification::new(self.focus.magnification())
    }

    /// Far less near, or `None` to infinity.
    fn depth_at(self, number: f64) -> Option<f64> {
        let number = Aperture::from_number(number).ok()?;
        let zone = depth_of_field(self.focus, number, self.circle).ok()?;
        let far = zone.far.distance()?;
        Some(far.millimetres() - zone.near.millimetres())
    }
}

fn equal_pupils() -> Result<PupilRatio, OutOfRange> {
    PupilRatio::new(1.0)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::physics::diffraction::GREEN;
    use crate::quantity::FocalLength;

    fn scene(on: Reach) -> Scene {
        Scene {
            focus: Focus::from_lens(FocalLength::new(50.0).unwrap(), on).unwrap(),
            circle: Disc::new(0.02).unwrap(),
            background: Reach::Infinity,
            wavelength: Wavelength::new(GREEN).unwrap(),
        }
    }

    fn at(millimetres: f64) -> Reach {
        Reach::At(Distance::new(millimetres).unwrap())
    }

    #[test]
    fn a_wish_comes_true_at_the_stop_given_for_it() {
        let scene = scene(at(2000.0));
        let by_depth = scene.number_for_depth(at(500.0)).unwrap();
        let zone = scene.at(by_depth).unwrap().zone;
        let depth = zone.far.distance().unwrap().millimetres() - zone.near.millimetres();
        assert!((depth - 500.0).abs() < 1e-9);
        let by_blur = scene.number_for_blur(Disc::new(0.3).unwrap()).unwrap();
        assert!((scene.at(by_blur).unwrap().background_blur - 0.3).abs() < 1e-15);
    }

    #[test]
    fn a_wish_no_iris_grants_says_what_could_be_had() {
        let near = scene(at(2000.0));
        let shallow = near.number_for_depth(at(1.0)).unwrap_err();
        assert!(shallow.least > 1.0 && shallow.least < 20.0);
        let huge = near.number_for_blur(Disc::new(900.0).unwrap()).unwrap_err();
        assert!(huge.most.unwrap() < 900.0 && huge.least > 0.0);
        assert!(scene(Reach::Infinity).number_for_depth(at(500.0)).is_err());
    }

    #[test]
    fn diffraction_is_as_large_as_the_circle_where_it_begins_to_show() {
        let scene = scene(at(300.0));
        let number = scene.number_where_diffraction_shows().unwrap();
        assert!((scene.at(number).unwrap().diffraction - 0.02).abs() < 1e-15);
    }
}
