//! How long the exact searches take as their instances grow, beside a general
//! integer-programming library (microlp) on the same covers in the same run:
//! `cargo run --release -p glasscall-tests --example search_speed`.

use glasscall_core::quantity::Stops;
use glasscall_core::search::budget::Budget;
use glasscall_core::search::cover::{Need, Ware, cover};
use glasscall_core::search::order::{OrderPiece, Problem as Day, Sequence, SetUp, fewest_moves};
use glasscall_core::search::stack::{Candidate, Problem as Choice, Ranking, best_stacks};
use glasscall_core::setup::SlotSet;
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use std::time::{Duration, Instant};

/// Numbers that are the same every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, from: u64, to: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        from + (self.0 >> 33) % (to - from)
    }

    /// Thousandths of density as stops.
    fn stops(&mut self, from: u64, to: u64) -> Stops {
        thousandths(self.roll(from, to))
    }
}

fn thousandths(density: u64) -> Stops {
    Stops::new(density as f64 / 1000.0 / std::f64::consts::LOG10_2).expect("a density in range")
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let start = Instant::now();
    let done = work();
    (done, start.elapsed())
}

fn main() {
    covers();
    days();
    stacks();
}

fn covers() {
    println!("cover: needs, ours, integer programming, cost");
    for count in [5, 10, 15, 20, 30, 40, 60] {
        let mut dice = Dice(11);
        let wares: Vec<Ware> = (0..16)
            .map(|_| Ware {
                loss: dice.stops(250, 2000),
                cost: dice.roll(50, 260),
                most: 1,
            })
            .collect();
        let needs: Vec<Need> = (0..count)
            .map(|_| Need {
                loss: dice.stops(300, 3500),
                tolerance: thousandths(100),
                slots: 2,
                may: (0..wares.len()).collect(),
                one_of: None,
                places: None,
            })
            .collect();
        let (ours, time) = timed(|| cover(&wares, &needs, &mut Budget::endless()));
        assert!(ours.proof.is_proven());
        // With 60 needs the library took over four minutes.
        let other = (count <= 40).then(|| timed(|| by_integer_programming(&wares, &needs)));
        let other_time = other.map_or("not asked".to_owned(), |(theirs, other_time)| {
            assert_eq!(ours.cost, theirs, "the two disagree");
            format!("{other_time:.1?}")
        });
        println!("{count:5} {time:12.1?} {other_time:>12} {:6}", ours.cost);
    }
}

/// The least cost by a general solver: a variable for each ware and each way.
fn by_integer_programming(wares: &[Ware], needs: &[Need]) -> u64 {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let bought: Vec<_> = (wares.iter())
        .map(|ware| problem.add_binary_var(ware.cost as f64))
        .collect();
    for need in needs {
        let near = |taken: f64| (need.loss.stops() - taken).abs() <= need.tolerance.stops() + 1e-9;
        let loss = |at: usize| wares[at].loss.stops();
        let mut ways: Vec<Vec<usize>> = Vec::new();
        for one in 0..wares.len() {
            if near(loss(one)) {
                ways.push(vec![one]);
            }
            let pairs = (one + 1..wares.len()).filter(|&two| near(loss(one) + loss(two)));
            ways.extend(pairs.map(|two| vec![one, two]));
        }
        if ways.is_empty() || near(0.0) {
            continue;
        }
        let mut any = microlp::LinearExpr::empty();
        for way in ways {
            let taken = problem.add_binary_var(0.0);
            any.add(taken, 1.0);
            for ware in way {
                let terms = [(taken, 1.0), (bought[ware], -1.0)];
                problem.add_constraint(terms, ComparisonOp::Le, 0.0);
            }
        }
        problem.add_constraint(any, ComparisonOp::Ge, 1.0);
    }
    let least = problem.solve().expect("a cover exists").objective();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sum of small whole costs"
    )]
    let least = least.round() as u64;
    least
}

fn days() {
    println!("order of the day: set-ups, as listed, in any order, moves");
    for count in [4, 8, 12, 16, 20, 24] {
        let mut dice = Dice(5);
        let pieces: Vec<OrderPiece> = (0..9)
            .map(|_| OrderPiece {
                loss: dice.stops(250, 2000),
                fits: SlotSet::all(3),
                count: 1,
                free: true,
            })
            .collect();
        let set_ups: Vec<SetUp> = (0..count)
            .map(|_| SetUp {
                need: dice.stops(200, 4500),
                tolerance: thousandths(75),
                keep: Vec::new(),
                one_of: None,
            })
            .collect();
        let day = Day {
            pieces: &pieces,
            slot_count: 3,
            wheel: &[],
            set_ups: &set_ups,
        };
        let solve = |sequence| timed(|| fewest_moves(&day, sequence, &mut Budget::endless()));
        let ((fixed, fixed_time), (free, free_time)) =
            (solve(Sequence::Fixed), solve(Sequence::Free));
        println!(
            "{count:5} {fixed_time:12.1?} {free_time:12.1?} {:4} {:4}",
            fixed.moves, free.moves
        );
    }
}

fn stacks() {
    println!("stack of 5: pieces, worst of ten needs");
    for count in [25, 50, 100, 200, 400] {
        let mut dice = Dice(3);
        let candidates: Vec<Candidate> = (0..count)
            .map(|_| Candidate {
                infrared: Stops::ZERO,
                loss: dice.stops(250, 1050),
                fits: SlotSet::all(5),
                stays: SlotSet::EMPTY,
                kept: 0,
                count: 1,
            })
            .collect();
        let worst = (0..10).map(|step| {
            let choice = Choice {
                need: thousandths(700 + 450 * step),
                candidates: &candidates,
                slot_count: 5,
                occupied: SlotSet::EMPTY,
                wheel: &[],
                wheel_infrared: &[],
                // As the page asks.
                ranking: Ranking {
                    room: Some(thousandths(600)),
                    over_first: true,
                    cut_from: Some(thousandths(1500)),
                },
                limit: 5,
            };
            timed(|| best_stacks(&choice)).1
        });
        println!("{count:5} {:12.1?}", worst.max().unwrap_or_default());
    }
}
