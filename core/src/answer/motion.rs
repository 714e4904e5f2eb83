//! What a graduated filter costs while the shot moves.

use crate::physics::line::{Held, Line, Place};
use crate::physics::profile::Profile;
use crate::physics::pupil::Pupil;
use crate::quantity::{Angle, Elevation, FocalLength, OutOfRange, Stops};
use crate::setup::{Aim, Tangents, View};

/// Poses looked at between the two ends of a move.
const POSES: u32 = 240;

/// A set-up with a graduated filter in it.
#[derive(Debug, Clone, PartialEq)]
pub struct MovingShot {
    /// The filter.
    pub profile: Profile,
    /// How it is held.
    pub held: Held,
    /// Where its line is when the camera stands as marked.
    pub place: Place,
    /// The view as marked.
    pub view: View,
    /// The pupil as marked; a zoom keeps its place and its f-number.
    pub pupil: Pupil,
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
    /// The filter may stay as it is.
    Free,
    /// Only if somebody slides the filter so that its line keeps its place in
    /// the world.
    Slide,
    /// Not at all: keep the shot still, or take the filter out.
    StaticOnly,
}

/// The worst of a move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// What the move allows.
    pub verdict: MotionVerdict,
    /// The largest change of the subject's loss, with its sign; positive is
    /// darker than as marked.
    pub worst: Stops,
    /// Where in the move that is, 0 at the start, 1 at the end.
    pub worst_at: f64,
    /// The same when the filter is slid to follow a tilt.
    pub worst_sliding: Stops,
    /// The furthest slide that takes, in mm either way from the marked place.
    pub slide: [f64; 2],
    /// Whether the subject leaves the frame on the way; outside it costs
    /// nothing.
    pub leaves_frame: bool,
}

/// The largest error on a marked subject as the shot moves, and whether the
/// filter can stay.
///
/// The subject keeps its direction in the world, the filter its place on the
/// camera. Zooming leaves the line where it is in the world, since the pupil
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
/// [`OutOfRange`] when the filter is not in front of the pupil, or a focal
/// length sees wider than a rectilinear lens can.
///
/// # Source
///
/// Our own derivation.
pub fn motion(shot: &MovingShot, path: Move, allowed: Stops) -> Result<Motion, OutOfRange> {
    let marked = Line::new(
        shot.profile.clone(),
        shot.held,
        shot.view,
        &shot.pupil,
        shot.place,
    )?;
    let rest = marked.loss_towards(shot.subject);
    let level = Angle::new(0.0)?;
    let real = shot.pupil.shape().real(shot.subject);
    let towards = Aim::new(level, shot.elevation, level).ray(real.x, real.y);
    let line_angle = libm::atan(marked.upright_tangent().unwrap_or(0.0));

    let mut found = Motion {
        verdict: MotionVerdict::Free,
        worst: Stops::ZERO,
        worst_at: 0.0,
        worst_sliding: Stops::ZERO,
        slide: [0.0; 2],
        leaves_frame: false,
    };
    for pose in 0..=POSES {
        let share = f64::from(pose) / f64::from(POSES);
        let between = |ends: [f64; 2]| ends[0] + (ends[1] - ends[0]) * share;
        let tilt = between(path.tilt.map(Angle::degrees));
        let focal = FocalLength::new(between(path.focal_length.map(FocalLength::millimetres)))?;
        let view = shot.view.with_focal_length(focal)?;
        let aim = Aim::new(
            Angle::new(between(path.pan.map(Angle::degrees)))?,
            Elevation::new(shot.elevation.degrees() + tilt)?,
            level,
        );
        let [right, up, forward] = aim.seen(towards);
        let field = Tangents {
            x: right / forward,
            y: up / forward,
        };
        let zoom = focal.millimetres() / shot.view.record().focal_length.millimetres();
        let shape = shot.pupil.shape().with_focal_length_times(zoom);
        // Behind the camera the tangents mean nothing.
        if forward <= 0.0 || !in_frame(&view, shape.nominal(field)) {
            found.leaves_frame = true;
            continue;
        }
        let line = marked.with_pupil_scaled(zoom);
        let error = line.loss_of_ray(field) - rest;
        if error.size() > found.worst.size() {
            (found.worst, found.worst_at) = (error, share);
        }
        let height = line.height_through(libm::tan(line_angle - tilt.to_radians()));
        let slid = height - marked.height_millimetres();
        found.slide = [found.slide[0].min(slid), found.slide[1].max(slid)];
        let error = line.slid_to(height).loss_of_ray(field) - rest;
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
    use super::{Motion, MotionVerdict, Move, MovingShot, Place, motion};
    use crate::physics::line::tests::{hard, held, lens};
    use crate::quantity::{Angle, Elevation, FocalLength, Stops};

    fn shot(focal: f64, number: f64, subject: f64) -> MovingShot {
        let (view, pupil) = lens([24.9, 14.0], 1.0, focal, number);
        MovingShot {
            profile: hard(0.6),
            held: held(80.0, 0.0, false),
            place: Place::InFrame(0.5),
            view,
            pupil,
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
                shot.view.record().focal_length,
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
        assert!((tilt.slide[1] - 80.0 * 8f64.to_radians().tan()).abs() < 1e-9);
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
    fn a_subject_out_of_frame_costs_nothing_there() {
        let away = moved(&shot(25.0, 4.0, 0.5), 40.0, 0.0, 25.0);
        assert!(away.leaves_frame);
    }
}
