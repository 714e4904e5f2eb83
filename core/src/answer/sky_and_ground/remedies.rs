//! What would help when the best graduated filter falls short, or takes light of
//! the subject.

use super::{Balance, Contrast, Stacked, balance, ranked};
use crate::physics::profile::Profile;
use crate::quantity::{Aperture, Density, Stops};
use crate::setup::Uncertainties;

/// The densest filter of one edge that is still proposed.
///
/// Common practice, no source: graduated filters stop at about four stops.
pub const DENSEST: f64 = 1.2;
/// The smallest aperture that is still proposed: beyond it diffraction costs
/// more than the filter gains. Common practice, no source.
pub const SMALLEST_APERTURE: f64 = 22.0;
/// How many places of the line are tried, evenly over the frame's height.
const PLACES: i32 = 50;

/// What would meet the aim when the best filter does not; each alone.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Remedies {
    /// The marked density of the same edge that would just do.
    pub density: Option<Density>,
    /// The aperture that would just do with the best filter.
    pub aperture: Option<Aperture>,
    /// Where the line would have to be, in mm from the axis, for the best
    /// filter just to do.
    pub height: Option<f64>,
    /// The filter that does it upside down, dense below.
    pub turned_over: Option<usize>,
    /// What takes nothing of the subject that is seen, when the best filter does.
    pub sparing: Option<Sparing>,
}

/// A filter and the place of its line with which it does it and the subject
/// keeps its light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sparing {
    /// Which of the filters asked about.
    pub filter: usize,
    /// Where its line has to be, in mm from the axis.
    pub height: f64,
    /// The same as a share of the frame's height.
    pub up: f64,
}

/// What would help, each alone; nothing where the best filter does it.
pub(super) fn remedies(
    stacked: &Stacked,
    aperture: Aperture,
    filters: &[Profile],
    contrast: Contrast,
    known: &Uncertainties,
    best: Option<&Balance>,
) -> Remedies {
    let mut remedies = match best {
        None => Remedies {
            density: density_that_meets(stacked, contrast),
            ..Remedies::default()
        },
        Some(best) if !best.meets => {
            let stacked = stacked.with_profile(&filters[best.filter]);
            Remedies {
                density: density_that_meets(&stacked, contrast),
                aperture: aperture_that_meets(&stacked, aperture, contrast),
                height: height_that_meets(&stacked, contrast),
                turned_over: ranked(&stacked.turned_over(), filters, contrast, known)
                    .first()
                    .filter(|turned| turned.meets)
                    .map(|turned| turned.filter),
                sparing: None,
            }
        }
        Some(_) => Remedies::default(),
    };
    if best.is_some_and(|best| best.steals) {
        remedies.sparing = sparing(stacked, filters, contrast, known);
    }
    remedies
}

/// Of all filters and all places of the line that do it and take nothing of the
/// subject that is seen, what comes nearest to the wished picture; of equals the
/// least slid. The place that was read stays on the filter's side of the line: a
/// line above it leaves bright all that lies between.
fn sparing(
    stacked: &Stacked,
    filters: &[Profile],
    contrast: Contrast,
    known: &Uncertainties,
) -> Option<Sparing> {
    // A line that stands upright is not slid up.
    let here = stacked.line().height_in_frame()?;
    let mut best: Option<([f64; 2], Sparing)> = None;
    for (filter, profile) in filters.iter().enumerate() {
        let filtered = stacked.with_profile(profile);
        let half = 0.5 * profile.densest().stops().stops();
        for place in 0..=PLACES {
            let up = f64::from(place) / f64::from(PLACES);
            let height = filtered.line().height_at(up);
            let slid = filtered.slid_to(height);
            let there = balance(&slid, filter, contrast, known);
            let spares = there.meets && !there.steals && !there.flattens;
            let covers = slid.line().loss_towards(contrast.bright).stops() >= half;
            let rank = [contrast.wrong_by(&there), libm::fabs(up - here)];
            if spares && covers && best.is_none_or(|(least, _)| rank < least) {
                best = Some((rank, Sparing { filter, height, up }));
            }
        }
    }
    best.map(|(_, sparing)| sparing)
}

fn left(stacked: &Stacked, contrast: Contrast) -> f64 {
    let together = stacked.loss_towards(contrast.bright) - stacked.loss_towards(contrast.dark);
    (contrast.apart - together).stops()
}

/// The density nearest to the given one whose left-over lies on the edge of
/// what is allowed. The share delivered grows with density, so the first
/// crossing is the only one.
fn density_that_meets(stacked: &Stacked, contrast: Contrast) -> Option<Density> {
    let marked = stacked.line().profile().densest().density();
    let allowed = contrast.allowed.stops();
    let now = left(stacked, contrast);
    let scaled = |density: f64| -> Option<f64> {
        let profile = stacked.line().profile().scaled(density / marked).ok()?;
        Some(left(&stacked.with_profile(&profile), contrast))
    };
    let (end, aim) = if now > allowed {
        (DENSEST, allowed)
    } else if now >= -allowed {
        // The edge that stands for an empty case is more than is asked for.
        (0.0, allowed)
    } else {
        (0.0, -allowed)
    };
    if marked <= 0.0 || (now > allowed && marked >= DENSEST) {
        return None;
    }
    let off = |density: f64| scaled(density).map(|left| left - aim);
    let (mut near, mut far) = (marked, end);
    let (start, finish) = (off(near)?, off(far)?);
    if start * finish > 0.0 {
        return None;
    }
    for _ in 0..60 {
        let middle = 0.5 * (near + far);
        if off(middle)? * start > 0.0 {
            near = middle;
        } else {
            far = middle;
        }
    }
    Density::new(far).ok()
}

/// The least closing of the iris, in thirds, with which the filter does it.
fn aperture_that_meets(
    stacked: &Stacked,
    aperture: Aperture,
    contrast: Contrast,
) -> Option<Aperture> {
    (1..=30)
        .map(|thirds| Stops::computed(f64::from(thirds) / 3.0))
        .map_while(|closed| Some((closed, aperture.closed_by(closed).ok()?)))
        .take_while(|(_, to)| to.number() <= SMALLEST_APERTURE + 1.0)
        .find(|(closed, _)| {
            let smaller = stacked.with_pupil_scaled(libm::exp2(-closed.stops() / 2.0));
            libm::fabs(left(&smaller, contrast)) <= contrast.allowed.stops()
        })
        .map(|(_, to)| to)
}

/// The nearest place of the line with which the filter does it, by steps of a
/// two-hundredth of the frame.
fn height_that_meets(stacked: &Stacked, contrast: Contrast) -> Option<f64> {
    let step = 0.005 / stacked.line().share_of_frame(1.0);
    let here = stacked.line().height_millimetres();
    (1..=200)
        .flat_map(|steps| [1.0, -1.0].map(|way| here + way * f64::from(steps) * step))
        .find(|&height| {
            libm::fabs(left(&stacked.slid_to(height), contrast)) <= contrast.allowed.stops()
        })
}
