//! A list cut into numbers, words, signs and breaks, each with its place.

use super::super::decimal::read_decimal;
use super::super::token::{digit, said_number, said_part};
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

/// What stands at one place of a list.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    /// A number, written or said.
    Number(Numeral),
    /// A word in lower case; hyphens inside it are gone.
    Word(String),
    /// Any other sign.
    Sign(char),
    /// Where one entry ends.
    Break(Break),
}

/// How far apart two entries stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Break {
    /// A comma or the word for it.
    Comma,
    /// A semicolon or the end of a line.
    Line,
    /// An empty line.
    Blank,
}

/// A number of a list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Numeral {
    /// Its value.
    pub(super) value: f64,
    /// Whether it had a decimal sign.
    pub(super) has_point: bool,
    /// Whether it is a fraction over a line, as 1/8.
    pub(super) is_ratio: bool,
    /// Whether it was said in words.
    pub(super) said: bool,
}

/// As few decimals as say it.
pub(super) fn short(value: f64) -> String {
    format!("{value}")
}

/// A mark and the bytes of the text it was.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) mark: Mark,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// The signs that a text is, each with where it begins.
struct Signs<'a> {
    text: &'a str,
    at: usize,
}

impl Signs<'_> {
    fn ahead(&self, nth: usize) -> Option<char> {
        self.text[self.at..].chars().nth(nth)
    }

    fn take(&mut self) {
        self.at += self.ahead(0).map_or(0, char::len_utf8);
    }
}

/// Cuts a list.
pub(super) fn marks(text: &str) -> Vec<Placed> {
    let mut signs = Signs { text, at: 0 };
    let mut found: Vec<Placed> = Vec::new();
    let mut after_comma = false;
    while let Some(next) = signs.ahead(0) {
        let from = signs.at;
        let mark = if digit(next).is_some() || starts_decimals(&signs) {
            Some(Mark::Number(written(&mut signs, after_comma)))
        } else if let Some(part) = said_part(next.encode_utf8(&mut [0; 4])) {
            signs.take();
            Some(ratio(part))
        } else if next.is_alphabetic() {
            Some(word(&mut signs))
        } else {
            signs.take();
            sign(next, &signs, found.last())
        };
        after_comma = next == ',' && signs.ahead(0).is_some_and(|c| digit(c).is_some());
        found.extend(mark.map(|mark| Placed {
            mark,
            from,
            to: signs.at,
        }));
    }
    join_said(join_ratios(found))
}

const fn ratio(value: f64) -> Mark {
    Mark::Number(Numeral {
        value,
        has_point: false,
        is_ratio: true,
        said: false,
    })
}

fn starts_decimals(signs: &Signs<'_>) -> bool {
    matches!(signs.ahead(0), Some('.' | '·' | '٫'))
        && signs.ahead(1).is_some_and(|c| digit(c).is_some())
}

/// What is no digit and no letter: a break, a sign that means something, or nothing.
fn sign(sign: char, signs: &Signs<'_>, last: Option<&Placed>) -> Option<Mark> {
    let at_start = !last.is_some_and(|last| !matches!(last.mark, Mark::Break(_)));
    let spaced = signs.ahead(0).is_none_or(char::is_whitespace);
    match sign {
        '\n' | '\r'
            if at_start
                && matches!(last, Some(placed) if placed.mark == Mark::Break(Break::Line)) =>
        {
            (sign == '\n' && signs.text[..signs.at - 1].ends_with('\n')
                || signs.text[..signs.at - 1].ends_with("\n\r"))
            .then_some(Mark::Break(Break::Blank))
        }
        '\n' | '\r' | ';' => Some(Mark::Break(Break::Line)),
        ',' | '،' | '、' | '•' | '|' | '&' => Some(Mark::Break(Break::Comma)),
        // A plus between two pieces joins them; before a figure it is a power's.
        '+' if spaced => Some(Mark::Break(Break::Comma)),
        // Dots at the start of a line are bullets, at its end they end it.
        '-' | '–' | '—' | '*' | '.' | ')' if at_start || sign == '.' || sign == ')' => None,
        '−' | '–' | '—' | '‑' => Some(Mark::Sign('-')),
        '×' | '*' => Some(Mark::Word("x".into())),
        '⁄' | '÷' => Some(Mark::Sign('/')),
        'ø' | 'Ø' | '⌀' => Some(Mark::Sign('ø')),
        '”' | '″' => Some(Mark::Sign('"')),
        '(' => None,
        other if other.is_whitespace() => None,
        other => Some(Mark::Sign(other)),
    }
}

/// Digits with at most one decimal sign. A comma is one where it stands between
/// digits, once, in a number without a point: "0,3" and not "0.3,0.6" or "1,2,3".
fn written(signs: &mut Signs<'_>, after_comma: bool) -> Numeral {
    let mut decimal = String::from("0");
    let mut has_point = false;
    while let Some(next) = signs.ahead(0) {
        if let Some(found) = digit(next) {
            decimal.extend(char::from_digit(found, 10));
        } else if !has_point
            && signs.ahead(1).is_some_and(|c| digit(c).is_some())
            && (matches!(next, '.' | '·' | '٫')
                || (next == ',' && !after_comma && comma_is_decimal(&signs.text[signs.at + 1..])))
        {
            has_point = true;
            decimal.push('.');
        } else {
            break;
        }
        signs.take();
    }
    Numeral {
        value: read_decimal(&decimal).unwrap_or(f64::NAN),
        has_point,
        is_ratio: false,
        said: false,
    }
}

