//! The light drifts: when the next swap comes, and when it is over.

use super::light_trend::{NORMAL, Trend};
use super::open_up::{Question, stacks_for};
use crate::quantity::{Bounds, Moment, Stops};
use crate::search::stack::{Stack, whole_thirds};
use crate::setup::{Contribution, Origin, Uncertainty};
use alloc::vec::Vec;

/// What is asked. `open_up.reading` and `open_up.through` are not looked at:
/// the trend says how much light there is.
#[derive(Debug, Clone, PartialEq)]
pub struct DriftQuestion<'a> {
    /// The light as stop indices k of bare readings at the shot's settings.
    pub trend: Trend,
    /// Shot, lens, kit and rig.
    pub open_up: Question<'a>,
    /// From when, the last reading.
    pub from: Moment,
    /// Until when.
    pub until: Moment,
}

/// What happens until then.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// What the glass must take at the start; `None` where the trend has no
    /// light.
    pub need: Option<Stops>,
    /// What to have in at the start; `None` when nothing fits the rig.
    pub start: Option<Stack>,
    /// How well what that leaves over is known: the light by its readings and
    /// the sky, the glass by its marks.
    pub start_known: Uncertainty,
    /// The same by cause.
    pub start_causes: Vec<Contribution>,
    /// The swaps, in order.
    pub swaps: Vec<Swap>,
    /// When the light is too little even with the least glass and the lens
    /// wide open; `None` when that comes later, or never.
    pub ends: Option<Moment>,
    /// Half of the 95 % interval of that, in seconds; `None` while the light
    /// stands still and where the curve itself ends.
    pub ends_give_or_take: Option<f64>,
    /// Half of the 95 % interval of the light where it first decides anything:
    /// at the first swap, or the end, or else at the start.
    pub decides: Stops,
}

/// One swap.
#[derive(Debug, Clone, PartialEq)]
pub struct Swap {
    /// When another stack comes nearer by a third of a stop.
    pub moment: Moment,
    /// What was in.
    pub from: Stack,
    /// What goes in.
    pub to: Stack,
    /// What the glass must take then.
    pub need: Stops,
    /// Half of the 95 % interval of the moment, in seconds; `None` while the
    /// light stands still.
    pub give_or_take: Option<f64>,
}

/// The light is looked at every minute; within one it is a line.
const STEP_SECONDS: f64 = 60.0;
/// A swap is known to the second.
const EXACT_SECONDS: f64 = 1.0;
/// More than anyone swaps in a day.
const MOST_SWAPS: usize = 50;

/// Follows the trend from one reading on.
///
/// What is in stays in until another stack leaves fewer whole thirds of a stop:
/// a swap that gains less than that gains nothing an iris ring shows. What the
/// lens cannot expose gives way to what it can, and is never swapped in.
#[must_use]
pub fn drift(question: &DriftQuestion<'_>) -> Drift {
    let mut swaps = Vec::new();
    let need = question.need_at(question.from);
    let start = best(question, question.from, None);
    let Some(mut state) = start.clone().map(|stack| State::new(question, stack)) else {
        return Drift {
            need,
            start,
            start_known: Uncertainty::of(question.causes_of(None)),
            start_causes: question.causes_of(None),
            swaps,
            ends: None,
            ends_give_or_take: None,
            decides: question.trend.interval_at(question.from),
        };
    };
    let least = question.least_taken();
    let mut moment = question.from;
    let mut ends = None;
    while moment < question.until && swaps.len() < MOST_SWAPS {
        let next = if moment.later_by(STEP_SECONDS) < question.until {
            moment.later_by(STEP_SECONDS)
        } else {
            question.until
        };
        if state.event_at(question, least, next).is_none() {
            moment = next;
            continue;
        }
        let (at, event) = first_event(question, &state, least, [moment, next]);
        match event {
            Event::Over => {
                ends = Some(at);
                break;
            }
            Event::Swap(to) => {
                let need = question.need_at(at).unwrap_or_default();
                swaps.push(Swap {
                    moment: at,
                    from: state.stack,
                    to: to.clone(),
                    need,
                    give_or_take: question.give_or_take(at),
                });
                state = State::new(question, to);
                moment = at;
            }
        }
    }
    let first = swaps.first().map(|swap: &Swap| swap.moment);
    Drift {
        need,
        start_known: Uncertainty::of(question.causes_of(start.as_ref())),
        start_causes: question.causes_of(start.as_ref()),
        start,
        ends_give_or_take: ends.and_then(|end| question.give_or_take(end)),
        decides: (question.trend).interval_at(first.or(ends).unwrap_or(question.from)),
        swaps,
        ends,
    }
}

