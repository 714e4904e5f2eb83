//! Graduated filters and openings before one pupil against counted rays,
//! `laws/grad_and_openings.json`.

use glasscall_core::answer::frame_map::FrameGlass;
use glasscall_core::physics::lens_shape::LensShape;
use glasscall_core::physics::line::{Held, Line, Place};
use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape};
use glasscall_core::physics::profile::Profile;
use glasscall_core::physics::pupil::Pupil;
use glasscall_core::quantity::{
    Angle, Aperture, Density, FocalLength, Length, Span, Squeeze, Stops,
};
use glasscall_core::setup::{View, ViewRecord};
use glasscall_tests::{law, near, number};
use serde_json::Value;

fn mm(value: f64) -> Length {
    Length::new(value).unwrap()
}

fn or_zero(given: &Value, field: &str) -> f64 {
    given[field].as_f64().unwrap_or(0.0)
}

fn profile(given: &Value) -> Profile {
    let density = |field| Density::new(number(given, field)).unwrap();
    let ramp = || mm(number(given, "ramp_mm"));
    match given["kind"].as_str().unwrap() {
        "hard" => Profile::hard(density("density"), mm(0.0)).unwrap(),
        "soft" => Profile::soft(density("density"), ramp()).unwrap(),
        "reverse" => Profile::reverse(density("density"), density("top"), ramp()).unwrap(),
        other => panic!("no profile {other}"),
    }
}

fn opening(given: &Value) -> Opening {
    let span = |field| Span::new(number(given, field)).unwrap();
    Opening::new(OpeningRecord {
        shape: if given["diameter"].is_number() {
            Shape::Circle {
                diameter: span("diameter"),
            }
        } else {
            Shape::Rectangle {
                width: span("width"),
                height: span("height"),
            }
        },
        distance: mm(number(given, "at")),
        depth: None,
        offset_x: mm(or_zero(given, "x")),
        offset_y: mm(or_zero(given, "y")),
        rotation: Angle::new(or_zero(given, "turn")).unwrap(),
    })
}

fn glass(given: &Value) -> FrameGlass {
    let record = ViewRecord {
        width: Span::new(given["sensor_mm"][0].as_f64().unwrap()).unwrap(),
        height: Span::new(given["sensor_mm"][1].as_f64().unwrap()).unwrap(),
        shift_x: Length::ZERO,
        shift_y: Length::ZERO,
        focal_length: FocalLength::new(number(given, "focal_mm")).unwrap(),
        squeeze: Squeeze::new(number(given, "squeeze")).unwrap(),
    };
    let view = View::new(record).unwrap();
    let stop = Aperture::from_number(number(given, "number")).unwrap();
    let behind = mm(number(given, "pupil_mm"));
    let pupil = Pupil::new(record.focal_length, stop, record.squeeze, behind.into());
    let pupil = pupil.with_shape(LensShape {
        distortion: [number(given, "distortion"); 2],
        growth: number(given, "growth"),
        corner: view.farthest_corner(),
        edges: None,
        rim: given["front_mm"].as_f64().map(|front| front / 2.0),
    });
    let line = |grad: &Value| {
        let held = Held {
            from_rim: mm(number(grad, "at")),
            rotation: Angle::new(or_zero(grad, "turn")).unwrap(),
            inverted: grad["invert"].as_bool().unwrap_or(false),
        };
        let place = Place::OnFilter(mm(number(grad, "line_mm")));
        Line::new(profile(&grad["profile"]), held, view, &pupil, place).unwrap()
    };
    FrameGlass {
        view,
        pupil,
        uniform: Stops::ZERO,
        lines: given["grads"]
            .as_array()
            .unwrap()
            .iter()
            .map(line)
            .collect(),
        sky: None,
        openings: (given["openings"].as_array().unwrap().iter())
            .map(opening)
            .collect(),
    }
}

#[test]
fn filters_and_openings_take_what_counted_rays_lose() {
    let group = law("grad_and_openings", "stops");
    let tolerance = number(&group.tolerance, "stops_abs");
    let mut worst_product: f64 = 0.0;
    for case in &group.cases {
        let glass = glass(&case.given);
        let at = |nth: usize| case.given["at"][nth].as_f64().unwrap();
        let field = glass.view.tangents_of(at(0), at(1));
        let found = glass.loss_towards(field).unwrap().stops();
        let wanted = number(&case.out, "stops");
        near("grad_and_openings", &case.id, found, wanted, tolerance);
        // What the product of the averages said.
        let each = (glass.lines.iter()).map(|line| line.loss_towards(field).stops());
        let alone = FrameGlass {
            lines: vec![],
            ..glass.clone()
        };
        let product = each.sum::<f64>() + alone.loss_towards(field).unwrap().stops();
        worst_product = worst_product.max((product - wanted).abs());
    }
    // The cases are such that it shows.
    assert!(worst_product > 0.4, "{worst_product}");
}
