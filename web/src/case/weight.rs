//! `weight`: what hangs in front, and the counterweight for it.

use super::weight_working::{Weighed, working};
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::planning::in_range;
use crate::shapes::working::TermReply;
use glasscall_core::physics::weight::{
    Balance, GLASS, Load, Outline, RESIN, balance, counterweight, heaviest, mass_of,
};
use glasscall_core::quantity::{Length, Mass};
use glasscall_core::spoken::{SpokenSize, read_size};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The most things weighed at once.
const MAX_ITEMS: usize = 100;

/// What hangs on the lens.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WeightRequest {
    /// Up to 100.
    pub items: Vec<WeightItem>,
    /// What may hang there beside them, one stack or another; up to 100, each of
    /// up to 100 things. The heaviest is told.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stacks: Vec<Vec<WeightItem>>,
    /// Whether a thing that says too little of itself is left out, and told by
    /// `partly`, instead of refused.
    #[serde(default)]
    pub skip_unknown: bool,
    /// How far the pivot lies behind the rim; 0 is at the rim itself.
    #[serde(default)]
    pub pivot_behind_rim_mm: f64,
    /// How far behind the pivot a counterweight would hang.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counter_arm_mm: Option<f64>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// One thing: give its mass, or its size, thickness and material.
///
/// The size is a diameter, a width and a height, or what the trade calls it.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WeightItem {
    /// The user's name for it.
    #[serde(default)]
    pub name: String,
    /// How far its middle lies ahead of the rim.
    pub distance_from_rim_mm: f64,
    /// What it weighs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g: Option<f64>,
    /// Diameter of a round piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter_mm: Option<f64>,
    /// Width of a panel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_mm: Option<f64>,
    /// Height of a panel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<f64>,
    /// What the trade calls the size: 77 is a round thread in mm, 4x5.65 a panel
    /// in inches, 100 x 100 one in mm. Numbers below 20 are inches.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Thickness of the piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness_mm: Option<f64>,
    /// What it is made of; glass unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<Material>,
}

/// What a piece is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum Material {
    /// Float glass, 2.5 g/cm³.
    Glass,
    /// Cast resin, 1.31 g/cm³.
    Resin,
}

impl Material {
    /// In g/cm³.
    const fn density(self) -> f64 {
        match self {
            Self::Glass => GLASS,
            Self::Resin => RESIN,
        }
    }
}

/// The heaviest stack, with all that hangs there anyway.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct HeaviestReply {
    /// Its place in the list.
    pub stack: usize,
    /// What all weighs with it in.
    pub mass_g: f64,
    /// Turning moment about the pivot then.
    pub moment_nm: f64,
    /// The mass that balances it on the arm; absent when none does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counterweight_g: Option<f64>,
}

/// Weight and moment.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct WeightReply {
    /// What each weighs, in the order given.
    pub masses_g: Vec<f64>,
    /// All of it.
    pub mass_g: f64,
    /// Turning moment about the pivot; positive tips the front down.
    pub moment_nm: f64,
    /// The mass that balances it on the arm; absent when none does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counterweight_g: Option<f64>,
    /// The heaviest of the stacks; absent without any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heaviest: Option<HeaviestReply>,
    /// Whether something was left out because it says too little of itself.
    pub partly: bool,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Answers `weight`.
///
/// # Errors
///
/// `outOfRange`, `missing`, `oneTooMany`, `tooMany`.
pub fn weight(request: &WeightRequest) -> Result<WeightReply, Refusal> {
    if request.stacks.len() > MAX_ITEMS {
        return Err(Refusal::too_many("stacks", request.stacks.len(), MAX_ITEMS));
    }
    let (loads, items_whole) = request.loads(&request.items, "items")?;
    let stacks = (request.stacks.iter().enumerate())
        .map(|(at, stack)| request.loads(stack, &format!("stacks[{at}]")))
        .collect::<Result<Vec<_>, _>>()?;
    let arm = (request.counter_arm_mm)
        .map(|arm| Length::new(in_range(arm, 1.0, 10_000.0, "counterArmMm")?).at("counterArmMm"))
        .transpose()?;
    let counter = |moment: f64| {
        arm.and_then(|arm| counterweight(moment, arm))
            .map(Mass::grams)
    };
    let all = balance(&loads);
    let with: Vec<Balance> = (stacks.iter())
        .map(|(stack, _)| balance(&[&loads[..], stack].concat()))
        .collect();
    let mut told = WeightReply {
        masses_g: loads.iter().map(|load| load.mass.grams()).collect(),
        mass_g: all.mass.grams(),
        moment_nm: all.moment,
        counterweight_g: counter(all.moment),
        heaviest: heaviest(&with).map(|stack| HeaviestReply {
            stack,
            mass_g: with[stack].mass.grams(),
            moment_nm: with[stack].moment,
            counterweight_g: counter(with[stack].moment),
        }),
        partly: !(items_whole && stacks.iter().all(|(_, whole)| *whole)),
        working: None,
    };
    if request.explain {
        told.working = working(request, &request.weighed(&told), &told);
    }
    Ok(told)
}

