//! Cuts a bound module in two.

use super::links::{Links, Thing};
use anyhow::{Context as _, Result, ensure};
use std::collections::{BTreeMap, BTreeSet};
use walrus::ir::{Value, Visitor, dfs_in_order};
use walrus::{
    ConstExpr, DataKind, ElementItems, ElementKind, ExportItem, FunctionId, FunctionKind,
    GlobalKind, ImportedFunction, Module, ModuleConfig,
};

/// What the second half calls the first.
const FIRST: &str = "first";
/// So many bytes between two pieces of data cost less than a piece more.
const GAP: usize = 8;

/// The two halves.
pub(crate) struct Halves {
    /// Both in one, for who wants one file.
    pub(crate) whole: Vec<u8>,
    /// Stands alone and answers its questions.
    pub(crate) first: Vec<u8>,
    /// All the others; wants the first.
    pub(crate) rest: Vec<u8>,
}

/// What stands in the first half: functions by their place in the module, and
/// read-only bytes.
#[derive(Default)]
struct First {
    functions: BTreeSet<usize>,
    bytes: BTreeSet<(u32, u32)>,
}

/// What the second half takes from the first: things by the names they get.
#[derive(Default)]
struct Shared {
    functions: BTreeMap<usize, String>,
    globals: BTreeMap<usize, String>,
    tables: BTreeMap<usize, String>,
}

/// Cuts a bound module, names still in it. The first half answers `questions`
/// and holds all that they lead to.
pub(crate) fn cut(bound: &[u8], links: &Links, questions: &[&str]) -> Result<Halves> {
    let mut whole = read(bound)?;
    let is_there = |question: &&&str| whole.exports.iter().any(|export| export.name == **question);
    let strange = questions.iter().find(|question| !is_there(question));
    ensure!(strange.is_none(), "no question {strange:?}");
    let stays = |name: &str| questions.contains(&name) || is_ground(name);
    let first = reached(&whole, links, &stays);
    let shared = shared(&whole, &first);
    let whole = whole.emit_wasm();
    Ok(Halves {
        whole,
        first: first_half(read(bound)?, &first, links, &shared, &stays)?,
        rest: rest(read(bound)?, &first, links, &shared, &stays)?,
    })
}

fn read(bound: &[u8]) -> Result<Module> {
    ModuleConfig::new()
        .generate_producers_section(false)
        .generate_name_section(false)
        .parse(bound)
}

/// What the script needs before it can ask anything.
fn is_ground(export: &str) -> bool {
    export.starts_with("__") || export == "memory"
}

/// Functions by their place: the same in every reading of the same bytes.
fn places(module: &Module) -> BTreeMap<FunctionId, usize> {
    let ids = module.funcs.iter().map(walrus::Function::id);
    ids.zip(0..).collect()
}

#[derive(Default)]
struct Used {
    functions: Vec<FunctionId>,
    globals: Vec<walrus::GlobalId>,
    tables: Vec<walrus::TableId>,
}

impl<'a> Visitor<'a> for Used {
    fn visit_function_id(&mut self, id: &FunctionId) {
        self.functions.push(*id);
    }
    fn visit_global_id(&mut self, id: &walrus::GlobalId) {
        self.globals.push(*id);
    }
    fn visit_table_id(&mut self, id: &walrus::TableId) {
        self.tables.push(*id);
    }
}

fn used(function: &walrus::Function) -> Used {
    let mut used = Used::default();
    if let FunctionKind::Local(local) = &function.kind {
        dfs_in_order(&mut used, local, local.entry_block());
    }
    used
}

/// All that what stays leads to: by calls, as the bound module has them, and by
/// addresses of functions and bytes, as the linker has written them down.
fn reached(whole: &Module, links: &Links, stays: &dyn Fn(&str) -> bool) -> First {
    let places = places(whole);
    let mut named: BTreeMap<&str, Vec<FunctionId>> = BTreeMap::new();
    for function in whole.funcs.iter() {
        if let Some(name) = &function.name {
            named.entry(name).or_default().push(function.id());
        }
    }
    let mut first = First::default();
    let mut open: Vec<FunctionId> = (whole.exports.iter())
        .filter(|export| stays(&export.name))
        .filter_map(|export| match export.item {
            ExportItem::Function(id) => Some(id),
            _ => None,
        })
        .chain(whole.start)
        .collect();
    while let Some(id) = open.pop() {
        if !first.functions.insert(places[&id]) {
            continue;
        }
        let function = whole.funcs.get(id);
        open.extend(used(function).functions);
        let mut things: Vec<Thing> = (function.name.iter())
            .flat_map(|name| links.from(&Thing::Function(name.clone())).cloned())
            .collect();
        while let Some(thing) = things.pop() {
            match &thing {
                Thing::Function(name) => {
                    open.extend(named.get(name.as_str()).into_iter().flatten())
                }
                Thing::Bytes(from, to) => {
                    if first.bytes.insert((*from, *to)) {
                        things.extend(links.from(&thing).cloned());
                    }
                }
            }
        }
    }
    first
}

