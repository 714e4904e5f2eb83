//! What a question tells by a name of its own, made from what the core has.

use proc_macro2::{Ident, TokenStream};
use quote::quote;
use syn::parse::{Parse, ParseStream};
use syn::{Attribute, Data, DeriveInput, Error, Path, Result};

/// `from Note`: told of it; `into Facing`: read as it.
struct Other {
    is_told: bool,
    path: Path,
}

impl Parse for Other {
    fn parse(input: ParseStream<'_>) -> Result<Self> {
        let way: Ident = input.parse()?;
        let is_told = way == "from";
        if !is_told && way != "into" {
            return Err(Error::new(way.span(), "`from` or `into`"));
        }
        let path = input.parse()?;
        Ok(Self { is_told, path })
    }
}

/// Variants of the same names, but for those that say another:
/// `#[twin(NeutralDensity)]`.
pub(crate) fn twin(input: &DeriveInput) -> Result<TokenStream> {
    let own = &input.ident;
    let Data::Enum(data) = &input.data else {
        return Err(Error::new_spanned(own, "no enum"));
    };
    let said = said(&input.attrs)
        .ok_or_else(|| Error::new_spanned(own, "`#[twin(from …)]` is missing"))?;
    let Other { is_told, path } = said.parse_args()?;
    let names: Vec<_> = data.variants.iter().map(|one| &one.ident).collect();
    let others = (data.variants.iter())
        .map(|one| said_name(&one.attrs, &one.ident))
        .collect::<Result<Vec<_>>>()?;
    Ok(if is_told {
        quote! {
            impl From<#path> for #own {
                fn from(other: #path) -> Self {
                    match other { #(#path::#others => Self::#names,)* }
                }
            }
        }
    } else {
        quote! {
            impl From<#own> for #path {
                fn from(name: #own) -> Self {
                    match name { #(#own::#names => Self::#others,)* }
                }
            }
        }
    })
}

fn said(attributes: &[Attribute]) -> Option<&Attribute> {
    attributes.iter().find(|one| one.path().is_ident("twin"))
}

fn said_name(attributes: &[Attribute], own: &Ident) -> Result<Ident> {
    said(attributes).map_or_else(|| Ok(own.clone()), Attribute::parse_args)
}
