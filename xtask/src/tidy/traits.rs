//! A trait earns its place by a second implementation. Read as text, so an implementation that only a macro
//! writes is not seen.

use std::collections::BTreeMap;

use regex_lite::Regex;

use super::Problem;
use crate::tree::{Tree, code_only, line_of};

const TRAIT: &str = r"(?m)^\s*(?:pub(?:\([^)]*\))?\s+)?(?:unsafe\s+)?trait\s+(\w+)";
const IMPLEMENTATION: &str = r"\bimpl\b[^;{}]*?\b(\w+)(?:<[^;{}]*>)?\s+for\b";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let declared = Regex::new(TRAIT).expect("a pattern of ours compiles");
    let implemented = Regex::new(IMPLEMENTATION).expect("a pattern of ours compiles");
    let mut places = Vec::new();
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for source in tree.ending(&[".rs"]) {
        let code = code_only(&source.text);
        for found in declared.captures_iter(&code) {
            let line = found.get(1).map_or(1, |name| line_of(&code, name.start()));
            places.push((source.path.clone(), line, found[1].to_owned()));
        }
        for found in implemented.captures_iter(&code) {
            *counts.entry(found[1].to_owned()).or_default() += 1;
        }
    }
    let mut problems = Vec::new();
    for (path, line, name) in places {
        let what = match counts.get(&name) {
            None => format!("trait `{name}` has no implementation"),
            Some(1) => format!("trait `{name}` has one implementation"),
            Some(_) => continue,
        };
        problems.push(Problem::new(&path, line, what, "write plain functions on the type"));
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<String> {
        check(&Tree::of(&[("crates/drawing/src/a.rs", text)]))
            .into_iter()
            .map(|problem| problem.what)
            .collect()
    }

    #[test]
    fn a_trait_with_two_implementations_passes() {
        let text =
            "pub trait Writer {}\nimpl Writer for Svg {}\nimpl<'a, T: Clone> Writer for Dxf<'a, T> {}\n";
        assert_eq!(found(text), Vec::<String>::new());
        let text = "trait Put<T> {}\nimpl Put<u8> for A {}\nimpl crate::b::Put<Vec<u8>>\n    for B {}\n";
        assert_eq!(found(text), Vec::<String>::new());
    }

    #[test]
    fn a_trait_with_one_or_none_fails() {
        let text = "pub(crate) trait Writer: Sized {}\nimpl Writer for Svg {}\n// impl Writer for Dxf {}\n";
        assert_eq!(found(text), ["trait `Writer` has one implementation"]);
        assert_eq!(
            found("trait Writer {}\nimpl Display for Svg {}"),
            ["trait `Writer` has no implementation"]
        );
    }
}
