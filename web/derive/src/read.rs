//! The reader of a type.

use crate::shape::{Field, LeftOut, Shape};
use proc_macro2::TokenStream;
use quote::quote;
use syn::{DeriveInput, Result};

pub(crate) fn reader(input: &DeriveInput) -> Result<TokenStream> {
    let body = match Shape::of(input)? {
        Shape::Record { fields, whole } => record(&fields, whole),
        Shape::Words(words) => {
            let names = words.iter().map(|(_, name)| name);
            let (last, before) = words
                .split_last()
                .ok_or_else(|| syn::Error::new_spanned(&input.ident, "no words"))?;
            let (places, idents) = (0_usize.., before.iter().map(|(ident, _)| ident));
            let arms = places
                .zip(idents)
                .map(|(place, ident)| quote!(#place => Self::#ident,));
            let last = &last.0;
            quote! {
                const WORDS: &[&str] = &[#(#names),*];
                match noted.word(tree, WORDS) {
                    #(#arms)*
                    _ => Self::#last,
                }
            }
        }
        Shape::OneOf(variants) => one_of(&variants),
        Shape::Inside(ty) => {
            quote!(Self(<#ty as crate::plain::reading::FromPlain>::from_plain(tree, noted)))
        }
    };
    let ident = &input.ident;
    Ok(quote! {
        impl crate::plain::reading::FromPlain for #ident {
            fn from_plain(
                tree: &crate::plain::tree::Tree,
                noted: &mut crate::plain::reading::Noted,
            ) -> Self {
                #body
            }
        }
    })
}

fn record(fields: &[Field], whole: bool) -> TokenStream {
    let count = fields.len();
    let names = fields.iter().map(|field| &field.name);
    let read = fields.iter().enumerate().map(|(nth, field)| {
        let ident = &field.ident;
        match &field.left_out {
            _ if whole => quote!(#ident: fields.or(#nth, whole.#ident)),
            LeftOut::Needed => quote!(#ident: fields.needed(#nth)),
            LeftOut::Default => quote!(#ident: fields.or_default(#nth)),
            LeftOut::Given(path) => quote!(#ident: fields.or(#nth, #path())),
        }
    });
    let whole = whole.then(|| quote!(let whole = <Self as Default>::default();));
    quote! {
        const NAMES: &[&str] = &[#(#names),*];
        let mut values = [None; #count];
        let mut fields =
            crate::plain::reading::Fields::of(tree, NAMES, &mut values, noted);
        #whole
        Self { #(#read),* }
    }
}

/// The first that nothing is wrong with.
fn one_of(variants: &[(syn::Ident, syn::Type)]) -> TokenStream {
    let tries = variants.iter().map(|(ident, ty)| {
        quote! {
            if let Some(value) = crate::plain::reading::tried::<#ty>(tree) {
                return Self::#ident(value);
            }
        }
    });
    let last = variants.iter().take(1).map(|(ident, ty)| {
        quote! {
            noted.wrong(tree);
            Self::#ident(<#ty as crate::plain::reading::FromPlain>::from_plain(tree, noted))
        }
    });
    quote!(#(#tries)* #(#last)*)
}
