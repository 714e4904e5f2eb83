#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop on a bad value"
)]

use super::{
    Edge, ListFault, ListOf, ListTaken, Listed, ListedLens, ListedPiece, Meaning, read_case_list,
};
use crate::setup::PieceKind;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

fn meanings(text: &str) -> Vec<Meaning> {
    (read_case_list(text, ListOf::Anything).unwrap().into_iter())
        .map(|entry| entry.meaning)
        .collect()
}

/// Each entry in few words: name, kind, density, edge, size, count.
fn told(text: &str) -> Vec<String> {
    read_case_list(text, ListOf::Anything)
        .unwrap()
        .iter()
        .map(|entry| match &entry.meaning {
            Meaning::Understood(listed) => one(listed),
            Meaning::Ambiguous(choices) => format!("? {}", choices.len()),
            Meaning::Refused(fault) => format!("! {} {fault:?}", &text[entry.from..entry.to]),
        })
        .collect()
}

fn one(listed: &Listed) -> String {
    match listed {
        Listed::Piece(piece) => piece_told(piece),
        Listed::Lens(lens) => lens_told(lens),
    }
}

fn piece_told(piece: &ListedPiece) -> String {
    let mut told = format!("{}|{:?}", piece.name, piece.kind);
    if let Some(density) = piece.density {
        told.push_str(&format!(" {:.3}", density.density()));
    }
    for (is, word) in [
        (piece.infrared, " ir"),
        (piece.edge == Some(Edge::Hard), " hard"),
        (piece.edge == Some(Edge::Soft), " soft"),
        (piece.split, " split"),
    ] {
        if is {
            told.push_str(word);
        }
    }
    if let Some(power) = piece.power {
        told.push_str(&format!(" +{}", power.dioptres()));
    }
    told.push_str(&format!(" {}", piece.size));
    if piece.count > 1 {
        told.push_str(&format!(" x{}", piece.count));
    }
    told
}

fn lens_told(lens: &ListedLens) -> String {
    let mut told = format!("{}|lens {}", lens.name, lens.focal.millimetres());
    if let Some(to) = lens.focal_to {
        told.push_str(&format!("-{}", to.millimetres()));
    }
    if let Some(t) = lens.t {
        told.push_str(&format!(" T{:.2}", t.number()));
    }
    if let Some(f) = lens.f {
        told.push_str(&format!(" f{:.2}", f.number()));
    }
    if let Some(thread) = lens.thread {
        told.push_str(&format!(" {}", thread.millimetres()));
    }
    if let Some(outside) = lens.outside {
        told.push_str(&format!(" outside {}", outside.millimetres()));
    }
    told
}

#[test]
fn a_case_in_one_row_is_read() {
    assert_eq!(
        told("4x4: 0.3 0.6 0.9 1.2, 1.5 IR, pola, 0.6 hard, 0.6 soft; 82: 0.9 1.8 pola"),
        [
            "0.3|NeutralDensity 0.300 4x4",
            "0.6|NeutralDensity 0.600 4x4",
            "0.9|NeutralDensity 0.900 4x4",
            "1.2|NeutralDensity 1.200 4x4",
            "1.5 IR|NeutralDensity 1.500 ir 4x4",
            "pola|Polarizer 4x4",
            "0.6 hard|Graduated 0.600 hard 4x4",
            "0.6 soft|Graduated 0.600 soft 4x4",
            "0.9|NeutralDensity 0.900 82",
            "1.8|NeutralDensity 1.800 82",
            "pola|Polarizer 82",
        ]
    );
}

#[test]
fn a_lens_is_named_between_its_focal_length_and_its_stop() {
    let macro_lens = "100 macro|lens 100 T2.83 77";
    assert_eq!(told("100 macro T2.8 77"), [macro_lens]);
    assert_eq!(told("100 mm macro T2.8 77"), [macro_lens]);
    assert_eq!(told("macro 100 T2.8 77"), ["macro 100|lens 100 T2.83 77"]);
    // A name nobody knows is no reason to take the thread for a focal length.
    assert_eq!(told("50 grandma T1.4 58"), ["50 grandma|lens 50 T1.41 58"]);
    assert_eq!(
        told("25 T1.9 100mm macro T2.8 77; 4x4: 0.6 soft"),
        [
            "25|lens 25 T1.90",
            macro_lens,
            "0.6 soft|Graduated 0.600 soft 4x4"
        ]
    );
}

