//! "point nine", "ND64", "1/8", "12.5 %", "5 stops".

use super::amount::{Amount, Words};
use super::{Choice, Reading, SpokenError, TakenAs};
use crate::quantity::{Density, OutOfRange, Stops};
use alloc::vec::Vec;

const STOP_WORDS: [&str; 2] = ["stop", "stops"];
/// How strong a diffusion filter is marked: one over these. Common practice, no
/// source.
const STRENGTHS: [f64; 4] = [2.0, 4.0, 8.0, 16.0];
const DENSITY_WORDS: [&str; 2] = ["d", "density"];

/// Reads what a filter takes, however it is marked or said, as a density.
///
/// A number with a decimal sign is a density (ND0.9), a whole number from 7 on
/// is a filter factor (ND64), 1/64 and 12.5 % are shares of the light. 1/8 may
/// be the strength of a diffusion filter as well, and is asked back. A small
/// whole number is marked in three ways by the trade (common practice, no
/// source), so a bare "ND2" is ambiguous; so is "ND9", which may have lost its
/// decimal point.
///
/// # Errors
///
/// Every variant of [`SpokenError`].
///
/// # Examples
///
/// ```
/// use glasscall_core::spoken::{SpokenError, read_density};
///
/// assert_eq!(read_density("point nine").unwrap().density(), 0.9);
/// assert!(matches!(read_density("ND2"), Err(SpokenError::Ambiguous(_))));
/// ```
pub fn read_density(text: &str) -> Reading<Density> {
    let mut words = Words::new(text)?;
    let _ = words.word(&["nd", "n"]) && (words.sign('/') || words.sign('-'));
    let named_density = words.word(&DENSITY_WORDS);
    let named_factor = words.sign('x') || words.word(&["x"]);
    let direction = words.direction();
    let amount = words.amount().ok_or(SpokenError::NotUnderstood)?;
    // "1.2 ND", "a third of a stop".
    let _ = words.word(&["nd"]) || (words.word(&["of"]) && words.word(&["a", "an", "one"]));
    let named_density = named_density || words.word(&DENSITY_WORDS);
    let named_factor = named_factor || words.sign('x') || words.word(&["x", "times"]);
    let named_stops = words.word(&STOP_WORDS);
    let named_share = words.sign('%') || words.word(&["percent"]);
    words.end()?;
    let whole = direction * amount.total();
    Ok(
        match (named_density, named_factor, named_stops, named_share) {
            (true, false, false, false) => Density::new(whole)?,
            (false, true, false, false) => Density::from_factor(whole)?,
            (false, false, true, false) => Density::from_stops(Stops::new(whole)?)?,
            (false, false, false, true) => Density::from_transmittance(whole / 100.0)?,
            (false, false, false, false) => unnamed(&amount, whole)?,
            _ => return Err(SpokenError::NotUnderstood),
        },
    )
}

fn unnamed(amount: &Amount, number: f64) -> Reading<Density> {
    let is_strength = |under: &f64| (number * under - 1.0).abs() < 1e-9;
    if amount.is_ratio && STRENGTHS.iter().any(is_strength) {
        let choice = |taken_as, value| Choice { value, taken_as };
        return Err(SpokenError::Ambiguous(Vec::from([
            choice(TakenAs::Share, Density::from_transmittance(number)?),
            choice(TakenAs::Strength, Density::CLEAR),
        ])));
    }
    if amount.is_ratio {
        return Ok(Density::from_transmittance(number)?);
    }
    if amount.numeral.third_group.is_some() || amount.part != 0.0 {
        return Err(SpokenError::NotUnderstood);
    }
    if amount.numeral.has_point || number <= 0.0 {
        return Ok(Density::new(number)?);
    }
    let choices = meanings(number)?;
    match choices.as_slice() {
        [only] => Ok(only.value),
        _ => Err(SpokenError::Ambiguous(choices)),
    }
}