fn shared(whole: &Module, first: &First) -> Shared {
    let places = places(whole);
    let mut shared = Shared::default();
    for function in whole.funcs.iter() {
        if first.functions.contains(&places[&function.id()]) {
            continue;
        }
        let used = used(function);
        for id in used.functions {
            let place = places[&id];
            let is_local = matches!(whole.funcs.get(id).kind, FunctionKind::Local(_));
            if is_local
                && first.functions.contains(&place)
                && !shared.functions.contains_key(&place)
            {
                shared
                    .functions
                    .insert(place, format!("__f{}", shared.functions.len()));
            }
        }
        for id in used.globals {
            let place = whole.globals.iter().position(|global| global.id() == id);
            shared
                .globals
                .extend(place.map(|place| (place, format!("__g{place}"))));
        }
        for id in used.tables {
            let place = whole.tables.iter().position(|table| table.id() == id);
            shared
                .tables
                .extend(place.map(|place| (place, format!("__t{place}"))));
        }
    }
    // Functions that are handed on stand in a table, called from here or not.
    for element in whole.elements.iter() {
        if let ElementKind::Active { table, .. } = element.kind {
            let place = whole.tables.iter().position(|one| one.id() == table);
            shared
                .tables
                .extend(place.map(|place| (place, format!("__t{place}"))));
        }
    }
    shared
}

fn first_half(
    mut half: Module,
    first: &First,
    links: &Links,
    shared: &Shared,
    stays: &dyn Fn(&str) -> bool,
) -> Result<Vec<u8>> {
    drop_exports(&mut half, |name| !stays(name));
    let functions: Vec<FunctionId> = half.funcs.iter().map(walrus::Function::id).collect();
    for (place, name) in &shared.functions {
        half.exports.add(name, functions[*place]);
    }
    let globals: Vec<_> = half.globals.iter().map(walrus::Global::id).collect();
    for (place, name) in &shared.globals {
        half.exports.add(name, globals[*place]);
    }
    let tables: Vec<_> = half.tables.iter().map(walrus::Table::id).collect();
    for (place, name) in &shared.tables {
        half.exports.add(name, tables[*place]);
    }
    keep_elements(&mut half, |place| first.functions.contains(&place))?;
    keep_data(&mut half, first, links, true)?;
    finished(half)
}

fn rest(
    mut half: Module,
    first: &First,
    links: &Links,
    shared: &Shared,
    stays: &dyn Fn(&str) -> bool,
) -> Result<Vec<u8>> {
    drop_exports(&mut half, stays);
    half.start = None;
    keep_elements(&mut half, |place| !first.functions.contains(&place))?;
    keep_data(&mut half, first, links, false)?;
    let functions: Vec<FunctionId> = half.funcs.iter().map(walrus::Function::id).collect();
    for (place, name) in &shared.functions {
        let id = functions[*place];
        let ty = half.funcs.get(id).ty();
        let import = half.imports.add(FIRST, name, id);
        half.funcs.get_mut(id).kind = FunctionKind::Import(ImportedFunction { import, ty });
    }
    let globals: Vec<_> = half.globals.iter().map(walrus::Global::id).collect();
    for (place, name) in &shared.globals {
        let id = globals[*place];
        let import = half.imports.add(FIRST, name, id);
        half.globals.get_mut(id).kind = GlobalKind::Import(import);
    }
    let tables: Vec<_> = half.tables.iter().map(walrus::Table::id).collect();
    for (place, name) in &shared.tables {
        let id = tables[*place];
        half.tables.get_mut(id).import = Some(half.imports.add(FIRST, name, id));
    }
    let memory = half.memories.iter().next().context("no memory")?.id();
    half.memories.get_mut(memory).import = Some(half.imports.add(FIRST, "memory", memory));
    finished(half)
}

