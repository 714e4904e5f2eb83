//! A graduated filter as requests give it.

use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::lens::LensView;
use glasscall_core::physics::line::{Held, Line, Place};
use glasscall_core::physics::profile::{MAX_POINTS, Profile, ProfileError, REVERSE_TOP};
use glasscall_core::quantity::{Angle, Bounds, Density, Length};
use glasscall_core::setup::{Tangents, View};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// How density runs across the line of a graduated filter.
///
/// Heights are measured on the filter, square to its line, positive towards the
/// dense side.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ProfileRequest {
    /// The shape.
    pub kind: ProfileKind,
    /// Density of the dense side, at the line for `reverse` and `stripe`; not
    /// for `points`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// Length of the ramp in mm: across the line for `hard` (0 unless said),
    /// `soft` and `smooth`, above it for `reverse`, to either side of it for
    /// `stripe`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ramp_mm: Option<f64>,
    /// Density at the top of a `reverse` filter; a third of `density` unless
    /// said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub top_density: Option<f64>,
    /// Measured points from low to high, for `points`; two at one height are a
    /// step.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub points: Option<Vec<ProfilePoint>>,
}

/// The shape of a graduated filter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum ProfileKind {
    /// A step, or a short ramp.
    Hard,
    /// A straight ramp centred on the line.
    Soft,
    /// The same, level at both ends of the ramp.
    Smooth,
    /// Densest at the line, fading upward.
    Reverse,
    /// Densest on the line, fading to both sides.
    Stripe,
    /// As measured.
    Points,
}

/// A measured density.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ProfilePoint {
    /// Height above the line in mm.
    pub height_mm: f64,
    /// Density there.
    pub density: f64,
}

/// A place in the frame.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct FramePlace {
    /// Share of the frame's height, 0 the bottom edge, 1 the top.
    pub at_frame_height: f64,
    /// Share of its width, 0 the left edge, 1 the right; ½ unless said.
    #[serde(default = "middle")]
    pub across_frame: f64,
}

const fn middle() -> f64 {
    0.5
}

/// A graduated filter in front of the lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct GradRequest {
    /// From the rim forward to the filter, in mm.
    pub distance_from_rim_mm: f64,
    /// Its density across the line.
    pub profile: ProfileRequest,
    /// Where the line is on the filter, mm from the lens axis towards the dense
    /// side of a filter that is not inverted. Give this or
    /// `lineAtFrameHeight`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line_height_mm: Option<f64>,
    /// The height of the frame that the line crosses at the middle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line_at_frame_height: Option<f64>,
    /// Turn of the filter, counter-clockwise seen from behind the camera.
    #[serde(default)]
    pub rotation_deg: f64,
    /// Dense side below the line.
    #[serde(default)]
    pub invert: bool,
}

impl ProfileRequest {
    /// The profile of a piece, whose density is told beside it.
    pub(crate) fn of_piece(&self, density: Option<f64>, path: &str) -> Result<Profile, Refusal> {
        if self.density.is_some() {
            return Err(Refusal::new(Code::OneTooMany, &joined(path, "density")));
        }
        let measured = self.kind == ProfileKind::Points;
        let density = if measured { None } else { density };
        let whole = Self {
            density,
            ..self.clone()
        };
        whole.profile(path)
    }

