//! Any input, every corner of the domain, and what the product is made of.

mod any_request;
mod dense_sweeps;
mod fuzz_corpus;
mod other_glass;
mod owed;
mod supply;
mod whole_domain;
