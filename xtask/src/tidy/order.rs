//! Inside `crates/stages` the data flows one way: a module uses only modules that `lib.rs` declares before it.
//! The checks come last of the stages, and `run`, which calls them all, after that. Code for tests is free.

use std::collections::BTreeMap;

use regex_lite::Regex;

use super::Problem;
use crate::tree::{Source, Tree, code_only, line_of, without_tests};

const ROOT: &str = "crates/stages/src/";
const LAST: [&str; 2] = ["checks", "run"];

pub fn check(tree: &Tree) -> Vec<Problem> {
    let Some(lib) = tree.get("crates/stages/src/lib.rs") else { return Vec::new() };
    let road = declared(lib);
    let renamed = reexported(lib);
    let mut problems = check_last(lib, &road);
    for source in tree.ending(&[".rs"]).filter(|source| source.path.starts_with(ROOT)) {
        let inside = &source.path[ROOT.len()..];
        let module = inside.split(['/', '.']).next().unwrap_or_default();
        if let Some(own) = road.iter().position(|(name, _)| name == module) {
            problems.extend(check_module(source, &road, &renamed, own));
        }
    }
    problems
}

/// The modules in the order of their declaration, each with its line.
fn declared(lib: &Source) -> Vec<(String, usize)> {
    let pattern =
        Regex::new(r"(?m)^\s*(?:pub(?:\([^)]*\))?\s+)?mod\s+(\w+)\s*;").expect("a pattern of ours compiles");
    let code = without_tests(&code_only(&lib.text));
    let found = pattern.captures_iter(&code);
    found.map(|m| (m[1].to_owned(), m.get(1).map_or(1, |name| line_of(&code, name.start())))).collect()
}

/// What `lib.rs` passes on under its own name, `pub use run::Derived`, each with the module it comes from.
fn reexported(lib: &Source) -> BTreeMap<String, String> {
    let pattern =
        Regex::new(r"\buse\s+(?:self::|crate::)?(\w+)::([^;]+);").expect("a pattern of ours compiles");
    let code = without_tests(&code_only(&lib.text));
    let mut names = BTreeMap::new();
    for found in pattern.captures_iter(&code) {
        for item in found[2].split([',', '{', '}']) {
            if let Some(name) = item.split([' ', ':', '\n']).rfind(|word| !word.is_empty()) {
                names.insert(name.to_owned(), found[1].to_owned());
            }
        }
    }
    names
}

fn check_last(lib: &Source, road: &[(String, usize)]) -> Vec<Problem> {
    let mut problems = Vec::new();
    let from_end = LAST.iter().rev().filter(|name| road.iter().any(|(known, _)| known == *name));
    for (back, name) in from_end.enumerate() {
        let (found, line) = &road[road.len() - 1 - back];
        if found != name {
            let what = format!("`{found}` is declared where `{name}` belongs");
            problems.push(Problem::new(
                &lib.path,
                *line,
                what,
                "declare the stages first, then `checks`, then `run`",
            ));
        }
    }
    problems
}

fn check_module(
    source: &Source,
    road: &[(String, usize)],
    renamed: &BTreeMap<String, String>,
    own: usize,
) -> Vec<Problem> {
    let code = without_tests(&code_only(&source.text));
    let mut problems = Vec::new();
    for (offset, name) in used(&code, depth(&source.path)) {
        let module = renamed.get(&name).unwrap_or(&name);
        if let Some(at) = road.iter().position(|(known, _)| known == module)
            && at > own
        {
            let what = format!("stage `{}` uses `{module}`, which comes after it on the road", road[own].0);
            let remedy = "take it as an argument, or move the type to the stage that owns it";
            problems.push(Problem::new(&source.path, line_of(&code, offset), what, remedy));
        }
    }
    problems
}

/// How many modules deep the file at `path` lies: 1 for `room.rs` and `checks.rs` or `checks/mod.rs`, 2 for
/// `checks/reach.rs`.
fn depth(path: &str) -> usize {
    let inside = path[ROOT.len()..].trim_end_matches(".rs").trim_end_matches("/mod");
    inside.split('/').count()
}

