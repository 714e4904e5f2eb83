//! What a function leads to besides its calls: functions it hands on and data it
//! reads, as the linker has written down.

use anyhow::{Context as _, Result, ensure};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use wasmparser::{
    BinaryReader, DataKind, Linking, LinkingSectionReader, Name, NameSectionReader, Operator,
    Parser, Payload, RelocSectionReader, RelocationEntry, SymbolInfo,
};

/// Data that is only read. What is written may stand in one half only.
const READ_ONLY: &str = ".rodata";
const CODE: &str = "reloc.CODE";
const DATA: &str = "reloc.DATA";
const LINKING: &str = "linking";

/// A function by its name, or bytes in memory.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Thing {
    /// A function.
    Function(String),
    /// Read-only bytes, from and to.
    Bytes(u32, u32),
}

/// Who leads to what.
#[derive(Debug, Default)]
pub(crate) struct Links {
    /// From each thing to others.
    to: BTreeMap<Thing, BTreeSet<Thing>>,
    /// All read-only bytes that some symbol names.
    pub(crate) read_only: BTreeSet<(u32, u32)>,
}

/// The parts of a linked module that matter here.
#[derive(Default)]
struct Linked<'a> {
    imported: u32,
    /// Where each function's body stands, counted from its section.
    bodies: Vec<Range<usize>>,
    /// Where each segment stands in the file, counted from its section, and in memory.
    segments: Vec<(usize, u32)>,
    segment_names: Vec<&'a str>,
    symbols: Vec<SymbolInfo<'a>>,
    names: BTreeMap<u32, &'a str>,
    code: Vec<RelocationEntry>,
    data: Vec<RelocationEntry>,
}

impl Links {
    /// Reads a module that was linked with `--emit-relocs`.
    pub(crate) fn of(module: &[u8]) -> Result<Self> {
        let linked = Linked::of(module)?;
        let mut links = Self::default();
        let things: Vec<Option<Thing>> = (linked.symbols.iter())
            .map(|symbol| linked.thing(symbol))
            .collect();
        // Symbols may lie in one another: a place leads on from each it is in.
        let mut places: Vec<(u32, u32)> = Vec::new();
        for thing in things.iter().flatten() {
            if let Thing::Bytes(from, to) = *thing {
                links.read_only.insert((from, to));
                places.push((from, to));
            }
        }
        for entry in &linked.code {
            let at = entry.offset as usize;
            let nth = linked.bodies.partition_point(|body| body.start <= at);
            let body = nth.checked_sub(1).context("a link before all code")?;
            ensure!(
                linked.bodies[body].contains(&at),
                "a link between functions"
            );
            let index = linked.imported + u32::try_from(body)?;
            let name = linked
                .names
                .get(&index)
                .context("a function without a name")?;
            links.add(Thing::Function(as_bound(name)), entry, &things)?;
        }
        for entry in &linked.data {
            let address = linked.address(entry.offset as usize)?;
            let holders = links.read_only.range(..=(address, u32::MAX));
            let holders: Vec<Thing> = holders
                .filter(|(_, to)| address < *to)
                .map(|&(from, to)| Thing::Bytes(from, to))
                .collect();
            for holder in holders {
                links.add(holder, entry, &things)?;
            }
        }
        Ok(links)
    }

    fn add(
        &mut self,
        from: Thing,
        entry: &RelocationEntry,
        things: &[Option<Thing>],
    ) -> Result<()> {
        let to = things.get(entry.index as usize).context("no such symbol")?;
        if let Some(to) = to {
            self.to.entry(from).or_default().insert(to.clone());
        }
        Ok(())
    }

    /// What one thing leads to at once.
    pub(crate) fn from(&self, thing: &Thing) -> impl Iterator<Item = &Thing> + use<'_> {
        self.to.get(thing).into_iter().flatten()
    }
}

impl<'a> Linked<'a> {
    fn of(module: &'a [u8]) -> Result<Self> {
        let mut linked = Self::default();
        let (mut code_start, mut data_start) = (0, 0);
        for payload in Parser::new(0).parse_all(module) {
            match payload? {
                Payload::ImportSection(imports) => {
                    for import in imports.into_imports() {
                        if matches!(import?.ty, wasmparser::TypeRef::Func(_)) {
                            linked.imported += 1;
                        }
                    }
                }
                Payload::CodeSectionStart { range, .. } => code_start = range.start,
                Payload::CodeSectionEntry(body) => {
                    let range = body.range();
                    linked
                        .bodies
                        .push(range.start - code_start..range.end - code_start);
                }
                Payload::DataSection(data) => {
                    data_start = data.range().start;
                    for segment in data {
                        let segment = segment?;
                        let bytes = segment.range.end - segment.data.len();
                        linked
                            .segments
                            .push((bytes - data_start, placed(&segment.kind)?));
                    }
                }
                Payload::CustomSection(section) => {
                    let reader = BinaryReader::new(section.data(), section.data_offset());
                    linked.read_custom(section.name(), reader)?;
                }
                _ => {}
            }
        }
        ensure!(
            !linked.symbols.is_empty() && !linked.code.is_empty() && data_start > 0,
            "not linked with --emit-relocs"
        );
        Ok(linked)
    }

