//! Light of the clear sky, before anyone has read it.

use crate::quantity::{Bounds, Elevation, Illuminance, OutOfRange, Stops};

/// Sun elevations for which the model holds.
pub const HOLDS: Bounds = Bounds {
    min: -18.0,
    ..Bounds::ELEVATION
};

/// From this elevation up, four coefficients each; x is elevation/90°.
const RANGES: [(f64, [f64; 4]); 6] = [
    (20.0, [3.74, 3.97, -4.07, 1.47]),
    (5.0, [3.05, 13.28, -45.98, 64.33]),
    (-0.8, [2.88, 22.26, -207.64, 1034.30]),
    (-5.0, [2.88, 21.81, -258.11, -858.36]),
    (-12.0, [2.70, 12.17, -431.69, -1899.83]),
    (-18.0, [13.84, 262.72, 1447.42, 2797.93]),
];

/// Illuminance of level ground under a clear sky, sun and sky together.
///
/// # Units
///
/// Lux; the sun's elevation as geometry has it, air apart.
///
/// # Domain
///
/// −18° to 90°. Cloud, shade and moonlight are not in it. The pieces meet
/// within 0.06 of a decade (a fifth of a stop).
///
/// # Errors
///
/// [`OutOfRange`] below −18°, where starlight takes over.
///
/// # Accuracy
///
/// The fit is good to 0.02 in log10; how far real clear skies stray is
/// [`spread`].
///
/// # Source
///
/// log10 E = l0 + l1·x + l2·x² + l3·x³: Seidelmann (ed.), Explanatory
/// Supplement to the Astronomical Almanac (1992), 9.3; coefficients from memory.
pub fn clear_sky(sun: Elevation) -> Result<Illuminance, OutOfRange> {
    let degrees = HOLDS.check(sun.degrees())?;
    let x = degrees / 90.0;
    let range = RANGES.iter().find(|(from, _)| degrees >= *from);
    let log_lux = range.map_or(0.0, |(_, c)| c[0] + x * (c[1] + x * (c[2] + x * c[3])));
    Illuminance::new(libm::exp10(log_lux))
}

/// How far clear skies stray from [`clear_sky`], either way.
///
/// # Source
///
/// Thirteen published models against it: within 0.4 stop from 20° up, 0.54 at
/// 10°, 1.6 at 5°, haze being what differs;
/// `tests/reference/laws/daylight.json`, group `spread`.
#[must_use]
pub fn spread(sun: Elevation) -> Stops {
    let degrees = sun.degrees();
    Stops::computed(if degrees >= 20.0 {
        1.0 / 3.0
    } else if degrees >= 10.0 {
        0.5
    } else {
        1.5
    })
}

/// How far clear skies stray from the curve, by elevation: degrees and stops,
/// about the farthest of the thirteen models.
const STRAYS: [(f64, f64); 8] = [
    (5.0, 1.6),
    (7.5, 0.95),
    (10.0, 0.55),
    (15.0, 0.4),
    (20.0, 0.38),
    (30.0, 0.3),
    (60.0, 0.28),
    (90.0, 0.33),
];

/// [`spread`] without its steps, for skies that are followed down: how far the
/// farthest of them strays at this elevation.
///
/// # Domain
///
/// Below 5°, where no model was compared, as at 5°.
///
/// # Source
///
/// As for [`spread`], lines between its elevations.
#[must_use]
pub fn strays(sun: Elevation) -> Stops {
    let degrees = sun.degrees().clamp(5.0, 90.0);
    let above = STRAYS.windows(2).find(|pair| degrees <= pair[1].0);
    Stops::computed(above.map_or(0.0, |pair| {
        let [(from, less), (to, more)] = [pair[0], pair[1]];
        less + (more - less) * (degrees - from) / (to - from)
    }))
}

/// The clear sky's two parts on level ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parts {
    /// From the sun itself, on level ground, lux.
    pub sun: f64,
    /// From the blue sky: what open shade gets, lux.
    pub sky: f64,
    /// From the sun on a card that faces it, lux.
    pub facing_sun: f64,
}

/// Sun and sky apart, for sun against open shade; `None` with the sun down.
///
/// # Units
///
/// sun = 127 500·e^(−0.21·m)·sin h with m = 1/sin h; sky = 800 + 15 500·√sin h.
///
/// # Source
///
/// IES, Recommended Practice for the Calculation of Daylight Availability,
/// Journal of the IES 13(4), 381–392 (1984), clear sky; from memory.
#[must_use]
pub fn parts(sun: Elevation) -> Option<Parts> {
    let sine = libm::sin(sun.degrees().to_radians());
    (sine > 0.0).then(|| {
        let facing_sun = 127_500.0 * libm::exp(-0.21 / sine);
        Parts {
            sun: facing_sun * sine,
            sky: 800.0 + 15_500.0 * libm::sqrt(sine),
            facing_sun,
        }
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn at(degrees: f64) -> Elevation {
        Elevation::new(degrees).unwrap()
    }

    fn lux(degrees: f64) -> f64 {
        clear_sky(at(degrees)).unwrap().lux()
    }

    #[test]
    fn the_zenith_sun_gives_a_hundred_and_thirty_thousand_lux() {
        // 3.74 + 3.97 − 4.07 + 1.47 = 5.11.
        assert!((lux(90.0) - 10f64.powf(5.11)).abs() < 1e-6);
    }

    #[test]
    fn the_pieces_meet() {
        for (from, _) in &RANGES[..5] {
            let step = (lux(*from) / lux(from - 1e-9)).log10().abs();
            assert!(step < 0.06, "{from}: {step}");
        }
    }

    #[test]
    fn more_sun_is_more_light() {
        // The steps where pieces meet apart.
        for tenth in -180..880 {
            let degrees = f64::from(tenth) / 10.0;
            let meets = RANGES.iter().any(|(from, _)| (degrees - from).abs() < 1.0);
            assert!(meets || lux(degrees + 1.0) > lux(degrees), "{degrees}");
        }
    }

    #[test]
    fn sun_and_sky_add_up_to_the_other_model_within_its_spread() {
        for degrees in [12.0, 20.0, 35.0, 60.0, 90.0] {
            let Parts { sun, sky, .. } = parts(at(degrees)).unwrap();
            let apart = ((sun + sky) / lux(degrees)).log2().abs();
            assert!(
                apart <= spread(at(degrees)).stops() + 0.07,
                "{degrees}: {apart}"
            );
        }
    }

    #[test]
    fn in_the_night_there_is_no_answer() {
        assert!(clear_sky(at(-18.1)).is_err());
        assert!(parts(at(0.0)).is_none());
    }
}
