//! Charts that stand in the page as text, for when no script runs: on paper, in
//! a previewer, or where scripts are blocked. Every number comes from the core.

use anyhow::Result;
use glasscall_core::physics::fresnel::{brewster_angle, surface};
use glasscall_core::physics::polarizer_pair::PolarizerPair;
use glasscall_core::quantity::{
    Aperture, Density, FrameRate, Incidence, IrisThirds, RefractiveIndex, ShutterAngle, Stops,
};
use glasscall_core::setup::{Piece, Shutter};
use std::fmt::Write as _;

/// Densities that glass is marked with, and the ones between.
const DENSITIES: [f64; 20] = [
    0.1, 0.15, 0.2, 0.3, 0.45, 0.5, 0.6, 0.75, 0.9, 1.0, 1.2, 1.5, 1.8, 2.0, 2.1, 2.4, 2.7, 3.0,
    4.0, 5.0,
];
/// Stop indices of the full stops from 1 to 45.
const FULL_STOPS: std::ops::RangeInclusive<i32> = 0..=11;
/// Stops that a reading is likely to give, and that are likely to be wanted.
const READ: std::ops::RangeInclusive<i32> = 4..=11;
const WANTED: std::ops::RangeInclusive<i32> = 0..=6;
const RATES: [f64; 7] = [23.976, 24.0, 25.0, 29.97, 50.0, 60.0, 120.0];
const ANGLES: [f64; 12] = [
    360.0, 270.0, 216.0, 180.0, 172.8, 150.0, 144.0, 120.0, 90.0, 72.0, 45.0, 22.5,
];
/// Angles between the axes of two polarizers.
const TURNS: [f64; 8] = [15.0, 30.0, 45.0, 60.0, 69.0, 75.0, 80.0, 83.0];
/// Refractive indices; common handbook values, from memory.
const SURFACES: [(&str, f64); 2] = [("Water", 1.333), ("Window glass", 1.52)];

/// The charts as one section of the page.
pub(crate) fn section() -> Result<String> {
    let charts = [
        chart("Stops between a reading and the stop you want", &between()?),
        chart("Density, stops, factor", &densities()?),
        chart("Full stops and thirds", &series()?),
        chart("Shutter: exposure time in seconds", &shutter()?),
        chart("Polarizers", &polarizers()?),
    ];
    let cautions = "<h3>Cautions</h3>\n<ul>\
        <li><strong>Photographic density is not eye protection.</strong> Never look at the sun through a lens or a viewfinder, whatever glass is in.</li>\
        <li>Sun through a long lens burns shutters, sensors, filters and hands. Do not point it there.</li>\
        <li>Tether glass and boxes over people, vehicles and cranes.</li>\
        <li>Local rules and the licensed people on site decide.</li></ul>";
    Ok(format!(
        "<section class=\"charts\" id=\"charts\" aria-labelledby=\"charts-title\">\n<h2 id=\"charts-title\">Charts</h2>\n{}\n{cautions}\n</section>",
        charts.concat()
    ))
}

/// A table with a heading for each row.
struct Chart {
    note: &'static str,
    head: Vec<String>,
    rows: Vec<Vec<String>>,
}

