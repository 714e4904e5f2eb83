//! What graduated filters cost while the shot moves.

use super::sky_and_ground::Stacked;
use crate::physics::graduated::through::{loss_of_ray_through, loss_through};
use crate::physics::line::Line;
use crate::quantity::{Angle, Elevation, FocalLength, OutOfRange, Stops};
use crate::setup::{Aim, Tangents, View};
use alloc::vec;
use alloc::vec::Vec;

/// Poses looked at between the two ends of a move.
const POSES: u32 = 240;

/// A set-up with graduated filters in it.
#[derive(Debug, Clone, PartialEq)]
pub struct MovingShot {
    /// The filters before the lens, their lines where they are when the camera
    /// stands as marked; a zoom keeps the pupil's place and the f-number.
    pub stacked: Stacked,
    /// How far the camera is tilted up as marked.
    pub elevation: Elevation,
    /// The marked subject, which stays where it is in the world.
    pub subject: Tangents,
}

/// How the camera moves from its marked pose.
///
/// Angles from the marked pose; the three run together from start to end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Tilt at both ends, up positive.
    pub tilt: [Angle; 2],
    /// Pan at both ends, to the right positive.
    pub pan: [Angle; 2],
    /// Focal length at both ends.
    pub focal_length: [FocalLength; 2],
}

/// What the move allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MotionVerdict {
    /// The filters may stay as they are.
    Free,
    /// Only if somebody slides each filter so that its line keeps its place in
    /// the world.
    Slide,
    /// Not at all: keep the shot still, or take the filters out.
    StaticOnly,
}

/// The worst of a move.
#[derive(Debug, Clone, PartialEq)]
pub struct Motion {
    /// What the move allows.
    pub verdict: MotionVerdict,
    /// The largest change of the subject's loss, with its sign; positive is
    /// darker than as marked.
    pub worst: Stops,
    /// Where in the move that is, 0 at the start, 1 at the end.
    pub worst_at: f64,
    /// The same when each filter is slid to follow a tilt.
    pub worst_sliding: Stops,
    /// The furthest slide that takes of each, in mm either way from its marked
    /// place, in the order of the shot.
    pub slides: Vec<[f64; 2]>,
    /// Whether the subject leaves the frame on the way; outside it costs
    /// nothing.
    pub leaves_frame: bool,
}

/// The largest error on a marked subject as the shot moves, and whether the
/// filters can stay.
///
/// The subject keeps its direction in the world, each filter its place on the
/// camera. Its loss is one integral over the pupil through all of them. Zooming leaves the line where it is in the world, since the pupil
/// sees a direction through the same place of the filter at any focal length;
/// what changes is the pupil, hence the blend. The pupil is taken to stay where
/// it is along the axis.
///
/// # Units
///
/// Stops against the marked pose.
///
/// # Errors
///
/// [`OutOfRange`] when a focal length sees wider than a rectilinear lens can, or
/// the camera tilts past straight up or down.
///
/// # Source
///
/// Our own derivation.
pub fn motion(shot: &MovingShot, path: Move, allowed: Stops) -> Result<Motion, OutOfRange> {
    let marked = shot.stacked.all();
    let rest = loss_through(marked, shot.subject);
    let mut found = Motion {
        verdict: MotionVerdict::Free,
        worst: Stops::ZERO,
        worst_at: 0.0,
        worst_sliding: Stops::ZERO,
        slides: vec![[0.0; 2]; marked.len()],
        leaves_frame: false,
    };
    for pose in 0..=POSES {
        let share = f64::from(pose) / f64::from(POSES);
        let Pose { tilt, zoom, seen } = shot.pose(path, share)?;
        let Some(ray) = seen else {
            found.leaves_frame = true;
            continue;
        };
        let there = shot.stacked.with_pupil_scaled(zoom);
        let error = loss_of_ray_through(there.all(), ray) - rest;
        if error.size() > found.worst.size() {
            (found.worst, found.worst_at) = (error, share);
        }
        let slid: Vec<Line> = (there.all().iter())
            .map(|line| following(line, tilt))
            .collect();
        for ((slide, line), at) in found.slides.iter_mut().zip(&slid).zip(marked) {
            let by = line.height_millimetres() - at.height_millimetres();
            *slide = [slide[0].min(by), slide[1].max(by)];
        }
        let error = loss_of_ray_through(&slid, ray) - rest;
        if error.size() > found.worst_sliding.size() {
            found.worst_sliding = error;
        }
    }
    found.verdict = if found.worst.size() <= allowed {
        MotionVerdict::Free
    } else if found.worst_sliding.size() <= allowed {
        MotionVerdict::Slide
    } else {
        MotionVerdict::StaticOnly
    };
    Ok(found)
}

