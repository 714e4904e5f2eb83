//! Readers and writers of plain values, made of a type's fields.
//!
//! They say what `serde`'s own say and take the same attributes, which the types
//! for JavaScript are made by too. But `serde` compiles a loop over names, a
//! place for each half read field and a way out of each of them into every
//! type; here a field is one call of a function that knows only the field's
//! type.

mod given;
mod read;
mod shape;
mod twin;
mod write;

use proc_macro::TokenStream;
use syn::{DeriveInput, parse_macro_input};

/// `FromPlain`: the type as a plain value is read.
#[proc_macro_derive(FromPlain, attributes(serde))]
pub fn from_plain(input: TokenStream) -> TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    finished(read::reader(&input))
}

/// `ToPlain`: the type as a plain value.
#[proc_macro_derive(ToPlain, attributes(serde))]
pub fn to_plain(input: TokenStream) -> TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    finished(write::writer(&input))
}

/// `Twin`: a name told of a value of the core, `#[twin(from Note)]`, or read as
/// one, `#[twin(into Facing)]`, variant for variant.
#[proc_macro_derive(Twin, attributes(twin))]
pub fn twin(input: TokenStream) -> TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    finished(twin::twin(&input))
}

/// A quantity made of a field: `read!(FocalLength::new, request.focal_length_mm)`,
/// or a refusal of that field, whose name stands nowhere else.
/// `request.field?` may be absent, and `request.field else USUAL` is `USUAL` then;
/// `in lens.field` is refused as `lens.field`. A range alone reads a number,
/// `Stops::new of Bounds::ALLOWED_CHANGE` a quantity held to it.
#[proc_macro]
pub fn read(input: TokenStream) -> TokenStream {
    parse_macro_input!(input as given::GivenField).read().into()
}

fn finished(made: syn::Result<proc_macro2::TokenStream>) -> TokenStream {
    made.unwrap_or_else(|error| error.to_compile_error()).into()
}
