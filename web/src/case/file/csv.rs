//! The case as one table: a record to a row, a field to a column.

use super::spreadsheet::{marked, plain, unmarked, with_point};
use super::{Damage, Entry, LISTS, Sheet};
use crate::plain::tree::Tree;
use glasscall_core::sorted::sort_by_key;
use glasscall_core::spoken::write_decimal;

/// The column that says which list a row belongs to; without it rows are pieces.
const LIST: &str = "list";

/// Reads a table. Columns may stand in any order and be left out; a field inside
/// a field is named with a point, an item of a list by its number from 1. Rows before a fault are kept, so that part of
/// the file can be taken.
///
/// # Source
///
/// RFC 4180, Common Format and MIME Type for CSV Files. Besides CRLF a bare LF
/// ends a row, and an empty row is passed over. Spreadsheets of some countries
/// part cells by a semicolon, because a comma is their decimal sign, and most can
/// by a tab: the heading tells which.
pub(super) fn read(text: &str) -> Sheet {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut sheet = Sheet::default();
    let separator = separator(text);
    let (rows, damage) = rows(text, separator);
    sheet.damage = damage;
    let mut rows = rows.into_iter();
    let Some((line, header)) = rows.next() else {
        sheet.damage = Some(Damage::new(1, ""));
        return sheet;
    };
    let columns: Vec<&str> = header.iter().map(|cell| cell.text.trim()).collect();
    for (at, column) in columns.iter().enumerate() {
        if column.is_empty() || columns[..at].contains(column) {
            sheet.damage = Some(Damage::new(line, column));
            return sheet;
        }
    }
    // Any text is a table of one column; only one that says which lists its rows
    // belong to, or what they are called, is a case.
    if !columns.iter().any(|column| [LIST, "id"].contains(column)) {
        sheet.damage = Some(Damage::new(line, ""));
        return sheet;
    }
    for (line, cells) in rows {
        match entry(line, &columns, &cells, separator != ',') {
            Ok(entry) => sheet.entries.push(entry),
            Err(damage) => sheet.bad_rows.push(damage),
        }
    }
    sheet
}

/// Writes lists of records as one table with CRLF ends.
pub(super) fn write(lists: &[(&str, Vec<Tree>)]) -> String {
    let mut columns: Vec<String> = vec![LIST.to_owned()];
    let mut rows: Vec<Vec<(String, String)>> = Vec::new();
    for (list, records) in lists {
        for record in records {
            let mut cells = vec![(LIST.to_owned(), quoted(list))];
            flatten("", record, &mut cells);
            for (column, _) in &cells {
                if !columns.contains(column) {
                    columns.push(column.clone());
                }
            }
            rows.push(cells);
        }
    }
    let line = |cells: Vec<&str>| cells.join(",") + "\r\n";
    let mut out = line(columns.iter().map(String::as_str).collect());
    for row in &rows {
        let cell = |column: &String| {
            let found = row.iter().find(|(name, _)| name == column);
            found.map_or("", |(_, cell)| cell.as_str())
        };
        out.push_str(&line(columns.iter().map(cell).collect()));
    }
    out
}

fn flatten(path: &str, tree: &Tree, cells: &mut Vec<(String, String)>) {
    let text = match tree {
        Tree::Record(fields) => {
            for (name, value) in fields {
                let dot = if path.is_empty() { "" } else { "." };
                flatten(&format!("{path}{dot}{name}"), value, cells);
            }
            return;
        }
        Tree::List(items) => {
            for (nth, item) in (1..).zip(items) {
                flatten(&format!("{path}.{nth}"), item, cells);
            }
            return;
        }
        Tree::Nothing => return,
        Tree::Bool(yes) => yes.to_string(),
        Tree::Number(number) => write_decimal(*number),
        // Quotes are enough for a reader of RFC 4180; a spreadsheet drops them.
        Tree::Text(text) => {
            let cell = marked(text, TEXTS.contains(&path));
            if plain(&cell, false) == Tree::Text(cell.clone()) {
                quoted(&cell)
            } else {
                format!("\"{}\"", cell.replace('"', "\"\""))
            }
        }
    };
    cells.push((path.to_owned(), text));
}