/// Where the camera stands on its way.
struct Pose {
    tilt: Angle,
    /// Focal length over the marked one.
    zoom: f64,
    /// Real tangents of the subject; nothing out of frame.
    seen: Option<Tangents>,
}

impl MovingShot {
    fn pose(&self, path: Move, share: f64) -> Result<Pose, OutOfRange> {
        let between = |ends: [f64; 2]| ends[0] + (ends[1] - ends[0]) * share;
        let line = self.stacked.line();
        let (marked, shape) = (line.view(), line.pupil().shape());
        let tilt = Angle::new(between(path.tilt.map(Angle::degrees)))?;
        let focal = FocalLength::new(between(path.focal_length.map(FocalLength::millimetres)))?;
        let view = marked.with_focal_length(focal)?;
        let level = Angle::new(0.0)?;
        let real = shape.real(self.subject);
        let towards = Aim::new(level, self.elevation, level).ray(real.x, real.y);
        let aim = Aim::new(
            Angle::new(between(path.pan.map(Angle::degrees)))?,
            Elevation::new(self.elevation.degrees() + tilt.degrees())?,
            level,
        );
        let [right, up, forward] = aim.seen(towards);
        let ray = Tangents {
            x: right / forward,
            y: up / forward,
        };
        let zoom = focal.millimetres() / marked.record().focal_length.millimetres();
        let nominal = shape.with_focal_length_times(zoom).nominal(ray);
        // Behind the camera the tangents mean nothing.
        let seen = (forward > 0.0 && in_frame(&view, nominal)).then_some(ray);
        Ok(Pose { tilt, zoom, seen })
    }
}

/// Slid so that its line keeps its place in the world as the camera tilts.
fn following(line: &Line, tilt: Angle) -> Line {
    let angle = libm::atan(line.upright_tangent().unwrap_or(0.0));
    line.slid_to(line.height_through(libm::tan(angle - tilt.degrees().to_radians())))
}

