//! The traced lenses, traced again from their prescriptions.

use glasscall_tests::ray_trace::Lens;
use glasscall_tests::{number, prescriptions, traced_lenses};

/// What is listed is rounded to thousandths of a millimetre, and prescriptions
/// to the digits of their glass: a lens of 120° shows most of it.
const ROUNDED_MM: f64 = 0.002;
const ROUNDED_TANGENT: f64 = 1e-4;

/// Views at the widest stop where rays fail inside the lens, which has no rims
/// here to stop them first: the first program ended the edge up to 3 mm nearer
/// than these rays do. Lens, corner, f-number.
const ENDED_SOONER: [(&str, f64, f64); 4] = [
    ("O7", 9.223, 1.4),
    ("O9", 10.26, 4.0),
    ("R6", 9.251, 2.0),
    ("R6", 12.334, 2.0),
];

#[test]
fn spheres_traced_anew_are_where_they_were() {
    let listed = traced_lenses();
    let (mut lenses, mut views, mut edges) = (0, 0, 0);
    for given in prescriptions() {
        let lens = Lens::of(&given);
        let id = given["id"].as_str().unwrap();
        let was = listed.iter().find(|one| one["id"] == id).unwrap();
        let near = |what: &str, now: f64, then: f64, tolerance: f64| {
            let off = (now - then).abs();
            assert!(off <= tolerance, "{id} {what}: {now} was {then}");
        };
        near("pupil", lens.pupil, number(was, "pupilMm"), ROUNDED_MM);
        lenses += 1;
        for view in was["views"].as_array().unwrap() {
            let (corner, f_number) = (number(view, "cornerMm"), number(view, "fNumber"));
            let ended_sooner = ENDED_SOONER.contains(&(id, corner, f_number));
            views += 1;
            for point in view["points"].as_array().unwrap() {
                let height = corner * number(point, "share");
                let bundle = lens.bundle(height, f_number).unwrap();
                near("chief", bundle.chief, number(point, "chiefMm"), ROUNDED_MM);
                let tangent = number(point, "tangent");
                near("tangent", bundle.tangent, tangent, ROUNDED_TANGENT);
                for (now, then) in bundle.edge.iter().zip(point["edgeMm"].as_array().unwrap()) {
                    let [right, up] = [0, 1].map(|at| then[at].as_f64().unwrap());
                    let off = (now.0 - right).hypot(now.1 - up);
                    assert!(
                        ended_sooner || off <= ROUNDED_MM,
                        "{id} at {height}, f/{f_number}: {now:?} was {then}"
                    );
                    edges += 1;
                }
            }
        }
    }
    assert!(
        lenses == 14 && views > 80 && edges > 1_800,
        "{lenses}, {views}, {edges}"
    );
}
