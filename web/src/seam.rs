//! The one place that touches JavaScript values.

use crate::refusal::{Code, Given, Refusal};
use js_sys::{Array, Error, Object, Reflect};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_content::{Data, Deserializer, Number, Value};
use serde_path_to_error::{Path, Segment};
use wasm_bindgen::prelude::*;

/// Deeper than any request is.
const DEEPEST: u8 = 8;

/// Reads the request, answers it and hands the reply back.
///
/// # Errors
///
/// A JavaScript `Error` with the fields of [`Refusal`].
fn reply<Q, A>(
    request: &JsValue,
    answer: impl FnOnce(&Q) -> Result<A, Refusal>,
) -> Result<JsValue, JsValue>
where
    Q: DeserializeOwned,
    A: Serialize,
{
    let reply = read(request)
        .and_then(|request| answer(&request))
        .map_err(|refusal| thrown(&refusal))?;
    let plain = serde_wasm_bindgen::Serializer::new().serialize_maps_as_objects(true);
    Ok(reply.serialize(&plain)?)
}

/// Reads by way of a plain tree, so that unknown fields are seen and a number
/// that is not finite keeps its value.
fn read<Q: DeserializeOwned>(request: &JsValue) -> Result<Q, Refusal> {
    if is_deeper_than(request, DEEPEST) {
        return Err(Refusal::new(Code::TooDeep, ""));
    }
    let tree: Value<'static> = serde_wasm_bindgen::from_value(request.clone())
        .map_err(|_| Refusal::new(Code::WrongType, ""))?;
    let reader = Deserializer::new(tree.clone())
        .coerce_numbers()
        .human_readable();
    serde_path_to_error::deserialize(reader)
        .map_err(|error| refusal_of(&tree, error.path(), &error.inner().to_string()))
}

/// A tree that refers to itself is endlessly deep and must not be followed.
fn is_deeper_than(value: &JsValue, levels: u8) -> bool {
    if !value.is_object() {
        return false;
    }
    levels == 0
        || Object::values(value.unchecked_ref())
            .iter()
            .any(|inner| is_deeper_than(&inner, levels - 1))
}

/// Serde tells what went wrong in a sentence; its first words are stable.
fn refusal_of(tree: &Value<'_>, path: &Path, sentence: &str) -> Refusal {
    let named = sentence.split('`').nth(1).unwrap_or_default();
    let place = path.to_string();
    let inside = if place == "." { "" } else { place.as_str() };
    if sentence.starts_with("missing field") {
        let dot = if inside.is_empty() { "" } else { "." };
        return Refusal::new(Code::Missing, &format!("{inside}{dot}{named}"));
    }
    let code = if sentence.starts_with("unknown field") {
        Code::UnknownField
    } else {
        Code::WrongType
    };
    Refusal {
        given: given_at(tree, path),
        ..Refusal::new(code, inside)
    }
}

fn given_at(tree: &Value<'_>, path: &Path) -> Option<Given> {
    let at = path
        .iter()
        .try_fold(tree, |value, segment| match (value, segment) {
            (Value::Seq(items), Segment::Seq { index }) => items.get(*index),
            (Value::Map(fields), Segment::Map { key }) => {
                fields.iter().find_map(|(name, inner)| {
                    matches!(name, Value::String(name) if name == key).then_some(inner)
                })
            }
            (Value::Struct(record), Segment::Map { key }) => match &record.data {
                Data::Struct { fields } => {
                    let named = fields.iter().find(|(name, _)| name == key);
                    named.map(|(_, inner)| inner)
                }
                _ => None,
            },
            _ => None,
        })?;
    match at {
        Value::String(text) => Some(Given::Text(text.chars().take(80).collect())),
        Value::Bool(yes) => Some(Given::Text(yes.to_string())),
        Value::Number(Number::F64(number)) => Some(Given::Number(*number)),
        Value::Number(Number::I64(number)) => Some(Given::Text(number.to_string())),
        _ => None,
    }
}

fn thrown(refusal: &Refusal) -> JsValue {
    let error = Error::new(&refusal.message());
    error.set_name("Refusal");
    if let Ok(fields) = serde_wasm_bindgen::to_value(refusal) {
        for entry in Object::entries(fields.unchecked_ref()).iter() {
            let entry: Array = entry.unchecked_into();
            // Setting a field of a fresh Error cannot fail.
            let _ = Reflect::set(&error, &entry.get(0), &entry.get(1));
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
                reply(request, $answer)
            }
        )*
    };
}

export! {
    /// Reads what people say and write as a quantity.
    "readText" read_text("ReadTextRequest") -> "ReadTextReply" = crate::read_text;
    /// One of density, stops, factor and transmittance as all four.
    "convertDensity" convert_density("ConvertDensityRequest") -> "ConvertDensityReply"
        = crate::convert_density;
    /// Light, stop, time and exposure index, solving the missing one.
    "exposure" exposure("ExposureRequest") -> "ExposureReply" = crate::exposure;
    /// From a reading to the best stacks of the pieces in the case.
    "openUp" open_up("OpenUpRequest") -> "OpenUpReply" = crate::open_up;
    /// The cheapest set of pieces that serves every need.
    "coverKit" cover_kit("CoverKitRequest") -> "CoverKitReply" = crate::cover_kit;
    /// The stacks of a day with the fewest moves.
    "orderDay" order_day("OrderDayRequest") -> "OrderDayReply" = crate::order_day;
    /// Which rings join each lens to the filter, and what to buy.
    "rings" rings("RingsRequest") -> "RingsReply" = crate::rings;
    /// What hangs in front, and the counterweight for it.
    "weight" weight("WeightRequest") -> "WeightReply" = crate::weight;
}
