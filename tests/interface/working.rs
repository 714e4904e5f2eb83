//! The working shown: each formula, read by a reader of its own, gives the value
//! beside it, and the last of them are the answer's own figures.

use glasscall_tests::{answered, number};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Reads plain notation: sums, products, powers, brackets, a few functions.
struct Reader<'a> {
    left: &'a str,
    symbols: &'a BTreeMap<String, f64>,
}

impl Reader<'_> {
    fn next(&mut self) -> Option<char> {
        self.left = self.left.trim_start();
        self.left.chars().next()
    }

    fn takes(&mut self, sign: char) -> bool {
        let is = self.next() == Some(sign);
        if is {
            self.left = &self.left[sign.len_utf8()..];
        }
        is
    }

    fn sum(&mut self) -> f64 {
        let mut value = self.product();
        loop {
            if self.takes('+') {
                value += self.product();
            } else if self.takes('-') {
                value -= self.product();
            } else {
                return value;
            }
        }
    }

    fn product(&mut self) -> f64 {
        let mut value = self.power();
        loop {
            if self.takes('*') {
                value *= self.power();
            } else if self.takes('/') {
                value /= self.power();
            } else {
                return value;
            }
        }
    }

    fn power(&mut self) -> f64 {
        if self.takes('-') {
            return -self.power();
        }
        let base = self.atom();
        if self.takes('^') {
            base.powf(self.power())
        } else {
            base
        }
    }

    fn atom(&mut self) -> f64 {
        if self.takes('(') {
            let value = self.sum();
            assert!(self.takes(')'), "a bracket stays open before {}", self.left);
            return value;
        }
        let end = self
            .left
            .find(|sign: char| !sign.is_alphanumeric() && sign != '.')
            .unwrap_or(self.left.len());
        let (word, left) = self.left.split_at(end);
        self.left = left;
        if let Ok(value) = word.parse() {
            return value;
        }
        if !self.takes('(') {
            return *self
                .symbols
                .get(word)
                .unwrap_or_else(|| panic!("no symbol {word}"));
        }
        let mut given = vec![self.sum()];
        while self.takes(',') {
            given.push(self.sum());
        }
        assert!(self.takes(')'), "{word} stays open before {}", self.left);
        let one = given[0];
        match word {
            "sqrt" => one.sqrt(),
            "log2" => one.log2(),
            "log10" => one.log10(),
            "abs" => one.abs(),
            "sin" => one.to_radians().sin(),
            "cos" => one.to_radians().cos(),
            "tan" => one.to_radians().tan(),
            "asin" => one.asin().to_degrees(),
            "acos" => one.acos().to_degrees(),
            "atan" => one.atan().to_degrees(),
            "atan2" => one.atan2(given[1]).to_degrees(),
            "round" => one.round(),
            "floor" => one.floor(),
            "min" => given.into_iter().fold(f64::INFINITY, f64::min),
            "max" => given.into_iter().fold(f64::NEG_INFINITY, f64::max),
            _ => panic!("no function {word}"),
        }
    }
}

/// Works every term out anew from those before it; gives all by symbol.
pub fn worked(id: &str, reply: &Value) -> BTreeMap<String, f64> {
    let mut symbols = BTreeMap::new();
    let terms = reply["working"]
        .as_array()
        .unwrap_or_else(|| panic!("{id}: no working"));
    for term in terms {
        let symbol = term["symbol"].as_str().unwrap().to_owned();
        let value = number(term, "value");
        if let Some(formula) = term["formula"].as_str() {
            let mut reader = Reader {
                left: formula,
                symbols: &symbols,
            };
            let found = reader.sum();
            assert_eq!(
                reader.left.trim(),
                "",
                "{id}: {formula} is not read to its end"
            );
            assert!(
                (found - value).abs() <= 1e-12 * value.abs().max(1.0),
                "{id}: {symbol} = {formula} = {found}, {value} is shown"
            );
            assert!(
                term["source"].is_string() || symbol == "l",
                "{id}: {symbol} has no source"
            );
        }
        assert!(
            symbols.insert(symbol.clone(), value).is_none(),
            "{id}: {symbol} stands twice"
        );
    }
    symbols
}

