use super::*;
use crate::quantity::{Density, ExposureIndex, FrameRate, ShutterAngle};
use crate::setup::{PieceRecord, Shutter, Slot};
use alloc::string::{String, ToString as _};

fn settings(aperture: f64) -> Settings {
    Settings {
        aperture: Aperture::from_marking(aperture).unwrap(),
        exposure_index: ExposureIndex::new(800.0).unwrap(),
        frame_rate: FrameRate::new(24.0).unwrap(),
        shutter: Shutter::Angle(ShutterAngle::new(180.0).unwrap()),
    }
}

fn piece(id: &str, kind: PieceKind, marked: Option<f64>) -> Piece {
    Piece::new(PieceRecord {
        id: id.to_string(),
        kind,
        marked: marked.map(|density| Density::new(density).unwrap()),
        measured: None,
        stated: None,
        size: String::new(),
        infrared: None,
        mired_shift: None,
        count: 1,
    })
    .unwrap()
}

fn rig(rotates: &[bool]) -> Rig {
    let slot = |rotates| Slot {
        id: String::new(),
        size: String::new(),
        rotates,
    };
    Rig {
        slots: rotates.iter().map(|&rotates| slot(rotates)).collect(),
    }
}

fn question<'a>(kit: &'a [Piece], rig: &'a Rig, in_place: &'a [Option<usize>]) -> Question<'a> {
    Question {
        reading: settings(16.0),
        through: &[],
        shot: settings(2.8),
        widest: None,
        behind_ring: Stops::ZERO,
        kit,
        rig,
        wheel: &[],
        in_place,
        keep: &[],
        fit: None,
        limit: 5,
        known: Uncertainties::default(),
    }
}

fn nd_kit() -> [Piece; 3] {
    [0.3, 0.6, 0.9].map(|d| piece("nd", PieceKind::NeutralDensity, Some(d)))
}

#[test]
fn sixteen_to_two_eight_is_nine_and_six() {
    let (kit, rig) = (nd_kit(), rig(&[false, false]));
    let answer = open_up(&question(&kit, &rig, &[None, None])).unwrap();
    let best = &answer.stacks[0];
    assert_eq!(answer.need.stops(), 5.0);
    assert_eq!(best.stack.slots, [Some(2), Some(1)]);
    assert!((best.taken.stops() - 4.982_892).abs() < 1e-6);
    assert!((best.stack.left_over.stops() - 0.017_108).abs() < 1e-6);
    assert_eq!(best.aperture_to_set.unwrap().label().to_string(), "2.8");
    assert!(best.notes.contains(&Note::LeftOverSmall));
}

#[test]
fn a_reading_through_a_piece_is_opened_by_it() {
    let (kit, rig) = (nd_kit(), rig(&[false]));
    let asked = Question {
        through: &[2],
        ..question(&kit, &rig, &[None])
    };
    let need = open_up(&asked).unwrap().need;
    assert!((need.stops() - 5.0 - 2.989_735).abs() < 1e-6);
}

#[test]
fn a_polarizer_goes_in_only_when_kept_and_only_where_it_turns() {
    let kit = [piece("p", PieceKind::Polarizer, None)];
    let turns = rig(&[false, true]);
    let place = [None, None];
    let free = open_up(&question(&kit, &turns, &place)).unwrap();
    assert!(free.stacks.iter().all(|offer| offer.stack.pieces == 0));
    let asked = Question {
        keep: &[0],
        ..question(&kit, &turns, &place)
    };
    let kept = &open_up(&asked).unwrap().stacks[0];
    assert_eq!(kept.stack.slots, [None, Some(0)]);
    assert!(kept.notes.contains(&Note::PolarizerAssumed));
    let still = rig(&[false, false]);
    let nowhere = Question {
        rig: &still,
        ..asked
    };
    assert!(open_up(&nowhere).unwrap().stacks.is_empty());
}

#[test]
fn dense_ordinary_glass_warns_of_infrared() {
    let (kit, rig) = (nd_kit(), rig(&[false, false]));
    let best = &open_up(&question(&kit, &rig, &[None, None]))
        .unwrap()
        .stacks[0];
    assert!(best.notes.contains(&Note::InfraredCutNeeded));
}

