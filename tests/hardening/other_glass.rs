//! Whatever number is given, the answer is finite or a refusal that names a
//! field of the request.

use glasscall_tests::call;
use proptest::prelude::*;
use serde_json::{Value, json};

/// Numbers people type, the ends of ranges, and nonsense.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => 0.5..400.0f64,
        2 => -9f64..9f64,
        1 => (-12i32..13).prop_map(|power| 10f64.powi(power)),
        1 => prop::sample::select(vec![0.0, -1.0, 0.25, 1024.0, 1e9, 360.0, 1e308, 5e-324]),
    ]
}

/// Serde writes what is not finite as null, and no reply has a null of its own.
fn is_finite(value: &Value) -> bool {
    match value {
        Value::Null => false,
        Value::Array(items) => items.iter().all(is_finite),
        Value::Object(fields) => fields.values().all(is_finite),
        _ => true,
    }
}

fn holds(function: &str, request: &Value) -> Result<(), TestCaseError> {
    match call(function, request) {
        Ok(reply) => prop_assert!(is_finite(&reply), "{request} gives {reply}"),
        Err(refusal) => {
            let field = refusal.field.split(['.', '[']).next().unwrap_or_default();
            let known =
                request.get(field).is_some() || refusal.code == glasscall_web::Code::Missing;
            prop_assert!(known, "{request}: {}", refusal.message());
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    #[test]
    fn depth_holds(
        [focal, stop, focus, circle, wish, background] in prop::array::uniform6(any_number()),
        which in 0usize..5,
        tape in any::<bool>(),
    ) {
        let mut request = json!({"focalLengthMm": focal, "fNumber": stop, "focusMm": focus,
            "circleMm": circle, "backgroundMm": background, "neighbourStops": 1,
            "measuredFrom": if tape { "sensor" } else { "lens" },
            "sensor": {"widthMm": 24, "heightMm": 18}});
        match which {
            0 => request["wantedDepthMm"] = json!(wish),
            1 => request["wantedBlurMm"] = json!(wish),
            2 => request["wantedBlurOfFrame"] = json!(wish),
            3 => {
                request.as_object_mut().unwrap().remove("focusMm");
                request["wantedNearMm"] = json!(focus);
                request["wantedFarMm"] = json!(wish);
            }
            _ => {}
        }
        holds("depth", &request)?;
    }

    #[test]
    fn close_up_and_flat_glass_hold(
        [a, b, c, d, e, f] in prop::array::uniform6(any_number()),
    ) {
        holds("closeUp", &json!({"dioptres": [a, b], "lensNearMm": c, "settingMm": d,
            "focalLengthMm": e, "aheadOfPupilMm": f,
            "sensor": {"widthMm": 24, "heightMm": 18}}))?;
        let plate = json!({"thicknessMm": a, "refractiveIndex": b});
        holds("behindLens", &json!({"focalLengthMm": c, "fNumber": d, "circleMm": e,
            "focusMm": f, "behind": [plate], "wheel": [plate, {"thicknessMm": 0}],
            "inFront": [plate], "measuredFrom": "sensor"}))?;
    }

    #[test]
    fn colour_and_infrared_hold([a, b, c, d] in prop::array::uniform4(any_number())) {
        holds("colour", &json!({"lightKelvin": a * 100.0, "shiftsMired": [b, c],
            "balanceKelvin": d * 100.0, "otherBalanceKelvin": 5600}))?;
        holds("infrared", &json!({"pieces": [{"id": "a", "kind": "nd", "density": a,
            "infraredDensity": b}], "watchFromDensity": c, "cutFromDensity": d}))?;
    }

    #[test]
    fn working_stop_flicker_and_ramp_hold(
        [a, b, c, d, e] in prop::array::uniform5(any_number()),
        by in prop::sample::select(vec!["angle", "iris", "turn"]),
    ) {
        holds("workingStop", &json!({"focalLengthMm": a, "aperture": b, "extender": c,
            "focusMm": d, "pupilRatio": e}))?;
        holds("flicker", &json!({"frameRate": a, "shutterAngleDeg": b, "mainsHz": [c]}))?;
        holds("ramp", &json!({"from": {"aperture": a, "exposureIndex": 800, "frameRate": b,
            "shutterAngleDeg": c}, "to": {"frameRate": d, "shutterAngleDeg": e}, "by": by}))?;
    }
}
