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
use glasscall_core::physics::profile::{Profile, ProfileError};
use glasscall_core::physics::pupil::Pupil;
use glasscall_core::physics::sun::{Observer, sun_position};
use glasscall_core::quantity::{
    Angle, Aperture, Density, Disc, Distance, Elevation, ExtinctionRatio, FocalLength, Incidence,
    Latitude, Length, Longitude, Moment, Reach, RefractiveIndex, Span, Squeeze, Stops,
};
use glasscall_core::setup::{Focus, Location as Spot, Tangents, View, ViewRecord};
use glasscall_tests::answered;
use serde_json::json;

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
fn a_need_as_stops_density_and_aperture_is_one_need() {
    // What a bare reading at N asks of a shot at N' is 2·log2(N/N') stops, its
    // density that times log10 2, and a piece of that density leaves nothing.
    let settings = |aperture: f64| {
        json!({
            "aperture": aperture, "exposureIndex": 800, "frameRate": 24, "shutterAngleDeg": 180
        })
    };
    let ask = |read: f64, density: f64| {
        answered(
            "openUp",
            &json!({
                "reading": settings(read),
                "shot": settings(2.0),
                "kit": [{"id": "only", "kind": "nd", "density": density}],
                "rig": {"slots": [{"id": "tray"}]},
                "keep": ["only"],
            }),
        )
    };
    let read = |step: f64| Aperture::from_number(2.0 * step.exp2()).unwrap().number();
    let needs = grid(-3.0, 8.9, 1190).map(|step| {
        let number = read(step);
        let exact = Aperture::from_marking(number).unwrap();
        let stops = 2.0 * (exact.number() / 2.0).log2();
        let reply = ask(number, 0.0);
        let need = reply["needStops"].as_f64().unwrap();
        assert!((need - stops).abs() < 1e-12, "{number}: {need}");
        let Some(density) = reply["needDensity"].as_f64() else {
            assert!(need < 0.0, "{number}: no density for {need}");
            return need;
        };
        assert!((density - stops.max(0.0) * 2f64.log10()).abs() < 1e-12);
        if density <= 12.0 {
            let left = ask(number, density);
            let stack = &left["stacks"][0];
            assert!(stack["leftOverStops"].as_f64().unwrap().abs() < 1e-12);
            assert!((stack["stops"].as_f64().unwrap() - need).abs() < 1e-12);
            let converted = answered("convertDensity", &json!({"density": density}));
            assert!((converted["stops"].as_f64().unwrap() - need.max(0.0)).abs() < 1e-12);
        }
        need
    });
    // A marking near a whole step of the series stands for it: the need stands
    // still there and then goes on, by no more than its catch.
    rises("need", needs, 0.2);
    // Denser glass leaves less, by exactly its own stops.
    let left = grid(0.0, 12.0, 1200).map(|density| {
        let reply = ask(16.0, density);
        let left = reply["stacks"][0]["leftOverStops"].as_f64().unwrap();
        assert!((left + density / 2f64.log10() - 6.0).abs() < 1e-12);
        -left
    });
    rises("left over", left, 0.04);
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

/// How wide this line blends, with everything that moves it said.
#[derive(Clone, Copy)]
struct Blended {
    ramp: f64,
    number: f64,
    focal: f64,
    from_rim: f64,
    rotation: f64,
    place: f64,
}

impl Blended {
    const USUAL: Self = Self {
        ramp: 12.0,
        number: 4.0,
        focal: 35.0,
        from_rim: 80.0,
        rotation: 0.0,
        place: 0.5,
    };

    fn in_stops(self, shape: fn(Density, Length) -> Result<Profile, ProfileError>) -> f64 {
        let record = ViewRecord {
            focal_length: FocalLength::new(self.focal).unwrap(),
            squeeze: Squeeze::new(1.8).unwrap(),
            ..*lens(4.0).0.record()
        };
        let number = Aperture::from_number(self.number).unwrap();
        let pupil = Pupil::new(record.focal_length, number, record.squeeze, mm(20.0).into());
        let held = Held {
            from_rim: mm(self.from_rim),
            rotation: Angle::new(self.rotation).unwrap(),
            inverted: false,
        };
        let profile = shape(Density::new(0.9).unwrap(), mm(self.ramp)).unwrap();
        let view = View::new(record).unwrap();
        let line = Line::new(profile, held, view, &pupil, Place::InFrame(self.place)).unwrap();
        line.blend().unwrap().in_stops
    }
}

#[test]
fn a_blend_has_no_jump_whatever_is_turned() {
    type Turn = (&'static str, f64, f64, fn(f64) -> Blended);
    let usual = Blended::USUAL;
    assert!(usual.in_stops(Profile::soft) > 0.0);
    let turns: [Turn; 6] = [
        ("ramp", 0.0, 60.0, |ramp| Blended {
            ramp,
            ..Blended::USUAL
        }),
        ("number", 1.0, 45.0, |number| Blended {
            number,
            ..Blended::USUAL
        }),
        ("focal length", 12.0, 200.0, |focal| Blended {
            focal,
            ..Blended::USUAL
        }),
        ("distance", 5.0, 300.0, |from_rim| Blended {
            from_rim,
            ..Blended::USUAL
        }),
        ("rotation", -180.0, 180.0, |rotation| Blended {
            rotation,
            ..Blended::USUAL
        }),
        ("place", -1.0, 2.0, |place| Blended {
            place,
            ..Blended::USUAL
        }),
    ];
    for (what, from, to, at) in turns {
        for shape in [Profile::soft, Profile::smooth] {
            let widths: Vec<f64> = grid(from, to, 1000)
                .map(|value| at(value).in_stops(shape))
                .collect();
            for (step, pair) in widths.windows(2).enumerate() {
                assert!(pair[0] > 0.0 && pair[1].is_finite(), "{what} at {step}");
                // The widest step in proportion is the widest aperture's, 4 %.
                let turned = (pair[1] / pair[0]).ln().abs();
                assert!(turned < 0.05, "{what} at {step}: {pair:?}");
            }
        }
    }
}

#[test]
fn a_ramp_that_shrinks_to_nothing_becomes_a_step() {
    let at = |ramp: f64| Blended {
        ramp,
        ..Blended::USUAL
    };
    let step = at(0.0).in_stops(|density, _| Profile::hard(density, mm(0.0)));
    let off = |ramp: f64| (at(ramp).in_stops(Profile::soft) / step - 1.0).abs();
    for ramp in [0.1, 0.01, 0.001, 1e-6, 1e-9] {
        // What a ramp adds goes with its square; the pupil is 8.75 mm.
        assert!(
            off(ramp) <= (ramp / 2.0).powi(2) + 1e-8,
            "{ramp}: {}",
            off(ramp)
        );
    }
    assert!(off(0.0) < 1e-12);
}

#[test]
fn a_stretched_pupil_narrows_sideways_and_only_sideways() {
    let (view, _) = lens(2.0);
    let at = |squeeze: f64| {
        let record = ViewRecord {
            squeeze: Squeeze::new(squeeze).unwrap(),
            ..*view.record()
        };
        let number = Aperture::from_number(2.0).unwrap();
        let nowhere = Length::ZERO.into();
        let pupil = Pupil::new(record.focal_length, number, record.squeeze, nowhere);
        (View::new(record).unwrap(), pupil)
    };
    let whole = |squeeze: f64, rotation: f64| {
        let held = Held {
            from_rim: mm(80.0),
            rotation: Angle::new(rotation).unwrap(),
            inverted: false,
        };
        let (view, pupil) = at(squeeze);
        let hard = Profile::hard(Density::new(0.9).unwrap(), mm(0.0)).unwrap();
        let line = Line::new(hard, held, view, &pupil, Place::OnFilter(mm(0.0))).unwrap();
        line.whole_blend()
    };
    for squeeze in grid(0.4, 2.5, 2100) {
        // A level line meets the pupil's height; an upright one its width,
        // f/(N·s), in a picture that is s times as wide.
        let (level, upright) = (whole(squeeze, 0.0), whole(squeeze, 90.0));
        assert!((level / whole(1.0, 0.0) - 1.0).abs() < 1e-12, "{squeeze}");
        let squared = squeeze * squeeze;
        assert!(
            (upright * squared / whole(1.0, 90.0) - 1.0).abs() < 1e-12,
            "{squeeze}"
        );
    }
    for turn in grid(0.0, 180.0, 12) {
        let turned = grid(0.4, 2.5, 1000).map(|squeeze| -whole(squeeze, turn));
        if turn % 180.0 > 1e-9 {
            rises(&format!("blend at {turn}"), turned, 0.04);
        }
    }
    let passed_by = |width: f64, height: f64| {
        let opening = Opening::new(OpeningRecord {
            shape: Shape::Rectangle {
                width: Span::new(width).unwrap(),
                height: Span::new(height).unwrap(),
            },
            distance: mm(50.0),
            depth: None,
            offset_x: Length::ZERO,
            offset_y: Length::ZERO,
            rotation: Angle::new(0.0).unwrap(),
        });
        let axis = Tangents { x: 0.0, y: 0.0 };
        move |squeeze: f64| passed(&at(squeeze).1, &[opening], axis)
    };
    // f/N is 17.5: 12 high cuts the height alike at any squeeze; 12 wide cuts
    // the less the narrower the pupil, and nothing from 17.5/12 on.
    let (low, narrow) = (passed_by(100.0, 12.0), passed_by(12.0, 100.0));
    for squeeze in grid(0.4, 2.5, 1000) {
        assert!((low(squeeze) - low(1.0)).abs() < 1e-12, "{squeeze}");
        assert_eq!(narrow(squeeze) == 1.0, squeeze >= 17.5 / 12.0, "{squeeze}");
    }
    rises("narrow", grid(0.4, 2.5, 1000).map(narrow), 0.01);
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
    // A quarter of a degree a minute at the most. The air lifts it the more the
    // lower it is, and lets go of it once it is down: the shown sun is slower
    // above the horizon, up to 1.75 times as fast below, and never turns back.
    for latitude in grid(-90.0, 90.0, 36) {
        let place = Spot {
            latitude: Latitude::new(latitude).unwrap(),
            longitude: Longitude::new(13.0).unwrap(),
        };
        let observer = Observer::at(place);
        let day: Vec<_> = grid(0.0, 86_400.0, 1440)
            .map(|second| Moment::EPOCH.later_by(1_710_892_800.0 + second))
            .map(|moment| sun_position(observer, moment))
            .collect();
        for pair in day.windows(2) {
            let moved =
                pair[1].direction.elevation_degrees() - pair[0].direction.elevation_degrees();
            let shown = pair[1].apparent_elevation() - pair[0].apparent_elevation();
            assert!(moved.abs() < 0.2515, "{latitude}: {moved}");
            assert!(shown * moved >= 0.0, "{latitude}: {moved} shows as {shown}");
            assert!(shown.abs() <= 1.75 * moved.abs(), "{latitude}: {shown}");
        }
    }
}

/// Where the pieces of the daylight model meet, as its source has them.
const DAYLIGHT_JOINS: [f64; 5] = [-12.0, -5.0, -0.8, 5.0, 20.0];

#[test]
fn a_higher_sun_gives_more_light() {
    let stops = |degrees: f64| {
        let lux = clear_sky(Elevation::new(degrees).unwrap()).unwrap();
        lux.lux().log2()
    };
    let ends = [-18.0, -12.0, -5.0, -0.8, 5.0, 20.0, 90.0];
    for piece in ends.windows(2) {
        // The lower end belongs to the piece, the upper end to the next.
        let inside = grid(piece[0], piece[1] - 1e-9, 9000).map(stops);
        rises(&format!("daylight from {}", piece[0]), inside, 0.1);
    }
    // The document promises a fifth of a stop where they meet.
    for join in DAYLIGHT_JOINS {
        let gap = stops(join) - stops(join - 1e-9);
        assert!(gap.abs() <= 0.2, "{join}: {gap}");
    }
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
