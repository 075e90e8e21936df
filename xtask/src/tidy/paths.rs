//! A file that a document names exists: link targets, and paths in backticks. Fenced blocks are samples and free.

use std::collections::BTreeSet;

use regex_lite::Regex;

use super::Problem;
use crate::tree::Tree;

pub fn check(tree: &Tree) -> Vec<Problem> {
    let link = Regex::new(r"\]\(([^)\s]+)\)").expect("a pattern of ours compiles");
    let code = Regex::new(r"`([^`\s]+)`").expect("a pattern of ours compiles");
    let places = Places::of(tree);
    let mut problems = Vec::new();
    for source in tree.ending(&[".md"]) {
        let folder = source.path.rsplit_once('/').map_or("", |(folder, _)| folder);
        let mut fenced = false;
        for (index, line) in source.text.lines().enumerate() {
            if line.trim_start().starts_with("```") {
                fenced = !fenced;
            }
            if fenced {
                continue;
            }
            let linked =
                link.captures_iter(line).map(|m| m[1].to_owned()).filter(|to| !places.linked(folder, to));
            let named =
                code.captures_iter(line).map(|m| m[1].to_owned()).filter(|path| !places.named(folder, path));
            for path in linked.chain(named) {
                let what = format!("`{path}` is no file here");
                problems.push(Problem::new(
                    &source.path,
                    index + 1,
                    what,
                    "name the file as it is called now",
                ));
            }
        }
    }
    problems
}

/// Every file and folder of the tree.
struct Places<'a> {
    all: BTreeSet<&'a str>,
}

impl<'a> Places<'a> {
    fn of(tree: &'a Tree) -> Self {
        let mut all = BTreeSet::new();
        for path in &tree.paths {
            all.insert(path.as_str());
            all.extend(path.match_indices('/').map(|(at, _)| &path[..at]));
        }
        Self { all }
    }

    /// Whether the target of a link is a place here, or none that this rule can judge.
    fn linked(&self, folder: &str, target: &str) -> bool {
        let path = target.split('#').next().unwrap_or_default();
        path.is_empty() || path.contains(':') || self.exists(folder, path)
    }

    /// Whether words in backticks name a place here, or do not look like a path: one that begins with a folder
    /// or file at the root, or ends like a Rust or Markdown file.
    fn named(&self, folder: &str, words: &str) -> bool {
        let path = words.split(':').next().unwrap_or_default().trim_end_matches('/');
        if path.contains(['*', '<', '{', '(', '=', '$', '"']) || path.starts_with(['/', '-', '~']) {
            return true;
        }
        let at_root = path.split_once('/').is_some_and(|(first, _)| self.all.contains(first));
        let is_source = [".rs", ".md"].iter().any(|end| path.ends_with(end) && path.len() > end.len());
        if !at_root && !is_source {
            return true;
        }
        let tail = format!("/{path}");
        self.exists(folder, path) || (is_source && self.all.iter().any(|known| known.ends_with(&tail)))
    }

    fn exists(&self, folder: &str, path: &str) -> bool {
        let path = path.trim_end_matches('/');
        [folder, ""].iter().any(|from| join(from, path).is_some_and(|path| self.all.contains(path.as_str())))
    }
}

/// `path` as seen from `folder`, with `.` and `..` taken out; `None` when it leaves the root.
fn join(folder: &str, path: &str) -> Option<String> {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            name => parts.push(name),
        }
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<(usize, String)> {
        let tree = Tree::of(&[
            ("docs/guide.md", text),
            ("README.md", ""),
            ("crates/stages/src/run.rs", ""),
            (".ci/run", ""),
        ]);
        check(&tree).into_iter().map(|problem| (problem.line, problem.what)).collect()
    }

    #[test]
    fn what_exists_or_is_no_path_passes() {
        let text = "[a](../README.md#top) [b](https://example.org/x.md) [c](#here) [d](guide.md)\n\
            `crates/stages/src/run.rs` `stages/src/run.rs:12` `run.rs` `.ci/run` `crates/stages/`\n\
            `/units/b3/width` `b3/side.left` `-o X.pdf` `crates/*/Cargo.toml` `and/or` `.rs` `plan.toml`\n\
            ```\n`crates/gone.rs`\n```\n";
        assert_eq!(found(text), []);
    }

    #[test]
    fn what_is_gone_fails() {
        assert_eq!(found("\n[a](../LICENCE)"), [(2, "`../LICENCE` is no file here".into())]);
        for gone in ["crates/stages/src/walk.rs", "walk.rs", ".ci/walk", "HISTORY.md", "stages/src/walk.rs"] {
            assert_eq!(found(&format!("see `{gone}`")), [(1, format!("`{gone}` is no file here"))]);
        }
        assert_eq!(found("[out](../../house.md)").len(), 1);
    }
}
