//! Lines and flags before published lenses, traced on to the image:
//! `reference/traced_lenses.json`.

use glasscall_tests::{call, number, traced_lenses};
use serde_json::{Value, json};

/// The top of a 3:2 picture as a share of the corner's height.
const TOP: f64 = 0.5547;
const SIDE: f64 = 0.832;
/// What the three numbers of a lens leave out, in millimetres; as
/// `known_lens::MODEL_MM`.
const MODEL_MM: f64 = 0.5;

fn views() -> Vec<(Value, Value)> {
    (traced_lenses().iter())
        .flat_map(|lens| {
            let views = lens["views"].as_array().unwrap().clone();
            views.into_iter().map(|view| (lens.clone(), view))
        })
        .collect()
}

fn point(view: &Value, share: f64) -> Value {
    let all = view["points"].as_array().unwrap();
    let at = |point: &&Value| (number(point, "share") - share).abs() < 1e-6;
    all.iter().find(at).unwrap().clone()
}

fn chief(point: &Value, ahead: f64) -> f64 {
    number(point, "chiefMm") + ahead * number(point, "tangent")
}

fn lens_of(lens: &Value, view: &Value) -> Value {
    let corner = number(view, "cornerMm");
    json!({
        "sensor": {"widthMm": 2.0 * SIDE * corner, "heightMm": 2.0 * TOP * corner},
        "focalLengthMm": lens["focalLengthMm"],
        "fNumber": number(view, "fNumber") * (1.0 + 1e-12),
        "frontDiameterMm": lens["frontMm"],
    })
}

/// Cards at the side, read as the light of the lens has them.
fn cards(view: &Value) -> Value {
    let side = point(view, SIDE);
    json!({"horizontal": {
        "nearMm": 30, "nearHeightMm": chief(&side, 30.0),
        "farMm": 150, "farHeightMm": chief(&side, 150.0),
    }})
}

fn known(lens: &Value, view: &Value, by_cards: bool) -> Value {
    let mut asked = lens_of(lens, view);
    if by_cards {
        asked["cards"] = cards(view);
    } else {
        asked["pupilBehindRimMm"] = lens["pupilMm"].clone();
    }
    asked
}

#[test]
fn a_line_at_the_top_of_the_picture_lies_where_its_light_goes() {
    // What was found, rounded up; the page beside the traces has it.
    for (by_cards, most) in [(true, 0.7), (false, 5.0)] {
        let mut worst: f64 = 0.0;
        for (lens, view) in views() {
            for ahead in [10.0, 40.0, 80.0] {
                let mut asked = known(&lens, &view, by_cards);
                asked["distanceFromRimMm"] = json!(ahead);
                asked["profile"] = json!({"kind": "hard", "density": 0.9});
                asked["lineAtFrameHeight"] = json!(1.0);
                let Ok(reply) = call("line", &asked) else {
                    panic!("{} at {ahead}: {}", lens["id"], asked);
                };
                let traced = chief(&point(&view, TOP), ahead);
                let told = number(&reply, "lineHeightMm");
                worst = worst.max((told - traced).abs());
                let [from, to] =
                    ["lineHeightFromMm", "lineHeightToMm"].map(|field| number(&reply, field));
                assert!(
                    from - MODEL_MM <= traced && traced <= to + MODEL_MM,
                    "{} by cards {by_cards} at {ahead}: {traced} outside {from} to {to}",
                    lens["id"],
                );
            }
        }
        println!("by cards {by_cards}: the line is {worst:.2} mm off at the most");
        assert!(worst <= most, "{worst}");
    }
}

#[test]
fn a_flag_of_the_sure_length_stays_out_of_every_traced_picture() {
    let (mut sure, mut all) = (0, 0);
    for (lens, view) in views() {
        for by_cards in [true, false] {
            let mut asked = known(&lens, &view, by_cards);
            let hinge_ahead = 30.0;
            let hinge_out =
                number(&lens, "frontMm") / 2.0 + 35.0 * number(&point(&view, TOP), "tangent") + 6.0;
            asked["glass"] = json!({"widthMm": 95, "heightMm": 95, "distanceFromRimMm": 10});
            asked["flag"] = json!({"side": "top", "hingeFromAxisMm": hinge_out,
                "hingeFromRimMm": hinge_ahead});
            asked["sun"] = json!({"sunAzimuthDeg": 0, "sunElevationDeg": 80,
                "aimAzimuthDeg": 0, "aimElevationDeg": 0});
            let reply = call("flag", &asked).unwrap();
            all += 1;
            let Some(longest) = reply["sureLongestMm"].as_f64() else {
                continue;
            };
            sure += 1;
            let tip = hinge_ahead + longest.min(2000.0);
            for (share, up) in [(1.0, TOP), (TOP, 1.0)] {
                let point = point(&view, share);
                for edge in point["edgeMm"].as_array().unwrap() {
                    let (right, out) = (edge[0].as_f64().unwrap(), edge[1].as_f64().unwrap());
                    let across = (1.0 - up * up).sqrt();
                    for right in [right, -right] {
                        // What comes in beyond the front does not come in.
                        let within = number(&lens, "frontMm") / 2.0 / right.hypot(out);
                        let (right, out) = (right * within.min(1.0), out * within.min(1.0));
                        let at = out + tip * number(&point, "tangent");
                        let seen = at * up + right * across;
                        assert!(
                            seen <= hinge_out + 0.05,
                            "{} by cards {by_cards}: light at {seen} beyond {hinge_out}, {longest} long",
                            lens["id"],
                        );
                    }
                }
            }
        }
    }
    assert!(sure > all / 2, "{sure} of {all}");
}
