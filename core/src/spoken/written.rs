//! A number as decimal digits.

use super::decimal::{read_decimal, times};
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

/// Digits that a double holds exactly, whatever they are.
const EXACT: f64 = 1e15;
/// Decimals that are tried by one product, which is nearly always enough.
const USUAL_DECIMALS: i64 = 6;
/// So many digits tell any two doubles apart.
const DIGITS: usize = 17;

/// The fewest digits that are read as this number again, without an exponent:
/// `12.5`, `-0.1`, `inf`.
///
/// The standard library gives the same text, with 25 kB of code and tables.
///
/// # Source
///
/// Guy L. Steele and Jon L. White, How to print floating-point numbers
/// accurately, 1990: what the shortest digits are; found here by trying.
#[must_use]
pub fn write_decimal(number: f64) -> String {
    if !number.is_finite() {
        return unlike_a_number(number);
    }
    let size = libm::fabs(number);
    if let Some(text) = usual(size) {
        return signed(number, text);
    }
    let digits = Digits::of(size);
    let shortest = (1..=DIGITS).find_map(|count| {
        let (nearest, other) = digits.near(count, Tie::Up);
        [nearest, other]
            .map(|digits| digits.text(0))
            .into_iter()
            .find(|text| read_decimal(text) == Some(size))
    });
    signed(number, shortest.unwrap_or_default())
}

/// With so many decimals, the last one rounded, of two as near to the even one.
#[must_use]
pub fn write_places(number: f64, places: usize) -> String {
    if !number.is_finite() {
        return unlike_a_number(number);
    }
    let digits = Digits::of(libm::fabs(number));
    let places_kept = i64::try_from(places).unwrap_or(i64::MAX);
    let count = usize::try_from(digits.point + places_kept);
    let kept = count.map_or(Digits::NOTHING, |count| digits.near(count, Tie::Even).0);
    signed(number, kept.text(places))
}

fn unlike_a_number(number: f64) -> String {
    String::from(match number {
        _ if number.is_nan() => "NaN",
        _ if number > 0.0 => "inf",
        _ => "-inf",
    })
}

fn signed(number: f64, text: String) -> String {
    if number.is_sign_negative() {
        ["-", &text].concat()
    } else {
        text
    }
}

/// Most numbers are so many tenths, hundredths or thousandths: the quotient of
/// two exact numbers is rounded once, as reading rounds.
fn usual(size: f64) -> Option<String> {
    let mut tens = 1.0;
    for decimals in 0..=USUAL_DECIMALS {
        let whole = libm::round(size * tens);
        if whole >= EXACT {
            return None;
        }
        #[expect(clippy::float_cmp, reason = "the very same number is meant")]
        if whole / tens == size {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a whole number below 10^15"
            )]
            let digits = whole_digits(whole as u64);
            let point = i64::try_from(digits.len()).unwrap_or(0) - decimals;
            return Some(Digits { digits, point }.text(0));
        }
        tens *= 10.0;
    }
    None
}

/// Which of two that are as near.
#[derive(Clone, Copy, PartialEq)]
enum Tie {
    Up,
    Even,
}

/// Digits, the first not nothing, and how many of them stand before the point.
#[derive(Clone)]
struct Digits {
    digits: Vec<u8>,
    point: i64,
}

impl Digits {
    const NOTHING: Self = Self {
        digits: Vec::new(),
        point: 0,
    };

    /// All digits of a number that is finite and not negative.
    fn of(size: f64) -> Self {
        const PLACES: u32 = 52;
        let bits = size.to_bits();
        let fraction = bits & ((1 << PLACES) - 1);
        let power = i64::try_from(bits >> PLACES).unwrap_or(0);
        let (whole, power) = match power {
            0 => (fraction, 1),
            _ => (fraction | (1 << PLACES), power),
        };
        let twos = power - 1075;
        let mut number = vec![0];
        for digit in whole_digits(whole) {
            times(&mut number, 10, u32::from(digit));
        }
        // A half is five tenths.
        for _ in 0..twos.abs() {
            times(&mut number, if twos < 0 { 5 } else { 2 }, 0);
        }
        let digits = decimal_digits(number);
        let length = i64::try_from(digits.len()).unwrap_or(0);
        Self {
            point: length + twos.min(0),
            digits,
        }
    }