/// The first name of each path that begins at the crate's root, with its offset: `crate::a`, each of
/// `crate::{a, b::c}`, and as many `super::` as the file is deep.
fn used(code: &str, depth: usize) -> Vec<(usize, String)> {
    let root = format!(r"\b(?:crate::|(?:super::){{{depth}}})(\w+|\{{)");
    let pattern = Regex::new(&root).expect("a pattern of ours compiles");
    let mut names = Vec::new();
    for found in pattern.captures_iter(code) {
        let Some(first) = found.get(1) else { continue };
        if first.as_str() == "{" {
            names.extend(grouped(code, first.end()));
        } else {
            names.push((first.start(), first.as_str().to_owned()));
        }
    }
    names
}

/// The first name of each item of the group whose brace opens just before `from`.
fn grouped(code: &str, from: usize) -> Vec<(usize, String)> {
    let mut names = Vec::new();
    let (mut depth, mut fresh) = (1, true);
    let mut rest = code[from..].char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 1 => fresh = true,
            _ if fresh && (c.is_alphabetic() || c == '_') => {
                let mut name = c.to_string();
                while let Some((_, c)) = rest.next_if(|(_, c)| c.is_alphanumeric() || *c == '_') {
                    name.push(c);
                }
                names.push((from + at, name));
                fresh = false;
            }
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIB: (&str, &str) = (
        "crates/stages/src/lib.rs",
        "//! The road.\npub mod finding;\npub mod room;\npub mod parts;\n#[cfg(test)]\nmod fixtures;\npub mod checks;\nmod run;\npub use finding::{Finding, Severity as Weight};\npub use run::Derived;\n",
    );

    fn found(path: &str, text: &str) -> Vec<(usize, String)> {
        let tree = Tree::of(&[LIB, (path, text)]);
        check(&tree).into_iter().map(|problem| (problem.line, problem.what)).collect()
    }

    #[test]
    fn what_comes_before_may_be_used() {
        let text = "use crate::{finding::Finding, room::{Room, parts}};\nuse crate::parts::inner;\nuse super::room;\n";
        assert_eq!(found("crates/stages/src/parts.rs", text), []);
        assert_eq!(
            found("crates/stages/src/checks/reach.rs", "use crate::room::Room;\nuse super::run;\n"),
            []
        );
        assert_eq!(found("crates/stages/src/run.rs", "use crate::{checks, finding, parts, room};\n"), []);
    }

    #[test]
    fn what_comes_after_may_not() {
        let after = "stage `room` uses `parts`, which comes after it on the road".to_owned();
        for text in [
            "\nuse crate::parts::Part;",
            "\nuse crate::{finding::{Finding, Severity}, parts};",
            "\nfn f(_: crate::parts::Part) {}",
            "\nuse super::parts;",
        ] {
            assert_eq!(found("crates/stages/src/room.rs", text), [(2, after.clone())], "{text}");
        }
        assert_eq!(found("crates/stages/src/room/lean.rs", "use super::super::parts;").len(), 1);
        assert_eq!(found("crates/stages/src/checks/reach.rs", "use crate::run;").len(), 1);
    }

    #[test]
    fn a_name_that_the_crate_passes_on_counts_as_its_module() {
        assert_eq!(found("crates/stages/src/room.rs", "use crate::{Finding, Weight};"), []);
        let run = "stage `room` uses `run`, which comes after it on the road".to_owned();
        assert_eq!(found("crates/stages/src/room.rs", "use crate::{Finding, Derived};"), [(1, run)]);
    }

    #[test]
    fn tests_and_comments_are_free() {
        let text = "// crate::parts\nfn f() {}\n#[cfg(test)]\nmod tests {\n    use crate::run;\n}\n";
        assert_eq!(found("crates/stages/src/room.rs", text), []);
    }

    #[test]
    fn checks_and_run_come_last() {
        let lib = ("crates/stages/src/lib.rs", "mod run;\nmod room;\nmod checks;\n");
        let problems: Vec<String> =
            check(&Tree::of(&[lib])).into_iter().map(|problem| problem.what).collect();
        assert_eq!(
            problems,
            ["`checks` is declared where `run` belongs", "`room` is declared where `checks` belongs"]
        );
    }
}
