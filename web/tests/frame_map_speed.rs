//! How long a map of 1920 × 1080 takes; run by `tests/bench/frame-map.mjs`.
//!
//! The same scenes run natively and as WebAssembly, so the file holds both
//! kinds of test. They are left out of ordinary runs: a busy machine would fail
//! them.

#![expect(clippy::unwrap_used, reason = "a benchmark may stop on a bad value")]

use glasscall_core::answer::frame_map::{FrameGlass, FrameMap, PolarizedSky};
use glasscall_core::physics::line::{Held, Line, Place};
use glasscall_core::physics::opening::{Opening, OpeningRecord, Shape};
use glasscall_core::physics::profile::Profile;
use glasscall_core::physics::pupil::Pupil;
use glasscall_core::physics::sky::Sky;
use glasscall_core::quantity::{
    Angle, Aperture, Density, Direction, Elevation, FocalLength, Length, OutOfRange, Polarization,
    Span, Squeeze, Stops,
};
use glasscall_core::setup::{Aim, View, ViewRecord};

const COLUMNS: usize = 1920;
const ROWS: usize = 1080;
const FRAMES: u32 = 24;

/// Soft grad turned by 8°, a polarized sky, a ring that shades the corners.
fn glass(number: f64) -> Result<FrameGlass, OutOfRange> {
    let record = ViewRecord {
        width: Span::new(24.9)?,
        height: Span::new(14.0)?,
        shift_x: Length::ZERO,
        shift_y: Length::ZERO,
        focal_length: FocalLength::new(18.0)?,
        squeeze: Squeeze::new(1.0)?,
    };
    let behind = Length::new(40.0)?;
    let pupil = Pupil::new(
        record.focal_length,
        Aperture::from_marking(number)?,
        record.squeeze,
        behind.into(),
    );
    let view = View::new(record)?;
    let held = Held {
        from_rim: Length::new(35.0)?,
        rotation: Angle::new(8.0)?,
        inverted: false,
    };
    let profile = Profile::soft(Density::new(0.9)?, Length::new(30.0)?).unwrap();
    let line = Line::new(profile, held, view, &pupil, Place::InFrame(0.55))?;
    let aim = Aim::new(Angle::new(40.0)?, Elevation::new(-3.0)?, Angle::new(4.0)?);
    let sun = Direction::from_bearing(Angle::new(130.0)?, Elevation::new(28.0)?);
    let ring = Opening::new(OpeningRecord {
        shape: Shape::Circle {
            diameter: Span::new(122.0)?,
        },
        distance: Length::new(35.0)?,
        depth: None,
        offset_x: Length::ZERO,
        offset_y: Length::ZERO,
        rotation: Angle::new(0.0)?,
    });
    Ok(FrameGlass {
        view,
        pupil,
        uniform: Stops::new(1.7)?,
        lines: vec![line],
        sky: Some(PolarizedSky {
            sky: Sky {
                sun,
                most: Polarization::new(0.75)?,
            },
            aim,
            passes: 75.0,
        }),
        openings: vec![ring],
    })
}

/// Shortest of many frames, in milliseconds.
fn shortest(mut frame: impl FnMut(u32), now: impl Fn() -> f64) -> f64 {
    frame(0);
    (0..FRAMES)
        .map(|nth| {
            let start = now();
            frame(nth);
            now() - start
        })
        .fold(f64::INFINITY, f64::min)
}

fn report(say: impl Fn(&str), now: impl Fn() -> f64) {
    let whole = glass(2.8).unwrap();
    let closed = glass(4.0).unwrap();
    let only = |keep: &str| FrameGlass {
        lines: if keep == "grad" {
            whole.lines.clone()
        } else {
            vec![]
        },
        sky: whole.sky.filter(|_| keep == "sky"),
        openings: vec![],
        ..whole.clone()
    };
    let scenes = [
        ("grad", only("grad")),
        ("sky", only("sky")),
        ("everything", whole.clone()),
    ];
    for (name, glass) in scenes {
        let mut map = FrameMap::default();
        let draw = |_| {
            map.draw(&glass, COLUMNS, ROWS);
        };
        say(&format!("frame_map {name} {:.3}", shortest(draw, &now)));
    }
    let mut map = FrameMap::default();
    let draw = |nth: u32| {
        let glass = if nth.is_multiple_of(2) {
            &whole
        } else {
            &closed
        };
        map.draw(glass, COLUMNS, ROWS);
    };
    say(&format!("frame_map stop-moved {:.3}", shortest(draw, &now)));
    let seen = map.last().iter().filter(|stops| !stops.is_nan()).count();
    assert!(seen > COLUMNS * ROWS / 2, "only {seen} pixels are seen");
}

#[cfg(not(target_arch = "wasm32"))]
#[test]
#[ignore = "a benchmark: tests/bench/frame-map.mjs"]
fn native_frames() {
    let start = std::time::Instant::now();
    report(
        |line| println!("{line}"),
        || start.elapsed().as_secs_f64() * 1000.0,
    );
}

#[cfg(target_arch = "wasm32")]
mod wasm {
    use wasm_bindgen_test::{console_log, wasm_bindgen_test};

    #[wasm_bindgen::prelude::wasm_bindgen]
    extern "C" {
        #[wasm_bindgen(js_namespace = performance, js_name = now)]
        fn performance_now() -> f64;
    }

    #[wasm_bindgen_test]
    #[ignore = "a benchmark: tests/bench/frame-map.mjs"]
    fn wasm_frames() {
        super::report(|line| console_log!("{line}"), performance_now);
    }
}
