//! What a request knows of a lens: measured, ranged, or not at all.

use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::planning::in_range;
use crate::shapes::pupil::{PupilPlace, pupil_range};
use glasscall_core::physics::cards::{AxisByCards, axis_by_cards};
use glasscall_core::physics::known_lens::{Between, KnownLens, Place};
use glasscall_core::physics::pupil::{CARD_READING_MM, Card, CardError};
use glasscall_core::quantity::{Aperture, Bounds, Length, Span};
use glasscall_core::setup::View;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// A number, or the limits it lies between.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(untagged)]
pub enum NumberOrLimits {
    /// Known.
    Known(f64),
    /// Somewhere in between.
    Between(NumberLimits),
}

/// Limits of a number.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct NumberLimits {
    /// At least.
    pub least: f64,
    /// At most.
    pub most: f64,
}

/// Two cards for each axis of the picture; a spherical lens needs one pair.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CardsRequest {
    /// With their edges at the side of the picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub horizontal: Option<CardPair>,
    /// With their edges at the top of the picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vertical: Option<CardPair>,
}

/// Two cards ahead of the lens, each with its edge at the edge of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct CardPair {
    /// The near card, ahead of the rim, mm.
    pub near_mm: f64,
    /// Its edge, from the lens axis, mm.
    pub near_height_mm: f64,
    /// The far card, ahead of the rim, mm.
    pub far_mm: f64,
    /// Its edge, from the lens axis, mm.
    pub far_height_mm: f64,
    /// How far each height may be misread, mm; ½ unless said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading_mm: Option<f64>,
}

/// Heights of cards are read better than this, mm.
const WORST_READING_MM: f64 = 20.0;

/// How far heights of cards may be misread, mm.
pub(crate) fn card_reading(given: Option<f64>, field: &str) -> Result<f64, Refusal> {
    in_range(
        given.unwrap_or(CARD_READING_MM),
        0.0,
        WORST_READING_MM,
        field,
    )
}

/// The fields in which requests say what they know of a lens.
pub(crate) struct KnownFields {
    pub(crate) pupil_behind_rim_mm: Option<PupilPlace>,
    pub(crate) front_diameter_mm: Option<f64>,
    pub(crate) image_circle_mm: Option<f64>,
    pub(crate) widest_f_number: Option<f64>,
    pub(crate) distortion: Option<NumberOrLimits>,
    pub(crate) pupil_growth: Option<NumberOrLimits>,
    pub(crate) cards: Option<CardsRequest>,
}