#[test]
fn the_main_answer_is_worked_out_from_its_terms() {
    let settings = |aperture: f64, index: f64, rate: f64| json!({"aperture": aperture, "exposureIndex": index, "frameRate": rate, "shutterAngleDeg": 172.8});
    let mut reading = settings(11.0, 800.0, 25.0);
    reading["through"] = json!(["pola", "0.9"]);
    let request = json!({"reading": reading, "shot": settings(2.8, 400.0, 50.0), "explain": true,
        "kit": [{"id": "0.9", "kind": "nd", "density": 0.9}, {"id": "0.6", "kind": "nd", "density": 0.6, "measuredDensity": 0.63},
            {"id": "pola", "kind": "polarizer"}, {"id": "stated", "kind": "nd", "lossStops": 0.5}],
        "rig": {"slots": [{"id": "1"}, {"id": "2", "rotates": true}, {"id": "3"}]},
        "keep": ["0.6", "pola"], "wheel": [0.6, 1.2]});
    let reply = answered("openUp", &request);
    let terms = worked("main", &reply);
    let stack = &reply["stacks"][0];
    // The very figures of the answer.
    assert_eq!(terms["n"], number(&reply, "needStops"));
    assert_eq!(terms["l"], number(stack, "leftOverStops"));
    assert_eq!(terms["u"], number(&stack["uncertainty"], "stops"));
    assert_eq!(terms["N"], number(stack, "apertureToSet"));
    // T11 is 7 stops from T1 as engraved; half a stop of EI and one of rate less, by hand.
    assert!((terms["k0"] - 7.0).abs() < 1e-12 && (terms["k1"] - 3.0).abs() < 1e-12);
    assert!((terms["c"] + 2.0).abs() < 1e-12);
    // Nobody asked: nothing is told.
    let mut quiet = request;
    quiet["explain"] = json!(false);
    assert_eq!(answered("openUp", &quiet).get("working"), None);
}

#[test]
fn a_time_is_a_term_where_no_angle_was_given() {
    let request = json!({"reading": {"aperture": 8, "exposureIndex": 100, "frameRate": 24, "shutterSeconds": 0.02},
        "shot": {"aperture": 4, "exposureIndex": 100, "frameRate": 24, "shutterSeconds": 0.01}, "explain": true});
    let reply = answered("openUp", &request);
    let terms = worked("times", &reply);
    assert_eq!(terms["t0"], 0.02);
    assert!(!terms.contains_key("w0"));
    assert_eq!(terms["n"], number(&reply, "needStops"));
}

#[test]
fn the_least_room_is_worked_out_where_a_few_terms_tell_it() {
    let lens = |turns: bool, shape: Value| {
        let mut opening = json!({"name": "stage", "distanceFromRimMm": 24, "turns": turns});
        opening
            .as_object_mut()
            .unwrap()
            .extend(shape.as_object().unwrap().clone());
        json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 2.8, "squeeze": 1,
            "pupilBehindRimMm": 40, "explain": true, "openings": [opening]})
    };
    for turns in [false, true] {
        for shape in [
            json!({"shape": "circle", "diameterMm": 110}),
            json!({"shape": "rectangle", "widthMm": 134, "heightMm": 95}),
        ] {
            let reply = answered("fit", &lens(turns, shape));
            let terms = worked("fit", &reply);
            assert!((terms["r"] - number(&reply, "spareMm")).abs() <= 1e-9);
            assert!((terms["u"] - number(&reply["spareKnown"], "mm")).abs() <= 1e-9);
        }
    }
    // A pupil that grows before a tray has more to it than these terms: none are told.
    let mut grown = lens(
        false,
        json!({"shape": "rectangle", "widthMm": 134, "heightMm": 95}),
    );
    grown["pupilGrowth"] = json!(0.4);
    assert_eq!(answered("fit", &grown).get("working"), None);
}

#[test]
fn the_room_is_told_of_lenses_that_bend_breathe_or_are_known_by_their_front() {
    let asked = |lens: Value, opening: Value| {
        let mut request = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 2.8,
            "explain": true, "openings": [{"name": "stage", "distanceFromRimMm": 24, "shape": "circle", "diameterMm": 110}]});
        (request.as_object_mut().unwrap()).extend(lens.as_object().unwrap().clone());
        (request["openings"][0].as_object_mut().unwrap())
            .extend(opening.as_object().unwrap().clone());
        request
    };
    let none = || json!({});
    let known = || json!({"pupilBehindRimMm": 40});
    for (lens, opening) in [
        (json!({"frontDiameterMm": 80}), none()),
        (
            json!({"pupilBehindRimMm": {"nearestMm": 20, "farthestMm": 45}}),
            none(),
        ),
        (
            json!({"pupilBehindRimMm": 40, "distortion": 0.05, "pupilGrowth": 0.4}),
            none(),
        ),
        (
            json!({"pupilBehindRimMm": 40, "close": {"focalLengthMm": 32}}),
            none(),
        ),
        (
            json!({"pupilBehindRimMm": 40, "close": {"pupilBehindRimMm": 50}}),
            none(),
        ),
        (known(), json!({"depthMm": 30})),
        (known(), json!({"offsetXMm": 4, "offsetYMm": -3})),
        (json!({"pupilBehindRimMm": 40, "shiftXMm": 2}), none()),
        (json!({"pupilBehindRimMm": 40, "shiftYMm": -2}), none()),
    ] {
        let request = asked(lens, opening);
        let reply = answered("fit", &request);
        let terms = worked(&request.to_string(), &reply);
        assert!((terms["r"] - number(&reply, "spareMm")).abs() <= 1e-9);
        assert!((terms["u"] - number(&reply["spareKnown"], "mm")).abs() <= 1e-9);
    }
}

