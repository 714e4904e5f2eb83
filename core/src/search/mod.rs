//! Exact searches: what they return is proven best, or they say how far off.

mod assignment;
pub mod stack;
