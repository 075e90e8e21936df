//! No file grows past what a reader can hold.

use super::Problem;
use crate::tree::Tree;

/// Most lines of a file of code, and of one of the page.
const CODE: usize = 900;
const PAGE: usize = 400;
/// Made by a test from the types that the program sends: nobody reads it from end to end.
const MADE: &str = "app/src/wire.ts";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let mut problems = Vec::new();
    for source in tree.ending(&[".rs", ".py", ".typ", ".ts", ".svelte", ".css", ".js", ".mjs"]) {
        if source.path == MADE {
            continue;
        }
        let lines = source.text.lines().count();
        let most = if source.path.starts_with("app/") { PAGE } else { CODE };
        if lines > most {
            let what = format!("{lines} lines, at most {most} are allowed");
            problems.push(Problem::new(&source.path, most + 1, what, "split it where the subject changes"));
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(path: &str, lines: usize) -> usize {
        check(&Tree::of(&[(path, &"x\n".repeat(lines))])).len()
    }

    #[test]
    fn a_file_exactly_at_the_limit_passes() {
        assert_eq!(count("crates/plan/src/lib.rs", 900), 0);
        assert_eq!(count("app/src/page.svelte", 400), 0);
        assert_eq!(count("crates/plan/samples/room.toml", 5000), 0);
        assert_eq!(count("app/src/wire.ts", 5000), 0);
    }

    #[test]
    fn a_file_one_line_over_fails() {
        assert_eq!(count("crates/plan/src/lib.rs", 901), 1);
        assert_eq!(count("app/src/page.svelte", 401), 1);
    }
}
