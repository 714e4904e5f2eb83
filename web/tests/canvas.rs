//! A painted frame on a real canvas: what the module gives is what a browser
//! shows.

#![cfg(target_arch = "wasm32")]
#![expect(clippy::unwrap_used, reason = "a check may stop on the spot")]

use glasscall_web::bindings::paint_frame;
use js_sys::{Float32Array, JSON, Uint8ClampedArray};
use wasm_bindgen::{Clamped, JsCast as _, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, ImageData};

wasm_bindgen_test_configure!(run_in_browser);

const COLUMNS: u32 = 4;
const ROWS: u32 = 4;

/// Ground everywhere, as light as it is read, and one stop less in the last row.
fn painted() -> Vec<u8> {
    let request = JSON::parse(
        r##"{"columns":4,"rows":4,"shape":1,"horizonAtFrameHeight":2,"skyStops":0,
        "exposedStops":0,"colours":{"sky":"#ffffff","ground":"#808080","line":"#ffffff"}}"##,
    )
    .unwrap();
    let mut stops = [0.0; 16];
    stops[12..].fill(1.0);
    let stops = Float32Array::from(stops.as_slice());
    let pixels = paint_frame(&request, &stops, &JsValue::UNDEFINED).unwrap();
    pixels.unchecked_into::<Uint8ClampedArray>().to_vec()
}

fn canvas() -> CanvasRenderingContext2d {
    let document = web_sys::window().unwrap().document().unwrap();
    let canvas: HtmlCanvasElement = document.create_element("canvas").unwrap().unchecked_into();
    canvas.set_width(COLUMNS);
    canvas.set_height(ROWS);
    canvas.get_context("2d").unwrap().unwrap().unchecked_into()
}

#[wasm_bindgen_test]
fn painted_pixels_stand_on_the_canvas() {
    let pixels = painted();
    let picture =
        ImageData::new_with_u8_clamped_array_and_sh(Clamped(&pixels), COLUMNS, ROWS).unwrap();
    let canvas = canvas();
    canvas.put_image_data(&picture, 0.0, 0.0).unwrap();
    let seen = canvas
        .get_image_data(0.0, 0.0, f64::from(COLUMNS), f64::from(ROWS))
        .unwrap()
        .data();
    assert_eq!(seen.0, pixels);
    let pixel = |row: usize| [0, 1, 2, 3].map(|part| seen.0[row * 16 + part]);
    let ([red, green, blue, opaque], [darker, ..]) = (pixel(0), pixel(3));
    assert!(red == green && green == blue && opaque == 255);
    // A stop less is half the light, and of a display's signal some three quarters.
    let share = f64::from(darker) / f64::from(red);
    assert!((0.6..0.85).contains(&share), "{darker} of {red}");
}
