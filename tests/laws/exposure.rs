//! Density, apertures and exposure against `laws/`.

use glasscall_core::physics::exposure::{
    CLEAR_SUN_APERTURE, DOME_RECEPTOR, Exposure, FLAT_RECEPTOR, REFLECTED, clear_sun, illuminance,
    luminance,
};
use glasscall_core::physics::gain::stops_of_gain;
use glasscall_core::quantity::{
    Aperture, Density, EvAt100, ExposureIndex, FrameRate, Gain, Seconds, Series, ShutterAngle,
    Stops,
};
use glasscall_core::setup::Shutter;
use glasscall_tests::{LawCase, law, near, number};

/// `stops.json` gives twelve significant digits.
fn relative(wanted: f64) -> f64 {
    1e-11 * wanted.abs().max(1.0)
}

fn density_agrees(case: &LawCase, density: Density) {
    for (field, found) in [
        ("density", density.density()),
        ("stops", density.stops().stops()),
        ("factor", density.factor()),
        ("transmittance", density.transmittance()),
    ] {
        if let Some(wanted) = case.out[field].as_f64() {
            near(&case.id, field, found, wanted, relative(wanted));
        }
    }
}

#[test]
fn every_face_of_a_density_agrees() {
    for case in law("stops", "from_density").cases {
        let density = Density::new(number(&case.given, "density")).unwrap();
        density_agrees(&case, density);
        let iris = density.stops().iris_thirds();
        near(
            &case.id,
            "thirds",
            f64::from(iris.thirds),
            number(&case.out, "thirds"),
            0.0,
        );
        let left = number(&case.out, "left_over_stops");
        near(&case.id, "left over", iris.left_over.stops(), left, 1e-11);
    }
    for case in law("stops", "from_stops").cases {
        let stops = Stops::new(number(&case.given, "stops")).unwrap();
        density_agrees(&case, Density::from_stops(stops).unwrap());
    }
    for case in law("stops", "from_factor").cases {
        density_agrees(
            &case,
            Density::from_factor(number(&case.given, "factor")).unwrap(),
        );
    }
    for case in law("stops", "from_transmittance").cases {
        let share = number(&case.given, "transmittance");
        density_agrees(&case, Density::from_transmittance(share).unwrap());
    }
}

#[test]
fn densities_of_pieces_add() {
    for case in law("stops", "sum_of_pieces").cases {
        let pieces = case.given["densities"].as_array().unwrap();
        let sum = (pieces.iter())
            .map(|d| Density::new(d.as_f64().unwrap()).unwrap())
            .sum();
        density_agrees(&case, sum);
    }
}

#[test]
fn a_marked_density_is_three_tenths_a_stop_to_the_trade() {
    // Common practice, no source: 0.3 a stop, up to 1.8 for six.
    for case in law("stops", "trade_names").cases {
        let exact = Density::new(number(&case.given, "marked_density")).unwrap();
        let nominal = number(&case.out, "nominal_stops");
        near(
            &case.id,
            "exact stops",
            exact.stops().stops(),
            number(&case.out, "exact_stops"),
            1e-10,
        );
        near(
            &case.id,
            "exact factor",
            exact.factor(),
            number(&case.out, "exact_factor"),
            1e-8,
        );
        let missed = number(&case.out, "nominal_minus_exact_stops");
        near(
            &case.id,
            "nominal − exact",
            nominal - exact.stops().stops(),
            missed,
            1e-11,
        );
    }
}

#[test]
fn labels_stand_for_their_exact_stop() {
    for (group, series) in [
        ("series_full", Series::Full),
        ("series_half", Series::Half),
        ("series_third", Series::Third),
    ] {
        for case in law("apertures", group).cases {
            let label: f64 = case.given["label"].as_str().unwrap().parse().unwrap();
            let index = series
                .index_of(label)
                .unwrap_or_else(|| panic!("{}: no label", case.id));
            near(
                &case.id,
                "k",
                index,
                number(&case.out, "k"),
                relative(index),
            );
            let exact = Aperture::from_index(index).unwrap();
            near(
                &case.id,
                "exact",
                exact.number(),
                number(&case.out, "exact"),
                1e-9,
            );
            let off = exact
                .stops_to(Aperture::from_number(label).unwrap())
                .stops();
            near(
                &case.id,
                "label",
                off,
                number(&case.out, "label_minus_exact_stops"),
                1e-10,
            );
        }
    }
}

#[test]
fn other_numbers_are_literal() {
    for case in law("apertures", "literal").cases {
        let aperture = Aperture::from_marking(number(&case.given, "number")).unwrap();
        near(
            &case.id,
            "k",
            aperture.index(),
            number(&case.out, "k"),
            1e-10,
        );
    }
    for case in law("apertures", "difference").cases {
        let at = |field| Aperture::from_number(number(&case.given, field)).unwrap();
        let closed = at("from_exact").stops_to(at("to_exact")).stops();
        near(
            &case.id,
            "closed",
            closed,
            number(&case.out, "stops_closed"),
            1e-10,
        );
    }
    for case in law("apertures", "nearest_third").cases {
        let label = Aperture::from_number(number(&case.given, "number"))
            .unwrap()
            .label();
        assert_eq!(
            label.full.to_string(),
            case.out["full_label"].as_str().unwrap(),
            "{}",
            case.id
        );
        let thirds = number(&case.out, "thirds_closed");
        near(&case.id, "thirds", f64::from(label.thirds), thirds, 0.0);
        let left = number(&case.out, "left_over_stops");
        near(&case.id, "left over", label.left_over.stops(), left, 1e-9);
    }
}

