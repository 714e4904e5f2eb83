//! Mechanical vignetting: what in front of the lens takes light from the picture.

pub(crate) mod beam;
mod boundary;
mod bundle;
pub mod cards;
pub mod flag;
pub mod known_lens;
pub(crate) mod left;
pub mod lens_shape;
pub mod opening;
pub mod passed;
mod plane;
pub mod pupil;
pub mod pupil_range;
pub mod region;
pub mod spare;
mod unmeasured;
