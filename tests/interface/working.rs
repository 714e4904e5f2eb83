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
        }
    }
    // A lens that bends its picture has more to it than these terms: none are told.
    let mut bent = lens(false, json!({"shape": "circle", "diameterMm": 110}));
    bent["distortion"] = json!(0.1);
    assert_eq!(answered("fit", &bent).get("working"), None);
}