    /// The nearest with so many digits, and the one on the other side.
    fn near(&self, count: usize, tie: Tie) -> (Self, Self) {
        if count >= self.digits.len() {
            return (self.clone(), self.clone());
        }
        let (kept, rest) = self.digits.split_at(count);
        let below = Self {
            digits: kept.to_vec(),
            point: self.point,
        };
        let above = below.next();
        let goes_up = tie == Tie::Up || kept.last().is_some_and(|digit| digit % 2 == 1);
        let is_above = match rest[0].cmp(&5) {
            core::cmp::Ordering::Less => false,
            core::cmp::Ordering::Greater => true,
            core::cmp::Ordering::Equal => goes_up || rest[1..].iter().any(|digit| *digit > 0),
        };
        if is_above {
            (above, below)
        } else {
            (below, above)
        }
    }

    /// One more in the last place.
    fn next(&self) -> Self {
        let Some(last) = self.digits.iter().rposition(|digit| *digit < 9) else {
            return Self {
                digits: vec![1],
                point: self.point + 1,
            };
        };
        let mut digits = self.digits[..=last].to_vec();
        digits[last] += 1;
        Self {
            digits,
            point: self.point,
        }
    }

    /// With at least so many decimals, and no more than are there.
    fn text(&self, places: usize) -> String {
        let end = self.digits.iter().rposition(|digit| *digit > 0);
        let length = end.map_or(0, |end| end + 1);
        let there = i64::try_from(length).unwrap_or(0);
        let point = if there == 0 { 0 } else { self.point };
        let decimals = (there - point).max(i64::try_from(places).unwrap_or(0));
        // A nothing stands before the point where no digit does.
        let from = if point > 0 { 0 } else { point - 1 };
        let mut text = String::new();
        for at in from..point + decimals {
            if at == point {
                text.push('.');
            }
            let digit = usize::try_from(at).ok().filter(|at| *at < length);
            text.push(char::from(b'0' + digit.map_or(0, |at| self.digits[at])));
        }
        text
    }
}

fn whole_digits(mut whole: u64) -> Vec<u8> {
    let mut digits = Vec::new();
    while whole > 0 {
        digits.push(u8::try_from(whole % 10).unwrap_or(0));
        whole /= 10;
    }
    digits.reverse();
    digits
}

/// The digits of a large number, which is used up.
fn decimal_digits(mut number: Vec<u32>) -> Vec<u8> {
    let mut digits = Vec::new();
    while number.iter().any(|part| *part > 0) {
        let mut left: u64 = 0;
        for part in number.iter_mut().rev() {
            let here = (left << 32) | u64::from(*part);
            *part = u32::try_from(here / 10).unwrap_or(0);
            left = here % 10;
        }
        digits.push(u8::try_from(left).unwrap_or(0));
    }
    digits.reverse();
    digits
}

#[cfg(test)]
mod tests {
    use super::{write_decimal, write_places};
    use alloc::format;

    #[track_caller]
    fn agrees(number: f64) {
        assert_eq!(write_decimal(number), format!("{number}"));
        for places in [0, 1, 2, 3, 20] {
            assert_eq!(
                write_places(number, places),
                format!("{number:.places$}"),
                "{number} with {places}"
            );
        }
    }

    #[test]
    fn it_is_what_the_standard_library_writes() {
        for number in [
            0.0,
            -0.0,
            0.1,
            0.25,
            0.35,
            0.5,
            1.5,
            2.5,
            2.8,
            9.995,
            9.9995,
            99.5,
            999.5,
            0.0005,
            0.0015,
            0.000_6,
            1.0,
            10.0,
            1e15,
            1e21,
            1e22,
            1e23,
            9_007_199_254_740_993.0,
            0.1 + 0.2,
            1.0 / 3.0,
            100.0 / 3.0,
            1e-7,
            5e-324,
            f64::MIN_POSITIVE,
            f64::MAX,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::NAN,
        ] {
            agrees(number);
            agrees(-number);
        }
    }

    #[test]
    fn any_bits_are_written_as_the_standard_library_does() {
        let mut state: u64 = 0x9e37_79b9_7f4a_7c15;
        for nth in 0..2_000_u32 {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            let number = f64::from_bits(state);
            if !number.is_nan() {
                agrees(number);
            }
            #[expect(clippy::cast_precision_loss, reason = "any number will do")]
            let usual = (state >> 40) as f64 / f64::from(1 << (nth % 20));
            agrees(usual);
            agrees(libm::round(usual) / 1000.0);
        }
        // Below a power of two doubles stand closer.
        for power in -1074..1024 {
            agrees(libm::scalbn(1.0, power));
        }
    }
}