#[test]
fn the_iris_is_not_asked_to_open_wider_than_the_lens() {
    let kit = [piece("nd", PieceKind::NeutralDensity, Some(1.8))];
    let rig = rig(&[false]);
    let asked = Question {
        widest: Aperture::from_marking(2.8).ok(),
        reading: settings(22.0),
        keep: &[0],
        shot: settings(2.8),
        ..question(&kit, &rig, &[None])
    };
    let near = open_up(&asked).unwrap();
    assert!(!near.stacks[0].notes.contains(&Note::WiderThanLens));
    let dark = Question {
        reading: settings(8.0),
        ..asked
    };
    assert!(
        open_up(&dark).unwrap().stacks[0]
            .notes
            .contains(&Note::WiderThanLens)
    );
}

#[test]
fn the_light_that_is_missing_is_the_polarizers() {
    // T2.8 read, T2.8 wanted, the polarizer in, the lens opens to T2: one
    // stop where 1⅔ are missing.
    let kit = [piece("p", PieceKind::Polarizer, None)];
    let rig = rig(&[true]);
    let asked = Question {
        reading: settings(2.8),
        widest: Aperture::from_marking(2.0).ok(),
        keep: &[0],
        ..question(&kit, &rig, &[None])
    };
    let best = &open_up(&asked).unwrap().stacks[0];
    assert!(!best.can_be_exposed);
    assert!(best.notes.contains(&Note::TakePolarizerOut));
    let wider = Question {
        widest: Aperture::from_marking(1.4).ok(),
        ..asked
    };
    let best = &open_up(&wider).unwrap().stacks[0];
    assert!(best.can_be_exposed && !best.notes.contains(&Note::TakePolarizerOut));
}

#[test]
fn what_the_lens_cannot_expose_comes_last() {
    let kit = [1.2, 2.7].map(|d| piece("nd", PieceKind::NeutralDensity, Some(d)));
    let rig = rig(&[false]);
    let asked = Question {
        reading: settings(32.0),
        widest: Aperture::from_marking(2.8).ok(),
        ..question(&kit, &rig, &[None])
    };
    // Seven stops: 2.7 is 8.97, 1.97 under; 1.2 is 3.99, 3.01 over.
    let answer = open_up(&asked).unwrap();
    let first = |answer: &Answer| answer.stacks[0].stack.slots[0];
    assert_eq!(first(&answer), Some(0));
    assert_eq!(answer.stacks[2].stack.slots[0], Some(1));
    let open = Question {
        widest: Aperture::from_marking(1.0).ok(),
        ..asked
    };
    assert_eq!(first(&open_up(&open).unwrap()), Some(1));
}

#[test]
fn the_wheel_counts_in_the_infrared() {
    let wheel = [0.0, 0.6, 1.2, 1.8].map(|d| WheelPosition::of(Density::new(d).unwrap()));
    let rig = rig(&[]);
    let asked = Question {
        reading: settings(22.0),
        wheel: &wheel,
        ..question(&[], &rig, &[])
    };
    let best = &open_up(&asked).unwrap().stacks[0];
    assert_eq!(best.stack.wheel, Some(3));
    assert!((best.infrared_excess.stops() - 5.979_471).abs() < 1e-6);
    assert!(best.notes.contains(&Note::InfraredCutNeeded));
    let stopping = wheel.map(|position| WheelPosition {
        infrared: Some(position.density),
        ..position
    });
    let asked = Question {
        wheel: &stopping,
        ..asked
    };
    let best = &open_up(&asked).unwrap().stacks[0];
    assert_eq!(best.infrared_excess.stops(), 0.0);
}

#[test]
fn of_equal_thirds_what_needs_no_cut_comes_first() {
    let stopping = |density| {
        let mut record = piece("ir", PieceKind::NeutralDensity, Some(density))
            .record()
            .clone();
        record.infrared = record.marked;
        Piece::new(record).unwrap()
    };
    // Six stops in one plain piece, or in two that stop infrared.
    let kit = [
        piece("nd", PieceKind::NeutralDensity, Some(1.8)),
        stopping(0.9),
        stopping(0.9),
    ];
    let rig = rig(&[false, false]);
    let asked = Question {
        reading: settings(22.0),
        ..question(&kit, &rig, &[None, None])
    };
    let answer = open_up(&asked).unwrap();
    assert_eq!(answer.stacks[0].stack.pieces, 2);
    assert!(!answer.stacks[0].notes.contains(&Note::InfraredCutNeeded));
    assert_eq!(answer.stacks[1].stack.slots, [Some(0), None]);
}

