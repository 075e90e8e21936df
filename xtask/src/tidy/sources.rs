//! Every figure of the handbook says where it comes from: a standard and its clause, or `common practice`.

use super::Problem;
use crate::tree::{Source, Tree, line_of};

const DATA: &str = "crates/handbook/data/";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let data = tree.ending(&[".toml"]).filter(|source| source.path.starts_with(DATA));
    data.flat_map(check_file).collect()
}

fn check_file(source: &Source) -> Vec<Problem> {
    let table: toml::Table = match source.text.parse() {
        Ok(table) => table,
        Err(e) => {
            let line = e.span().map_or(1, |span| line_of(&source.text, span.start));
            return vec![Problem::new(&source.path, line, "not TOML", e.message())];
        }
    };
    let mut bare = Vec::new();
    unsourced("", &table, &mut bare);
    let problem = |name: String| {
        let what = format!("figure `{name}` has no source");
        let remedy = "say `source = ...`: the standard and its clause, or `common practice`";
        Problem::new(&source.path, line_of_table(&source.text, &name), what, remedy)
    };
    bare.into_iter().map(problem).collect()
}

/// Collects the dotted name of each table under `name` that has a `value` and no word on its source.
fn unsourced(name: &str, table: &toml::Table, bare: &mut Vec<String>) {
    let sourced = table.get("source").is_some_and(|source| match source {
        toml::Value::String(said) => !said.trim().is_empty(),
        toml::Value::Table(standard) => !standard.is_empty(),
        _ => false,
    });
    if table.contains_key("value") && !sourced {
        bare.push(name.to_owned());
    }
    for (key, value) in table {
        let inner = if name.is_empty() { key.clone() } else { format!("{name}.{key}") };
        let tables = match value {
            toml::Value::Table(table) => std::slice::from_ref(table).iter().collect(),
            toml::Value::Array(items) => items.iter().filter_map(toml::Value::as_table).collect(),
            _ => Vec::new(),
        };
        for table in tables {
            unsourced(&inner, table, bare);
        }
    }
}

fn line_of_table(text: &str, name: &str) -> usize {
    let heads = [format!("[{name}]"), format!("[[{name}]]")];
    text.lines().position(|line| heads.iter().any(|head| line.trim() == head)).map_or(1, |index| index + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<(usize, String)> {
        let tree = Tree::of(&[("crates/handbook/data/figures.toml", text)]);
        check(&tree).into_iter().map(|problem| (problem.line, problem.what)).collect()
    }

    #[test]
    fn a_figure_with_its_source_passes() {
        let text =
            "[toe-height]\nvalue = \"4 in\"\nsource = \"common practice\"\n[group]\nname = \"no figure\"\n";
        assert_eq!(found(text), []);
    }

    #[test]
    fn a_standard_and_its_clause_are_a_source() {
        let source = "source = { standard = { name = \"a norm\", clause = \"4\" } }";
        assert_eq!(found(&format!("[pitch]\nvalue = \"32 mm\"\n{source}\n")), []);
        assert_eq!(found("[pitch]\nvalue = \"32 mm\"\nsource = {}\n").len(), 1);
    }

    #[test]
    fn a_figure_with_no_or_an_empty_source_fails() {
        let text = "[toe.height]\nvalue = \"4 in\"\n\n[[span]]\nvalue = 3\nsource = \" \"\n";
        let expected = [(4, "figure `span` has no source"), (1, "figure `toe.height` has no source")];
        assert_eq!(found(text), expected.map(|(line, what)| (line, what.to_owned())));
    }
}
