//! "51.5, 3.5", "51°30′N 3°30′E", "N 51 30.5 E 3 30.2": a place as it is pasted.

use super::decimal::read_decimal;
use super::{LONGEST_TEXT, Reading, SpokenError};
use crate::quantity::{Latitude, Longitude};
use crate::setup::Location;
use alloc::string::String;
use alloc::vec::Vec;

/// Reads a pair of coordinates, latitude first unless letters say otherwise.
///
/// Degrees with decimals, or with minutes, or with minutes and seconds; signs or
/// letters N, S, E, W before or after; either decimal sign.
///
/// # Errors
///
/// `Empty`, `TooLong`, `NotUnderstood`, `OutOfRange`.
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::read_place;
///
/// let place = read_place("51° 36' N, 3° 42' E").unwrap();
/// assert!((place.latitude.degrees() - 51.6).abs() < 1e-9);
/// assert!((place.longitude.degrees() - 3.7).abs() < 1e-9);
/// ```
pub fn read_place(text: &str) -> Reading<Location> {
    let text = text.trim();
    if text.is_empty() {
        return Err(SpokenError::Empty);
    }
    if text.chars().count() > LONGEST_TEXT {
        return Err(SpokenError::TooLong);
    }
    let text = text.strip_prefix("geo:").unwrap_or(text);
    let parts = tokens(text).and_then(|tokens| pair(&tokens));
    let [first, second] = parts.ok_or(SpokenError::NotUnderstood)?;
    let (latitude, longitude) = match (first.axis, second.axis) {
        (Some(Axis::Latitude), Some(Axis::Longitude)) | (None, None) => (first, second),
        (Some(Axis::Longitude), Some(Axis::Latitude)) => (second, first),
        _ => return Err(SpokenError::NotUnderstood),
    };
    Ok(Location {
        latitude: Latitude::new(latitude.degrees)?,
        longitude: Longitude::new(longitude.degrees)?,
    })
}

#[derive(Clone, Copy, PartialEq)]
enum Token {
    Number {
        value: f64,
        signed: bool,
    },
    /// °, ′ or ″ by whatever sign stands for it; only the first is looked at.
    Degrees,
    Mark,
    /// The axis, and −1 for south and west.
    Letter(Axis, f64),
    Separator,
}

#[derive(Clone, Copy, PartialEq)]
enum Axis {
    Latitude,
    Longitude,
}

struct Coordinate {
    degrees: f64,
    axis: Option<Axis>,
}

fn tokens(text: &str) -> Option<Vec<Token>> {
    let text = with_decimal_points(text);
    let mut tokens = Vec::new();
    let mut rest = text.as_str();
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '0'..='9' | '.' | '+' | '-' | '−' => {
                let sign = usize::from(!first.is_ascii_digit() && first != '.') * first.len_utf8();
                let digits = rest[sign..]
                    .bytes()
                    .take_while(|byte| byte.is_ascii_digit() || *byte == b'.')
                    .count();
                let value = read_decimal(&rest[sign..sign + digits])?;
                let negative = first == '-' || first == '−';
                tokens.push(Token::Number {
                    value: if negative { -value } else { value },
                    signed: sign > 0,
                });
                sign + digits
            }
            _ => {
                tokens.extend(match first.to_ascii_uppercase() {
                    'N' => Some(Token::Letter(Axis::Latitude, 1.0)),
                    'S' => Some(Token::Letter(Axis::Latitude, -1.0)),
                    'E' => Some(Token::Letter(Axis::Longitude, 1.0)),
                    'W' => Some(Token::Letter(Axis::Longitude, -1.0)),
                    '°' | 'º' => Some(Token::Degrees),
                    '′' | '\'' | '’' | '″' | '"' | '”' => Some(Token::Mark),
                    ',' | ';' | '/' => Some(Token::Separator),
                    space if space.is_whitespace() => None,
                    _ => return None,
                });
                first.len_utf8()
            }
        };
        rest = &rest[length..];
    }
    Some(tokens)
}

/// Commas that stand for a decimal point, as points: where no point is in the
/// text, both of two commas between digits, and the outer ones of three.
fn with_decimal_points(text: &str) -> String {
    let bytes = text.as_bytes();
    let digit = |at: Option<usize>| {
        at.and_then(|at| bytes.get(at))
            .is_some_and(u8::is_ascii_digit)
    };
    let between: Vec<usize> = (0..bytes.len())
        .filter(|&at| bytes[at] == b',' && digit(at.checked_sub(1)) && digit(Some(at + 1)))
        .collect();
    let decimal: &[usize] = match (&between[..], text.contains('.')) {
        ([first, second], false) => &[*first, *second],
        ([first, _, last], false) => &[*first, *last],
        _ => &[],
    };
    (text.char_indices())
        .map(|(at, sign)| if decimal.contains(&at) { '.' } else { sign })
        .collect()
}