/// Whether a comma between digits is the decimal sign, by what stands behind it.
fn comma_is_decimal(behind: &str) -> bool {
    let end = behind
        .find(|c: char| digit(c).is_none())
        .unwrap_or(behind.len());
    let mut rest = behind[end..].chars();
    let listed =
        matches!(rest.next(), Some('.' | ',')) && rest.next().is_some_and(|c| digit(c).is_some());
    !listed
}

fn word(signs: &mut Signs<'_>) -> Mark {
    let mut word = String::new();
    while let Some(next) = signs.ahead(0) {
        let hyphen = matches!(next, '-' | '‑') && signs.ahead(1).is_some_and(char::is_alphabetic);
        if !hyphen && !next.is_alphabetic() {
            break;
        }
        if !hyphen {
            word.extend(next.to_lowercase());
        }
        signs.take();
    }
    match word.as_str() {
        "and" | "und" | "comma" => Mark::Break(Break::Comma),
        "ø" => Mark::Sign('ø'),
        _ => said_number(&word).map_or_else(
            || said_part(&word).map_or(Mark::Word(word.clone()), ratio),
            |value| {
                Mark::Number(Numeral {
                    value,
                    has_point: false,
                    is_ratio: false,
                    said: true,
                })
            },
        ),
    }
}

/// "1/8" and "one eighth" are one number each.
fn join_ratios(found: Vec<Placed>) -> Vec<Placed> {
    let mut joined: Vec<Placed> = Vec::new();
    for placed in found {
        let over = joined
            .len()
            .checked_sub(2)
            .map(|at| joined[at].mark.clone());
        let line = joined.last().map(|last| last.mark.clone());
        match (&placed.mark, over, line) {
            (Mark::Number(under), Some(Mark::Number(over)), Some(Mark::Sign('/')))
                if !over.has_point && !under.has_point && under.value != 0.0 =>
            {
                let mark = ratio(over.value / under.value);
                join(&mut joined, 2, mark, placed.to);
            }
            (Mark::Number(part), _, Some(Mark::Number(count)))
                if part.is_ratio && !count.is_ratio && !count.has_point && count.value < 10.0 =>
            {
                // "one eighth" is a part of one, "1½" is one and a half.
                let value = if count.said {
                    count.value * part.value
                } else {
                    count.value + part.value
                };
                join(&mut joined, 1, ratio(value), placed.to);
            }
            _ => joined.push(placed),
        }
    }
    joined
}

/// The last marks become one.
fn join(joined: &mut Vec<Placed>, count: usize, mark: Mark, to: usize) {
    let from = joined[joined.len() - count].from;
    joined.truncate(joined.len() - count);
    joined.push(Placed { mark, from, to });
}

fn is_point(placed: Option<&Placed>) -> bool {
    placed.is_some_and(
        |placed| matches!(&placed.mark, Mark::Word(word) if ["point", "komma", "punkt"].contains(&word.as_str())),
    )
}

/// "point nine", "one point two", "twenty five"; a digit before the next
/// "point" begins the next number: "point three point six" is two.
fn join_said(found: Vec<Placed>) -> Vec<Placed> {
    let mut joined: Vec<Placed> = Vec::new();
    let mut rest = found.into_iter().peekable();
    while let Some(placed) = rest.next() {
        let mut whole = match placed.mark {
            Mark::Number(number) if !number.is_ratio => number,
            Mark::Word(_)
                if is_point(Some(&placed))
                    && matches!(
                        rest.peek(),
                        Some(Placed {
                            mark: Mark::Number(_),
                            ..
                        })
                    ) =>
            {
                let (value, to) = decimals(&mut rest);
                joined.push(said(value, true, placed.from, to));
                continue;
            }
            _ => {
                joined.push(placed);
                continue;
            }
        };
        let mut to = placed.to;
        if whole.said && whole.value >= 20.0 {
            let mut ahead = rest.clone();
            if let Some(Placed {
                mark: Mark::Number(digit),
                to: end,
                ..
            }) = ahead.next()
                && digit.said
                && digit.value < 10.0
                && !is_point(ahead.peek())
            {
                whole.value += digit.value;
                to = end;
                rest.next();
            }
        }
        let mut ahead = rest.clone();
        if !whole.has_point
            && is_point(ahead.next().as_ref())
            && matches!(
                ahead.peek(),
                Some(Placed {
                    mark: Mark::Number(_),
                    ..
                })
            )
        {
            rest.next();
            let (value, end) = decimals(&mut rest);
            joined.push(said(whole.value + value, true, placed.from, end));
        } else {
            joined.push(Placed {
                mark: Mark::Number(whole),
                from: placed.from,
                to,
            });
        }
    }
    joined
}

fn said(value: f64, has_point: bool, from: usize, to: usize) -> Placed {
    let mark = Mark::Number(Numeral {
        value: libm::round(value * 1e6) / 1e6,
        has_point,
        is_ratio: false,
        said: true,
    });
    Placed { mark, from, to }
}

/// Digits behind "point", the first of which is there.
fn decimals(rest: &mut core::iter::Peekable<alloc::vec::IntoIter<Placed>>) -> (f64, usize) {
    let (mut value, mut scale, mut to) = (0.0, 0.1, 0);
    loop {
        let mut ahead = rest.clone();
        let Some(Placed {
            mark: Mark::Number(next),
            to: end,
            ..
        }) = ahead.next()
        else {
            break;
        };
        let first = to == 0;
        // Written digits come in one go; said ones one by one.
        let digit = next.said && next.value < 10.0 && !next.has_point;
        if !first && (!digit || is_point(ahead.peek())) {
            break;
        }
        let places = if next.value >= 10.0 {
            scale / 10.0
        } else {
            scale
        };
        value += next.value * places;
        scale = places / 10.0;
        to = end;
        rest.next();
        if !digit {
            break;
        }
    }
    (value, to)
}
