//! What a polarizer does to the sky in one picture.

use crate::physics::pupil_range::NOTICED_STOPS;
use crate::physics::sheet::{Sheet, darkest_turn, half_turn};
use crate::physics::sky::{Sky, SkyLight};
use crate::physics::sun::is_up;
use crate::quantity::Stops;
use crate::setup::{Aim, Tangents, View};

/// A darkening below this is hardly worth the polarizer's loss, and a spread below
/// it looks even: what is noticed in a corner is noticed in a sky.
pub const NOTICED: f64 = NOTICED_STOPS;
/// A spread from here on shows as a dark band.
///
/// Common practice, no source.
pub const BAND_FROM: f64 = 1.0;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkyQuestion {
    /// The sky.
    pub sky: Sky,
    /// Where the camera points.
    pub aim: Aim,
    /// What it sees.
    pub view: View,
    /// How the polarizer is turned.
    pub turn: Turn,
}

/// How a polarizer is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Turn {
    /// To the darkest centre.
    Darkest,
    /// Its passed axis to these degrees clockwise from camera up, seen from
    /// behind.
    To(f64),
    /// So that the centre darkens by this, or as near as this sky gets.
    Like(Stops),
}

impl Turn {
    /// The passed axis in degrees; 0 where every turn is alike, as it is straight
    /// at the sun.
    ///
    /// On the axis 2T = 1 − p·cos 2δ, δ from the darkest turn; of the two turns
    /// that darken alike the one clockwise of it.
    #[must_use]
    pub fn degrees(self, aim: Aim, light: SkyLight) -> f64 {
        let darkest = || darkest_turn(aim, light);
        let turn = match self {
            Self::To(degrees) => return degrees,
            Self::Darkest => darkest(),
            Self::Like(stops) => darkest().map(|darkest| {
                let share = (1.0 - libm::exp2(-stops.stops())) / light.polarization;
                let off = libm::acos(share.clamp(-1.0, 1.0)).to_degrees() / 2.0;
                half_turn(darkest + off)
            }),
        };
        turn.unwrap_or(0.0)
    }
}

/// The sun nearer than this to the lens axis calls for its caution, degrees.
///
/// Common practice, no source.
pub const NEAR_SUN_DEG: f64 = 40.0;

/// What the polarizer does there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkyAnswer {
    /// Angle of the lens axis from the sun, degrees.
    pub from_sun: f64,
    /// Degree of polarization there.
    pub polarization: f64,
    /// The polarizer's passed axis, degrees.
    pub turn: f64,
    /// Darkening on the lens axis against an unpolarized foreground.
    pub centre: Stops,
    /// What the centre gains by a quarter turn from there.
    pub by_quarter: Stops,
    /// Whether the sun is up and within [`NEAR_SUN_DEG`] of the lens axis.
    pub near_sun: bool,
    /// Darkening at the corners, in the order of [`View::corners`]; `None`
    /// below the horizon.
    pub corners: [Option<Stops>; 4],
    /// Darkest less brightest sky in the picture.
    pub spread: Stops,
    /// Share of the picture that is above the horizon.
    pub sky_share: f64,
    /// What to expect.
    pub verdict: SkyVerdict,
    /// Where the darkest sky lies, as shares of the picture's width from the
    /// left; `None` when no sky is in it.
    pub band: Option<Band>,
}

/// A stretch of the picture's width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Left end, 0 to 1.
    pub left: f64,
    /// Right end, 0 to 1.
    pub right: f64,
}

/// What to expect of the polarizer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SkyVerdict {
    /// The picture is all below the horizon.
    NoSky,
    /// The sky darkens by less than [`NOTICED`] anywhere.
    LittleEffect,
    /// It darkens evenly.
    Even,
    /// It darkens unevenly, from [`NOTICED`] on.
    Uneven,
    /// A dark band shows, from [`BAND_FROM`] on.
    Banded,
    /// The sun is so far down that it does not light the sky.
    SunDown,
}

/// Points of the picture looked at, corners and centre among them.
const COLUMNS: u16 = 48;
const ROWS: u16 = 32;

