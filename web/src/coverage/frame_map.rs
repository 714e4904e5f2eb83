//! `frameMap`: stops lost over the whole frame.

use crate::light::sky::PolarizerTurn;
use crate::plain::refusal::{At, Refusal};
use crate::shapes::grad::GradRequest;
use crate::shapes::lens::{LensView, through_lens};
use crate::shapes::opening::OpeningRequest;
use glasscall_core::answer::frame_map::{FrameGlass, FrameMap, PolarizedSky};
use glasscall_core::physics::line::Line;
use glasscall_core::physics::opening::Opening;
use glasscall_core::physics::sky::{CLEAN_SKY, Sky};
use glasscall_core::quantity::{Angle, Bounds, Direction, Elevation, Polarization, Stops};
use glasscall_core::setup::Aim;
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Pixels a side of a map may have.
const MAX_SIDE: usize = 8192;
/// Pixels a map may have: one of 4096 × 2160 fits.
const MAX_PIXELS: usize = 8_847_360;
/// Graduated filters a map may have.
const MAX_GRADS: usize = 4;
/// Openings a map may have.
const MAX_OPENINGS: usize = 16;

through_lens! {
    /// A lens, what is in front of it, and the size of the map.
    pub struct FrameMapRequest {
        /// Stops that the even glass takes, a polarizer's own loss included.
        #[serde(default)]
        pub uniform_stops: f64,
        /// A graduated filter.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub grad: Option<GradRequest>,
        /// More of them, up to four in all.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        pub grads: Vec<GradRequest>,
        /// A polarizer against a clear sky, which begins at the horizon.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub sky: Option<FrameSkyRequest>,
        /// Openings the light has to pass.
        #[serde(default)]
        pub openings: Vec<OpeningRequest>,
        /// Pixels across, up to 8192.
        pub columns: usize,
        /// Pixels down, up to 8192; 8 847 360 in all at most.
        pub rows: usize,
    }
}

/// Sun, aim and the turn of the polarizer, as `sky` has them.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FrameSkyRequest {
    /// The sun's azimuth, clockwise from true north.
    pub sun_azimuth_deg: f64,
    /// The sun's elevation above the horizon.
    pub sun_elevation_deg: f64,
    /// Azimuth of the lens axis.
    pub aim_azimuth_deg: f64,
    /// Elevation of the lens axis. Give this or `horizonAtFrameHeight`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aim_elevation_deg: Option<f64>,
    /// The height of the frame that the horizon crosses at the middle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub horizon_at_frame_height: Option<f64>,
    /// Roll of the camera, clockwise seen from behind.
    #[serde(default)]
    pub roll_deg: f64,
    /// Degree of polarization at 90° from the sun; 0.75 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_polarization: Option<f64>,
    /// The passed axis, clockwise from camera up seen from behind, or
    /// `darkest` for the turn that darkens the middle of the frame most.
    #[serde(default)]
    pub polarizer_deg: PolarizerTurn,
}

/// Answers `frameMap`: stops row by row from the top, NaN where clipped.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`, `empty`.
pub fn frame_map(request: &FrameMapRequest) -> Result<Vec<f32>, Refusal> {
    let mut map = FrameMap::default();
    draw(&mut map, request)?;
    Ok(map.last().to_vec())
}

/// Draws a map into buffers that are used again.
pub(crate) fn draw(map: &mut FrameMap, request: &FrameMapRequest) -> Result<(), Refusal> {
    let (columns, rows) = request.size()?;
    glasscall_hot::draw(map, &request.glass()?, columns, rows);
    Ok(())
}

impl FrameMapRequest {
    fn size(&self) -> Result<(usize, usize), Refusal> {
        for (side, field) in [(self.columns, "columns"), (self.rows, "rows")] {
            if !(1..=MAX_SIDE).contains(&side) {
                return Err(Refusal::count_outside(field, side, 1, MAX_SIDE));
            }
        }
        let pixels = self.columns * self.rows;
        if pixels > MAX_PIXELS {
            return Err(Refusal::too_many(
                "rows",
                self.rows,
                MAX_PIXELS / self.columns,
            ));
        }
        Ok((self.columns, self.rows))
    }