#[test]
fn lenses_in_one_row_are_read() {
    let read = [
        "25|lens 25 T1.90 82",
        "32|lens 32 T1.90 82",
        "24–70|lens 24-70 T2.83 82",
    ];
    assert_eq!(told("25 T1.9 82, 32 T1.9 82, 24–70 T2.8 82"), read);
    assert_eq!(told("25 T1.9 82 32 T1.9 82 24–70 T2.8 82"), read);
    assert_eq!(
        told("25mm T1.9 82mm\n32mm T1.9 ø82\n24–70 mm T2.8 82 thread"),
        read
    );
    assert_eq!(
        told("50 f/1.4 77, T2.8 75 mm front 114"),
        ["50|lens 50 f1.41 77", "75|lens 75 T2.83 outside 114"]
    );
    assert_eq!(
        told("lenses: 25 1.9 82, 32 1.9, 100\n\n0.3"),
        [
            "25|lens 25 T1.90 82",
            "32|lens 32 T1.90",
            "100|lens 100",
            "0.3|NeutralDensity 0.300 "
        ]
    );
}

#[test]
fn one_a_line_a_heading_goes_on_until_the_next() {
    assert_eq!(
        told("4x5.65:\n- 0.3\n- 0.6 hard grad\n82 mm:\npola\n\n0.9"),
        [
            "0.3|NeutralDensity 0.300 4x5.65",
            "0.6 hard grad|Graduated 0.600 hard 4x5.65",
            "pola|Polarizer 82",
            "0.9|NeutralDensity 0.900 ",
        ]
    );
    assert_eq!(
        told("4 x 4 0.3 0.6\n0.9"),
        [
            "0.3|NeutralDensity 0.300 4x4",
            "0.6|NeutralDensity 0.600 4x4",
            "0.9|NeutralDensity 0.900 "
        ]
    );
}

#[test]
fn what_crews_write_is_understood() {
    for (text, expected) in [
        ("1.5 IR", "1.5 IR|NeutralDensity 1.500 ir "),
        ("IRND 1.5", "IRND 1.5|NeutralDensity 1.500 ir "),
        ("IR ND 1.5", "IR ND 1.5|NeutralDensity 1.500 ir "),
        ("1.5 IR-ND", "1.5 IR-ND|NeutralDensity 1.500 ir "),
        ("0.6 hard grad", "0.6 hard grad|Graduated 0.600 hard "),
        ("hard grad 0.6", "hard grad 0.6|Graduated 0.600 hard "),
        ("0.9 soft", "0.9 soft|Graduated 0.900 soft "),
        (
            "ND 0.6 soft edge grad",
            "ND 0.6 soft edge grad|Graduated 0.600 soft ",
        ),
        ("ND8 hard", "ND8 hard|Graduated 0.903 hard "),
        ("0.9 82", "0.9|NeutralDensity 0.900 82"),
        ("82 0.9", "0.9|NeutralDensity 0.900 82"),
        ("pola 82", "pola|Polarizer 82"),
        ("clear", "clear|Clear "),
        ("circular polarizer", "circular polarizer|Polarizer "),
        ("C-PL", "C-PL|Polarizer "),
        ("cpl 77 mm", "cpl|Polarizer 77"),
        ("ND64", "ND64|NeutralDensity 1.806 "),
        ("nd 1000 82", "nd 1000|NeutralDensity 3.000 82"),
        ("3 stops", "3 stops|NeutralDensity 0.903 "),
        ("12.5 %", "12.5 %|NeutralDensity 0.903 "),
        ("2x 0.6", "0.6|NeutralDensity 0.600  x2"),
        ("2 pola", "pola|Polarizer  x2"),
        ("0.6 x2", "0.6|NeutralDensity 0.600  x2"),
        ("64x", "64x|NeutralDensity 1.806 "),
        ("diffusion 1/8", "diffusion 1/8|Effect "),
        ("black mist ¼", "black mist ¼|Effect "),
        ("+2 diopter 138 mm", "2 diopter|CloseUp +2 138"),
        (
            "split diopter +1/2",
            "split diopter 1/2|CloseUp split +0.5 ",
        ),
        ("IR cut", "IR cut|InfraredCut "),
        ("coral 1/2", "coral 1/2|Colour "),
        ("UV 95", "UV|Clear 95"),
    ] {
        assert_eq!(told(text), [expected], "{text}");
    }
}