fn in_frame(view: &View, field: Tangents) -> bool {
    let [low, _, _, high] = view.corners();
    // A subject marked on the very edge is in.
    let slack = 1e-9;
    field.x >= low.x - slack
        && field.x <= high.x + slack
        && field.y >= low.y - slack
        && field.y <= high.y + slack
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Motion, MotionVerdict, Move, MovingShot, Stacked, motion};
    use crate::physics::line::tests::{hard, held, lens};
    use crate::physics::line::{Line, Place};
    use crate::quantity::{Angle, Elevation, FocalLength, Stops};

    fn shot(focal: f64, number: f64, subject: f64) -> MovingShot {
        let (view, pupil) = lens([24.9, 14.0], 1.0, focal, number);
        let (held, place) = (held(80.0, 0.0, false), Place::InFrame(0.5));
        let line = Line::new(hard(0.6), held, view, &pupil, place).unwrap();
        MovingShot {
            stacked: Stacked::new(line, []),
            elevation: Elevation::new(0.0).unwrap(),
            subject: view.tangents_of(0.5, subject),
        }
    }

    fn moved(shot: &MovingShot, tilt: f64, pan: f64, focal: f64) -> Motion {
        let angle = |degrees| Angle::new(degrees).unwrap();
        let path = Move {
            tilt: [angle(0.0), angle(tilt)],
            pan: [angle(0.0), angle(pan)],
            focal_length: [
                shot.stacked.line().view().record().focal_length,
                FocalLength::new(focal).unwrap(),
            ],
        };
        motion(shot, path, Stops::computed(1.0 / 3.0)).unwrap()
    }

    #[test]
    fn a_shot_that_does_not_move_costs_nothing() {
        let still = moved(&shot(25.0, 4.0, 0.45), 0.0, 0.0, 25.0);
        assert_eq!(
            (still.verdict, still.worst.stops()),
            (MotionVerdict::Free, 0.0)
        );
    }

    #[test]
    fn tilting_down_pulls_a_subject_below_the_line_into_the_dark() {
        let tilt = moved(&shot(25.0, 4.0, 0.4), -8.0, 0.0, 25.0);
        assert!(tilt.worst.stops() > 1.9);
        assert_eq!(tilt.verdict, MotionVerdict::Slide);
        assert!(tilt.worst_sliding.size().stops() < 0.1);
        // 80·tan 8° = 11.24 mm, by hand.
        assert!((tilt.slides[0][1] - 80.0 * 8f64.to_radians().tan()).abs() < 1e-9);
    }

    #[test]
    fn a_pan_at_the_horizon_is_free() {
        let pan = moved(&shot(25.0, 4.0, 0.5), 0.0, 20.0, 25.0);
        assert_eq!(pan.verdict, MotionVerdict::Free);
        assert!(pan.worst.size().stops() < 1e-9);
    }

    #[test]
    fn a_pan_bends_the_path_of_what_is_off_the_horizon() {
        // tan up grows with 1/cos of the angle to the side, so a subject just
        // below the line moves away from it.
        let pan = moved(&shot(25.0, 4.0, 0.47), 0.0, 25.0, 25.0);
        assert!(pan.worst.stops() < 0.0);
    }

    #[test]
    fn a_zoom_leaves_the_line_on_the_horizon_and_changes_the_blend() {
        let on_it = moved(&shot(25.0, 4.0, 0.5), 0.0, 0.0, 100.0);
        assert!(on_it.worst.size().stops() < 1e-9);
        let below = moved(&shot(25.0, 4.0, 0.45), 0.0, 0.0, 100.0);
        assert!(below.worst.stops() > 0.1);
    }

    #[test]
    fn a_zoom_that_slides_cannot_cure_is_static_only() {
        let zoom = moved(&shot(25.0, 4.0, 0.44), 0.0, 0.0, 100.0);
        assert!(zoom.worst.size().stops() > 1.0 / 3.0);
        assert_eq!(zoom.verdict, MotionVerdict::StaticOnly);
    }

    #[test]
    fn several_darken_as_one_and_are_slid_each_by_its_distance() {
        // Below both lines, tilted above both: 0.6 and 0.3 as their marks say.
        let one = shot(25.0, 16.0, 0.35);
        let (view, pupil) = (*one.stacked.line().view(), *one.stacked.line().pupil());
        let place = Place::InFrame(0.6);
        let other = Line::new(hard(0.3), held(110.0, 0.0, false), view, &pupil, place).unwrap();
        let two = MovingShot {
            stacked: Stacked::new(one.stacked.line().clone(), [other.clone()]),
            ..one.clone()
        };
        let tilt = moved(&two, -14.0, 0.0, 25.0);
        assert!((tilt.worst.stops() - 0.9 / core::f64::consts::LOG10_2).abs() < 1e-9);
        assert_eq!(tilt.verdict, MotionVerdict::Slide);
        // 80·tan 14°, and 110·(tan(a + 14°) − tan a) with tan a = 0.1·14/25, by hand.
        let turn = 14f64.to_radians();
        let slope = 0.1 * 14.0 / 25.0;
        let further = 110.0 * ((f64::atan(slope) + turn).tan() - slope);
        for (slide, wanted) in tilt.slides.iter().zip([80.0 * turn.tan(), further]) {
            assert!((slide[1] - wanted).abs() < 1e-9, "{slide:?} for {wanted}");
        }
        assert_eq!(tilt.slides.len(), 2);
    }

    #[test]
    fn a_subject_out_of_frame_costs_nothing_there() {
        let away = moved(&shot(25.0, 4.0, 0.5), 40.0, 0.0, 25.0);
        assert!(away.leaves_frame);
    }
}
