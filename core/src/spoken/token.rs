//! A text cut into numbers, words and signs.

use super::decimal::read_decimal;
use super::german::in_english;
use super::letters::small;
use super::{LONGEST_TEXT, SpokenError};
use alloc::string::String;
use alloc::vec::Vec;

/// One piece of a text.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Token {
    /// Digits with what stood behind each decimal sign: `2.8.1` is 2, 8, 1.
    Number(Numeral),
    /// A fraction written as one sign: ⅓.
    Part(f64),
    /// A fraction said, of which there can be several: "third".
    SaidPart(f64),
    /// Any other word, in lower case and in English.
    Word(String),
    /// A sign that is no letter and no digit.
    Sign(char),
}

/// A number as it was written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Numeral {
    /// Its value, without any third group.
    pub(super) value: f64,
    /// Whether it had a decimal sign.
    pub(super) has_point: bool,
    /// A third group of digits, as meters show tenths: `2.8.1`.
    pub(super) third_group: Option<f64>,
    /// Whether it was said in words.
    pub(super) said: bool,
}

/// Where each script's ten digits begin.
const ZEROS: [char; 12] = ['0', '٠', '۰', '०', '০', '੦', '૦', '௦', '౦', '೦', '๐', '０'];
const DECIMAL_SIGNS: [char; 5] = ['.', ',', '٫', '·', '．'];
const HYPHENS: [char; 3] = ['-', '‐', '‑'];
const PARTS: [(char, f64); 9] = [
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('½', 0.5),
    ('¼', 0.25),
    ('¾', 0.75),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
];
const SAID_PARTS: [(&str, f64); 9] = [
    ("half", 0.5),
    ("halves", 0.5),
    ("third", 1.0 / 3.0),
    ("thirds", 1.0 / 3.0),
    ("quarter", 0.25),
    ("quarters", 0.25),
    ("eighth", 0.125),
    ("tenth", 0.1),
    ("tenths", 0.1),
];
const SAID_NUMBERS: [(&str, f64); 29] = [
    ("zero", 0.0),
    ("oh", 0.0),
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("eleven", 11.0),
    ("twelve", 12.0),
    ("thirteen", 13.0),
    ("fourteen", 14.0),
    ("fifteen", 15.0),
    ("sixteen", 16.0),
    ("seventeen", 17.0),
    ("eighteen", 18.0),
    ("nineteen", 19.0),
    ("twenty", 20.0),
    ("thirty", 30.0),
    ("forty", 40.0),
    ("fifty", 50.0),
    ("sixty", 60.0),
    ("seventy", 70.0),
    ("eighty", 80.0),
    ("ninety", 90.0),
];

/// Cuts a text; spaces only separate.
pub(super) fn tokens<T>(text: &str) -> Result<Vec<Token>, SpokenError<T>> {
    if text.chars().count() > LONGEST_TEXT {
        return Err(SpokenError::TooLong);
    }
    let mut rest: Vec<char> = text.chars().collect();
    rest.reverse();
    let mut found = Vec::new();
    let mut before = ' ';
    while let Some(next) = rest.pop() {
        let after_letter = core::mem::replace(&mut before, next).is_alphabetic();
        if next.is_whitespace() {
            continue;
        }
        // "two-thirds": a hyphen between two words only joins them.
        if after_letter && HYPHENS.contains(&next) && rest.last().is_some_and(|c| c.is_alphabetic())
        {
            continue;
        }
        if digit(next).is_some() || starts_decimals(next, &rest) {
            rest.push(next);
            found.push(Token::Number(written_number(&mut rest)));
        } else if let Some(part) = found_in(&PARTS, next) {
            found.push(Token::Part(part));
        } else if next.is_alphabetic() {
            rest.push(next);
            found.push(word(&mut rest));
            before = 'a';
        } else {
            found.push(Token::Sign(plain_sign(next)));
        }
    }
    if found.is_empty() {
        return Err(SpokenError::Empty);
    }
    Ok(join_said_numbers(found))
}

fn found_in<K: PartialEq + Copy>(table: &[(K, f64)], key: K) -> Option<f64> {
    table.iter().find(|(k, _)| *k == key).map(|(_, v)| *v)
}

/// The number a word says, in English or German.
pub(super) fn said_number(word: &str) -> Option<f64> {
    found_in(&SAID_NUMBERS, in_english(word))
}