/// A stage ahead of a lens with its pupil by a figure.
fn grad(more: Value) -> Value {
    let mut request = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 4,
        "pupilBehindRimMm": 40, "distanceFromRimMm": 36, "lineAtFrameHeight": 0.62, "heights": [0.5],
        "profile": {"kind": "hard", "density": 0.9}, "explain": true});
    (request.as_object_mut().unwrap()).extend(more.as_object().unwrap().clone());
    request
}

#[test]
fn a_line_its_blend_and_what_a_step_takes_are_worked_out() {
    for more in [
        json!({}),
        json!({"invert": true, "heights": [0.3]}),
        json!({"rotationDeg": 25, "squeeze": 1.8}),
        json!({"shiftYMm": 2}),
        json!({"heights": [0.99]}),
        json!({"profile": {"kind": "soft", "density": 0.6, "rampMm": 20}}),
        json!({"frontDiameterMm": 90, "pupilBehindRimMm": null}),
    ] {
        let request = grad(more);
        let reply = answered("line", &request);
        let terms = worked(&request.to_string(), &reply);
        assert!((terms["y"] - number(&reply, "lineHeightMm")).abs() < 1e-9);
        assert!((terms["b"] - number(&reply, "blendOfFrame")).abs() < 1e-9);
        assert!((terms["e"] - number(&reply, "slidePerDegreeMm")).abs() < 1e-9);
        if request["profile"]["kind"] == "hard" {
            let first = &reply["heights"][0];
            assert!(
                (terms["k"] - number(first, "stops")).abs() < 1e-8,
                "{request}"
            );
            assert_eq!(terms["u"], number(&first["uncertainty"], "stops"));
        }
    }
    // z = 76 mm, the line 0.12 of 18.66 mm up: 76 · 2.2392/35 mm, by hand.
    let terms = worked("by hand", &answered("line", &grad(json!({}))));
    assert!((terms["y"] - 4.862_263).abs() < 1e-6);
    assert_eq!(
        answered("line", &grad(json!({"distortion": 0.1}))).get("working"),
        None
    );
}

#[test]
fn a_sky_is_worked_out_at_any_turn() {
    for turn in [json!("darkest"), json!(0), json!(37), json!(170)] {
        for roll in [0, 20] {
            let request = json!({"sunAzimuthDeg": 230, "sunElevationDeg": 35, "aimAzimuthDeg": 310, "aimElevationDeg": 12,
                "rollDeg": roll, "sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35,
                "polarizerDeg": turn, "explain": true});
            let reply = answered("sky", &request);
            let terms = worked(&request.to_string(), &reply);
            assert!((terms["y"] - number(&reply, "angleFromSunDeg")).abs() < 1e-9);
            assert!((terms["k"] - number(&reply, "darkeningStops")).abs() < 1e-9);
            // A quarter turn from the darkest.
            let mut turned = request.clone();
            turned["polarizerDeg"] = json!("darkest");
            let darkest = answered("sky", &turned);
            turned["polarizerDeg"] = json!(number(&darkest, "polarizerDeg") + 90.0);
            let change = number(&darkest, "darkeningStops")
                - number(&answered("sky", &turned), "darkeningStops");
            assert!((terms["x"] - change).abs() < 1e-9);
        }
    }
}

