//! `coverKit`, `orderDay`, `rings` and `weight` through the public interface.

use glasscall_tests::{call, cases, expect_reply, law, near, number};
use serde_json::{Value, json};

fn answered(function: &str, request: &Value) -> Value {
    call(function, request).unwrap_or_else(|refusal| panic!("{request}: {}", refusal.message()))
}

fn refused(function: &str, request: &Value) -> (Value, String) {
    let refusal = call(function, request).expect_err("a refusal");
    (
        serde_json::to_value(refusal.code).unwrap(),
        refusal.field.clone(),
    )
}

fn texts(value: &Value) -> Vec<&str> {
    value
        .as_array()
        .unwrap()
        .iter()
        .filter_map(Value::as_str)
        .collect()
}

#[test]
fn covers_cost_what_an_integer_programming_library_proved() {
    for case in cases("cover_kit") {
        let reply = answered(&case.function, &case.request);
        expect_reply(&case.id, &reply, &case.expect, &case.tolerance);
        assert_eq!(reply["proven"], true, "{}", case.id);
        assert_eq!(reply["leastCost"], reply["cost"], "{}", case.id);
        // The chosen set costs what is said.
        let price = |id: &Value| {
            let catalogue = case.request["catalogue"].as_array().unwrap();
            number(
                catalogue.iter().find(|ware| ware["id"] == *id).unwrap(),
                "cost",
            )
        };
        let chosen = reply["chosen"].as_array().unwrap();
        let paid: f64 = (chosen.iter())
            .map(|chosen| price(&chosen["piece"]) * number(chosen, "count"))
            .sum();
        near(
            &case.id,
            "cost of the set",
            paid,
            number(&reply, "cost"),
            0.0,
        );
        for (need, served) in (case.request["needs"].as_array().unwrap().iter())
            .zip(reply["served"].as_array().unwrap())
            .filter(|(_, served)| served["can"] == true)
        {
            let off = number(served, "leftOverStops").abs();
            assert!(off <= number(need, "toleranceStops") + 1e-9, "{}", case.id);
            assert!(texts(&served["pieces"]).len() as f64 <= number(need, "slots"));
        }
    }
}

/// A law's kit as the interface takes it; milli-densities are exact there.
fn kit(given: &Value) -> Value {
    let piece = |piece: &Value| json!({"id": piece["id"], "kind": piece["kind"], "density": number(piece, "md") / 1000.0});
    given.as_array().unwrap().iter().map(piece).collect()
}

#[test]
fn days_take_the_moves_proven_elsewhere() {
    for case in law("search", "changes").cases {
        let stops = |md: f64| md / 1000.0 / std::f64::consts::LOG10_2;
        let set_ups: Vec<Value> = (case.given["setups"].as_array().unwrap().iter().enumerate())
            .map(|(at, set_up)| {
                json!({
                    "id": format!("s{at}"),
                    "needStops": stops(number(set_up, "need_md")),
                    "toleranceStops": stops(number(set_up, "tol_md")),
                    "polarizer": set_up["polarizer"],
                })
            })
            .collect();
        let slots: Vec<Value> = (0..case.given["slots"].as_u64().unwrap())
            .map(|slot| json!({"id": format!("{slot}"), "rotates": true}))
            .collect();
        for (order, field) in [
            ("fixed", "fixed_order_changes"),
            ("free", "free_order_changes"),
        ] {
            let reply = answered(
                "orderDay",
                &json!({"setUps": set_ups, "kit": kit(&case.given["kit"]), "order": order,
                    "rig": {"slots": slots}, "minutesPerMove": 1.5}),
            );
            assert_eq!(reply["moves"], case.out[field], "{} {order}", case.id);
            assert_eq!(reply["proven"], true, "{}", case.id);
            near(
                &case.id,
                "minutes",
                number(&reply, "minutes"),
                1.5 * number(&reply, "moves"),
                0.0,
            );
            assert_eq!(texts(&reply["order"]).len(), set_ups.len(), "{}", case.id);
        }
    }
}

#[test]
fn a_day_stopped_early_says_how_far_it_is_from_proven() {
    let case = &law("search_large", "changes").cases[2];
    let stops = |md: f64| md / 1000.0 / std::f64::consts::LOG10_2;
    let set_ups: Vec<Value> = (case.given["setups"].as_array().unwrap().iter().enumerate())
        .map(|(at, set_up)| {
            json!({"id": format!("s{at}"), "needStops": stops(number(set_up, "need_md")),
                "toleranceStops": stops(number(set_up, "tol_md")), "polarizer": set_up["polarizer"]})
        })
        .collect();
    let slots: Vec<Value> = (0..3)
        .map(|slot| json!({"id": format!("{slot}"), "rotates": true}))
        .collect();
    let request = |steps: u32| {
        json!({"setUps": set_ups, "kit": kit(&case.given["kit"]), "order": "free",
            "rig": {"slots": slots}, "steps": steps})
    };
    let best = number(&case.out, "free_order_changes");
    let mut stopped = 0;
    for steps in [500, 3000, 10_000, 50_000] {
        let cut = answered("orderDay", &request(steps));
        let (least, moves) = (number(&cut, "leastMoves"), number(&cut, "moves"));
        assert!(
            least <= best && best <= moves,
            "{steps}: {least}, {best}, {moves}"
        );
        assert_eq!(texts(&cut["order"]).len(), set_ups.len(), "{steps}");
        assert!(cut["proven"] == false || moves == best, "{steps}");
        stopped += usize::from(cut["proven"] == false);
    }
    assert!(stopped >= 2);
}