#[test]
fn what_is_said_in_german_is_understood() {
    for (text, expected) in [
        ("0,6 hart", "0,6 hart|Graduated 0.600 hard "),
        (
            "Verlauf 0,9 weich",
            "Verlauf 0,9 weich|Graduated 0.900 soft ",
        ),
        ("Polfilter 82", "Polfilter|Polarizer 82"),
        ("Zirkular-Pol", "Zirkular-Pol|Polarizer "),
        ("Klarglas 4x5,65", "Klarglas|Clear 4x5.65"),
        ("Nahlinse +2", "Nahlinse 2|CloseUp +2 "),
        ("drei Blenden", "3 Blenden|NeutralDensity 0.903 "),
        ("2 Pol", "Pol|Polarizer  x2"),
    ] {
        assert_eq!(told(text), [expected], "{text}");
    }
    assert_eq!(
        told("4x4: 0,3 0,6 und Pol"),
        [
            "0,3|NeutralDensity 0.300 4x4",
            "0,6|NeutralDensity 0.600 4x4",
            "Pol|Polarizer 4x4"
        ]
    );
    assert_eq!(
        told("Objektive: 25 T1,9 82 und 32 T1,9"),
        ["25|lens 25 T1.90 82", "32|lens 32 T1.90"]
    );
}

#[test]
fn what_is_spoken_without_a_stop_is_cut_where_it_must_be() {
    assert_eq!(
        told("zero point three zero point six point nine one point two IR polarizer"),
        [
            "0.3|NeutralDensity 0.300 ",
            "0.6|NeutralDensity 0.600 ",
            "0.9|NeutralDensity 0.900 ",
            "1.2 IR|NeutralDensity 1.200 ir ",
            "polarizer|Polarizer ",
        ]
    );
    assert_eq!(
        told("twenty five T one point nine eighty two thirty two T one point nine"),
        ["25|lens 25 T1.90 82", "32|lens 32 T1.90"]
    );
}

#[test]
fn a_comma_is_a_decimal_sign_only_where_it_can_be() {
    let three = ["0.300", "0.600", "0.900"];
    for text in [
        "0.3,0.6,0.9",
        "0,3 0,6 0,9",
        "0,3, 0,6, 0,9",
        "0.3, 0.6, 0.9",
    ] {
        let densities: Vec<String> = (meanings(text).iter())
            .map(|meaning| match meaning {
                Meaning::Understood(Listed::Piece(piece)) => {
                    format!("{:.3}", piece.density.unwrap().density())
                }
                other => panic!("{text}: {other:?}"),
            })
            .collect();
        assert_eq!(densities, three, "{text}");
    }
}

#[test]
fn what_can_mean_two_things_is_asked() {
    let taken = |text: &str| -> Vec<ListTaken> {
        match &meanings(text)[0] {
            Meaning::Ambiguous(choices) => choices.iter().map(|choice| choice.taken_as).collect(),
            other => panic!("{text}: {other:?}"),
        }
    };
    assert_eq!(taken("1/8"), [ListTaken::Strength, ListTaken::Share]);
    assert_eq!(taken("ND2").len(), 3);
    assert_eq!(taken("64").len(), 2);
    assert_eq!(taken("25 1.9 82"), [ListTaken::TNumber, ListTaken::FNumber]);
    assert_eq!(
        taken("black satin 1/8"),
        [ListTaken::Strength, ListTaken::Colour]
    );
}

#[test]
fn what_is_not_read_says_why_and_harms_nothing_else() {
    assert_eq!(
        told("0.3, brolly, 0.6, hard, 4x4, ND, 0.6 hrad, lens, 99.9"),
        [
            "0.3|NeutralDensity 0.300 ",
            "! brolly NotUnderstood",
            "0.6|NeutralDensity 0.600 ",
            "! hard NoDensity",
            "! 4x4 SizeAlone",
            "! ND NoDensity",
            "! 0.6 hrad NotUnderstood",
            "! lens NoFocalLength",
            "! 99.9 OutOfRange",
        ]
    );
    assert_eq!(told("82"), ["! 82 SizeAlone"]);
    assert_eq!(told(" \n; , : "), Vec::<String>::new());
}

#[test]
fn a_list_has_an_end() {
    assert!(read_case_list(&"0.3 ".repeat(501), ListOf::Anything).is_err());
    assert!(read_case_list(&" ".repeat(20_001), ListOf::Anything).is_err());
}

#[test]
fn every_entry_stands_where_it_says() {
    let text = "4×4: ⅓ stop, 0.6 hard";
    let list = read_case_list(text, ListOf::Anything).unwrap();
    let last = list.last().unwrap();
    assert_eq!(&text[last.from..last.to], "0.6 hard");
    assert_eq!(last.meaning, meanings("4x4: 0.6 hard")[0]);
    assert_eq!(
        match &last.meaning {
            Meaning::Understood(Listed::Piece(piece)) => piece.kind,
            _ => PieceKind::Clear,
        },
        PieceKind::Graduated
    );
    assert_ne!(last.meaning, Meaning::Refused(ListFault::NotUnderstood));
}
