//! What a type says of itself: its names as JavaScript knows them, and what
//! stands for a field that is left out.

use syn::ext::IdentExt as _;
use syn::punctuated::Punctuated;
use syn::{
    Attribute, Data, DeriveInput, Error, Expr, ExprPath, Fields, Ident, LitStr, Result, Token, Type,
};

/// A type that travels as a plain value.
pub(crate) enum Shape {
    /// A record; with `whole`, what is left out comes from the type's default.
    Record { fields: Vec<Field>, whole: bool },
    /// One of some words.
    Words(Vec<(Ident, String)>),
    /// The first of these that it can be read as.
    OneOf(Vec<(Ident, Type)>),
    /// What it holds.
    Inside(Type),
}

/// A field of a record.
pub(crate) struct Field {
    pub(crate) ident: Ident,
    pub(crate) name: String,
    pub(crate) left_out: LeftOut,
    pub(crate) skipped: Option<Skipped>,
}

/// What stands for a field that is left out.
pub(crate) enum LeftOut {
    /// Nothing does, unless the type itself may be nothing.
    Needed,
    /// The type's default.
    Default,
    /// What this gives.
    Given(ExprPath),
}

/// When a field is not written.
pub(crate) enum Skipped {
    Nothing,
    EmptyList,
}

impl Shape {
    pub(crate) fn of(input: &DeriveInput) -> Result<Self> {
        let said = Said::of(&input.attrs)?;
        match &input.data {
            Data::Struct(data) => match &data.fields {
                Fields::Named(fields) => Ok(Self::Record {
                    fields: (fields.named.iter())
                        .map(|field| Field::of(field, said.camel))
                        .collect::<Result<_>>()?,
                    whole: said.left_out.is_some(),
                }),
                Fields::Unnamed(fields) if fields.unnamed.len() == 1 && said.transparent => {
                    Ok(Self::Inside(fields.unnamed[0].ty.clone()))
                }
                _ => Err(Error::new_spanned(&input.ident, "no plain value")),
            },
            Data::Enum(data) if said.untagged => (data.variants.iter())
                .map(|variant| match &variant.fields {
                    Fields::Unnamed(one) if one.unnamed.len() == 1 => {
                        Ok((variant.ident.clone(), one.unnamed[0].ty.clone()))
                    }
                    _ => Err(Error::new_spanned(variant, "holds one value")),
                })
                .collect::<Result<_>>()
                .map(Self::OneOf),
            Data::Enum(data) => (data.variants.iter())
                .map(|variant| match &variant.fields {
                    Fields::Unit => {
                        let own = Said::of(&variant.attrs)?.rename;
                        let name = variant.ident.to_string();
                        let name = if said.camel { lowered(&name) } else { name };
                        Ok((variant.ident.clone(), own.unwrap_or(name)))
                    }
                    _ => Err(Error::new_spanned(variant, "a word holds nothing")),
                })
                .collect::<Result<_>>()
                .map(Self::Words),
            Data::Union(_) => Err(Error::new_spanned(&input.ident, "no plain value")),
        }
    }
}

impl Field {
    fn of(field: &syn::Field, camel: bool) -> Result<Self> {
        let said = Said::of(&field.attrs)?;
        let ident = (field.ident.clone()).ok_or_else(|| Error::new_spanned(field, "no name"))?;
        let name = ident.unraw().to_string();
        let name = if camel { joined(&name) } else { name };
        Ok(Self {
            name: said.rename.unwrap_or(name),
            ident,
            left_out: said.left_out.unwrap_or(LeftOut::Needed),
            skipped: said.skipped,
        })
    }
}

/// What `#[serde(…)]` says.
#[derive(Default)]
struct Said {
    camel: bool,
    untagged: bool,
    transparent: bool,
    rename: Option<String>,
    left_out: Option<LeftOut>,
    skipped: Option<Skipped>,
}

impl Said {
    fn of(attributes: &[Attribute]) -> Result<Self> {
        let mut said = Self::default();
        for attribute in attributes.iter().filter(|one| one.path().is_ident("serde")) {
            let metas =
                attribute.parse_args_with(Punctuated::<syn::Meta, Token![,]>::parse_terminated)?;
            for meta in &metas {
                said.take(meta)?;
            }
        }
        Ok(said)
    }

    fn take(&mut self, meta: &syn::Meta) -> Result<()> {
        let strange = || Error::new_spanned(meta, "not known here");
        let name = meta.path().require_ident()?.to_string();
        let text = match meta {
            syn::Meta::NameValue(pair) => Some(text_of(&pair.value).ok_or_else(strange)?),
            _ => None,
        };
        match (name.as_str(), text) {
            ("rename_all", Some(text)) if text.value() == "camelCase" => self.camel = true,
            // Every reader refuses what it does not know.
            ("deny_unknown_fields", None) => {}
            ("untagged", None) => self.untagged = true,
            ("transparent", None) => self.transparent = true,
            ("rename", Some(text)) => self.rename = Some(text.value()),
            ("default", None) => self.left_out = Some(LeftOut::Default),
            ("default", Some(text)) => self.left_out = Some(LeftOut::Given(text.parse()?)),
            ("skip_serializing_if", Some(text)) => {
                self.skipped = Some(match text.value().as_str() {
                    "Option::is_none" => Skipped::Nothing,
                    "Vec::is_empty" => Skipped::EmptyList,
                    _ => return Err(strange()),
                });
            }
            _ => return Err(strange()),
        }
        Ok(())
    }
}

fn text_of(value: &Expr) -> Option<&LitStr> {
    match value {
        Expr::Lit(syn::ExprLit {
            lit: syn::Lit::Str(text),
            ..
        }) => Some(text),
        _ => None,
    }
}

/// `front_diameter_mm` as `frontDiameterMm`.
pub(crate) fn joined(name: &str) -> String {
    let mut parts = name.split('_');
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |joined, part| {
        let mut letters = part.chars();
        let head = letters.next().map(|letter| letter.to_ascii_uppercase());
        joined + &head.into_iter().chain(letters).collect::<String>()
    })
}

/// `CloseUp` as `closeUp`.
fn lowered(name: &str) -> String {
    let mut letters = name.chars();
    let head = letters.next().map(|letter| letter.to_ascii_lowercase());
    head.into_iter().chain(letters).collect()
}
