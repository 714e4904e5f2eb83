use super::{Own, Scope};
use crate::files::Files;
use anyhow::Result;

fn files(all: &[(&str, &str)]) -> Files {
    all.iter()
        .map(|(path, source)| ((*path).to_owned(), source.as_bytes().to_vec()))
        .collect()
}

#[test]
fn modules_share_one_scope() -> Result<()> {
    let files = files(&[
        (
            "a.js",
            "import { tell as say } from \"./b.js\";\nconst word = \"a\";\nsay(word, { word });\n",
        ),
        (
            "b.js",
            "const word = \"b\";\nexport function tell(text) { console.log(word, text); }\n",
        ),
    ]);
    let own = Own::new();
    let script = Scope::new(&files, &own, "a.js")?.script()?;
    assert_eq!(
        script,
        "const ne=\"b\";function te(e){console.log(ne,e)}const ee=\"a\";te(ee,{word:ee});"
    );
    Ok(())
}

#[test]
fn what_is_loaded_later_is_a_file_of_its_own() -> Result<()> {
    let files = files(&[
        (
            "a.js",
            "import { b } from \"./b.js\";\nb();\nconst { c } = await import(\"./c.js\");\nc();\n",
        ),
        ("b.js", "export const b = () => 1;\n"),
        (
            "c.js",
            "import { b } from \"./b.js\";\nimport { d } from \"./d.js\";\nexport const c = () => b() + d;\n",
        ),
        ("d.js", "export const d = 1;\n"),
    ]);
    let own = Own::new();
    let chunks = Scope::new(&files, &own, "a.js")?.chunks()?;
    let scripts: Vec<&str> = chunks.iter().map(|chunk| chunk.script.as_str()).collect();
    assert_eq!(
        scripts,
        [
            "const te=()=>1;te();const{c:ee}=await import(\"./placeOf:c.js\");ee();export{te};",
            "import{te}from\"./placeOf:a.js\";const re=1;const ne=()=>te()+re;export{ne as c};",
        ]
    );
    Ok(())
}

#[test]
fn what_two_load_is_in_a_file_for_both() -> Result<()> {
    let files = files(&[
        (
            "a.js",
            "await import(\"./b.js\");\nawait import(\"./c.js\");\n",
        ),
        (
            "b.js",
            "import { d } from \"./d.js\";\nexport const b = d;\n",
        ),
        (
            "c.js",
            "import { d } from \"./d.js\";\nexport const c = d;\n",
        ),
        ("d.js", "export const d = 1;\n"),
    ]);
    let own = Own::new();
    let chunks = Scope::new(&files, &own, "a.js")?.chunks()?;
    let entries: Vec<Option<&str>> = chunks.iter().map(|chunk| chunk.entry.as_deref()).collect();
    assert_eq!(entries, [Some("a.js"), None, Some("b.js"), Some("c.js")]);
    assert!(chunks[2].script.starts_with("import{"));
    Ok(())
}

#[test]
fn in_one_script_what_is_loaded_comes_first() -> Result<()> {
    let files = files(&[
        ("a.js", "const { b } = await import(\"./b.js\");\nb();\n"),
        ("b.js", "const c = 1;\nexport const b = () => c;\n"),
    ]);
    let own = Own::new();
    let script = Scope::new(&files, &own, "a.js")?.script()?;
    assert_eq!(
        script,
        "const ne=1;const te=()=>ne;const{b:ee}=await Promise.resolve({b:te});ee();"
    );
    Ok(())
}

#[test]
fn a_circle_and_a_missing_name_stop_the_build() {
    let own = Own::new();
    let circle = files(&[
        (
            "a.js",
            "import { b } from \"./b.js\";\nexport const a = b;\n",
        ),
        (
            "b.js",
            "import { a } from \"./a.js\";\nexport const b = a;\n",
        ),
    ]);
    assert!(Scope::new(&circle, &own, "a.js").is_err());
    let missing = files(&[
        ("a.js", "import { c } from \"./b.js\";\nc();\n"),
        ("b.js", "export const b = 1;\n"),
    ]);
    assert!(
        Scope::new(&missing, &own, "a.js")
            .and_then(|scope| scope.script())
            .is_err()
    );
}

/// What a scope of these is refused for.
fn refused(all: &[(&str, &str)]) -> Option<String> {
    let files = files(all);
    let own = Own::new();
    let scope = Scope::new(&files, &own, "a.js").map(|_| ());
    scope.err().map(|fault| fault.to_string())
}

#[test]
fn what_is_loaded_is_imported_by_nobody() {
    let b = ("b.js", "export const b = 1;\n");
    let first = "import { b } from \"./b.js\";\nawait import(\"./b.js\");\nb();\n";
    assert_eq!(
        refused(&[("a.js", first), b]).as_deref(),
        Some("b.js is loaded by a.js when it is wanted, and imported by a.js")
    );
    let two = "await import(\"./b.js\");\nawait import(\"./c.js\");\n";
    let c = (
        "c.js",
        "import { b } from \"./b.js\";\nexport const c = b;\n",
    );
    assert_eq!(
        refused(&[("a.js", two), b, c]).as_deref(),
        Some("b.js is loaded by a.js when it is wanted, and imported by c.js")
    );
    // Loaded by two is one file.
    let c = ("c.js", "export const c = () => import(\"./b.js\");\n");
    assert_eq!(refused(&[("a.js", two), b, c]), None);
}

#[test]
fn one_name_passed_on_is_one_thing() {
    let a = (
        "a.js",
        "export * from \"./b.js\";\nexport * from \"./c.js\";\n",
    );
    let b = ("b.js", "export const d = 1;\n");
    assert_eq!(
        refused(&[a, b, ("c.js", "export const d = 2;\n")]).as_deref(),
        Some("a.js passes on d of b.js and of c.js")
    );
    let same = ("c.js", "export * from \"./b.js\";\n");
    assert_eq!(refused(&[a, b, same]), None);
}

#[test]
fn what_nobody_uses_is_not_in_the_one_script() -> Result<()> {
    let files = files(&[
        (
            "a.js",
            "import { b } from \"./b.js\";\nexport const used = () => b();\nfunction dead() { alsoDead(); }\nfunction alsoDead() { dead(); }\nused();\n",
        ),
        (
            "b.js",
            "import { d } from \"./d.js\";\nconst inner = { e: 1 };\nexport const b = () => inner;\nexport const c = () => d(other);\nconst other = 2;\nconst kept = b();\n",
        ),
        ("d.js", "export function d(x) { return x; }\n"),
    ]);
    let own = Own::new();
    let script = Scope::new(&files, &own, "a.js")?.script()?;
    assert_eq!(script.matches("=>").count(), 2, "{script}");
    assert!(
        !script.contains("function") && !script.contains('2'),
        "{script}"
    );
    assert!(
        script.contains("{e:1}") && script.ends_with("();"),
        "{script}"
    );
    Ok(())
}
