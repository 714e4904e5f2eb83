//! Ghosts of a lamp from glass that faces other glass.

use crate::quantity::{Angle, FocalLength, Length, RefractiveIndex, Share, Stops};

/// The two surfaces a ghost bounces between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Between {
    /// Two plates, one tilted against the other: the ghost stands by the lamp.
    TwoPlates,
    /// A plate and the sensor, through the lens: the ghost stands opposite the
    /// lamp, mirrored at the lens axis.
    PlateAndSensor,
    /// The two faces of one plate that is a little wedge-shaped.
    FacesOfOnePlate(RefractiveIndex),
}

/// A lamp and the glass that doubles it, along the direction of the tilt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GhostProblem {
    /// Where the light bounces.
    pub between: Between,
    /// Tilt of one surface against the other.
    pub tilt: Angle,
    /// Focal length of the lens.
    pub focal_length: FocalLength,
    /// The lamp's image, from the lens axis.
    pub lamp: Length,
    /// What the two surfaces reflect.
    pub reflect: [Share; 2],
}

/// Where the ghost is and how bright.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ghost {
    /// From the lens axis on the sensor, in mm; `None` beyond the field.
    pub at: Option<f64>,
    /// How far the tilt alone moves a ghost from the axis, in mm.
    pub shift: f64,
    /// How much weaker than the lamp; `None` when a surface reflects nothing.
    pub weaker: Option<Stops>,
}

impl Between {
    /// How far a tilt of one degree turns the ghost: a mirror turns light by
    /// twice its own turn, a wedge by n times that.
    fn turn_for_tilt(self) -> f64 {
        match self {
            Self::TwoPlates | Self::PlateAndSensor => 2.0,
            Self::FacesOfOnePlate(index) => 2.0 * index.index(),
        }
    }

    /// Where the ghost of a lamp stands without a tilt: by it or opposite.
    const fn side(self) -> f64 {
        match self {
            Self::TwoPlates | Self::FacesOfOnePlate(_) => 1.0,
            Self::PlateAndSensor => -1.0,
        }
    }
}

/// The ghost of a lamp far away.
///
/// Parallel surfaces send the ghost where the lamp is (two plates) or straight
/// opposite (plate and sensor); a tilt δ turns it by 2δ, a wedge by 2nδ. Loss
/// on the way and the lens's own ghosts are left out.
///
/// # Units
///
/// Millimetres on the sensor from the lens axis, positive the way the tilt
/// throws the ghost; weaker by −log2(R1·R2) stops.
///
/// # Domain
///
/// Tilts of a few degrees; the wedge's 2nδ is its small-angle form.
///
/// # Source
///
/// Law of reflection; own derivation by unfolding the mirrors.
#[must_use]
pub fn ghost(problem: &GhostProblem) -> Ghost {
    let focal = problem.focal_length.millimetres();
    let turn = problem.between.turn_for_tilt() * problem.tilt.degrees();
    let lamp = libm::atan2(problem.lamp.millimetres(), focal).to_degrees();
    let on_sensor = |degrees: f64| {
        (libm::fabs(degrees) < 89.0).then(|| focal * libm::tan(degrees.to_radians()))
    };
    let [first, second] = problem.reflect.map(Share::share);
    let weaker = -libm::log2(first * second);
    Ghost {
        at: on_sensor(problem.between.side() * lamp + turn),
        shift: on_sensor(turn).unwrap_or(0.0),
        weaker: weaker.is_finite().then_some(Stops::computed(weaker)),
    }
}

