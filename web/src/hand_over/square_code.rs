//! `drawCode` and `readCode`: a text as a square code (ISO/IEC 18004), and back
//! from the pixels of a picture.

use super::clearer::Grey;
use crate::plain::refusal::{Code, Refusal};
use glasscall_derive::{FromPlain, ToPlain};
use qrcodegen::{QrCode, QrCodeEcc};
use quircs::Quirc;
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Longest text one code may hold, in bytes; larger codes are too fine for a
/// phone to read off another phone.
const LONGEST: usize = 1_800;
/// Pixels a picture may have.
const MAX_PIXELS: usize = 4_194_304;
/// Pixels of a picture that was enlarged to be read.
const MOST_ENLARGED: usize = 6_000_000;
/// Ways to look at a picture.
const MOST_TRIES: usize = 4;
/// Codes that are read in one picture.
const MAX_CODES: usize = 16;

/// A text to show as a code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct DrawCodeRequest {
    /// The text, at most 1800 bytes of UTF-8.
    pub text: String,
}

/// The code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DrawCodeReply {
    /// Its rows from the top, `1` for a dark module. The light margin of four
    /// modules that the standard asks for is not in it.
    pub rows: Vec<String>,
}

/// The picture that holds a code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReadCodeRequest {
    /// Pixels across.
    pub columns: usize,
    /// Pixels down; 4 194 304 in all at most.
    pub rows: usize,
    /// How often it is looked at, 1 to 4, each time in another way and each longer
    /// than the one before, until a code is read; 4 unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tries: Option<usize>,
}

/// What codes in a picture say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ReadCodeReply {
    /// The text of each code that could be read; none where there is no code.
    pub texts: Vec<String>,
}

/// Answers `drawCode`.
///
/// # Errors
///
/// `empty`; `tooMany` for a text longer than one code should hold.
pub fn draw_code(request: &DrawCodeRequest) -> Result<DrawCodeReply, Refusal> {
    let text = &request.text;
    if text.is_empty() {
        return Err(Refusal::new(Code::Empty, "text"));
    }
    let too_long = || Refusal::too_many("text", text.len(), LONGEST);
    if text.len() > LONGEST {
        return Err(too_long());
    }
    // The lowest correction makes the coarsest code; one on a screen is whole,
    // and where a size has room to spare the library corrects more.
    let code = QrCode::encode_text(text, QrCodeEcc::Low).map_err(|_| too_long())?;
    let row = |y| {
        let module = |x| if code.get_module(x, y) { '1' } else { '0' };
        (0..code.size()).map(module).collect()
    };
    Ok(DrawCodeReply {
        rows: (0..code.size()).map(row).collect(),
    })
}

/// Answers `readCode`: pixels are red, green, blue and opacity, row by row from
/// the top.
///
/// # Errors
///
/// `empty` for a picture without pixels; `tooMany` for one that is too large;
/// `outOfRange` for tries that are none; `wrongType` when the pixels are not as many as said.
pub fn read_code(request: &ReadCodeRequest, pixels: &[u8]) -> Result<ReadCodeReply, Refusal> {
    let &ReadCodeRequest { columns, rows, .. } = request;
    request.fits(pixels.len())?;
    let tries = request.tries.unwrap_or(MOST_TRIES);
    if !(1..=MOST_TRIES).contains(&tries) {
        return Err(Refusal::new(Code::OutOfRange, "tries"));
    }
    let picture = Grey {
        columns,
        rows,
        pixels: pixels.chunks_exact(4).map(luma).collect(),
    };
    let texts = (0..tries)
        .map_while(|way| seen(&picture, way))
        .map(|picture| texts_in(&picture))
        .find(|texts| !texts.is_empty());
    Ok(ReadCodeReply {
        texts: texts.unwrap_or_default(),
    })
}

/// One way to look at a picture, the quickest first; none where it would be too
/// large. Which and how many was tried on codes of 60 to 834 characters at 2 to 4
/// pixels a module, turned by 0, 7 and 30 degrees, blurred by up to 0.7 modules:
/// as they are 36 of 180 are read, with all four 113.
fn seen(picture: &Grey, way: usize) -> Option<Grey> {
    let times = [1, 4, 4, 16][way];
    let few = picture.columns * picture.rows * times <= MOST_ENLARGED;
    (way == 0 || few).then(|| match way {
        0 => picture.clone(),
        1 => picture.doubled().sharpened(6, 4),
        2 => picture.doubled(),
        _ => picture.doubled().sharpened(4, 2).doubled(),
    })
}

