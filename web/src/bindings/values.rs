//! Plain JavaScript values as trees, and back.
//!
//! Nothing that a caller hands over is trusted: a getter may throw, a proxy may
//! lie, one list may stand in a thousand places. An exception must never pass
//! through the module, which would lose what stands on its stack, so whatever
//! can run the caller's code is called with `catch`.

use crate::plain::reading::{Fault, FaultKind};
use crate::plain::refusal::Refusal;
use crate::plain::tree::Tree;
use crate::plain::writing::ToPlain as _;
use js_sys::{Array, ArrayBuffer, Error, JsString, Object, Reflect};
use serde::Serialize as _;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::*;

/// Deeper than any request is.
const DEEPEST: u8 = 8;
/// Values in a request: more than any case holds, and read in a tenth of a
/// second.
const MOST_VALUES: usize = 100_000;
/// Characters that count as one value more.
const CHARACTERS_A_VALUE: usize = 64;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = Object, js_name = keys)]
    fn names_of(value: &JsValue) -> Result<Array, JsValue>;
    #[wasm_bindgen(catch, js_namespace = Array, js_name = isArray)]
    fn is_list(value: &JsValue) -> Result<bool, JsValue>;
}

/// The request as a tree.
///
/// # Errors
///
/// What is too deep, too large or no plain value.
pub(super) fn planted(request: &JsValue) -> Result<Tree, Refusal> {
    let mut left = MOST_VALUES;
    Ok(plant(request, DEEPEST, &mut left)?)
}

/// One that refers to itself is endlessly deep and must not be followed.
fn plant(value: &JsValue, levels: u8, left: &mut usize) -> Result<Tree, Fault> {
    spend(1, 1, left)?;
    if let Some(number) = value.as_f64() {
        return Ok(Tree::Number(number));
    }
    if value.is_string() {
        let length = size_of(value.unchecked_ref::<JsString>().length());
        spend(length / CHARACTERS_A_VALUE, CHARACTERS_A_VALUE, left)?;
        return Ok(Tree::Text(value.as_string().unwrap_or_default()));
    }
    if let Some(yes) = value.as_bool() {
        return Ok(Tree::Bool(yes));
    }
    if value.is_null() || value.is_undefined() {
        return Ok(Tree::Nothing);
    }
    if !value.is_object() {
        return Err(strange());
    }
    let below = levels
        .checked_sub(1)
        .ok_or_else(|| Fault::new(FaultKind::TooDeep, ""))?;
    if is_list(value).map_err(|_| strange())? {
        return planted_list(value, below, left).map(Tree::List);
    }
    // Their bytes would come out as millions of fields.
    if ArrayBuffer::is_view(value) {
        return Err(strange());
    }
    planted_record(value, below, left).map(Tree::Record)
}

fn planted_list(value: &JsValue, below: u8, left: &mut usize) -> Result<Vec<Tree>, Fault> {
    let length = Reflect::get(value, &JsValue::from_str("length")).map_err(|_| strange())?;
    let length = length.as_f64().unwrap_or(f64::NAN);
    if !(0.0..=f64::from(u32::MAX)).contains(&length) {
        return Err(strange());
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "from 0 to u32::MAX by the check before"
    )]
    let length = length as u32;
    room_for(size_of(length), *left)?;
    (0..length)
        .map(|at| {
            (Reflect::get_u32(value.unchecked_ref(), at).map_err(|_| strange()))
                .and_then(|item| plant(&item, below, left))
                .map_err(|fault| fault.inside_item(size_of(at)))
        })
        .collect()
}

fn planted_record(
    value: &JsValue,
    below: u8,
    left: &mut usize,
) -> Result<Vec<(String, Tree)>, Fault> {
    // The names are a list of the engine's own making: nothing in it throws.
    let names = names_of(value).map_err(|_| strange())?;
    room_for(size_of(names.length()), *left)?;
    names
        .iter()
        .map(|key| {
            let name = key.as_string().unwrap_or_default();
            let field = Reflect::get(value, &key).map_err(|_| strange());
            match field.and_then(|field| plant(&field, below, left)) {
                Ok(inner) => Ok((name, inner)),
                Err(fault) => Err(fault.inside(&name)),
            }
        })
        .collect()
}

/// What is no plain value.
fn strange() -> Fault {
    Fault::new(FaultKind::WrongType(None), "")
}

fn spend(values: usize, each: usize, left: &mut usize) -> Result<(), Fault> {
    *left = left
        .checked_sub(values)
        .ok_or_else(|| too_much(values * each, each))?;
    Ok(())
}

fn room_for(values: usize, left: usize) -> Result<(), Fault> {
    if values > left {
        return Err(too_much(values, 1));
    }
    Ok(())
}

fn too_much(given: usize, each: usize) -> Fault {
    let most = MOST_VALUES * each;
    Fault::new(FaultKind::TooMuch { given, most }, "")
}

fn size_of(length: u32) -> usize {
    usize::try_from(length).unwrap_or(usize::MAX)
}

/// The tree as a plain JavaScript value.
///
/// # Errors
///
/// None that a tree could give: its keys are texts.
pub(super) fn grown(tree: &Tree) -> Result<JsValue, JsValue> {
    let plain = Serializer::new().serialize_maps_as_objects(true);
    tree.serialize(&plain).map_err(JsValue::from)
}

/// The refusal as a JavaScript `Error`.
pub(super) fn thrown(refusal: &Refusal) -> JsValue {
    let error = Error::new(&refusal.message());
    error.set_name("Refusal");
    if let Ok(fields) = grown(&refusal.to_plain()) {
        Object::assign(&error, fields.unchecked_ref());
    }
    error.into()
}
