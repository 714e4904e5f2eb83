//! A place in a plain value by its path, as `stacks[0].leftOverStops`.

use crate::plain::tree::Tree;

/// One step of a path.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Step {
    Field(String),
    Item(usize),
}

/// Longest path read.
const MOST_STEPS: usize = 12;

/// The steps of a path; `None` for what is no path.
pub(crate) fn steps(path: &str) -> Option<Vec<Step>> {
    let mut steps = Vec::new();
    for part in path.split('.') {
        let mut items = part.split('[');
        let name = items.next().filter(|name| !name.is_empty())?;
        steps.push(Step::Field(name.to_owned()));
        for item in items {
            steps.push(Step::Item(item.strip_suffix(']')?.parse().ok()?));
        }
    }
    (steps.len() <= MOST_STEPS).then_some(steps)
}

/// What stands there.
pub(crate) fn found<'a>(tree: &'a Tree, steps: &[Step]) -> Option<&'a Tree> {
    let Some((first, rest)) = steps.split_first() else {
        return Some(tree);
    };
    let inner = match (tree, first) {
        (Tree::Record(fields), Step::Field(wanted)) => fields
            .iter()
            .find(|(name, _)| name == wanted)
            .map(|(_, field)| field),
        (Tree::List(items), Step::Item(at)) => items.get(*at),
        _ => None,
    };
    found(inner?, rest)
}

/// The same to write to: a field that is not there is made, an item is not.
pub(crate) fn made<'a>(tree: &'a mut Tree, steps: &[Step]) -> Option<&'a mut Tree> {
    let Some((first, rest)) = steps.split_first() else {
        return Some(tree);
    };
    let inner = match (tree, first) {
        (Tree::Record(fields), Step::Field(wanted)) => {
            let at = fields.iter().position(|(name, _)| name == wanted);
            let at = at.unwrap_or_else(|| {
                fields.push((wanted.clone(), Tree::Record(Vec::new())));
                fields.len() - 1
            });
            fields.get_mut(at).map(|(_, field)| field)
        }
        (Tree::List(items), Step::Item(at)) => items.get_mut(*at),
        _ => None,
    };
    made(inner?, rest)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Tree, found, made, steps};

    #[test]
    fn what_is_written_is_found_there() {
        let mut tree = Tree::Record(vec![(
            "kit".to_owned(),
            Tree::List(vec![Tree::Record(Vec::new())]),
        )]);
        let path = steps("kit[0].density").unwrap();
        *made(&mut tree, &path).unwrap() = Tree::Number(0.9);
        assert_eq!(found(&tree, &path), Some(&Tree::Number(0.9)));
        assert_eq!(found(&tree, &steps("kit[1].density").unwrap()), None);
        assert!(made(&mut tree, &steps("kit[1]").unwrap()).is_none());
        assert_eq!(found(&tree, &steps("shot").unwrap()), None);
    }

    #[test]
    fn what_is_no_path_is_none() {
        for text in ["", ".", "a.", "a[", "a[x]", "a[-1]", "[0]", "a[0", "a[0]b]"] {
            assert_eq!(steps(text), None, "{text}");
        }
        assert_eq!(steps(&"a.".repeat(40)), None);
    }
}
