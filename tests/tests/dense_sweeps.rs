//! Laws of shape on dense grids: what must only rise, only fall, have no jump.
//!
//! No figures from outside: each fact follows from the law's own description.

use glasscall_core::physics::daylight::clear_sky;
use glasscall_core::physics::depth_of_field::depth_of_field;
use glasscall_core::physics::fresnel::surface;
use glasscall_core::physics::line::{Held, Line, Place};
use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape, chief_ray_at};
use glasscall_core::physics::passed::passed;
use glasscall_core::physics::polarizer_pair::PolarizerPair;
use glasscall_core::physics::profile::Profile;
use glasscall_core::physics::pupil::Pupil;
use glasscall_core::physics::sun::{Observer, RISE_AND_SET_DEPTH, sun_position};
use glasscall_core::quantity::{
    Angle, Aperture, Density, Disc, Distance, Elevation, ExtinctionRatio, FocalLength, Incidence,
    Latitude, Length, Longitude, Moment, Reach, RefractiveIndex, Span, Squeeze, Stops,
};
use glasscall_core::setup::{Focus, Place as Spot, Tangents, View, ViewRecord};

fn mm(value: f64) -> Length {
    Length::new(value).unwrap()
}

fn grid(from: f64, to: f64, steps: u32) -> impl Iterator<Item = f64> {
    (0..=steps).map(move |step| from + (to - from) * f64::from(step) / f64::from(steps))
}

/// Finite, never falling by more than rounding, never rising by more than
/// `jump` at once.
fn rises(what: &str, values: impl Iterator<Item = f64>, jump: f64) {
    let values: Vec<f64> = values.collect();
    assert!(values.len() > 50, "{what}: no grid");
    assert!(values.iter().all(|value| value.is_finite()), "{what}");
    for (at, pair) in values.windows(2).enumerate() {
        let step = pair[1] - pair[0];
        let rounding = 1e-11 * pair[0].abs().max(1.0);
        assert!(step >= -rounding && step <= jump, "{what} at {at}: {step}");
    }
    assert!(values.last() > values.first(), "{what} stands still");
}

fn lens(number: f64) -> (View, Pupil) {
    let record = ViewRecord {
        width: Span::new(24.9).unwrap(),
        height: Span::new(14.0).unwrap(),
        shift_x: Length::ZERO,
        shift_y: Length::ZERO,
        focal_length: FocalLength::new(35.0).unwrap(),
        squeeze: Squeeze::new(1.0).unwrap(),
    };
    let stop = Aperture::from_number(number).unwrap();
    let pupil = Pupil::new(
        record.focal_length,
        stop,
        record.squeeze,
        Length::ZERO.into(),
    );
    (View::new(record).unwrap(), pupil)
}

fn line(profile: Profile, number: f64) -> (View, Line) {
    let (view, pupil) = lens(number);
    let held = Held {
        from_rim: mm(80.0),
        rotation: Angle::new(0.0).unwrap(),
        inverted: false,
    };
    let line = Line::new(profile, held, view, &pupil, Place::InFrame(0.5)).unwrap();
    (view, line)
}

fn profiles() -> [Profile; 3] {
    let dense = Density::new(0.9).unwrap();
    [
        Profile::hard(dense, mm(0.0)).unwrap(),
        Profile::soft(dense, mm(12.0)).unwrap(),
        Profile::smooth(dense, mm(12.0)).unwrap(),
    ]
}

#[test]
fn denser_glass_takes_more_and_its_transmittance_leads_back() {
    let all = || grid(0.0, 6.0, 3000).map(|density| Density::new(density).unwrap());
    rises("stops", all().map(|d| d.stops().stops()), 0.01);
    rises("opacity", all().map(|d| -d.transmittance()), 0.01);
    for density in all() {
        let by_stops = Density::from_stops(density.stops()).unwrap();
        let by_light = Density::from_transmittance(density.transmittance()).unwrap();
        for back in [by_stops, by_light] {
            assert!((back.density() - density.density()).abs() < 1e-12);
        }
    }
}

#[test]
fn a_graduated_filter_takes_more_and_more_across_the_frame_without_a_jump() {
    for profile in profiles() {
        let (view, line) = line(profile, 4.0);
        let up = grid(0.0, 1.0, 4000);
        let taken = up.map(|up| line.loss_towards(view.tangents_of(0.3, up)).stops());
        rises("line", taken, 0.05);
    }
}

#[test]
fn a_larger_pupil_blends_more() {
    for profile in profiles() {
        let width = grid(-22.0, -1.4, 200).map(|number| {
            let (_, line) = line(profile.clone(), -number);
            line.blend().unwrap().in_stops
        });
        rises("blend", width, 0.5);
    }
}

