//! Traces the prescriptions and prints what `traced_lenses.json` lists of them:
//! `cargo run --release -p glasscall-tests --example trace_lenses`.

use glasscall_tests::ray_trace::Lens;
use glasscall_tests::{number, prescriptions, traced_lenses};
use serde_json::{Value, json};

/// To thousandths, as the list has it.
fn rounded(mm: f64) -> f64 {
    (mm * 1000.0).round() / 1000.0
}

/// One view of the list, traced.
fn view(lens: &Lens, asked: &Value) -> Value {
    let (corner, f_number) = (number(asked, "cornerMm"), number(asked, "fNumber"));
    let shares = asked["points"].as_array().into_iter().flatten();
    let points: Vec<Value> = shares
        .filter_map(|point| {
            let share = number(point, "share");
            let bundle = lens.bundle(corner * share, f_number)?;
            let edge = bundle
                .edge
                .iter()
                .map(|(right, up)| [rounded(*right), rounded(*up)]);
            Some(json!({
                "share": share, "tangent": (bundle.tangent * 1e5).round() / 1e5,
                "chiefMm": rounded(bundle.chief), "edgeMm": edge.collect::<Vec<_>>(),
            }))
        })
        .collect();
    json!({"cornerMm": corner, "fNumber": asked["fNumber"], "points": points})
}

fn main() {
    let listed = traced_lenses();
    for given in prescriptions() {
        let lens = Lens::of(&given);
        let Some(was) = listed.iter().find(|one| one["id"] == given["id"]) else {
            continue;
        };
        let views: Vec<Value> = (was["views"].as_array().into_iter().flatten())
            .map(|asked| view(&lens, asked))
            .collect();
        let told = json!({"id": given["id"], "what": given["what"], "source": given["source"],
            "focalLengthMm": rounded(lens.focal_length), "pupilMm": rounded(lens.pupil), "views": views});
        println!("{told}");
    }
}