impl DriftQuestion<'_> {
    fn need_at(&self, moment: Moment) -> Option<Stops> {
        let light = self.trend.light_at(moment)?;
        Some(light - Stops::computed(self.open_up.shot.aperture.index()))
    }

    fn give_or_take(&self, moment: Moment) -> Option<f64> {
        let rate = self.trend.rate_at(moment)?;
        let seconds = self.trend.interval_at(moment).stops() / libm::fabs(rate) * 3600.0;
        seconds.is_finite().then_some(seconds)
    }

    /// How well what a stack leaves over at the start is known. The interval of
    /// the trend is of 95 %, so nearly two deviations.
    fn causes_of(&self, stack: Option<&Stack>) -> Vec<Contribution> {
        let light = self.trend.interval_at(self.from).stops() / NORMAL;
        let light = Contribution {
            from: Origin::Reading,
            stops: Stops::computed(light),
        };
        let glass = stack.map(|stack| {
            let pieces: Vec<usize> = stack.slots.iter().flatten().copied().collect();
            self.open_up.glass_causes(&pieces, stack.wheel)
        });
        (core::iter::once(light).chain(glass.into_iter().flatten())).collect()
    }

    /// What the least glass takes: kept pieces and the clearest position of the
    /// wheel.
    fn least_taken(&self) -> Stops {
        let dark = Stops::computed(-2.0 * Bounds::STOPS.max);
        let least = best_for(self, dark, None);
        least.map_or(Stops::ZERO, |stack| State::new(self, stack).taken)
    }

    /// How far the iris can still open.
    fn room(&self) -> Stops {
        self.open_up.room().unwrap_or(Stops::ZERO)
    }
}

/// What is in, and what it takes.
struct State {
    stack: Stack,
    taken: Stops,
}

enum Event {
    Swap(Stack),
    Over,
}

impl State {
    fn new(question: &DriftQuestion<'_>, stack: Stack) -> Self {
        let glass = stack.slots.iter().flatten();
        let pieces = glass.map(|&piece| question.open_up.kit[piece].loss().stops);
        let wheel = stack.wheel.map(|at| question.open_up.wheel[at].stops());
        Self {
            taken: pieces.chain(wheel).sum(),
            stack,
        }
    }

    fn event_at(
        &self,
        question: &DriftQuestion<'_>,
        least: Stops,
        moment: Moment,
    ) -> Option<Event> {
        let Some(need) = question.need_at(moment) else {
            // The curve ends in the dark.
            return Some(Event::Over);
        };
        let left = need - self.taken;
        let best = best(question, moment, Some(&self.stack))?;
        let ranking = question.open_up.ranking();
        let nearer = whole_thirds(best.left_over) < whole_thirds(left);
        if ranking.can_expose(best.left_over) && (nearer || !ranking.can_expose(left)) {
            return Some(Event::Swap(best));
        }
        let short = least - need;
        (short.stops() > question.room().stops() + 1e-9).then_some(Event::Over)
    }
}

/// Halves the step until the event's moment is known.
fn first_event(
    question: &DriftQuestion<'_>,
    state: &State,
    least: Stops,
    [mut before, mut after]: [Moment; 2],
) -> (Moment, Event) {
    let mut event = state.event_at(question, least, after);
    while after.seconds_since(before) > EXACT_SECONDS {
        let middle = before.later_by(after.seconds_since(before) / 2.0);
        match state.event_at(question, least, middle) {
            Some(found) => (after, event) = (middle, Some(found)),
            None => before = middle,
        }
    }
    // The caller saw one at `after`.
    (after, event.unwrap_or(Event::Over))
}

/// The best stack at a moment, counting moves from what is in.
fn best(question: &DriftQuestion<'_>, moment: Moment, now_in: Option<&Stack>) -> Option<Stack> {
    best_for(question, question.need_at(moment)?, now_in)
}

