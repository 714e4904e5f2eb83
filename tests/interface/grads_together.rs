//! `skyAndGround` and `lineMotion` with several graduated filters in, each with its line, against
//! rays counted here.

use glasscall_tests::{call, near, number};
use serde_json::{Value, json};

/// From the pupil to each filter, its turn, its line on the filter and its
/// density, hard edges all.
type Hard = (f64, f64, f64, f64);

const FOCAL: f64 = 50.0;
const F_NUMBER: f64 = 2.0;
const BEHIND: f64 = 40.0;
const HEIGHT: f64 = 18.66;
const IN_HAND: Hard = (76.0, 0.0, 1.0, 0.6);
const OTHERS: [Hard; 2] = [(64.0, 25.0, -2.0, 0.9), (88.0, -40.0, 3.0, 0.3)];
/// Rings and spokes of the counted pupil.
const RINGS: u32 = 900;
const SPOKES: u32 = 900;

/// Stops lost at this height of the picture, ray by ray over the pupil.
fn counted(filters: &[Hard], up: f64) -> f64 {
    let tangent = (up - 0.5) * HEIGHT / FOCAL;
    let radius = FOCAL / F_NUMBER / 2.0;
    let mut passed = 0.0;
    for ring in 0..RINGS {
        // Rings of equal area.
        let r = radius * ((f64::from(ring) + 0.5) / f64::from(RINGS)).sqrt();
        for spoke in 0..SPOKES {
            let turn = std::f64::consts::TAU * (f64::from(spoke) + 0.5) / f64::from(SPOKES);
            let [x, y] = [r * turn.cos(), r * turn.sin()];
            passed += filters
                .iter()
                .map(|&(ahead, turned, line, density)| {
                    let (sin, cos) = turned.to_radians().sin_cos();
                    let above = -sin * x + cos * (y + ahead * tangent) - line;
                    if above > 0.0 {
                        10f64.powf(-density)
                    } else {
                        1.0
                    }
                })
                .product::<f64>();
        }
    }
    -(passed / f64::from(RINGS * SPOKES)).log2()
}

fn hard(density: f64) -> Value {
    json!({"kind": "hard", "density": density})
}

fn held(&(ahead, turned, line, density): &Hard) -> Value {
    json!({
        "distanceFromRimMm": ahead - BEHIND, "lineHeightMm": line, "rotationDeg": turned,
        "profile": hard(density)
    })
}

fn request() -> Value {
    let (ahead, turned, line, density) = IN_HAND;
    json!({
        "sensor": {"widthMm": 24.89, "heightMm": HEIGHT},
        "focalLengthMm": FOCAL, "fNumber": F_NUMBER, "pupilBehindRimMm": BEHIND,
        "distanceFromRimMm": ahead - BEHIND, "lineHeightMm": line, "rotationDeg": turned,
        "bright": {"atFrameHeight": 0.62}, "dark": {"atFrameHeight": 0.3}, "stopsApart": 4,
        "allowedStops": 1, "subject": {"atFrameHeight": 0.5},
        "grads": [{"id": "in hand", "profile": hard(density)}],
        "others": OTHERS.iter().map(held).collect::<Vec<_>>()
    })
}

#[test]
fn what_three_leave_between_sky_and_land_is_what_counted_rays_leave() {
    let reply = call("skyAndGround", &request()).unwrap();
    let all = [IN_HAND, OTHERS[0], OTHERS[1]];
    let [bright, dark, subject] = [0.62, 0.3, 0.5].map(|up| counted(&all, up));
    // A hard edge through 810 000 rays: one of 900 rings or spokes astride it.
    let tolerance = 2e-3;
    let told = |what: &str, found: f64, wanted: f64| near("three", what, found, wanted, tolerance);
    let grad = &reply["grads"][0];
    told("left", number(grad, "leftStops"), 4.0 - (bright - dark));
    told("dark", number(grad, "darkLosesStops"), dark);
    told("stolen", number(grad, "stolenStops"), subject - dark);
    let others = counted(&OTHERS, 0.62) - counted(&OTHERS, 0.3);
    told("others", number(&reply, "othersLeaveStops"), 4.0 - others);
    told(
        "delivered",
        number(grad, "deliveredStops"),
        bright - dark - others,
    );
    for (nth, other) in OTHERS.iter().enumerate() {
        let alone = counted(&[*other], 0.62) - counted(&[*other], 0.3);
        let found = number(&reply["others"][nth], "deliveredStops");
        told("alone", found, alone);
    }
    // Where three edges cross one pupil the sum of each alone is something else.
    let sum: f64 = (all.iter())
        .map(|one| counted(&[*one], 0.62) - counted(&[*one], 0.3))
        .sum();
    assert!(
        (sum - (bright - dark)).abs() > 0.05,
        "{sum} for {}",
        bright - dark
    );
}