#[test]
fn a_t_number_is_the_f_number_over_the_root_of_transmittance() {
    for case in law("apertures", "t_number").cases {
        let focal = Aperture::from_number(number(&case.given, "f_number")).unwrap();
        let share = Density::from_transmittance(number(&case.given, "transmittance")).unwrap();
        let transmission = focal.closed_by(share.stops()).unwrap();
        near(
            &case.id,
            "T",
            transmission.number(),
            number(&case.out, "t_number"),
            1e-9,
        );
        near(
            &case.id,
            "loss",
            share.stops().stops(),
            number(&case.out, "loss_stops"),
            1e-10,
        );
    }
}

#[test]
fn shutter_angle_and_time_agree() {
    for case in law("exposure", "shutter_time").cases {
        let rate = FrameRate::new(number(&case.given, "fps")).unwrap();
        let angle = Shutter::Angle(ShutterAngle::new(number(&case.given, "angle_deg")).unwrap());
        let time = angle.time_at(rate).unwrap().seconds();
        near(
            &case.id,
            "seconds",
            time,
            number(&case.out, "seconds"),
            1e-11,
        );
    }
    for case in law("exposure", "shutter_angle").cases {
        let rate = FrameRate::new(number(&case.given, "fps")).unwrap();
        let time = Shutter::Time(Seconds::new(number(&case.given, "seconds")).unwrap());
        let angle = time.angle_at(rate);
        assert_eq!(
            angle.is_some(),
            case.out["possible"].as_bool().unwrap(),
            "{}",
            case.id
        );
        if let Some(angle) = angle {
            near(
                &case.id,
                "angle",
                angle.degrees(),
                number(&case.out, "angle_deg"),
                1e-9,
            );
        }
    }
}

fn light_agrees(case: &LawCase, scene: EvAt100) {
    let lux = |constant| illuminance(scene, constant).unwrap().lux();
    let spot = luminance(scene, REFLECTED).unwrap();
    for (field, found) in [
        ("lux_flat_c250", lux(FLAT_RECEPTOR)),
        ("lux_dome_c330", lux(DOME_RECEPTOR)),
        ("cd_m2_k12_5", spot.candela_per_square_metre()),
    ] {
        let wanted = number(&case.out, field);
        near(&case.id, field, found, wanted, relative(wanted));
    }
}

#[test]
fn the_exposure_equations_agree() {
    for case in law("exposure", "exposure").cases {
        let settings = Exposure {
            aperture: Aperture::from_number(number(&case.given, "number")).unwrap(),
            time: Seconds::new(number(&case.given, "seconds")).unwrap(),
            index: ExposureIndex::new(number(&case.given, "exposure_index")).unwrap(),
        };
        let scene = settings.ev_at_100().unwrap();
        near(
            &case.id,
            "ev100",
            scene.ev(),
            number(&case.out, "ev100"),
            1e-10,
        );
        light_agrees(&case, scene);
    }
    for case in law("exposure", "ev100_to_light").cases {
        light_agrees(&case, EvAt100::new(number(&case.given, "ev100")).unwrap());
    }
}

#[test]
fn a_compound_change_adds_up() {
    use glasscall_core::physics::exposure::change_but_iris;
    use glasscall_core::setup::Settings;
    for case in law("exposure", "compound_change").cases {
        let bare = Aperture::from_index(number(&case.given, "k_bare")).unwrap();
        let at = |n: u8| Settings {
            aperture: bare,
            exposure_index: ExposureIndex::new(number(&case.given, &format!("ei{n}"))).unwrap(),
            frame_rate: FrameRate::new(number(&case.given, &format!("fps{n}"))).unwrap(),
            shutter: Shutter::Angle(
                ShutterAngle::new(number(&case.given, &format!("angle{n}_deg"))).unwrap(),
            ),
        };
        let glass = Stops::new(number(&case.given, "filter_stops")).unwrap();
        let change = change_but_iris(at(0), at(1)).unwrap() - glass;
        let found = bare.index() + change.stops();
        near(
            &case.id,
            "k to set",
            found,
            number(&case.out, "k_to_set"),
            1e-10,
        );
    }
}

#[test]
fn gain_and_clear_sun_agree() {
    for case in law("exposure", "gain").cases {
        let stops = stops_of_gain(Gain::new(number(&case.given, "gain_db")).unwrap());
        near(
            &case.id,
            "stops",
            stops.stops(),
            number(&case.out, "stops"),
            1e-11,
        );
        let factor = number(&case.out, "ei_factor");
        near(
            &case.id,
            "EI factor",
            stops.factor(),
            factor,
            relative(factor),
        );
    }
    // Common practice, no source.
    assert_eq!(
        Aperture::from_marking(CLEAR_SUN_APERTURE).unwrap().index(),
        8.0
    );
    for case in law("exposure", "clear_sun_rule").cases {
        let index = number(&case.given, "exposure_index");
        let sixteen = Exposure {
            aperture: Aperture::from_marking(CLEAR_SUN_APERTURE).unwrap(),
            time: Seconds::new(1.0 / index).unwrap(),
            index: ExposureIndex::new(index).unwrap(),
        };
        let ev100 = number(&case.out, "ev100");
        near(&case.id, "ev100", clear_sun().ev(), ev100, 1e-10);
        let exposed = sixteen.ev_at_100().unwrap().ev();
        near(&case.id, "ev100 of number 16", exposed, ev100, 1e-10);
    }
}
