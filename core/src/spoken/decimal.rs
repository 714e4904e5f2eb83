//! Decimal digits as a number.

use alloc::vec;
use alloc::vec::Vec;

/// Tens that a double holds exactly.
const EXACT_TENS: i64 = 22;
/// Digits that a double holds exactly, whatever they are.
const EXACT_DIGITS: usize = 15;
/// No two doubles need more digits to be told apart; one more says whether any
/// digit behind them is not nothing.
const DIGITS: usize = 770;
/// Powers of ten beyond which every number is infinite or nothing.
const FARTHEST: i64 = 350;
/// Binary places that a quotient is taken to before it is rounded.
const PLACES: u64 = 66;

/// The double nearest to a decimal text, of two as near the even one: `-12.5`,
/// `.5`, `3e-7`; nothing for any other text.
///
/// The standard library gives the same number, with tables of 12 kB.
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::read_decimal;
///
/// assert_eq!(read_decimal("0.30"), Some(0.3));
/// assert_eq!(read_decimal("thirty"), None);
/// ```
#[must_use]
pub fn read_decimal(text: &str) -> Option<f64> {
    let (negative, unsigned) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (written, power) = match unsigned.split_once(['e', 'E']) {
        Some((written, power)) => (written, power_of(power)?),
        None => (unsigned, 0),
    };
    let (whole, behind) = written.split_once('.').unwrap_or((written, ""));
    if whole.is_empty() && behind.is_empty() {
        return None;
    }
    let mut digits: Vec<u8> = Vec::new();
    // Digits that are counted and not kept.
    let mut more: i64 = 0;
    for digit in whole.bytes().chain(behind.bytes()) {
        let value = digit.checked_sub(b'0').filter(|value| *value <= 9)?;
        if digits.is_empty() && value == 0 {
            continue;
        }
        if digits.len() < DIGITS {
            digits.push(value);
        } else {
            more += 1;
            if let (true, Some(last)) = (value != 0, digits.last_mut()) {
                // Not a tie, whatever it looks like so far.
                *last |= 1;
            }
        }
    }
    let behind = i64::try_from(behind.len()).unwrap_or(i64::MAX);
    let tens = power.saturating_add(more).saturating_sub(behind);
    let size = nearest(&digits, tens);
    Some(if negative { -size } else { size })
}

/// The power behind an `e`, as far as it matters.
fn power_of(text: &str) -> Option<i64> {
    let (negative, digits) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    if digits.is_empty() {
        return None;
    }
    let mut power: i64 = 0;
    for digit in digits.bytes() {
        let value = digit.checked_sub(b'0').filter(|value| *value <= 9)?;
        power = power.saturating_mul(10).saturating_add(i64::from(value));
    }
    Some(if negative { -power } else { power })
}

/// The double nearest to digits with so many tens behind them.
fn nearest(digits: &[u8], tens: i64) -> f64 {
    let length = i64::try_from(digits.len()).unwrap_or(i64::MAX);
    let magnitude = tens.saturating_add(length);
    if digits.is_empty() || magnitude < -FARTHEST {
        return 0.0;
    }
    if magnitude > FARTHEST {
        return f64::INFINITY;
    }
    if digits.len() <= EXACT_DIGITS && tens.abs() <= EXACT_TENS {
        // Both are exact, so that one rounding is the only one (Clinger 1990).
        let number = digits
            .iter()
            .fold(0.0, |sum, digit| 10.0 * sum + f64::from(*digit));
        let ten = (0..tens.abs()).fold(1.0, |power, _| 10.0 * power);
        return if tens < 0 { number / ten } else { number * ten };
    }
    let mut above = vec![0];
    for digit in digits {
        times(&mut above, 10, u32::from(*digit));
    }
    let mut below = vec![1];
    for _ in 0..tens.abs() {
        times(if tens < 0 { &mut below } else { &mut above }, 10, 0);
    }
    quotient(above, below)
}

/// One large number by another, rounded to a double.
fn quotient(mut above: Vec<u32>, mut below: Vec<u32>) -> f64 {
    // The quotient comes to lie from one below to one above 2^PLACES.
    let shift = i64::try_from(PLACES).unwrap_or(0) + bits(&below) - bits(&above);
    shift_up(
        if shift > 0 { &mut above } else { &mut below },
        shift.unsigned_abs(),
    );
    shift_up(&mut below, PLACES + 1);
    let mut found: u128 = 0;
    for _ in 0..=PLACES + 1 {
        found <<= 1;
        if is_at_least(&above, &below) {
            take_away(&mut above, &below);
            found |= 1;
        }
        halve(&mut below);
    }
    let is_more = above.iter().any(|part| *part != 0);
    let length = i64::from(128 - found.leading_zeros());
    let exponent = length - 1 - shift;
    if exponent > 1023 {
        return f64::INFINITY;
    }
    // Below the normal numbers each place down costs one.
    let kept = 53 - (-1022 - exponent).max(0);
    if kept < 0 {
        return 0.0;
    }
    let dropped = length - kept;
    let mut mantissa = found >> dropped;
    let rest = found - (mantissa << dropped);
    let half = 1_u128 << (dropped - 1);
    if rest > half || (rest == half && (is_more || mantissa & 1 == 1)) {
        mantissa += 1;
    }
    #[expect(clippy::cast_precision_loss, reason = "at most 2^53, which is exact")]
    let mantissa = mantissa as f64;
    // What comes out is a double, so that no scaling rounds.
    libm::scalbn(mantissa, i32::try_from(dropped - shift).unwrap_or(0))
}

