//! What `fit` replies.

use crate::coverage::room_known::RoomKnownReply;
use crate::shapes::opening::{FitVerdictName, OpeningRequest};
use crate::shapes::working::TermReply;
use glasscall_core::answer::fit::{Answer, Crossing, OpeningAnswer, Trust, UsualSize};
use glasscall_core::answer::{Arc, FARTHEST_MM, Reading};
use glasscall_core::physics::passed::loss;
use glasscall_core::quantity::{Aperture, Length, Stops};
use glasscall_derive::{FromPlain, ToPlain, Twin};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// What the openings do.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct FitReply {
    /// Each opening, in the order of the request.
    pub openings: Vec<OpeningReply>,
    /// The worst verdict.
    pub verdict: FitVerdictName,
    /// The opening it is about, by its place in the request: of the worst
    /// verdict the one with the least room; absent where no room is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst: Option<usize>,
    /// How far to trust it.
    pub trust: TrustName,
    /// The least room of them all, mm; absent without openings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_mm: Option<f64>,
    /// The least it may be, with what the lens may be and what the model leaves
    /// out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_least_mm: Option<f64>,
    /// How well the least room is known, and what most of it comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_known: Option<RoomKnownReply>,
    /// Share of the pupil left at the worst corner by all openings; absent where
    /// the pupil is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_passed: Option<f64>,
    /// The same in stops; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
    /// The least it may be in stops, as far as the lens is known; so may it be on
    /// a map of the picture, whose corners go by the figures.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_least_stops: Option<f64>,
    /// The most; absent when nothing may be left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_most_stops: Option<f64>,
    /// Shortest clear focal length with the pupil kept in place, a hint; absent
    /// when none is clear or nothing is in front.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub widest_focal_length_mm: Option<f64>,
    /// Smallest clear f-number, which may be one that no lens has; absent when
    /// no stop helps or nothing is in front.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean_from_f_number: Option<f64>,
    /// The third-stop mark at or just beyond it, as `2.8⅓`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean_from_label: Option<String>,
    /// The look through the lens that would settle most of what is not sure;
    /// absent where all is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub settles: Option<SettlesReply>,
    /// The entrance pupil.
    pub pupil: PupilSize,
    /// The rest of the zoom.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zoom: Option<ZoomReply>,
    /// What is left at the points asked about; none where none was.
    pub points: Vec<PassedReply>,
    /// Stops lost, row by row from the top; no number where nothing passes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loss_map: Option<Vec<Option<f64>>>,
    /// The least room, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// What one opening does.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct OpeningReply {
    /// Its name.
    pub name: String,
    /// What was seen, otherwise what is computed.
    pub verdict: FitVerdictName,
    /// What is computed.
    pub computed: FitVerdictName,
    /// Whether the verdict is what was seen, which still holds at this stop.
    pub seen: bool,
    /// How far to trust the verdict.
    pub trust: TrustName,
    /// Least room at the worst corner, mm; negative when it shades. Absent, as
    /// all that is computed, where the verdict is `unknown`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_mm: Option<f64>,
    /// The least it may be, with what the lens may be and what the model leaves
    /// out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_least_mm: Option<f64>,
    /// The most it may be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_most_mm: Option<f64>,
    /// How well the room is known, and what most of it comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_known: Option<RoomKnownReply>,
    /// For one that turns: the room as it is turned now. All else is for its
    /// worst turn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_set_spare_mm: Option<f64>,
    /// Share of the pupil left at the worst corner.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_passed: Option<f64>,
    /// The same in stops; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
    /// How far ahead of the rim it may stand and stay clear, mm; absent when it
    /// is clear nowhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_to_mm: Option<f64>,
    /// Whether it stays clear as far as is looked at, a metre.
    pub clear_anywhere: bool,
    /// The smallest usual size of its shape that would be clear in its place;
    /// absent where it is clear as it is, or none is large enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_size: Option<UsualSizeReply>,
    /// Turns at which it shades, where it can be turned.
    pub shading_arcs: Vec<ArcReply>,
    /// The widest stretch of turns between those, where it shades at some.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clear_turn: Option<ClearTurnReply>,
    /// Turns at which it is not sure to be clear, where it can be turned.
    pub unsure_arcs: Vec<ArcReply>,
    /// Where the light crosses its rear face.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub light: Option<CrossingReply>,
    /// Where the light crosses its front face, where it is deep.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub light_in_front: Option<CrossingReply>,
}

