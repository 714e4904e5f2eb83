//! The traced lenses are what their published prescriptions give.

use glasscall_tests::ray_trace::Lens;
use glasscall_tests::{number, prescriptions, traced_lenses};

/// What is listed is rounded to thousandths of a millimetre and hundred
/// thousandths of a tangent.
const ROUNDED_MM: f64 = 0.000_6;
const ROUNDED_TANGENT: f64 = 6e-6;

#[test]
fn every_listed_lens_is_traced_from_its_prescription() {
    let (listed, given) = (traced_lenses(), prescriptions());
    assert_eq!(listed.len(), given.len());
    let mut edges = 0;
    for (nth, was) in listed.iter().enumerate() {
        let id = was["id"].as_str().unwrap();
        let prescription = given.iter().find(|one| one["id"] == id).unwrap();
        let lens = Lens::of(prescription);
        let near = |what: &str, now: f64, then: f64, tolerance: f64| {
            let off = (now - then).abs();
            assert!(off <= tolerance, "{id} {what}: {now} was {then}");
        };
        near("pupil", lens.pupil, number(was, "pupilMm"), ROUNDED_MM);
        let views = was["views"].as_array().unwrap();
        // One view of each, another one of each: all take long unoptimised.
        let view = &views[nth % views.len()];
        let (corner, f_number) = (number(view, "cornerMm"), number(view, "fNumber"));
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
                    off <= 2.0 * ROUNDED_MM,
                    "{id} at {height}, f/{f_number}: {now:?} was {then}"
                );
                edges += 1;
            }
        }
    }
    assert_eq!(edges, listed.len() * 3 * 7);
}

/// Focal lengths that the sources print, in the units of their tables. What is off
/// more than the last digit is told in the page beside the list.
#[test]
fn focal_lengths_are_those_that_the_sources_print() {
    let given = prescriptions();
    for (id, printed, off) in [
        ("R1", 18.5, 0.001),
        ("R2", 14.42, 0.001),
        ("P1", 1.0, 0.001),
        ("P2", 100.0, 0.21),
        ("P4", 100.0, 0.01),
        ("P5", 100.0, 0.01),
        ("P6", 100.0, 0.06),
        ("P7", 14.2, 0.08),
        ("P8", 99.8, 0.01),
        ("P9", 50.0, 0.01),
        ("H1", 22.0, 0.03),
        ("H2", 100.0, 0.07),
        ("H4", 72.1, 0.9),
    ] {
        let lens = given.iter().find(|one| one["id"] == id).unwrap();
        let found = Lens::as_published(lens).focal_length;
        let far = f64::abs(found - printed);
        assert!(far <= off, "{id}: {found}, printed {printed}");
    }
}
