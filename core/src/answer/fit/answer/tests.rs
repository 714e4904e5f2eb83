//! Fits by hand.

use super::super::placed::Seen;
use super::super::question::Close;
use super::*;
use crate::physics::known_lens::{Between, Place};
use crate::physics::opening::{OpeningRecord, Shape};
use crate::physics::pupil_range::PupilRange;
use crate::quantity::{Angle, Aperture, FocalLength, Span, Squeeze};
use crate::setup::{Uncertainties, View, ViewRecord};

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
        lens: Some(lens(30.0, 30.0)),
        close: None,
        openings,
        looks: &[],
        zoom: None,
        points: &[],
        known: Uncertainties::default(),
    }
}

pub(in crate::answer) fn lens(nearest: f64, farthest: f64) -> KnownLens {
    KnownLens::somewhere(PupilRange::between(
        Length::new(nearest).unwrap(),
        Length::new(farthest).unwrap(),
    ))
}

/// As measured: nothing of it is a guess.
fn measured(lens: KnownLens) -> KnownLens {
    let Place::Somewhere { pupil, .. } = lens.place else {
        unreachable!("made so");
    };
    KnownLens {
        place: Place::Somewhere {
            pupil,
            distortion: Some(Between::exactly(0.0)),
        },
        growth: Some(Between::exactly(0.0)),
        widest: Aperture::from_marking(1.0).ok(),
        ..lens
    }
}

fn seen(verdict: Verdict) -> Option<Seen> {
    Some(Seen { verdict, at: None })
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
    // Clear by the figures of a wide that nobody measured is not sure.
    assert_eq!((one.verdict, one.trust), (Verdict::Clear, Trust::Look));
    assert!((one.clear_to.unwrap().millimetres() - 15.0).abs() < 1e-9);
    // The chief ray leaves 10 mm: a pupil twice as large would touch.
    assert!((answer.clean_from.unwrap() - 1.0).abs() < 1e-9);
}

#[test]
fn little_room_asks_for_a_look() {
    let trust = |diameter| {
        let openings = [ring(diameter, 10.0)];
        let asked = Question {
            lens: Some(measured(lens(30.0, 30.0))),
            ..question(&openings)
        };
        fit(&asked).unwrap().trust
    };
    // The edge of the light at 45 and half a millimetre; the pupil may lie
    // 4.5 mm less deep, which puts it at 40.5.
    assert_eq!(trust(91.1), Trust::SureClear);
    assert_eq!(trust(90.9), Trust::Look);
    assert_eq!(trust(80.1), Trust::Look);
    assert_eq!(trust(79.9), Trust::SureClip);
}

#[test]
fn one_that_turns_is_judged_at_its_worst_turn() {
    // The largest circle in it has a radius of 44.8; the light ends at 45.
    let turning = Placed {
        turns: true,
        ..square(89.6, 10.0)
    };
    let one = fit(&question(&[turning])).unwrap().openings.remove(0);
    assert!((one.spare.unwrap().millimetres() + 0.2).abs() < 1e-9);
    // As it stands: 44.8 − 40·0.8 − 5.
    assert!((one.as_set.unwrap().millimetres() - 7.8).abs() < 1e-9);
    assert_eq!(one.verdict, Verdict::Shades);
    assert!(one.corner_passed.unwrap() < 1.0);
    assert!(one.unsure_arcs.len() <= one.shading_arcs.len());
}

#[test]
fn a_front_keeps_light_from_openings_it_cannot_reach() {
    // A front of 70 passes nothing beyond 35 + 10 at 10 ahead: 45 where the
    // pupil alone, 20 deeper than said, would reach 65.
    let openings = [ring(92.0, 10.0)];
    let deep = |front| {
        let asked = Question {
            lens: Some(KnownLens {
                front,
                ..measured(lens(30.0, 50.0))
            }),
            ..question(&openings)
        };
        let one = fit(&asked).unwrap().openings.remove(0);
        (one.spare.unwrap().millimetres(), one.trust)
    };
    assert!((deep(None).0 + 19.0).abs() < 1e-9);
    let (spare, trust) = deep(Span::new(70.0).ok());
    assert!((spare - 1.0).abs() < 1e-9, "{spare}");
    assert_eq!(trust, Trust::SureClear);
}

