//! The laws of `core` against outside values.

mod exposure;
mod focus;
mod grad_and_openings;
mod graduated;
mod light;
mod light_trend;
mod mired;
mod real_lenses;
mod real_lines;
mod sky_and_polarizers;
mod sun;
mod traced_again;
mod vignetting;
