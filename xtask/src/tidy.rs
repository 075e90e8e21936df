//! `cargo xtask tidy`: the habits of the house as a program, one rule a file. Also run as a test, below.

mod docs;
mod edges;
mod machine;
mod names;
mod order;
mod paths;
mod sizes;
mod sources;
mod traits;
mod unfinished;

use std::fmt;
use std::path::Path;

use crate::Outcome;
use crate::tree::Tree;

/// One place that breaks a rule.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Problem {
    path: String,
    line: usize,
    what: String,
    remedy: String,
}

impl Problem {
    fn new(path: &str, line: usize, what: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { path: path.into(), line, what: what.into(), remedy: remedy.into() }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}; {}", self.path, self.line, self.what, self.remedy)
    }
}

/// Every rule; each sees the whole tree and returns all it finds.
const RULES: &[fn(&Tree) -> Vec<Problem>] = &[
    docs::check,
    edges::check,
    machine::check,
    names::check,
    order::check,
    paths::check,
    sizes::check,
    sources::check,
    traits::check,
    unfinished::check,
];

fn problems(tree: &Tree) -> Vec<Problem> {
    let mut found: Vec<Problem> = RULES.iter().flat_map(|rule| rule(tree)).collect();
    found.sort();
    found
}

/// Prints every problem of the tree at `root`.
///
/// # Errors
/// When there is one, or the tree cannot be read.
pub fn run(root: &Path, _arguments: &[String]) -> Outcome {
    let tree = Tree::read(root)?;
    let found = problems(&tree);
    for problem in &found {
        println!("{problem}");
    }
    match found.len() {
        0 => Ok(()),
        1 => Err("1 thing is untidy".into()),
        n => Err(format!("{n} things are untidy")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_repository_is_tidy() {
        let tree = Tree::read(&crate::repository()).expect("a tree that git can list");
        let found: Vec<String> = problems(&tree).iter().map(Problem::to_string).collect();
        assert!(found.is_empty(), "\n{}", found.join("\n"));
    }

    #[test]
    fn all_problems_come_at_once_in_order_of_place() {
        let tree = Tree::of(&[
            ("crates/measure/src/b.rs", "fn f() { todo!() }\n"),
            ("crates/measure/src/a.rs", "struct KerfManager;\n"),
        ]);
        let printed: Vec<String> = problems(&tree).iter().map(Problem::to_string).collect();
        assert_eq!(
            printed,
            [
                "crates/measure/src/a.rs:1: `KerfManager` says nothing of what it is; name the thing itself",
                "crates/measure/src/a.rs:1: no module doc; begin the file with `//!` and what it holds",
                "crates/measure/src/b.rs:1: `todo!` is left in; finish it, or leave it out and say so in the docs",
                "crates/measure/src/b.rs:1: no module doc; begin the file with `//!` and what it holds",
            ]
        );
    }
}
