//! Case files: nothing lost on the way out and back, damage named by its line.

use glasscall_tests::call;
use glasscall_web::Refusal;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A case of an invented crew with something in every list.
fn crew() -> Value {
    json!({
        "pieces": [
            {"id": "0.9", "kind": "nd", "density": 0.9, "measuredDensity": 0.913,
                "measuredOn": "2026-05-01", "size": "4x5.65", "infraredDensity": 0.3,
                "thicknessMm": 4.0, "material": "glass", "massG": 146.0, "count": 1, "split": false},
            {"id": "pola, “old” one", "kind": "polarizer", "lossStops": 1.5, "size": "", "count": 2,
                "split": false},
            {"id": "two\r\nlines \"quoted\"", "kind": "closeUp", "dioptres": 1.5, "split": true,
                "size": "77", "count": 1}],
        "lenses": [{"id": "wide zoom", "focalMm": 18.0, "focalToMm": 55.0, "tNumber": 2.9,
            "outerMm": 114.0, "pupilBehindRimMm": 71.25, "pupilBy": "twoCards", "massG": 2100.0},
            {"id": "85", "focalMm": 85.0, "fNumber": 1.4, "threadMm": 77.0}],
        "rings": [{"fromMm": 77.0, "toMm": 82.0, "count": 2, "clamp": false, "depthMm": 2.5},
            {"fromMm": 114.0, "toMm": 82.0, "count": 1, "clamp": true}],
        "rigs": [{"id": "box", "mount": "matteBox", "minutesPerMove": 0.75, "massG": 650.0}],
        "slots": [{"rig": "box", "id": "1", "size": "4x5.65", "rotates": true},
            {"rig": "box", "id": "2", "size": "4x5.65", "rotates": false,
                "opening": {"name": "tray", "distanceFromRimMm": 22.0, "shape": "rectangle",
                    "widthMm": 97.0, "heightMm": 138.0}}],
        "bodies": [{"id": "A", "exposureIndex": 800.0}],
        "modes": [{"body": "A", "id": "full", "widthMm": 36.0, "heightMm": 24.0}],
        "wheels": [{"body": "A", "id": "clear", "density": 0.0},
            {"body": "A", "id": "2", "density": 0.6, "measuredDensity": 0.588}],
        "openings": [{"rig": "box", "opening": {"name": "hood", "distanceFromRimMm": 60.0,
            "depthMm": 40.0, "shape": "circle", "diameterMm": 150.0}}],
        "plates": [{"body": "A", "id": "1", "thicknessMm": 0.0}, {"body": "A", "id": "2", "thicknessMm": 2.1}],
        "ringOffers": [{"fromMm": 72.0, "toMm": 82.0, "cost": 18.5, "clamp": false, "clearMm": 66.0}],
        "wares": [{"id": "0.6", "kind": "nd", "density": 0.6, "size": "82", "count": 2, "cost": 70.25}],
        "days": [{"id": "1", "filterMm": 82.0, "order": "free", "needsFrom": "range",
            "brightestAperture": 22.6, "darkestAperture": 5.6, "stepStops": 1.0, "polarizer": true,
            "fromHour": 6.5, "toHour": 21.0, "counterArmMm": 120.0, "toleranceStops": 0.25}],
        "setUps": [{"day": "1", "id": "2.0", "needStops": 4.5, "toleranceStops": 0.1, "polarizer": true},
            {"day": "1", "id": "quay", "needStops": -0.5}],
        "wants": [{"day": "1", "aperture": 2.8}, {"day": "1", "frameRate": 23.976}],
    })
}

fn written(case: &Value, form: &str) -> String {
    let reply = call("writeCase", &json!({"case": case, "as": form})).expect("a sound case");
    reply["text"].as_str().unwrap().to_owned()
}

fn read(text: &str, take_part: bool) -> Result<Value, Refusal> {
    call("readCase", &json!({"text": text, "takePart": take_part}))
}

/// Whether every field given is in the reply; the rest are defaults.
fn assert_holds(given: &Value, found: &Value, path: &str) {
    match given {
        Value::Object(fields) => {
            for (name, value) in fields {
                assert_holds(value, &found[name], &format!("{path}.{name}"));
            }
        }
        Value::Array(items) => {
            assert_eq!(items.len(), found.as_array().unwrap().len(), "{path}");
            for (at, item) in items.iter().enumerate() {
                assert_holds(item, &found[at], &format!("{path}[{at}]"));
            }
        }
        Value::Number(number) => assert_eq!(number.as_f64(), found.as_f64(), "{path}"),
        _ => assert_eq!(given, found, "{path}"),
    }
}

