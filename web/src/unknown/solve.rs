//! `solve`: any number of any question as the unknown.

use super::place::{Step, found, made, steps};
use crate::plain::iso_8601::{moment_text, read_moment};
use crate::plain::refusal::{Code, Refusal, needed};
use crate::plain::tree::Tree;
use crate::questions::{Answering, answering};
use glasscall_core::quantity::Moment;
use glasscall_core::search::unknown::{Asked, Met, solve as core_solve};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Which number of which question is to be found, and for what.
#[derive(Debug, Clone, PartialEq, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct SolveRequest {
    /// The question, by its name here; searches of a whole day and pictures
    /// cannot be turned round.
    pub question: String,
    /// Its request, whole but for what is unknown.
    #[tsify(type = "object")]
    pub request: Tree,
    /// What may be anything.
    pub unknown: UnknownRequest,
    /// What is wanted of the reply.
    pub wanted: WantedRequest,
}

/// A number of the request that may be anything.
#[derive(Debug, Clone, PartialEq, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct UnknownRequest {
    /// Its path, as `shot.exposureIndex`. Where a time stands there, what is
    /// found are minutes after it.
    pub path: String,
    /// From here; the least it may be unless said.
    #[serde(default)]
    pub from: Option<f64>,
    /// To here; the most it may be unless said, a day for a time.
    #[serde(default)]
    pub to: Option<f64>,
}

/// What is wanted of the reply.
#[derive(Debug, Clone, PartialEq, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WantedRequest {
    /// Path of a value in the reply, as `stacks[0].leftOverStops`.
    pub path: String,
    /// What it shall be.
    pub is: WantedValue,
}

/// A value wanted.
#[derive(Debug, Clone, PartialEq, Deserialize, FromPlain, Tsify)]
#[serde(untagged)]
pub enum WantedValue {
    /// A number.
    Number(f64),
    /// One of the words of the reply, as a verdict.
    Word(String),
    /// Yes or no.
    Yes(bool),
}

/// Where the answer is what is wanted.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SolveReply {
    /// Each value at which it is, rising; none and several are answers.
    pub met: Vec<MetReply>,
    /// Where it is that or more; of a word, where it is that.
    pub at_least: Vec<SpanReply>,
    /// Where it comes nearest to a number.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest: Option<NearestReply>,
    /// Where it was looked for.
    pub from: f64,
    /// To here.
    pub to: f64,
    /// False when the answer changes too often to be followed.
    pub complete: bool,
}

/// A value at which the answer is what is wanted.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct MetReply {
    /// The value, or the first of a stretch on which the answer stands still.
    pub from: f64,
    /// The last of that stretch; as `from` where it is one value.
    pub to: f64,
    /// What the answer is there; absent for a word.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gives: Option<f64>,
    /// Whether the answer jumps past what is wanted there.
    pub steps: bool,
    /// `from` as a moment, where a time is unknown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
}

/// Values from one to another.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct SpanReply {
    /// From here.
    pub from: f64,
    /// To here.
    pub to: f64,
}

/// Where an answer comes nearest to what is wanted.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct NearestReply {
    /// The value.
    pub at: f64,
    /// What the answer is there.
    pub gives: f64,
}

/// Questions that answer at once and in numbers.
const TURNED: [&str; 29] = [
    "convertDensity",
    "exposure",
    "openUp",
    "sun",
    "sunImage",
    "line",
    "skyAndGround",
    "lineMotion",
    "sky",
    "reflection",
    "crossedPolarizers",
    "measuredPolarizer",
    "daylight",
    "drift",
    "flag",
    "ghost",
    "weight",
    "fit",
    "pupilByTwoCards",
    "pupilByRing",
    "pupilByFront",
    "depth",
    "closeUp",
    "behindLens",
    "colour",
    "infrared",
    "workingStop",
    "ramp",
    "flicker",
];
/// Pieces among which stacks are looked for a thousand times.
const MOST_PIECES: usize = 12;
/// Values in a request that is asked a thousand times.
const MOST_VALUES: usize = 600;
/// How near an answer must come: a share of it, or of one.
const NEAR: f64 = 1e-9;
/// The same where a time is unknown, which is kept to a hundredth of a
/// millisecond.
const NEAR_BY_TIME: f64 = 1e-6;
/// Minutes of a day.
const DAY: f64 = 1440.0;

/// Answers `solve`.
///
/// # Errors
///
/// What is wrong with the question asked, its field inside `request`;
/// `wrongType` for a question that cannot be turned round; `missing` where the
/// reply has no such value.
pub fn solve(request: &SolveRequest) -> Result<SolveReply, Refusal> {
    let turned = Turned::of(request)?;
    let (from, to) = turned.range(request)?;
    let near = if turned.since.is_some() {
        NEAR_BY_TIME
    } else {
        NEAR
    };
    let zero = turned.zero();
    let asked = Asked {
        from,
        to,
        tolerance: near * zero.abs().max(1.0),
    };
    let mut last = Refusal::new(Code::Missing, "wanted.path").given(&request.wanted.path);
    let found = core_solve(asked, &mut |value| match turned.above(value) {
        Ok(above) => above,
        Err(refusal) => {
            last = refusal.inside("request");
            None
        }
    });
    let (at, above) = found.nearest.ok_or(last)?;
    let number = matches!(turned.wanted, WantedValue::Number(_));
    let met = |met: &Met| MetReply {
        from: met.from,
        to: met.to,
        gives: number.then_some(zero + met.above),
        steps: number && met.steps,
        time: turned
            .since
            .map(|since| moment_text(later(since, met.from))),
    };
    Ok(SolveReply {
        met: found.met.iter().map(met).collect(),
        at_least: (found.at_least.iter())
            .map(|&(from, to)| SpanReply { from, to })
            .collect(),
        nearest: number.then_some(NearestReply {
            at,
            gives: zero + above,
        }),
        from,
        to,
        complete: found.complete,
    })
}