fn quoted(text: &str) -> String {
    let special = |letter: char| matches!(letter, '"' | ',' | ';' | '\t' | '\r' | '\n');
    if text.contains(special) || text.is_empty() || text.trim() != text {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

/// Columns whose cells are texts whatever they look like, all that the schema
/// leaves free: a spreadsheet drops the quotes of a piece called 0.9.
const TEXTS: [&str; 7] = [
    "id",
    "size",
    "rig",
    "body",
    "day",
    "measuredOn",
    "opening.name",
];

/// `comma`: whether the decimal sign may be one.
fn entry(line: usize, columns: &[&str], cells: &[Cell], comma: bool) -> Result<Entry, Damage> {
    if cells.len() != columns.len() {
        return Err(Damage::new(line, ""));
    }
    let mut list = LISTS[0];
    let mut record = Vec::new();
    for (column, cell) in columns.iter().zip(cells) {
        if *column == LIST {
            let named = LISTS.iter().find(|list| **list == cell.text.trim());
            list = named.ok_or_else(|| Damage::new(line, LIST))?;
            continue;
        }
        let value = if let Some(text) = unmarked(&cell.text) {
            Tree::Text(text.to_owned())
        } else if TEXTS.contains(column) && !cell.text.is_empty() {
            Tree::Text(match cell.quoted {
                true => cell.text.clone(),
                false => with_point(&cell.text, comma),
            })
        } else {
            // Some programs quote every cell, also an empty one or yes and no.
            plain(cell.text.trim(), comma)
        };
        put(&mut record, column, value);
    }
    let tree = listed(Tree::Record(record));
    Ok(Entry { line, list, tree })
}

/// Makes lists of the records whose fields are numbers.
fn listed(tree: Tree) -> Tree {
    let Tree::Record(fields) = tree else {
        return tree;
    };
    let nth = |(name, _): &(String, Tree)| name.parse::<usize>().ok();
    let is_list = !fields.is_empty() && fields.iter().all(|field| nth(field).is_some());
    let mut fields: Vec<(String, Tree)> = (fields.into_iter())
        .map(|(name, value)| (name, listed(value)))
        .collect();
    if is_list {
        sort_by_key(&mut fields, nth);
        return Tree::List(fields.into_iter().map(|(_, item)| item).collect());
    }
    Tree::Record(fields)
}

/// Puts a value under a dotted name; an empty cell is a field left out.
fn put(record: &mut Vec<(String, Tree)>, path: &str, value: Tree) {
    if value == Tree::Nothing {
        return;
    }
    let Some((outer, inner)) = path.split_once('.') else {
        record.push((path.to_owned(), value));
        return;
    };
    let at = record.iter().position(|(name, _)| name == outer);
    let at = at.unwrap_or_else(|| {
        record.push((outer.to_owned(), Tree::Record(Vec::new())));
        record.len() - 1
    });
    if let Tree::Record(fields) = &mut record[at].1 {
        put(fields, inner, value);
    }
}

struct Cell {
    text: String,
    quoted: bool,
}

/// What parts the cells: of the candidates the one that stands most often in the
/// heading, which holds names.
fn separator(text: &str) -> char {
    let heading = text.lines().next().unwrap_or_default();
    let mut best = (',', heading.matches(',').count());
    for candidate in [';', '\t'] {
        let count = heading.matches(candidate).count();
        if count > best.1 {
            best = (candidate, count);
        }
    }
    best.0
}

/// Rows with the line each begins on, and where the text breaks off.
fn rows(text: &str, separator: char) -> (Vec<(usize, Vec<Cell>)>, Option<Damage>) {
    let mut rows = Vec::new();
    let mut rest = text;
    let mut line = 1;
    while !rest.is_empty() {
        let began = line;
        let mut cells = Vec::new();
        loop {
            let Some((cell, after)) = cell(rest, separator) else {
                return (rows, Some(Damage::new(began, "")));
            };
            line += rest[..rest.len() - after.len()].matches('\n').count();
            cells.push(cell);
            rest = after;
            match rest.strip_prefix(separator) {
                Some(more) => rest = more,
                None => break,
            }
        }
        let ended = rest
            .strip_prefix("\r\n")
            .or_else(|| rest.strip_prefix('\n'));
        rest = match ended {
            Some(next) => next,
            None if rest.is_empty() => rest,
            None => return (rows, Some(Damage::new(line, ""))),
        };
        line += usize::from(ended.is_some());
        let empty = (cells.iter()).all(|cell| cell.text.is_empty() && !cell.quoted);
        if !empty {
            rows.push((began, cells));
        }
    }
    (rows, None)
}

/// One cell and what follows it; `None` when a quote is out of place.
fn cell(text: &str, separator: char) -> Option<(Cell, &str)> {
    let Some(mut rest) = text.strip_prefix('"') else {
        let end = text.find([separator, '\r', '\n']).unwrap_or(text.len());
        let (plain, after) = text.split_at(end);
        let cell = Cell {
            text: plain.to_owned(),
            quoted: false,
        };
        return (!plain.contains('"')).then_some((cell, after));
    };
    let mut inside = String::new();
    loop {
        let (before, after) = rest.split_once('"')?;
        inside.push_str(before);
        match after.strip_prefix('"') {
            Some(more) => {
                inside.push('"');
                rest = more;
            }
            None => {
                let cell = Cell {
                    text: inside,
                    quoted: true,
                };
                return Some((cell, after));
            }
        }
    }
}