/// A large number, its lowest part first, times a small one and a little more.
pub(super) fn times(number: &mut Vec<u32>, by: u32, more: u32) {
    let mut carry = u64::from(more);
    for part in number.iter_mut() {
        let product = u64::from(by) * u64::from(*part) + carry;
        *part = low(product);
        carry = product >> 32;
    }
    if carry > 0 {
        number.push(low(carry));
    }
}

#[expect(clippy::cast_possible_truncation, reason = "the lower half is meant")]
fn low(product: u64) -> u32 {
    product as u32
}

fn bits(number: &[u32]) -> i64 {
    let parts = number.iter().rposition(|part| *part != 0);
    parts.map_or(0, |at| {
        32 * i64::try_from(at).unwrap_or(0) + i64::from(32 - number[at].leading_zeros())
    })
}

fn shift_up(number: &mut Vec<u32>, places: u64) {
    let parts = usize::try_from(places / 32).unwrap_or(0);
    for _ in 0..places % 32 {
        let mut carry = 0;
        for part in number.iter_mut() {
            let next = *part >> 31;
            *part = (*part << 1) | carry;
            carry = next;
        }
        if carry > 0 {
            number.push(carry);
        }
    }
    number.splice(0..0, core::iter::repeat_n(0, parts));
}

fn halve(number: &mut [u32]) {
    let mut carry = 0;
    for part in number.iter_mut().rev() {
        let next = *part << 31;
        *part = (*part >> 1) | carry;
        carry = next;
    }
}

fn is_at_least(number: &[u32], other: &[u32]) -> bool {
    let part = |of: &[u32], at: usize| of.get(at).copied().unwrap_or(0);
    let highest = number.len().max(other.len());
    let differs = (0..highest)
        .rev()
        .find(|&at| part(number, at) != part(other, at));
    differs.is_none_or(|at| part(number, at) > part(other, at))
}

/// Takes away what is not more.
fn take_away(number: &mut [u32], other: &[u32]) {
    let mut borrowed = false;
    for (at, part) in number.iter_mut().enumerate() {
        let taken = other.get(at).copied().unwrap_or(0);
        let (less, first) = part.overflowing_sub(taken);
        let (less, second) = less.overflowing_sub(u32::from(borrowed));
        *part = less;
        borrowed = first || second;
    }
}

#[cfg(test)]
mod tests {
    use super::read_decimal;
    use alloc::format;

    #[track_caller]
    fn agrees(text: &str) {
        let (ours, theirs) = (read_decimal(text), text.parse::<f64>().ok());
        assert_eq!(ours.map(f64::to_bits), theirs.map(f64::to_bits), "{text}");
    }

    #[test]
    fn it_is_what_the_standard_library_reads() {
        for text in [
            "0",
            "-0",
            "+1",
            "1.",
            ".5",
            "0.1",
            "2.8",
            "12.5",
            "3e-7",
            "1E3",
            "1e+3",
            "",
            ".",
            "-",
            "e5",
            "1e",
            "1e-",
            "1,5",
            "0x1",
            "1 ",
            "1_0",
            "9007199254740993",
            "9007199254740992.5",
            "4.9e-324",
            "2.4703282292062327e-324",
            "2.4703282292062328e-324",
            "1e-400",
            "0e999999999999999999999",
            "2.2250738585072011e-308",
            "2.2250738585072014e-308",
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "1e309",
            "123456789012345678901234567890",
            "0.000000000000000000000000000000000000001",
            "8.5e22",
            "1e23",
            "5e-23",
            "1e22",
            "1e-22",
        ] {
            agrees(text);
        }
        // Halfway between two doubles, and a last digit off, far behind.
        for zeros in [10, 600, 760, 800] {
            agrees(&format!("9007199254740993.{}1", "0".repeat(zeros)));
            agrees(&format!("9007199254740993.{}", "0".repeat(zeros)));
            agrees(&format!("0.{}1", "0".repeat(zeros)));
            agrees(&format!("1{}e-{zeros}", "0".repeat(zeros)));
        }
    }

    #[test]
    fn any_bits_written_out_are_read_back() {
        let mut state: u64 = 0x9e37_79b9_7f4a_7c15;
        for nth in 0..3_000 {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            let number = f64::from_bits(state);
            if number.is_finite() {
                agrees(&format!("{number:e}"));
                agrees(&format!("{number:.17e}"));
                agrees(&format!("{number:.3e}"));
            }
            #[expect(clippy::cast_precision_loss, reason = "any number will do")]
            let usual = (state >> 40) as f64 / f64::from(1 << (nth % 20));
            agrees(&format!("{usual}"));
            agrees(&format!("{usual:.25}"));
        }
    }
}
