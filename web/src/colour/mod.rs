//! Colour of light, seen and unseen.

#[expect(clippy::module_inception, reason = "a file bears its question's name")]
pub(crate) mod colour;
mod colour_working;
pub(crate) mod infrared;
mod infrared_working;

pub use colour::{
    CastReply, ColourReply, ColourRequest, ConversionReply, FilterColour, Lean, LightReply,
    NoTemperature, OtherBodyReply, SeenReply, colour,
};
pub use infrared::{InfraredNote, InfraredReply, InfraredRequest, InfraredVerdict, infrared};
