//! Exact searches: what they return is proven best, or they say how far off.
//!
//! Under their names in the literature of combinatorial optimization: a stack is a
//! subset sum with side conditions ([`stack`]), its placing an assignment problem,
//! the kit to buy a weighted set cover ([`cover`]), a day in any order a travelling
//! salesman path over stacks ([`order`]), rings for several lenses disjoint paths
//! bounded by a minimum-cost flow ([`rings`]).

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