#[test]
fn needs_the_catalogue_cannot_serve_are_named_with_what_would() {
    // 1.2 is out of reach of a 0.3 and a 0.6: one more of 0.6 or of 0.9 serves it.
    let reply = answered(
        "coverKit",
        &json!({"needs": [{"stops": 1.0, "slots": 2}, {"stops": 4.0, "slots": 2}],
            "catalogue": [{"id": "a", "kind": "nd", "density": 0.3, "cost": 20.5},
                {"id": "b", "kind": "nd", "density": 0.6, "cost": 30}]}),
    );
    assert_eq!(reply["cannot"], json!([4]));
    assert_eq!(reply["cost"], 20.5);
    // The 0.3 is bought; beside it 4 stops need 3.0034 ± ⅓, alone 4 ± ⅓.
    let more = &reply["oneMore"];
    assert_eq!(more["serves"], json!([1]));
    let log2 = std::f64::consts::LOG10_2;
    near(
        "oneMore",
        "fromDensity",
        number(more, "fromDensity"),
        (4.0 - 1.0 / 3.0) * log2 - 0.3,
        1e-12,
    );
}

#[test]
fn a_polarizer_in_a_cover_is_bought_once_and_only_where_asked() {
    let reply = answered(
        "coverKit",
        &json!({"needs": [
                {"stops": 1.66, "slots": 1, "polarizer": true},
                {"stops": 2.66, "slots": 2, "polarizer": true},
                {"stops": 1.66, "slots": 1}],
            "catalogue": [{"id": "p", "kind": "polarizer", "cost": 90},
                {"id": "n", "kind": "nd", "density": 0.3, "cost": 20}]}),
    );
    assert_eq!(reply["cost"], 110.0);
    assert_eq!(reply["cannot"], json!([1.66]));
}

#[test]
fn rings_by_hand() {
    let reply = answered(
        "rings",
        &json!({"filterMm": 82,
            "lenses": [{"id": "a", "threadMm": 77}, {"id": "b", "threadMm": 77},
                {"id": "c", "threadMm": 82}, {"id": "d", "threadMm": 95},
                {"id": "e", "threadMm": 95, "needsClearMm": 75}, {"id": "f", "outerMm": 114}],
            "owned": [{"fromMm": 77, "toMm": 82, "depthMm": 2.5},
                {"fromMm": 95, "toMm": 82, "depthMm": 4}],
            "catalogue": [{"fromMm": 77, "toMm": 82, "cost": 18.9},
                {"fromMm": 114, "toMm": 82, "cost": 60, "clamp": true}]}),
    );
    let reaches: Vec<bool> = (reply["lenses"].as_array().unwrap().iter())
        .map(|lens| lens["reaches"].as_bool().unwrap())
        .collect();
    assert_eq!(reaches, [true, true, true, false, true, false]);
    assert_eq!(reply["lenses"][0]["depthMm"], 2.5);
    assert_eq!(reply["lenses"][4]["clearMm"], 78.0);
    assert_eq!(reply["clashes"][0]["lenses"], json!(["a", "b"]));
    // The bought ring keeps the assumed depth of 3, so it is its own sort.
    assert_eq!(reply["cost"], 18.9);
    assert_eq!(reply["buy"][0]["ring"]["fromMm"], 77.0);
    // A clamp that narrows 114 to 82 waits for a known clear diameter too.
    assert_eq!(reply["settled"][5]["reaches"], false);
}

#[test]
fn without_a_catalogue_single_rings_are_to_be_had() {
    let reply = answered(
        "rings",
        &json!({"filterMm": 95, "lenses": [{"id": "a", "threadMm": 77}, {"id": "b", "outerMm": 80}]}),
    );
    assert_eq!(reply["cost"], 2.0);
    assert_eq!(reply["buy"].as_array().unwrap().len(), 2);
    assert_eq!(
        reply["buy"][1]["ring"],
        json!({"fromMm": 80, "toMm": 95, "clamp": true, "depthMm": 3, "clearMm": 76})
    );
}

