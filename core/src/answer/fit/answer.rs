//! Whether the glass in front of this lens shades this picture.

use super::light::Light;
use super::limits::{Arc, clean_from, clear_to, shading_arcs, widest_focal_length};
use super::placed::{Placed, Trust, Verdict, trust_of, trust_unseen};
use super::question::{FitError, Question, check_places};
use super::size::{UsualSize, clear_size};
use super::zoom::{ZoomAnswer, zoom};
use crate::physics::opening::{Opening, chief_ray_at};
use crate::physics::spare::spare;
use crate::quantity::{Bounds, Length};
use crate::setup::Tangents;
use alloc::vec::Vec;

/// What one opening does.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningAnswer {
    /// What was seen, otherwise computed.
    pub verdict: Verdict,
    /// What is computed.
    pub computed: Verdict,
    /// How far to trust it.
    pub trust: Trust,
    /// Least room at the worst corner; negative when it shades. `None`, as all
    /// that is computed, when the pupil is not known.
    pub spare: Option<Length>,
    /// Share of the pupil left at the worst corner by this opening alone.
    pub corner_passed: Option<f64>,
    /// How far ahead of the rim it may stand and stay clear.
    pub clear_to: Option<Length>,
    /// The smallest usual size that would be clear in its place; looked for
    /// where it is not clear.
    pub clear_size: Option<UsualSize>,
    /// Turns at which it shades, where it can be turned.
    pub shading_arcs: Vec<Arc>,
    /// Where the light crosses its rear face.
    pub light: Option<Crossing>,
    /// Where the light crosses its front face, where it is deep.
    pub light_in_front: Option<Crossing>,
}

/// Where bundles cross a plane: their middles, millimetres right and up of the
/// lens axis. For a pupil of unknown place, where it spreads them most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The middle of the picture.
    pub centre: (f64, f64),
    /// Bottom left, bottom right, top left, top right of the picture.
    pub corners: [(f64, f64); 4],
}

/// What all openings do.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Each opening, as asked.
    pub openings: Vec<OpeningAnswer>,
    /// The worst of them.
    pub verdict: Verdict,
    /// How far to trust it.
    pub trust: Trust,
    /// Share of the pupil left at the worst corner by all openings together.
    pub corner_passed: Option<f64>,
    /// Shortest clear focal length, pupil kept in place; see
    /// [`Answer::clean_from`] for why it is a plain number.
    pub widest_focal_length: Option<f64>,
    /// Smallest clear f-number, a plain number as no lens may have it.
    pub clean_from: Option<f64>,
    /// Share of the pupil left at each point asked about.
    pub passed_at: Vec<f64>,
    /// Half the width and height of the pupil.
    pub half_pupil: (f64, f64),
    /// The rest of a zoom's range.
    pub zoom: Option<ZoomAnswer>,
}

/// Answers the question.
///
/// For a pupil between limits every figure is the worse of both ends.
///
/// # Units
///
/// Room in millimetres, shares 0 to 1, focal lengths in millimetres.
///
/// # Errors
///
/// [`FitError`]; an opening in the plane of the pupil is allowed.
///
/// # Accuracy
///
/// Exact for a fixed pupil and a far subject. Against real wide lenses off by
/// −2.3 to +4.1 mm at the edge of the light, to either side: [`Trust`] says when
/// that matters. Lens elements that shade inside the lens are not known here.
///
/// # Source
///
/// Geometry of a bundle z·tan θ, our own derivation; see
/// [`passed`](crate::physics::passed::passed).
pub fn fit(question: &Question<'_>) -> Result<Answer, FitError> {
    let openings: Vec<Opening> = question.openings.iter().map(|p| p.opening).collect();
    let zoom_pupil = question.zoom.map(|end| end.pupil);
    let pupils = question.pupil.into_iter().chain(zoom_pupil);
    check_places(pupils, &openings)?;
    let Some(pupil) = question.pupil else {
        return Ok(only_seen(question));
    };
    let light = Light::new(&question.view, question.f_number, pupil);
    let answers: Vec<OpeningAnswer> = (question.openings.iter())
        .map(|placed| opening_answer(light, placed))
        .collect();
    Ok(Answer {
        verdict: (answers.iter())
            .map(|answer| answer.verdict)
            .max()
            .unwrap_or(Verdict::Clear),
        trust: trust_of(answers.iter().map(|answer| answer.trust)),
        corner_passed: Some(light.passed(&openings)),
        passed_at: (question.points.iter())
            .map(|&point| light.passed_towards(point, &openings))
            .collect(),
        widest_focal_length: widest_focal_length(light, &question.view, &openings),
        clean_from: clean_from(light, question.f_number, &openings),
        half_pupil: light.half_pupil(),
        zoom: (question.zoom)
            .map(|end| zoom(question, pupil, &end, &openings))
            .transpose()?,
        openings: answers,
    })
}