    fn read_custom(&mut self, name: &str, reader: BinaryReader<'a>) -> Result<()> {
        match name {
            CODE | DATA => {
                let entries = RelocSectionReader::new(reader)?.entries();
                let entries: Vec<RelocationEntry> =
                    entries.into_iter().collect::<Result<_, _>>()?;
                *(if name == CODE {
                    &mut self.code
                } else {
                    &mut self.data
                }) = entries;
            }
            LINKING => {
                for part in LinkingSectionReader::new(reader)?.subsections() {
                    match part? {
                        Linking::SymbolTable(symbols) => {
                            self.symbols = symbols.into_iter().collect::<Result<_, _>>()?;
                        }
                        Linking::SegmentInfo(segments) => {
                            for segment in segments {
                                self.segment_names.push(segment?.name);
                            }
                        }
                        _ => {}
                    }
                }
            }
            "name" => {
                for part in NameSectionReader::new(reader) {
                    if let Name::Function(names) = part? {
                        for named in names {
                            let named = named?;
                            self.names.insert(named.index, named.name);
                        }
                    }
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// What a symbol stands for; nothing where that is in the first half anyway.
    fn thing(&self, symbol: &SymbolInfo<'_>) -> Option<Thing> {
        match symbol {
            SymbolInfo::Func { index, .. } => {
                let name = self.names.get(index)?;
                Some(Thing::Function(as_bound(name)))
            }
            SymbolInfo::Data {
                symbol: Some(place),
                ..
            } => {
                let segment = place.index as usize;
                if !self.segment_names.get(segment)?.starts_with(READ_ONLY) {
                    return None;
                }
                let from = self.segments.get(segment)?.1 + place.offset;
                Some(Thing::Bytes(from, from + place.size))
            }
            _ => None,
        }
    }

    /// Where in memory a byte of the data section comes to lie.
    fn address(&self, offset: usize) -> Result<u32> {
        let nth = self.segments.partition_point(|(start, _)| *start <= offset);
        let nth = nth.checked_sub(1).context("a link before all data")?;
        let (start, placed) = self.segments[nth];
        Ok(placed + u32::try_from(offset - start)?)
    }
}

/// A function's name once the module is bound, which takes from what it exports
/// the hash that it was linked with.
fn as_bound(linked: &str) -> String {
    const HASH: usize = 16;
    let is_hash = |end: &str| end.len() == HASH && end.bytes().all(|sign| sign.is_ascii_hexdigit());
    match linked.rsplit_once('_') {
        Some((name, end)) if is_hash(end) => name.to_owned(),
        _ => linked.to_owned(),
    }
}

fn placed(kind: &DataKind<'_>) -> Result<u32> {
    let DataKind::Active { offset_expr, .. } = kind else {
        anyhow::bail!("data that is placed later");
    };
    match offset_expr.get_operators_reader().read()? {
        Operator::I32Const { value } => Ok(u32::try_from(value)?),
        _ => anyhow::bail!("data that is placed by what is not a number"),
    }
}

/// The module without what only `Links` reads.
pub(crate) fn without(module: &[u8]) -> Result<Vec<u8>> {
    const HEAD: usize = 8;
    let mut lean = module.get(..HEAD).context("no module")?.to_vec();
    let mut at = HEAD;
    for payload in Parser::new(0).parse_all(module) {
        let payload = payload?;
        let Some((_, range)) = payload.as_section() else {
            continue;
        };
        let gone = match &payload {
            Payload::CustomSection(section) => {
                [CODE, DATA, LINKING].contains(&section.name())
                    || section.name().starts_with("reloc.")
            }
            _ => false,
        };
        if !gone {
            lean.extend_from_slice(
                module
                    .get(at..range.end)
                    .context("a section is cut short")?,
            );
        }
        at = range.end;
    }
    Ok(lean)
}

#[cfg(test)]
mod tests {
    use super::as_bound;

    #[test]
    fn an_export_is_known_by_the_name_it_gets() {
        assert_eq!(as_bound("openUp_7e4f6373817f944e"), "openUp");
        assert_eq!(as_bound("__wbindgen_malloc"), "__wbindgen_malloc");
        let mangled = "_ZN14glasscall_core6answer7open_up17h9f06cb703be63038E";
        assert_eq!(as_bound(mangled), mangled);
    }
}