    /// The profile at `path`, as `profile` or `grads[2].profile`.
    pub(crate) fn profile(&self, path: &str) -> Result<Profile, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        if self.kind == ProfileKind::Points {
            return self.measured(&at);
        }
        for (unread, given) in [
            ("points", self.points.is_some()),
            (
                "topDensity",
                self.top_density.is_some() && self.kind != ProfileKind::Reverse,
            ),
        ] {
            if given {
                return Err(Refusal::new(Code::OneTooMany, &at(unread)));
            }
        }
        let density = Density::new(needed(self.density, &at("density"))?).at(&at("density"))?;
        let ramp = match (self.kind, self.ramp_mm) {
            (ProfileKind::Hard, None) => 0.0,
            (_, ramp) => needed(ramp, &at("rampMm"))?,
        };
        // Checked here so that a ramp out of any range names its own bounds.
        let ramp = Length::new(Bounds::RAMP.check(ramp).at(&at("rampMm"))?).at(&at("rampMm"))?;
        match self.kind {
            ProfileKind::Hard => Profile::hard(density, ramp),
            ProfileKind::Soft | ProfileKind::Points => Profile::soft(density, ramp),
            ProfileKind::Smooth => Profile::smooth(density, ramp),
            ProfileKind::Reverse => {
                let top = (self.top_density).unwrap_or(density.density() * REVERSE_TOP);
                let top = Density::new(top).at(&at("topDensity"))?;
                Profile::reverse(density, top, ramp)
            }
            ProfileKind::Stripe => Profile::stripe(density, ramp),
        }
        .map_err(|error| refused(error, &at, &[]))
    }

    fn measured(&self, at: &impl Fn(&str) -> String) -> Result<Profile, Refusal> {
        for (unread, given) in [
            ("density", self.density),
            ("rampMm", self.ramp_mm),
            ("topDensity", self.top_density),
        ] {
            if given.is_some() {
                return Err(Refusal::new(Code::OneTooMany, &at(unread)));
            }
        }
        let given = needed(self.points.as_ref(), &at("points"))?;
        if given.len() > MAX_POINTS {
            return Err(Refusal::too_many(&at("points"), given.len(), MAX_POINTS));
        }
        let points = (given.iter().enumerate())
            .map(|(nth, point)| {
                let field = |name: &str| at(&format!("points[{nth}].{name}"));
                let height = Length::new(point.height_mm).at(&field("heightMm"))?;
                let density = Density::new(point.density).at(&field("density"))?;
                Ok((height, density))
            })
            .collect::<Result<Vec<_>, Refusal>>()?;
        Profile::points(&points).map_err(|error| refused(error, at, given))
    }
}

fn refused(error: ProfileError, at: &impl Fn(&str) -> String, points: &[ProfilePoint]) -> Refusal {
    match error {
        ProfileError::NoPoints => Refusal::new(Code::Empty, &at("points")),
        ProfileError::TooManyPoints(count) => Refusal::too_many(&at("points"), count, MAX_POINTS),
        ProfileError::Descending(nth) => {
            let height = |nth: usize| points.get(nth).map(|point| point.height_mm);
            let field = at(&format!("points[{nth}].heightMm"));
            let refusal = Refusal::new(Code::OutOfRange, &field);
            let refusal = match height(nth) {
                Some(given) => refusal.given_number(given),
                None => refusal,
            };
            refusal.needs(nth.checked_sub(1).and_then(height), Bounds::LENGTH.max)
        }
        ProfileError::Ramp(error) => Refusal::out_of_range(&at("rampMm"), error),
    }
}

impl GradRequest {
    pub(crate) const fn holder(&self) -> Holder {
        Holder {
            distance_from_rim_mm: self.distance_from_rim_mm,
            line_height_mm: self.line_height_mm,
            line_at_frame_height: self.line_at_frame_height,
            rotation_deg: self.rotation_deg,
            invert: self.invert,
        }
    }

    /// The filter in front of this lens.
    pub(crate) fn line(&self, lens: &LensView, path: &str) -> Result<Line, Refusal> {
        let profile = self.profile.profile(&joined(path, "profile"))?;
        self.holder().line(profile, lens, path)
    }
}

/// Filters that are in beside the one asked about, in one go: four with it, as
/// `frameMap` draws.
const MAX_OTHERS: usize = 3;

/// The filters that a request has in `others`, in front of this lens.
pub(crate) fn lines_beside(others: &[GradRequest], lens: &LensView) -> Result<Vec<Line>, Refusal> {
    if others.len() > MAX_OTHERS {
        return Err(Refusal::too_many("others", others.len(), MAX_OTHERS));
    }
    (others.iter().enumerate())
        .map(|(nth, grad)| grad.line(lens, &format!("others[{nth}]")))
        .collect()
}