fn finished(mut half: Module) -> Result<Vec<u8>> {
    walrus::passes::gc::run(&mut half);
    let bytes = half.emit_wasm();
    wasmparser::Validator::new_with_features(wasmparser::WasmFeatures::all())
        .validate_all(&bytes)?;
    Ok(bytes)
}

fn drop_exports(half: &mut Module, goes: impl Fn(&str) -> bool) {
    let gone: Vec<_> = (half.exports.iter())
        .filter(|export| goes(&export.name))
        .map(walrus::Export::id)
        .collect();
    for id in gone {
        half.exports.delete(id);
    }
}

/// Table places are the same in both halves: each fills in its own.
fn keep_elements(half: &mut Module, stays: impl Fn(usize) -> bool) -> Result<()> {
    let places = places(half);
    let mut runs = Vec::new();
    let mut gone = Vec::new();
    for element in half.elements.iter() {
        let ElementKind::Active {
            table,
            offset: ConstExpr::Value(Value::I32(offset)),
        } = element.kind
        else {
            continue;
        };
        let ElementItems::Functions(functions) = &element.items else {
            anyhow::bail!("a table of what is no function");
        };
        gone.push(element.id());
        let mut run: Vec<FunctionId> = Vec::new();
        for (at, id) in (offset..).zip(functions) {
            if stays(places[id]) {
                run.push(*id);
            } else if !run.is_empty() {
                let start = at - i32::try_from(run.len())?;
                runs.push((table, start, std::mem::take(&mut run)));
            }
        }
        if !run.is_empty() {
            let start = offset + i32::try_from(functions.len() - run.len())?;
            runs.push((table, start, run));
        }
    }
    for id in gone {
        half.elements.delete(id);
        for table in half.tables.iter_mut() {
            table.elem_segments.remove(&id);
        }
    }
    for (table, start, functions) in runs {
        let kind = ElementKind::Active {
            table,
            offset: ConstExpr::Value(Value::I32(start)),
        };
        let id = half.elements.add(kind, ElementItems::Functions(functions));
        half.tables.get_mut(table).elem_segments.insert(id);
    }
    Ok(())
}

/// Bytes that only the rest reads go with it; what is written, and what nobody
/// names, stands in the first half.
fn keep_data(half: &mut Module, first: &First, links: &Links, is_first: bool) -> Result<()> {
    let mut pieces = Vec::new();
    let mut gone = Vec::new();
    for data in half.data.iter() {
        let DataKind::Active {
            memory,
            offset: ConstExpr::Value(Value::I32(offset)),
        } = data.kind
        else {
            anyhow::bail!("data without a place");
        };
        gone.push((memory, data.id()));
        let start = u32::try_from(offset)?;
        let is_rest = of_rest(start, data.value.len(), first, links);
        let mut run: Option<(usize, usize)> = None;
        for (at, rests) in is_rest.iter().enumerate() {
            if *rests == is_first {
                continue;
            }
            run = match run {
                Some((from, to)) if at - to <= GAP => Some((from, at + 1)),
                before => {
                    pieces.extend(
                        before.map(|run| (memory, start, data.value[run.0..run.1].to_vec(), run.0)),
                    );
                    Some((at, at + 1))
                }
            };
        }
        pieces.extend(run.map(|run| (memory, start, data.value[run.0..run.1].to_vec(), run.0)));
    }
    for (memory, id) in gone {
        half.data.delete(id);
        half.memories.get_mut(memory).data_segments.remove(&id);
    }
    for (memory, start, value, from) in pieces {
        let offset = ConstExpr::Value(Value::I32(i32::try_from(start as usize + from)?));
        let id = half.data.add(DataKind::Active { memory, offset }, value);
        half.memories.get_mut(memory).data_segments.insert(id);
    }
    Ok(())
}

/// For each byte of a segment whether only the rest reads it.
fn of_rest(start: u32, length: usize, first: &First, links: &Links) -> Vec<bool> {
    let mut rests = vec![false; length];
    let mut mark = |ranges: &BTreeSet<(u32, u32)>, as_rest: bool| {
        for (from, to) in ranges {
            let place = |address: &u32| (address.saturating_sub(start) as usize).min(length);
            rests[place(from)..place(to)].fill(as_rest);
        }
    };
    mark(&links.read_only, true);
    mark(&first.bytes, false);
    rests
}
