//! `writeCase` and `readCase`: the case as a file, and back without loss.

mod checks;
mod csv;
mod day_records;
mod json;
mod lens_record;
mod lists;
mod records;
mod spreadsheet;

pub use day_records::{CaseDay, CaseSetUp, CaseWant, NeedsFrom};
pub use lens_record::{CaseCards, CaseLens, CasePupil, PupilBy, PupilWay};
pub use lists::CaseContent;
pub use records::{
    CaseBody, CaseMode, CaseOpening, CasePlate, CaseRig, CaseSlot, CaseWheel, MountName,
};

use crate::plain::reading::{FromPlain, read as read_tree};
use crate::plain::refusal::{Code, Refusal};
use crate::plain::tree::Tree;
use glasscall_core::sorted::sort_by_key;
use glasscall_derive::{FromPlain, ToPlain};
use lists::{LISTS, Names};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// What a case file calls itself.
const FORMAT: &str = "glasscall-case";
/// The version this build writes and reads.
const VERSION: f64 = 1.0;
/// Longest file that is read, in bytes.
const LONGEST: usize = 4_000_000;

/// How a case is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum CaseForm {
    /// JSON with its own schema, `case.schema.json`.
    Json,
    /// One table after RFC 4180.
    Csv,
}

/// A case to write.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct WriteCaseRequest {
    /// What is in the case.
    pub case: CaseContent,
    /// How to write it.
    #[serde(rename = "as")]
    pub form: CaseForm,
}

/// The file.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct WriteCaseReply {
    /// Its text, UTF-8.
    pub text: String,
}

/// A file to read.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct ReadCaseRequest {
    /// Its text; JSON begins with a brace, anything else is a table.
    pub text: String,
    /// Whether to take what is sound of a damaged file. Otherwise one bad line
    /// refuses the whole file.
    #[serde(default)]
    pub take_part: bool,
}

/// What a file holds.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct ReadCaseReply {
    /// What was read.
    pub case: CaseContent,
    /// Lines that were left out, each with its refusal; only where asked for.
    pub skipped: Vec<Refusal>,
}

/// One record of a file.
struct Entry {
    line: usize,
    list: &'static str,
    tree: Tree,
}

/// A fault of the text itself.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Damage {
    line: usize,
    /// What is wrong, where that is known.
    field: String,
}

impl Damage {
    fn new(line: usize, field: &str) -> Self {
        Self {
            line,
            field: field.to_owned(),
        }
    }

    fn refusal(&self) -> Refusal {
        Refusal::new(Code::Damaged, &self.field).on_line(self.line)
    }
}

/// What a file holds before anything is checked.
#[derive(Default)]
struct Sheet {
    entries: Vec<Entry>,
    /// Rows that are no records.
    bad_rows: Vec<Damage>,
    /// Where the text breaks off.
    damage: Option<Damage>,
}

/// Answers `writeCase`.
///
/// # Errors
///
/// As for the records of the case: `outOfRange`, `missing`, `duplicate`,
/// `unknownName`.
pub fn write_case(request: &WriteCaseRequest) -> Result<WriteCaseReply, Refusal> {
    let case = &request.case;
    case.check()?;
    let lists = case.trees();
    Ok(WriteCaseReply {
        text: match request.form {
            CaseForm::Json => json::write(&lists),
            CaseForm::Csv => csv::write(&lists),
        },
    })
}

/// Answers `readCase`.
///
/// # Errors
///
/// `damaged` with the `line` where the text is broken; otherwise the first bad
/// record's refusal with its `line`. With `takePart` only a file too long.
pub fn read_case(request: &ReadCaseRequest) -> Result<ReadCaseReply, Refusal> {
    let text = &request.text;
    if text.len() > LONGEST {
        return Err(Refusal::too_many("text", text.len(), LONGEST));
    }
    let is_json = text
        .trim_start_matches('\u{feff}')
        .trim_start()
        .starts_with('{');
    let sheet = if is_json {
        json::read(text)
    } else {
        csv::read(text)
    };
    let mut taking = Taking::default();
    for entry in &sheet.entries {
        if let Err(refusal) = taking.take(entry) {
            taking.skipped.push(refusal);
        }
    }
    taking
        .skipped
        .extend(sheet.bad_rows.iter().map(Damage::refusal));
    taking
        .skipped
        .extend(sheet.damage.iter().map(Damage::refusal));
    sort_by_key(&mut taking.skipped, |refusal| refusal.line);
    match taking.skipped.first() {
        Some(first) if !request.take_part => Err(first.clone()),
        _ => Ok(ReadCaseReply {
            case: taking.case,
            skipped: taking.skipped,
        }),
    }
}

/// A case that grows record by record.
#[derive(Default)]
struct Taking {
    case: CaseContent,
    skipped: Vec<Refusal>,
    names: Names,
    /// How many records of each list came before, the bad ones included.
    counts: [usize; LISTS.len()],
}

impl Taking {
    fn take(&mut self, entry: &Entry) -> Result<(), Refusal> {
        let nth = LISTS.iter().position(|name| *name == entry.list);
        let count = nth.and_then(|nth| self.counts.get_mut(nth));
        let before = count.map_or(0, |count| core::mem::replace(count, *count + 1));
        let path = format!("{}[{before}]", entry.list);
        self.case
            .put(&mut self.names, entry, &path)
            .map_err(|refusal| refusal.on_line(entry.line))
    }
}

/// A record of a case.
trait Record: FromPlain {
    /// What its own fields must keep to.
    fn check(&self, path: &str) -> Result<(), Refusal>;

    /// Its name, used once in its list, or once within what it belongs to.
    fn name(&self) -> Option<String>;

    /// The list, field and name of what it belongs to.
    fn belongs_to(&self) -> Option<(&'static str, &'static str, &str)> {
        None
    }
}

fn put<T: Record>(
    records: &mut Vec<T>,
    names: &mut Names,
    entry: &Entry,
    path: &str,
) -> Result<(), Refusal> {
    let record: T = read_tree(&entry.tree).map_err(|fault| Refusal::from(fault).inside(path))?;
    allowed(&record, names, entry.list, path)?;
    records.push(record);
    Ok(())
}

/// Checks a record and notes its name.
fn allowed<T: Record>(
    record: &T,
    names: &mut Names,
    list: &'static str,
    path: &str,
) -> Result<(), Refusal> {
    record.check(path)?;
    if let Some((owners, field, owner)) = record.belongs_to()
        && !names.contains(&(owners, owner.to_owned()))
    {
        return Err(Refusal::new(Code::UnknownName, &format!("{path}.{field}")).given(owner));
    }
    if let Some(name) = record.name() {
        let shown = name.rsplit('\u{0}').next().unwrap_or_default().to_owned();
        if !names.insert((list, name)) {
            return Err(Refusal::new(Code::Duplicate, &format!("{path}.id")).given(&shown));
        }
    }
    Ok(())
}
