//! The lists of a case, each declared once: what a file calls it, what is in it.

use super::day_records::{CaseDay, CaseSetUp, CaseWant};
use super::lens_record::CaseLens;
use super::records::{CaseBody, CaseMode, CaseOpening, CasePlate, CaseRig, CaseSlot, CaseWheel};
use super::{Entry, Record, allowed, put};
use crate::case::cover_kit::WareRequest;
use crate::case::rings::{OwnedRingRequest, RingOfferRequest};
use crate::plain::refusal::Refusal;
use crate::plain::tree::Tree;
use crate::plain::writing::ToPlain;
use crate::shapes::piece::PieceRequest;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use tsify::Tsify;

/// Names used, each with its list.
pub(super) type Names = BTreeSet<(&'static str, String)>;

macro_rules! lists {
    ($($(#[$about:meta])* $list:literal $field:ident: $record:ty;)*) => {
        /// The lists of a case, as files name them.
        pub(super) const LISTS: [&str; [$($list),*].len()] = [$($list),*];

        /// Everything in a case.
        #[derive(Debug, Clone, Default, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
        #[serde(rename_all = "camelCase", deny_unknown_fields)]
        pub struct CaseContent {
            $(
                $(#[$about])*
                #[serde(default)]
                pub $field: Vec<$record>,
            )*
        }

        impl CaseContent {
            /// Checks every record, and that names are used once and name something.
            pub(super) fn check(&self) -> Result<(), Refusal> {
                let mut names = Names::new();
                $(each(&self.$field, &mut names, $list)?;)*
                Ok(())
            }

            /// Its lists as they are written.
            pub(super) fn trees(&self) -> [(&'static str, Vec<Tree>); LISTS.len()] {
                [$(($list, trees(&self.$field))),*]
            }

            /// Takes one record of a file into its list.
            pub(super) fn put(
                &mut self,
                names: &mut Names,
                entry: &Entry,
                path: &str,
            ) -> Result<(), Refusal> {
                match entry.list {
                    $($list => put(&mut self.$field, names, entry, path),)*
                    // Readers make entries of these lists only.
                    _ => Ok(()),
                }
            }
        }
    };
}

// In the order files have them: what belongs to a record comes after it.
lists! {
    /// Filters.
    "pieces" pieces: PieceRequest;
    /// Lenses.
    "lenses" lenses: CaseLens;
    /// Adapter rings and clamps.
    "rings" rings: OwnedRingRequest;
    /// What holds filters.
    "rigs" rigs: CaseRig;
    /// The slots of the rigs, from the lens outward.
    "slots" slots: CaseSlot;
    /// Camera bodies.
    "bodies" bodies: CaseBody;
    /// The sensor modes of the bodies.
    "modes" modes: CaseMode;
    /// The wheel positions of the bodies.
    "wheels" wheels: CaseWheel;
    /// What is always in front of a lens with a rig, filters or none.
    "openings" openings: CaseOpening;
    /// Glass of the wheel's positions.
    "plates" plates: CasePlate;
    /// Rings on offer.
    "ringOffers" ring_offers: RingOfferRequest;
    /// Pieces on offer.
    "wares" wares: WareRequest;
    /// Days that are planned.
    "days" days: CaseDay;
    /// The set-ups of the days, in shooting order.
    "setUps" set_ups: CaseSetUp;
    /// Stops and frame rates the days may ask for.
    "wants" wants: CaseWant;
}

fn each<T: Record>(records: &[T], names: &mut Names, list: &'static str) -> Result<(), Refusal> {
    (records.iter().enumerate())
        .try_for_each(|(at, record)| allowed(record, names, list, &format!("{list}[{at}]")))
}

fn trees<T: ToPlain>(records: &[T]) -> Vec<Tree> {
    records.iter().map(T::to_plain).collect()
}
