//! Light of the clear sky, before anyone has read it.

use crate::quantity::{Bounds, Elevation, Illuminance, OutOfRange, Stops};
use crate::square_root::square_root;

/// Sun elevations for which the model holds.
pub const HOLDS: Bounds = Bounds::ELEVATION.from(-18.0);

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
/// Supplement to the Astronomical Almanac (1992), 9.3; the coefficients are
/// those of Vallado, Fundamentals of Astrodynamics and Applications (2022), table
/// 5-1, as in valladopy 0.4.1.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::daylight::clear_sky;
/// use glasscall_core::quantity::Elevation;
///
/// // log10 E = 3.74 + 3.97/3 − 4.07/9 + 1.47/27 at 30°, by hand.
/// assert!((clear_sky(Elevation::constant(30.0))?.lux() / 46_296.0 - 1.0).abs() < 1e-3);
/// // Below −18° it is night.
/// assert!(clear_sky(Elevation::constant(-20.0)).is_err());
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn clear_sky(sun: Elevation) -> Result<Illuminance, OutOfRange> {
    let x = HOLDS.check(sun.degrees())? / 90.0;
    let c = coefficients(sun);
    Illuminance::new(libm::exp10(c[0] + x * (c[1] + x * (c[2] + x * c[3]))))
}

/// l0 to l3 of [`clear_sky`] at this height.
#[must_use]
pub fn coefficients(sun: Elevation) -> [f64; 4] {
    let range = RANGES.iter().find(|(from, _)| sun.degrees() >= *from);
    range.map_or([0.0; 4], |(_, coefficients)| *coefficients)
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

/// What the light of a clear sky falls on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facing {
    /// Level ground, as the model has it.
    Level,
    /// A card or a face turned straight at the sun.
    Sun,
    /// A standing face or wall, on the sun's side.
    Upright,
    /// The same in its own shade, with its back to the sun.
    UprightAway,
}

/// Illuminance of a surface under a clear sky; of level ground by
/// [`clear_sky`], of others by [`parts`], which with the sun down, when all
/// light is the sky's, give as much from every side.
///
/// # Units
///
/// Lux. A surface leaning by β sees (1 + cos β)/2 of the sky; the sky is taken
/// as even and what the ground throws back is left out.
///
/// # Errors
///
/// As [`clear_sky`].
///
/// # Source
///
/// As [`parts`]; the share of an even sky is geometry.
pub fn falls_on(sun: Elevation, facing: Facing) -> Result<Illuminance, OutOfRange> {
    let level = clear_sky(sun)?;
    let (Some(parts), true) = (parts(sun), facing != Facing::Level) else {
        return Ok(level);
    };
    let (sine, cosine) = libm::sincos(sun.degrees().to_radians());
    let lux = match facing {
        Facing::Level => level.lux(),
        Facing::Sun => parts.facing_sun + parts.sky * (1.0 + sine) / 2.0,
        Facing::Upright => parts.facing_sun * cosine + parts.sky / 2.0,
        Facing::UprightAway => open_shade(sun)?.lux() / 2.0,
    };
    Illuminance::new(lux)
}

/// What open shade gets on level ground: the sky alone.
///
/// The lesser of what [`parts`] says outright and of its share of
/// [`clear_sky`]: the two models part below 10° and shade is never brighter than
/// sun and sky together. With the sun down all light is the sky's.
///
/// # Errors
///
/// As [`clear_sky`].
pub fn open_shade(sun: Elevation) -> Result<Illuminance, OutOfRange> {
    let level = clear_sky(sun)?;
    let Some(parts) = parts(sun) else {
        return Ok(level);
    };
    let share = parts.sky / (parts.sun + parts.sky);
    Illuminance::new(parts.sky.min(level.lux() * share))
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
/// Journal of the IES 13(4), 381–392 (1984), clear sky: the sun as a program
/// written after that paper has it (127.5 klx, 0.21, 1/sin h), the sky, which that
/// program has by halves only, from memory.
#[must_use]
pub fn parts(sun: Elevation) -> Option<Parts> {
    let sine = libm::sin(sun.degrees().to_radians());
    (sine > 0.0).then(|| {
        let facing_sun = 127_500.0 * libm::exp(-0.21 / sine);
        Parts {
            sun: facing_sun * sine,
            sky: 800.0 + 15_500.0 * square_root(sine),
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

    #[test]
    fn a_card_turned_to_a_low_sun_gets_stops_more_than_the_ground() {
        // Worked by hand from the practice's own equations over the almanac's
        // level ground.
        for (degrees, stops) in [(10.0, 1.93), (20.0, 1.47), (30.0, 1.00), (45.0, 0.45)] {
            let card = falls_on(at(degrees), Facing::Sun).unwrap().lux();
            let over = (card / lux(degrees)).log2();
            assert!((over - stops).abs() < 0.01, "{degrees}: {over}");
        }
    }

    #[test]
    fn shade_is_never_brighter_than_sun_and_sky() {
        for tenth in -180..=900 {
            let sun = at(f64::from(tenth) / 10.0);
            let shade = open_shade(sun).unwrap().lux();
            assert!(shade <= clear_sky(sun).unwrap().lux(), "{tenth}");
            let away = falls_on(sun, Facing::UprightAway).unwrap().lux();
            assert!(
                away <= falls_on(sun, Facing::Upright).unwrap().lux(),
                "{tenth}"
            );
        }
        // High up the practice's own figure stands.
        assert_eq!(
            open_shade(at(75.0)).unwrap().lux(),
            parts(at(75.0)).unwrap().sky
        );
    }
}
