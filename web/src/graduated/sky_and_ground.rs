//! `skyAndGround`: the graduated filter that brings two readings closer.

use super::balance_working::{Lost, working};
use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::grad::{
    FramePlace, GradRequest, ProfileKind, ProfileRequest, lines_beside, through_held_glass,
};
use crate::shapes::lens::LensView;
use crate::shapes::uncertainty::{self, UncertaintyReply, UncertaintyRequest, known};
use crate::shapes::working::TermReply;
use glasscall_core::answer::line_known::{before_each, left_causes};
use glasscall_core::answer::sky_and_ground as answer;
use glasscall_core::answer::sky_and_ground::{Balance, Contrast, SkyAndGround, Sparing, Stacked};
use glasscall_core::physics::line::Line;
use glasscall_core::physics::profile::Profile;
use glasscall_core::quantity::{Aperture, Bounds, Density, Stops};
use glasscall_core::setup::{Contribution, Uncertainties, Uncertainty};
use glasscall_derive::{FromPlain, ToPlain, read};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Filters compared in one go.
const MAX_GRADS: usize = 64;
/// The edge proposed to an empty case.
const BORROWED_DENSITY: f64 = 0.3;

through_held_glass! {
    /// A lens, a holder, two readings and the graduated filters of the case.
    pub struct SkyAndGroundRequest {
        /// The bright place: sky, or shirt.
        pub bright: SpotRequest,
        /// The dark place: ground, or face.
        pub dark: SpotRequest,
        /// How many stops brighter the bright place is, instead of the two
        /// apertures.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub stops_apart: Option<f64>,
        /// How many stops are to stay between the two: no more, and the nearer
        /// the better.
        pub allowed_stops: f64,
        /// What crosses the line and should keep its light.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub subject: Option<FramePlace>,
        /// The graduated filters of the case.
        #[serde(default)]
        pub grads: Vec<NamedGrad>,
        /// Graduated filters that are in and stay in beside, up to three.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        pub others: Vec<GradRequest>,
        /// How well inputs are known, where better than usual.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub uncertainty: Option<UncertaintyRequest>,
        /// Whether to tell how it is worked out, where a few terms tell it whole:
        /// the first filter.
        #[serde(default)]
        pub explain: bool,
    }
}

/// A place in the frame and what a spot meter reads there.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SpotRequest {
    /// Share of the frame's height, 0 the bottom edge, 1 the top.
    pub at_frame_height: f64,
    /// Share of its width, 0 the left edge, 1 the right; ½ unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub across_frame: Option<f64>,
    /// The stop read there, both at the same index and shutter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aperture: Option<f64>,
}

/// A graduated filter of the case.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct NamedGrad {
    /// The owner's name for it.
    pub id: String,
    /// Its density across the line.
    pub profile: ProfileRequest,
}

/// The filters, best first, and what else would do.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SkyAndGroundReply {
    /// Stops between the two places as read.
    pub apart_stops: f64,
    /// In a word.
    pub verdict: BalanceVerdict,
    /// The filters, best first.
    pub grads: Vec<BalanceReply>,
    /// What each of the others takes alone, as they were told.
    pub others: Vec<OtherReply>,
    /// What stays between the two places through the others alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub others_leave_stops: Option<f64>,
    /// What would do when no filter does; each alone.
    pub remedies: RemediesReply,
    /// How well what the first filter leaves between the two is known; absent
    /// without a filter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Whether the aim is met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum BalanceVerdict {
    /// The two are close enough as they are, or as the others leave them.
    NotNeeded,
    /// The first filter does it.
    Meets,
    /// The best filter leaves too much between them.
    FallsShort,
    /// The best filter makes the bright place too dark.
    TooStrong,
    /// There is no filter in the case.
    NothingInCase,
}

/// What one filter does.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct BalanceReply {
    /// The filter.
    pub id: String,
    /// Stops of its densest part.
    pub marked_stops: f64,
    /// Stops it brings the two places closer by, beside the others.
    pub delivered_stops: f64,
    /// Stops that stay between them through all; below 0 the bright place ends
    /// up darker.
    pub left_stops: f64,
    /// Stops the dark place loses to all, to be opened up for.
    pub dark_loses_stops: f64,
    /// Stops the subject loses to all beyond the dark place.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stolen_stops: Option<f64>,
    /// Whether that is as much as is seen, a sixth of a stop.
    pub steals: bool,
    /// Whether so much less stays than is to stay that a mark a stop weaker
    /// would be nearer.
    pub flattens: bool,
    /// Whether what stays is within what is allowed.
    pub meets: bool,
}

