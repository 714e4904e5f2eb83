//! Styles without what only their readers need: comments go, and blanks that
//! part nothing.

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
    use super::style;

    #[test]
    fn a_style_keeps_its_rules() {
        let lean = style("/* Why\n so. */\n.a {\n  color: red; /* warm */\n}\n");
        assert_eq!(lean, ".a {\ncolor: red;\n}\n");
    }
}