#[test]
fn daylight_is_worked_out_at_every_height_on_every_surface() {
    for height in [-15.0, -8.0, -3.0, 0.0, 2.0, 12.0, 45.0, 90.0] {
        for facing in ["level", "sun", "upright", "uprightAway"] {
            let request = json!({"sunElevationDeg": height, "facing": facing, "explain": true});
            let reply = answered("daylight", &request);
            let terms = worked(&request.to_string(), &reply);
            let lit = terms[if facing == "level" { "E" } else { "F" }];
            assert!(
                (lit / number(&reply, "facingLux") - 1.0).abs() < 1e-9,
                "{request}"
            );
            assert!((terms["v"] - number(&reply, "facingEv100")).abs() < 1e-9);
            assert_eq!(terms["u"], number(&reply["uncertainty"], "stops"));
        }
    }
}

#[test]
fn a_trend_is_worked_out_by_line_and_by_the_sky() {
    let readings = json!([{"time": "2026-06-21T17:00:00Z", "aperture": 11}, {"time": "2026-06-21T17:20:00Z", "aperture": 8},
        {"time": "2026-06-21T17:35:00Z", "aperture": 7.1}]);
    let kit = json!([{"id": "0.9", "kind": "nd", "density": 0.9}, {"id": "0.6", "kind": "nd", "density": 0.6},
        {"id": "0.3", "kind": "nd", "density": 0.3, "measuredDensity": 0.32}]);
    let mut request = json!({"readings": readings, "kit": kit, "rig": {"slots": [{"id": "1"}, {"id": "2"}]}, "explain": true,
        "shot": {"aperture": 2.8, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180}});
    for model in ["straight", "clearSky"] {
        request["model"] = json!(model);
        if model == "clearSky" {
            request["place"] = json!({"latitudeDeg": 51, "longitudeDeg": 4});
        }
        let reply = answered("drift", &request);
        let terms = worked(model, &reply);
        assert!((terms["n"] - number(&reply, "needStops")).abs() < 1e-9);
        assert!((terms["o"] - number(&reply["swaps"][0], "needStops")).abs() < 1e-9);
        assert_eq!(terms["u"], number(&reply["start"]["uncertainty"], "stops"));
        if model == "straight" {
            assert!((terms["r"] - number(&reply, "stopsPerHour")).abs() < 1e-9);
        }
    }
    request["readings"] = json!(
        (0..9)
            .map(|nth| json!({"time": format!("2026-06-21T17:0{nth}:00Z"), "aperture": 8}))
            .collect::<Vec<_>>()
    );
    assert_eq!(answered("drift", &request).get("working"), None);
}

#[test]
fn depth_is_worked_out_from_lens_and_from_sensor_near_and_at_infinity() {
    for from in ["lens", "sensor"] {
        for focus in [json!(400), json!(3000), json!(60_000), json!("infinity")] {
            for circle in [
                json!({"circleMm": 0.02}),
                json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}}),
            ] {
                let mut request = json!({"focalLengthMm": 50, "fNumber": 2.8, "focusMm": focus, "measuredFrom": from, "explain": true});
                (request.as_object_mut().unwrap()).extend(circle.as_object().unwrap().clone());
                let reply = answered("depth", &request);
                let terms = worked(&request.to_string(), &reply);
                let near = |symbol: &str, field: &str| {
                    let told = number(&reply, field);
                    assert!(
                        (terms[symbol] - told).abs() <= 1e-9 * told.max(1.0),
                        "{request} {symbol}"
                    );
                };
                near("n", "nearMm");
                near("H", "hyperfocalMm");
                near("d", "diffractionMm");
                near("c", "circleMm");
                if reply["farMm"].is_number() {
                    near("e", "farMm");
                }
            }
        }
    }
}

#[test]
fn a_pair_and_a_reflection_are_worked_out() {
    for request in [
        json!({"angleDeg": 60, "explain": true}),
        json!({"stops": 5, "lossStops": 2, "extinctionRatio": 400, "explain": true}),
    ] {
        let reply = answered("crossedPolarizers", &request);
        let terms = worked("pair", &reply);
        assert!((terms["k"] - number(&reply, "stops")).abs() < 1e-9);
        assert!((terms["u"] - number(&reply["uncertainty"], "stops")).abs() < 1e-9);
    }
    for more in [
        json!({}),
        json!({"surface": "pane"}),
        json!({"extinctionRatio": 100}),
    ] {
        let mut request = json!({"refractiveIndex": 1.333, "angleDeg": 40, "explain": true});
        (request.as_object_mut().unwrap()).extend(more.as_object().unwrap().clone());
        let reply = answered("reflection", &request);
        let terms = worked("reflection", &reply);
        assert!((terms["l"] - number(&reply, "leftByPolarizer")).abs() < 1e-12);
        // tan⁻¹ 1.333, by hand.
        assert!((terms["b"] - 53.123).abs() < 1e-3);
    }
}