/// One look through the lens.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SettlesReply {
    /// The opening to look at, by its place in the request.
    pub opening: usize,
    /// Its name.
    pub name: String,
    /// How many others stay unsettled then, whatever is seen.
    pub leaves: usize,
}

/// A size of the trade, by one of its names in `sizes`.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct UsualSizeReply {
    /// A thread.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thread_mm: Option<f64>,
    /// A panel or a round drop-in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub panel: Option<String>,
}

/// What passes towards one point of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PassedReply {
    /// Share of the pupil that is left.
    pub passed: f64,
    /// Stops lost; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loss_stops: Option<f64>,
}

/// How far to trust a verdict.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify, Twin,
)]
#[serde(rename_all = "camelCase")]
#[twin(from Trust)]
pub enum TrustName {
    /// Clear for everything the lens may be, or seen to be.
    SureClear,
    /// Too close to call: look through the lens.
    Look,
    /// Shades for everything the lens may be, or seen to.
    SureClip,
    /// Neither pupil nor front of the lens is known, and nobody looked.
    Unknown,
}

/// Turns of an opening, counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ArcReply {
    /// From here, 0 to 360.
    pub from_deg: f64,
    /// To here; beyond 360 when it passes the top.
    pub to_deg: f64,
}

/// A stretch of turns that leave the picture clear.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ClearTurnReply {
    /// Its middle, counter-clockwise, [0, 180).
    pub middle_deg: f64,
    /// How far it may be turned from there, either way.
    pub by_deg: f64,
    /// Whether its middle is upright.
    pub upright: bool,
}

/// A point in the plane of an opening, from the lens axis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PointReply {
    /// To the right, mm.
    pub x_mm: f64,
    /// Upward, mm.
    pub y_mm: f64,
}

/// Where bundles cross a plane: their middles.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct CrossingReply {
    /// The middle of the picture.
    pub centre: PointReply,
    /// Bottom left, bottom right, top left, top right of the picture.
    pub corners: Vec<PointReply>,
}

/// The entrance pupil.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct PupilSize {
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
}

/// A zoom between its ends.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ZoomReply {
    /// Its other end.
    pub other: ZoomReading,
    /// Its worst setting, ends included.
    pub worst: ZoomReading,
}

/// One setting of a zoom.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ZoomReading {
    /// Focal length, mm.
    pub focal_length_mm: f64,
    /// The worst verdict.
    pub verdict: FitVerdictName,
    /// How far to trust it, by the figures.
    pub trust: TrustName,
    /// Least room, mm; absent when nothing is in front.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spare_mm: Option<f64>,
    /// Loss at the worst corner; absent when nothing is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_loss_stops: Option<f64>,
}

/// What the core found, with the names of the request.
pub(crate) fn reply(openings: &[OpeningRequest], answer: &Answer) -> FitReply {
    let named = openings.iter().zip(&answer.openings);
    let (half_width, half_height) = answer.half_pupil;
    let tightest = (answer.openings.iter())
        .filter_map(|opening| Some((opening.spare?, opening)))
        .min_by(|one, other| (one.0.millimetres()).total_cmp(&other.0.millimetres()));
    let ends = answer.corner_between;
    FitReply {
        openings: named
            .map(|(asked, found)| opening_reply(asked, found))
            .collect(),
        verdict: answer.verdict.into(),
        worst: answer.worst,
        trust: answer.trust.into(),
        settles: answer.settles.map(|settles| SettlesReply {
            opening: settles.opening,
            name: (openings.get(settles.opening)).map_or_else(String::new, |o| o.name.clone()),
            leaves: settles.leaves,
        }),
        spare_mm: tightest.map(|(spare, _)| spare.millimetres()),
        spare_known: tightest.and_then(|(_, opening)| opening.room_known.map(Into::into)),
        spare_least_mm: (answer.openings.iter())
            .filter_map(|opening| opening.room)
            .map(|(least, _)| least)
            .reduce(f64::min),
        corner_passed: answer.corner_passed,
        corner_loss_stops: answer.corner_passed.and_then(loss).map(Stops::stops),
        corner_loss_least_stops: ends.and_then(|(_, most)| loss(most).map(Stops::stops)),
        corner_loss_most_stops: ends.and_then(|(least, _)| loss(least).map(Stops::stops)),
        widest_focal_length_mm: answer.widest_focal_length,
        clean_from_f_number: answer.clean_from,
        clean_from_label: answer.clean_from.and_then(label_at_or_beyond),
        pupil: PupilSize {
            width_mm: 2.0 * half_width,
            height_mm: 2.0 * half_height,
        },
        zoom: answer.zoom.map(|zoom| ZoomReply {
            other: zoom.other.into(),
            worst: zoom.worst.into(),
        }),
        points: (answer.passed_at.iter())
            .map(|&passed| PassedReply {
                passed,
                loss_stops: loss(passed).map(Stops::stops),
            })
            .collect(),
        loss_map: None,
        working: None,
    }
}