/// The answer where nobody knows the pupil: what was seen, and nothing else.
fn only_seen(question: &Question<'_>) -> Answer {
    let one = |placed: &Placed| OpeningAnswer {
        verdict: placed.seen.unwrap_or(Verdict::Unknown),
        computed: Verdict::Unknown,
        trust: trust_unseen(placed),
        spare: None,
        corner_passed: None,
        clear_to: None,
        clear_size: None,
        shading_arcs: Vec::new(),
        light: None,
        light_in_front: None,
    };
    let openings: Vec<OpeningAnswer> = question.openings.iter().map(one).collect();
    let record = question.view.record();
    let half_height = record.focal_length.millimetres() / question.f_number.number() / 2.0;
    Answer {
        verdict: (openings.iter())
            .map(|answer| answer.verdict)
            .max()
            .unwrap_or(Verdict::Clear),
        trust: trust_of(openings.iter().map(|answer| answer.trust)),
        openings,
        corner_passed: None,
        widest_focal_length: None,
        clean_from: None,
        passed_at: Vec::new(),
        half_pupil: (half_height / record.squeeze.ratio(), half_height),
        zoom: None,
    }
}

fn opening_answer(light: Light, placed: &Placed) -> OpeningAnswer {
    let opening = placed.opening;
    let computed = light.verdict(&opening);
    let room = light.least(&opening, spare);
    let rear = opening.record().distance.millimetres();
    let depth = opening.record().depth;
    let bounds = Bounds::LENGTH;
    OpeningAnswer {
        verdict: placed.seen.unwrap_or(computed),
        computed,
        trust: light.trust(placed),
        spare: Length::new(room.clamp(bounds.min, bounds.max)).ok(),
        corner_passed: Some(light.passed(&[opening])),
        clear_to: clear_to(light, &opening),
        clear_size: (computed != Verdict::Clear)
            .then(|| clear_size(light, &opening))
            .flatten(),
        shading_arcs: if placed.turns {
            shading_arcs(light, &opening)
        } else {
            Vec::new()
        },
        light: Some(crossing(light, rear)),
        light_in_front: depth.map(|depth| crossing(light, rear + depth.millimetres())),
    }
}

