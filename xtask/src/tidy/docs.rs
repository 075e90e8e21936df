//! Every Rust file opens with a module doc, so that a newcomer knows the room before reading it.

use super::Problem;
use crate::tree::Tree;

pub fn check(tree: &Tree) -> Vec<Problem> {
    let mut problems = Vec::new();
    for source in tree.ending(&[".rs"]) {
        let first = source.text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
        let said = first.strip_prefix("//!").unwrap_or_default().trim();
        if said.is_empty() {
            let remedy = "begin the file with `//!` and what it holds";
            problems.push(Problem::new(&source.path, 1, "no module doc", remedy));
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_says_what_it_holds_passes() {
        assert_eq!(check(&Tree::of(&[("a.rs", "\n//! Spans.\nuse b;\n"), ("c.md", "no doc")])), []);
    }

    #[test]
    fn a_file_without_or_with_an_empty_doc_fails() {
        let tree = Tree::of(&[("a.rs", "use b;\n//! Late.\n"), ("b.rs", "//!\n"), ("c.rs", "")]);
        let paths: Vec<String> = check(&tree).into_iter().map(|problem| problem.path).collect();
        assert_eq!(paths, ["a.rs", "b.rs", "c.rs"]);
    }
}
