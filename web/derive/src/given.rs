//! A quantity made of a field of a request.

use crate::shape::joined;
use proc_macro2::{Ident, TokenStream};
use quote::quote;
use syn::ext::IdentExt as _;
use syn::parse::{Parse, ParseStream};
use syn::{Expr, Path, Result, Token, custom_keyword};

custom_keyword!(of);

/// `FocalLength::new, request.lens.focal_length_mm`; `?` or `else` and a value
/// behind it where it may be absent, `in` before it where the request itself is
/// a field of that name. What makes it may be held to a narrower range,
/// `Stops::new of Bounds::ALLOWED_CHANGE`, or be a range alone.
pub(crate) struct GivenField {
    make: Path,
    range: Option<Path>,
    inside: bool,
    request: Ident,
    fields: Vec<Ident>,
    optional: bool,
    usual: Option<Expr>,
}

impl Parse for GivenField {
    fn parse(input: ParseStream<'_>) -> Result<Self> {
        let make = input.parse()?;
        let range = (input.parse::<Option<of>>()?)
            .map(|_| input.parse())
            .transpose()?;
        input.parse::<Token![,]>()?;
        let inside = input.parse::<Option<Token![in]>>()?.is_some();
        let request = input.call(Ident::parse_any)?;
        let mut fields = Vec::new();
        while fields.is_empty() || input.peek(Token![.]) {
            input.parse::<Token![.]>()?;
            fields.push(input.parse()?);
        }
        let optional = input.parse::<Option<Token![?]>>()?.is_some();
        let has_usual = input.parse::<Option<Token![else]>>()?.is_some();
        let usual = has_usual.then(|| input.parse()).transpose()?;
        Ok(Self {
            make,
            range,
            inside,
            request,
            fields,
            optional,
            usual,
        })
    }
}

impl GivenField {
    /// The quantity, or a refusal of the field by its name outside.
    pub(crate) fn read(&self) -> TokenStream {
        let Self {
            make,
            range,
            inside,
            request,
            fields,
            optional,
            usual,
        } = self;
        // A constant, by its capitals, is a range.
        let is_range = (make.segments.last()).is_some_and(|last| {
            let name = last.ident.to_string();
            name == name.to_uppercase()
        });
        let make = match range {
            Some(range) => quote!((|given| #range.check(given).and_then(#make))),
            None if is_range => quote!((|given| #make.check(given))),
            None => quote!(#make),
        };
        let outer = inside.then_some(request);
        let names: Vec<_> = (outer.into_iter().chain(fields))
            .map(|field| joined(&field.unraw().to_string()))
            .collect();
        let name = names.join(".");
        let made = if *optional {
            quote!(#request #(.#fields)* .map(#make).transpose())
        } else if let Some(usual) = usual {
            quote!(#make(#request #(.#fields)* .unwrap_or(#usual)))
        } else {
            quote!(#make(#request #(.#fields)*))
        };
        quote!(crate::plain::refusal::At::at(#made, #name))
    }
}
