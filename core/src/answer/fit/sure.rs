//! What is sure of a lens that is known between limits.

use super::light::Light;
use super::placed::{Looked, Placed, SAME_STOP, Trust, Verdict, trust_unseen};
use crate::physics::known_lens::{KnownLens, MODEL_MM};
use crate::physics::opening::Opening;
use crate::physics::region::{Look, Region, Steps};
use crate::quantity::Aperture;
use crate::setup::View;
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
/// Each unsettled opening is thought to be looked at with either outcome; the
/// worse of both counts.
pub(in crate::answer) fn settles(
    view: &View,
    f_number: Aperture,
    lens: &KnownLens,
    looks: &[Looked],
    placed: &[Placed],
) -> Option<Settles> {
    let sure = Sure::new(view, f_number, lens, looks);
    let open = |sure: &Sure, but: Option<usize>| {
        (0..placed.len())
            .filter(|&at| but != Some(at) && sure.trust(&placed[at]) == Trust::Look)
            .collect::<Vec<usize>>()
    };
    let unsettled = open(&sure, None);
    if let [only] = unsettled[..] {
        return Some(Settles {
            opening: only,
            leaves: 0,
        });
    }
    // The parts a look may strike out.
    let fine = if looks.is_empty() {
        Sure {
            region: lens.region(view, f_number, COARSE),
            within: Vec::new(),
            f_number,
        }
    } else {
        sure
    };
    (unsettled.into_iter())
        .map(|at| {
            let after = |verdict| {
                let seen = fine.after(placed[at].judged(), verdict);
                open(&seen, Some(at)).len()
            };
            Settles {
                opening: at,
                leaves: after(Verdict::Clear).max(after(Verdict::Shades)),
            }
        })
        .min_by_key(|settles| settles.leaves)
}

/// Fine enough to tell which look is worth most.
const COARSE: Steps = Steps {
    place: 6,
    distortion: 2,
    growth: 2,
};

/// The verdict on an opening: what was seen, or else the figures.
pub(in crate::answer) fn verdict_of(light: Light, placed: &Placed, f_number: Aperture) -> Verdict {
    (placed.seen_at(f_number)).unwrap_or_else(|| light.verdict(&placed.judged()))
}
