//! Whether the glass in front of this lens shades this picture.

use super::known::{RoomKnown, room_known};
use super::light::Light;
use super::limits::{
    Arc, ClearTurn, clean_from, clear_to, shading_arcs, widest_clear, widest_focal_length,
};
use super::placed::{Placed, Trust, Verdict, trust_of, trust_unseen, worst_of};
use super::question::{FitError, Question, check_places};
use super::size::{UsualSize, clear_size};
use super::sure::{Settles, Sure, settles, verdict_of};
use super::zoom::{ZoomAnswer, zoom};
use crate::physics::known_lens::KnownLens;
use crate::physics::opening::{Opening, chief_ray_at};
use crate::physics::passed::passed;
use crate::physics::pupil::Pupil;
use crate::physics::spare::spare;
use crate::quantity::{Bounds, Length};
use crate::setup::Tangents;
use alloc::vec::Vec;

/// What one opening does.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningAnswer {
    /// What was seen, otherwise computed.
    pub verdict: Verdict,
    /// What is computed.
    pub computed: Verdict,
    /// Whether it is what was seen.
    pub seen: bool,
    /// How far to trust it.
    pub trust: Trust,
    /// Least room at the worst corner; negative when it shades. `None`, as all
    /// that is computed, when the pupil is not known.
    pub spare: Option<Length>,
    /// The least and the most room it may have in millimetres, with what the
    /// lens may be and what the model leaves out.
    pub room: Option<(f64, f64)>,
    /// How well the room is known.
    pub room_known: Option<RoomKnown>,
    /// For one that turns, the room as it is turned now; all else is told for
    /// its worst turn.
    pub as_set: Option<Length>,
    /// Share of the pupil left at the worst corner by this opening alone.
    pub corner_passed: Option<f64>,
    /// How far ahead of the rim it may stand and stay clear.
    pub clear_to: Option<Length>,
    /// The smallest usual size that would be clear in its place; looked for
    /// where it is not clear.
    pub clear_size: Option<UsualSize>,
    /// Turns at which it shades, where it can be turned.
    pub shading_arcs: Vec<Arc>,
    /// The widest stretch of turns between them.
    pub clear_turn: Option<ClearTurn>,
    /// Turns at which it is not sure to be clear.
    pub unsure_arcs: Vec<Arc>,
    /// Where the light crosses its rear face.
    pub light: Option<Crossing>,
    /// Where the light crosses its front face, where it is deep.
    pub light_in_front: Option<Crossing>,
}

/// Where bundles cross a plane: their middles, millimetres right and up of the
/// lens axis. For a pupil of unknown place, where it spreads them most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The middle of the picture.
    pub centre: (f64, f64),
    /// Bottom left, bottom right, top left, top right of the picture.
    pub corners: [(f64, f64); 4],
}

/// What all openings do.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Each opening, as asked.
    pub openings: Vec<OpeningAnswer>,
    /// The worst of them.
    pub verdict: Verdict,
    /// The opening it is about; `None` where no room is known.
    pub worst: Option<usize>,
    /// How far to trust it.
    pub trust: Trust,
    /// Which one look would settle most; `None` where all is sure.
    pub settles: Option<Settles>,
    /// Share of the pupil left at the worst corner by all openings together.
    pub corner_passed: Option<f64>,
    /// The least and the most of it, for the lenses at the ends of what this one
    /// may be.
    pub corner_between: Option<(f64, f64)>,
    /// Shortest clear focal length, pupil kept in place; see
    /// [`Answer::clean_from`] for why it is a plain number.
    pub widest_focal_length: Option<f64>,
    /// Smallest clear f-number, a plain number as no lens may have it.
    pub clean_from: Option<f64>,
    /// Share of the pupil left at each point asked about.
    pub passed_at: Vec<f64>,
    /// Half the width and height of the pupil.
    pub half_pupil: (f64, f64),
    /// The rest of a zoom's range.
    pub zoom: Option<ZoomAnswer>,
}

