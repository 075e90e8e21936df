//! Crates import one way only. The table is the one `ARCHITECTURE.md` explains.

use std::collections::BTreeSet;

use super::Problem;
use crate::tree::{Source, Tree};

/// Each crate folder and the crates of ours that it may depend on.
const EDGES: &[(&str, &[&str])] = &[
    ("crates/measure", &[]),
    ("crates/cutting", &[]),
    ("crates/tiling", &[]),
    ("crates/scheduling", &[]),
    ("crates/fonts", &[]),
    ("crates/handbook", &["measure"]),
    ("crates/plan", &["measure"]),
    ("crates/stages", &["measure", "handbook", "cutting", "scheduling", "tiling", "plan"]),
    ("crates/drawing", &["measure", "plan", "handbook", "stages"]),
    ("crates/typeset", &["fonts"]),
    ("crates/packet", &["measure", "plan", "stages", "drawing", "typeset"]),
    ("crates/project", &["measure", "handbook", "cutting", "plan", "stages", "drawing", "packet"]),
    ("crates/cli", &["project", "web"]),
    ("crates/web", &["project", "fonts"]),
    ("xtask", &[]),
];

/// What the tests of a crate may use besides: to judge what it draws, say.
const TEST_EDGES: &[(&str, &[&str])] =
    &[("crates/drawing", &["cutting", "fonts"]), ("crates/packet", &["cutting"])];

const PREFIX: &str = "dryfit-";

const PAPER: &str = "ARCHITECTURE.md";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let manifests = tree.ending(&["/Cargo.toml"]);
    let mut problems: Vec<Problem> = manifests.flat_map(check_manifest).collect();
    if let Some(paper) = tree.get(PAPER) {
        problems.extend(check_paper(tree, paper));
    }
    problems
}

/// Each crate that exists has a row in the document's table of rooms, and its last cell names the same edges.
fn check_paper(tree: &Tree, paper: &Source) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (folder, allowed) in
        EDGES.iter().filter(|(folder, _)| tree.get(&format!("{folder}/Cargo.toml")).is_some())
    {
        let start = format!("| `{folder}` |");
        let row = paper.text.lines().enumerate().find(|(_, line)| line.starts_with(&start));
        let Some((index, row)) = row else {
            let what = format!("`{folder}` has no row in the table of rooms");
            problems.push(Problem::new(PAPER, 1, what, "add what it holds and what it imports"));
            continue;
        };
        let cell = row.trim_end_matches(['|', ' ']).rsplit('|').next().unwrap_or_default();
        let written: BTreeSet<&str> = cell.split('`').skip(1).step_by(2).collect();
        if written != allowed.iter().copied().collect() {
            let what = format!("the row of `{folder}` names other imports than the table of edges");
            problems.push(Problem::new(
                PAPER,
                index + 1,
                what,
                format!("it may import: {}", may_import(allowed)),
            ));
        }
    }
    problems
}

fn may_import(allowed: &[&str]) -> String {
    if allowed.is_empty() { "none of ours".into() } else { allowed.join(", ") }
}

fn check_manifest(source: &Source) -> Vec<Problem> {
    let path = &source.path;
    let folder = path.trim_end_matches("/Cargo.toml");
    let manifest: toml::Table = match source.text.parse() {
        Ok(manifest) => manifest,
        Err(e) => {
            let line = e.span().map_or(1, |span| crate::tree::line_of(&source.text, span.start));
            return vec![Problem::new(path, line, "not TOML", e.message())];
        }
    };
    let Some((_, allowed)) = EDGES.iter().find(|(known, _)| *known == folder) else {
        let remedy = "add what it may import to `xtask/src/tidy/edges.rs` and to `ARCHITECTURE.md`";
        return vec![Problem::new(
            path,
            1,
            format!("the crate in `{folder}` has no row in the table of edges"),
            remedy,
        )];
    };
    let mut problems = Vec::new();
    for name in dependencies(&manifest) {
        let Some(ours) = name.strip_prefix(PREFIX) else { continue };
        let in_tests = manifest.get("dev-dependencies").and_then(toml::Value::as_table);
        let for_tests = in_tests.is_some_and(|table| table.contains_key(name))
            && TEST_EDGES.iter().any(|(known, tests)| *known == folder && tests.contains(&ours));
        if !allowed.contains(&ours) && !for_tests {
            let may = may_import(allowed);
            let what = format!("`{folder}` imports `{ours}`, which lies outside what it may import ({may})");
            let remedy = "move the type to its owner, or pass in what is needed";
            problems.push(Problem::new(path, line_naming(&source.text, name), what, remedy));
        }
    }
    problems
}

