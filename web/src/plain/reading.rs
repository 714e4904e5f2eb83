//! A request as a plain tree, read into its shape with the path of what is wrong.
//!
//! Reading straight from JavaScript would pass over unknown fields and lose
//! where a fault lies; a tree keeps both, and a number that is not finite too.
//!
//! A shape is always read to its end: the first fault is noted, something stands
//! in for what was wrong, and whoever asked throws all of it away. So no field
//! needs a way out of its own, which made half of the code of each shape.

use super::tree::Tree;

/// What is wrong, and where.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Fault {
    pub(crate) kind: FaultKind,
    /// Path of the field, as `kit[2].density`.
    pub(crate) path: String,
}

/// What is wrong with a field.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum FaultKind {
    Unknown,
    Missing,
    WrongType(Option<Tree>),
    /// A word that is none of those that would do.
    WrongWord(Tree, &'static [&'static str]),
    /// Deeper than any request is.
    TooDeep,
    /// More values or characters than any request has.
    TooMuch {
        given: usize,
        most: usize,
    },
}

impl Fault {
    #[inline(never)]
    pub(crate) fn new(kind: FaultKind, path: &str) -> Self {
        Self {
            kind,
            path: path.to_owned(),
        }
    }

    /// The same fault seen from one level further out.
    #[inline(never)]
    pub(crate) fn inside(mut self, outer: &str) -> Self {
        let path = &mut self.path;
        if !path.is_empty() && !path.starts_with('[') {
            path.insert(0, '.');
        }
        path.insert_str(0, outer);
        self
    }

    #[inline(never)]
    pub(crate) fn inside_item(self, item: usize) -> Self {
        self.inside(&format!("[{item}]"))
    }
}

/// What is read from a plain value.
pub(crate) trait FromPlain: Sized {
    /// Whether it may be left out of a record.
    const MAY_BE_NOTHING: bool = false;

    /// Reads it, or notes what is wrong and gives anything.
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self;
}

/// Reads a tree as a request.
pub(crate) fn read<Q: FromPlain>(tree: &Tree) -> Result<Q, Fault> {
    let mut noted = Noted::default();
    let request = Q::from_plain(tree, &mut noted);
    match noted.fault {
        Some(fault) => Err(*fault),
        None => Ok(request),
    }
}

/// The value, if nothing is wrong with it.
pub(crate) fn tried<T: FromPlain>(tree: &Tree) -> Option<T> {
    read(tree).ok()
}

/// Stands where a field was left out.
static NOTHING: Tree = Tree::Nothing;

/// The first fault of a request.
#[derive(Debug, Default)]
pub(crate) struct Noted {
    fault: Option<Box<Fault>>,
    /// How many fields that are left out are just being stood in for: nothing is
    /// wrong with what nobody gave.
    standing_in: u8,
}

// Out of line, each: what does not depend on a shape must not be compiled into
// all of them.
impl Noted {
    #[inline(never)]
    fn note(&mut self, kind: FaultKind, path: &str) {
        if self.fault.is_none() && self.standing_in == 0 {
            self.fault = Some(Box::new(Fault::new(kind, path)));
        }
    }

    /// What was noted since it was sound, seen from one level further out.
    #[inline(never)]
    fn inside(&mut self, was_sound: bool, outer: &str) {
        if was_sound && let Some(fault) = self.fault.take() {
            self.fault = Some(Box::new(fault.inside(outer)));
        }
    }

    /// The tree is none of what it could be.
    #[inline(never)]
    pub(crate) fn wrong(&mut self, tree: &Tree) {
        self.note(FaultKind::WrongType(Some(tree.clone())), "");
    }

    /// Which of the words stands here.
    #[inline(never)]
    pub(crate) fn word(&mut self, tree: &Tree, words: &'static [&'static str]) -> usize {
        let Tree::Text(text) = tree else {
            self.wrong(tree);
            return 0;
        };
        place_of(text, words).unwrap_or_else(|| {
            self.note(FaultKind::WrongWord(tree.clone(), words), "");
            0
        })
    }

    /// A whole number up to `most`, which is no further from zero than any count.
    #[inline(never)]
    fn whole(&mut self, tree: &Tree, least: f64, most: f64) -> f64 {
        match *tree {
            Tree::Number(n) if (least..=most).contains(&n) && n % 1.0 == 0.0 => n,
            _ => {
                self.wrong(tree);
                0.0
            }
        }
    }

    #[inline(never)]
    fn items<'t>(&mut self, tree: &'t Tree) -> &'t [Tree] {
        if let Tree::List(items) = tree {
            return items;
        }
        self.wrong(tree);
        &[]
    }
}

#[inline(never)]
fn place_of(name: &str, names: &'static [&'static str]) -> Option<usize> {
    names.iter().position(|known| *known == name)
}

