//! The one place that touches JavaScript values.

use crate::coverage::paint_frame::Painter;
use crate::plain::reading::{Fault, FaultKind, read as read_tree};
use crate::plain::refusal::{Code, Given, Refusal};
use crate::plain::tree::Tree;
use crate::plain::writing::tree_of;
use glasscall_core::answer::frame_map::FrameMap;
use js_sys::{Array, Error, Float32Array, Object, Reflect, Uint8ClampedArray};
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Deeper than any request is.
const DEEPEST: u8 = 8;

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
    planted(request)
        .and_then(|tree| answer(&tree))
        .map(|tree| grown(&tree))
        .map_err(|refusal| thrown(&refusal))
}

/// An answer from tree to tree.
fn answered<Q: DeserializeOwned, A: Serialize>(
    tree: &Tree,
    answer: impl FnOnce(&Q) -> Result<A, Refusal>,
) -> Result<Tree, Refusal> {
    // Every reply is a plain value.
    Ok(tree_of(&answer(&asked(tree)?)?).unwrap_or(Tree::Nothing))
}

fn asked<Q: DeserializeOwned>(tree: &Tree) -> Result<Q, Refusal> {
    read_tree(tree).map_err(refusal_of)
}

fn read<Q: DeserializeOwned>(request: &JsValue) -> Result<Q, Refusal> {
    asked(&planted(request)?)
}

fn planted(request: &JsValue) -> Result<Tree, Refusal> {
    plant(request, DEEPEST).ok_or_else(|| Refusal::new(Code::TooDeep, ""))
}

/// The tree as a plain JavaScript value.
fn grown(tree: &Tree) -> JsValue {
    match tree {
        Tree::Nothing => JsValue::UNDEFINED,
        Tree::Bool(yes) => JsValue::from_bool(*yes),
        Tree::Number(number) => JsValue::from_f64(*number),
        Tree::Text(text) => JsValue::from_str(text),
        Tree::List(items) => items.iter().map(grown).collect::<Array>().into(),
        Tree::Record(fields) => {
            let record = Object::new();
            for (name, value) in fields {
                // Setting a field of a fresh object cannot fail.
                let _ = Reflect::set(&record, &JsValue::from_str(name), &grown(value));
            }
            record.into()
        }
    }
}

/// The value as a tree, or nothing when it is deeper than `levels`: one that
/// refers to itself is endlessly deep and must not be followed.
fn plant(value: &JsValue, levels: u8) -> Option<Tree> {
    if let Some(number) = value.as_f64() {
        return Some(Tree::Number(number));
    }
    if let Some(text) = value.as_string() {
        return Some(Tree::Text(text));
    }
    if let Some(yes) = value.as_bool() {
        return Some(Tree::Bool(yes));
    }
    if value.is_null() || value.is_undefined() {
        return Some(Tree::Nothing);
    }
    let below = levels.checked_sub(1)?;
    if Array::is_array(value) {
        let items: &Array = value.unchecked_ref();
        return items
            .iter()
            .map(|item| plant(&item, below))
            .collect::<Option<_>>()
            .map(Tree::List);
    }
    let entries = Object::entries(value.unchecked_ref());
    let field = |entry: JsValue| {
        let entry: Array = entry.unchecked_into();
        let name = entry.get(0).as_string().unwrap_or_default();
        plant(&entry.get(1), below).map(|inner| (name, inner))
    };
    entries
        .iter()
        .map(field)
        .collect::<Option<_>>()
        .map(Tree::Record)
}

fn refusal_of(fault: Fault) -> Refusal {
    let (code, given) = match fault.kind {
        FaultKind::Unknown => (Code::UnknownField, None),
        FaultKind::Missing => (Code::Missing, None),
        FaultKind::WrongType(given) => (Code::WrongType, given),
    };
    let given = match given {
        Some(Tree::Text(text)) => Some(Given::Text(text.chars().take(80).collect())),
        Some(Tree::Number(number)) => Some(Given::Number(number)),
        Some(Tree::Bool(yes)) => Some(Given::Text(yes.to_string())),
        _ => None,
    };
    Refusal {
        given,
        ..Refusal::new(code, &fault.path)
    }
}

fn thrown(refusal: &Refusal) -> JsValue {
    let error = Error::new(&refusal.message());
    error.set_name("Refusal");
    if let Ok(Tree::Record(fields)) = tree_of(refusal) {
        for (name, value) in &fields {
            // Setting a field of a fresh Error cannot fail.
            let _ = Reflect::set(&error, &JsValue::from_str(name), &grown(value));
        }
    }
    error.into()
}