#[test]
fn nothing_is_lost_in_either_form() {
    for form in ["json", "csv"] {
        let text = written(&crew(), form);
        let reply = read(&text, false).unwrap_or_else(|refusal| panic!("{}", refusal.message()));
        assert_holds(&crew(), &reply["case"], form);
        // And again: what was read is written the same.
        assert_eq!(written(&reply["case"], form), text, "{form}");
    }
}

#[test]
fn the_json_is_json_by_another_reader() {
    let text = written(&crew(), "json");
    let other: Value = serde_json::from_str(&text).expect("sound JSON");
    assert_eq!(other["format"], "glasscall-case");
    assert_eq!(other["version"], 1);
    assert_holds(&crew(), &other, "json");
}

#[test]
fn the_table_keeps_to_rfc_4180() {
    let text = written(&crew(), "csv");
    assert!(text.ends_with("\r\n"));
    assert!(text.starts_with("list,id,kind,density,"));
    // A comma, a quote and a line break inside a field, each as section 2 has it.
    assert!(text.contains("\"pola, “old” one\""));
    assert!(text.contains("\"two\r\nlines \"\"quoted\"\"\""));
    // A name that reads as a number is kept apart from one by its quotes.
    assert!(text.contains("pieces,\"0.9\",nd,0.9,"));
}

/// The refusal of a text: code, line and field.
fn refused(text: &str) -> (String, Option<u32>, String) {
    let refusal = read(text, false).expect_err("a refusal");
    let code = serde_json::to_value(refusal.code).unwrap();
    (
        code.as_str().unwrap().to_owned(),
        refusal.line,
        refusal.field.clone(),
    )
}

#[test]
fn a_damaged_file_is_refused_whole_with_its_line() {
    let text = written(&crew(), "json");
    let broken = text.replace("\"kind\": \"polarizer\"", "\"kind\": polarizer");
    assert_eq!(refused(&broken), ("damaged".into(), Some(6), String::new()));
    let wrong = text.replace("\"density\": 0.9", "\"density\": -0.9");
    assert_eq!(
        refused(&wrong),
        ("outOfRange".into(), Some(5), "pieces[0].density".into())
    );
    let twice = text.replace("\"id\": \"85\"", "\"id\": \"wide zoom\"");
    assert_eq!(
        refused(&twice),
        ("duplicate".into(), Some(11), "lenses[1].id".into())
    );
    let lost = text.replace(
        "{\"rig\": \"box\", \"id\": \"2\"",
        "{\"rig\": \"bag\", \"id\": \"2\"",
    );
    assert_eq!(
        refused(&lost),
        ("unknownName".into(), Some(22), "slots[1].rig".into())
    );
    let unknown = text.replace("\"tNumber\"", "\"t\"");
    assert_eq!(
        refused(&unknown),
        ("unknownField".into(), Some(10), "lenses[0].t".into())
    );
    let older = text.replace("\"version\": 1", "\"version\": 9");
    assert_eq!(refused(&older).0, "damaged");
    let cut = &text[..text.len() / 2];
    assert_eq!(refused(cut).0, "damaged");
    assert_eq!(refused("{}"), ("damaged".into(), Some(1), "format".into()));
}

#[test]
fn a_damaged_table_is_refused_with_its_line() {
    let table = "list,id,kind,density\r\npieces,a,nd,0.3\r\n\r\npieces,b,nd,x\r\n";
    assert_eq!(
        refused(table),
        ("wrongType".into(), Some(4), "pieces[1].density".into())
    );
    let short = "id,kind,density\npieces,nd\n";
    assert_eq!(refused(short), ("damaged".into(), Some(2), String::new()));
    let open = "id,kind,density\n\"a,nd,0.3\n";
    assert_eq!(refused(open), ("damaged".into(), Some(2), String::new()));
    let other = "list,id\nspoons,a\n";
    assert_eq!(refused(other), ("damaged".into(), Some(2), "list".into()));
    assert_eq!(refused("").0, "damaged");
    assert_eq!(
        refused("id,id\na,b\n"),
        ("damaged".into(), Some(1), "id".into())
    );
}