/// A request that says what it knows of a lens: some fields, those of the lens,
/// then its own. Written out in each, since a part that is flattened in cannot
/// refuse unknown fields.
macro_rules! knows_a_lens {
    (
        $(#[$about:meta])* pub struct $name:ident { $($first:tt)* }
        $(#[$place:meta])* pupil;
        then { $($own:tt)* }
    ) => {
        $(#[$about])*
        #[derive(Debug, Clone, PartialEq, Serialize, glasscall_derive::ToPlain, Deserialize, glasscall_derive::FromPlain, Tsify)]
        #[serde(rename_all = "camelCase", deny_unknown_fields)]
        pub struct $name {
            $($first)*
            $(#[$place])*
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub pupil_behind_rim_mm: Option<crate::shapes::pupil::PupilPlace>,
            /// Clear front diameter, which no light gets past, or the thread where
            /// only that is known, mm.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub front_diameter_mm: Option<f64>,
            /// Diameter of the picture the lens covers, its image circle, mm: its
            /// edge's light comes in through the front, which limits a pupil that
            /// only the front tells of.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub image_circle_mm: Option<f64>,
            /// The widest f-number: two stops closed from it nothing inside the
            /// lens cuts the light any more.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub widest_f_number: Option<f64>,
            /// δ = tan θ·f/h − 1 at the farthest corner of the picture, positive for
            /// a barrel; not known unless said.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub distortion: Option<crate::shapes::known_lens::NumberOrLimits>,
            /// b of 1 + b·tan²θ, by which half the pupil grows along the radius; not
            /// known unless said. Stopped down, relative illumination/cos⁴θ is near
            /// it.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub pupil_growth: Option<crate::shapes::known_lens::NumberOrLimits>,
            /// Two cards for each axis: pupil and distortion at once, instead of
            /// both.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub cards: Option<crate::shapes::known_lens::CardsRequest>,
            $($own)*
        }

        impl $name {
            pub(crate) const fn known(&self) -> crate::shapes::known_lens::KnownFields {
                crate::shapes::known_lens::KnownFields {
                    pupil_behind_rim_mm: self.pupil_behind_rim_mm,
                    front_diameter_mm: self.front_diameter_mm,
                    image_circle_mm: self.image_circle_mm,
                    widest_f_number: self.widest_f_number,
                    distortion: self.distortion,
                    pupil_growth: self.pupil_growth,
                    cards: self.cards,
                }
            }
        }
    };
}
pub(crate) use knows_a_lens;

impl KnownFields {
    /// The lens, or `None` where neither pupil, cards nor front tell where its
    /// pupil is. `path` is where the fields are, empty or ending in a dot.
    pub(crate) fn lens(
        &self,
        view: &View,
        f_number: Aperture,
        path: &str,
    ) -> Result<Option<KnownLens>, Refusal> {
        let at = |field: &str| format!("{path}{field}");
        let widest =
            (self.widest_f_number.map(Aperture::engraved).transpose()).at(&at("widestFNumber"))?;
        let front =
            (self.front_diameter_mm.map(Span::new).transpose()).at(&at("frontDiameterMm"))?;
        let distortion = between(self.distortion, Bounds::DISTORTION, &at("distortion"))?;
        let growth = between(self.pupil_growth, Bounds::PUPIL_GROWTH, &at("pupilGrowth"))?;
        let place = match self.cards {
            Some(cards) => Some(cards.place(view, &at("cards"))?),
            None => {
                let widest = widest.unwrap_or(f_number);
                let place = self.pupil_behind_rim_mm;
                let by_front = (self.front_diameter_mm, self.image_circle_mm);
                pupil_range(place, by_front, view, widest, path)?
                    .map(|pupil| Place::Somewhere { pupil, distortion })
            }
        };
        Ok(place.map(|place| KnownLens {
            place,
            growth,
            front,
            widest,
        }))
    }
}

fn between(
    given: Option<NumberOrLimits>,
    bounds: Bounds,
    field: &str,
) -> Result<Option<Between>, Refusal> {
    Ok(match given {
        None => None,
        Some(NumberOrLimits::Known(value)) => {
            Some(Between::exactly(bounds.check(value).at(field)?))
        }
        Some(NumberOrLimits::Between(limits)) => {
            let least = bounds.check(limits.least).at(&format!("{field}.least"))?;
            let most = (bounds.from(least).check(limits.most)).at(&format!("{field}.most"))?;
            Some(Between { least, most })
        }
    })
}

impl CardsRequest {
    fn place(&self, view: &View, path: &str) -> Result<Place, Refusal> {
        let corner = view.farthest_corner();
        let [side, top] = [(1.0, 0.5), (0.5, 1.0)].map(|(across, up)| {
            let there = view.tangents_of(across, up);
            // Cards are held against the axis, whatever way the lens is shifted.
            (there.x.abs(), there.y.abs())
        });
        let squeezed = view.record().squeeze.ratio() != 1.0;
        let axis = |pair: Option<CardPair>, here: f64, name: &str| {
            // The axes of a lens that squeezes bend each by itself.
            let corner = if squeezed { here } else { corner };
            pair.map(|pair| pair.axis(here, corner, &format!("{path}.{name}")))
                .transpose()
        };
        let across = axis(self.horizontal, side.0, "horizontal")?;
        let up = axis(self.vertical, top.1, "vertical")?;
        let (across, up) = match (across, up) {
            // A lens with two focal lengths has two pupils.
            (Some(one), None) if !squeezed => (one, one),
            (None, Some(one)) if !squeezed => (one, one),
            (across, up) => (
                needed(across, &format!("{path}.horizontal"))?,
                needed(up, &format!("{path}.vertical"))?,
            ),
        };
        Ok(Place::Cards {
            read: [across.read, up.read],
            misread: core::array::from_fn(|at| [across.misread[at], up.misread[at]]),
        })
    }
}

impl CardPair {
    fn axis(&self, here: f64, corner: f64, path: &str) -> Result<AxisByCards, Refusal> {
        let at = |field: &str| format!("{path}.{field}");
        let near = Card {
            distance: Length::new(self.near_mm).at(&at("nearMm"))?,
            height: Span::new(self.near_height_mm).at(&at("nearHeightMm"))?,
        };
        let far = Card {
            distance: Length::new(self.far_mm).at(&at("farMm"))?,
            height: Span::new(self.far_height_mm).at(&at("farHeightMm"))?,
        };
        if here <= 0.0 {
            return Err(Refusal::new(Code::OutOfRange, path));
        }
        let off = card_reading(self.reading_mm, &at("readingMm"))?;
        axis_by_cards(near, far, here, corner, off).map_err(|error| match error {
            CardError::FarDistance(error) => Refusal::out_of_range(&at("farMm"), error),
            CardError::FarHeight(error) => Refusal::out_of_range(&at("farHeightMm"), error),
        })
    }
}
