//! Exact searches: what they return is proven best, or they say how far off.

mod assignment;
pub mod budget;
mod candidates;
mod choices;
mod copy_set;
pub mod cover;
mod day;
pub mod order;
mod placement;
mod pool;
mod purchase;
mod ranking;
mod ring;
mod ring_paths;
pub mod rings;
pub mod stack;
mod tour;
