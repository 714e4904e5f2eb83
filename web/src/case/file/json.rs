//! The case as JSON: read with the line of every record, written one to a line.

use super::{Damage, Entry, FORMAT, LISTS, Sheet, VERSION};
use crate::plain::tree::Tree;
use glasscall_core::spoken::{read_decimal, write_decimal};

/// Deeper than any case is.
const DEEPEST: usize = 6;

/// Reads a case file. What stands before a fault of the text is kept, so that
/// part of it can be taken.
///
/// # Source
///
/// RFC 8259, The JavaScript Object Notation Data Interchange Format.
pub(super) fn read(text: &str) -> Sheet {
    let mut reader = Reader {
        rest: text.strip_prefix('\u{feff}').unwrap_or(text),
        line: 1,
    };
    let mut sheet = Sheet::default();
    let mut head = Head::default();
    let end = reader.file(&mut sheet, &mut head);
    sheet.damage = match end {
        Err(fault) => Some(fault),
        Ok(()) => head.damage(reader.line),
    };
    sheet
}

/// What a file says of itself.
#[derive(Default)]
struct Head {
    format: bool,
    version: bool,
}

impl Head {
    /// A file that does not say what it is could be anything.
    fn damage(&self, line: usize) -> Option<Damage> {
        match (self.format, self.version) {
            (true, true) => None,
            (false, _) => Some(Damage::new(line, "format")),
            (true, false) => Some(Damage::new(line, "version")),
        }
    }
}

/// Writes lists of records, each record on a line of its own.
pub(super) fn write(lists: &[(&str, Vec<Tree>)]) -> String {
    let mut out = format!("{{\n\"format\": \"{FORMAT}\",\n\"version\": {VERSION}");
    for (name, records) in lists {
        out.push_str(&format!(",\n\"{name}\": ["));
        for (at, record) in records.iter().enumerate() {
            out.push_str(if at == 0 { "\n  " } else { ",\n  " });
            write_value(record, &mut out);
        }
        out.push_str(if records.is_empty() { "]" } else { "\n]" });
    }
    out.push_str("\n}\n");
    out
}

fn write_value(tree: &Tree, out: &mut String) {
    match tree {
        Tree::Nothing => out.push_str("null"),
        Tree::Bool(yes) => out.push_str(if *yes { "true" } else { "false" }),
        // The shortest decimal that reads back the same, never an exponent.
        Tree::Number(number) => out.push_str(&write_decimal(*number)),
        Tree::Text(text) => write_text(text, out),
        Tree::List(items) => {
            out.push('[');
            for (at, item) in items.iter().enumerate() {
                out.push_str(if at == 0 { "" } else { ", " });
                write_value(item, out);
            }
            out.push(']');
        }
        Tree::Record(fields) => {
            out.push('{');
            for (at, (name, value)) in fields.iter().enumerate() {
                out.push_str(if at == 0 { "" } else { ", " });
                write_text(name, out);
                out.push_str(": ");
                write_value(value, out);
            }
            out.push('}');
        }
    }
}

fn write_text(text: &str, out: &mut String) {
    out.push('"');
    for letter in text.chars() {
        match letter {
            '"' | '\\' => out.extend(['\\', letter]),
            letter if letter < ' ' => out.push_str(&format!("\\u{:04x}", u32::from(letter))),
            letter => out.push(letter),
        }
    }
    out.push('"');
}

struct Reader<'a> {
    rest: &'a str,
    line: usize,
}

