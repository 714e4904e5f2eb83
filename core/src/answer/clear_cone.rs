//! What rings in front of a lens must leave clear for its picture.

use super::fit::light::Light;
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::{Opening, OpeningRecord, Shape};
use crate::physics::spare::spare;
use crate::quantity::{Angle, Aperture, Length, OutOfRange, Span};
use crate::search::rings::ClearCone;
use crate::setup::View;

/// Where the far end of the cone is taken: deeper than any chain of rings.
const FAR: Length = Length::constant(100.0);
/// Wider than any light that a ring could hold.
const WIDE: Span = Span::constant(8000.0);

/// The cone about the axis that holds every corner's light ahead of the rim.
///
/// The light of a corner is the fixed pupil moved along its chief ray, so its
/// farthest point from the axis is a convex function of the distance ahead: the
/// chord between two distances never lies inside it, and for a round pupil
/// behind the rim it is exact.
///
/// # Units
///
/// Millimetres ahead of the rim.
///
/// # Errors
///
/// [`OutOfRange`] of a cone wider than any length, whose pupil lies that far
/// behind the rim.
///
/// # Source
///
/// Own derivation from [`spare`].
pub fn clear_cone(
    view: &View,
    f_number: Aperture,
    lens: &KnownLens,
) -> Result<ClearCone, OutOfRange> {
    let light = Light::new(view, f_number, lens);
    let needed = |ahead: Length| {
        let wide = Opening::new(OpeningRecord {
            shape: Shape::Circle { diameter: WIDE },
            distance: ahead,
            depth: None,
            offset_x: Length::ZERO,
            offset_y: Length::ZERO,
            rotation: Angle::ZERO,
        });
        WIDE.millimetres() - 2.0 * light.least(&wide, spare)
    };
    let (near, far) = (needed(Length::ZERO), needed(FAR));
    Ok(ClearCone {
        at_rim: Length::new(near)?,
        per_mm: (far - near) / FAR.millimetres(),
        computed: true,
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::physics::pupil_range::PupilRange;
    use crate::quantity::{FocalLength, Squeeze};
    use crate::setup::ViewRecord;

    fn cone(squeeze: f64, pupil: f64) -> ClearCone {
        let mm = |mm| Span::new(mm).unwrap();
        let view = View::new(ViewRecord {
            width: mm(36.0),
            height: mm(24.0),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(40.0).unwrap(),
            squeeze: Squeeze::new(squeeze).unwrap(),
        })
        .unwrap();
        let pupil = Length::new(pupil).unwrap();
        let f_number = Aperture::from_marking(2.0).unwrap();
        let lens = KnownLens::somewhere(PupilRange::between(pupil, pupil));
        clear_cone(&view, f_number, &lens).unwrap()
    }

    #[test]
    fn by_hand_for_a_round_pupil() {
        // tan of the corner: √(18² + 12²) / 40; f/2 of 40 mm: 20 mm.
        let tan = libm::hypot(18.0, 12.0) / 40.0;
        let cone = cone(1.0, 50.0);
        assert!((cone.at_rim.millimetres() - 2.0 * (50.0 * tan + 10.0)).abs() < 1e-9);
        assert!((cone.per_mm - 2.0 * tan).abs() < 1e-9);
    }

    #[test]
    fn a_pupil_in_the_rim_needs_its_own_size_there() {
        assert!((cone(1.0, 0.0).at_rim.millimetres() - 20.0).abs() < 1e-9);
    }

    #[test]
    fn a_squeezed_lens_spreads_more() {
        assert!(cone(2.0, 50.0).per_mm > cone(1.0, 50.0).per_mm);
    }
}
