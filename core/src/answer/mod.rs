//! Whole answers, put together from laws and searches.

pub mod clear_cone;
pub mod cover_kit;
pub mod day_light;
pub mod day_needs;
pub mod depth;
mod dial;
pub mod drift;
pub mod fit;
pub mod flag;
pub mod frame_map;
pub mod frame_picture;
pub mod grad_edge;
pub mod light_trend;
pub mod line_known;
pub mod motion;
mod note;
pub mod open_up;
pub mod order_day;
pub mod pair;
pub mod sky_and_ground;
pub mod sky_frame;
pub mod sky_light;
pub mod sky_plan;
pub mod stack_fit;
mod trim;
pub mod two_bodies;

pub use fit::{Arc, FARTHEST_MM, Placed, Reading, Verdict, ZoomAnswer, ZoomEnd, loss_map};
pub use trim::{Trim, TrimBy};