/// Answers the question.
///
/// Darkening is counted against a foreground that is not polarized, so a
/// polarizer's own loss, which both share, is not in it.
///
/// # Source
///
/// [`Sky::light_from`] and [`Sheet::transmittance`], for every point.
#[must_use]
pub fn sky_frame(question: &SkyQuestion) -> SkyAnswer {
    let SkyQuestion { sky, aim, view, .. } = *question;
    let axis = aim.forward();
    let light = sky.light_from(axis);
    let turn = question.turn.degrees(aim, light);
    let sheet = Sheet::new(aim, turn);
    let centre = sheet.darkening(axis, light);
    let quarter = Sheet::new(aim, turn + 90.0).darkening(axis, light);
    let from_sun = axis.degrees_to(sky.sun);
    let above = |point: Tangents| {
        let ray = aim.ray(point.x, point.y);
        let is_sky = ray.elevation_degrees() >= 0.0;
        is_sky.then(|| sheet.darkening(ray, sky.light_from(ray)))
    };
    let survey = Survey::of(view, above);
    SkyAnswer {
        from_sun,
        polarization: light.polarization,
        turn,
        centre,
        by_quarter: Stops::computed(centre.stops() - quarter.stops()),
        near_sun: is_up(sky.sun) && from_sun < NEAR_SUN_DEG,
        corners: view.corners().map(above),
        spread: survey.spread(),
        sky_share: survey.share(),
        verdict: if sky.is_lit() {
            survey.verdict()
        } else {
            SkyVerdict::SunDown
        },
        band: survey.band(),
    }
}

/// The darkening over the picture.
struct Survey {
    /// Darkest sky of each column, left to right.
    columns: [Option<f64>; COLUMNS as usize + 1],
    darkest: f64,
    brightest: f64,
    points: u16,
}

impl Survey {
    fn of(view: View, above: impl Fn(Tangents) -> Option<Stops>) -> Self {
        let mut survey = Self {
            columns: [None; COLUMNS as usize + 1],
            darkest: f64::NEG_INFINITY,
            brightest: f64::INFINITY,
            points: 0,
        };
        for (column, deepest) in (0..=COLUMNS).zip(0..) {
            for row in 0..=ROWS {
                let across = f64::from(column) / f64::from(COLUMNS);
                let up = f64::from(row) / f64::from(ROWS);
                let Some(stops) = above(view.tangents_of(across, up)).map(Stops::stops) else {
                    continue;
                };
                let so_far: &mut Option<f64> = &mut survey.columns[deepest];
                *so_far = Some(so_far.map_or(stops, |other| other.max(stops)));
                survey.darkest = survey.darkest.max(stops);
                survey.brightest = survey.brightest.min(stops);
                survey.points += 1;
            }
        }
        survey
    }

    fn spread(&self) -> Stops {
        let spread = if self.points == 0 {
            0.0
        } else {
            self.darkest - self.brightest
        };
        Stops::computed(spread)
    }

    fn share(&self) -> f64 {
        f64::from(self.points) / f64::from((COLUMNS + 1) * (ROWS + 1))
    }

    fn verdict(&self) -> SkyVerdict {
        let spread = self.spread().stops();
        if self.points == 0 {
            SkyVerdict::NoSky
        } else if self.darkest.max(-self.brightest) < NOTICED {
            SkyVerdict::LittleEffect
        } else if spread < NOTICED {
            SkyVerdict::Even
        } else if spread < BAND_FROM {
            SkyVerdict::Uneven
        } else {
            SkyVerdict::Banded
        }
    }

