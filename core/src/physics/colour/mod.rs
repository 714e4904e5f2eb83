//! The colour of light through glass, and what of it no eye sees.

pub mod infrared;
pub mod mired;
pub mod planckian;
mod standard_observer;