/// The names in every dependency table, those of single targets too.
fn dependencies(manifest: &toml::Table) -> Vec<&str> {
    let mut names = Vec::new();
    for (key, value) in manifest {
        let Some(table) = value.as_table() else { continue };
        if key.ends_with("dependencies") {
            names.extend(table.iter().map(|(name, spec)| renamed(spec).unwrap_or(name)));
        } else if key == "target" {
            names.extend(table.values().filter_map(toml::Value::as_table).flat_map(dependencies));
        }
    }
    names
}

fn renamed(spec: &toml::Value) -> Option<&str> {
    spec.get("package")?.as_str()
}

fn line_naming(text: &str, name: &str) -> usize {
    let line = text.lines().position(|line| line.contains(name) && !line.trim_start().starts_with('#'));
    line.map_or(1, |index| index + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_of_the_table_pass() {
        let tree = Tree::of(&[
            ("crates/plan/Cargo.toml", "[dependencies]\ndryfit-measure.workspace = true\ntoml = \"1\"\n"),
            ("crates/measure/Cargo.toml", "[dependencies]\nserde = \"1\"\n"),
        ]);
        assert_eq!(check(&tree), []);
    }

    #[test]
    fn an_edge_against_the_road_fails_in_every_kind_of_table() {
        for table in
            ["dependencies", "dev-dependencies", "build-dependencies", "target.'cfg(unix)'.dependencies"]
        {
            let text =
                format!("[package]\nname = \"dryfit-plan\"\n[{table}]\ndryfit-handbook.workspace = true\n");
            let problems = check(&Tree::of(&[("crates/plan/Cargo.toml", &text)]));
            assert_eq!(problems.len(), 1, "{table}");
            assert_eq!(
                problems[0].what,
                "`crates/plan` imports `handbook`, which lies outside what it may import (measure)"
            );
            assert_eq!(problems[0].line, 4);
        }
    }

    #[test]
    fn a_renamed_edge_is_seen() {
        let text = "[dependencies]\nhb = { package = \"dryfit-handbook\", path = \"../handbook\" }\n";
        assert_eq!(check(&Tree::of(&[("crates/cutting/Cargo.toml", text)])).len(), 1);
    }

    #[test]
    fn a_crate_without_a_row_fails() {
        let problems =
            check(&Tree::of(&[("crates/attic/Cargo.toml", "[package]\nname = \"dryfit-attic\"\n")]));
        assert_eq!(problems[0].what, "the crate in `crates/attic` has no row in the table of edges");
    }

    #[test]
    fn the_document_names_the_same_edges() {
        let plan = ("crates/plan/Cargo.toml", "[dependencies]\ndryfit-measure.workspace = true\n");
        let told = |row: &str| {
            let problems = check(&Tree::of(&[plan, (PAPER, &format!("# Rooms\n{row}\n"))]));
            problems.into_iter().map(|problem| (problem.line, problem.what)).collect::<Vec<_>>()
        };
        assert_eq!(told("| `crates/plan` | what is `stated` | `measure` |"), []);
        let other = "the row of `crates/plan` names other imports than the table of edges".to_owned();
        assert_eq!(told("| `crates/plan` | what is stated | none |"), [(2, other)]);
        assert_eq!(told(""), [(1, "`crates/plan` has no row in the table of rooms".to_owned())]);
    }
}
