//! Whether the glass in front of this lens shades this picture.
//!
//! Imports run one way: placed, question, light, what is sure of it and how well
//! it is known, then the limits, the map and the zoom, then the whole answer.

pub(super) mod answer;
pub(super) mod known;
pub(super) mod light;
pub(super) mod limits;
mod map;
pub(super) mod placed;
pub(super) mod question;
pub(super) mod size;
pub(super) mod sure;
mod zoom;

pub use answer::{Answer, Crossing, OpeningAnswer, fit};
pub use known::{RoomCause, RoomFrom, RoomKnown};
pub use limits::{Arc, ClearTurn, FARTHEST_MM};
pub use map::loss_map;
pub use placed::{Looked, Placed, Seen, Trust, Verdict};
pub use question::{Close, FitError, MAX_LOOKS, MAX_OPENINGS, Question, ZoomEnd};
pub use size::UsualSize;
pub use sure::Settles;
pub use zoom::{Reading, ZoomAnswer};
