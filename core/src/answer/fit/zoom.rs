//! A zoom lens between its two ends.

use super::light::Light;
use super::placed::{Trust, Verdict, trust_of};
use super::question::{FitError, Question, ZoomEnd};
use super::sure::Sure;
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::Opening;
use crate::physics::passed::loss;
use crate::physics::root::top;
use crate::physics::spare::spare;
use crate::quantity::{Aperture, FocalLength, Stops};

/// A zoom between the two ends that were given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoomAnswer {
    /// At its other end.
    pub other: Reading,
    /// Where it is worst, both ends included.
    pub worst: Reading,
}

/// One focal length of a zoom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The focal length, in millimetres.
    pub focal_length: f64,
    /// The worst of the openings.
    pub verdict: Verdict,
    /// How far to trust it; what was seen holds for one setting only, so this
    /// goes by the figures.
    pub trust: Trust,
    /// The least room of all openings, in millimetres.
    pub spare: f64,
    /// What is lost at the worst corner; `None` when nothing passes.
    pub corner_loss: Option<Stops>,
}

/// Focal lengths looked at between the ends of a zoom.
const ZOOM_STEPS: u8 = 64;

/// The zoom's other end and its worst setting.
///
/// Room need not be concave along a zoom, so it is looked at in steps and then
/// closely beside the worst of them.
pub(super) fn zoom(
    question: &Question<'_>,
    lens: &KnownLens,
    end: &ZoomEnd,
    openings: &[Opening],
) -> Result<ZoomAnswer, FitError> {
    let from = question.view.record().focal_length.millimetres();
    let to = end.focal_length.millimetres();
    let (wide, narrow) = (question.f_number.number(), end.f_number.number());
    let other = question.view.with_focal_length(end.focal_length);
    let other = other.map_err(FitError::ZoomField)?;
    let lens_at = |share: f64| {
        let mix = |one: f64, other: f64| one + share * (other - one);
        // Between two allowed values every value is allowed.
        let view = FocalLength::new(mix(from, to))
            .and_then(|focal_length| question.view.with_focal_length(focal_length))
            .unwrap_or(other);
        let f_number = Aperture::from_number(mix(wide, narrow)).unwrap_or(end.f_number);
        (view, f_number, lens.towards(&end.lens, share))
    };
    let light_at = |share: f64| {
        let (view, f_number, lens) = lens_at(share);
        Light::new(&view, f_number, &lens)
    };
    let room_at = |share: f64| {
        (openings.iter())
            .map(|opening| light_at(share).least(opening, spare))
            .fold(f64::INFINITY, f64::min)
    };
    let read = |share: f64| {
        let light = light_at(share);
        let (view, f_number, lens) = lens_at(share);
        let sure = Sure::new(&view, f_number, &lens, &[]);
        Reading {
            focal_length: from + share * (to - from),
            verdict: (openings.iter())
                .map(|opening| light.verdict(opening))
                .max()
                .unwrap_or(Verdict::Clear),
            trust: trust_of((openings.iter()).map(|opening| sure.trust_in_figures(opening))),
            spare: room_at(share),
            corner_loss: loss(light.passed(openings)),
        }
    };
    let step = 1.0 / f64::from(ZOOM_STEPS);
    let worst = (0..=ZOOM_STEPS)
        .map(|nth| f64::from(nth) * step)
        .min_by(|&one, &other| room_at(one).total_cmp(&room_at(other)))
        .unwrap_or(0.0);
    let (low, high) = ((worst - step).max(0.0), (worst + step).min(1.0));
    let closer = top(|share| -room_at(share), low, high);
    let worst = if room_at(closer) < room_at(worst) {
        closer
    } else {
        worst
    };
    Ok(ZoomAnswer {
        other: read(1.0),
        worst: read(worst),
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::answer::fit;
    use super::super::answer::tests::{lens, question, ring};
    use super::*;

    #[test]
    fn a_zoom_is_worst_where_its_pupil_lies_deep_and_it_is_wide() {
        let openings = [ring(100.0, 10.0)];
        let mut asked = question(&openings);
        asked.zoom = Some(ZoomEnd {
            focal_length: FocalLength::new(40.0).unwrap(),
            f_number: Aperture::from_marking(2.0).unwrap(),
            lens: lens(90.0, 90.0),
        });
        let zoom = fit(&asked).unwrap().zoom.unwrap();
        // 20·(40 + 3(f − 20))/f + f/4 has no turn inside but at f = √1600.
        assert!((zoom.other.spare - (50.0 - 50.0 - 10.0)).abs() < 1e-9);
        assert!((zoom.worst.focal_length - 40.0).abs() < 1e-6);
    }
}