const fn is_given(tree: &Tree) -> bool {
    !matches!(tree, Tree::Nothing)
}

/// The values of a record by the places of their names.
pub(crate) struct Fields<'a, 't> {
    names: &'static [&'static str],
    values: &'a [Option<&'t Tree>],
    noted: &'a mut Noted,
    /// The first that is missing, told if nothing else is wrong.
    missing: Option<&'static str>,
    was_sound: bool,
}

impl<'a, 't> Fields<'a, 't> {
    /// Looks all names up: a shape sees only the place of a field in its list.
    #[inline(never)]
    pub(crate) fn of(
        tree: &'t Tree,
        names: &'static [&'static str],
        values: &'a mut [Option<&'t Tree>],
        noted: &'a mut Noted,
    ) -> Self {
        match tree {
            Tree::Record(fields) => {
                // A field that is set to nothing is a field left out.
                for (name, value) in fields.iter().filter(|field| is_given(&field.1)) {
                    match place_of(name, names) {
                        None => noted.note(FaultKind::Unknown, name),
                        Some(place) if values[place].is_some() => {
                            noted.note(FaultKind::WrongType(Some(tree.clone())), name);
                        }
                        Some(place) => values[place] = Some(value),
                    }
                }
            }
            _ => noted.wrong(tree),
        }
        Self {
            names,
            values,
            noted,
            missing: None,
            was_sound: true,
        }
    }

    #[inline(never)]
    fn enter(&mut self, nth: usize, may_be_nothing: bool) -> &'t Tree {
        self.was_sound = self.noted.fault.is_none();
        if let Some(value) = self.values[nth] {
            return value;
        }
        if !may_be_nothing {
            self.missing.get_or_insert(self.names[nth]);
        }
        self.noted.standing_in += 1;
        &NOTHING
    }

    #[inline(never)]
    fn leave(&mut self, nth: usize) {
        if self.values[nth].is_none() {
            self.noted.standing_in -= 1;
        }
        self.noted.inside(self.was_sound, self.names[nth]);
    }

    /// A field that must be there, unless it may be nothing.
    #[inline(never)]
    pub(crate) fn needed<T: FromPlain>(&mut self, nth: usize) -> T {
        let tree = self.enter(nth, T::MAY_BE_NOTHING);
        let value = T::from_plain(tree, self.noted);
        self.leave(nth);
        value
    }

    /// A field that stands for this when it is left out.
    pub(crate) fn or<T: FromPlain>(&mut self, nth: usize, left_out: T) -> T {
        if self.values[nth].is_some() {
            self.needed(nth)
        } else {
            left_out
        }
    }

    /// A field that stands for the least there is when it is left out.
    #[inline(never)]
    pub(crate) fn or_default<T: FromPlain + Default>(&mut self, nth: usize) -> T {
        if self.values[nth].is_some() {
            self.needed(nth)
        } else {
            T::default()
        }
    }
}

impl Drop for Fields<'_, '_> {
    fn drop(&mut self) {
        if let Some(name) = self.missing {
            self.noted.note(FaultKind::Missing, name);
        }
    }
}

impl FromPlain for Tree {
    fn from_plain(tree: &Tree, _: &mut Noted) -> Self {
        tree.clone()
    }
}

impl FromPlain for bool {
    #[inline(never)]
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        if let Tree::Bool(yes) = tree {
            return *yes;
        }
        noted.wrong(tree);
        false
    }
}

impl FromPlain for f64 {
    #[inline(never)]
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        if let Tree::Number(number) = tree {
            return *number;
        }
        noted.wrong(tree);
        0.0
    }
}

impl FromPlain for String {
    #[inline(never)]
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        if let Tree::Text(text) = tree {
            return text.clone();
        }
        noted.wrong(tree);
        Self::new()
    }
}

/// Whole numbers: each from its least to its most, or to what no count passes.
macro_rules! whole {
    ($($kind:ty: $least:expr, $most:expr;)*) => { $(
        impl FromPlain for $kind {
            fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
                #[allow(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "whole and within what the kind holds"
                )]
                let number = noted.whole(tree, $least, $most) as Self;
                number
            }
        }
    )* };
}

whole! {
    u8: 0.0, f64::from(Self::MAX);
    u32: 0.0, f64::from(Self::MAX);
    usize: 0.0, f64::from(u32::MAX);
    i32: f64::from(Self::MIN), f64::from(Self::MAX);
}

impl<T: FromPlain> FromPlain for Option<T> {
    const MAY_BE_NOTHING: bool = true;

    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        match tree {
            Tree::Nothing => None,
            _ => Some(T::from_plain(tree, noted)),
        }
    }
}

impl<T: FromPlain> FromPlain for Box<T> {
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        Self::new(T::from_plain(tree, noted))
    }
}

