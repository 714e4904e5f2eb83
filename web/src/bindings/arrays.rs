//! Arrays of numbers that stand beside a request.

use crate::plain::refusal::{Code, Refusal};
use js_sys::{Float32Array, Reflect, Uint8ClampedArray};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = Float32Array)]
    type Floats;
    #[wasm_bindgen(catch, constructor, js_class = "Float32Array")]
    fn over(buffer: &JsValue, offset: &JsValue, length: &JsValue) -> Result<Floats, JsValue>;
    #[wasm_bindgen(js_name = Uint8ClampedArray)]
    type Bytes;
    #[wasm_bindgen(catch, constructor, js_class = "Uint8ClampedArray")]
    fn over(buffer: &JsValue, offset: &JsValue, length: &JsValue) -> Result<Bytes, JsValue>;
}

/// The floats that must stand at `field`.
///
/// What only looks like an array of floats must not come further: it could
/// throw in the middle of a copy. So a new one is made over the same memory.
pub(super) fn floats(value: &JsValue, field: &str) -> Result<Float32Array, Refusal> {
    let made = (value.is_instance_of::<Float32Array>())
        .then(|| parts(value).and_then(|[at, from, length]| Floats::over(&at, &from, &length).ok()))
        .flatten();
    made.map(|array| array.unchecked_into())
        .ok_or_else(|| Refusal::new(Code::WrongType, field))
}

/// The bytes that must stand at `field`.
pub(super) fn bytes(value: &JsValue, field: &str) -> Result<Uint8ClampedArray, Refusal> {
    let made = (value.is_instance_of::<Uint8ClampedArray>())
        .then(|| parts(value).and_then(|[at, from, length]| Bytes::over(&at, &from, &length).ok()))
        .flatten();
    made.map(|array| array.unchecked_into())
        .ok_or_else(|| Refusal::new(Code::WrongType, field))
}

fn parts(array: &JsValue) -> Option<[JsValue; 3]> {
    let part = |name: &str| Reflect::get(array, &JsValue::from_str(name)).ok();
    Some([part("buffer")?, part("byteOffset")?, part("length")?])
}

/// Whether an array to write into was given at all.
pub(super) fn is_given(value: &JsValue) -> bool {
    !value.is_undefined() && !value.is_null()
}
