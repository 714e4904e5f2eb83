//! How the main answer is worked out.

use crate::shapes::working::{
    BY_ANGLE, DENSITY, EXPOSURE, STOP_INDEX, TermName, TermReply, TermUnit, Working,
};
use glasscall_core::answer::open_up::{Answer, Offer, Question};
use glasscall_core::physics::exposure::change_but_iris;
use glasscall_core::quantity::{Aperture, OutOfRange, Stops};
use glasscall_core::setup::{LossOrigin, Piece, Settings, Shutter};

/// The terms of the need and, with a stack, of what it leaves.
pub(crate) fn working(
    question: &Question<'_>,
    answer: &Answer,
) -> Result<Vec<TermReply>, OutOfRange> {
    let mut working = Working::default();
    let read = side(&mut working, question.reading, &READ)?;
    let shot = side(&mut working, question.shot, &SHOT)?;
    let change = change_but_iris(question.reading, question.shot)?;
    (working.follows(
        "c",
        TermName::Settings,
        stops(change),
        "log2(t1/t0) + log2(S1/S0)",
    ))
    .from(EXPOSURE);
    let mut seen = Vec::new();
    let through: Vec<String> = (question.through.iter())
        .map(|&piece| loss(&mut working, &mut seen, question.kit, piece))
        .collect();
    let mut need = format!("{read} + c - {shot}");
    for symbol in &through {
        need.push_str(" + ");
        need.push_str(symbol);
    }
    (working.follows("n", TermName::Need, stops(answer.need), &need)).from(EXPOSURE);
    if let Some(offer) = answer.stacks.first() {
        left(&mut working, &mut seen, question, offer);
    }
    Ok(working.terms())
}

/// The names of one side: stop, its index, exposure index, rate, angle, time.
struct Side {
    symbols: [&'static str; 6],
    names: [TermName; 5],
    path: &'static str,
}

const READ: Side = Side {
    symbols: ["N0", "k0", "S0", "r0", "w0", "t0"],
    names: [
        TermName::ReadAperture,
        TermName::ReadIndex,
        TermName::ReadRate,
        TermName::ReadAngle,
        TermName::ReadTime,
    ],
    path: "reading",
};
const SHOT: Side = Side {
    symbols: ["N1", "k1", "S1", "r1", "w1", "t1"],
    names: [
        TermName::ShotAperture,
        TermName::ShotIndex,
        TermName::ShotRate,
        TermName::ShotAngle,
        TermName::ShotTime,
    ],
    path: "shot",
};

/// Stop, index and time of the reading or the shot; gives the stop index.
fn side(
    working: &mut Working,
    settings: Settings,
    side: &Side,
) -> Result<&'static str, OutOfRange> {
    let [number, index, sensitivity, rate, angle, time] = side.symbols;
    let [is_number, is_index, is_rate, is_angle, is_time] = side.names;
    let at = |field: &str| format!("{}.{field}", side.path);
    let stop = settings.aperture;
    working.given(
        number,
        is_number,
        (stop.number(), TermUnit::Aperture),
        &at("aperture"),
    );
    (working.follows(
        index,
        is_number,
        (stop.index(), TermUnit::Stops),
        &format!("2 * log2({number})"),
    ))
    .from(STOP_INDEX);
    working.given(
        sensitivity,
        is_index,
        (settings.exposure_index.index(), TermUnit::Index),
        &at("exposureIndex"),
    );
    let seconds = (settings.time()?.seconds(), TermUnit::Seconds);
    match settings.shutter {
        Shutter::Angle(open) => {
            working.given(
                rate,
                is_rate,
                (settings.frame_rate.per_second(), TermUnit::PerSecond),
                &at("frameRate"),
            );
            working.given(
                angle,
                is_angle,
                (open.degrees(), TermUnit::Deg),
                &at("shutterAngleDeg"),
            );
            (working.follows(time, is_time, seconds, &format!("{angle}/(360 * {rate})")))
                .from(BY_ANGLE);
        }
        Shutter::Time(_) => {
            working.given(time, is_time, seconds, &at("shutterSeconds"));
        }
    }
    Ok(index)
}

const fn stops(value: Stops) -> (f64, TermUnit) {
    (value.stops(), TermUnit::Stops)
}

/// What a piece takes, put down once; gives its symbol.
fn loss(working: &mut Working, seen: &mut Vec<usize>, kit: &[Piece], piece: usize) -> String {
    let symbol = format!("a{piece}");
    if seen.contains(&piece) {
        return symbol;
    }
    seen.push(piece);
    let (record, loss) = (kit[piece].record(), kit[piece].loss());
    let density = match loss.origin {
        LossOrigin::Measured => record.measured,
        LossOrigin::Marked => record.marked,
        _ => None,
    };
    let known_by = Some(loss.origin.into());
    let field = |name: &str| format!("kit[{piece}].{name}");
    if let Some(density) = density {
        let name = if loss.origin == LossOrigin::Measured {
            "measuredDensity"
        } else {
            "density"
        };
        let of = format!("D{piece}");
        (working.given(
            &of,
            TermName::Density,
            (density.density(), TermUnit::Density),
            &field(name),
        ))
        .of(&record.id, known_by);
        (working.follows(
            &symbol,
            TermName::Loss,
            stops(loss.stops),
            &format!("{of}/log10(2)"),
        ))
        .from(DENSITY)
        .of(&record.id, None);
    } else {
        (working.given(
            &symbol,
            TermName::Loss,
            stops(loss.stops),
            &field("lossStops"),
        ))
        .of(&record.id, known_by);
    }
    symbol
}

/// What the stack leaves, the stop to set, and how well it is known.
fn left(working: &mut Working, seen: &mut Vec<usize>, question: &Question<'_>, offer: &Offer) {
    let mut formula = "n".to_owned();
    let pieces: Vec<usize> = offer.stack.slots.iter().flatten().copied().collect();
    for &piece in &pieces {
        let symbol = loss(working, seen, question.kit, piece);
        formula.push_str(" - ");
        formula.push_str(&symbol);
    }
    if let Some(at) = offer.stack.wheel {
        let position = question.wheel[at];
        working.given(
            "Dw",
            TermName::Density,
            (position.density.density(), TermUnit::Density),
            &format!("wheel[{at}]"),
        );
        (working.follows("aw", TermName::Loss, stops(position.stops()), "Dw/log10(2)"))
            .from(DENSITY);
        formula.push_str(" - aw");
    }
    working.follows(
        "l",
        TermName::LeftOver,
        stops(offer.stack.left_over),
        &formula,
    );
    if let Some(set) = offer.aperture_to_set {
        let number = (Aperture::number(set), TermUnit::Aperture);
        (working.follows("N", TermName::ApertureToSet, number, "2 ^ ((k1 + l)/2)"))
            .from(STOP_INDEX);
    }
    let causes = question.causes(&pieces, offer.stack.wheel);
    working.causes(causes, offer.known.stops, question.kit);
}
