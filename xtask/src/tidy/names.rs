//! Modules and types are named for what they are. A room called `utils` has no door, and a type called a manager
//! says only that somebody did not know where to put it.

use regex_lite::Regex;

use super::Problem;
use crate::tree::{Source, Tree, code_only, line_of};

const MODULES: &[&str] =
    &["utils", "util", "common", "core", "types", "helpers", "helper", "manager", "misc"];

/// A type may be a `Service` all by itself: the trade's word for a pipe, duct or cable in the wall.
const TYPE: &str = r"\b(?:struct|enum|trait|type|union|class|interface)\s+(\w+(?:Manager|Handler|Service|Context|Processor)|Manager|Handler|Context|Processor)\b";
const MODULE: &str = r"\bmod\s+(\w+)";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let module = Regex::new(MODULE).expect("a pattern of ours compiles");
    let kind = Regex::new(TYPE).expect("a pattern of ours compiles");
    let mut problems = Vec::new();
    for source in tree.ending(&[".rs", ".ts", ".svelte"]) {
        if let Some(name) = source.path.split(['/', '.']).find(|part| MODULES.contains(part)) {
            problems.push(module_problem(source, 1, name));
        }
        let code = code_only(&source.text);
        for found in kind.captures_iter(&code) {
            let what = format!("`{}` says nothing of what it is", &found[1]);
            let line = found.get(1).map_or(1, |name| line_of(&code, name.start()));
            problems.push(Problem::new(&source.path, line, what, "name the thing itself"));
        }
        for found in module.captures_iter(&code).filter(|found| MODULES.contains(&&found[1])) {
            let line = found.get(1).map_or(1, |name| line_of(&code, name.start()));
            problems.push(module_problem(source, line, &found[1]));
        }
    }
    problems
}

fn module_problem(source: &Source, line: usize, name: &str) -> Problem {
    let what = format!("a module called `{name}` takes in everything");
    Problem::new(&source.path, line, what, "put each piece where its owner lives")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(path: &str, text: &str) -> Vec<String> {
        check(&Tree::of(&[(path, text)])).into_iter().map(|problem| problem.what).collect()
    }

    #[test]
    fn names_of_things_pass() {
        let text = "mod kerf;\nstruct Service;\nstruct Handle;\n// struct KerfManager\nuse std::core::x;\nfn core() {}\n";
        assert_eq!(found("crates/plan/src/services.rs", text), Vec::<String>::new());
    }

    #[test]
    fn empty_names_of_types_fail() {
        for name in ["KerfManager", "EditHandler", "PlanService", "RunContext", "PartProcessor", "Context"] {
            let expected = format!("`{name}` says nothing of what it is");
            assert_eq!(found("a.rs", &format!("pub struct {name} {{}}")), [expected]);
        }
        assert_eq!(found("app/a.ts", "export class PlanService {}").len(), 1);
    }

    #[test]
    fn catch_all_modules_fail_by_file_folder_and_declaration() {
        for (path, text) in [
            ("crates/plan/src/utils.rs", ""),
            ("crates/common/src/lib.rs", ""),
            ("app/src/types/plan.ts", ""),
            ("crates/plan/src/lib.rs", "mod helpers { }"),
        ] {
            assert_eq!(found(path, text).len(), 1, "{path}");
        }
    }
}