fn texts_in(picture: &Grey) -> Vec<String> {
    let mut texts = Vec::new();
    for found in Quirc::new()
        .identify(picture.columns, picture.rows, &picture.pixels)
        .take(MAX_CODES)
        .flatten()
    {
        let text = found.decode().ok();
        if let Some(text) = text.and_then(|data| String::from_utf8(data.payload).ok())
            && !texts.contains(&text)
        {
            texts.push(text);
        }
    }
    texts
}

impl ReadCodeRequest {
    /// Whether there are as many bytes as the pixels need; asked before they
    /// are copied.
    pub(crate) fn fits(&self, bytes: usize) -> Result<(), Refusal> {
        let count = self.columns.saturating_mul(self.rows);
        if count == 0 {
            return Err(Refusal::new(Code::Empty, "columns"));
        }
        if count > MAX_PIXELS {
            return Err(Refusal::too_many("columns", count, MAX_PIXELS));
        }
        if bytes != count * 4 {
            return Err(Refusal::new(Code::WrongType, "pixels"));
        }
        Ok(())
    }
}

/// How bright a pixel looks, by the weights of ITU-R BT.601; what is clear is
/// white.
fn luma(pixel: &[u8]) -> u8 {
    let &[red, green, blue, opacity] = pixel else {
        return u8::MAX;
    };
    let bright = (299 * u32::from(red) + 587 * u32::from(green) + 114 * u32::from(blue)) / 1000;
    let over_white = 255 - (255 - bright) * u32::from(opacity) / 255;
    u8::try_from(over_white).unwrap_or(u8::MAX)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]
    #![allow(
        clippy::cast_possible_truncation,
        clippy::cast_possible_wrap,
        clippy::cast_precision_loss,
        clippy::cast_sign_loss,
        reason = "places in a small picture"
    )]

    use super::*;

    fn drawn(text: &str) -> Vec<String> {
        let text = text.to_owned();
        draw_code(&DrawCodeRequest { text }).unwrap().rows
    }

    /// A picture of a code, each module `scale` pixels wide, with its margin.
    fn picture(rows: &[String], scale: usize) -> (ReadCodeRequest, Vec<u8>) {
        let side = (rows.len() + 8) * scale;
        let dark = |x: usize, y: usize| {
            let at = |pixel: usize| (pixel / scale).checked_sub(4);
            let cell = at(y).and_then(|row| rows.get(row)?.as_bytes().get(at(x)?).copied());
            cell == Some(b'1')
        };
        let pixels = (0..side * side)
            .flat_map(|at| {
                let value = if dark(at % side, at / side) { 0 } else { 255 };
                [value, value, value, 255]
            })
            .collect();
        let request = ReadCodeRequest {
            columns: side,
            rows: side,
            tries: None,
        };
        (request, pixels)
    }

    #[test]
    fn what_one_library_draws_another_reads() {
        for text in ["0.9", "GLASS 1.2", "⅓ stop, élan", &"x".repeat(LONGEST)] {
            let (request, pixels) = picture(&drawn(text), 3);
            assert_eq!(read_code(&request, &pixels).unwrap().texts, [text]);
        }
    }

    #[test]
    fn a_code_with_a_stain_is_still_read() {
        let text = "the picture of a code with a thumb over one corner of it";
        let (request, mut pixels) = picture(&drawn(text), 6);
        let side = request.columns;
        for y in 0..12 {
            for x in 0..18 {
                let at = ((side / 2 + y) * side + side / 2 + x) * 4;
                pixels[at..at + 3].fill(0);
            }
        }
        assert_eq!(read_code(&request, &pixels).unwrap().texts, [text]);
    }

    /// The same code as a camera sees it: `module` pixels a module, turned, and
    /// blurred by a Gaussian of so many modules.
    fn seen_by_a_camera(rows: &[String], module: f64, turned: f64, blur: f64) -> Grey {
        let wide = (rows.len() + 8) as f64;
        let side = (wide * module * 1.4).ceil() as usize;
        let (sine, cosine) = turned.to_radians().sin_cos();
        let dark = |x: f64, y: f64| {
            let cell = |at: f64| (at / module + wide / 2.0).floor() as usize;
            let at = |row: usize| row.checked_sub(4);
            let line = at(cell(cosine * y - sine * x)).and_then(|row| rows.get(row));
            let sign = line.zip(at(cell(cosine * x + sine * y)));
            sign.and_then(|(line, at)| line.as_bytes().get(at).copied()) == Some(b'1')
        };
        let from_middle =
            |at: usize, part: usize| at as f64 + (part as f64 + 0.5) / 4.0 - side as f64 / 2.0;
        let light = |at: usize| {
            let parts = (0..16).filter(|&part| {
                dark(
                    from_middle(at % side, part % 4),
                    from_middle(at / side, part / 4),
                )
            });
            235.0 - 215.0 * parts.count() as f64 / 16.0
        };
        let mut picture: Vec<f64> = (0..side * side).map(light).collect();
        let sigma = blur * module;
        let reach = (3.0 * sigma).ceil() as isize;
        for step in [1, side as isize] {
            let old = picture.clone();
            for (at, pixel) in picture.iter_mut().enumerate() {
                let weighted = (-reach..=reach).filter_map(|by| {
                    let place = at.checked_add_signed(by * step)?;
                    Some((
                        old.get(place)?,
                        (-(by * by) as f64 / (2.0 * sigma * sigma)).exp(),
                    ))
                });
                let (sum, of) = weighted.fold((0.0, 0.0), |(sum, of), (light, weight)| {
                    (sum + light * weight, of + weight)
                });
                *pixel = sum / of;
            }
        }
        Grey {
            columns: side,
            rows: side,
            pixels: picture.iter().map(|&light| light as u8).collect(),
        }
    }

    #[test]
    fn a_code_that_is_turned_fine_or_blurred_is_read() {
        let text: String = (0..280)
            .map(|at| char::from(b'a' + (at * 7 % 26) as u8))
            .collect();
        let rows = drawn(&text);
        for (module, turned, blur) in [
            (3.0, 7.0, 0.3),
            (2.0, 7.0, 0.3),
            (3.0, 0.0, 0.4),
            (4.0, 7.0, 0.5),
            (4.0, 30.0, 0.3),
        ] {
            let picture = seen_by_a_camera(&rows, module, turned, blur);
            let pixels: Vec<u8> = (picture.pixels.iter())
                .flat_map(|&light| [light, light, light, 255])
                .collect();
            let read = |tries| {
                let (columns, rows) = (picture.columns, picture.rows);
                read_code(
                    &ReadCodeRequest {
                        columns,
                        rows,
                        tries,
                    },
                    &pixels,
                )
                .unwrap()
                .texts
            };
            assert_eq!(
                read(None),
                [text.as_str()],
                "{module} pixels, {turned} degrees, {blur} modules"
            );
        }
    }

    #[test]
    fn no_code_gives_no_text() {
        let request = ReadCodeRequest {
            columns: 40,
            rows: 30,
            tries: None,
        };
        for value in [0, 127, 255] {
            let reply = read_code(&request, &[value; 40 * 30 * 4]).unwrap();
            assert_eq!(reply.texts, Vec::<String>::new());
        }
    }

    #[test]
    fn the_size_follows_the_standard() {
        // ISO/IEC 18004, table 7: version 1 at the lowest correction holds 17
        // bytes, version 2 holds 32; a version has 17 + 4v modules a side.
        assert_eq!(drawn(&"a".repeat(17)).len(), 21);
        assert_eq!(drawn(&"a".repeat(18)).len(), 25);
        assert_eq!(drawn(&"a".repeat(33)).len(), 29);
    }

    #[test]
    fn noise_is_read_without_end_or_harm() {
        // A linear congruence: the same noise on every run.
        let mut state = 7_u32;
        let mut noise = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state.to_be_bytes()[0]
        };
        let text = "a code that is torn apart";
        let (request, clean) = picture(&drawn(text), 4);
        for strength in [8, 32, 96, 160, 255] {
            let torn: Vec<u8> = clean
                .iter()
                .map(|&value| if noise() < strength { noise() } else { value })
                .collect();
            let reply = read_code(&request, &torn).unwrap();
            assert!(reply.texts.iter().all(|read| read == text));
        }
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let empty = DrawCodeRequest {
            text: String::new(),
        };
        assert_eq!(draw_code(&empty).unwrap_err().code, Code::Empty);
        let long = DrawCodeRequest {
            text: "a".repeat(LONGEST + 1),
        };
        assert_eq!(draw_code(&long).unwrap_err().code, Code::TooMany);
        let of = |columns, rows| {
            let tries = None;
            let request = ReadCodeRequest {
                columns,
                rows,
                tries,
            };
            read_code(&request, &[0; 16])
        };
        assert_eq!(of(0, 4).unwrap_err().code, Code::Empty);
        assert_eq!(of(2, 3).unwrap_err().code, Code::WrongType);
        assert_eq!(of(usize::MAX, 2).unwrap_err().code, Code::TooMany);
        assert!(of(2, 2).is_ok());
    }
}
