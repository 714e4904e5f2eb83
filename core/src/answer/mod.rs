//! Whole answers, put together from laws and searches.

pub mod clear_cone;
pub mod cover_kit;
pub mod day_needs;
pub mod depth;
pub mod drift;
pub mod edge;
pub mod fit;
mod fit_limits;
mod fit_map;
mod fit_zoom;
pub mod frame_map;
mod light;
pub mod motion;
pub mod open_up;
pub mod order_day;
pub mod pair;
pub mod sky_and_ground;
pub mod sky_frame;
pub mod sky_plan;
pub mod stack_fit;
pub mod trend;
mod trim;

pub use fit::Placed;
pub use fit_limits::{Arc, FARTHEST_MM};
pub use fit_map::loss_map;
pub use fit_zoom::{Reading, ZoomAnswer, ZoomEnd};
pub use light::Verdict;
pub use trim::{Trim, TrimBy};