impl Reader<'_> {
    fn fault(&self) -> Damage {
        Damage::new(self.line, "")
    }

    fn file(&mut self, sheet: &mut Sheet, head: &mut Head) -> Result<(), Damage> {
        self.fields(|reader, name| {
            let line = reader.line;
            if let Some(list) = LISTS.iter().find(|list| **list == name) {
                return reader.items(|reader| {
                    reader.space();
                    let line = reader.line;
                    let tree = reader.value(0)?;
                    sheet.entries.push(Entry { line, list, tree });
                    Ok(())
                });
            }
            let value = reader.value(0)?;
            match name.as_str() {
                "format" if value == Tree::Text(FORMAT.into()) => head.format = true,
                "version" if value == Tree::Number(VERSION) => head.version = true,
                // A note to the reader of the file, as editors put it there.
                "$schema" => {}
                _ => return Err(Damage::new(line, &name)),
            }
            Ok(())
        })?;
        self.space();
        if self.rest.is_empty() {
            Ok(())
        } else {
            Err(self.fault())
        }
    }

    fn space(&mut self) {
        let kept = self.rest.trim_start_matches([' ', '\t', '\n', '\r']);
        let passed = &self.rest[..self.rest.len() - kept.len()];
        self.line += passed.matches('\n').count();
        self.rest = kept;
    }

    /// Takes a mark if it stands next.
    fn take(&mut self, mark: &str) -> bool {
        self.space();
        match self.rest.strip_prefix(mark) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn need(&mut self, mark: &str) -> Result<(), Damage> {
        if self.take(mark) {
            Ok(())
        } else {
            Err(self.fault())
        }
    }

    fn fields(
        &mut self,
        mut each: impl FnMut(&mut Self, String) -> Result<(), Damage>,
    ) -> Result<(), Damage> {
        self.need("{")?;
        if self.take("}") {
            return Ok(());
        }
        loop {
            self.space();
            let name = self.text()?;
            self.need(":")?;
            each(self, name)?;
            if self.take("}") {
                return Ok(());
            }
            self.need(",")?;
        }
    }

    fn items(
        &mut self,
        mut each: impl FnMut(&mut Self) -> Result<(), Damage>,
    ) -> Result<(), Damage> {
        self.need("[")?;
        if self.take("]") {
            return Ok(());
        }
        loop {
            each(self)?;
            if self.take("]") {
                return Ok(());
            }
            self.need(",")?;
        }
    }

    fn value(&mut self, depth: usize) -> Result<Tree, Damage> {
        self.space();
        if depth > DEEPEST {
            return Err(self.fault());
        }
        match self.rest.chars().next() {
            Some('{') => {
                let mut record: Vec<(String, Tree)> = Vec::new();
                self.fields(|reader, name| {
                    // Of a name given twice neither can be trusted.
                    if record.iter().any(|(other, _)| *other == name) {
                        return Err(reader.fault());
                    }
                    record.push((name, reader.value(depth + 1)?));
                    Ok(())
                })?;
                Ok(Tree::Record(record))
            }
            Some('[') => {
                let mut list = Vec::new();
                self.items(|reader| {
                    list.push(reader.value(depth + 1)?);
                    Ok(())
                })?;
                Ok(Tree::List(list))
            }
            Some('"') => self.text().map(Tree::Text),
            Some('-' | '0'..='9') => self.number(),
            _ if self.take("true") => Ok(Tree::Bool(true)),
            _ if self.take("false") => Ok(Tree::Bool(false)),
            _ if self.take("null") => Ok(Tree::Nothing),
            _ => Err(self.fault()),
        }
    }

    fn number(&mut self) -> Result<Tree, Damage> {
        let of_number = |letter: char| !matches!(letter, '0'..='9' | '-' | '+' | '.' | 'e' | 'E');
        let end = self.rest.find(of_number).unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(end);
        if !is_number(digits) {
            return Err(self.fault());
        }
        let number = read_decimal(digits).ok_or_else(|| self.fault())?;
        self.rest = rest;
        Ok(Tree::Number(number))
    }

    fn text(&mut self) -> Result<String, Damage> {
        let mut letters = self.rest.char_indices();
        if letters.next().map(|(_, letter)| letter) != Some('"') {
            return Err(self.fault());
        }
        let mut text = String::new();
        let mut units: Vec<u16> = Vec::new();
        while let Some((at, letter)) = letters.next() {
            if letter != '\\' && !units.is_empty() {
                text.push_str(&String::from_utf16(&units).map_err(|_| self.fault())?);
                units.clear();
            }
            match letter {
                '"' => {
                    self.rest = &self.rest[at + 1..];
                    return Ok(text);
                }
                '\\' => {
                    let escaped = letters.next().map_or(' ', |(_, escaped)| escaped);
                    let unit = match escaped {
                        '"' | '\\' | '/' => u32::from(escaped),
                        'b' => 8,
                        'f' => 12,
                        'n' => 10,
                        'r' => 13,
                        't' => 9,
                        'u' => {
                            let digits: String = letters.by_ref().take(4).map(|(_, d)| d).collect();
                            let hex = digits.len() == 4 && !digits.starts_with('+');
                            let unit = u32::from_str_radix(&digits, 16).ok().filter(|_| hex);
                            unit.ok_or_else(|| self.fault())?
                        }
                        _ => return Err(self.fault()),
                    };
                    units.push(u16::try_from(unit).map_err(|_| self.fault())?);
                }
                letter if letter < ' ' => return Err(self.fault()),
                letter => text.push(letter),
            }
        }
        Err(self.fault())
    }
}

/// The grammar of a number: no plus, no leading zero, digits about the point.
fn is_number(text: &str) -> bool {
    let text = text.strip_prefix('-').unwrap_or(text);
    let (whole_part, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent)),
        None => (text, None),
    };
    let (whole, fraction) = match whole_part.split_once('.') {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (whole_part, None),
    };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let exponent = exponent.map(|e| e.strip_prefix(['+', '-']).unwrap_or(e));
    digits(whole)
        && (whole == "0" || !whole.starts_with('0'))
        && fraction.is_none_or(digits)
        && exponent.is_none_or(digits)
}