/// The fields that say how a filter is held, wherever a request has them.
pub(crate) struct Holder {
    pub(crate) distance_from_rim_mm: f64,
    pub(crate) line_height_mm: Option<f64>,
    pub(crate) line_at_frame_height: Option<f64>,
    pub(crate) rotation_deg: f64,
    pub(crate) invert: bool,
}

impl Holder {
    /// A filter in it in front of this lens; `path` is "" or "grad".
    pub(crate) fn line(
        &self,
        profile: Profile,
        lens: &LensView,
        path: &str,
    ) -> Result<Line, Refusal> {
        let (held, place) = (self.held(path)?, self.place(path)?);
        Line::new(profile, held, lens.view, &lens.pupil, place)
            .at(&joined(path, "distanceFromRimMm"))
    }

    pub(crate) fn held(&self, path: &str) -> Result<Held, Refusal> {
        let at = |field: &str| joined(path, field);
        Ok(Held {
            from_rim: Length::new(self.distance_from_rim_mm).at(&at("distanceFromRimMm"))?,
            rotation: Angle::new(self.rotation_deg).at(&at("rotationDeg"))?,
            inverted: self.invert,
        })
    }

    /// Where the line is, from the two fields of which one is given.
    pub(crate) fn place(&self, path: &str) -> Result<Place, Refusal> {
        let at = |field: &str| joined(path, field);
        match (self.line_height_mm, self.line_at_frame_height) {
            (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, &at("lineAtFrameHeight"))),
            (Some(height), None) => {
                let height = Length::new(height).at(&at("lineHeightMm"))?;
                Ok(Place::OnFilter(height))
            }
            (None, Some(up)) => {
                let up = Bounds::FRAME_PLACE.check(up).at(&at("lineAtFrameHeight"))?;
                Ok(Place::InFrame(up))
            }
            (None, None) => Err(Refusal::new(Code::Missing, &at("lineAtFrameHeight"))),
        }
    }
}

/// A request about a held filter before a lens: the fields of both, then its
/// own.
macro_rules! through_held_glass {
    ($(#[$about:meta])* pub struct $name:ident { $($own:tt)* }) => {
        crate::shapes::lens::through_lens! {
            $(#[$about])*
            pub struct $name {
                /// From the rim forward to the filter, in mm.
                pub distance_from_rim_mm: f64,
                /// Where the line is on the filter, mm from the lens axis. Give
                /// this or `lineAtFrameHeight`.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub line_height_mm: Option<f64>,
                /// The height of the frame that the line crosses at the middle.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub line_at_frame_height: Option<f64>,
                /// Turn of the filter, counter-clockwise seen from behind the
                /// camera.
                #[serde(default)]
                pub rotation_deg: f64,
                /// Dense side below the line.
                #[serde(default)]
                pub invert: bool,
                $($own)*
            }
        }

        impl $name {
            pub(crate) const fn holder(&self) -> crate::shapes::grad::Holder {
                crate::shapes::grad::Holder {
                    distance_from_rim_mm: self.distance_from_rim_mm,
                    line_height_mm: self.line_height_mm,
                    line_at_frame_height: self.line_at_frame_height,
                    rotation_deg: self.rotation_deg,
                    invert: self.invert,
                }
            }
        }
    };
}
pub(crate) use through_held_glass;

/// A field below a path that may be empty.
pub(crate) fn joined(path: &str, field: &str) -> String {
    if path.is_empty() {
        field.to_owned()
    } else {
        format!("{path}.{field}")
    }
}

impl FramePlace {
    /// The direction of this place, which must lie in the frame.
    pub(crate) fn field(&self, view: &View, path: &str) -> Result<Tangents, Refusal> {
        let inside =
            |value: f64, field: &str| Bounds::IN_FRAME.check(value).at(&joined(path, field));
        let across = inside(self.across_frame, "acrossFrame")?;
        let up = inside(self.at_frame_height, "atFrameHeight")?;
        Ok(view.tangents_of(across, up))
    }
}
