//! Graduated filters against `laws/grad.json` and `laws/grad_shapes.json`.

use glasscall_core::physics::graduated::Footprint;
use glasscall_core::physics::line::{Held, Line, Place};
use glasscall_core::physics::profile::Profile;
use glasscall_core::physics::pupil::Pupil;
use glasscall_core::quantity::{Angle, Aperture, Density, FocalLength, Length, Span, Squeeze};
use glasscall_core::setup::{View, ViewRecord};
use glasscall_tests::{LawCase, law, near, number};
use serde_json::Value;

fn mm(value: f64) -> Length {
    Length::new(value).unwrap()
}

fn density(given: &Value, field: &str) -> Density {
    Density::new(number(given, field)).unwrap()
}

fn profile(given: &Value) -> Profile {
    let ramp = || mm(number(given, "ramp_mm"));
    let marked = || density(given, "density");
    match given["kind"].as_str().unwrap() {
        "hard" => Profile::hard(marked(), mm(given["width_mm"].as_f64().unwrap_or(0.0))).unwrap(),
        "linear" => Profile::soft(marked(), ramp()).unwrap(),
        "smoothstep" => Profile::smooth(marked(), ramp()).unwrap(),
        "reverse" => Profile::reverse(marked(), density(given, "density_top"), ramp()).unwrap(),
        "stripe" => Profile::stripe(marked(), ramp()).unwrap(),
        "points" => {
            let points: Vec<(Length, Density)> = (given["points"].as_array().unwrap().iter())
                .map(|point| {
                    let at = |nth: usize| point[nth].as_f64().unwrap();
                    (mm(at(0)), Density::new(at(1)).unwrap())
                })
                .collect();
            Profile::points(&points).unwrap()
        }
        other => panic!("no profile {other}"),
    }
}

fn line(case: &LawCase, frame_height: f64, squeeze: f64, rotation: f64) -> Line {
    let number_of = |field| number(&case.given, field);
    let record = ViewRecord {
        width: Span::new(36.0).unwrap(),
        height: Span::new(frame_height).unwrap(),
        shift_x: Length::ZERO,
        shift_y: Length::ZERO,
        focal_length: FocalLength::new(number_of("focal_mm")).unwrap(),
        squeeze: Squeeze::new(squeeze).unwrap(),
    };
    // Only the distance from the pupil counts: the rim is put at the pupil.
    let stop = Aperture::from_number(number_of("number")).unwrap();
    let pupil = Pupil::new(
        record.focal_length,
        stop,
        record.squeeze,
        Length::ZERO.into(),
    );
    let held = Held {
        from_rim: mm(number_of("z_mm")),
        rotation: Angle::new(rotation).unwrap(),
        inverted: false,
    };
    let place = Place::OnFilter(mm(number_of("line_mm")));
    let view = View::new(record).unwrap();
    Line::new(profile(&case.given["profile"]), held, view, &pupil, place).unwrap()
}

#[test]
fn stops_at_frame_heights_agree_for_every_profile() {
    let groups = [law("grad", "profile"), law("grad_shapes", "profile")];
    let tolerance = number(&groups[0].tolerance, "stops_abs");
    for case in groups.into_iter().flat_map(|group| group.cases) {
        let line = line(&case, number(&case.given, "frame_height_mm"), 1.0, 0.0);
        let heights = case.given["heights"].as_array().unwrap();
        let stops = case.out["stops"].as_array().unwrap();
        assert_eq!(heights.len(), stops.len(), "{}", case.id);
        for (at, wanted) in heights.iter().zip(stops) {
            let at = at.as_f64().unwrap();
            let found = line.loss_towards(line.view().tangents_of(0.5, at)).stops();
            near(
                &case.id,
                &format!("stops at {at}"),
                found,
                wanted.as_f64().unwrap(),
                tolerance,
            );
        }
    }
}

#[test]
fn blends_agree_where_the_profile_rises() {
    let group = law("grad", "profile");
    let tolerance = number(&group.tolerance, "width_abs");
    let mut checked = 0;
    for case in group.cases {
        let line = line(&case, number(&case.given, "frame_height_mm"), 1.0, 0.0);
        if let Some(wanted) = case.out["blend_of_frame"].as_f64() {
            near(&case.id, "whole blend", line.whole_blend(), wanted, 1e-8);
        }
        let widths = ["width_10_90_stops_of_frame", "width_10_90_light_of_frame"];
        let [Some(stops), Some(light)] = widths.map(|field| case.out[field].as_f64()) else {
            continue;
        };
        let blend = line
            .blend()
            .unwrap_or_else(|| panic!("{}: no blend", case.id));
        near(&case.id, widths[0], blend.in_stops, stops, tolerance);
        near(&case.id, widths[1], blend.in_light, light, tolerance);
        checked += 1;
    }
    assert!(checked > 20, "only {checked} cases have a width");
}

#[test]
fn turned_and_squeezed_filters_agree() {
    let group = law("grad", "rotated");
    let tolerance = number(&group.tolerance, "abs");
    for case in group.cases {
        let number_of = |field| number(&case.given, field);
        let line = line(&case, 24.0, number_of("squeeze"), number_of("rotation_deg"));
        let field = line
            .view()
            .tangents_at(number_of("x_mm"), number_of("y_mm"));
        let footprint: Footprint = line.footprint(field);
        let out = |field| number(&case.out, field);
        near(
            &case.id,
            "y0",
            footprint.centre_millimetres(),
            out("y0_mm"),
            tolerance,
        );
        near(
            &case.id,
            "half",
            footprint.half_millimetres(),
            out("footprint_half_mm"),
            tolerance,
        );
        near(
            &case.id,
            "stops",
            line.loss_towards(field).stops(),
            out("stops"),
            tolerance,
        );
    }
}