    fn glass(&self) -> Result<FrameGlass, Refusal> {
        let lens = self.lens()?;
        Ok(FrameGlass {
            uniform: read!(Stops::new, self.uniform_stops)?,
            lines: self.lines(&lens)?,
            sky: (self.sky.as_ref())
                .map(|sky| sky.polarized(&lens))
                .transpose()?,
            openings: self.openings()?,
            view: lens.view,
            pupil: lens.pupil,
        })
    }

    fn lines(&self, lens: &LensView) -> Result<Vec<Line>, Refusal> {
        let room = MAX_GRADS - usize::from(self.grad.is_some());
        if self.grads.len() > room {
            return Err(Refusal::too_many("grads", self.grads.len(), room));
        }
        let first = (self.grad.iter()).map(|grad| grad.line(lens, "grad"));
        let more = (self.grads.iter().enumerate())
            .map(|(nth, grad)| grad.line(lens, &format!("grads[{nth}]")));
        first.chain(more).collect()
    }

    fn openings(&self) -> Result<Vec<Opening>, Refusal> {
        if self.openings.len() > MAX_OPENINGS {
            let given = self.openings.len();
            return Err(Refusal::too_many("openings", given, MAX_OPENINGS));
        }
        (self.openings.iter().enumerate())
            .map(|(nth, opening)| Ok(opening.placed(&format!("openings[{nth}]"))?.opening))
            .collect()
    }
}

impl FrameSkyRequest {
    fn polarized(&self, lens: &LensView) -> Result<PolarizedSky, Refusal> {
        let angle = |given: f64, field: &str| Angle::new(given).at(&format!("sky.{field}"));
        let up = |given: f64, field: &str| Elevation::new(given).at(&format!("sky.{field}"));
        let aim = Aim::new(
            angle(self.aim_azimuth_deg, "aimAzimuthDeg")?,
            self.elevation(lens)?,
            angle(self.roll_deg, "rollDeg")?,
        );
        let most = self.max_polarization.unwrap_or(CLEAN_SKY);
        // Full polarization would make some sky black and its loss endless.
        let most = Bounds::POLARIZATION.check(most).at("sky.maxPolarization")?;
        let sky = Sky {
            sun: Direction::from_bearing(
                angle(self.sun_azimuth_deg, "sunAzimuthDeg")?,
                up(self.sun_elevation_deg, "sunElevationDeg")?,
            ),
            most: Polarization::new(most).at("sky.maxPolarization")?,
        };
        let turn = self.polarizer_deg.turn("sky.polarizerDeg")?;
        let passes = turn.degrees(aim, sky.light_from(aim.forward()));
        Ok(PolarizedSky { sky, aim, passes })
    }

    /// The elevation of the lens axis, given or told by the horizon: a field
    /// direction lies on it when −x·sin ρ + y·cos ρ + tan E = 0, ρ the roll.
    fn elevation(&self, lens: &LensView) -> Result<Elevation, Refusal> {
        match (self.aim_elevation_deg, self.horizon_at_frame_height) {
            (Some(_), Some(_)) => Err(Refusal::new(
                crate::Code::OneTooMany,
                "sky.horizonAtFrameHeight",
            )),
            (Some(elevation), None) => Elevation::new(elevation).at("sky.aimElevationDeg"),
            (None, Some(height)) => {
                let field = "sky.horizonAtFrameHeight";
                let there = lens
                    .view
                    .tangents_of(0.5, Bounds::FRAME_PLACE.check(height).at(field)?);
                let (sin, cos) = libm::sincos(self.roll_deg.to_radians());
                Elevation::new(libm::atan(there.x * sin - there.y * cos).to_degrees()).at(field)
            }
            (None, None) => Err(Refusal::new(crate::Code::Missing, "sky.aimElevationDeg")),
        }
    }
}
