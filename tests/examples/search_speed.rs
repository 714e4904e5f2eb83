use glasscall_core::quantity::{Density, Stops};
use glasscall_core::search::budget::Budget;
use glasscall_core::search::cover::{Need, Ware, cover};
use glasscall_tests::law;
use serde_json::Value;
use std::time::Instant;
fn milli(value: &Value) -> Stops {
    Density::new(value.as_f64().unwrap() / 1000.0)
        .unwrap()
        .stops()
}
fn main() {
    for case in law("search_large", "cover").cases {
        let wares: Vec<Ware> = case.given["catalogue"]
            .as_array()
            .unwrap()
            .iter()
            .map(|w| Ware {
                loss: milli(&w["md"]),
                cost: w["cost"].as_u64().unwrap(),
                most: w["max"].as_u64().unwrap() as usize,
            })
            .collect();
        let needs: Vec<Need> = case.given["needs"]
            .as_array()
            .unwrap()
            .iter()
            .map(|n| Need {
                loss: milli(&n["md"]),
                tolerance: milli(&n["tol_md"]),
                slots: n["slots"].as_u64().unwrap() as usize,
                may: (0..wares.len()).collect(),
                one_of: vec![],
            })
            .collect();
        let t = Instant::now();
        let c = cover(&wares, &needs, &mut Budget::steps(3_000_000_000));
        println!(
            "{} {} {} {:?} {:?} want {}",
            case.id,
            c.cost,
            c.pieces,
            c.proof,
            t.elapsed(),
            case.out
        );
    }
}