/// What one of the others takes by itself.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OtherReply {
    /// Stops it alone brings the two places closer by.
    pub delivered_stops: f64,
    /// Stops the subject loses to it alone beyond the dark place.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stolen_stops: Option<f64>,
}

/// What would meet the aim; each alone, absent when it would not.
#[derive(Debug, Clone, PartialEq, Default, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct RemediesReply {
    /// Density of the same edge that would just do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
    /// Aperture at which the best filter would do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aperture: Option<f64>,
    /// Its nearest third.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub aperture_label: Option<String>,
    /// Where the line of the best filter would have to be, mm from the axis.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_height_mm: Option<f64>,
    /// The same as a height of the frame.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_at_frame_height: Option<f64>,
    /// Id of the filter that would do upside down, dense below.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub upside_down: Option<String>,
    /// With what the subject keeps its light, when the best filter takes of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sparing: Option<SparingReply>,
}

/// A filter and the place of its line with which it does it and nothing that is
/// seen is taken from the subject.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SparingReply {
    /// The filter.
    pub id: String,
    /// Where its line has to be, mm from the axis.
    pub line_height_mm: f64,
    /// The same as a height of the frame.
    pub line_at_frame_height: f64,
}

/// Answers `skyAndGround`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`, `duplicate`, `empty`.
pub fn sky_and_ground(request: &SkyAndGroundRequest) -> Result<SkyAndGroundReply, Refusal> {
    let lens = request.lens()?;
    let borrowed = ProfileRequest {
        kind: ProfileKind::Hard,
        density: Some(BORROWED_DENSITY),
        ramp_mm: None,
        top_density: None,
        points: None,
    };
    let line = (request.holder()).line(borrowed.profile("")?, &lens, "")?;
    let profiles = request.profiles()?;
    let contrast = request.contrast(&lens)?;
    let known = known(request.uncertainty.as_ref())?;
    let stacked = Stacked::new(line, lines_beside(&request.others, &lens)?);
    let found = answer::sky_and_ground(&stacked, lens.aperture, &profiles, contrast, &known);
    let mut told = SkyAndGroundReply {
        apart_stops: contrast.apart.stops(),
        verdict: verdict(&found, contrast),
        grads: (found.filters.iter())
            .map(|balance| balance_reply(balance, &request.grads))
            .collect(),
        others: (stacked.others().iter())
            .map(|other| other_reply(other, contrast))
            .collect(),
        others_leave_stops: (!request.others.is_empty()).then(|| found.without.stops()),
        remedies: remedies(&found, stacked.line(), &request.grads),
        uncertainty: None,
        working: None,
    };
    if let Some(best) = found.filters.first() {
        let stacked = stacked.with_profile(&profiles[best.filter]);
        let line = stacked.line();
        let causes = request.causes(&stacked, &lens, contrast, &known);
        let together = Uncertainty::of(causes);
        told.uncertainty = Some(uncertainty::reply(together, &[]));
        // Of several at once a few terms do not tell it: the pupil is one.
        if !request.explain || !request.others.is_empty() {
            return Ok(told);
        }
        let lost = Lost {
            bright: line.loss_towards(contrast.bright),
            dark: line.loss_towards(contrast.dark),
            subject: contrast.subject.map(|place| line.loss_towards(place)),
        };
        told.working = working(request, &lens, &told, &lost, (causes, together.stops));
    }
    Ok(told)
}

fn verdict(found: &SkyAndGround, contrast: Contrast) -> BalanceVerdict {
    match found.filters.first() {
        _ if found.within_already => BalanceVerdict::NotNeeded,
        None => BalanceVerdict::NothingInCase,
        Some(best) if best.meets => BalanceVerdict::Meets,
        Some(best) if best.left > contrast.allowed => BalanceVerdict::FallsShort,
        Some(_) => BalanceVerdict::TooStrong,
    }
}

fn balance_reply(balance: &Balance, grads: &[NamedGrad]) -> BalanceReply {
    BalanceReply {
        id: grads[balance.filter].id.clone(),
        marked_stops: balance.marked.stops(),
        delivered_stops: balance.delivered.stops(),
        left_stops: balance.left.stops(),
        dark_loses_stops: balance.dark_loses.stops(),
        stolen_stops: balance.stolen.map(Stops::stops),
        steals: balance.steals,
        flattens: balance.flattens,
        meets: balance.meets,
    }
}