#[test]
fn part_is_taken_only_when_asked_and_what_is_left_out_is_named() {
    let table = "id,kind,density\na,nd,0.3\nb,nd,\nc,nd,0.9\n";
    assert_eq!(
        refused(table),
        ("missing".into(), Some(3), "pieces[1].density".into())
    );
    let part = read(table, true).unwrap();
    let ids: Vec<&Value> = part["case"]["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| &piece["id"])
        .collect();
    assert_eq!(ids, ["a", "c"]);
    assert_eq!(part["skipped"][0]["line"], 3);
    // A JSON file cut off keeps what stands before the cut.
    let text = written(&crew(), "json");
    let cut = &text[..text.find("\"rings\"").unwrap()];
    let part = read(cut, true).unwrap();
    assert_eq!(part["case"]["lenses"].as_array().unwrap().len(), 2);
    assert_eq!(part["skipped"][0]["code"], "damaged");
}

#[test]
fn a_plain_table_of_pieces_is_read_as_people_type_it() {
    let reply = read("kind,density,id\nnd,0.3,0.3\nnd, 1.2 ,1.2 IR\n", false).unwrap();
    assert_eq!(reply["case"]["pieces"][0]["id"], "0.3");
    assert_eq!(reply["case"]["pieces"][1]["density"], 1.2);
}

proptest! {
    #[test]
    fn any_name_survives(names in prop::collection::btree_set(".{1,12}", 1..6)) {
        let names: Vec<String> = names.into_iter().filter(|name| !name.trim().is_empty()).collect();
        let pieces: Vec<Value> = names.iter()
            .map(|id| json!({"id": id, "kind": "polarizer", "size": id}))
            .collect();
        for form in ["json", "csv"] {
            let text = written(&json!({"pieces": pieces}), form);
            let reply = read(&text, false).map_err(|refusal| TestCaseError::fail(refusal.message()))?;
            let back: Vec<&str> = reply["case"]["pieces"].as_array().unwrap().iter()
                .map(|piece| piece["id"].as_str().unwrap())
                .collect();
            prop_assert_eq!(&back, &names);
        }
    }

    #[test]
    fn any_density_survives_to_the_bit(density in 0.0..12.0_f64) {
        for form in ["json", "csv"] {
            let text = written(&json!({"pieces": [{"id": "a", "kind": "nd", "density": density}]}), form);
            let reply = read(&text, false).map_err(|refusal| TestCaseError::fail(refusal.message()))?;
            prop_assert_eq!(reply["case"]["pieces"][0]["density"].as_f64(), Some(density));
        }
    }

    /// A reader that takes less or more than another does would lose files.
    #[test]
    fn json_is_read_or_refused_as_by_another_reader(
        value in r#"(-?[0-9]{1,3}(\.[0-9]{0,2})?([eE][+-]?[0-9]{0,2})?|"([a-z]|\\[nu"x0-9a-f]){0,6}"|tru?e|\[[1,]*\])"#,
    ) {
        let text = format!("{{\"format\": \"glasscall-case\", \"version\": 1,\n\"pieces\": [{value}]}}");
        let broken = |refusal: &Value| refusal["code"] == "damaged";
        let reply = read(&text, true).map_err(|refusal| TestCaseError::fail(refusal.message()))?;
        let ours = !reply["skipped"].as_array().unwrap().iter().any(broken);
        prop_assert_eq!(ours, serde_json::from_str::<Value>(&text).is_ok(), "{}", text);
    }

    #[test]
    fn no_text_stops_the_reader(text in ".{0,200}") {
        let _ = read(&text, true);
        let _ = read(&format!("{{{text}"), false);
    }
}

/// The published schema, next to the page.
fn schema() -> Value {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../www/case.schema.json");
    serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap()
}

/// A value that keeps to a property of the schema.
fn sample(property: &Value) -> Value {
    if let Some(reference) = property["$ref"].as_str() {
        let mut opening = full(&schema()["$defs"][reference.rsplit('/').next().unwrap()]);
        // A circle has no width and no height, a hard edge no top and no points.
        let others = ["widthMm", "heightMm", "topDensity", "points"];
        (opening.as_object_mut().unwrap()).retain(|name, _| !others.contains(&name.as_str()));
        return opening;
    }
    match property["type"].as_str() {
        Some("number") => property["maximum"]
            .as_f64()
            .map_or(json!(2.5), |max| json!(max)),
        Some("integer") => property["maximum"].clone(),
        Some("boolean") => json!(true),
        Some("string") if property["format"] == "date" => json!("2024-02-29"),
        Some(_) => json!("a"),
        None => property["enum"][0].clone(),
    }
}

fn full(record: &Value) -> Value {
    let properties = record["properties"].as_object().unwrap().iter();
    properties
        .map(|(name, property)| (name.clone(), sample(property)))
        .collect()
}

#[test]
fn the_schema_and_the_reader_agree() {
    let schema = schema();
    let lists: Vec<&str> = (schema["properties"].as_object().unwrap().keys())
        .map(String::as_str)
        .filter(|name| !["$schema", "format", "version"].contains(name))
        .collect();
    assert_eq!(lists.len(), 15);
    let mut file = json!({"format": "glasscall-case", "version": 1});
    for list in &lists {
        let record = &schema["properties"][list]["items"]["$ref"];
        let record = record.as_str().unwrap().rsplit('/').next().unwrap();
        file[list] = json!([full(&schema["$defs"][record])]);
    }
    // Owners come first in a file; here they are written in the schema's order.
    let text = |file: &Value| {
        let part = |name: &str| format!("\"{name}\": {}", file[name]);
        let order = [
            "format",
            "version",
            "pieces",
            "lenses",
            "rings",
            "rigs",
            "slots",
            "bodies",
            "modes",
            "wheels",
            "openings",
            "plates",
            "ringOffers",
            "wares",
            "days",
            "setUps",
            "wants",
        ];
        format!("{{{}}}", order.map(part).join(",\n"))
    };
    // Every field of the schema is read, at the largest value it allows …
    let reply = read(&text(&file), false).unwrap_or_else(|refusal| panic!("{}", refusal.message()));
    assert_holds(&file["pieces"], &reply["case"]["pieces"], "pieces");
    for list in lists {
        // … what is read holds no field the schema lacks …
        let known = file[list][0].as_object().unwrap();
        for name in reply["case"][list][0].as_object().unwrap().keys() {
            assert!(
                known.contains_key(name),
                "{list}: {name} is not in the schema"
            );
        }
        let record = schema["properties"][list]["items"]["$ref"]
            .as_str()
            .unwrap()
            .to_owned();
        let record = &schema["$defs"][record.rsplit('/').next().unwrap()];
        for (name, property) in record["properties"].as_object().unwrap() {
            // … no value beyond its ranges is taken …
            if let Some(max) = property["maximum"].as_f64() {
                let mut beyond = file.clone();
                beyond[list][0][name] = json!(max + 1.0);
                assert!(
                    read(&text(&beyond), false).is_err(),
                    "{list}: {name} beyond {max}"
                );
            }
            // … and what it requires is required.
            let mut without = file.clone();
            without[list][0].as_object_mut().unwrap().remove(name);
            let required = record["required"]
                .as_array()
                .unwrap()
                .contains(&json!(name));
            assert_eq!(
                read(&text(&without), false).is_err(),
                required,
                "{list}: {name}"
            );
        }
    }
}

#[test]
fn a_measured_edge_comes_back_from_either_form() {
    let points = json!([
        {"heightMm": -12, "density": 0}, {"heightMm": 0, "density": 0.41},
        {"heightMm": 14.5, "density": 0.88},
    ]);
    let pieces = json!([
        {"id": "measured", "kind": "grad", "size": "4x5.65", "split": false, "count": 1,
         "profile": {"kind": "points", "points": points}},
        {"id": "0.9 soft", "kind": "grad", "density": 0.9, "size": "", "split": false, "count": 1,
         "profile": {"kind": "soft", "rampMm": 30}},
    ]);
    for form in ["json", "csv"] {
        let case = json!({"case": {"pieces": pieces}, "as": form});
        let written = call("writeCase", &case).unwrap();
        let reply = read(written["text"].as_str().unwrap(), false).unwrap();
        assert_holds(&pieces, &reply["case"]["pieces"], form);
    }
    // The density stands beside the edge, and a ramp needs its length.
    for (profile, field) in [
        (json!({"kind": "soft"}), "profile.rampMm"),
        (json!({"kind": "hard", "density": 0.6}), "profile.density"),
    ] {
        let piece = json!({"id": "odd", "kind": "grad", "density": 0.6, "profile": profile});
        let case = json!({"case": {"pieces": [piece]}, "as": "json"});
        let refusal = call("writeCase", &case).unwrap_err();
        assert!(refusal.field.ends_with(field), "{}", refusal.field);
    }
}