/// Answers the question.
///
/// For a pupil between limits every figure is the worse of both ends.
///
/// # Units
///
/// Room in millimetres, shares 0 to 1, focal lengths in millimetres.
///
/// # Errors
///
/// [`FitError`]; an opening in the plane of the pupil is allowed.
///
/// # Accuracy
///
/// Room, shares and limits are by the figures of the lens. [`Trust`] and the
/// range of the room hold for everything the lens may be; against the traced
/// lenses of `tests/reference/traced_lenses.json` none was falsely sure. The
/// subject is far away unless the lens is given focused close too.
///
/// # Source
///
/// Geometry of a bundle z·tan θ, our own derivation; see
/// [`passed`](crate::physics::passed::passed).
pub fn fit(question: &Question<'_>) -> Result<Answer, FitError> {
    let openings: Vec<Opening> = question.openings.iter().map(|p| p.opening).collect();
    let known = [
        question.lens,
        question.zoom.map(|end| end.lens),
        question.close.map(|close| close.lens),
    ];
    let pupils = known.iter().flatten().map(KnownLens::pupil);
    check_places(pupils, &openings)?;
    let Some(lens) = question.lens else {
        return Ok(only_seen(question));
    };
    let far = answer(question, &lens, &openings)?;
    let Some(close) = question.close else {
        return Ok(far);
    };
    let near = Question {
        view: close.view,
        ..*question
    };
    Ok(far.worse_of(answer(&near, &close.lens, &openings)?))
}

fn answer(
    question: &Question<'_>,
    lens: &KnownLens,
    openings: &[Opening],
) -> Result<Answer, FitError> {
    let Question { view, f_number, .. } = *question;
    let light = Light::new(&view, f_number, lens);
    let looks = question.all_looks();
    let sure = Sure::new(&view, f_number, lens, &looks);
    let answers: Vec<OpeningAnswer> = (question.openings.iter())
        .map(|placed| opening_answer(light, &sure, placed, (question, lens)))
        .collect();
    let turned: Vec<Opening> = (question.openings.iter())
        .map(|placed| light.worst_turn(placed))
        .collect();
    let judged: Vec<Opening> = question.openings.iter().map(Placed::judged).collect();
    let worst = worst_of(answers.iter().map(OpeningAnswer::judged));
    let corner_passed = light.passed(&turned);
    let extremes = sure.extremes(&view, lens);
    Ok(Answer {
        verdict: (answers.iter())
            .map(|answer| answer.verdict)
            .max()
            .unwrap_or(Verdict::Clear),
        worst,
        trust: trust_of(answers.iter().map(|answer| answer.trust)),
        settles: settles(&view, lens, &sure, question.openings, worst),
        corner_passed: Some(corner_passed),
        corner_between: Some(corner_between(&light, &extremes, &turned, corner_passed)),
        passed_at: (question.points.iter())
            .map(|&point| light.passed_towards(point, openings))
            .collect(),
        widest_focal_length: widest_focal_length(light, &view, &judged),
        clean_from: clean_from(light, f_number, &judged),
        half_pupil: light.half_pupil(),
        zoom: (question.zoom)
            .map(|end| zoom(question, lens, &end, &judged))
            .transpose()?,
        openings: answers,
    })
}

impl Answer {
    /// The worse of the same lens focused far and close.
    fn worse_of(self, close: Self) -> Self {
        let openings: Vec<OpeningAnswer> = (self.openings.into_iter().zip(close.openings))
            .map(|(far, close)| far.worse_of(close))
            .collect();
        let least = |one: Option<f64>, other: Option<f64>| one.zip(other).map(|(a, b)| a.min(b));
        Self {
            verdict: self.verdict.max(close.verdict),
            worst: worst_of(openings.iter().map(OpeningAnswer::judged)),
            trust: trust_of([self.trust, close.trust].into_iter()),
            settles: self.settles.or(close.settles),
            corner_passed: least(self.corner_passed, close.corner_passed),
            corner_between: (self.corner_between.zip(close.corner_between))
                .map(|(far, close)| (far.0.min(close.0), far.1.min(close.1))),
            clean_from: self.clean_from.zip(close.clean_from).map(|(a, b)| a.max(b)),
            passed_at: (self.passed_at.iter().zip(&close.passed_at))
                .map(|(far, close)| far.min(*close))
                .collect(),
            openings,
            ..self
        }
    }
}

impl OpeningAnswer {
    /// What decides which opening is the worst.
    fn judged(&self) -> (Verdict, Option<f64>) {
        (self.verdict, self.spare.map(Length::millimetres))
    }

    fn worse_of(self, close: Self) -> Self {
        let least = |of: fn(&Self) -> Option<f64>| {
            of(&self).zip(of(&close)).map(|(far, close)| far.min(close))
        };
        let room = self.room.zip(close.room);
        let room = room.map(|(far, close)| (far.0.min(close.0), far.1.min(close.1)));
        let trust = trust_of([self.trust, close.trust].into_iter());
        let corner_passed = least(|answer| answer.corner_passed);
        let spare = |answer: &Self| answer.spare.map_or(0.0, Length::millimetres);
        let clear_to = (self.clear_to.zip(close.clear_to))
            .map(|(far, close)| if far < close { far } else { close });
        let worse = if spare(&close) < spare(&self) {
            close
        } else {
            self
        };
        Self {
            trust,
            room,
            corner_passed,
            clear_to,
            ..worse
        }
    }
}

