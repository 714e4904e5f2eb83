//! Any number the unknown: forth by the question, back by `solve`.

use glasscall_tests::{answered, call, near, number};
use serde_json::{Value, json};

/// The same dice every run (Lehmer, modulus 2^31 − 1).
pub(crate) struct Dice(u64);

impl Dice {
    /// From 0 to 1, ends apart.
    fn share(&mut self) -> f64 {
        self.0 = self.0 * 48271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    pub(crate) fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.share()
    }

    pub(crate) fn ratio(&mut self, from: f64, to: f64) -> f64 {
        from * (to / from).powf(self.share())
    }
}

/// One way round: a question, what is unknown in it, what is looked at.
pub(crate) struct Way {
    pub(crate) question: &'static str,
    set_up: fn(&mut Dice) -> Value,
    pub(crate) unknown: &'static str,
    range: (f64, f64),
    told: &'static str,
}

/// A path as a JSON pointer.
fn pointer(path: &str) -> String {
    format!(
        "/{}",
        path.replace('[', "/").replace(']', "").replace('.', "/")
    )
}

fn with(request: &Value, path: &str, value: f64) -> Value {
    let mut request = request.clone();
    let (parents, name) = path.rsplit_once('.').unwrap_or(("", path));
    let parent = if parents.is_empty() {
        &mut request
    } else {
        request.pointer_mut(&pointer(parents)).unwrap()
    };
    parent[name] = json!(value);
    request
}

fn forth(way: &Way, request: &Value, value: f64) -> Option<f64> {
    let reply = call(way.question, &with(request, way.unknown, value)).ok()?;
    reply.pointer(&pointer(way.told))?.as_f64()
}

/// Goes forth at a random place and comes back to it; how often it could.
pub(crate) fn goes_back(way: &Way, times: usize) -> usize {
    let mut dice = Dice(u64::try_from(times).unwrap() + way.unknown.len() as u64);
    let (from, to) = way.range;
    let mut tried = 0;
    for _ in 0..times {
        let request = (way.set_up)(&mut dice);
        let there = if from > 0.0 && to / from > 30.0 {
            dice.ratio(from, to)
        } else {
            dice.between(from, to)
        };
        let Some(told) = forth(way, &request, there) else {
            continue;
        };
        tried += 1;
        let reply = answered(
            "solve",
            &json!({"question": way.question, "request": request,
                "unknown": {"path": way.unknown, "from": from, "to": to},
                "wanted": {"path": way.told, "is": told}}),
        );
        let met = reply["met"].as_array().unwrap();
        let id = format!("{} by {} at {there}", way.question, way.unknown);
        for one in met.iter().filter(|one| one["steps"] == false) {
            near(
                &id,
                way.told,
                number(one, "gives"),
                told,
                1e-9 * told.abs().max(1.0),
            );
        }
        // As near as the answer can tell places apart.
        let step = 1e-6 * there.abs().max(1e-3);
        let slope = [there - step, there + step].map(|at| forth(way, &request, at));
        let slope = match slope {
            [Some(left), Some(right)] => ((right - left) / (2.0 * step)).abs(),
            _ => 0.0,
        };
        let apart = 1e-9 * there.abs().max(1.0) + 4e-9 * told.abs().max(1.0) / slope.max(1e-12);
        let back = met
            .iter()
            .any(|one| number(one, "from") - apart <= there && there <= number(one, "to") + apart);
        assert!(back, "{id}: {told} is met at {met:?}");
    }
    tried
}

fn settings(dice: &mut Dice) -> Value {
    json!({"aperture": dice.ratio(1.1, 30.0), "exposureIndex": dice.ratio(50.0, 12800.0).round(),
        "frameRate": dice.ratio(8.0, 240.0), "shutterAngleDeg": dice.between(20.0, 360.0)})
}

/// This glass is in and stays.
fn stack(dice: &mut Dice) -> Value {
    let mut kit = vec![json!({"id": "A", "kind": "nd", "density": dice.between(0.1, 2.4)})];
    if dice.share() > 0.5 {
        kit.push(json!({"id": "B", "kind": "polarizer", "lossStops": dice.between(1.0, 2.3)}));
    }
    let keep: Vec<Value> = kit.iter().map(|piece| piece["id"].clone()).collect();
    json!({"reading": settings(dice), "shot": settings(dice), "kit": kit, "keep": keep,
        "rig": {"slots": [{"id": "1"}, {"id": "2", "rotates": true}]}, "limit": 1})
}

fn light(dice: &mut Dice) -> Value {
    let mut light = settings(dice);
    light["receptor"] = json!(if dice.share() > 0.5 { "dome" } else { "flat" });
    light
}

fn lens(dice: &mut Dice) -> Value {
    json!({"sensor": {"widthMm": dice.between(20.0, 36.0), "heightMm": dice.between(12.0, 24.0)},
        "focalLengthMm": dice.ratio(18.0, 135.0), "fNumber": dice.ratio(1.4, 16.0),
        "pupilBehindRimMm": dice.between(10.0, 60.0)})
}

fn fit(dice: &mut Dice) -> Value {
    let mut lens = lens(dice);
    lens["openings"] = json!([{"name": "tray", "distanceFromRimMm": dice.between(5.0, 60.0),
        "shape": "rectangle", "widthMm": dice.between(90.0, 140.0), "heightMm": dice.between(70.0, 100.0)}]);
    lens
}