#[test]
fn the_ring_of_a_lens_with_an_extender_shows_less() {
    let rig = rig(&[]);
    let asked = Question {
        reading: settings(2.8),
        // Twice the focal length takes two stops: T2.8 is T1.4 on the ring.
        behind_ring: Stops::computed(2.0),
        widest: Aperture::from_marking(2.0).ok(),
        ..question(&[], &rig, &[])
    };
    let best = &open_up(&asked).unwrap().stacks[0];
    assert!((best.ring_to_set.unwrap().index() - 1.0).abs() < 1e-9);
    assert!(best.notes.contains(&Note::WiderThanLens));
}

/// A linear congruential generator: the same draws on every machine.
struct Dice(u64);

impl Dice {
    /// Evenly in [−1, 1].
    fn even(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        #[expect(clippy::cast_precision_loss, reason = "53 bits are what is wanted")]
        let share = (self.0 >> 11) as f64 / (1_u64 << 53) as f64;
        2.0 * share - 1.0
    }
}

#[test]
fn the_uncertainty_is_what_a_hundred_thousand_draws_scatter() {
    // Read through the polarizer and the 0.6, shot through the polarizer, the
    // 0.9 and the wheel's 0.6: each input drawn anew and the sum made again
    // by hand.
    let kit = [
        piece("p", PieceKind::Polarizer, None),
        piece("6", PieceKind::NeutralDensity, Some(0.6)),
        piece("9", PieceKind::NeutralDensity, Some(0.9)),
    ];
    let rig = rig(&[true, false]);
    let wheel = [WheelPosition::of(Density::new(0.6).unwrap())];
    let asked = Question {
        reading: settings(16.0),
        through: &[0, 1],
        keep: &[0, 2],
        wheel: &wheel,
        ..question(&kit, &rig, &[None, None])
    };
    let told = &open_up(&asked).unwrap().stacks[0];
    let left = |read: f64, [polarizer, six, nine, turned]: [f64; 4]| {
        read + polarizer + six - 3.0 - (polarizer + nine + turned)
    };
    let table = asked.known;
    let losses = [&kit[0], &kit[1], &kit[2]].map(|piece| piece.loss().stops.stops());
    let losses = [losses[0], losses[1], losses[2], wheel[0].stops().stops()];
    assert!((left(8.0, losses) - told.stack.left_over.stops()).abs() < 1e-9);
    let spreads = [
        table.of_piece(&kit[0]),
        table.of_piece(&kit[1]),
        table.of_piece(&kit[2]),
        table.of_wheel(wheel[0]),
    ]
    .map(|known| 3f64.sqrt() * known.stops());
    let mut dice = Dice(7);
    let mut sums = [0.0, 0.0];
    let draws = 100_000;
    for _ in 0..draws {
        let read = 8.0 + dice.even() / 6.0;
        let mut drawn = losses;
        for (loss, spread) in drawn.iter_mut().zip(spreads) {
            *loss += dice.even() * spread;
        }
        let left = left(read, drawn);
        sums[0] += left;
        sums[1] += left * left;
    }
    let mean = sums[0] / f64::from(draws);
    let deviation = (sums[1] / f64::from(draws) - mean * mean).sqrt();
    // A deviation of so many draws is known to 1/√(2·10⁵), a quarter of a
    // per cent; four of those.
    let told = told.known;
    assert!(
        (deviation / told.stops.stops() - 1.0).abs() < 0.01,
        "{deviation}"
    );
    let most = told.mostly.unwrap().from;
    assert_eq!(most, Origin::Piece(2, crate::setup::LossOrigin::Marked));
}

#[test]
fn what_is_left_within_what_is_known_is_nothing_to_do() {
    let (kit, rig) = (nd_kit(), rig(&[false, false]));
    let best = &open_up(&question(&kit, &rig, &[None, None]))
        .unwrap()
        .stacks[0];
    assert!(best.notes.contains(&Note::WithinUncertainty));
    let sure = Question {
        known: Uncertainties {
            reading: Stops::ZERO,
            marked_share: 0.0,
            ..Uncertainties::default()
        },
        ..question(&kit, &rig, &[None, None])
    };
    let best = &open_up(&sure).unwrap().stacks[0];
    assert!(!best.notes.contains(&Note::WithinUncertainty));
    assert_eq!(best.known.mostly, None);
}
