//! Every other answer with a number in it, turned round: forth by the question, back
//! by `solve`.

use crate::solved::{Dice, Way, goes_back, graduated, way};
use serde_json::{Value, json};

fn two_places(dice: &mut Dice) -> Value {
    let mut request = graduated(dice);
    let more = json!({"bright": {"aperture": 22, "atFrameHeight": 0.9}, "dark": {"aperture": 8, "atFrameHeight": 0.1},
        "allowedStops": 1, "lineAtFrameHeight": dice.between(0.4, 0.6),
        "grads": [{"id": "grad", "profile": {"kind": "soft", "density": 0.6, "rampMm": dice.between(5.0, 30.0)}}]});
    let fields = request.as_object_mut().unwrap();
    for gone in ["profile", "heights", "lineHeightMm", "skylineShare"] {
        fields.remove(gone);
    }
    fields.extend(more.as_object().unwrap().clone());
    request
}

fn hangs(dice: &mut Dice) -> Value {
    json!({"items": [{"name": "box", "massG": dice.between(100.0, 2000.0), "distanceFromRimMm": dice.between(0.0, 200.0)}],
        "pivotBehindRimMm": dice.between(10.0, 300.0), "counterArmMm": dice.between(50.0, 400.0)})
}

fn ghost(dice: &mut Dice) -> Value {
    json!({"between": "twoPlates", "focalLengthMm": dice.ratio(18.0, 200.0), "lampMm": dice.between(-12.0, 12.0),
        "tiltDeg": 1, "reflectances": [0.04, dice.between(0.01, 0.2)]})
}

fn sensor() -> Value {
    json!({"widthMm": 24.89, "heightMm": 18.66})
}

fn ring(dice: &mut Dice) -> Value {
    json!({"sensor": sensor(), "focalLengthMm": dice.ratio(18.0, 60.0), "fNumber": dice.between(2.8, 8.0),
        "ringDiameterMm": dice.between(70.0, 120.0), "darkensFromMm": 5})
}

fn front(dice: &mut Dice) -> Value {
    json!({"sensor": sensor(), "focalLengthMm": dice.ratio(18.0, 60.0), "widestFNumber": 2.8, "frontDiameterMm": 90})
}

fn cards(dice: &mut Dice) -> Value {
    json!({"nearMm": dice.between(50.0, 150.0), "nearHeightMm": dice.between(20.0, 60.0), "farMm": 400,
        "farHeightMm": dice.between(120.0, 200.0)})
}

fn plate(dice: &mut Dice) -> Value {
    json!({"focalLengthMm": dice.ratio(18.0, 200.0), "fNumber": 2.8, "circleMm": 0.025, "behind": [{"thicknessMm": dice.between(1.0, 4.0)}]})
}

fn pieces(dice: &mut Dice) -> Value {
    json!({"pieces": [{"id": "a", "kind": "nd", "density": 0.9, "infraredDensity": dice.between(0.0, 0.9)}, {"id": "b", "kind": "nd", "density": dice.between(0.0, 1.2)}]})
}

fn flag(dice: &mut Dice) -> Value {
    json!({"sensor": sensor(), "focalLengthMm": 75, "fNumber": 2.8, "pupilBehindRimMm": 40,
        "glass": {"widthMm": 120, "heightMm": 100, "distanceFromRimMm": 15},
        "flag": {"side": "top", "hingeFromAxisMm": dice.between(60.0, 90.0), "hingeFromRimMm": dice.between(30.0, 80.0)},
        "lamp": {"rightMm": 0, "upMm": dice.between(1800.0, 2400.0), "aheadMm": dice.between(1200.0, 2000.0)}})
}

fn extended(dice: &mut Dice) -> Value {
    json!({"focalLengthMm": 100, "aperture": dice.ratio(2.0, 11.0), "extender": dice.between(1.1, 2.0)})
}

fn place(dice: &mut Dice) -> Value {
    json!({"latitudeDeg": dice.between(-60.0, 60.0), "longitudeDeg": dice.between(-180.0, 180.0), "time": "2031-05-04T12:00:00Z"})
}

fn through(dice: &mut Dice) -> Value {
    let brightest = dice.ratio(2.0, 11.0);
    json!({"bareAperture": 22, "brightestAperture": brightest, "darkestAperture": brightest * dice.between(0.6, 0.99)})
}

fn lamps(dice: &mut Dice) -> Value {
    json!({"frameRate": dice.between(12.0, 48.0), "shutterAngleDeg": dice.between(20.0, 340.0), "mainsHz": [50]})
}

