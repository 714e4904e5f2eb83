//! Density, exposure and coverage of the glass in front of a camera lens.
//!
//! The crate answers one job: which filters open the lens to the wanted stop,
//! and what that glass does to the picture. It holds quantities, laws and exact
//! searches, nothing else: no JSON, no DOM, no clock, no locale. It runs without
//! the standard library (it needs `alloc`), and every transcendental function
//! comes from `libm`, so that native and WebAssembly builds agree to the bit.
//!
//! Imports run one way: [`quantity`] → [`spoken`] and [`setup`] → [`physics`] →
//! [`search`] → [`answer`].
//!
//! # Examples
//!
//! ```
//! use glasscall_core::quantity::{Aperture, Density};
//!
//! let read = Aperture::from_marking(16.0)?;
//! let wanted = Aperture::from_marking(2.8)?;
//! let need = wanted.stops_to(read);
//! assert_eq!(need.stops(), 5.0);
//!
//! let pieces = Density::new(0.9)?.stops() + Density::new(0.6)?.stops();
//! assert!((need - pieces).stops() < 0.02);
//! # Ok::<(), glasscall_core::quantity::OutOfRange>(())
//! ```

#![no_std]

extern crate alloc;

pub mod answer;
pub mod physics;
pub mod quantity;
pub mod search;
pub mod setup;
pub mod sorted;
pub mod spoken;
pub mod square_root;

/// The samples of the page that stands beside the crate.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct ReadMe;
