//! The laws of `core` against outside values.

mod exposure;
mod focus;
mod graduated;
mod light;
mod light_trend;
mod mired;
mod real_lenses;
mod sky_and_polarizers;
mod sun;
mod vignetting;
