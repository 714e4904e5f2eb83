//! How many of the answers that say “look” no model could settle: for each, is
//! there a lens with the same known facts and the other verdict?
//! `cargo run --release -p glasscall-tests --example undecidable`.
//!
//! The other lens is the same prescription or another published one, scaled to the
//! focal length, that opens as far, covers the picture and has a front of about the
//! same size. What a front does not tell of it may differ: its stop stands
//! elsewhere in its air space, rims inside take some of the corner's light wide
//! open, its glass stands somewhat behind its rim.

use glasscall_tests::before_traced::{asked, truth};
use glasscall_tests::ray_trace::Lens;
use glasscall_tests::{call, number, prescriptions, traced_lenses};
use serde_json::{Value, json};

/// A room nearer to nothing than this is neither verdict.
const TOUCH_MM: f64 = 0.05;
/// How much wider or narrower the front may be than the other prescription was
/// listed with: a thread for its glass, or one a few sizes larger.
const FRONTS: std::ops::RangeInclusive<f64> = 0.9..=1.5;
/// What rims leave of the way from the chief ray to the outer edge. Common
/// practice, no source: half a stop to a stop of the corner's light.
const RIMS_LEAVE: f64 = 0.5;
/// How far the front glass stands behind the rim, in millimetres. Common practice,
/// no source.
const RECESS_MM: f64 = 5.0;
/// Where in its air space the stop may stand, as shares; where it is listed first.
const STOPS: [Option<f64>; 3] = [None, Some(0.05), Some(0.95)];
/// Closed so far no rim takes anything.
const STOPS_TO_FULL: f64 = 2.0;

/// What makes the other lens another one.
#[derive(Default, Clone, Copy, PartialEq, Eq)]
struct Way {
    prescription: bool,
    stop: bool,
    rims: bool,
    recess: bool,
}

/// How many of its four things are other.
impl Way {
    fn changes(self) -> usize {
        [self.prescription, self.stop, self.rims, self.recess]
            .iter()
            .filter(|is| **is)
            .count()
    }
}

fn views(lens: &Value) -> impl Iterator<Item = &Value> {
    lens["views"].as_array().into_iter().flatten()
}

fn widest(lens: &Value) -> f64 {
    (views(lens).map(|view| number(view, "fNumber"))).fold(f64::INFINITY, f64::min)
}

/// A prescription with its stop elsewhere in its air space.
fn with_stop(given: &Value, share: f64) -> Option<Value> {
    let stop = usize::try_from(given["stop"].as_u64()?).ok()?;
    let mut moved = given.clone();
    let way = |at: usize| given["surfaces"][at][1].as_f64();
    let space = way(stop - 1)? + way(stop)?;
    moved["surfaces"][stop - 1][1] = (space * share).into();
    moved["surfaces"][stop][1] = (space * (1.0 - share)).into();
    Some(moved)
}

/// The light of every lens that may be the one at hand, and what is other of it.
fn others(listed: &[Value], at_hand: &Value, view: &Value) -> Vec<(Way, Value)> {
    let given = prescriptions();
    let (front, slowest) = (number(at_hand, "frontMm"), widest(at_hand));
    let (corner, f_number) = (number(view, "cornerMm"), number(view, "fNumber"));
    let focal_length = number(at_hand, "focalLengthMm");
    let closed = 2.0 * (f_number / slowest).log2() >= STOPS_TO_FULL - 1e-9;
    let mut found = Vec::new();
    for lens in listed {
        let scale = focal_length / number(lens, "focalLengthMm");
        let covers = (views(lens).map(|view| number(view, "cornerMm"))).fold(0.0, f64::max);
        if scale * covers < corner - 1e-6
            || widest(lens) > slowest + 1e-9
            || !FRONTS.contains(&(front / (scale * number(lens, "frontMm"))))
        {
            continue;
        }
        let own = given.iter().find(|one| one["id"] == lens["id"]);
        for share in STOPS {
            let moved = own.and_then(|own| match share {
                None => Some(own.clone()),
                Some(share) => with_stop(own, share),
            });
            let Some(mut prescription) = moved else {
                continue;
            };
            prescription["focalLengthMm"] = focal_length.into();
            let Some(light) = traced(&Lens::of(&prescription), corner, f_number) else {
                continue;
            };
            let way = Way {
                prescription: lens["id"] != at_hand["id"],
                stop: share.is_some(),
                ..Way::default()
            };
            for rims in [false, true] {
                if rims && closed {
                    continue;
                }
                let light = if rims {
                    behind_rims(&light)
                } else {
                    light.clone()
                };
                found.push((Way { rims, ..way }, light.clone()));
                let recess = true;
                found.push((
                    Way {
                        rims,
                        recess,
                        ..way
                    },
                    ahead(&light, RECESS_MM),
                ));
            }
        }
    }
    found
}

