//! `crossedPolarizers`: two polarizers as a density that turns.

use super::pair_working;
use crate::colour::infrared::{InfraredNote, InfraredVerdict};
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::lens::{one, stops_lost};
use crate::shapes::sensor::{SensorRequest, ViewFields};
use crate::shapes::uncertainty::{
    UncertaintyReply, UncertaintyRequest, known, reply as known_reply,
};
use crate::shapes::working::TermReply;
use core::f64::consts::LOG10_2;
use glasscall_core::answer::pair as answer;
use glasscall_core::answer::pair::{Mark, PullStep};
use glasscall_core::answer::sky_frame::{BAND_FROM, NOTICED};
use glasscall_core::physics::infrared::{Limits, Verdict, pair_excess};
use glasscall_core::physics::polarizer_pair::PolarizerPair;
use glasscall_core::quantity::{Angle, Aperture, ExtinctionRatio, Stops};
use glasscall_core::setup::{Contribution, LossOrigin, Origin, Uncertainty, View};
use glasscall_derive::{FromPlain, ToPlain, read};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The pair, and an angle or the stops it shall take.
#[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CrossedPolarizersRequest {
    /// Between the passed axes, 0 parallel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angle_deg: Option<f64>,
    /// What the pair shall take, loss included; instead of the angle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stops: Option<f64>,
    /// What it takes when parallel; 2⅓ unless measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss_stops: Option<f64>,
    /// T(0°)/T(90°) of the pair; 1000 unless measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extinction_ratio: Option<f64>,
    /// An iris pull to be matched by a turn from this angle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pull: Option<PullRequest>,
    /// The picture, for how uneven it gets.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub picture: Option<WholePictureRequest>,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// An iris pull.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct PullRequest {
    /// Aperture number at the start; a label stands for its exact value.
    pub from_aperture: f64,
    /// Aperture number at the end.
    pub to_aperture: f64,
}

/// A sensor behind a lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WholePictureRequest {
    /// The sensor.
    pub sensor: SensorRequest,
    /// Anamorphic squeeze; 1 unless said.
    #[serde(default = "one")]
    pub squeeze: f64,
    /// Focal length in mm.
    pub focal_length_mm: f64,
}

/// The pair at that angle.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CrossedPolarizersReply {
    /// Between the passed axes, 0 to 90.
    pub angle_deg: f64,
    /// What the pair takes, loss included.
    pub stops: f64,
    /// How well that is known: by its loss, the angle taken as told.
    pub uncertainty: UncertaintyReply,
    /// How fast it darkens there.
    pub stops_per_degree: f64,
    /// What it takes when parallel: the least.
    pub loss_stops: f64,
    /// What it takes when crossed: the most.
    pub most_stops: f64,
    /// T(0°)/T(90°) of the pair.
    pub extinction_ratio: f64,
    /// How much less infrared than visible light it takes there, as a density:
    /// film stops 0.05 a sheet, crossed or not.
    pub infrared_excess_density: f64,
    /// What that asks for: a cut from where other glass is only to be watched,
    /// for a pair hides none and is turned from shot to shot.
    pub infrared: InfraredVerdict,
    /// What to know before trusting it.
    pub notes: Vec<InfraredNote>,
    /// Every third of a stop, for marks on the ring.
    pub marks: Vec<MarkReply>,
    /// The pull in thirds of a stop; with a pull.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pull: Option<Vec<PullStepReply>>,
    /// Darkest less brightest over the picture, at the least; with a picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uneven_stops: Option<f64>,
    /// What that looks like; with a picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<PairVerdict>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// A mark on the ring.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct MarkReply {
    /// What the pair takes there.
    pub stops: f64,
    /// From parallel.
    pub angle_deg: f64,
}

/// One step of a pull.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PullStepReply {
    /// Aperture number.
    pub aperture: f64,
    /// The nearest third to it.
    pub aperture_label: String,
    /// What the pair must take.
    pub stops: f64,
    /// From parallel; absent where the pair cannot take that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub angle_deg: Option<f64>,
}

/// How the pair looks across the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum PairVerdict {
    /// Even to a third of a stop.
    Even,
    /// Uneven by a third of a stop or more.
    Uneven,
    /// Uneven by a stop or more: a dark cross.
    Cross,
}

