//! Exact searches: what they return is proven best, or they say how far off.

mod assignment;
pub mod budget;
mod candidates;
mod choices;
mod copy_set;
pub mod cover;
mod day;
mod day_bound;
mod day_orders;
pub mod order;
mod placement;
pub mod places;
mod pool;
mod purchase;
mod ranking;
mod ring;
mod ring_flow;
mod ring_paths;
mod ring_settle;
pub mod rings;
pub mod stack;
mod tour;
pub mod two_bodies;
pub mod unknown;
