//! The plain notation of workings, read: what a formula comes to.
//!
//! A formula that is shown is the one that gave the value beside it, so neither
//! can drift from the other; an answer shows its working only where both agree.

use crate::shapes::working::TermReply;

/// What a formula comes to over the terms before it; `None` for what is not
/// plain notation, or no number.
#[inline(never)]
pub(crate) fn value(formula: &str, terms: &[TermReply]) -> Option<f64> {
    let mut reader = Reader {
        left: formula,
        terms,
    };
    let value = reader.sum()?;
    (reader.left.trim_start().is_empty() && value.is_finite()).then_some(value)
}

struct Reader<'a> {
    left: &'a str,
    terms: &'a [TermReply],
}

impl Reader<'_> {
    fn takes(&mut self, sign: char) -> bool {
        let left = self.left.trim_start();
        let rest = left.strip_prefix(sign);
        self.left = rest.unwrap_or(left);
        rest.is_some()
    }

    fn sum(&mut self) -> Option<f64> {
        let mut value = self.product()?;
        loop {
            if self.takes('+') {
                value += self.product()?;
            } else if self.takes('-') {
                value -= self.product()?;
            } else {
                return Some(value);
            }
        }
    }

    fn product(&mut self) -> Option<f64> {
        let mut value = self.power()?;
        loop {
            if self.takes('*') {
                value *= self.power()?;
            } else if self.takes('/') {
                value /= self.power()?;
            } else {
                return Some(value);
            }
        }
    }

    fn power(&mut self) -> Option<f64> {
        if self.takes('-') {
            return Some(-self.power()?);
        }
        let base = self.atom()?;
        if !self.takes('^') {
            return Some(base);
        }
        let power = self.power()?;
        // Squares and cubes to the last bit.
        Some(match power {
            2.0 => base * base,
            3.0 => base * base * base,
            _ => libm::pow(base, power),
        })
    }

    fn atom(&mut self) -> Option<f64> {
        if self.takes('(') {
            let value = self.sum()?;
            return self.takes(')').then_some(value);
        }
        let end = (self.left)
            .find(|sign: char| !sign.is_ascii_alphanumeric() && sign != '.')
            .unwrap_or(self.left.len());
        let (word, left) = self.left.split_at(end);
        self.left = left;
        if word.starts_with(|sign: char| sign.is_ascii_digit()) {
            return number(word);
        }
        if !self.takes('(') {
            let term = self.terms.iter().rev().find(|term| term.symbol == word)?;
            return Some(term.value);
        }
        let one = self.sum()?;
        let other = if self.takes(',') { self.sum()? } else { 0.0 };
        self.takes(')').then(|| called(word, one, other))?
    }
}

/// A decimal number of at most fifteen digits, which a division of two whole
/// numbers gives to the last bit.
fn number(word: &str) -> Option<f64> {
    let (mut digits, mut over, mut seen) = (0.0, 1.0, false);
    for sign in word.bytes() {
        match sign {
            b'0'..=b'9' => {
                digits = 10.0 * digits + f64::from(sign - b'0');
                over *= if seen { 10.0 } else { 1.0 };
            }
            b'.' if !seen => seen = true,
            _ => return None,
        }
    }
    Some(digits / over)
}

/// A function of plain notation; angles in degrees.
fn called(name: &str, one: f64, other: f64) -> Option<f64> {
    let angle = one.to_radians();
    let degrees = f64::to_degrees;
    Some(match name {
        "sqrt" => libm::sqrt(one),
        "log2" => libm::log2(one),
        "log10" => libm::log10(one),
        "sin" => libm::sin(angle),
        "cos" => libm::cos(angle),
        "tan" => libm::tan(angle),
        "asin" => degrees(libm::asin(one)),
        "acos" => degrees(libm::acos(one)),
        "atan" => degrees(libm::atan(one)),
        "atan2" => degrees(libm::atan2(one, other)),
        "round" => libm::round(one),
        "floor" => libm::floor(one),
        "min" => one.min(other),
        "max" => one.max(other),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::value;
    use crate::shapes::working::{TermName, TermUnit, Working};

    fn read(formula: &str) -> Option<f64> {
        let mut terms = Working::default();
        terms.given("x", TermName::Need, (3.0, TermUnit::Number), "");
        value(formula, &terms.terms())
    }

    #[test]
    fn plain_notation_is_read_as_people_read_it() {
        for (formula, is) in [
            ("1 + 2 * x ^ 2", 19.0),
            ("-x ^ 2 / 3", -3.0),
            ("2 ^ 3 ^ 2", 512.0),
            ("8 / 2 / 2", 2.0),
            ("10 - 4 - 3", 3.0),
            ("(1 + x) * -0.25", -1.0),
            ("min(x, 2) + max(x, 2)", 5.0),
            ("sqrt(x + 1) + log2(8) + log10(100)", 7.0),
            ("atan2(0, -1)", 180.0),
            ("0.096225", 0.096_225),
            ("round(2.5) + floor(-0.5)", 2.0),
        ] {
            assert_eq!(read(formula), Some(is), "{formula}");
        }
        for (formula, is) in [
            ("sin(30)", 0.5),
            ("acos(0.5)", 60.0),
            ("atan(1)", 45.0),
            ("tan(45)", 1.0),
        ] {
            assert!(read(formula).is_some_and(|value| (value - is).abs() < 1e-12));
        }
    }

    #[test]
    fn what_is_no_formula_has_no_value() {
        for formula in [
            "", "y", "1 +", "(1", "1)", "sqrt", "soft(1)", "1 / 0", "1.2.3", "3x",
        ] {
            assert_eq!(read(formula), None, "{formula}");
        }
    }
}
