//! Polarized light: reflections, the sky, polarizers.

pub mod fresnel;
pub mod polarizer_pair;
pub mod sheet;
pub mod sky;
