//! What people say, over texts nobody chose.

use glasscall_core::quantity::{Aperture, Density, Stops};
use glasscall_core::setup::Piece;
use glasscall_core::spoken::{
    read_angle, read_aperture, read_density, read_length, read_number, read_shutter, read_stops,
};
use glasscall_tests::{answered, number};
use proptest::prelude::*;
use serde_json::json;

#[test]
fn every_label_of_a_stop_reads_back() {
    let read = |text: String| {
        let reply = answered("readText", &json!({"text": text, "as": "aperture"}));
        (
            number(&reply, "value"),
            reply["label"].as_str().unwrap().to_owned(),
        )
    };
    for hundredths in 50..=12_800 {
        let (value, label) = read(format!("T{}", f64::from(hundredths) / 100.0));
        assert!(!label.ends_with('.'), "{label}");
        let (again, its) = read(label.clone());
        assert!((again / value - 1.0).abs() < 0.006, "{value}: {label}");
        assert_eq!(its, label);
        // Dictation ends a sentence.
        assert_eq!(read(format!("{label}.")), (again, its), "{label}");
    }
}

proptest! {
    #[test]
    fn no_text_is_too_strange_to_be_refused(text in "\\PC{0,90}") {
        // Reading must come back with a value or a refusal, never stop.
        let _ = read_aperture(&text).map(|said| said.aperture.label());
        let _ = (read_density(&text), read_stops(&text), read_shutter(&text));
        let _ = (read_length(&text), read_angle(&text), read_number(&text));
    }

    #[test]
    fn near_misses_are_read_or_refused(text in "[TtfND0-9.,/⅓⅔½ x%°'\"+-]{0,20}") {
        if let Ok(density) = read_density(&text) {
            prop_assert!((0.0..=12.0).contains(&density.density()));
        }
        if let Ok(said) = read_aperture(&text) {
            prop_assert!((0.25..=1024.0).contains(&said.aperture.number()));
        }
    }

    #[test]
    fn a_label_reads_back_as_the_aperture_it_stands_for(thirds in -2i32..36) {
        let aperture = Aperture::from_index(f64::from(thirds) / 3.0).unwrap();
        let said = read_aperture(&format!("T{}", aperture.label())).unwrap();
        prop_assert!(aperture.stops_to(said.aperture).stops().abs() < 1e-9);
    }

    #[test]
    fn densities_and_stops_read_back(density in 0.0f64..12.0) {
        let said = read_density(&format!("{density:.12} D")).unwrap();
        prop_assert!((said.density() - density).abs() < 1e-11);
        let stops = Density::new(density).unwrap().stops().stops();
        let said = read_density(&format!("{stops:.12} stops")).unwrap();
        prop_assert!((said.density() - density).abs() < 1e-11);
    }

    #[test]
    fn closing_by_any_amount_can_be_undone(index in -3.0f64..19.0, by in -1.0f64..1.0) {
        let there = Aperture::from_index(index).unwrap();
        let by = Stops::new(by).unwrap();
        let back = there.closed_by(by).and_then(|closed| closed.closed_by(-by)).unwrap();
        prop_assert!((back.index() - index).abs() < 1e-12);
    }
}

#[test]
fn the_trade_s_rules_of_thumb_hold() {
    // Common practice, no source: density 0.3 a stop, up to 1.8 for six.
    for stops in 1..=6 {
        let density = Density::new(0.3 * f64::from(stops)).unwrap();
        assert!((density.stops().stops() - f64::from(stops)).abs() < 0.025);
    }
    // Common practice, no source: six stops lie between f/22 and f/2.8.
    let said = |text| read_aperture(text).unwrap().aperture;
    assert_eq!(said("f/2.8").stops_to(said("f/22")).stops().round(), 6.0);
    // Common practice, no source: a polarizer costs about two stops, some one.
    assert!((1.0..=2.0).contains(&Piece::POLARIZER_LOSS.stops()));
}