/// A mark that is rounded to the wide side would not be clear.
pub(crate) fn label_at_or_beyond(f_number: f64) -> Option<String> {
    let aperture = Aperture::from_number(f_number).ok()?;
    let thirds = (3.0 * aperture.index() - 1e-9).ceil();
    let mark = Aperture::from_index(thirds / 3.0).ok()?;
    Some(mark.label().to_string())
}

fn opening_reply(asked: &OpeningRequest, found: &OpeningAnswer) -> OpeningReply {
    let clear_to = found.clear_to.map(Length::millimetres);
    let depth = asked.depth_mm.unwrap_or(0.0);
    OpeningReply {
        name: asked.name.clone(),
        verdict: found.verdict.into(),
        computed: found.computed.into(),
        seen: found.seen,
        trust: found.trust.into(),
        spare_mm: found.spare.map(Length::millimetres),
        spare_least_mm: found.room.map(|(least, _)| least),
        spare_most_mm: found.room.map(|(_, most)| most),
        spare_known: found.room_known.map(Into::into),
        as_set_spare_mm: found.as_set.map(Length::millimetres),
        corner_passed: found.corner_passed,
        corner_loss_stops: found.corner_passed.and_then(loss).map(Stops::stops),
        clear_to_mm: clear_to,
        clear_anywhere: clear_to.is_some_and(|to| to + depth >= FARTHEST_MM),
        clear_size: found.clear_size.map(UsualSizeReply::from),
        shading_arcs: found.shading_arcs.iter().map(ArcReply::from).collect(),
        clear_turn: found.clear_turn.map(|turn| ClearTurnReply {
            middle_deg: turn.middle,
            by_deg: turn.half,
            upright: turn.upright,
        }),
        unsure_arcs: found.unsure_arcs.iter().map(ArcReply::from).collect(),
        light: found.light.map(CrossingReply::from),
        light_in_front: found.light_in_front.map(CrossingReply::from),
    }
}

impl From<UsualSize> for UsualSizeReply {
    fn from(size: UsualSize) -> Self {
        match size {
            UsualSize::Thread(size) => Self {
                thread_mm: Some(size.thread),
                panel: None,
            },
            UsualSize::Panel(size) => Self {
                thread_mm: None,
                panel: Some(size.name.to_owned()),
            },
        }
    }
}

impl From<&Arc> for ArcReply {
    fn from(arc: &Arc) -> Self {
        Self {
            from_deg: arc.from,
            to_deg: arc.to,
        }
    }
}

impl From<Crossing> for CrossingReply {
    fn from(crossing: Crossing) -> Self {
        let point = |(x_mm, y_mm)| PointReply { x_mm, y_mm };
        Self {
            centre: point(crossing.centre),
            corners: crossing.corners.map(point).to_vec(),
        }
    }
}

impl From<Reading> for ZoomReading {
    fn from(reading: Reading) -> Self {
        Self {
            focal_length_mm: reading.focal_length,
            verdict: reading.verdict.into(),
            trust: reading.trust.into(),
            spare_mm: Some(reading.spare).filter(|spare| spare.is_finite()),
            corner_loss_stops: reading.corner_loss.map(Stops::stops),
        }
    }
}