fn chart(title: &str, chart: &Chart) -> String {
    let mut html = format!(
        "<h3>{title}</h3>\n<p>{}</p>\n<div class=\"chart\" tabindex=\"0\" role=\"group\" aria-label=\"{title}\"><table>\n<thead><tr>",
        chart.note
    );
    for name in &chart.head {
        // Writing to a string cannot fail.
        let _ = write!(html, "<th scope=\"col\">{name}</th>");
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    for row in &chart.rows {
        html.push_str("<tr>");
        for (at, cell) in row.iter().enumerate() {
            let (open, close) = match at {
                0 => ("<th scope=\"row\">", "</th>"),
                _ => ("<td>", "</td>"),
            };
            let _ = write!(html, "{open}{cell}{close}");
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</tbody></table></div>\n");
    html
}

fn texts(names: &[&str]) -> Vec<String> {
    names.iter().map(|&name| name.to_owned()).collect()
}

fn at(index: i32) -> Result<Aperture> {
    Ok(Aperture::from_index(f64::from(index))?)
}

/// Thirds as a ring shows them, and the hundredths they miss.
fn thirds(stops: Stops) -> String {
    let IrisThirds { thirds, left_over } = stops.iris_thirds();
    let (whole, part) = (thirds.div_euclid(3), thirds.rem_euclid(3));
    let third = ["", "⅓", "⅔"][usize::try_from(part).unwrap_or_default()];
    let whole = if whole == 0 && part != 0 {
        String::new()
    } else {
        whole.to_string()
    };
    format!("{whole}{third} {}", signed(left_over.stops()))
}

fn signed(value: f64) -> String {
    let text = format!("{value:+.2}");
    if text == "-0.00" {
        "+0.00".to_owned()
    } else {
        text
    }
}

/// Three figures, as much as a factor needs.
fn figures(value: f64) -> String {
    let decimals = match value {
        v if v >= 99.95 => 0,
        v if v >= 9.995 => 1,
        v if v >= 0.9995 => 2,
        v if v >= 0.0995 => 3,
        v if v >= 0.00995 => 4,
        _ => 5,
    };
    format!("{value:.decimals$}")
}

fn densities() -> Result<Chart> {
    let rows = DENSITIES.iter().map(|&marked| {
        let density = Density::new(marked)?;
        Ok(vec![
            format!("{marked}"),
            format!("{:.2}", density.stops().stops()),
            thirds(density.stops()),
            figures(density.factor()),
            figures(density.transmittance() * 100.0),
        ])
    });
    Ok(Chart {
        note: "Stops are density divided by 0.30103. A factor is also called an ND number; what is left over is what thirds on the iris miss.",
        head: texts(&[
            "Density",
            "Stops",
            "Thirds, left over",
            "Factor",
            "Passes, %",
        ]),
        rows: rows.collect::<Result<_>>()?,
    })
}

fn series() -> Result<Chart> {
    let rows = FULL_STOPS.map(|index| {
        let closed = |thirds: f64| -> Result<String> {
            let stop = at(index)?.closed_by(Stops::new(thirds / 3.0)?)?;
            Ok(format!("{:.3}", stop.number()))
        };
        Ok(vec![
            at(index)?.label().to_string(),
            closed(0.0)?,
            closed(1.0)?,
            closed(2.0)?,
        ])
    });
    Ok(Chart {
        note: "The engraved label, the number it stands for, and the numbers a third and two thirds closed from it.",
        head: texts(&["Label", "Exact", "⅓ closed", "⅔ closed"]),
        rows: rows.collect::<Result<_>>()?,
    })
}

fn between() -> Result<Chart> {
    let mut head = vec!["Read".to_owned()];
    for wanted in WANTED {
        head.push(at(wanted)?.label().to_string());
    }
    let rows = READ.map(|read| {
        let mut row = vec![at(read)?.label().to_string()];
        for wanted in WANTED {
            let stops = at(wanted)?.stops_to(at(read)?);
            // Rounding of a whole stop is not light.
            let whole = stops.stops().round();
            row.push(if whole < 0.5 {
                "–".to_owned()
            } else {
                format!("{whole} ({:.1})", Density::from_stops(stops)?.density())
            });
        }
        Ok(row)
    });
    Ok(Chart {
        note: "Stops to take away, and in brackets the density that does, to the nearest tenth.",
        head,
        rows: rows.collect::<Result<_>>()?,
    })
}

fn shutter() -> Result<Chart> {
    let mut head = vec!["Angle".to_owned(), "Stops from 180°".to_owned()];
    head.extend(RATES.iter().map(|rate| format!("{rate} fps")));
    let half = ShutterAngle::new(180.0)?;
    let rows = ANGLES.iter().map(|&degrees| {
        let angle = ShutterAngle::new(degrees)?;
        let rate = FrameRate::new(24.0)?;
        let time = |angle| Shutter::Angle(angle).time_at(rate);
        let stops = (time(angle)?.seconds() / time(half)?.seconds()).log2();
        let mut row = vec![format!("{degrees}°"), signed(stops)];
        for per_second in RATES {
            let time = Shutter::Angle(angle).time_at(FrameRate::new(per_second)?)?;
            // A whole number of the second is written as people say it.
            let parts = figures(1.0 / time.seconds());
            row.push(format!("1/{}", parts.trim_end_matches(".0")));
        }
        Ok(row)
    });
    Ok(Chart {
        note: "Time is angle divided by 360 times the frame rate. More than nothing in the second column is more light.",
        head,
        rows: rows.collect::<Result<_>>()?,
    })
}

fn polarizers() -> Result<Chart> {
    let pair = PolarizerPair::ideal(Stops::ZERO);
    let mut rows = Vec::new();
    rows.push(vec![
        "One polarizer, until you measure yours".to_owned(),
        format!(
            "{:.2} stops (1 at the least)",
            Piece::POLARIZER_LOSS.stops()
        ),
    ]);
    for degrees in TURNS {
        if let Some(more) = pair.taken_at(degrees) {
            rows.push(vec![
                format!("Two, {degrees}° apart"),
                format!("{:.2} stops more than parallel", more.stops()),
            ]);
        }
    }
    for (name, index) in SURFACES {
        let index = RefractiveIndex::new(index)?;
        let angle = brewster_angle(index);
        let seen = surface(index, Incidence::new(angle)?);
        rows.push(vec![
            format!("{name}: reflection goes out at"),
            format!(
                "{angle:.1}° from upright on the surface, where it sends back {:.1} %",
                seen.mean() * 100.0
            ),
        ]);
    }
    Ok(Chart {
        note: "Two polarizers by Malus's law, black sheets; real ones let some light through when crossed. Reflections by Fresnel's equations.",
        head: texts(&["What", "Takes"]),
        rows,
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{between, densities, figures, section, series, shutter};

    fn row(rows: &[Vec<String>], first: &str) -> Vec<String> {
        rows.iter().find(|row| row[0] == first).unwrap()[1..].to_vec()
    }

    #[test]
    fn a_marked_nine_is_a_hundredth_short_of_three_stops() {
        // 0.9/log10(2) = 2.98974, 10^0.9 = 7.94328: worked by hand from logarithm tables.
        let chart = densities().unwrap();
        assert_eq!(row(&chart.rows, "0.9"), ["2.99", "3 -0.01", "7.94", "12.6"]);
        assert_eq!(
            row(&chart.rows, "0.15"),
            ["0.50", "⅓ +0.16", "1.41", "70.8"]
        );
    }

    #[test]
    fn labels_stand_for_powers_of_the_root_of_two() {
        let chart = series().unwrap();
        assert_eq!(row(&chart.rows, "5.6"), ["5.657", "6.350", "7.127"]);
    }

    #[test]
    fn half_open_at_twenty_five_is_a_fiftieth() {
        let chart = shutter().unwrap();
        assert_eq!(chart.head[4], "25 fps");
        assert_eq!(row(&chart.rows, "180°")[3], "1/50");
        // Common practice, no source: 172.8° at 24 frames is 1/50.
        assert_eq!(row(&chart.rows, "172.8°")[2], "1/50");
    }

    #[test]
    fn sixteen_to_two_eight_is_five_stops() {
        let chart = between().unwrap();
        let wanted = chart.head.iter().position(|head| head == "2.8").unwrap();
        assert_eq!(row(&chart.rows, "16")[wanted - 1], "5 (1.5)");
    }

    #[test]
    fn water_is_dark_at_fifty_three_degrees() {
        // Brewster's angle of water, atan 1.333 = 53.12°; mean of Rs and Rp there
        // ½·((n²−1)/(n²+1))² = 3.91 %: worked by hand.
        let page = section().unwrap();
        assert!(page.contains("53.1° from upright"), "{page}");
        assert!(page.contains("sends back 3.9 %"), "{page}");
        assert!(page.contains("not eye protection"));
    }

    #[test]
    fn factors_keep_three_figures() {
        assert_eq!(figures(7.943), "7.94");
        assert_eq!(figures(99.96), "100");
        assert_eq!(figures(0.1), "0.100");
    }
}