impl<T: FromPlain> FromPlain for Vec<T> {
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        let items = noted.items(tree);
        let mut list = Self::with_capacity(items.len());
        for (nth, item) in items.iter().enumerate() {
            list.push(item_of(item, nth, noted));
        }
        list
    }
}

impl<T: FromPlain, const N: usize> FromPlain for [T; N] {
    fn from_plain(tree: &Tree, noted: &mut Noted) -> Self {
        let items = noted.items(tree);
        if items.len() != N {
            noted.wrong(tree);
        }
        std::array::from_fn(|nth| item_of(items.get(nth).unwrap_or(&NOTHING), nth, noted))
    }
}

#[inline(never)]
fn item_of<T: FromPlain>(item: &Tree, nth: usize, noted: &mut Noted) -> T {
    let was_sound = noted.fault.is_none();
    let value = T::from_plain(item, noted);
    if was_sound && let Some(fault) = noted.fault.take() {
        noted.fault = Some(Box::new(fault.inside_item(nth)));
    }
    value
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Fault, FaultKind, Tree, read};
    use crate::OpenUpRequest;

    fn record(fields: &[(&str, Tree)]) -> Tree {
        let field = |(name, tree): &(&str, Tree)| ((*name).to_owned(), tree.clone());
        Tree::Record(fields.iter().map(field).collect())
    }

    fn settings(aperture: Tree) -> Tree {
        record(&[
            ("aperture", aperture),
            ("exposureIndex", Tree::Number(800.0)),
            ("frameRate", Tree::Number(24.0)),
            ("shutterAngleDeg", Tree::Number(180.0)),
            ("shutterSeconds", Tree::Nothing),
        ])
    }

    fn fault(fields: &[(&str, Tree)]) -> Fault {
        read::<OpenUpRequest>(&record(fields)).unwrap_err()
    }

    #[test]
    fn a_request_is_read() {
        let shot = settings(Tree::Number(2.8));
        let kit = record(&[
            ("id", Tree::Text("a".into())),
            ("kind", Tree::Text("nd".into())),
            ("density", Tree::Number(0.3)),
            ("count", Tree::Number(2.0)),
        ]);
        let tree = record(&[
            ("reading", settings(Tree::Number(16.0))),
            ("shot", shot),
            ("kit", Tree::List(vec![kit])),
        ]);
        let request: OpenUpRequest = read(&tree).unwrap();
        assert_eq!(request.kit[0].count, 2);
        assert_eq!(request.reading.aperture, 16.0);
    }

    #[test]
    fn faults_name_their_place() {
        let good = || settings(Tree::Number(2.8));
        let wrong = fault(&[
            ("reading", settings(Tree::Text("x".into()))),
            ("shot", good()),
        ]);
        assert_eq!(wrong.path, "reading.aperture");
        assert_eq!(
            wrong.kind,
            FaultKind::WrongType(Some(Tree::Text("x".into())))
        );
        let missing = fault(&[("reading", good())]);
        assert_eq!(
            (missing.path.as_str(), missing.kind),
            ("shot", FaultKind::Missing)
        );
        let piece = record(&[("colour", Tree::Bool(true))]);
        let unknown = fault(&[("kit", Tree::List(vec![piece]))]);
        assert_eq!(
            (unknown.path.as_str(), unknown.kind),
            ("kit[0].colour", FaultKind::Unknown)
        );
    }

    #[test]
    fn of_several_faults_a_wrong_field_is_told_before_a_missing_one() {
        let unknown = fault(&[
            ("reading", settings(Tree::Text("x".into()))),
            ("kat", Tree::List(Vec::new())),
        ]);
        assert_eq!(
            (unknown.path.as_str(), unknown.kind),
            ("kat", FaultKind::Unknown)
        );
        let wrong = fault(&[("shot", settings(Tree::Text("x".into())))]);
        assert_eq!(wrong.path, "shot.aperture");
        let twice = fault(&[("kit", Tree::List(Vec::new())), ("kit", Tree::Bool(true))]);
        assert_eq!(twice.path, "kit");
        assert!(matches!(
            twice.kind,
            FaultKind::WrongType(Some(Tree::Record(_)))
        ));
    }

    #[test]
    fn what_is_left_out_is_not_read_and_not_at_fault() {
        let piece = record(&[("id", Tree::Text("a".into())), ("size", Tree::Nothing)]);
        let missing = fault(&[("kit", Tree::List(vec![piece]))]);
        assert_eq!(
            (missing.path.as_str(), missing.kind),
            ("kit[0].kind", FaultKind::Missing)
        );
    }

    #[test]
    fn a_count_is_whole() {
        let half = record(&[("id", Tree::Text("a".into())), ("count", Tree::Number(1.5))]);
        let wrong = fault(&[("kit", Tree::List(vec![half]))]);
        assert_eq!(wrong.path, "kit[0].count");
    }
}