    /// The columns about the darkest one that keep within half the spread of it.
    fn band(&self) -> Option<Band> {
        let deep = self.darkest - self.spread().stops() / 2.0;
        let is_deep = |column: &Option<f64>| column.is_some_and(|stops| stops >= deep);
        let darkest = (self.columns.iter()).position(|column| *column == Some(self.darkest))?;
        let (before, after) = self.columns.split_at(darkest);
        let to_the_left = before.iter().rev().take_while(|c| is_deep(c)).count();
        let to_the_right = after.iter().take_while(|c| is_deep(c)).count() - 1;
        let place = |column: usize| {
            u16::try_from(column).map_or(1.0, |c| f64::from(c) / f64::from(COLUMNS))
        };
        Some(Band {
            left: place(darkest - to_the_left),
            right: place(darkest + to_the_right),
        })
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{
        Angle, Direction, Elevation, FocalLength, Length, Polarization, Span, Squeeze,
    };
    use crate::setup::ViewRecord;

    fn angle(degrees: f64) -> Angle {
        Angle::new(degrees).unwrap()
    }

    fn elevation(degrees: f64) -> Elevation {
        Elevation::new(degrees).unwrap()
    }

    /// Sun 20° up in the east; a 36 × 24 mm sensor.
    fn frame(azimuth: f64, up: f64, focal_length: f64) -> SkyAnswer {
        sky_frame(&question(azimuth, up, focal_length))
    }

    fn question(azimuth: f64, up: f64, focal_length: f64) -> SkyQuestion {
        let view = ViewRecord {
            width: Span::new(36.0).unwrap(),
            height: Span::new(24.0).unwrap(),
            shift_x: Length::new(0.0).unwrap(),
            shift_y: Length::new(0.0).unwrap(),
            focal_length: FocalLength::new(focal_length).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        };
        SkyQuestion {
            sky: Sky {
                sun: Direction::from_bearing(angle(90.0), elevation(20.0)),
                most: Polarization::new(0.75).unwrap(),
            },
            aim: Aim::new(angle(azimuth), elevation(up), angle(0.0)),
            view: View::new(view).unwrap(),
            turn: Turn::Darkest,
        }
    }

    #[test]
    fn across_the_sun_a_long_lens_gets_two_even_stops() {
        let answer = frame(0.0, 10.0, 135.0);
        // γ is not quite 90° at this height; 2 stops is the most.
        assert!((1.9..2.0).contains(&answer.centre.stops()));
        assert_eq!(answer.verdict, SkyVerdict::Even);
        assert_eq!(answer.sky_share, 1.0);
    }

    #[test]
    fn across_the_sun_a_wide_lens_gets_a_band() {
        let answer = frame(350.0, 25.0, 18.0);
        assert_eq!(answer.verdict, SkyVerdict::Banded);
        let band = answer.band.unwrap();
        assert!(band.left > 0.0 && band.right < 1.0 && band.left < band.right);
    }

    #[test]
    fn away_from_the_sun_there_is_little_to_gain() {
        let answer = frame(270.0, 2.0, 135.0);
        assert_eq!(answer.verdict, SkyVerdict::LittleEffect);
    }

    #[test]
    fn a_sun_far_down_lights_no_sky() {
        let mut asked = question(0.0, 10.0, 50.0);
        asked.sky.sun = Direction::from_bearing(angle(90.0), elevation(-30.0));
        let night = sky_frame(&asked);
        assert_eq!(night.verdict, SkyVerdict::SunDown);
        assert_eq!((night.centre, night.spread), (Stops::ZERO, Stops::ZERO));
    }

    #[test]
    fn a_sky_is_turned_to_darken_as_another_did() {
        let mut asked = question(0.0, 10.0, 50.0);
        let darkest = sky_frame(&asked);
        for like in [1.5, 0.5, 0.0, -0.4] {
            asked.turn = Turn::Like(Stops::new(like).unwrap());
            let found = sky_frame(&asked);
            assert!((found.centre.stops() - like).abs() < 1e-9, "{like}");
            // Told by its turn it is the same.
            asked.turn = Turn::To(found.turn);
            assert!((sky_frame(&asked).centre.stops() - like).abs() < 1e-9);
        }
        // More than this sky has: the darkest there is.
        asked.turn = Turn::Like(Stops::new(5.0).unwrap());
        assert!((sky_frame(&asked).turn - darkest.turn).abs() < 1e-9);
        // −log2(1 − p) at the darkest, −log2(1 + p) a quarter on, by hand.
        let p = darkest.polarization;
        let by_hand = ((1.0 + p) / (1.0 - p)).log2();
        assert!((darkest.by_quarter.stops() - by_hand).abs() < 1e-9);
    }

    #[test]
    fn only_a_sun_that_is_up_is_near() {
        assert!(frame(120.0, 20.0, 50.0).near_sun && !frame(140.0, 20.0, 50.0).near_sun);
        let mut asked = question(90.0, 10.0, 50.0);
        asked.sky.sun = Direction::from_bearing(angle(90.0), elevation(-0.9));
        assert!(!sky_frame(&asked).near_sun);
    }

    #[test]
    fn the_ground_is_no_sky() {
        assert_eq!(frame(0.0, -45.0, 50.0).verdict, SkyVerdict::NoSky);
        let level = frame(0.0, 0.0, 50.0);
        assert!((level.sky_share - 0.5).abs() < 0.05);
        let [bottom_left, bottom_right, top_left, top_right] = level.corners;
        assert!(bottom_left.is_none() && bottom_right.is_none());
        assert!(top_left.is_some() && top_right.is_some());
    }

    #[test]
    fn a_picture_and_its_mirror_image_differ_in_the_side_only() {
        let (left, right) = (
            frame(90.0 - 70.0, 20.0, 24.0),
            frame(90.0 + 70.0, 20.0, 24.0),
        );
        assert!((left.spread.stops() - right.spread.stops()).abs() < 1e-9);
        assert!((left.turn + right.turn - 180.0).abs() < 1e-9);
        let (left, right) = (left.band.unwrap(), right.band.unwrap());
        assert!((left.left - (1.0 - right.right)).abs() < 1e-9);
    }

    #[test]
    fn straight_at_the_sun_there_is_an_answer() {
        let answer = frame(90.0, 20.0, 50.0);
        assert!(answer.from_sun < 1e-6);
        assert!(answer.centre.stops().abs() < 1e-9);
        assert!(answer.spread.stops().is_finite());
    }
}
