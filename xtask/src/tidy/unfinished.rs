//! Nothing is left for later in the code.

use regex_lite::Regex;

use super::Problem;
use super::machine::OWN_FOLDER;
use crate::tree::{Tree, line_of};

const PATTERN: &str = r"\b(?:TODO|FIXME|XXX|HACK)\b|\b(?:todo|unimplemented)!|#\[ignore\b|\b(?:it|test|describe)\.(?:skip|only|todo)\(";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let pattern = Regex::new(PATTERN).expect("a pattern of ours compiles");
    let mut problems = Vec::new();
    for source in tree.sources.iter().filter(|source| !source.path.starts_with(OWN_FOLDER)) {
        for found in pattern.find_iter(&source.text) {
            let what = format!("`{}` is left in", found.as_str());
            let remedy = "finish it, or leave it out and say so in the docs";
            problems.push(Problem::new(&source.path, line_of(&source.text, found.start()), what, remedy));
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finished_code_passes() {
        let text = "// a todo list of the builder\nfn ignore() {}\nlet todos = 1;\n";
        assert_eq!(check(&Tree::of(&[("a.rs", text)])), []);
    }

    #[test]
    fn what_is_left_for_later_fails() {
        for text in [
            "// TODO: kerf",
            "// FIXME",
            "todo!()",
            "unimplemented!()",
            "#[ignore]",
            "#[ignore = \"slow\"]",
            "it.skip(",
        ] {
            let problems = check(&Tree::of(&[("a.rs", &format!("\n{text}"))]));
            assert_eq!(problems.len(), 1, "{text}");
            assert_eq!(problems[0].line, 2);
        }
    }
}
