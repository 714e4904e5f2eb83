//! A quantity made of a field of a request.

use crate::shape::joined;
use proc_macro2::{Ident, TokenStream};
use quote::quote;
use syn::ext::IdentExt as _;
use syn::parse::{Parse, ParseStream};
use syn::{Path, Result, Token};

/// `FocalLength::new, request.lens.focal_length_mm`, with `?` where it may be absent.
pub(crate) struct GivenField {
    make: Path,
    request: Ident,
    fields: Vec<Ident>,
    optional: bool,
}

impl Parse for GivenField {
    fn parse(input: ParseStream<'_>) -> Result<Self> {
        let make = input.parse()?;
        input.parse::<Token![,]>()?;
        let request = input.call(Ident::parse_any)?;
        let mut fields = Vec::new();
        while fields.is_empty() || input.peek(Token![.]) {
            input.parse::<Token![.]>()?;
            fields.push(input.parse()?);
        }
        let optional = input.parse::<Option<Token![?]>>()?.is_some();
        Ok(Self {
            make,
            request,
            fields,
            optional,
        })
    }
}

impl GivenField {
    /// The quantity, or a refusal of the field by its name outside.
    pub(crate) fn read(&self) -> TokenStream {
        let Self {
            make,
            request,
            fields,
            optional,
        } = self;
        let names: Vec<_> = (fields.iter())
            .map(|field| joined(&field.unraw().to_string()))
            .collect();
        let name = names.join(".");
        let made = if *optional {
            quote!(#request #(.#fields)* .map(#make).transpose())
        } else {
            quote!(#make(#request #(.#fields)*))
        };
        quote!(crate::plain::refusal::At::at(#made, #name))
    }
}