/// The answer where nobody knows the pupil: what was seen, and nothing else.
fn only_seen(question: &Question<'_>) -> Answer {
    let one = |placed: &Placed| OpeningAnswer {
        verdict: (placed.seen_at(question.f_number)).unwrap_or(Verdict::Unknown),
        computed: Verdict::Unknown,
        seen: placed.seen_at(question.f_number).is_some(),
        trust: trust_unseen(placed, question.f_number),
        spare: None,
        room: None,
        room_known: None,
        as_set: None,
        corner_passed: None,
        clear_to: None,
        clear_size: None,
        shading_arcs: Vec::new(),
        clear_turn: None,
        unsure_arcs: Vec::new(),
        light: None,
        light_in_front: None,
    };
    let openings: Vec<OpeningAnswer> = question.openings.iter().map(one).collect();
    let record = question.view.record();
    let half_height = record.focal_length.millimetres() / question.f_number.number() / 2.0;
    Answer {
        verdict: (openings.iter())
            .map(|answer| answer.verdict)
            .max()
            .unwrap_or(Verdict::Clear),
        worst: None,
        trust: trust_of(openings.iter().map(|answer| answer.trust)),
        openings,
        settles: None,
        corner_passed: None,
        corner_between: None,
        widest_focal_length: None,
        clean_from: None,
        passed_at: Vec::new(),
        half_pupil: (half_height / record.squeeze.ratio(), half_height),
        zoom: None,
    }
}

fn opening_answer(
    light: Light,
    sure: &Sure,
    placed: &Placed,
    (question, lens): (&Question<'_>, &KnownLens),
) -> OpeningAnswer {
    let f_number = question.f_number;
    let opening = placed.opening;
    // For one that turns, its worst turn.
    let judged = placed.judged();
    let room = light.least(&judged, spare);
    let rear = opening.record().distance.millimetres();
    let depth = opening.record().depth;
    let bounds = Bounds::LENGTH;
    let length = |room: f64| Length::new(room.clamp(bounds.min, bounds.max)).ok();
    let turning = (placed.turns).then(|| light.least(&opening, spare));
    let between = sure.room(&judged);
    let (least, _) = between;
    let at = (&question.view, f_number);
    let known = room_known(lens, at, &judged, (room, between), &question.known);
    let shading = if placed.turns {
        shading_arcs(light, &opening, 0.0)
    } else {
        Vec::new()
    };
    OpeningAnswer {
        verdict: verdict_of(light, placed, f_number),
        computed: light.verdict(&judged),
        seen: placed.seen_at(f_number).is_some(),
        trust: sure.trust(placed),
        spare: length(room),
        room: Some(between),
        room_known: Some(known),
        as_set: turning.and_then(length),
        corner_passed: Some(light.passed(&[light.worst_turn(placed)])),
        clear_to: clear_to(light, &judged),
        clear_size: (light.verdict(&judged) != Verdict::Clear)
            .then(|| clear_size(light, placed))
            .flatten(),
        clear_turn: widest_clear(&shading),
        shading_arcs: shading,
        unsure_arcs: if placed.turns {
            shading_arcs(light, &opening, (room - least).max(0.0))
        } else {
            Vec::new()
        },
        light: Some(crossing(light, rear)),
        light_in_front: depth.map(|depth| crossing(light, rear + depth.millimetres())),
    }
}

/// Between which shares of the pupil the darkest corner keeps, what is drawn
/// included.
fn corner_between(
    light: &Light,
    extremes: &[Pupil],
    openings: &[Opening],
    drawn: f64,
) -> (f64, f64) {
    let darkest = |pupil: &Pupil| {
        (light.corners().iter())
            .map(|&corner| passed(pupil, openings, corner))
            .fold(1.0, f64::min)
    };
    (extremes.iter().map(darkest)).fold((drawn, drawn), |(least, most), one| {
        (least.min(one), most.max(one))
    })
}

fn crossing(light: Light, ahead: f64) -> Crossing {
    let pupil = light.farthest_pupil();
    let [low_left, .., high_right] = *light.corners();
    let middle = Tangents {
        x: f64::midpoint(low_left.x, high_right.x),
        y: f64::midpoint(low_left.y, high_right.y),
    };
    let at = |field| chief_ray_at(&pupil, field, ahead);
    Crossing {
        centre: at(middle),
        corners: light.corners().map(at),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(in crate::answer) mod tests;
