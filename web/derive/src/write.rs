//! The writer of a type.

use crate::shape::{Shape, Skipped};
use proc_macro2::TokenStream;
use quote::quote;
use syn::{DeriveInput, Result};

pub(crate) fn writer(input: &DeriveInput) -> Result<TokenStream> {
    let body = match Shape::of(input)? {
        Shape::Record { fields, .. } => {
            let count = fields.len();
            let puts = fields.iter().map(|field| {
                let (name, ident) = (&field.name, &field.ident);
                match field.skipped {
                    None => quote!(record.put(#name, &self.#ident);),
                    Some(Skipped::Nothing) => quote!(record.put_some(#name, &self.#ident);),
                    Some(Skipped::EmptyList) => quote!(record.put_list(#name, &self.#ident);),
                }
            });
            quote! {
                let mut record = crate::plain::writing::Record::of(#count);
                #(#puts)*
                record.done()
            }
        }
        Shape::Words(words) => {
            let arms = words
                .iter()
                .map(|(ident, name)| quote!(Self::#ident => #name,));
            quote!(crate::plain::writing::text_of(match self { #(#arms)* }))
        }
        Shape::OneOf(variants) => {
            let arms = variants.iter().map(|(ident, _)| {
                quote!(Self::#ident(value) => crate::plain::writing::ToPlain::to_plain(value),)
            });
            quote!(match self { #(#arms)* })
        }
        Shape::Inside(_) => quote!(crate::plain::writing::ToPlain::to_plain(&self.0)),
    };
    let ident = &input.ident;
    Ok(quote! {
        impl crate::plain::writing::ToPlain for #ident {
            fn to_plain(&self) -> crate::plain::tree::Tree {
                #body
            }
        }
    })
}