fn best_for(question: &DriftQuestion<'_>, need: Stops, now_in: Option<&Stack>) -> Option<Stack> {
    let in_place = now_in.map_or(question.open_up.in_place, |stack| &stack.slots);
    let asked = Question {
        in_place,
        limit: 1,
        ..question.open_up.clone()
    };
    stacks_for(&asked, need).into_iter().next()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::answer::light_trend::TimedReading;
    use crate::quantity::{Aperture, Density, ExposureIndex, FrameRate, ShutterAngle};
    use crate::setup::{
        Piece, PieceKind, PieceRecord, Rig, Settings, Shutter, Slot, Uncertainties,
    };
    use alloc::string::String;

    fn moment(minutes: f64) -> Moment {
        Moment::EPOCH.later_by(1.7e9 + minutes * 60.0)
    }

    fn nd(density: f64) -> Piece {
        Piece::new(PieceRecord {
            id: String::new(),
            kind: PieceKind::NeutralDensity,
            marked: Density::new(density).ok(),
            measured: None,
            stated: None,
            size: String::new(),
            infrared: None,
            mired_shift: None,
            count: 1,
        })
        .unwrap()
    }

    fn rig() -> Rig {
        let slot = Slot {
            id: String::new(),
            size: String::new(),
            rotates: false,
        };
        Rig {
            slots: alloc::vec![slot; 2],
        }
    }

    fn question<'a>(kit: &'a [Piece], rig: &'a Rig, light: [f64; 2]) -> DriftQuestion<'a> {
        let shot = Settings {
            aperture: Aperture::from_marking(4.0).unwrap(),
            exposure_index: ExposureIndex::new(800.0).unwrap(),
            frame_rate: FrameRate::new(24.0).unwrap(),
            shutter: Shutter::Angle(ShutterAngle::new(180.0).unwrap()),
        };
        let readings = [(0.0, light[0]), (60.0, light[1])].map(|(minutes, light)| TimedReading {
            moment: moment(minutes),
            light: Stops::new(light).unwrap(),
        });
        DriftQuestion {
            trend: Trend::straight(&readings).unwrap(),
            open_up: Question {
                reading: shot,
                through: &[],
                shot,
                widest: Aperture::from_marking(2.0).ok(),
                behind_ring: Stops::ZERO,
                kit,
                rig,
                wheel: &[],
                in_place: &[None, None],
                keep: &[],
                limit: 1,
                known: Uncertainties::default(),
                fit: None,
            },
            from: moment(60.0),
            until: moment(60.0 + 600.0),
        }
    }

    fn minutes(moment: Moment) -> f64 {
        (moment.unix_seconds() - 1.7e9) / 60.0
    }

    #[test]
    fn a_stop_an_hour_from_three_stops_to_clear_to_wide_open() {
        // Number 4 is k 4. Light at k 7 needs three stops when it starts; then
        // it falls by a stop an hour, on through clear glass to wide open.
        let (kit, rig) = ([nd(0.3), nd(0.6), nd(0.9)], rig());
        let drift = drift(&question(&kit, &rig, [8.0, 7.0]));
        assert_eq!(drift.start.unwrap().slots, [Some(2), None]);
        // Whole thirds change 1/6 stop either side: at need 2.49 the 0.6 is
        // half a stop under, the 0.9 half a stop over.
        let taken = |swap: &Swap| {
            0.3 / core::f64::consts::LOG10_2
                * match swap.to.slots[..] {
                    [Some(piece), None] => [1.0, 2.0, 3.0][piece],
                    _ => 0.0,
                }
        };
        assert_eq!(drift.swaps.len(), 3);
        for swap in &drift.swaps {
            let (before, after) = (minutes(swap.moment), swap.need.stops() - taken(swap));
            // The stack that comes in leaves fewer thirds than the one that goes.
            assert!(after > 0.0 && after < 0.84, "{before}: {after}");
            assert_eq!(whole_thirds(Stops::new(after).unwrap()), 1);
        }
        // From k 7 at minute 60 down to k 2 (T2, clear): five hours.
        assert!((minutes(drift.ends.unwrap()) - 360.0).abs() < 0.05);
    }

    #[test]
    fn with_a_lens_that_opens_no_wider_it_ends_with_clear_glass() {
        let (kit, rig) = ([nd(0.3), nd(0.6), nd(0.9)], rig());
        let mut asked = question(&kit, &rig, [8.0, 7.0]);
        asked.open_up.widest = None;
        let drift = drift(&asked);
        // Every piece has its turn, and the end is at k 4: three hours on.
        assert_eq!(drift.swaps.len(), 3);
        assert!((minutes(drift.ends.unwrap()) - 240.0).abs() < 0.05);
    }

    #[test]
    fn light_that_grows_brings_glass_and_no_end() {
        let (kit, rig) = ([nd(0.3), nd(0.6)], rig());
        let drift = drift(&question(&kit, &rig, [4.0, 5.0]));
        assert!(drift.ends.is_none());
        let pieces: Vec<usize> = drift.swaps.iter().map(|swap| swap.to.pieces).collect();
        assert!(pieces.contains(&2), "{pieces:?}");
        assert!(
            drift
                .swaps
                .windows(2)
                .all(|pair| pair[0].moment < pair[1].moment)
        );
    }

    #[test]
    fn light_that_stands_still_wants_no_swap() {
        let (kit, rig) = ([nd(0.3), nd(0.6)], rig());
        let drift = drift(&question(&kit, &rig, [6.0, 6.0]));
        assert!(drift.swaps.is_empty() && drift.ends.is_none());
    }

    #[test]
    fn the_moment_of_a_swap_is_as_sure_as_the_trend_is() {
        let (kit, rig) = ([nd(0.3), nd(0.6), nd(0.9)], rig());
        let asked = question(&kit, &rig, [8.0, 7.0]);
        for swap in drift(&asked).swaps {
            let stops = asked.trend.interval_at(swap.moment).stops();
            // A stop an hour: stops and hours are one number.
            assert!((swap.give_or_take.unwrap() - stops * 3600.0).abs() < 1e-6);
        }
    }

    #[test]
    fn no_swap_goes_to_what_the_lens_cannot_expose() {
        // T4 wanted from a lens of T4: the 0.9 nearest to 2.6 stops of need would
        // ask for T3.5. The 0.6 is over and can be closed by.
        let (kit, rig) = ([nd(0.6), nd(0.9)], rig());
        let mut asked = question(&kit, &rig, [7.2, 6.6]);
        asked.open_up.widest = Aperture::from_marking(4.0).ok();
        let found = drift(&asked);
        let start = found.start.unwrap();
        assert_eq!(start.slots, [Some(0), None]);
        let under = |stack: &Stack| stack.left_over.stops() < -1e-9;
        assert!(!found.swaps.iter().any(|swap| under(&swap.to)));
        assert!(found.ends_give_or_take.is_some());
    }
}