const LEFT: &str = "grads[0].leftStops";
const MOMENT: &str = "momentNm";

/// Each with how often: those that integrate or trace seldom, the others often.
fn ways() -> Vec<(Way, usize)> {
    vec![
        (
            way(
                "skyAndGround",
                two_places,
                "grads[0].profile.density",
                (0.0, 2.0),
                LEFT,
            ),
            20,
        ),
        (
            way(
                "skyAndGround",
                two_places,
                "bright.aperture",
                (8.0, 64.0),
                LEFT,
            ),
            20,
        ),
        (
            way("weight", hangs, "items[0].massG", (1.0, 5000.0), MOMENT),
            200,
        ),
        (
            way(
                "weight",
                hangs,
                "items[0].distanceFromRimMm",
                (0.0, 400.0),
                MOMENT,
            ),
            200,
        ),
        (
            way(
                "weight",
                hangs,
                "counterArmMm",
                (10.0, 1000.0),
                "counterweightG",
            ),
            200,
        ),
        (way("ghost", ghost, "tiltDeg", (0.0, 8.0), "ghostMm"), 200),
        (way("ghost", ghost, "lampMm", (-14.0, 14.0), "ghostMm"), 200),
        (
            way(
                "pupilByRing",
                ring,
                "darkensFromMm",
                (0.0, 30.0),
                "nearestMm",
            ),
            40,
        ),
        (
            way(
                "pupilByFront",
                front,
                "frontDiameterMm",
                (40.0, 200.0),
                "farthestMm",
            ),
            200,
        ),
        (
            way(
                "pupilByTwoCards",
                cards,
                "nearHeightMm",
                (5.0, 110.0),
                "pupilBehindRimMm",
            ),
            200,
        ),
        (
            way(
                "behindLens",
                plate,
                "behind[0].thicknessMm",
                (0.1, 10.0),
                "shiftMm",
            ),
            200,
        ),
        (
            way(
                "infrared",
                pieces,
                "pieces[0].density",
                (0.0, 4.0),
                "excessDensity",
            ),
            200,
        ),
        (
            way(
                "flag",
                flag,
                "flag.hingeFromRimMm",
                (20.0, 120.0),
                "shortestMm",
            ),
            40,
        ),
        (
            way("flag", flag, "lamp.upMm", (1500.0, 3000.0), "longestMm"),
            40,
        ),
        (
            way(
                "workingStop",
                extended,
                "extender",
                (1.05, 3.0),
                "focalLengthMm",
            ),
            200,
        ),
        (
            way(
                "sunImage",
                extended_sun,
                "focalLengthMm",
                (10.0, 1200.0),
                "diameterMm",
            ),
            200,
        ),
        (
            way(
                "measuredPolarizer",
                through,
                "bareAperture",
                (16.0, 40.0),
                "lossStops",
            ),
            200,
        ),
        (
            way(
                "measuredPolarizer",
                through,
                "brightestAperture",
                (11.0, 32.0),
                "polarization",
            ),
            200,
        ),
        (
            way(
                "flicker",
                lamps,
                "frameRate",
                (10.0, 60.0),
                "mains[0].bands",
            ),
            200,
        ),
        (
            way(
                "flicker",
                lamps,
                "shutterAngleDeg",
                (10.0, 350.0),
                "mains[0].given.ripple",
            ),
            200,
        ),
        (
            way(
                "flicker",
                lamps,
                "shutterAngleDeg",
                (10.0, 350.0),
                "mains[0].given.nearestLossStops",
            ),
            200,
        ),
        (
            way("sun", place, "latitudeDeg", (-89.0, 89.0), "elevationDeg"),
            40,
        ),
    ]
}

fn extended_sun(dice: &mut Dice) -> Value {
    json!({"focalLengthMm": 400, "aperture": dice.ratio(1.4, 22.0)})
}

#[test]
fn the_other_answers_go_forth_and_back() {
    let mut tried = 0;
    for (way, times) in ways() {
        let start = std::time::Instant::now();
        let found = goes_back(&way, times);
        println!(
            "{} by {}: {found} of {times}, {:?}",
            way.question,
            way.unknown,
            start.elapsed()
        );
        tried += found;
        assert!(
            found * 10 >= times * 7,
            "{} by {}: only {found} of {times}",
            way.question,
            way.unknown
        );
    }
    assert!(tried > 2000, "{tried} set-ups");
}