#[test]
fn one_look_settles_what_lies_behind_it() {
    // Both rings are near the same light; a look at either tells the other.
    let openings = [ring(96.0, 10.0), ring(104.0, 12.0), ring(300.0, 14.0)];
    let asked = |seen: Option<Seen>| {
        let mut openings = openings;
        openings[0].seen = seen;
        fit(&question(&openings)).unwrap()
    };
    let unseen = asked(None);
    assert_eq!(unseen.trust, Trust::Look);
    let settles = unseen.settles.unwrap();
    assert!(settles.opening < 2, "the third is sure already");
    let clear = asked(seen(Verdict::Clear));
    assert_eq!(clear.openings[1].trust, Trust::SureClear);
    assert_eq!(clear.settles, None);
    let least = |answer: &Answer| answer.openings[1].room.unwrap().0;
    assert!(least(&clear) > least(&unseen) + 5.0);
}

#[test]
fn what_was_seen_holds_for_its_stop() {
    let at = |number| {
        let openings = [Placed {
            seen: Some(Seen {
                verdict: Verdict::Clear,
                at: Aperture::from_marking(number).ok(),
            }),
            ..ring(70.0, 10.0)
        }];
        fit(&question(&openings)).unwrap().verdict
    };
    // Asked at f/2: clear at f/1.4 stays clear, clear at f/4 need not.
    assert_eq!((at(1.4), at(4.0)), (Verdict::Clear, Verdict::Clips));
}

#[test]
fn focused_close_the_worse_counts() {
    let openings = [ring(100.0, 10.0)];
    let mut asked = question(&openings);
    let wider = FocalLength::new(16.0).unwrap();
    asked.close = Some(Close {
        view: asked.view.with_focal_length(wider).unwrap(),
        lens: lens(30.0, 30.0),
    });
    let one = fit(&asked).unwrap().openings.remove(0);
    // 40·20/16 = 50 out, the pupil of 16/2/2 = 4 more.
    assert!((one.spare.unwrap().millimetres() + 4.0).abs() < 1e-9);
}

#[test]
fn what_was_seen_outranks_what_is_computed() {
    let seen = Placed {
        seen: seen(Verdict::Clear),
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
            lens: None,
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
    let seen = asked(seen(Verdict::Shades));
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
            lens: Some(measured(lens(10.0, 30.0))),
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

#[test]
fn the_corner_loses_something_between_what_the_lens_may_be() {
    // At z = 40: chief ray 40 out and up to a tenth more, pupil 5, ring 47.
    let bends = |most: f64| KnownLens {
        place: Place::Somewhere {
            pupil: PupilRange::known(Length::new(30.0).unwrap().into()),
            distortion: Some(Between { least: 0.0, most }),
        },
        ..measured(lens(30.0, 30.0))
    };
    let ask = |most: f64, openings: &[Placed]| {
        let asked = Question {
            lens: Some(bends(most)),
            ..question(openings)
        };
        let answer = fit(&asked).unwrap();
        (
            answer.corner_passed.unwrap(),
            answer.corner_between.unwrap(),
        )
    };
    let openings = [ring(94.0, 10.0)];
    let (drawn, (least, most)) = ask(0.1, &openings);
    assert!(least < 0.9 && drawn < 1.0 + 1e-12, "{least} {drawn}");
    assert!(least < drawn && drawn <= most, "{least} {drawn} {most}");
    // What is measured leaves nothing open where nothing is lost.
    assert_eq!(ask(0.0, &openings).1, (1.0, 1.0));
    // Nor does what was seen, but for the slack of a look.
    let seen_clear = [Placed {
        seen: seen(Verdict::Clear),
        ..openings[0]
    }];
    let (_, (after, _)) = ask(0.1, &seen_clear);
    assert!(after > least + 0.02, "{after} {least}");
}