/// Answers `crossedPolarizers`.
///
/// # Errors
///
/// `missing` without angle and stops, `oneTooMany` with both, `outOfRange`.
pub fn crossed_polarizers(
    request: &CrossedPolarizersRequest,
) -> Result<CrossedPolarizersReply, Refusal> {
    let loss = loss(request.loss_stops)?;
    let ratio = request
        .extinction_ratio
        .unwrap_or(PolarizerPair::USUAL_RATIO);
    let ratio = ExtinctionRatio::new(ratio).at("extinctionRatio")?;
    let pair = PolarizerPair::new(loss, ratio);
    let angle_deg = angle(request, pair)?;
    let taken = needed(pair.taken_at(angle_deg), "angleDeg")?;
    let pull = (request.pull.as_ref())
        .map(|pull| pull_steps(pair, taken, pull))
        .transpose()?;
    let uneven = (request.picture.as_ref())
        .map(|picture| Ok::<_, Refusal>(answer::unevenness(pair, angle_deg, view(picture)?)))
        .transpose()?;
    let excess = pair_excess(taken);
    let infrared = Limits::USUAL.pair_verdict(excess);
    let warns = (infrared != Verdict::Fine).then_some(InfraredNote::PolarizersPassInfrared);
    let origin = match request.loss_stops {
        Some(_) => LossOrigin::Stated,
        None => LossOrigin::Assumed,
    };
    let cause = Contribution {
        from: Origin::Piece(0, origin),
        stops: known(request.uncertainty.as_ref())?.of_pair(origin),
    };
    let told = CrossedPolarizersReply {
        uncertainty: known_reply(Uncertainty::of([cause]), &[]),
        infrared_excess_density: excess.stops() * LOG10_2,
        infrared: infrared.into(),
        notes: warns.into_iter().collect(),
        angle_deg,
        stops: taken.stops(),
        stops_per_degree: pair.slope_at(angle_deg).unwrap_or_default(),
        loss_stops: loss.stops(),
        most_stops: most(pair).stops(),
        extinction_ratio: ratio.ratio(),
        marks: answer::ring(pair).iter().filter_map(mark_reply).collect(),
        pull,
        uneven_stops: uneven.map(Stops::stops),
        verdict: uneven.map(|uneven| verdict(uneven.stops())),
        working: None,
    };
    let explained = (request.explain).then(|| pair_working::pair(request, &told));
    Ok(CrossedPolarizersReply {
        working: explained.flatten(),
        ..told
    })
}

fn loss(given: Option<f64>) -> Result<Stops, Refusal> {
    let Some(given) = given else {
        return Ok(PolarizerPair::USUAL_LOSS);
    };
    stops_lost(given, "lossStops")
}

fn most(pair: PolarizerPair) -> Stops {
    // A ratio that is a number leaks, so there is a most.
    pair.most().unwrap_or(pair.loss)
}

fn angle(request: &CrossedPolarizersRequest, pair: PolarizerPair) -> Result<f64, Refusal> {
    match (request.angle_deg, request.stops) {
        (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, "stops")),
        (None, None) => Err(Refusal::new(Code::Missing, "angleDeg")),
        (Some(angle), None) => {
            let angle = Angle::new(angle).at("angleDeg")?;
            Ok(answer::between_axes(angle.degrees()))
        }
        (None, Some(stops)) => {
            let wanted = Stops::new(stops).at("stops")?;
            pair.angle_for(wanted).ok_or_else(|| {
                Refusal::outside("stops", stops, pair.loss.stops(), most(pair).stops())
            })
        }
    }
}

fn mark_reply(mark: &Mark) -> Option<MarkReply> {
    mark.degrees.map(|angle_deg| MarkReply {
        stops: mark.taken.stops(),
        angle_deg,
    })
}

fn pull_steps(
    pair: PolarizerPair,
    taken: Stops,
    pull: &PullRequest,
) -> Result<Vec<PullStepReply>, Refusal> {
    let ends = [
        read!(Aperture::from_marking, in pull.from_aperture)?,
        read!(Aperture::from_marking, in pull.to_aperture)?,
    ];
    let step = |step: PullStep| PullStepReply {
        aperture: step.aperture.number(),
        aperture_label: format!("T{}", step.aperture.label()),
        stops: step.mark.taken.stops(),
        angle_deg: step.mark.degrees,
    };
    let steps = answer::pull(pair, taken, ends);
    Ok(steps.into_iter().map(step).collect())
}

fn view(picture: &WholePictureRequest) -> Result<View, Refusal> {
    ViewFields {
        sensor: picture.sensor,
        squeeze: Some(picture.squeeze),
        shift_x_mm: None,
        shift_y_mm: None,
        focal_length_mm: picture.focal_length_mm,
    }
    .view("picture.")
}

fn verdict(uneven: f64) -> PairVerdict {
    if uneven < NOTICED {
        PairVerdict::Even
    } else if uneven < BAND_FROM {
        PairVerdict::Uneven
    } else {
        PairVerdict::Cross
    }
}
