//! Sky polarization and polarizing sheets against `laws/`.

use glasscall_core::physics::sheet::{Sheet, half_turn};
use glasscall_core::physics::sky::Sky;
use glasscall_core::quantity::{Angle, Direction, Elevation, Polarization};
use glasscall_core::setup::Aim;
use glasscall_tests::{LawCase, law, near, number};

fn angle(value: f64) -> Angle {
    Angle::new(value).unwrap()
}

fn direction(case: &LawCase, azimuth: &str, elevation: &str) -> Direction {
    Direction::from_bearing(
        angle(number(&case.given, azimuth)),
        Elevation::new(number(&case.given, elevation)).unwrap(),
    )
}

fn sky(case: &LawCase) -> Sky {
    Sky {
        sun: direction(case, "sun_az_deg", "sun_el_deg"),
        most: Polarization::new(number(&case.given, "pmax")).unwrap(),
    }
}

/// Compares angles that repeat every `turn` degrees.
fn near_turned(id: &str, field: &str, found: f64, wanted: f64, turn: f64, tolerance: f64) {
    let off = (found - wanted).rem_euclid(turn);
    near(id, field, off.min(turn - off), 0.0, tolerance);
}

#[test]
fn the_sky_sends_what_scattering_gives() {
    for case in law("sky_polarization", "point").cases {
        let sky = sky(&case);
        let view = direction(&case, "view_az_deg", "view_el_deg");
        let light = sky.light_from(view);
        let p = light.polarization;
        let from_sun = view.degrees_to(sky.sun);
        for (field, found) in [
            ("g_deg", from_sun),
            ("p", p),
            ("t_min", (1.0 - p) / 2.0),
            ("t_max", (1.0 + p) / 2.0),
        ] {
            near(&case.id, field, found, number(&case.out, field), 1e-8);
        }
        let elevation = Elevation::new(number(&case.given, "view_el_deg")).unwrap();
        let aim = Aim::new(
            angle(number(&case.given, "view_az_deg")),
            elevation,
            angle(0.0),
        );
        let Some(wanted) = case.out["chi_deg"].as_f64() else {
            assert!(
                light.field.is_none() || p < 1e-9,
                "{}: no direction",
                case.id
            );
            continue;
        };
        let [right, up, forward] = aim.seen(light.field.unwrap());
        near(&case.id, "field along the view", forward, 0.0, 1e-12);
        let chi = right.atan2(up).to_degrees();
        let tolerance = 1e-6 / from_sun.to_radians().sin();
        near_turned(&case.id, "chi_deg", chi, wanted, 180.0, tolerance);
        for (field, across) in [("darkest_stops", 90.0), ("brightest_stops", 0.0)] {
            let found = Sheet::new(aim, half_turn(wanted + across)).darkening(view, light);
            let wanted = number(&case.out, field);
            near(&case.id, field, found.stops(), wanted, 1e-8);
        }
    }
}

#[test]
fn a_field_point_passes_the_sheet_as_an_o_type_sheet_lets_it() {
    let mut apart: f64 = 0.0;
    for case in law("sky_polarization", "frame").cases {
        let given = |field| number(&case.given, field);
        let aim = Aim::new(
            angle(given("aim_az_deg")),
            Elevation::new(given("aim_el_deg")).unwrap(),
            angle(given("roll_deg")),
        );
        let focal = given("focal_mm");
        let ray = aim.ray(
            given("squeeze") * given("x_mm") / focal,
            given("y_mm") / focal,
        );
        let sky = sky(&case);
        let light = sky.light_from(ray);
        let sheet = Sheet::new(aim, given("psi_deg"));
        for (field, found) in [
            ("ray_el_deg", ray.elevation_degrees()),
            ("g_deg", ray.degrees_to(sky.sun)),
            ("p", light.polarization),
            ("transmittance", sheet.transmittance(ray, light)),
            ("stops_vs_unpolarized", sheet.darkening(ray, light).stops()),
        ] {
            // The file gives ten significant digits.
            let wanted = number(&case.out, field);
            near(&case.id, field, found, wanted, 1e-8 * wanted.abs().max(1.0));
        }
        let azimuth = number(&case.out, "ray_az_deg");
        near_turned(
            &case.id,
            "ray_az_deg",
            ray.azimuth_degrees(),
            azimuth,
            360.0,
            1e-7,
        );
        let [right, up, _] = aim.seen(light.field.unwrap());
        let chi = right.atan2(up).to_degrees();
        let wanted = number(&case.out, "chi_image_deg");
        near_turned(&case.id, "chi_image_deg", chi, wanted, 180.0, 1e-6);
        let flat = number(&case.out, "simple_transmittance");
        let flat = -(2.0 * flat).log2();
        let off = (sheet.darkening(ray, light).stops() - flat).abs();
        near(&case.id, "flat model", off, 0.0, 0.315);
        apart = apart.max(off);
    }
    // The reason for the sheet: the flat comparison is a third of a stop off.
    assert!(apart > 0.29, "the flat model is only {apart} stop off");
}