fn crossing(light: Light, ahead: f64) -> Crossing {
    let pupil = light.farthest_pupil();
    let [low_left, .., high_right] = *light.corners();
    let middle = Tangents {
        x: f64::midpoint(low_left.x, high_right.x),
        y: f64::midpoint(low_left.y, high_right.y),
    };
    let at = |field| chief_ray_at(&pupil, field, ahead);
    Crossing {
        centre: at(middle),
        corners: light.corners().map(at),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(in crate::answer) mod tests {
    use super::*;
    use crate::physics::opening::{OpeningRecord, Shape};
    use crate::physics::pupil_range::PupilRange;
    use crate::quantity::{Angle, Aperture, FocalLength, Span, Squeeze};
    use crate::setup::{View, ViewRecord};

    /// The corner is 20 mm from the axis of a 20 mm lens: tan θ = 1.
    pub(in crate::answer) fn question(openings: &[Placed]) -> Question<'_> {
        Question {
            view: View::new(ViewRecord {
                width: Span::new(32.0).unwrap(),
                height: Span::new(24.0).unwrap(),
                shift_x: Length::ZERO,
                shift_y: Length::ZERO,
                focal_length: FocalLength::new(20.0).unwrap(),
                squeeze: Squeeze::new(1.0).unwrap(),
            })
            .unwrap(),
            f_number: Aperture::from_marking(2.0).unwrap(),
            pupil: Some(pupil(30.0, 30.0)),
            openings,
            zoom: None,
            points: &[],
        }
    }

    pub(in crate::answer) fn pupil(nearest: f64, farthest: f64) -> PupilRange {
        PupilRange::between(
            Length::new(nearest).unwrap(),
            Length::new(farthest).unwrap(),
        )
    }

    fn placed(shape: Shape, distance: f64) -> Placed {
        Placed {
            opening: Opening::new(OpeningRecord {
                shape,
                distance: Length::new(distance).unwrap(),
                depth: None,
                offset_x: Length::ZERO,
                offset_y: Length::ZERO,
                rotation: Angle::ZERO,
            }),
            turns: false,
            seen: None,
        }
    }

    pub(in crate::answer) fn ring(diameter: f64, distance: f64) -> Placed {
        let diameter = Span::new(diameter).unwrap();
        placed(Shape::Circle { diameter }, distance)
    }

    pub(in crate::answer) fn square(side: f64, distance: f64) -> Placed {
        let side = Span::new(side).unwrap();
        let (width, height) = (side, side);
        placed(Shape::Rectangle { width, height }, distance)
    }

    #[test]
    fn a_ring_has_half_its_size_less_the_bundle_to_spare() {
        // At z = 40: chief ray 40 out, pupil 5 more, ring 50.
        let answer = fit(&question(&[ring(100.0, 10.0)])).unwrap();
        let one = &answer.openings[0];
        assert!((one.spare.unwrap().millimetres() - 5.0).abs() < 1e-9);
        assert_eq!((one.verdict, one.trust), (Verdict::Clear, Trust::SureClear));
        assert!((one.clear_to.unwrap().millimetres() - 15.0).abs() < 1e-9);
        // The chief ray leaves 10 mm: a pupil twice as large would touch.
        assert!((answer.clean_from.unwrap() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn little_room_asks_for_a_look() {
        let trust = |diameter| fit(&question(&[ring(diameter, 10.0)])).unwrap().trust;
        assert_eq!(trust(96.1), Trust::SureClear);
        assert_eq!(trust(95.9), Trust::Look);
        assert_eq!(trust(81.1), Trust::Look);
        assert_eq!(trust(80.9), Trust::SureClip);
    }

    #[test]
    fn what_was_seen_outranks_what_is_computed() {
        let seen = Placed {
            seen: Some(Verdict::Clear),
            ..ring(70.0, 10.0)
        };
        let one = fit(&question(&[seen])).unwrap().openings.remove(0);
        assert_eq!(
            (one.verdict, one.computed),
            (Verdict::Clear, Verdict::Clips)
        );
        assert_eq!(one.trust, Trust::SureClear);
    }

    #[test]
    fn an_unknown_pupil_tells_only_what_was_seen() {
        let asked = |seen| {
            let openings = [Placed {
                seen,
                ..ring(100.0, 10.0)
            }];
            fit(&Question {
                pupil: None,
                ..question(&openings)
            })
            .unwrap()
        };
        let answer = asked(None);
        assert_eq!(
            (answer.verdict, answer.trust),
            (Verdict::Unknown, Trust::Unknown)
        );
        assert_eq!(
            (answer.openings[0].spare, answer.corner_passed),
            (None, None)
        );
        let seen = asked(Some(Verdict::Shades));
        assert_eq!(
            (seen.verdict, seen.trust),
            (Verdict::Shades, Trust::SureClip)
        );
    }

    #[test]
    fn a_pupil_between_limits_gives_three_answers() {
        let trust = |diameter| {
            let openings = [ring(diameter, 10.0)];
            let asked = Question {
                pupil: Some(pupil(10.0, 30.0)),
                ..question(&openings)
            };
            fit(&asked).unwrap().trust
        };
        // Bundle's edge at 25 to 45 from the axis.
        assert_eq!(trust(100.0), Trust::SureClear);
        assert_eq!(trust(70.0), Trust::Look);
        assert_eq!(trust(40.0), Trust::SureClip);
    }

    #[test]
    fn the_widest_lens_of_a_square_is_where_both_sides_touch() {
        // 16·40/f + f/4 = 50 across: f² − 200 f + 2560 = 0.
        let answer = fit(&question(&[square(100.0, 10.0)])).unwrap();
        let wanted = 100.0 - libm::sqrt(100.0 * 100.0 - 2560.0);
        assert!((answer.widest_focal_length.unwrap() - wanted).abs() < 1e-9);
    }

    #[test]
    fn a_square_stage_shades_where_its_sides_come_in() {
        // Chief ray 40 out at 36.87° from the horizon, pupil 5: a side 44.8 from
        // the middle cuts in while its normal is within acos(39.8/40) of the ray.
        let stage = Placed {
            turns: true,
            ..square(89.6, 10.0)
        };
        let answer = fit(&question(&[stage])).unwrap();
        let arcs = &answer.openings[0].shading_arcs;
        // Two directions of corners, four normals, corners opposite one another.
        assert_eq!(arcs.len(), 8);
        let wide = 2.0 * libm::acos(39.8 / 40.0).to_degrees();
        let first = libm::asin(0.6).to_degrees() - wide / 2.0;
        assert!((arcs.iter()).all(|arc| (arc.to - arc.from - wide).abs() < 1e-6));
        assert!(
            arcs.iter().any(|arc| (arc.from - first).abs() < 1e-6),
            "{arcs:?}"
        );
    }

    #[test]
    fn openings_behind_the_pupil_or_in_one_place_are_refused() {
        let behind = [ring(100.0, -30.5)];
        assert!(matches!(
            fit(&question(&behind)),
            Err(FitError::BehindPupil(0, _))
        ));
        let twice = [ring(100.0, 20.0), ring(100.0, 10.0), ring(100.0, 20.0)];
        assert!(matches!(
            fit(&question(&twice)),
            Err(FitError::Overlap(2, _))
        ));
        let mut deep = [ring(100.0, 10.0), ring(100.0, 13.0)];
        let mut record = *deep[0].opening.record();
        record.depth = Some(Span::new(4.0).unwrap());
        deep[0].opening = Opening::new(record);
        let Err(FitError::Overlap(1, error)) = fit(&question(&deep)) else {
            unreachable!("13 is inside 10 to 14");
        };
        assert_eq!(error.bounds.min, 14.0);
    }

    #[test]
    fn nothing_in_front_is_clear() {
        let answer = fit(&question(&[])).unwrap();
        assert_eq!(
            (answer.verdict, answer.corner_passed),
            (Verdict::Clear, Some(1.0))
        );
        assert_eq!(
            (answer.clean_from, answer.widest_focal_length),
            (None, None)
        );
    }
}