/// All that a whole number on a rim can mean.
pub(super) fn meanings(number: f64) -> Result<Vec<Choice<Density>>, OutOfRange> {
    let choice = |taken_as, value| Choice { value, taken_as };
    let mut all = Vec::new();
    if number > 1.0 {
        all.push(choice(TakenAs::Factor, Density::from_factor(number)?));
    }
    if number < 7.0 {
        let stops = Density::from_stops(Stops::new(number)?)?;
        all.push(choice(TakenAs::Stops, stops));
        all.push(choice(TakenAs::Density, Density::new(number)?));
    }
    if number % 3.0 == 0.0 && number <= 30.0 {
        let value = Density::new(number / 10.0)?;
        all.push(choice(TakenAs::DensityInTenths, value));
    }
    // A factor of 2 and one stop are the same glass: say it once.
    all.dedup_by(|later, earlier| (later.value.density() - earlier.value.density()).abs() < 0.005);
    Ok(all)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{SpokenError, TakenAs, read_density};
    use alloc::vec::Vec;

    fn density(text: &str) -> f64 {
        read_density(text).unwrap().density()
    }

    #[test]
    fn a_decimal_sign_makes_a_density() {
        for text in ["0.9", ".9", "0,9", "point nine", "ND 0.9", "nd.9", "0.9 D"] {
            assert_eq!(density(text), 0.9, "{text}");
        }
        assert_eq!(density("ND1.2"), 1.2);
        assert_eq!(density("one point two"), 1.2);
    }

    #[test]
    fn a_large_whole_number_is_a_factor() {
        for text in [
            "ND64",
            "64x",
            "×64",
            "1/64",
            "nd 64",
            "6 stops",
            "six stops",
        ] {
            assert!((density(text) - 1.806_180).abs() < 1e-6, "{text}");
        }
    }

    #[test]
    fn shares_of_the_light_are_read() {
        assert!((density("1/64") - density("1.5625 %")).abs() < 1e-12);
        assert!((density("12,5%") - 0.903_090).abs() < 1e-6);
    }

    #[test]
    fn a_small_whole_number_asks_back() {
        let Err(SpokenError::Ambiguous(choices)) = read_density("ND2") else {
            unreachable!("a bare ND2 has more than one meaning");
        };
        let taken: Vec<TakenAs> = choices.iter().map(|c| c.taken_as).collect();
        assert_eq!(taken, [TakenAs::Factor, TakenAs::Stops, TakenAs::Density]);
        assert!(matches!(
            read_density("ND9"),
            Err(SpokenError::Ambiguous(_))
        ));
        assert!(read_density("ND8").is_ok());
    }

    #[test]
    fn an_eighth_may_be_diffusion() {
        for text in ["1/8", "1/4", "1/2"] {
            let Err(SpokenError::Ambiguous(choices)) = read_density(text) else {
                unreachable!("{text} has two meanings");
            };
            assert_eq!(choices[0].taken_as, TakenAs::Share);
            assert_eq!(choices[1].value.density(), 0.0);
        }
    }

    #[test]
    fn a_part_of_a_stop_and_a_mark_said_last_are_read() {
        let third = 0.1 * 10f64 * core::f64::consts::LOG10_2 / 3.0;
        assert!((density("a third of a stop") - third).abs() < 1e-12);
        assert!((density("two thirds of a stop") - 2.0 * third).abs() < 1e-12);
        assert_eq!(density("1.2 ND"), 1.2);
        assert!(matches!(
            read_density("2 ND"),
            Err(SpokenError::Ambiguous(_))
        ));
    }

    #[test]
    fn impossible_glass_is_refused() {
        assert!(matches!(
            read_density("-0.3"),
            Err(SpokenError::OutOfRange(_))
        ));
        assert!(matches!(
            read_density("120 %"),
            Err(SpokenError::OutOfRange(_))
        ));
        assert!(read_density("3 stops x").is_err());
    }
}
