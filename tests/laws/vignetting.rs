//! Passed share, spare and limits against polygon areas, counted rays and
//! closed forms.

use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape};
use glasscall_core::physics::passed::{loss, passed};
use glasscall_core::physics::pupil::{Pupil, PupilPosition};
use glasscall_core::physics::spare::{chief_room, spare};
use glasscall_core::quantity::{Angle, Aperture, FocalLength, Length, Span, Squeeze};
use glasscall_core::setup::{Tangents, View, ViewRecord};
use glasscall_tests::{LawCase, law, near, number};
use serde_json::Value;

fn length(value: &Value) -> Length {
    Length::new(value.as_f64().unwrap_or(0.0)).unwrap()
}

fn span(value: &Value) -> Span {
    Span::new(value.as_f64().unwrap()).unwrap()
}

fn opening(given: &Value) -> Opening {
    let shape = if given["shape"] == "circle" {
        Shape::Circle {
            diameter: span(&given["diameter_mm"]),
        }
    } else {
        Shape::Rectangle {
            width: span(&given["width_mm"]),
            height: span(&given["height_mm"]),
        }
    };
    Opening::new(OpeningRecord {
        shape,
        distance: length(&given["distance_from_rim_mm"]),
        depth: given["depth_mm"]
            .as_f64()
            .map(|depth| Span::new(depth).unwrap()),
        offset_x: length(&given["offset_x_mm"]),
        offset_y: length(&given["offset_y_mm"]),
        rotation: Angle::new(given["rotation_deg"].as_f64().unwrap_or(0.0)).unwrap(),
    })
}

fn pupil(given: &Value) -> Pupil {
    let behind = &given["pupil_behind_rim_mm"];
    let position = if behind.is_array() {
        PupilPosition {
            horizontal: length(&behind[0]),
            vertical: length(&behind[1]),
        }
    } else {
        length(behind).into()
    };
    Pupil::new(
        FocalLength::new(number(given, "focal_mm")).unwrap(),
        Aperture::from_number(number(given, "number")).unwrap(),
        Squeeze::new(number(given, "squeeze")).unwrap(),
        position,
    )
}

fn field(given: &Value) -> Tangents {
    let focal = number(given, "focal_mm");
    Tangents {
        x: number(given, "squeeze") * number(given, "x_mm") / focal,
        y: number(given, "y_mm") / focal,
    }
}

fn openings(case: &LawCase) -> Vec<Opening> {
    let list = case.given["openings"].as_array().unwrap();
    list.iter().map(opening).collect()
}

#[test]
fn shares_spares_and_verdicts_agree_with_polygons() {
    let group = law("coverage", "field_point");
    let tolerance = &group.tolerance;
    for case in &group.cases {
        let (pupil, field, openings) = (pupil(&case.given), field(&case.given), openings(case));
        let share = passed(&pupil, &openings, field);
        let wanted = number(&case.out, "passed");
        let off = number(tolerance, "passed_abs");
        near(&case.id, "passed", share, wanted, off);
        if wanted > 0.0 {
            let stops = loss(share).map_or(f64::NAN, |loss| loss.stops());
            let off = 2e-5 / wanted;
            near(
                &case.id,
                "loss",
                stops,
                number(&case.out, "loss_stops"),
                off,
            );
        } else {
            assert_eq!(loss(share), None, "{}: loss of nothing", case.id);
        }
        let least = |room: fn(&Pupil, &Opening, Tangents) -> Length| {
            (openings.iter())
                .map(|opening| room(&pupil, opening, field).millimetres())
                .fold(f64::INFINITY, f64::min)
        };
        let found = least(spare);
        let off = number(tolerance, "spare_abs");
        near(&case.id, "spare", found, number(&case.out, "spare_mm"), off);
        let verdict = match (found >= 0.0, least(chief_room) >= 0.0) {
            (true, _) => "clear",
            (false, true) => "shades",
            (false, false) => "clips",
        };
        assert_eq!(verdict, case.out["verdict"], "{}: verdict", case.id);
    }
}

#[test]
fn shares_where_edges_cross_agree_with_fine_polygons() {
    let group = law("coverage_partial", "partial");
    let off = number(&group.tolerance, "passed_abs");
    for case in &group.cases {
        let (pupil, field, openings) = (pupil(&case.given), field(&case.given), openings(case));
        let share = passed(&pupil, &openings, field);
        near(&case.id, "passed", share, number(&case.out, "passed"), off);
        // The order of the openings is nothing to the light.
        let mut turned = openings.clone();
        turned.reverse();
        near(
            &case.id,
            "reversed",
            passed(&pupil, &turned, field),
            share,
            1e-12,
        );
    }
}

#[test]
fn a_pinhole_pupil_passes_all_or_nothing() {
    for case in &law("coverage", "field_point").cases {
        let mut given = case.given.clone();
        given["number"] = 1024.0.into();
        // A pupil a thousandth as wide: a longer lens at the same directions.
        let (small, field, openings) = (pupil(&given), field(&given), openings(case));
        let room = (openings.iter())
            .map(|opening| chief_room(&small, opening, field).millimetres())
            .fold(f64::INFINITY, f64::min);
        if room.abs() > small.half_height().max(small.half_width()) {
            let wanted = f64::from(u8::from(room > 0.0));
            near(
                &case.id,
                "pinhole",
                passed(&small, &openings, field),
                wanted,
                0.0,
            );
        }
    }
}

#[test]
fn a_huge_opening_passes_everything() {
    for case in &law("coverage", "field_point").cases {
        let mut given = case.given.clone();
        for opening in given["openings"].as_array_mut().unwrap() {
            for size in ["width_mm", "height_mm", "diameter_mm"] {
                opening[size] = 10_000.0.into();
            }
        }
        let case = LawCase {
            given,
            ..case.clone()
        };
        let share = passed(&pupil(&case.given), &openings(&case), field(&case.given));
        near(&case.id, "huge", share, 1.0, 0.0);
    }
}

#[test]
fn one_of_many_openings_never_passes_less_than_all() {
    for case in &law("coverage", "field_point").cases {
        let (pupil, field, openings) = (pupil(&case.given), field(&case.given), openings(case));
        let all = passed(&pupil, &openings, field);
        for one in &openings {
            assert!(passed(&pupil, &[*one], field) >= all - 1e-12, "{}", case.id);
        }
    }
}

#[test]
fn spare_at_the_corner_is_the_closed_form() {
    let group = law("coverage", "limits");
    for case in &group.cases {
        let off = |wanted: f64| {
            let rel = number(&group.tolerance, "rel");
            number(&group.tolerance, "abs").max(rel * wanted.abs())
        };
        let given = &case.given;
        let view = View::new(ViewRecord {
            width: span(&given["sensor_w_mm"]),
            height: span(&given["sensor_h_mm"]),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(number(given, "focal_mm")).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        })
        .unwrap();
        let pupil = Pupil::new(
            view.record().focal_length,
            Aperture::from_number(number(given, "number")).unwrap(),
            view.record().squeeze,
            length(&given["z_mm"]).into(),
        );
        let opening = opening(given);
        for corner in view.corners() {
            let found = spare(&pupil, &opening, corner).millimetres();
            let wanted = number(&case.out, "spare_mm");
            near(&case.id, "spare", found, wanted, off(wanted));
            let room = chief_room(&pupil, &opening, corner).millimetres();
            let wanted = number(&case.out, "chief_room_mm");
            near(&case.id, "room", room, wanted, off(wanted));
        }
    }
}