#[test]
fn a_larger_opening_passes_more_up_to_all() {
    let (_, pupil) = lens(2.0);
    let field = Tangents { x: 0.2, y: -0.1 };
    for round in [true, false] {
        for rotation in [0.0, 30.0] {
            let share = grid(0.5, 60.0, 3000).map(|size| {
                let size = Span::new(size).unwrap();
                let shape = if round {
                    Shape::Circle { diameter: size }
                } else {
                    Shape::Rectangle {
                        width: size,
                        height: size,
                    }
                };
                let opening = Opening::new(OpeningRecord {
                    shape,
                    distance: mm(50.0),
                    depth: None,
                    offset_x: mm(1.0),
                    offset_y: mm(2.0),
                    rotation: Angle::new(rotation).unwrap(),
                });
                let share = passed(&pupil, &[opening], field);
                assert!((0.0..=1.0).contains(&share), "{share}");
                share
            });
            rises("passed", share, 0.01);
        }
    }
}

#[test]
fn a_chief_ray_goes_out_in_proportion() {
    let (_, pupil) = lens(4.0);
    for ahead in grid(0.0, 300.0, 100) {
        let found = chief_ray_at(&pupil, Tangents { x: 0.25, y: -0.5 }, ahead);
        assert_eq!(found, (0.25 * ahead, -0.5 * ahead));
    }
}

#[test]
fn the_sun_moves_through_the_day_without_a_jump() {
    // A quarter of a degree a minute at the most; the air lets go of the sun
    // only where its upper limb is down, as the source has it.
    for latitude in [-70.0, -34.0, 0.0, 52.0, 89.0] {
        let place = Spot {
            latitude: Latitude::new(latitude).unwrap(),
            longitude: Longitude::new(13.0).unwrap(),
        };
        let observer = Observer::at(place).unwrap();
        let day: Vec<_> = grid(0.0, 86_400.0, 1440)
            .map(|second| Moment::from_unix_seconds(1_710_892_800.0 + second).unwrap())
            .map(|moment| sun_position(observer, moment))
            .collect();
        for pair in day.windows(2) {
            let heights = [0, 1].map(|at| pair[at].direction.elevation_degrees());
            let moved = (heights[1] - heights[0]).abs();
            assert!(moved < 0.2515, "{latitude}: {moved}");
            if heights.iter().all(|height| *height > -RISE_AND_SET_DEPTH) {
                let shown = pair[1].apparent_elevation() - pair[0].apparent_elevation();
                assert!(shown.abs() <= moved + 1e-3, "{latitude}: {shown}");
            }
        }
    }
}

#[test]
fn a_higher_sun_gives_more_light() {
    let stops = grid(-0.8, 90.0, 9000).map(|degrees| {
        let lux = clear_sky(Elevation::new(degrees).unwrap()).unwrap();
        lux.lux().log2()
    });
    rises("daylight", stops, 0.1);
}

#[test]
fn a_pair_turned_further_takes_more() {
    let ratio = ExtinctionRatio::new(1000.0).unwrap();
    let pair = PolarizerPair::new(Stops::new(2.0).unwrap(), ratio);
    let taken = grid(0.0, 90.0, 9000).map(|turn| pair.taken_at(turn).unwrap().stops());
    rises("pair", taken, 0.01);
}

#[test]
fn stopping_down_moves_both_limits_of_depth_apart() {
    let focal = FocalLength::new(50.0).unwrap();
    let circle = Disc::new(0.02).unwrap();
    let on = Reach::At(Distance::new(3000.0).unwrap());
    let focus = Focus::from_lens(focal, on).unwrap();
    let zones = || {
        grid(1.0, 32.0, 2000).map(|number| {
            depth_of_field(focus, Aperture::from_number(number).unwrap(), circle).unwrap()
        })
    };
    rises("near", zones().map(|z| -z.near.millimetres()), 10.0);
    rises("far", zones().map(|z| -z.far.vergence()), 1e-5);
}

#[test]
fn a_surface_reflects_all_at_grazing_and_the_plain_share_head_on() {
    for index in grid(1.05, 2.4, 60) {
        let glass = RefractiveIndex::new(index).unwrap();
        let at = |degrees| surface(glass, Incidence::new(degrees).unwrap());
        let plain = ((index - 1.0) / (index + 1.0)).powi(2);
        assert!((at(0.0).across - plain).abs() < 1e-14);
        assert!((at(0.0).along - plain).abs() < 1e-14);
        assert!(at(89.9999).across > 0.999 && at(89.9999).along > 0.999);
        rises("across", grid(0.0, 89.9, 900).map(|a| at(a).across), 0.05);
        for angle in grid(0.0, 89.9, 900) {
            assert!((0.0..=1.0).contains(&at(angle).along));
            assert!(at(angle).along <= at(angle).across + 1e-15);
        }
    }
}
