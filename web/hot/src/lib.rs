//! What runs for every pixel, compiled for speed where the rest is compiled
//! small.
//!
//! A level of optimization is a crate's. What is marked `#[inline]` is compiled
//! in the crate that asks for it, at that crate's level: so the loops stay where
//! they belong, in the core, and are made into vectors here.

use glasscall_core::answer::frame_map::{FrameGlass, FrameMap};
use glasscall_core::answer::frame_picture::{FramePicture, Scene};

/// Draws a map; see [`FrameMap::draw`].
#[inline(never)]
pub fn draw(map: &mut FrameMap, glass: &FrameGlass, columns: usize, rows: usize) {
    map.draw(glass, columns, rows);
}

/// Paints a map; see [`FramePicture::paint`].
#[inline(never)]
pub fn paint<'a>(
    picture: &'a mut FramePicture,
    scene: &Scene,
    columns: usize,
    stops: &[f32],
) -> &'a [u8] {
    picture.paint(scene, columns, stops)
}
