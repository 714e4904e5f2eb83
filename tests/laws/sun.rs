//! The sun against the published algorithm and an ephemeris.

use glasscall_core::physics::sun::{Air, Observer, RISE_AND_SET_DEPTH, sun_position};
use glasscall_core::quantity::{AirPressure, AirTemperature, Latitude, Length, Longitude};
use glasscall_core::setup::Location;
use glasscall_tests::{call, cases, law, near, number};
use glasscall_web::read_moment;
use serde_json::{Value, json};

fn seconds(text: &Value) -> f64 {
    read_moment(text.as_str().unwrap(), "time")
        .unwrap()
        .unix_seconds()
}

/// Degrees apart, the short way round.
fn around(found: f64, wanted: f64) -> f64 {
    (found - wanted + 180.0).rem_euclid(360.0) - 180.0
}

#[test]
fn the_published_worked_example_comes_out() {
    for case in law("sun", "worked_example").cases {
        let given = |field| number(&case.given, field);
        let observer = Observer {
            place: Location {
                latitude: Latitude::new(given("latitude_deg")).unwrap(),
                longitude: Longitude::new(given("longitude_deg")).unwrap(),
            },
            height: Length::new(given("height_m") * 1000.0).unwrap(),
            air: Air {
                pressure: AirPressure::new(given("pressure_hpa")).unwrap(),
                temperature: AirTemperature::new(given("temperature_c")).unwrap(),
            },
            earth_lag: given("delta_t_s"),
        };
        let moment = read_moment(case.given["time"].as_str().unwrap(), "time").unwrap();
        let sun = sun_position(observer, moment);
        let azimuth = sun.direction.azimuth_degrees();
        near(
            &case.id,
            "azimuth",
            azimuth,
            number(&case.out, "azimuth_deg"),
            1e-5,
        );
        let zenith = 90.0 - sun.apparent_elevation();
        near(
            &case.id,
            "zenith",
            zenith,
            number(&case.out, "zenith_apparent_deg"),
            1e-5,
        );
    }
}

/// Whether the algorithm has refraction there. Ours does not stop at once below,
/// see `refraction` in `core`; `dense_sweeps.rs` holds that part.
fn is_lifted(elevation: f64) -> bool {
    elevation > -RISE_AND_SET_DEPTH
}

/// Runs `sun` on a law case; azimuth is compared across the sky, not around it.
fn positions(group: &str, tolerance: f64) {
    for case in law("sun", group).cases {
        let request = json!({
            "latitudeDeg": number(&case.given, "latitude_deg"),
            "longitudeDeg": number(&case.given, "longitude_deg"),
            "time": case.given["time"],
        });
        let reply = call("sun", &request).unwrap();
        let elevation = number(&case.out, "elevation_deg");
        near(
            &case.id,
            "elevation",
            number(&reply, "elevationDeg"),
            elevation,
            tolerance,
        );
        let off = around(
            number(&reply, "azimuthDeg"),
            number(&case.out, "azimuth_deg"),
        );
        let off = off * elevation.to_radians().cos();
        near(&case.id, "azimuth", off, 0.0, tolerance);
        if let Some(apparent) = case.out["apparent_deg"].as_f64()
            && is_lifted(elevation)
        {
            let found = number(&reply, "apparentElevationDeg");
            near(&case.id, "apparent elevation", found, apparent, tolerance);
        }
    }
}

#[test]
fn positions_agree_with_the_full_algorithm() {
    // 0.02° is promised; the file holds five decimals, and the series left out
    // are worth no more than that.
    positions("position", 5e-5);
}

#[test]
fn positions_agree_with_an_ephemeris() {
    positions("cross_check", 2e-4);
}