fn later(since: Moment, minutes: f64) -> Moment {
    since.later_by(60.0 * minutes)
}

/// A question about to be asked again and again.
struct Turned<'a> {
    answer: Answering,
    request: &'a Tree,
    unknown: Vec<Step>,
    /// The time from which minutes count, where a time is unknown.
    since: Option<Moment>,
    reply: Vec<Step>,
    wanted: &'a WantedValue,
}

impl<'a> Turned<'a> {
    fn of(request: &'a SolveRequest) -> Result<Self, Refusal> {
        let answer = (TURNED.contains(&request.question.as_str()))
            .then(|| answering(&request.question))
            .flatten()
            .ok_or_else(|| {
                (Refusal::new(Code::WrongType, "question").given(&request.question)).words(&TURNED)
            })?;
        is_light(&request.request)?;
        let path = |path: &str, field| {
            steps(path).ok_or_else(|| Refusal::new(Code::NotUnderstood, field).given(path))
        };
        let unknown = path(&request.unknown.path, "unknown.path")?;
        let since = match found(&request.request, &unknown) {
            Some(Tree::Text(text)) => Some(read_moment(text, "unknown.path")?),
            _ => None,
        };
        Ok(Self {
            answer,
            request: &request.request,
            unknown,
            since,
            reply: path(&request.wanted.path, "wanted.path")?,
            wanted: &request.wanted.is,
        })
    }

    /// The request with a value for what is unknown.
    fn with(&self, value: f64) -> Option<Tree> {
        let mut request = self.request.clone();
        *made(&mut request, &self.unknown)? = match self.since {
            None => Tree::Number(value),
            Some(since) => Tree::Text(exactly(later(since, value))),
        };
        Some(request)
    }

    /// How far the answer is above what is wanted; `None` where the reply has no
    /// such number.
    fn above(&self, value: f64) -> Result<Option<f64>, Refusal> {
        let Some(request) = self.with(value) else {
            return Ok(None);
        };
        let reply = (self.answer)(&request)?;
        let told = found(&reply, &self.reply);
        let is = |yes: bool| Some(if yes { 0.5 } else { -0.5 });
        Ok(match (self.wanted, told) {
            (WantedValue::Number(wanted), Some(Tree::Number(told))) => Some(told - wanted),
            (WantedValue::Word(wanted), Some(Tree::Text(told))) => is(told == wanted),
            (WantedValue::Yes(wanted), Some(Tree::Bool(told))) => is(told == wanted),
            _ => None,
        })
    }

    /// What the answer is where it is nothing above what is wanted.
    const fn zero(&self) -> f64 {
        match self.wanted {
            WantedValue::Number(wanted) => *wanted,
            _ => 0.0,
        }
    }

    /// Where to look: as asked, else as far as the question takes it, which its
    /// refusal of an impossible number tells.
    fn range(&self, request: &SolveRequest) -> Result<(f64, f64), Refusal> {
        let UnknownRequest { path, from, to } = &request.unknown;
        let own = || {
            if self.since.is_some() {
                return Some((0.0, DAY));
            }
            let refusal = (self.answer)(&self.with(f64::MAX)?).err()?;
            let about = refusal.code == Code::OutOfRange && refusal.field == *path;
            about.then(|| refusal.min.zip(refusal.max)).flatten()
        };
        let (least, most) = match (from, to) {
            (Some(from), Some(to)) => (*from, *to),
            _ => needed(own(), "unknown.from")?,
        };
        let (from, to) = (from.unwrap_or(least), to.unwrap_or(most));
        let finite = from.is_finite() && to.is_finite() && (to - from).is_finite();
        if finite && from < to {
            return Ok((from, to));
        }
        Err(Refusal::new(Code::OutOfRange, "unknown.to").given_number(to))
    }
}

/// A moment to the last digit it keeps.
fn exactly(moment: Moment) -> String {
    let hundred_thousandths = (moment.unix_seconds() * 1e5).round();
    let whole = (hundred_thousandths / 1e5).floor();
    let rest = hundred_thousandths - whole * 1e5;
    let text = moment_text(moment.later_by(whole - moment.unix_seconds()));
    format!("{}.{rest:05.0}Z", text.trim_end_matches('Z'))
}

/// Whether a request can be asked a thousand times.
fn is_light(request: &Tree) -> Result<(), Refusal> {
    if let Some(Tree::List(kit)) = found(request, &[Step::Field("kit".to_owned())])
        && kit.len() > MOST_PIECES
    {
        return Err(Refusal::too_many("request.kit", kit.len(), MOST_PIECES));
    }
    if found(request, &[Step::Field("lossMap".to_owned())]).is_some() {
        return Err(Refusal::new(Code::UnknownField, "request.lossMap"));
    }
    let values = count(request);
    if values > MOST_VALUES {
        return Err(Refusal::too_many("request", values, MOST_VALUES));
    }
    Ok(())
}

fn count(tree: &Tree) -> usize {
    match tree {
        Tree::List(items) => items.iter().map(count).sum(),
        Tree::Record(fields) => fields.iter().map(|(_, field)| count(field)).sum(),
        _ => 1,
    }
}
