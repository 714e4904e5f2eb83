//! The public interface against outside values, file by file.

use glasscall_tests::{answered, cases, check, near, number};

#[test]
fn densities_convert() {
    check("convert_density");
}

#[test]
fn exposures_agree() {
    check("exposure_ev");
}

#[test]
fn the_first_stack_is_the_best_by_enumeration() {
    for case in cases("open_up") {
        let reply = answered(&case.function, &case.request);
        let first = &reply["stacks"][0];
        let left = number(first, "leftOverStops").abs();
        let pieces = first["slots"].as_array().map_or(0, Vec::len);
        let need = number(&case.tolerance, "needStops");
        near(
            &case.id,
            "needStops",
            number(&reply, "needStops"),
            number(&case.expect, "needStops"),
            need,
        );
        let thirds = (3.0 * left + 0.5).floor();
        near(
            &case.id,
            "thirds",
            thirds,
            number(&case.expect, "bestThirds"),
            0.0,
        );
        assert_eq!(
            pieces as u64, case.expect["bestPieces"],
            "{}: pieces",
            case.id
        );
        let least = number(&case.expect, "smallestLeftOver");
        assert!(
            left >= least - 1e-6,
            "{}: {left} beats the proven {least}",
            case.id
        );
    }
}