/// Exports functions: each takes one plain object and gives one plain object.
macro_rules! export {
    ($($(#[$doc:meta])* $js:literal $name:ident($request:literal) -> $reply:literal = $answer:path;)*) => {
        $(
            $(#[$doc])*
            ///
            /// # Errors
            ///
            /// An `Error` with the fields of `Refusal`.
            #[wasm_bindgen(js_name = $js, unchecked_return_type = $reply)]
            pub fn $name(
                #[wasm_bindgen(unchecked_param_type = $request)] request: &JsValue,
            ) -> Result<JsValue, JsValue> {
                reply(request, &|tree| answered(tree, $answer))
            }
        )*
    };
}

export! {
    /// Reads what people say and write as a quantity.
    "readText" read_text("ReadTextRequest") -> "ReadTextReply" = crate::exposure::read_text;
    /// One of density, stops, factor and transmittance as all four.
    "convertDensity" convert_density("ConvertDensityRequest") -> "ConvertDensityReply"
        = crate::exposure::convert_density;
    /// Light, stop, time and exposure index, solving the missing one.
    "exposure" exposure("ExposureRequest") -> "ExposureReply" = crate::exposure::exposure;
    /// From a reading to the best stacks of the pieces in the case.
    "openUp" open_up("OpenUpRequest") -> "OpenUpReply" = crate::exposure::open_up;
    /// Reads a pasted pair of coordinates.
    "readPlace" read_place("ReadPlaceRequest") -> "ReadPlaceReply" = crate::light::read_place;
    /// Where the sun stands.
    "sun" sun("SunRequest") -> "SunReply" = crate::light::sun;
    /// The sun's day at a place.
    "sunDay" sun_day("SunDayRequest") -> "SunDayReply" = crate::light::sun_day;
    /// Where a graduated filter's line falls, how it blends, which edge suits.
    "line" line("LineRequest") -> "LineReply" = crate::graduated::line;
    /// The graduated filter that brings two readings closer.
    "skyAndGround" sky_and_ground("SkyAndGroundRequest") -> "SkyAndGroundReply"
        = crate::graduated::sky_and_ground;
    /// What a graduated filter costs while the shot moves.
    "lineMotion" line_motion("LineMotionRequest") -> "LineMotionReply" = crate::graduated::line_motion;
    /// What a polarizer does to the sky in a picture.
    "sky" sky("SkyRequest") -> "SkyReply" = crate::light::sky;
    /// How dark a polarizer makes the sky, aim by aim.
    "skyAims" sky_aims("SkyAimsRequest") -> "SkyAimsReply" = crate::sky_aims;
    /// How dark a polarizer makes the sky, hour by hour.
    "skyHours" sky_hours("SkyHoursRequest") -> "SkyHoursReply" = crate::sky_hours;
    /// What a surface reflects and what a polarizer leaves of it.
    "reflection" reflection("ReflectionRequest") -> "ReflectionReply" = crate::light::reflection;
    /// Two polarizers as a density that turns.
    "crossedPolarizers" crossed_polarizers("CrossedPolarizersRequest") -> "CrossedPolarizersReply" = crate::light::crossed_polarizers;
    /// A polarizer's own loss from readings through it.
    "measuredPolarizer" measured_polarizer("MeasuredPolarizerRequest") -> "MeasuredPolarizerReply" = crate::light::measured_polarizer;
    /// Light of the clear sky before anyone has read it.
    "daylight" daylight("DaylightRequest") -> "DaylightReply" = crate::light::daylight;
    /// From timed readings to the next swaps.
    "drift" drift("DriftRequest") -> "DriftReply" = crate::light::drift;
    /// How long a flag must be, and how long it may be.
    "flag" flag("FlagRequest") -> "FlagReply" = crate::coverage::flag;
    /// Where glass that faces glass doubles a lamp, and how bright.
    "ghost" ghost("GhostRequest") -> "GhostReply" = crate::focus::ghost;
    /// The cheapest set of pieces that serves every need.
    "coverKit" cover_kit("CoverKitRequest") -> "CoverKitReply" = crate::case::cover_kit;
    /// What the glass must take over a day.
    "dayNeeds" day_needs("DayNeedsRequest") -> "DayNeedsReply" = crate::case::day_needs;
    /// The stacks of a day with the fewest moves.
    "orderDay" order_day("OrderDayRequest") -> "OrderDayReply" = crate::case::order_day;
    /// Which rings join each lens to the filter, and what to buy.
    "rings" rings("RingsRequest") -> "RingsReply" = crate::case::rings;
    /// The case as a file.
    "writeCase" write_case("WriteCaseRequest") -> "WriteCaseReply" = crate::write_case;
    /// The case from a file, whole or as far as it is sound.
    "readCase" read_case("ReadCaseRequest") -> "ReadCaseReply" = crate::read_case;
    /// A text as a square code to be scanned.
    "drawCode" draw_code("DrawCodeRequest") -> "DrawCodeReply" = crate::draw_code;
    /// What hangs in front, and the counterweight for it.
    "weight" weight("WeightRequest") -> "WeightReply" = crate::case::weight;
    /// Whether the glass in front of this lens shades this picture.
    "fit" fit("FitRequest") -> "FitReply" = crate::coverage::fit;
    /// The entrance pupil by two cards ahead of the lens.
    "pupilByTwoCards" pupil_by_two_cards("PupilByTwoCardsRequest") -> "PupilByTwoCardsReply"
        = crate::pupil_by_two_cards;
    /// The entrance pupil by a ring that begins to darken the corners.
    "pupilByRing" pupil_by_ring("PupilByRingRequest") -> "PupilByRingReply"
        = crate::pupil_by_ring;
    /// Limits of the entrance pupil by the front of the lens.
    "pupilByFront" pupil_by_front("PupilByFrontRequest") -> "PupilByFrontReply"
        = crate::pupil_by_front;
    /// The sizes of the trade, each with where it comes from.
    "sizes" sizes("SizesRequest") -> "SizesReply" = crate::case::sizes;
    /// What is sharp, how large the background blurs, the stop for a wish.
    "depth" depth("DepthRequest") -> "DepthReply" = crate::focus::depth;
    /// Where close-up lenses focus and what they take in.
    "closeUp" close_up("CloseUpRequest") -> "CloseUpReply" = crate::focus::close_up;
    /// What flat glass behind the lens does to focus, and in front.
    "behindLens" behind_lens("BehindLensRequest") -> "BehindLensReply" = crate::focus::behind_lens;
    /// Colour temperature through a stack, against the white balance.
    "colour" colour("ColourRequest") -> "ColourReply" = crate::colour::colour;
    /// Visible and infrared light through a stack, kept apart.
    "infrared" infrared("InfraredRequest") -> "InfraredReply" = crate::colour::infrared;
    /// What a lens becomes with an extender, and focused near.
    "workingStop" working_stop("WorkingStopRequest") -> "WorkingStopReply" = crate::focus::working_stop;
    /// Shutter angles that lamps on the mains do not disturb.
    "flicker" flicker("FlickerRequest") -> "FlickerReply" = crate::exposure::flicker;
    /// A change during the shot at constant exposure.
    "ramp" ramp("RampRequest") -> "RampReply" = crate::exposure::ramp;
}

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
#[wasm_bindgen(js_name = "frameMap")]
pub fn frame_map(
    #[wasm_bindgen(unchecked_param_type = "FrameMapRequest")] request: &JsValue,
    into: Option<Float32Array>,
) -> Result<Float32Array, JsValue> {
    let request = read(request).map_err(|refusal| thrown(&refusal))?;
    MAP.with_borrow_mut(|map| {
        crate::coverage::frame_map::draw(map, &request).map_err(|refusal| thrown(&refusal))?;
        let stops = map.last();
        let fits = |array: &Float32Array| usize::try_from(array.length()) == Ok(stops.len());
        Ok(match into.filter(fits) {
            Some(array) => {
                array.copy_from(stops);
                array
            }
            None => Float32Array::from(stops),
        })
    })
}

/// A map of stops lost as a picture for a canvas: red, green, blue, opacity.
///
/// A picture of the same size as the array `into` is written into it.
///
/// # Errors
///
/// An `Error` with the fields of `Refusal`.
#[wasm_bindgen(js_name = "paintFrame")]
pub fn paint_frame(
    #[wasm_bindgen(unchecked_param_type = "PaintFrameRequest")] request: &JsValue,
    stops: &Float32Array,
    into: Option<Uint8ClampedArray>,
) -> Result<Uint8ClampedArray, JsValue> {
    let request = read(request).map_err(|refusal| thrown(&refusal))?;
    PAINTER.with_borrow_mut(|(copied, painter)| {
        copied.resize(usize::try_from(stops.length()).unwrap_or_default(), 0.0);
        stops.copy_to(copied);
        let pixels = (painter.paint(&request, copied)).map_err(|refusal| thrown(&refusal))?;
        let fits = |array: &Uint8ClampedArray| usize::try_from(array.length()) == Ok(pixels.len());
        Ok(match into.filter(fits) {
            Some(array) => {
                array.copy_from(pixels);
                array
            }
            None => Uint8ClampedArray::from(pixels),
        })
    })
}

/// What square codes in a picture say; its pixels as a canvas gives them.
///
/// # Errors
///
/// An `Error` with the fields of `Refusal`.
#[wasm_bindgen(js_name = "readCode", unchecked_return_type = "ReadCodeReply")]
pub fn read_code(
    #[wasm_bindgen(unchecked_param_type = "ReadCodeRequest")] request: &JsValue,
    pixels: &Uint8ClampedArray,
) -> Result<JsValue, JsValue> {
    reply(request, &|tree| {
        answered(tree, |request: &crate::ReadCodeRequest| {
            request.fits(usize::try_from(pixels.length()).unwrap_or(usize::MAX))?;
            crate::read_code(request, &pixels.to_vec())
        })
    })
}
