//! Sun, sky and polarizers.

pub(crate) mod crossed_polarizers;
pub(crate) mod daylight;
mod daylight_working;
pub(crate) mod drift;
mod drift_working;
pub(crate) mod measured_polarizer;
mod pair_working;
pub(crate) mod read_place;
pub(crate) mod reflection;
pub(crate) mod sky;
pub(crate) mod sky_plan;
mod sky_working;
pub(crate) mod sun;
pub(crate) mod sun_day;
pub(crate) mod sun_image;
mod sun_working;

pub use crossed_polarizers::{
    CrossedPolarizersReply, CrossedPolarizersRequest, MarkReply, PairVerdict, PullRequest,
    PullStepReply, WholePictureRequest, crossed_polarizers,
};
pub use daylight::{DaylightModel, DaylightReply, DaylightRequest, daylight};
pub use drift::{
    DriftModel, DriftReply, DriftRequest, PlaceRequest, StackReply, SwapReply, TimedReadingRequest,
    drift,
};
pub use measured_polarizer::{
    MeasuredPolarizerReply, MeasuredPolarizerRequest, measured_polarizer,
};
pub use read_place::{ReadPlaceReply, ReadPlaceRequest, read_place};
pub use reflection::{
    ReflectionReply, ReflectionRequest, ReflectionVerdict, SurfaceName, reflection,
};
pub use sky::{
    BandReply, LikeSky, NamedTurn, PolarizerTurn, SkyCorners, SkyReply, SkyRequest, SkyVerdictName,
    sky,
};
pub use sky_plan::{
    AimReply, HourReply, SkyAimsReply, SkyAimsRequest, SkyHoursReply, SkyHoursRequest, sky_aims,
    sky_hours,
};
pub use sun::{SunReply, SunRequest, sun};
pub use sun_day::{DayKindName, SunDayReply, SunDayRequest, sun_day};
pub use sun_image::{SunImageReply, SunImageRequest, sun_image};