/// The tokens of each of two coordinates.
fn pair(tokens: &[Token]) -> Option<[Coordinate; 2]> {
    let is_letter = |token: &Token| matches!(token, Token::Letter(..));
    let is_number = |token: &Token| matches!(token, Token::Number { .. });
    let cut = if tokens.first().is_some_and(is_letter) {
        1 + tokens.get(1..)?.iter().position(is_letter)?
    } else if let Some(letter) = tokens.iter().position(is_letter) {
        letter + 1
    } else if let Some(separator) = tokens.iter().position(|token| *token == Token::Separator) {
        separator
    } else {
        // Two bare numbers, or each with its degree sign.
        let second = |token: &&(usize, &Token)| {
            is_number(token.1)
                && (tokens.get(token.0 + 1) == Some(&Token::Degrees)
                    || tokens.iter().filter(|token| is_number(token)).count() == 2)
        };
        let numbered: Vec<(usize, &Token)> = tokens.iter().enumerate().collect();
        numbered.iter().filter(second).nth(1)?.0
    };
    let (first, second) = tokens.split_at_checked(cut)?;
    Some([coordinate(first)?, coordinate(second)?])
}

fn coordinate(tokens: &[Token]) -> Option<Coordinate> {
    let mut axis = None;
    let mut numbers = Vec::new();
    for token in tokens {
        match *token {
            Token::Number { value, signed } => {
                // Only degrees carry a sign, and minutes end at 60.
                let minutes = !numbers.is_empty();
                if minutes && (signed || value >= 60.0) {
                    return None;
                }
                numbers.push((value, signed));
            }
            Token::Letter(..) if axis.is_some() => return None,
            Token::Letter(which, sign) => axis = Some((which, sign)),
            Token::Degrees | Token::Mark | Token::Separator => {}
        }
    }
    let (&(first, signed), parts) = numbers.split_first()?;
    if parts.len() > 2 || (signed && axis.is_some()) {
        return None;
    }
    let fraction: f64 = (parts.iter().zip([60.0, 3600.0]))
        .map(|((part, _), unit)| part / unit)
        .sum();
    let sign = axis.map_or(if first.is_sign_negative() { -1.0 } else { 1.0 }, |axis| {
        axis.1
    });
    Some(Coordinate {
        degrees: sign * (libm::fabs(first) + fraction),
        axis: axis.map(|axis| axis.0),
    })
}

#[cfg(test)]
#[expect(clippy::panic, reason = "a test may stop on a bad value")]
mod tests {
    use super::{SpokenError, read_place};

    fn read(text: &str) -> (f64, f64) {
        let place = read_place(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        (place.latitude.degrees(), place.longitude.degrees())
    }

    #[test]
    fn the_usual_forms_are_one_place() {
        for text in [
            "51.5, -3.25",
            "51.5 -3.25",
            "51,5 -3,25",
            "51,5; −3,25",
            "51,5,-3,25",
            "geo:51.5,-3.25",
            "51.5 N 3.25 W",
            "N 51.5, W 3.25",
            "51°30'N 3°15'W",
            "51° 30′ 0″ N, 3° 15′ 0″ W",
            "N 51 30.0 W 3 15.0",
            "3°15'W 51°30'N",
            "51°30' -3°15'",
        ] {
            let (latitude, longitude) = read(text);
            assert!((latitude - 51.5).abs() < 1e-12, "{text}: {latitude}");
            assert!((longitude + 3.25).abs() < 1e-12, "{text}: {longitude}");
        }
    }

    #[test]
    fn a_place_just_south_of_the_line_keeps_its_sign() {
        assert_eq!(read("-0.5, 10"), (-0.5, 10.0));
        assert_eq!(read("0°30'S 10°E"), (-0.5, 10.0));
    }

    #[test]
    fn what_is_no_place_is_not_guessed_at() {
        for text in [
            "51.5",
            "51.5 N",
            "51.5 N 3 N",
            "north",
            "1 2 3 4 5",
            "51°75'N 3°E",
            "-51 S 3 E",
        ] {
            assert_eq!(
                read_place(text).err(),
                Some(SpokenError::NotUnderstood),
                "{text}"
            );
        }
        assert_eq!(read_place("  ").err(), Some(SpokenError::Empty));
        assert!(matches!(
            read_place("95, 3"),
            Err(SpokenError::OutOfRange(_))
        ));
    }
}
