//! Sources that nobody has looked up: in the files and in `sources-owed.md` the same.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// How a source says that nobody looked.
const UNSEEN: &str = "from memory";
/// Rooms whose files name sources, and how those files end.
const ROOMS: [(&str, &str); 3] = [
    ("core/src", "rs"),
    ("web/src", "rs"),
    ("tests/reference", "json"),
];

fn top() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn files(folder: &Path, ends: &str, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, ends, found);
        } else if path.extension().is_some_and(|end| end == ends) {
            found.push(path);
        }
    }
}

/// How often each file says it.
fn said() -> BTreeMap<String, usize> {
    let mut found = Vec::new();
    for (room, ends) in ROOMS {
        files(&top().join(room), ends, &mut found);
    }
    (found.iter())
        .filter_map(|path| {
            let times = fs::read_to_string(path).unwrap().matches(UNSEEN).count();
            let name = path.strip_prefix(top()).unwrap().to_str().unwrap();
            (times > 0).then(|| (name.replace('\\', "/"), times))
        })
        .collect()
}

/// How many rows each file has in the list; a row with a number stands for so many.
fn listed() -> BTreeMap<String, usize> {
    let list = fs::read_to_string(top().join("tests/sources-owed.md")).unwrap();
    let mut found = BTreeMap::new();
    for row in list.lines().filter_map(|line| line.strip_prefix("| `")) {
        let (name, owed) = row.split_once("` | ").expect("a file, then what is owed");
        let (times, owed) = match owed.split_once(" | ") {
            Some((times, owed)) => (times.parse().expect("how often"), owed),
            None => (1, owed),
        };
        assert!(owed.trim_end_matches(" |").len() > 3, "{name}: what?");
        *found.entry(name.to_owned()).or_default() += times;
    }
    found
}

#[test]
fn every_source_owed_stands_in_the_list_and_no_other() {
    assert_eq!(said(), listed());
}
