//! Sizes of the trade: starting values that every user may overrule.

/// A filter thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreadSize {
    /// Nominal diameter, mm.
    pub thread: f64,
    /// Clear diameter of an ordinary mount in it, mm.
    pub clear: f64,
}

/// A filter panel or a round drop-in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelSize {
    /// What it is called.
    pub name: &'static str,
    /// Width, or diameter of a round one, mm.
    pub width: f64,
    /// Height, mm; as the width for a round one.
    pub height: f64,
    /// Whether it is round.
    pub is_round: bool,
    /// Usual clear width in its tray, mm.
    pub clear_width: f64,
    /// Usual clear height in its tray, mm.
    pub clear_height: f64,
}

/// A sensor or film format.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Format {
    /// Its generic name.
    pub name: &'static str,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Where the size comes from.
    pub source: &'static str,
}

/// Where [`THREADS`] come from.
///
/// Such a list: “Filter sizes and mountings”, 2008; ISO 6053 specifies a series
/// up to 127 mm.
pub const THREADS_SOURCE: &str = "nominal series: published lists of filter threads; \
     105 and 138 mm, and a clear diameter 4 mm less: common practice, no source";
/// Where [`PANELS`] come from.
pub const PANELS_SOURCE: &str = "nominal sizes in inch and mm, and their usual clear openings: \
     common practice, no source; measure your tray";

/// Common practice, no source.
const NO_SOURCE: &str = "common practice, no source";

/// Wikipedia, “Image sensor format”, as copied in a public list of sensors
/// (jujumo/memento).
const FRAME_TABLE: &str = "a published table of frame sizes";

const fn thread(thread: f64) -> ThreadSize {
    ThreadSize {
        thread,
        clear: thread - 4.0,
    }
}

const fn panel(name: &'static str, width: f64, height: f64, clear: (f64, f64)) -> PanelSize {
    PanelSize {
        name,
        width,
        height,
        is_round: false,
        clear_width: clear.0,
        clear_height: clear.1,
    }
}

const fn round(name: &'static str, diameter: f64, clear: f64) -> PanelSize {
    PanelSize {
        is_round: true,
        ..panel(name, diameter, diameter, (clear, clear))
    }
}

const fn format(name: &'static str, width: f64, height: f64, source: &'static str) -> Format {
    Format {
        name,
        width,
        height,
        source,
    }
}

/// Filter threads, smallest first.
pub const THREADS: [ThreadSize; 19] = [
    thread(37.0),
    thread(40.5),
    thread(43.0),
    thread(46.0),
    thread(49.0),
    thread(52.0),
    thread(55.0),
    thread(58.0),
    thread(62.0),
    thread(67.0),
    thread(72.0),
    thread(77.0),
    thread(82.0),
    thread(86.0),
    thread(95.0),
    thread(105.0),
    thread(112.0),
    thread(127.0),
    thread(138.0),
];

const INCH: f64 = 25.4;

/// Panels and round drop-ins, smallest first.
pub const PANELS: [PanelSize; 11] = [
    panel("3 × 3 in", 3.0 * INCH, 3.0 * INCH, (70.0, 70.0)),
    panel("85 × 85 mm", 85.0, 85.0, (79.0, 79.0)),
    panel("100 × 100 mm", 100.0, 100.0, (93.0, 93.0)),
    panel("4 × 4 in", 4.0 * INCH, 4.0 * INCH, (95.0, 95.0)),
    panel("4 × 5.65 in", 5.65 * INCH, 4.0 * INCH, (134.0, 95.0)),
    round("4.5 in round", 4.5 * INCH, 108.0),
    panel("5 × 5 in", 5.0 * INCH, 5.0 * INCH, (119.0, 119.0)),
    round("138 mm round", 138.0, 130.0),
    panel("150 × 150 mm", 150.0, 150.0, (141.0, 141.0)),
    panel("6 × 6 in", 6.0 * INCH, 6.0 * INCH, (143.0, 143.0)),
    panel("6.6 × 6.6 in", 6.6 * INCH, 6.6 * INCH, (156.0, 156.0)),
];

/// Sensor and film formats, smallest first.
pub const FORMATS: [Format; 12] = [
    format("2/3-inch type, 16:9", 9.6, 5.4, NO_SOURCE),
    format("16 mm film", 10.26, 7.49, FRAME_TABLE),
    format("Super 16 film", 12.52, 7.41, FRAME_TABLE),
    format("1-inch type", 13.2, 8.8, NO_SOURCE),
    format("4/3-inch type", 17.3, 13.0, NO_SOURCE),
    format("1.5× crop still", 23.6, 15.6, NO_SOURCE),
    format("35 mm film, 3-perforation", 24.89, 13.87, NO_SOURCE),
    format("35 mm film, 4-perforation", 24.89, 18.66, FRAME_TABLE),
    format("full frame", 36.0, 24.0, "ISO 1007"),
    format("35 mm film, 8-perforation", 37.72, 24.92, NO_SOURCE),
    format("medium format 44 × 33", 43.8, 32.9, NO_SOURCE),
    format("65 mm film, 5-perforation", 52.48, 23.01, FRAME_TABLE),
];

#[cfg(test)]
mod tests {
    use super::{FORMATS, PANELS, THREADS};

    #[test]
    fn light_passes_less_than_the_whole_size() {
        assert!(THREADS.iter().all(|size| size.clear < size.thread));
        assert!(
            (PANELS.iter())
                .all(|size| size.clear_width < size.width && size.clear_height < size.height)
        );
    }

    #[test]
    fn each_list_goes_from_small_to_large() {
        assert!(THREADS.is_sorted_by_key(|size| size.thread));
        assert!(FORMATS.is_sorted_by_key(|format| format.width));
        assert!(PANELS.is_sorted_by_key(|size| size.width.min(size.height)));
    }
}