#[test]
fn sun_answers_within_its_promise() {
    for case in cases("sun") {
        let reply = call("sun", &case.request).unwrap();
        for (field, tolerance) in case.tolerance.as_object().unwrap() {
            let Some(wanted) = case.expect[field].as_f64() else {
                continue;
            };
            let off = around(number(&reply, field), wanted);
            near(&case.id, field, off, 0.0, tolerance.as_f64().unwrap());
        }
    }
}

const MOMENTS: [&str; 5] = ["rise", "set", "noon", "civilDawn", "civilDusk"];

#[test]
fn sun_day_answers_within_its_promise() {
    for case in cases("sun_day") {
        let reply = call("sunDay", &case.request).unwrap();
        assert_eq!(reply["kind"], case.expect["kind"], "{}", case.id);
        for field in MOMENTS {
            if case.expect[field].is_null() {
                assert!(reply[field].is_null(), "{}: {field}", case.id);
                continue;
            }
            let (found, wanted) = (seconds(&reply[field]), seconds(&case.expect[field]));
            near(
                &case.id,
                field,
                found,
                wanted,
                number(&case.tolerance, field),
            );
        }
    }
}

#[test]
fn days_agree_with_the_roots_of_the_algorithm() {
    for case in law("sun", "day").cases {
        let request = json!({
            "latitudeDeg": number(&case.given, "latitude_deg"),
            "longitudeDeg": number(&case.given, "longitude_deg"),
            "date": case.given["date"],
            "offsetMinutes": number(&case.given, "offset_minutes"),
        });
        let reply = call("sunDay", &request).unwrap();
        assert_eq!(reply["kind"], case.out["kind"], "{}", case.id);
        assert_eq!(reply["civilKind"], case.out["civil_kind"], "{}", case.id);
        let theirs = ["rise", "set", "noon", "civil_dawn", "civil_dusk"];
        for (ours, theirs) in MOMENTS.into_iter().zip(theirs) {
            if case.out[theirs].is_null() {
                assert!(reply[ours].is_null(), "{}: {ours}", case.id);
                continue;
            }
            // The file allows a minute and more above 60° of latitude; both
            // are roots of one elevation, so seconds are enough.
            let (found, wanted) = (seconds(&reply[ours]), seconds(&case.out[theirs]));
            near(&case.id, ours, found, wanted, 3.0);
        }
    }
}

#[test]
fn bad_places_and_times_are_refused_by_name() {
    let at = |latitude: f64, time: &str| {
        let request = json!({"latitudeDeg": latitude, "longitudeDeg": 0, "time": time});
        call("sun", &request).unwrap_err().field.clone()
    };
    assert_eq!(at(91.0, "2026-01-01T00:00Z"), "latitudeDeg");
    assert_eq!(at(0.0, "tomorrow"), "time");
    let day = json!({
        "latitudeDeg": 0, "longitudeDeg": 0, "date": "2026-01-01", "offsetMinutes": 2000
    });
    assert_eq!(call("sunDay", &day).unwrap_err().field, "offsetMinutes");
}

#[test]
fn positions_agree_over_sixty_years_and_all_latitudes() {
    for case in law("sun_grid", "grid").cases {
        let request = json!({
            "latitudeDeg": number(&case.given, "latitude_deg"),
            "longitudeDeg": number(&case.given, "longitude_deg"),
            "time": case.given["time"],
        });
        let reply = call("sun", &request).unwrap();
        let elevation = number(&case.out, "elevation_deg");
        for (ours, theirs) in [
            ("elevationDeg", "elevation_deg"),
            ("apparentElevationDeg", "apparent_deg"),
        ] {
            if theirs == "apparent_deg" && !is_lifted(elevation) {
                continue;
            }
            let wanted = number(&case.out, theirs);
            near(&case.id, ours, number(&reply, ours), wanted, 1e-4);
        }
        let off = around(
            number(&reply, "azimuthDeg"),
            number(&case.out, "azimuth_deg"),
        );
        near(
            &case.id,
            "azimuth",
            off * elevation.to_radians().cos(),
            0.0,
            1e-4,
        );
    }
}
