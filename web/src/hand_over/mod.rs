//! From one device to another.

mod clearer;
pub(crate) mod square_code;

pub use square_code::{
    DrawCodeReply, DrawCodeRequest, ReadCodeReply, ReadCodeRequest, draw_code, read_code,
};
