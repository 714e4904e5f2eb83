//! The searches of `core` against enumeration and outside optima.

mod cover;
mod order;
mod rings;
mod stack;
mod two_bodies;