pub(crate) fn graduated(dice: &mut Dice) -> Value {
    let mut line = lens(dice);
    line["distanceFromRimMm"] = json!(dice.between(5.0, 60.0));
    line["profile"] = json!({"kind": "soft", "density": dice.between(0.3, 1.2), "rampMm": dice.between(5.0, 40.0)});
    line["lineHeightMm"] = json!(dice.between(-10.0, 10.0));
    line["heights"] = json!([dice.share()]);
    line
}

fn sky(dice: &mut Dice) -> Value {
    json!({"sunAzimuthDeg": dice.between(0.0, 360.0), "sunElevationDeg": dice.between(0.0, 60.0),
        "aimAzimuthDeg": 0, "aimElevationDeg": dice.between(0.0, 40.0),
        "sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 50, "polarizerDeg": "darkest"})
}

pub(crate) const fn way(
    question: &'static str,
    set_up: fn(&mut Dice) -> Value,
    unknown: &'static str,
    range: (f64, f64),
    told: &'static str,
) -> Way {
    Way {
        question,
        set_up,
        unknown,
        range,
        told,
    }
}

pub(crate) const LEFT: &str = "stacks[0].leftOverStops";

#[test]
fn ten_thousand_set_ups_go_forth_and_back() {
    let ways = [
        (
            way("openUp", stack, "shot.exposureIndex", (25.0, 25600.0), LEFT),
            120,
        ),
        (
            way("openUp", stack, "shot.frameRate", (1.0, 1000.0), LEFT),
            120,
        ),
        (
            way("openUp", stack, "shot.shutterAngleDeg", (5.0, 360.0), LEFT),
            120,
        ),
        (
            way("openUp", stack, "shot.aperture", (1.0, 64.0), LEFT),
            120,
        ),
        (
            way("openUp", stack, "reading.aperture", (1.0, 64.0), LEFT),
            120,
        ),
        (
            way("openUp", stack, "kit[0].density", (0.0, 3.0), LEFT),
            120,
        ),
        (
            way("exposure", light, "aperture", (1.0, 64.0), "illuminanceLux"),
            1300,
        ),
        (
            way(
                "exposure",
                light,
                "exposureIndex",
                (25.0, 25600.0),
                "luminanceCdM2",
            ),
            1300,
        ),
        (
            way("exposure", light, "frameRate", (1.0, 1000.0), "ev100"),
            1300,
        ),
        (
            way(
                "fit",
                fit,
                "focalLengthMm",
                (14.0, 200.0),
                "openings[0].spareMm",
            ),
            35,
        ),
        (
            way("fit", fit, "fNumber", (1.0, 32.0), "openings[0].spareMm"),
            35,
        ),
        (
            way(
                "fit",
                fit,
                "openings[0].distanceFromRimMm",
                (0.0, 150.0),
                "openings[0].spareMm",
            ),
            35,
        ),
        (
            way(
                "fit",
                fit,
                "pupilBehindRimMm",
                (0.0, 100.0),
                "openings[0].spareMm",
            ),
            35,
        ),
        (
            way("line", graduated, "fNumber", (1.0, 32.0), "blendOfFrame"),
            35,
        ),
        (
            way(
                "line",
                graduated,
                "lineHeightMm",
                (-20.0, 20.0),
                "heights[0].stops",
            ),
            35,
        ),
        (
            way(
                "line",
                graduated,
                "profile.density",
                (0.0, 1.5),
                "heights[0].stops",
            ),
            35,
        ),
        (
            way(
                "depth",
                |dice| {
                    json!({"focalLengthMm": dice.ratio(18.0, 200.0), "fNumber": 4,
            "focusMm": dice.ratio(1000.0, 50_000.0), "circleMm": dice.between(0.01, 0.04)})
                },
                "fNumber",
                (1.0, 32.0),
                "nearMm",
            ),
            800,
        ),
        (
            way(
                "daylight",
                |_| json!({}),
                "sunElevationDeg",
                (-17.0, 90.0),
                "illuminanceLux",
            ),
            600,
        ),
        (
            way(
                "crossedPolarizers",
                |_| json!({}),
                "angleDeg",
                (0.0, 90.0),
                "stops",
            ),
            1600,
        ),
        (
            way(
                "reflection",
                |dice| json!({"refractiveIndex": dice.between(1.1, 2.5)}),
                "angleDeg",
                (0.0, 90.0),
                "rp",
            ),
            1200,
        ),
        (
            way(
                "convertDensity",
                |_| json!({}),
                "density",
                (0.0, 12.0),
                "factor",
            ),
            1300,
        ),
        (
            way("sky", sky, "aimAzimuthDeg", (0.0, 360.0), "darkeningStops"),
            35,
        ),
    ];
    let tried: usize = std::thread::scope(|scope| {
        let threads: Vec<_> = (ways.iter())
            .map(|(way, times)| {
                scope.spawn(move || {
                    let start = std::time::Instant::now();
                    let tried = goes_back(way, *times);
                    println!(
                        "{} by {}: {tried} of {times}, {:?}",
                        way.question,
                        way.unknown,
                        start.elapsed()
                    );
                    assert!(
                        tried * 10 >= *times * 9,
                        "{} by {}: only {tried}",
                        way.question,
                        way.unknown
                    );
                    tried
                })
            })
            .collect();
        threads
            .into_iter()
            .map(|thread| thread.join().unwrap())
            .sum()
    });
    assert!(tried >= 10_000, "{tried} set-ups");
}