impl WeightRequest {
    /// What hangs there anyway, then the heaviest stack beside it.
    fn weighed(&self, told: &WeightReply) -> Vec<Weighed<'_>> {
        let stack = told.heaviest.map(|most| most.stack);
        let beside = stack.map_or(&[][..], |stack| &self.stacks[stack]);
        let list = format!("stacks[{}]", stack.unwrap_or(0));
        let anyway = self.items.iter().enumerate().map(|one| ("items", one));
        let beside = beside.iter().enumerate().map(|one| (list.as_str(), one));
        (anyway.chain(beside))
            .filter_map(|(list, (nth, item))| {
                let path = format!("{list}[{nth}]");
                let at = |field: &str| format!("{path}.{field}");
                let grams = item.mass(&at).ok()?.grams();
                let cut = match item.heft(&at).ok()? {
                    Heft::Said(_) => None,
                    Heft::Cut(outline, thickness, density) => {
                        Some((outline, thickness.millimetres(), density))
                    }
                };
                Some(Weighed {
                    item,
                    path,
                    grams,
                    cut,
                })
            })
            .collect()
    }

    /// The loads of a list, and whether it is told whole.
    fn loads(&self, items: &[WeightItem], list: &str) -> Result<(Vec<Load>, bool), Refusal> {
        if items.len() > MAX_ITEMS {
            return Err(Refusal::too_many(list, items.len(), MAX_ITEMS));
        }
        let pivot = place(self.pivot_behind_rim_mm, "pivotBehindRimMm")?;
        let mut loads = Vec::new();
        for (at, item) in items.iter().enumerate() {
            match item.load(&format!("{list}[{at}]"), pivot) {
                Ok(load) => loads.push(load),
                Err(refusal) if self.skip_unknown && item.says_too_little(&refusal) => {}
                Err(refusal) => return Err(refusal),
            }
        }
        let whole = loads.len() == items.len();
        Ok((loads, whole))
    }
}

/// What a thing weighs: as said, or by outline, thickness and density.
enum Heft {
    Said(Mass),
    Cut(Outline, Length, f64),
}

fn place(given: f64, field: &str) -> Result<f64, Refusal> {
    in_range(given, -10_000.0, 10_000.0, field)
}

impl WeightItem {
    /// Whether it is refused for want of a weight: nothing said, or a size that
    /// names no measure.
    fn says_too_little(&self, refusal: &Refusal) -> bool {
        match refusal.code {
            Code::Missing => true,
            Code::NotUnderstood => self.size.is_some(),
            _ => false,
        }
    }

    fn load(&self, path: &str, pivot: f64) -> Result<Load, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let ahead = place(self.distance_from_rim_mm, &at("distanceFromRimMm"))? + pivot;
        Ok(Load {
            mass: self.mass(&at)?,
            ahead: Length::new(ahead).at(&at("distanceFromRimMm"))?,
        })
    }

    fn mass(&self, at: &impl Fn(&str) -> String) -> Result<Mass, Refusal> {
        match self.heft(at)? {
            Heft::Said(mass) => Ok(mass),
            Heft::Cut(outline, thickness, density) => {
                mass_of(outline, thickness, density).at(&at("thicknessMm"))
            }
        }
    }

    fn heft(&self, at: &impl Fn(&str) -> String) -> Result<Heft, Refusal> {
        let size = |given: f64, field: &str| {
            Length::new(in_range(given, 0.0, 10_000.0, &at(field))?).at(&at(field))
        };
        let in_mm = (self.diameter_mm.or(self.width_mm).or(self.height_mm)).is_some();
        let sized = in_mm || self.size.is_some();
        if let Some(mass) = self.mass_g {
            return match sized {
                true => Err(Refusal::new(Code::OneTooMany, &at("massG"))),
                false => Mass::from_grams(mass).map(Heft::Said).at(&at("massG")),
            };
        }
        if in_mm && self.size.is_some() {
            return Err(Refusal::new(Code::OneTooMany, &at("size")));
        }
        let called = (self.size.as_deref())
            .map(|text| {
                let refused = |_| Refusal::new(Code::NotUnderstood, &at("size")).given(text);
                read_size(text).map_err(refused)
            })
            .transpose()?;
        let outline = match (self.diameter_mm, self.width_mm, self.height_mm) {
            (Some(diameter), None, None) => Outline::Round(size(diameter, "diameterMm")?),
            (None, Some(width), Some(height)) => {
                Outline::Panel(size(width, "widthMm")?, size(height, "heightMm")?)
            }
            (Some(_), ..) => return Err(Refusal::new(Code::OneTooMany, &at("diameterMm"))),
            (None, Some(_), None) => return Err(Refusal::new(Code::Missing, &at("heightMm"))),
            (None, None, Some(_)) => return Err(Refusal::new(Code::Missing, &at("widthMm"))),
            (None, None, None) => match needed(called, &at("massG"))? {
                SpokenSize::Round(diameter) => Outline::Round(diameter),
                SpokenSize::Panel(width, height) => Outline::Panel(width, height),
            },
        };
        let thickness = needed(self.thickness_mm, &at("thicknessMm"))?;
        let thickness = size(thickness, "thicknessMm")?;
        let density = self.material.unwrap_or(Material::Glass).density();
        Ok(Heft::Cut(outline, thickness, density))
    }
}
