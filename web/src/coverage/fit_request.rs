//! What `fit` is asked: a camera, a lens, and what stands before it.

use crate::plain::refusal::{At, Refusal};
use crate::shapes::grad::FramePlace;
use crate::shapes::known_lens::{KnownFields, knows_a_lens};
use crate::shapes::opening::OpeningRequest;
use crate::shapes::pupil::PupilPlace;
use crate::shapes::sensor::{SensorRequest, ViewFields};
use crate::shapes::uncertainty::UncertaintyRequest;
use glasscall_core::answer::fit::Close;
use glasscall_core::quantity::{Aperture, FocalLength};
use glasscall_core::setup::View;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A request about openings in front of a lens: camera, lens and looks through
/// it, then its own fields.
macro_rules! before_lens {
    (
        $(#[$about:meta])* pub struct $name:ident
        $(#[$number:meta])* f_number: $f_number:ty;
        $(#[$place:meta])* pupil;
        then { $($own:tt)* }
    ) => {
        knows_a_lens! {
            $(#[$about])*
            pub struct $name {
                /// The active sensor area.
                pub sensor: SensorRequest,
                /// Anamorphic squeeze; 1 unless said.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub squeeze: Option<f64>,
                /// How far right of the lens axis the middle of the picture is, mm
                /// at the sensor.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub shift_x_mm: Option<f64>,
                /// The same upward.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub shift_y_mm: Option<f64>,
                /// Focal length, mm; of an anamorphic lens the vertical one.
                pub focal_length_mm: f64,
                $(#[$number])*
                pub f_number: $f_number,
                /// By how much the number is a T-number of a lens that loses light;
                /// the pupil is that of the f-number, wider by so many stops.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub lens_loss_stops: Option<f64>,
            }
            $(#[$place])*
            pupil;
            then {
                /// The same lens focused close, where it breathes or its pupil moves.
                #[serde(default, skip_serializing_if = "Option::is_none")]
                pub close: Option<CloseRequest>,
                /// Looks through the lens at openings that are not there now, each
                /// with `seen` and `seenAtFNumber`, up to 24.
                #[serde(default, skip_serializing_if = "Vec::is_empty")]
                pub looks: Vec<OpeningRequest>,
                $($own)*
            }
        }

        impl $name {
            /// The picture; `path` is where its fields are, empty or ending in a dot.
            pub(crate) fn view(&self, path: &str) -> Result<View, Refusal> {
                ViewFields {
                    sensor: self.sensor,
                    squeeze: self.squeeze,
                    shift_x_mm: self.shift_x_mm,
                    shift_y_mm: self.shift_y_mm,
                    focal_length_mm: self.focal_length_mm,
                }
                .view(path)
            }
        }
    };
}
pub(super) use before_lens;

before_lens! {
    /// A camera, a lens, and what stands in front of it.
    pub struct FitRequest
    /// f-number; a label such as 2.8 stands for its exact value.
    f_number: f64;
    /// Where the entrance pupil is; left out, the front gives its limits, and
    /// without that every verdict is `unknown` but what was seen.
    pupil;
    then {
        /// The openings.
        #[serde(default)]
        pub openings: Vec<OpeningRequest>,
        /// The other end of a zoom lens.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub zoom: Option<ZoomRequest>,
        /// Points of the picture whose loss is asked for, up to 200.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        pub points: Vec<FramePlace>,
        /// Asks for the loss over the picture.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub loss_map: Option<MapSize>,
        /// How well inputs are known, where better than usual.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pub uncertainty: Option<UncertaintyRequest>,
        /// Whether to tell how the least room is worked out, where a few terms tell
        /// it whole.
        #[serde(default)]
        pub explain: bool,
    }
}

/// The other end of a zoom lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ZoomRequest {
    /// Focal length there, mm.
    pub focal_length_mm: f64,
    /// f-number there; the same unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub f_number: Option<f64>,
    /// Pupil there; the same unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_behind_rim_mm: Option<PupilPlace>,
}

/// How fine a loss map is, up to 200 each way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct MapSize {
    /// Fields across.
    pub columns: usize,
    /// Fields down.
    pub rows: usize,
}

/// A lens focused close: what is not said is as far away.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CloseRequest {
    /// Focal length that gives its field then, mm: of a lens that breathes
    /// another one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_length_mm: Option<f64>,
    /// Where the entrance pupil is then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupil_behind_rim_mm: Option<PupilPlace>,
}

impl CloseRequest {
    pub(crate) fn close(
        &self,
        far: &View,
        f_number: Aperture,
        known: &KnownFields,
        path: &str,
    ) -> Result<Option<Close>, Refusal> {
        let at = format!("{path}close.focalLengthMm");
        let view = match self.focal_length_mm {
            None => *far,
            Some(length) => {
                let length = FocalLength::new(length).at(&at)?;
                far.with_focal_length(length).at(&at)?
            }
        };
        // Its cards tell the lens as it was focused then.
        let moved = self.pupil_behind_rim_mm;
        let fields = KnownFields {
            pupil_behind_rim_mm: moved.or(known.pupil_behind_rim_mm),
            cards: known.cards.filter(|_| moved.is_none()),
            ..*known
        };
        let lens = fields.lens(&view, f_number, path)?;
        Ok(lens.map(|lens| Close { view, lens }))
    }
}