/// The least tilt that throws the ghost past an edge of a picture that reaches
/// so far from the lens axis either way.
///
/// # Units
///
/// Degrees; negative when the tilt must go the other way. 0 for a ghost that is
/// out already.
#[must_use]
pub fn tilt_to_clear(problem: &GhostProblem, edge: Length) -> f64 {
    let focal = problem.focal_length.millimetres();
    let angle = |mm: f64| libm::atan2(mm, focal).to_degrees();
    let still = problem.between.side() * angle(problem.lamp.millimetres());
    let edge = angle(libm::fabs(edge.millimetres()));
    let way = if still < 0.0 { -1.0 } else { 1.0 };
    let turn = (edge - libm::fabs(still)).max(0.0);
    way * turn / problem.between.turn_for_tilt()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn problem(between: Between, tilt: f64, lamp: f64) -> GhostProblem {
        GhostProblem {
            between,
            tilt: Angle::new(tilt).unwrap(),
            focal_length: FocalLength::new(50.0).unwrap(),
            lamp: Length::new(lamp).unwrap(),
            reflect: [Share::new(0.04).unwrap(); 2],
        }
    }

    #[test]
    fn parallel_plates_hide_the_ghost_behind_the_lamp() {
        let found = ghost(&problem(Between::TwoPlates, 0.0, 5.0));
        assert!((found.at.unwrap() - 5.0).abs() < 1e-12);
    }

    #[test]
    fn the_sensors_ghost_stands_opposite() {
        let found = ghost(&problem(Between::PlateAndSensor, 0.0, 5.0));
        assert!((found.at.unwrap() + 5.0).abs() < 1e-12);
    }

    #[test]
    fn two_bare_faces_are_nine_stops_down() {
        // −log2 0.0016.
        let found = ghost(&problem(Between::TwoPlates, 1.0, 0.0));
        assert!((found.weaker.unwrap().stops() - 9.287_712).abs() < 1e-6);
        // 50·tan 2°.
        assert!((found.shift - 1.746_038).abs() < 1e-6);
    }

    #[test]
    fn a_tilt_of_two_degrees_and_the_ghost_by_vectors() {
        // Reflect the lamp's ray at both mirrors, an independent route.
        let (tilt, lamp) = (2f64.to_radians(), (5f64 / 50.0).atan());
        let mirror = |ray: (f64, f64), normal: (f64, f64)| {
            let along = 2.0 * (ray.0 * normal.0 + ray.1 * normal.1);
            (ray.0 - along * normal.0, ray.1 - along * normal.1)
        };
        let ray = (-lamp.sin(), -lamp.cos());
        let once = mirror(ray, (0.0, 1.0));
        let twice = mirror(once, (tilt.sin(), tilt.cos()));
        let at = 50.0 * (twice.0 / twice.1);
        let found = ghost(&problem(Between::TwoPlates, 2.0, 5.0)).at.unwrap();
        assert!((found - at).abs() < 1e-9, "{found} {at}");
    }

    #[test]
    fn the_tilt_that_clears_puts_the_ghost_on_the_edge() {
        let still = problem(Between::PlateAndSensor, 0.0, 5.0);
        let edge = Length::new(18.0).unwrap();
        let tilt = tilt_to_clear(&still, edge);
        let found = ghost(&problem(Between::PlateAndSensor, tilt, 5.0));
        // It stands on the far side of a lamp at +5: that edge is nearer.
        assert!((found.at.unwrap() + 18.0).abs() < 1e-9);
        let out = Length::new(4.0).unwrap();
        assert_eq!(tilt_to_clear(&still, out).abs(), 0.0);
    }

    #[test]
    fn a_perfect_coating_leaves_no_ghost() {
        let coated = GhostProblem {
            reflect: [Share::new(0.0).unwrap(), Share::new(0.04).unwrap()],
            ..problem(Between::TwoPlates, 0.0, 0.0)
        };
        assert!(ghost(&coated).weaker.is_none());
    }

    #[test]
    fn a_wedge_turns_its_ghost_by_its_index_more() {
        // 2·1.5·1°: 50·tan 3°, by hand; and half a degree turns one and a half.
        let glass = Between::FacesOfOnePlate(RefractiveIndex::new(1.5).unwrap());
        let found = ghost(&problem(glass, 1.0, 0.0));
        assert!((found.shift - 2.620_389).abs() < 1e-6);
        let edge = 50.0 * 1.5f64.to_radians().tan();
        let tilt = tilt_to_clear(&problem(glass, 0.0, 0.0), Length::new(edge).unwrap());
        assert!((tilt - 0.5).abs() < 1e-12);
    }

    #[test]
    fn a_ghost_turned_a_right_angle_away_is_nowhere() {
        let found = ghost(&problem(Between::TwoPlates, 44.5, 0.0));
        assert_eq!((found.at, found.shift), (None, 0.0));
    }
}