#[test]
fn the_picture_of_the_same_filters_agrees() {
    let mut map = request();
    let fields = [
        "bright",
        "dark",
        "stopsApart",
        "allowedStops",
        "subject",
        "others",
    ];
    for field in fields
        .into_iter()
        .chain(["distanceFromRimMm", "lineHeightMm", "rotationDeg"])
    {
        map.as_object_mut().unwrap().remove(field);
    }
    map["grads"] = [IN_HAND].iter().chain(&OTHERS).map(held).collect();
    map["columns"] = json!(1);
    map["rows"] = json!(50);
    let rows = call("frameMap", &map).unwrap();
    // Rows are told at their middles, from the top.
    let row = |up: f64| rows[((1.0 - up) * 50.0) as usize].as_f64().unwrap();
    let mut asked = request();
    asked["bright"]["atFrameHeight"] = json!(0.63);
    asked["dark"]["atFrameHeight"] = json!(0.31);
    let reply = call("skyAndGround", &asked).unwrap();
    let left = number(&reply["grads"][0], "leftStops");
    near("map", "left", 4.0 - (row(0.63) - row(0.31)), left, 1e-4);
}

#[test]
fn others_make_the_answer_less_sure_and_are_refused_by_name() {
    let known = |others: Value| {
        let mut asked = request();
        asked["others"] = others;
        asked["explain"] = json!(true);
        let reply = call("skyAndGround", &asked).unwrap();
        let told = number(&reply["uncertainty"], "stops");
        (told, reply["working"].is_array())
    };
    let all = request()["others"].clone();
    let ((alone, told), (together, several)) = (known(json!([])), known(all));
    assert!(together > alone, "{together} for {alone}");
    // Sums of each alone would not be the answer.
    assert!(told && !several);
    let mut bad = request();
    bad["others"][1]["rotationDeg"] = json!(1e9);
    assert_eq!(
        call("skyAndGround", &bad).unwrap_err().field,
        "others[1].rotationDeg"
    );
    let mut many = request();
    many["others"] = (0..4).map(|_| held(&OTHERS[0])).collect();
    assert_eq!(call("skyAndGround", &many).unwrap_err().field, "others");
}

#[test]
fn a_move_behind_three_costs_the_subject_what_counted_rays_lose() {
    let mut asked = request();
    let own = held(&IN_HAND);
    for field in [
        "distanceFromRimMm",
        "lineHeightMm",
        "rotationDeg",
        "bright",
        "dark",
    ] {
        asked.as_object_mut().unwrap().remove(field);
    }
    for field in ["stopsApart", "grads"] {
        asked.as_object_mut().unwrap().remove(field);
    }
    asked["grad"] = own;
    asked["move"] = json!({"tiltToDeg": -4});
    let reply = call("lineMotion", &asked).unwrap();
    // The subject on the axis is seen 4° above it at the end.
    let all = [IN_HAND, OTHERS[0], OTHERS[1]];
    let turned = 0.5 + 4f64.to_radians().tan() * FOCAL / HEIGHT;
    let lost = |filters: &[Hard]| counted(filters, turned) - counted(filters, 0.5);
    near(
        "move",
        "worst",
        number(&reply, "worstStops"),
        lost(&all),
        2e-3,
    );
    assert!((lost(&all) - lost(&[IN_HAND])).abs() > 0.2);
    // Each as far as its distance has it: ahead·(tan(a + 4°) − tan a) up, by cos
    // of its turn on the filter, with tan a its line above the middle.
    let others = reply["others"].as_array().unwrap();
    assert_eq!(others.len(), 2);
    for (&(ahead, turn, line, _), other) in OTHERS.iter().zip(others) {
        let cos = turn.to_radians().cos();
        let slope = line / cos / ahead;
        let slid = ((slope.atan() + 4f64.to_radians()).tan() - slope) * ahead * cos;
        near("move", "slide", number(other, "slideUpMm"), slid, 1e-9);
        assert!(number(other, "slideDownMm").abs() < 1e-12);
    }
    asked["others"][1]["rotationDeg"] = json!(1e9);
    let refused = call("lineMotion", &asked).unwrap_err();
    assert_eq!(refused.field, "others[1].rotationDeg");
}
