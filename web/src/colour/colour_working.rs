//! How the colour of light through glass is worked out.

use super::colour::{ColourReply, ColourRequest, SeenReply};
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};

const MIRED: &str = "CIE S 017, reciprocal megakelvin; shifts of glass add up";

/// The terms of the light through the glass, and of the cast against a balance.
pub(crate) fn working(request: &ColourRequest, reply: &ColourReply) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    temperature(
        &mut working,
        ("K", "l"),
        TermName::LightKelvin,
        (request.light_kelvin, "lightKelvin"),
        (request.light_mired, "lightMired"),
    )?;
    let mut sum = String::from("0");
    for (nth, shift) in request.shifts_mired.iter().enumerate() {
        let symbol = format!("M{nth}");
        let value = (*shift, TermUnit::Mired);
        working.given(
            &symbol,
            TermName::Shift,
            value,
            &format!("shiftsMired[{nth}]"),
        );
        sum = if nth == 0 {
            symbol
        } else {
            format!("{sum} + {symbol}")
        };
    }
    working.steps(&[
        ("M", TermName::ShiftTogether, TermUnit::Mired, &sum, MIRED),
        ("n", TermName::SeenMired, TermUnit::Mired, "l + M", MIRED),
    ])?;
    if !working.tells("M", reply.sum_mired) {
        return None;
    }
    if let SeenReply::Light(seen) = reply.seen {
        working.steps(&[(
            "G",
            TermName::SeenKelvin,
            TermUnit::Kelvin,
            "1000000/n",
            MIRED,
        )])?;
        if !working.tells("G", seen.kelvin) {
            return None;
        }
    }
    if let Some(cast) = &reply.cast {
        temperature(
            &mut working,
            ("B", "b"),
            TermName::BalanceKelvin,
            (request.balance_kelvin, "balanceKelvin"),
            (request.balance_mired, "balanceMired"),
        )?;
        working.steps(&[("c", TermName::Cast, TermUnit::Mired, "n - b", MIRED)])?;
        if !working.tells("c", cast.mired) {
            return None;
        }
    }
    Some(working.terms())
}

/// A colour temperature as it was given, and in mired.
fn temperature(
    working: &mut Working,
    (kelvin_symbol, mired_symbol): (&str, &str),
    name: TermName,
    (kelvin, kelvin_field): (Option<f64>, &str),
    (mired, mired_field): (Option<f64>, &str),
) -> Option<()> {
    if let Some(kelvin) = kelvin {
        working.given(
            kelvin_symbol,
            name,
            (kelvin, TermUnit::Kelvin),
            kelvin_field,
        );
        let formula = format!("1000000/{kelvin_symbol}");
        return working.steps(&[(mired_symbol, name, TermUnit::Mired, &formula, MIRED)]);
    }
    working.given(mired_symbol, name, (mired?, TermUnit::Mired), mired_field);
    Some(())
}
