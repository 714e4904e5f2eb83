//! Openings before a traced lens, and the room that its light truly has in them.

use crate::number;
use serde_json::{Value, json};

const DISTANCES: [f64; 3] = [10.0, 40.0, 80.0];
const ROUND: [f64; 3] = [65.0, 91.0, 123.0];
const PANELS: [(f64, f64); 2] = [(95.0, 95.0), (156.0, 156.0)];

/// Fifteen openings before a lens.
#[must_use]
pub fn openings() -> Vec<Value> {
    let mut all = Vec::new();
    for distance in DISTANCES {
        // No two openings stand in one place.
        let mut at = distance;
        let mut add = |mut shape: Value| {
            shape["distanceFromRimMm"] = at.into();
            shape["name"] = format!("{}", all.len()).into();
            all.push(shape);
            at += 0.01;
        };
        for diameter in ROUND {
            add(json!({"shape": "circle", "diameterMm": diameter}));
        }
        for (width, height) in PANELS {
            add(json!({"shape": "rectangle", "widthMm": width, "heightMm": height}));
        }
    }
    all
}

/// The room that the traced light has: corner, side and top of a 3:2 picture.
///
/// # Panics
///
/// On another shape of file.
#[must_use]
pub fn truth(view: &Value, front: f64, opening: &Value) -> f64 {
    let ahead = number(opening, "distanceFromRimMm");
    let mut least = f64::INFINITY;
    for point in view["points"].as_array().unwrap() {
        let share = number(point, "share");
        let (across, up) = match share {
            1.0 => (0.832, 0.5547),
            0.832 => (1.0, 0.0),
            _ => (0.0, 1.0),
        };
        let moved = ahead * number(point, "tangent");
        for edge in point["edgeMm"].as_array().unwrap() {
            let (right, out) = (edge[0].as_f64().unwrap(), edge[1].as_f64().unwrap());
            for right in [right, -right] {
                // What comes in beyond the front does not come in.
                let far = right.hypot(out);
                let within = (front / 2.0 / far).min(1.0);
                let (right, out) = (right * within, out * within + moved);
                let x = out * across - right * up;
                let y = out * up + right * across;
                let room = if opening["shape"] == "circle" {
                    number(opening, "diameterMm") / 2.0 - x.hypot(y)
                } else {
                    (number(opening, "widthMm") / 2.0 - x.abs())
                        .min(number(opening, "heightMm") / 2.0 - y.abs())
                };
                least = least.min(room);
            }
        }
    }
    least
}

/// What `fit` is asked of a view when nothing but its stops is told of the lens.
///
/// # Panics
///
/// On another shape of file.
#[must_use]
pub fn asked(lens: &Value, view: &Value) -> Value {
    let corner = number(view, "cornerMm");
    let widest = (lens["views"].as_array().unwrap().iter())
        .map(|view| number(view, "fNumber"))
        .fold(f64::INFINITY, f64::min);
    // Literal numbers, not labels.
    let literal = |number: f64| number * (1.0 + 1e-12);
    json!({
        "sensor": {"widthMm": 2.0 * 0.832 * corner, "heightMm": 2.0 * 0.5547 * corner},
        "focalLengthMm": lens["focalLengthMm"],
        "fNumber": literal(number(view, "fNumber")),
        "widestFNumber": literal(widest),
        "openings": openings(),
    })
}
