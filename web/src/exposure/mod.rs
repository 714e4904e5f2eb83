//! From a reading to the glass.

pub(crate) mod convert_density;
#[expect(clippy::module_inception, reason = "a file bears its question's name")]
pub(crate) mod exposure;
pub(crate) mod flicker;
mod flicker_working;
mod light_working;
pub(crate) mod open_up;
mod open_up_working;
pub(crate) mod ramp;
mod ramp_working;
pub(crate) mod read_text;

pub use convert_density::{
    ConvertDensityReply, ConvertDensityRequest, Iris, ThroughReply, convert_density,
};
pub use exposure::{ExposureReply, ExposureRequest, Receptor, exposure};
pub use flicker::{FlickerReply, FlickerRequest, JudgedReply, MainsReply, flicker};
pub use open_up::{
    InPlace, LensRequest, NoteCode, OfferReply, OpenUpReply, OpenUpRequest, ReadingRequest,
    SideEffect, TrimControl, TrimReply, open_up,
};
pub use ramp::{
    RampEffect, RampEffectReply, RampEndRequest, RampHeldBy, RampReply, RampRequest, RampStepReply,
    RampStuckReply, ramp,
};
pub use read_text::{ReadAs, ReadTextReply, ReadTextRequest, Unit, read_text};