/// The part of one that a word or a sign says.
pub(super) fn said_part(word: &str) -> Option<f64> {
    let mut signs = word.chars();
    match (signs.next(), signs.next()) {
        (Some(sign), None) => found_in(&PARTS, sign),
        _ => found_in(&SAID_PARTS, in_english(word)),
    }
}

/// The value of a digit of any script that is read.
pub(super) fn digit(c: char) -> Option<u32> {
    ZEROS.iter().find_map(|&zero| {
        let above = u32::from(c).checked_sub(u32::from(zero))?;
        (above < 10).then_some(above)
    })
}

fn starts_decimals(sign: char, rest: &[char]) -> bool {
    DECIMAL_SIGNS.contains(&sign) && rest.last().is_some_and(|&c| digit(c).is_some())
}

fn plain_sign(sign: char) -> char {
    match sign {
        '−' | '–' => '-',
        '×' | '*' => 'x',
        '⁄' | '÷' => '/',
        '’' | '′' => '\'',
        '”' | '″' => '"',
        other => other,
    }
}

fn written_number(rest: &mut Vec<char>) -> Numeral {
    let mut groups = Vec::from([String::new()]);
    while let Some(&next) = rest.last() {
        if let Some(found) = digit(next) {
            let group = groups.last_mut().into_iter();
            group.for_each(|group| group.extend(char::from_digit(found, 10)));
            rest.pop();
        } else if starts_decimals(next, &rest[..rest.len() - 1]) && groups.len() < 3 {
            groups.push(String::new());
            rest.pop();
        } else {
            break;
        }
    }
    let mut decimal = String::from("0");
    decimal.push_str(&groups[0]);
    if let Some(behind) = groups.get(1) {
        decimal.push('.');
        decimal.push_str(behind);
    }
    Numeral {
        // A run of digits always parses, at worst to infinity, which no range holds.
        value: read_decimal(&decimal).unwrap_or(f64::NAN),
        has_point: groups.len() > 1,
        third_group: groups.get(2).and_then(|group| read_decimal(group)),
        said: false,
    }
}

fn word(rest: &mut Vec<char>) -> Token {
    let mut word = String::new();
    while let Some(next) = rest.pop_if(|c| c.is_alphabetic()) {
        word.push(small(next));
    }
    let word = in_english(&word);
    if let Some(part) = found_in(&SAID_PARTS, word) {
        return Token::SaidPart(part);
    }
    found_in(&SAID_NUMBERS, word).map_or(Token::Word(word.into()), |value| {
        Token::Number(Numeral {
            value,
            has_point: false,
            third_group: None,
            said: true,
        })
    })
}

/// Joins "two point eight", "point nine", "five six" and "twenty two".
fn join_said_numbers(found: Vec<Token>) -> Vec<Token> {
    let mut joined: Vec<Token> = Vec::new();
    let mut decimals = None;
    for token in found {
        let is_point = matches!(&token, Token::Word(word) if word == "point");
        match (token, joined.last_mut()) {
            (_, Some(Token::Number(before))) if is_point => {
                before.has_point = true;
                decimals = Some(0.1);
            }
            (_, _) if is_point => {
                decimals = Some(0.1);
                joined.push(Token::Number(Numeral {
                    value: 0.0,
                    has_point: true,
                    third_group: None,
                    said: true,
                }));
            }
            (Token::Number(next), Some(Token::Number(before))) if decimals.is_some() => {
                let scale = decimals.unwrap_or(0.1);
                // Written digits after "point" stay as written: "point 25".
                let places = if next.value >= 10.0 {
                    scale / 10.0
                } else {
                    scale
                };
                before.value = round_decimals(before.value + next.value * places);
                decimals = Some(places / 10.0);
            }
            (Token::Number(next), Some(Token::Number(before)))
                if next.said && before.said && !before.has_point =>
            {
                if before.value >= 20.0 && next.value < 10.0 {
                    before.value += next.value;
                } else if before.value < 10.0 && next.value < 10.0 {
                    // On set "five six" is 5.6 and "two eight" is 2.8.
                    before.value = round_decimals(before.value + next.value / 10.0);
                    before.has_point = true;
                } else {
                    joined.push(Token::Number(next));
                }
            }
            (token, _) => {
                decimals = None;
                joined.push(token);
            }
        }
    }
    joined
}

/// Sums of decimal digits, rid of binary dust, so that 5.6 finds its label.
fn round_decimals(value: f64) -> f64 {
    libm::round(value * 1e6) / 1e6
}
