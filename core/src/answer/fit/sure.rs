//! What is sure of a lens that is known between limits.

use super::light::Light;
use super::placed::{Looked, Placed, SAME_STOP, Trust, Verdict, trust_unseen};
use crate::physics::known_lens::{KnownLens, MODEL_MM};
use crate::physics::opening::Opening;
use crate::physics::pupil::Pupil;
use crate::physics::region::{Look, Region, Steps};
use crate::quantity::Aperture;
use crate::setup::View;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// Everything the lens may be at a stop, as far as looks have not ruled it out.
#[derive(Debug, Clone)]
pub(in crate::answer) struct Sure {
    region: Region,
    /// Openings that were seen to hold all of the light of this stop.
    within: Vec<Opening>,
    f_number: Aperture,
}

impl Sure {
    pub(in crate::answer) fn new(
        view: &View,
        f_number: Aperture,
        lens: &KnownLens,
        looks: &[Looked],
    ) -> Self {
        let steps = if looks.is_empty() {
            Steps::ONE
        } else {
            Steps::FINE
        };
        let mut sure = Self {
            region: lens.region(view, f_number, steps),
            within: Vec::new(),
            f_number,
        };
        for look in looks {
            let same_stop = libm::fabs(look.f_number.index() - f_number.index()) < SAME_STOP;
            if same_stop {
                let here = sure.region.clone();
                sure.see(&here, true, look);
            } else {
                sure.see(&lens.region(view, look.f_number, steps), false, look);
            }
        }
        sure
    }

    fn see(&mut self, there: &Region, same_stop: bool, look: &Looked) {
        let closed = self.f_number.index() - look.f_number.index();
        if look.verdict == Verdict::Clear && closed > -SAME_STOP {
            self.within.push(look.opening);
        }
        let look = Look {
            opening: look.opening,
            clear: look.verdict == Verdict::Clear,
            clips: look.verdict == Verdict::Clips,
        };
        self.region.seen(there, same_stop, &look, MODEL_MM);
    }

    /// With one more look, at the stop at hand.
    pub(in crate::answer) fn after(&self, opening: Opening, verdict: Verdict) -> Self {
        let mut after = self.clone();
        let looked = Looked {
            opening,
            verdict,
            f_number: self.f_number,
        };
        after.see(&self.region, true, &looked);
        after
    }

    /// The least and the most room, in millimetres, with what the model leaves
    /// out.
    pub(in crate::answer) fn room(&self, opening: &Opening) -> (f64, f64) {
        let least = (self.within.iter())
            .map(|seen| self.region.least_within(seen, opening))
            .fold(self.region.least(opening), f64::max);
        (least - MODEL_MM, self.region.most(opening) + MODEL_MM)
    }

    /// The pupils at the corners of what is possible.
    pub(in crate::answer) fn extremes(&self, view: &View, lens: &KnownLens) -> Vec<Pupil> {
        let shares = self.region.shares().into_iter();
        let at = |shares| lens.pupil_at(view, self.f_number, shares);
        shares.map(at).collect()
    }

    /// How far to trust the verdict when nobody has looked at it.
    pub(in crate::answer) fn trust_in_figures(&self, opening: &Opening) -> Trust {
        let (least, most) = self.room(opening);
        if least >= 0.0 {
            Trust::SureClear
        } else if most < 0.0 {
            Trust::SureClip
        } else {
            Trust::Look
        }
    }

    /// How far to trust the verdict on an opening.
    pub(in crate::answer) fn trust(&self, placed: &Placed) -> Trust {
        match trust_unseen(placed, self.f_number) {
            Trust::Unknown => self.trust_in_figures(&placed.judged()),
            seen => seen,
        }
    }
}

/// The look that would settle most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settles {
    /// At which opening.
    pub opening: usize,
    /// How many openings stay unsettled then, whatever is seen.
    pub leaves: usize,
}

/// Which one look settles most of what is not sure; `None` where all is.
///
/// Each opening that may go either way is thought to be looked at with either
/// outcome; the worse of both counts. Of many only the worst one and the
/// [`MOST_LOOKS`] whose outcome is the most open are thought through, and the
/// worst, which the verdict is about, is named where no other settles more.
pub(in crate::answer) fn settles(
    view: &View,
    lens: &KnownLens,
    sure: &Sure,
    placed: &[Placed],
    worst: Option<usize>,
) -> Option<Settles> {
    let still_open = |sure: &Sure, at: usize| sure.trust(&placed[at]) == Trust::Look;
    let unsettled: Vec<usize> = (0..placed.len())
        .filter(|&at| still_open(sure, at))
        .collect();
    if unsettled.len() < 2 {
        return unsettled
            .first()
            .map(|&opening| Settles { opening, leaves: 0 });
    }
    // How far the middle of its room is from nothing.
    let leaning = |at: usize| {
        let (least, most) = sure.room(&placed[at].judged());
        libm::fabs(least + most)
    };
    let mut likely: Vec<(f64, usize)> = unsettled.iter().map(|&at| (leaning(at), at)).collect();
    sort_by(&mut likely, |one, other| one.0.total_cmp(&other.0));
    let coarse = Sure {
        region: lens.region(view, sure.f_number, COARSE),
        within: sure.within.clone(),
        f_number: sure.f_number,
    };
    // What earlier looks struck out is only known where it was cut as finely.
    let before = if sure.region.is_cut() { sure } else { &coarse };
    let worst = worst.filter(|at| unsettled.contains(at));
    let others = likely.into_iter().map(|(_, at)| at);
    let others = others.filter(|&at| Some(at) != worst).take(MOST_LOOKS);
    (worst.into_iter())
        .chain(others)
        .map(|opening| {
            let after = |verdict| {
                let seen = before.after(placed[opening].judged(), verdict);
                let others = unsettled.iter().filter(|&&at| at != opening);
                others.filter(|&&at| still_open(&seen, at)).count()
            };
            Settles {
                opening,
                leaves: after(Verdict::Clear).max(after(Verdict::Shades)),
            }
        })
        .min_by_key(|settles| settles.leaves)
}

/// How many looks are thought through.
const MOST_LOOKS: usize = 3;

/// Fine enough to tell which look is worth most.
const COARSE: Steps = Steps {
    place: 4,
    distortion: 2,
    growth: 1,
};

/// The verdict on an opening: what was seen, or else the figures.
pub(in crate::answer) fn verdict_of(light: Light, placed: &Placed, f_number: Aperture) -> Verdict {
    (placed.seen_at(f_number)).unwrap_or_else(|| light.verdict(&placed.judged()))
}
