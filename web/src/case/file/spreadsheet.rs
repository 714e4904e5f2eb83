//! What a spreadsheet makes of a cell: it drops quotes, takes `1/8` for a day,
//! `0.30` for a number, `=1+1` for something to work out, and writes back what
//! came of it. A text it would take for something else gets an apostrophe in
//! front, which spreadsheets keep as a sign of the text; reading takes it off.

use crate::plain::tree::Tree;
use glasscall_core::spoken::read_decimal;

const MARK: char = '\'';
/// What makes a cell a formula, in any program; wide forms count in some.
const STARTS_FORMULA: [char; 10] = ['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠'];
/// What a spreadsheet writes for yes and no: English, and German.
const YES: [&str; 2] = ["true", "wahr"];
const NO: [&str; 2] = ["false", "falsch"];
/// Months as dates name them, English and German.
const MONTHS: [&str; 15] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "mai",
    "okt", "dez",
];

/// What an unquoted cell says. Where the decimal sign may be a comma, it is
/// understood.
pub(super) fn plain(text: &str, comma: bool) -> Tree {
    let is_one_of = |words: [&str; 2]| words.iter().any(|word| text.eq_ignore_ascii_case(word));
    if text.is_empty() {
        return Tree::Nothing;
    }
    if is_one_of(YES) || is_one_of(NO) {
        return Tree::Bool(is_one_of(YES));
    }
    match number(text, comma) {
        Some(number) => Tree::Number(number),
        None => Tree::Text(text.to_owned()),
    }
}

/// A number in the one way a spreadsheet may have written it, with a point.
pub(super) fn with_point(text: &str, comma: bool) -> String {
    match read_decimal(text) {
        None if number(text, comma).is_some() => text.replacen(',', ".", 1),
        _ => text.to_owned(),
    }
}

fn number(text: &str, comma: bool) -> Option<f64> {
    let read = |text: &str| read_decimal(text).filter(|number| number.is_finite());
    let turned = || (comma && !text.contains('.')).then(|| text.replacen(',', ".", 1));
    read(text).or_else(|| turned().and_then(|text| read(&text)))
}

/// A text as it goes into a cell of a column; `always_text` where the reader
/// takes any cell of the column for a text.
pub(super) fn marked(text: &str, always_text: bool) -> String {
    let harmless = always_text && is_short_decimal(text);
    if !harmless && (looks_like_more(text) || is_marked(text)) {
        format!("{MARK}{text}")
    } else {
        text.to_owned()
    }
}

/// The text of a cell that was marked as one.
pub(super) fn unmarked(cell: &str) -> Option<&str> {
    is_marked(cell).then(|| &cell[MARK.len_utf8()..])
}

fn is_marked(text: &str) -> bool {
    let mut rest = text;
    while let Some(inner) = rest.strip_prefix(MARK) {
        if looks_like_more(inner) {
            return true;
        }
        rest = inner;
    }
    false
}

/// Whether some spreadsheet takes a text for a formula, a number, a day, a time,
/// a share, yes or no.
fn looks_like_more(text: &str) -> bool {
    let inner = text.trim_start();
    if text.starts_with(STARTS_FORMULA) || inner.starts_with(STARTS_FORMULA) {
        return true;
    }
    let inner = inner.trim_end();
    if !inner.is_empty() && !matches!(plain(inner, true), Tree::Text(_)) {
        return true;
    }
    let has_digit = inner.contains(|sign: char| sign.is_ascii_digit());
    let lower = inner.to_ascii_lowercase();
    // A day and a time with a T between are a moment, hours with am or pm a time.
    let is_moment = (inner.split_once('T'))
        .is_some_and(|(day, time)| is_of_numbers(day) && day.contains('-') && is_of_numbers(time));
    let hours = lower
        .strip_suffix('m')
        .and_then(|rest| rest.strip_suffix(['a', 'p']));
    has_digit
        && (is_of_numbers(hours.unwrap_or(inner))
            || is_moment
            || MONTHS.iter().any(|month| lower.contains(month)))
}

/// Whether a text has only what numbers, days, times, shares and prices are
/// written with.
fn is_of_numbers(text: &str) -> bool {
    text.chars()
        .all(|sign| sign.is_ascii_digit() || " /.:,-+%eE()$€£¥".contains(sign))
}

/// A decimal that every spreadsheet writes as it read it.
fn is_short_decimal(text: &str) -> bool {
    let Some((whole, parts)) = text.split_once('.') else {
        return false;
    };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|sign| sign.is_ascii_digit());
    digits(whole)
        && digits(parts)
        && (whole == "0" || !whole.starts_with('0'))
        && !parts.ends_with('0')
        && text.len() <= 12
}

#[cfg(test)]
mod tests {
    use super::{marked, plain, unmarked, with_point};
    use crate::plain::tree::Tree;

    #[test]
    fn what_would_be_taken_for_more_is_marked_and_comes_back() {
        for text in [
            "=1+1",
            "+1",
            "-3",
            "@a",
            "\t=1",
            " =1",
            "1/8",
            "0.30",
            "007",
            "82",
            "1e5",
            "10 %",
            "3:4",
            "2026-05-01",
            "2026-05-04T18:00",
            "5 pm",
            "(3)",
            "$5",
            "5 €",
            "5 May",
            "0,9",
            "TRUE",
            "falsch",
            "'=1",
            "''0.30",
            "1.2.3",
        ] {
            let cell = marked(text, true);
            assert_eq!(cell, format!("'{text}"), "{text}");
            assert_eq!(unmarked(&cell), Some(text));
        }
    }

    #[test]
    fn what_is_a_text_to_everybody_stays_as_it_is() {
        for text in [
            "1.2 IR", "T16", "lamp 2", "85 mm", "tray 1", "4x5.65", "pola", "'quoted'", "O’Neil",
            "a=b", "0.9",
        ] {
            assert_eq!(marked(text, true), text);
            assert_eq!(unmarked(text), None);
        }
        assert_eq!(marked("0.9", false), "'0.9");
    }

    #[test]
    fn cells_as_spreadsheets_write_them() {
        assert_eq!(plain("FALSE", false), Tree::Bool(false));
        assert_eq!(plain("True", false), Tree::Bool(true));
        assert_eq!(plain("0,6", true), Tree::Number(0.6));
        assert_eq!(plain("0,6", false), Tree::Text("0,6".to_owned()));
        assert_eq!(plain("1.234,5", true), Tree::Text("1.234,5".to_owned()));
        assert_eq!(with_point("0,9", true), "0.9");
        assert_eq!(with_point("1,2 IR", true), "1,2 IR");
    }
}
