//! What the words of a list mean.

use super::Edge;
use crate::setup::PieceKind;

/// What one word says of a piece or a lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Term {
    /// Neutral density.
    Nd,
    /// Neutral density that holds infrared back as well.
    IrNd,
    /// Infrared: of a density that it holds it back as well, alone a cut.
    Ir,
    /// A kind that needs no density.
    Kind(PieceKind),
    /// Graduated.
    Grad,
    /// How a graduated edge runs.
    Edge(Edge),
    /// A close-up lens over part of the picture.
    Split,
    /// Says nothing more than the rest.
    Filler,
    /// The word for lenses.
    Lens,
    /// What kind of lens it is, which is part of its name.
    LensKind,
    /// The word for filters, before a colon.
    Pieces,
    /// The T of a T-number.
    T,
    /// The f of an f-number.
    F,
    /// Millimetres.
    Mm,
    /// Stops.
    Stops,
    /// Times: a factor or a count.
    Times,
    /// Percent.
    Percent,
    /// Density.
    Density,
    /// A round drop-in.
    Round,
    /// A front without thread, by its outside.
    Outside,
    /// Inches.
    Inch,
}

/// Words in lower case without hyphens, English and German, as crews say them.
/// Common practice, no source.
const WORDS: &[(Term, &[&str])] = &[
    (
        Term::Nd,
        &["nd", "n", "neutral", "grey", "gray", "grau", "graufilter"],
    ),
    (Term::IrNd, &["irnd", "ndir"]),
    (Term::Ir, &["ir", "infrared", "infrarot"]),
    (
        Term::Kind(PieceKind::InfraredCut),
        &[
            "ircut",
            "irsperre",
            "infrarotsperre",
            "hotmirror",
            "irsperrfilter",
            "cut",
            "sperre",
            "sperrfilter",
            "mirror",
        ],
    ),
    (
        Term::Kind(PieceKind::Polarizer),
        &[
            "pola",
            "pol",
            "pl",
            "cpl",
            "cp",
            "polarizer",
            "polariser",
            "polarizing",
            "polarising",
            "polfilter",
            "polarisator",
            "polarisationsfilter",
            "zirkularpol",
            "zirkularpolfilter",
            "polas",
            "polarizers",
            "polarisers",
        ],
    ),
    (
        Term::Kind(PieceKind::Clear),
        &[
            "clear",
            "clears",
            "uv",
            "protector",
            "protection",
            "flat",
            "klar",
            "klarglas",
            "schutz",
            "schutzglas",
            "schutzfilter",
        ],
    ),
    (
        Term::Kind(PieceKind::CloseUp),
        &[
            "diopter",
            "dioptre",
            "diopters",
            "dioptres",
            "dpt",
            "closeup",
            "nahlinse",
            "nahlinsen",
            "dioptrie",
            "dioptrien",
            "diop",
        ],
    ),
    (
        Term::Kind(PieceKind::Effect),
        &[
            "diffusion",
            "diffuser",
            "diff",
            "mist",
            "fog",
            "haze",
            "net",
            "star",
            "streak",
            "lowcontrast",
            "lowcon",
            "effect",
            "weichzeichner",
            "nebel",
            "dunst",
            "stern",
            "netz",
            "diffusor",
            "effekt",
            "softener",
        ],
    ),
    (
        Term::Kind(PieceKind::Colour),
        &[
            "colour",
            "color",
            "warm",
            "warming",
            "cool",
            "cooling",
            "coral",
            "sepia",
            "tobacco",
            "amber",
            "orange",
            "blue",
            "chocolate",
            "straw",
            "cto",
            "ctb",
            "farbe",
            "tabak",
            "korallen",
            "konversion",
            "conversion",
        ],
    ),
    (
        Term::Grad,
        &[
            "grad",
            "grads",
            "graduated",
            "graduate",
            "verlauf",
            "verlaufsfilter",
            "verläufe",
            "verlaeufe",
        ],
    ),
    (
        Term::Edge(Edge::Hard),
        &[
            "hard", "he", "hardedge", "hart", "harte", "harter", "hartes",
        ],
    ),
    (
        Term::Edge(Edge::Soft),
        &[
            "soft", "se", "softedge", "weich", "weiche", "weicher", "weiches",
        ],
    ),
    (
        Term::Edge(Edge::Reverse),
        &["reverse", "rev", "umgekehrt", "umgekehrter"],
    ),
    (Term::Edge(Edge::Stripe), &["stripe", "horizon", "streifen"]),
    (Term::Split, &["split"]),
    (
        Term::Filler,
        &[
            "circular", "linear", "zirkular", "linearer", "edge", "kante", "a", "an", "the", "of",
            "ein", "eine", "einen", "c", "hot", "optical", "full", "thread", "gewinde", "size",
            "größe", "with", "mit",
        ],
    ),
    (
        Term::Lens,
        &[
            "lens",
            "lenses",
            "prime",
            "primes",
            "zoom",
            "zooms",
            "objektiv",
            "objektive",
            "festbrennweite",
            "festbrennweiten",
        ],
    ),
    (
        Term::LensKind,
        &[
            "macro",
            "makro",
            "tele",
            "wide",
            "weitwinkel",
            "anamorphic",
            "anamorph",
            "fisheye",
            "fischauge",
        ],
    ),
    (
        Term::Pieces,
        &[
            "filter", "filters", "pieces", "glass", "glas", "gläser", "scheiben", "case", "koffer",
        ],
    ),
    (Term::T, &["t", "tstop"]),
    (Term::F, &["f", "fstop", "blende"]),
    (
        Term::Mm,
        &[
            "mm",
            "millimetre",
            "millimetres",
            "millimeter",
            "millimeters",
            "mil",
        ],
    ),
    (
        Term::Stops,
        &["stop", "stops", "blenden", "blendenstufe", "blendenstufen"],
    ),
    (Term::Times, &["x", "times", "mal", "fach"]),
    (Term::Percent, &["percent", "prozent"]),
    (Term::Density, &["d", "density", "dichte"]),
    (Term::Round, &["round", "rund", "runde", "runder"]),
    (
        Term::Outside,
        &[
            "outside", "outer", "od", "front", "clamp", "außen", "aussen", "vorne", "klemme",
        ],
    ),
    (Term::Inch, &["in", "inch", "inches", "zoll"]),
];

/// What a word means, if it is one of the trade's.
pub(super) fn term(word: &str) -> Option<Term> {
    WORDS
        .iter()
        .find(|(_, words)| words.contains(&word))
        .map(|(term, _)| *term)
}

#[cfg(test)]
mod tests {
    use super::WORDS;

    #[test]
    fn no_word_means_two_things() {
        for (at, (_, words)) in WORDS.iter().enumerate() {
            for (_, others) in &WORDS[at + 1..] {
                assert!(words.iter().all(|word| !others.contains(word)), "{words:?}");
            }
        }
    }
}
