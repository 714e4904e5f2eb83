//! Scripts and styles without what only their readers need.
//!
//! Comments that have lines of their own and indentation go; every other byte
//! stays, so that nothing can change its meaning. A minifier would gain a little
//! more and cost minutes of building.

use anyhow::{Result, ensure};

/// A script without its comment lines and indentation. What stands in a
/// template text is left alone.
pub(crate) fn script(source: &str) -> Result<String> {
    let mut lean = String::with_capacity(source.len());
    let (mut in_template, mut in_comment) = (false, false);
    for line in source.lines() {
        let bare = line.trim();
        if in_comment {
            in_comment = !bare.ends_with("*/");
            continue;
        }
        if !in_template {
            if bare.is_empty() || bare.starts_with("//") {
                continue;
            }
            if bare.starts_with("/*") && (bare.ends_with("*/") || !bare.contains("*/")) {
                in_comment = !bare.ends_with("*/");
                continue;
            }
        }
        // Only the start: the end of a line may belong to a template text.
        lean.push_str(if in_template { line } else { line.trim_start() });
        lean.push('\n');
        in_template ^= ticks(bare) % 2 == 1;
    }
    ensure!(
        !in_template && !in_comment,
        "a comment or template text has no end"
    );
    Ok(lean)
}

fn ticks(line: &str) -> usize {
    line.matches('`').count() - line.matches("\\`").count()
}

/// A style without comments and indentation.
pub(crate) fn style(source: &str) -> String {
    let mut lean = String::with_capacity(source.len());
    let mut rest = source;
    while let Some((before, comment)) = rest.split_once("/*") {
        lean.push_str(before);
        rest = comment.split_once("*/").map_or("", |(_, after)| after);
    }
    lean.push_str(rest);
    let lines = lean.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.flat_map(|line| [line, "\n"]).collect()
}

#[cfg(test)]
mod tests {
    use super::{script, style};

    #[test]
    fn comments_go_and_code_stays() -> anyhow::Result<()> {
        let lean = script("/**\n * Why.\n */\n  // how\n  const a = 1; // said\n\n")?;
        assert_eq!(lean, "const a = 1; // said\n");
        let typed = script("/** @type {A} */ const a = 1;\n")?;
        assert_eq!(typed, "/** @type {A} */ const a = 1;\n");
        Ok(())
    }

    #[test]
    fn a_template_text_keeps_its_lines() -> anyhow::Result<()> {
        let source = "const a = `one\n  // two\n\n/* three */`;\n";
        assert_eq!(script(source)?, source);
        assert!(script("const a = `one\n").is_err());
        Ok(())
    }

    #[test]
    fn a_style_keeps_its_rules() {
        let lean = style("/* Why\n so. */\n.a {\n  color: red; /* warm */\n}\n");
        assert_eq!(lean, ".a {\ncolor: red;\n}\n");
    }
}