fn other_reply(other: &Line, contrast: Contrast) -> OtherReply {
    let dark = other.loss_towards(contrast.dark);
    let beyond = |place| (other.loss_towards(place) - dark).stops();
    OtherReply {
        delivered_stops: beyond(contrast.bright),
        stolen_stops: contrast.subject.map(beyond),
    }
}

fn remedies(found: &SkyAndGround, line: &Line, grads: &[NamedGrad]) -> RemediesReply {
    let remedies = found.remedies;
    let slid = remedies.height.map(|height| line.slid_to(height));
    RemediesReply {
        density: remedies.density.map(Density::density),
        aperture: remedies.aperture.map(Aperture::number),
        aperture_label: remedies.aperture.map(|to| format!("f/{}", to.label())),
        line_height_mm: remedies.height,
        line_at_frame_height: slid.and_then(|line| line.height_in_frame()),
        upside_down: remedies.turned_over.map(|at| grads[at].id.clone()),
        sparing: (remedies.sparing).map(|Sparing { filter, height, up }| SparingReply {
            id: grads[filter].id.clone(),
            line_height_mm: height,
            line_at_frame_height: up,
        }),
    }
}

impl SkyAndGroundRequest {
    /// What leaves open what stays between the two: two readings, the mark of the
    /// filter, the place of its edge, the lens.
    fn causes(
        &self,
        stacked: &Stacked,
        lens: &LensView,
        contrast: Contrast,
        known: &Uncertainties,
    ) -> [Contribution; 4] {
        let mut each = vec![Vec::new(); 8];
        for (nth, line) in stacked.all().iter().enumerate() {
            let holder =
                (nth.checked_sub(1)).map_or_else(|| self.holder(), |nth| self.others[nth].holder());
            let (Ok(held), Ok(place)) = (holder.held(""), holder.place("")) else {
                continue;
            };
            let at = (held, place);
            // Where some lens it may be would have its pupil ahead of a filter,
            // the figures alone stand.
            let Ok(before) = before_each(&lens.known, lens.f_number, lens.view, line.profile(), at)
            else {
                each.clear();
                break;
            };
            for (lines, line) in each.iter_mut().zip(before) {
                lines.push(line);
            }
        }
        let known = (known, self.stops_apart.is_none());
        left_causes(
            stacked.all(),
            [contrast.bright, contrast.dark],
            known,
            &each,
        )
    }

    fn profiles(&self) -> Result<Vec<Profile>, Refusal> {
        if self.grads.len() > MAX_GRADS {
            return Err(Refusal::too_many("grads", self.grads.len(), MAX_GRADS));
        }
        let mut seen = std::collections::BTreeSet::new();
        (self.grads.iter().enumerate())
            .map(|(nth, grad)| {
                if !seen.insert(grad.id.as_str()) {
                    let field = format!("grads[{nth}].id");
                    return Err(Refusal::new(Code::Duplicate, &field).given(&grad.id));
                }
                grad.profile.profile(&format!("grads[{nth}].profile"))
            })
            .collect()
    }

    fn contrast(&self, lens: &LensView) -> Result<Contrast, Refusal> {
        let read = |spot: &SpotRequest, path: &str| {
            spot.aperture
                .map(Aperture::from_marking)
                .transpose()
                .at(&format!("{path}.aperture"))
        };
        let (bright, dark) = (read(&self.bright, "bright")?, read(&self.dark, "dark")?);
        let apart = match (self.stops_apart, bright, dark) {
            (Some(_), Some(_), _) => {
                return Err(Refusal::new(Code::OneTooMany, "bright.aperture"));
            }
            (Some(_), _, Some(_)) => return Err(Refusal::new(Code::OneTooMany, "dark.aperture")),
            (Some(apart), None, None) => Stops::new(apart).at("stopsApart")?,
            (None, Some(bright), Some(dark)) => dark.stops_to(bright),
            (None, None, _) => return Err(Refusal::new(Code::Missing, "bright.aperture")),
            (None, _, None) => return Err(Refusal::new(Code::Missing, "dark.aperture")),
        };
        Ok(Contrast {
            apart,
            allowed: read!(Stops::new of Bounds::ALLOWED_CHANGE, self.allowed_stops)?,
            bright: self.bright.place().field(&lens.view, "bright")?,
            dark: self.dark.place().field(&lens.view, "dark")?,
            subject: (self.subject.as_ref())
                .map(|place| place.field(&lens.view, "subject"))
                .transpose()?,
        })
    }
}

impl SpotRequest {
    fn place(&self) -> FramePlace {
        FramePlace {
            at_frame_height: self.at_frame_height,
            across_frame: self.across_frame.unwrap_or(0.5),
        }
    }
}