#[test]
fn weight_by_hand() {
    // 101.6 × 143.5 × 4 mm of glass: 58.3184 cm³ at 2.5 g/cm³.
    let reply = answered(
        "weight",
        &json!({"items": [
                {"name": "box", "massG": 650, "distanceFromRimMm": 40},
                {"name": "pane", "widthMm": 101.6, "heightMm": 143.5, "thicknessMm": 4,
                    "distanceFromRimMm": 20}],
            "pivotBehindRimMm": 150, "counterArmMm": 100}),
    );
    near(
        "weight",
        "massG",
        number(&reply, "massG"),
        650.0 + 145.796,
        1e-3,
    );
    let moment = 9.80665e-6 * (650.0 * 190.0 + 145.796 * 170.0);
    near(
        "weight",
        "momentNm",
        number(&reply, "momentNm"),
        moment,
        1e-6,
    );
    let counter = (650.0 * 190.0 + 145.796 * 170.0) / 100.0;
    near(
        "weight",
        "counterweightG",
        number(&reply, "counterweightG"),
        counter,
        1e-3,
    );
}

#[test]
fn impossible_requests_name_the_field() {
    let need = json!({"stops": 1.0, "slots": 9});
    let wrong = json!({"needs": [need], "catalogue": []});
    assert_eq!(
        refused("coverKit", &wrong),
        (json!("tooMany"), "needs[0].slots".into())
    );
    let ware = json!({"id": "a", "kind": "nd", "density": 0.3, "cost": -1});
    let wrong = json!({"needs": [], "catalogue": [ware]});
    assert_eq!(
        refused("coverKit", &wrong),
        (json!("outOfRange"), "catalogue[0].cost".into())
    );
    let wrong = json!({"setUps": [{"id": "a", "needStops": 1, "keep": ["x"]}], "order": "free"});
    assert_eq!(
        refused("orderDay", &wrong),
        (json!("unknownPiece"), "setUps[0].keep[0]".into())
    );
    let wrong = json!({"filterMm": 82, "lenses": [{"id": "a"}]});
    assert_eq!(
        refused("rings", &wrong),
        (json!("missing"), "lenses[0].threadMm".into())
    );
    let wrong = json!({"items": [{"distanceFromRimMm": 3, "diameterMm": 82}]});
    assert_eq!(
        refused("weight", &wrong),
        (json!("missing"), "items[0].thicknessMm".into())
    );
    let wrong = json!({"items": [{"distanceFromRimMm": 3, "diameterMm": 82, "massG": 4}]});
    assert_eq!(
        refused("weight", &wrong),
        (json!("oneTooMany"), "items[0].massG".into())
    );
}

#[test]
fn what_two_bodies_want_of_one_case_is_shared_and_named() {
    let reply = answered(
        "twoBodies",
        &json!({"setUps": [
            {"id": "quay", "needStops": 2.99, "otherNeedStops": 2.99},
            {"id": "deck", "needStops": 1.99, "otherNeedStops": 1.0},
            {"id": "sky", "needStops": 1.67, "otherNeedStops": 1.67, "polarizer": true, "otherPolarizer": true},
        ], "kit": [{"id": "0.9", "kind": "nd", "density": 0.9}, {"id": "0.6", "kind": "nd", "density": 0.6},
            {"id": "0.3", "kind": "nd", "density": 0.3}, {"id": "pola", "kind": "polarizer"}],
          "rig": {"slots": [{"id": "1", "rotates": true}, {"id": "2"}]}}),
    );
    let [quay, deck, sky] = [0, 1, 2].map(|at| &reply["setUps"][at]);
    // One has the 0.9; the other makes as much of 0.6 and 0.3, by hand: a piece more.
    assert_eq!(quay["conflicts"][0]["piece"], "0.9");
    let pieces = |body: &str| quay[body]["slots"].as_array().unwrap().len();
    assert_eq!(pieces("first") + pieces("second"), 3);
    assert!(number(&quay["second"], "leftOverStops").abs() < 0.02);
    assert_eq!(deck["conflicts"], json!([]));
    assert_eq!(deck["first"]["slots"][0]["piece"], "0.6");
    // There is one polarizer.
    assert_eq!(sky.get("first"), None);
    assert_eq!(
        sky["conflicts"],
        json!([{"piece": "pola", "owned": 1, "first": false, "second": false}])
    );
    assert_eq!(reply["proven"], true);
}

#[test]
fn how_many_pieces_screw_on_one_another_is_a_number() {
    let fit = json!({"sensor": {"widthMm": 24.89, "heightMm": 18.66}, "focalLengthMm": 35, "fNumber": 4, "pupilBehindRimMm": 30});
    let reply = answered(
        "rings",
        &json!({"lenses": [{"id": "35", "threadMm": 82, "fit": fit}, {"id": "none", "threadMm": 82}], "filterMm": 82,
            "stackedDepthMm": 5}),
    );
    let path = &reply["lenses"][0];
    // 78 mm clear; the corner at tan 0.4444, pupil 8.75 mm: 39 − 4.375 − 0.4444·(30 + 5n) is 21.29 − 2.222n, by hand.
    assert_eq!(path["stackable"], 9);
    assert_eq!(path["surelyStackable"], 8);
    assert_eq!(reply["lenses"][1].get("stackable"), None);
}
