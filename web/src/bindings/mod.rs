//! The one place that touches JavaScript values.

mod arrays;
mod values;

use crate::coverage::paint_frame::Painter;
use crate::plain::refusal::Refusal;
use crate::plain::tree::Tree;
use crate::questions::{answered, asked, questions};
use arrays::{bytes, floats, is_given};
use glasscall_core::answer::frame_map::FrameMap;
use js_sys::{Float32Array, Uint8ClampedArray};
use std::cell::RefCell;
use values::{grown, planted, thrown};
use wasm_bindgen::prelude::*;

/// Reads the request, answers it and hands the reply back.
///
/// Neither way into and out of JavaScript knows a shape, so that they are
/// compiled once and not for each function.
///
/// # Errors
///
/// A JavaScript `Error` with the fields of [`Refusal`].
fn reply(
    request: &JsValue,
    answer: &dyn Fn(&Tree) -> Result<Tree, Refusal>,
) -> Result<JsValue, JsValue> {
    let tree = planted(request)
        .and_then(|tree| answer(&tree))
        .map_err(|refusal| thrown(&refusal))?;
    grown(&tree)
}

/// Exports functions: each takes one plain object and gives one plain object.
macro_rules! export {
    (
        $($js:literal $name:ident($request:literal) -> $reply:literal, $about:literal, $example:literal;)*
        beside { $($rest:tt)* }
    ) => {
        $(
            #[doc = $about]
            ///
            /// # Errors
            ///
            /// An `Error` with the fields of `Refusal`.
            #[wasm_bindgen(js_name = $js, unchecked_return_type = $reply)]
            pub fn $name(
                #[wasm_bindgen(unchecked_param_type = $request)] request: &JsValue,
            ) -> Result<JsValue, JsValue> {
                reply(request, &|tree| answered(tree, crate::$name))
            }
        )*
    };
}

questions!(export);

thread_local! {
    /// What the last map leaves for the next; changes its speed only.
    static MAP: RefCell<FrameMap> = RefCell::default();
    /// A copy of the stops to paint, and what painting leaves for the next.
    static PAINTER: RefCell<(Vec<f32>, Painter)> = RefCell::default();
}

/// Stops lost over the whole frame, row by row from the top, NaN where clipped.
///
/// A map of the same size as the array `into` is written into it and no new
/// array is made.
///
/// # Errors
///
/// An `Error` with the fields of `Refusal`.
#[wasm_bindgen(js_name = "frameMap", unchecked_return_type = "Float32Array")]
pub fn frame_map(
    #[wasm_bindgen(unchecked_param_type = "FrameMapRequest")] request: &JsValue,
    #[wasm_bindgen(unchecked_optional_param_type = "Float32Array")] into: &JsValue,
) -> Result<JsValue, JsValue> {
    let drawn = || {
        let request = asked(&planted(request)?)?;
        let place = is_given(into).then(|| floats(into, "into")).transpose()?;
        MAP.with_borrow_mut(|map| {
            crate::coverage::frame_map::draw(map, &request)?;
            let stops = map.last();
            match place {
                Some(array) if usize::try_from(array.length()) == Ok(stops.len()) => {
                    array.copy_from(stops);
                    Ok(into.clone())
                }
                _ => Ok(Float32Array::from(stops).into()),
            }
        })
    };
    drawn().map_err(|refusal: Refusal| thrown(&refusal))
}

/// A map of stops lost as a picture for a canvas: red, green, blue, opacity.
///
/// A picture of the same size as the array `into` is written into it.
///
/// # Errors
///
/// An `Error` with the fields of `Refusal`.
#[wasm_bindgen(js_name = "paintFrame", unchecked_return_type = "Uint8ClampedArray")]
pub fn paint_frame(
    #[wasm_bindgen(unchecked_param_type = "PaintFrameRequest")] request: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "Float32Array")] stops: &JsValue,
    #[wasm_bindgen(unchecked_optional_param_type = "Uint8ClampedArray")] into: &JsValue,
) -> Result<JsValue, JsValue> {
    let painted = || {
        let request: crate::PaintFrameRequest = asked(&planted(request)?)?;
        let stops = floats(stops, "stops")?;
        let place = is_given(into).then(|| bytes(into, "into")).transpose()?;
        let count = usize::try_from(stops.length()).unwrap_or(usize::MAX);
        request.fits(count)?;
        PAINTER.with_borrow_mut(|(copied, painter)| {
            copied.resize(count, 0.0);
            stops.copy_to(copied);
            let pixels = painter.paint(&request, copied)?;
            match place {
                Some(array) if usize::try_from(array.length()) == Ok(pixels.len()) => {
                    array.copy_from(pixels);
                    Ok(into.clone())
                }
                _ => Ok(Uint8ClampedArray::from(pixels).into()),
            }
        })
    };
    painted().map_err(|refusal: Refusal| thrown(&refusal))
}

/// What square codes in a picture say; its pixels as a canvas gives them.
///
/// # Errors
///
/// An `Error` with the fields of `Refusal`.
#[wasm_bindgen(js_name = "readCode", unchecked_return_type = "ReadCodeReply")]
pub fn read_code(
    #[wasm_bindgen(unchecked_param_type = "ReadCodeRequest")] request: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "Uint8ClampedArray")] pixels: &JsValue,
) -> Result<JsValue, JsValue> {
    reply(request, &|tree| {
        answered(tree, |request: &crate::ReadCodeRequest| {
            let pixels = bytes(pixels, "pixels")?;
            request.fits(usize::try_from(pixels.length()).unwrap_or(usize::MAX))?;
            crate::read_code(request, &pixels.to_vec())
        })
    })
}