/// The light of a partner towards the same picture.
fn traced(lens: &Lens, corner: f64, f_number: f64) -> Option<Value> {
    let points: Option<Vec<Value>> = [1.0, 0.832, 0.5547]
        .iter()
        .map(|share| {
            let bundle = lens.bundle(corner * share, f_number)?;
            let edge: Vec<[f64; 2]> = (bundle.edge.iter()).map(|at| [at.0, at.1]).collect();
            Some(json!({"share": share, "tangent": bundle.tangent,
                "chiefMm": bundle.chief, "edgeMm": edge}))
        })
        .collect();
    Some(json!({"points": points?}))
}

/// The same light behind rims inside.
fn behind_rims(view: &Value) -> Value {
    let mut view = view.clone();
    for point in view["points"].as_array_mut().into_iter().flatten() {
        let chief = number(point, "chiefMm");
        for at in point["edgeMm"].as_array_mut().into_iter().flatten() {
            let out = at[1].as_f64().unwrap_or(chief);
            at[1] = (chief + (out - chief) * if out > chief { RIMS_LEAVE } else { 1.0 }).into();
        }
    }
    view
}

/// The same light where it crosses a plane further ahead.
fn ahead(view: &Value, by: f64) -> Value {
    let mut view = view.clone();
    for point in view["points"].as_array_mut().into_iter().flatten() {
        let moved = by * number(point, "tangent");
        point["chiefMm"] = (number(point, "chiefMm") + moved).into();
        for at in point["edgeMm"].as_array_mut().into_iter().flatten() {
            at[1] = (at[1].as_f64().unwrap_or(0.0) + moved).into();
        }
    }
    view
}

/// Which sort of other lens says otherwise.
#[derive(Default, Clone, Copy)]
struct Count {
    asked: usize,
    look: usize,
    prescription: usize,
    stop: usize,
    rims: usize,
    recess: usize,
    /// One of these alone.
    one: usize,
    /// Any of them together.
    any: usize,
}

impl Count {
    fn and(self, other: Self) -> Self {
        Self {
            asked: self.asked + other.asked,
            look: self.look + other.look,
            prescription: self.prescription + other.prescription,
            stop: self.stop + other.stop,
            rims: self.rims + other.rims,
            recess: self.recess + other.recess,
            one: self.one + other.one,
            any: self.any + other.any,
        }
    }

    /// One more answer that says “look”, and what lenses say otherwise.
    fn add(&mut self, otherwise: &[Way]) {
        let alone = |is: fn(&Way) -> bool| {
            usize::from((otherwise.iter()).any(|way| way.changes() == 1 && is(way)))
        };
        self.look += 1;
        self.prescription += alone(|way| way.prescription);
        self.stop += alone(|way| way.stop);
        self.rims += alone(|way| way.rims);
        self.recess += alone(|way| way.recess);
        self.one += alone(|_| true);
        self.any += usize::from(!otherwise.is_empty());
    }

    fn print(self, name: &str) {
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let of = |part: usize| 100.0 * part as f64 / self.asked as f64;
        println!(
            "{name}: {} asked, look {:.1} %; other by its prescription {:.1}, its stop {:.1}, \
             rims {:.1}, the depth of its glass {:.1}, one of these {:.1}, several {:.1} %",
            self.asked,
            of(self.look),
            of(self.prescription),
            of(self.stop),
            of(self.rims),
            of(self.recess),
            of(self.one),
            of(self.any),
        );
    }
}

fn main() {
    let listed = traced_lenses();
    let mut counts = [Count::default(); 2];
    for (nth, lens) in listed.iter().enumerate() {
        let front = number(lens, "frontMm");
        let count = &mut counts[usize::from(lens["chosenWith"] != true)];
        for (at, view) in views(lens).enumerate() {
            // The quarter that the test takes.
            if (nth + at) % 4 > 0 {
                continue;
            }
            let mut request = asked(lens, view);
            request["frontDiameterMm"] = front.into();
            let Ok(reply) = call("fit", &request) else {
                continue;
            };
            let others = others(&listed, lens, view);
            let openings = request["openings"].as_array().into_iter().flatten();
            let told = reply["openings"].as_array().into_iter().flatten();
            for (opening, told) in openings.zip(told) {
                count.asked += 1;
                if told["trust"] != "look" {
                    continue;
                }
                let room = truth(view, front, opening);
                let otherwise: Vec<Way> = (others.iter())
                    .filter(|(_, light)| {
                        let other = truth(light, front, opening);
                        room.abs().min(other.abs()) > TOUCH_MM && (room > 0.0) != (other > 0.0)
                    })
                    .map(|(way, _)| *way)
                    .collect();
                count.add(&otherwise);
            }
        }
    }
    let [one, other] = counts;
    one.and(other).print("all");
    one.print("seventeen");
    other.print("thirteen");
}
