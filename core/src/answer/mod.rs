//! Whole answers, put together from laws and searches.

pub mod depth;
pub mod fit;
mod fit_limits;
mod fit_map;
mod fit_zoom;
mod light;
pub mod open_up;
pub mod stack_fit;
mod trim;

pub use fit::Placed;
pub use fit_limits::{Arc, FARTHEST_MM};
pub use fit_map::loss_map;
pub use fit_zoom::{Reading, ZoomAnswer, ZoomEnd};
pub use light::Verdict;
pub use trim::{Trim, TrimBy};
