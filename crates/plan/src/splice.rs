//! An edit of the text of a plan's file, which leaves comments and layout of all else as they are.

use serde_json::{Map, Value as Json};
use toml_edit::{Array, DocumentMut, InlineTable, Item, TableLike, Value};

use crate::write::{inline, item};
use crate::{Edit, EditRefused, Plan};

/// Applies an edit to the text of a plan's file. What the edit does not touch keeps its comments, its order and
/// its layout; what it adds is laid out as [`Plan::to_toml`] does.
///
/// ```
/// use dryfit_measure::Pointer;
/// use dryfit_plan::{Edit, Plan, apply_to_text};
/// let text = include_str!("../../../demos/potting-room.toml");
/// let plan = Plan::from_toml(text).unwrap().plan;
/// let width = Pointer::parse("/units/b1/width/given").unwrap();
/// let edit = Edit::set(&plan, &width, "23 1/2 in", "make b1 23 1/2 in wide");
/// let changed = apply_to_text(text, &edit).unwrap();
/// let line = r#"b1 = { kind = "base", name = "pots", recipe = "painted", width = { given = "24 in" }"#;
/// assert_eq!(changed, text.replace(line, &line.replace("24 in", "23 1/2 in")));
/// ```
pub fn apply_to_text(text: &str, edit: &Edit) -> Result<String, EditRefused> {
    let before = Plan::from_toml(text).map_err(EditRefused::Faults)?.plan;
    let (after, _) = before.apply(edit)?;
    let mut document: DocumentMut = text.parse().map_err(|_| EditRefused::Layout)?;
    if let (Json::Object(old), Json::Object(new)) = (before.to_json(), after.to_json()) {
        merge(document.as_table_mut(), &mut Vec::new(), &old, &new);
    }
    let spliced = document.to_string();
    match Plan::from_toml(&spliced) {
        Ok(read) if read.plan == after => Ok(spliced),
        _ => Err(EditRefused::Layout),
    }
}

/// Makes a table that states `old` state `new`.
fn merge<'k>(
    table: &mut dyn TableLike,
    path: &mut Vec<&'k str>,
    old: &Map<String, Json>,
    new: &'k Map<String, Json>,
) {
    for key in old.keys().filter(|key| !new.contains_key(*key)) {
        take_out(table, key);
    }
    for (key, wanted) in new.iter().filter(|(key, wanted)| old.get(*key) != Some(wanted)) {
        path.push(key);
        match (old.get(key), wanted, table.get_mut(key)) {
            (Some(Json::Object(stated)), Json::Object(wanted), Some(item)) if item.is_table_like() => {
                if let Some(below) = item.as_table_like_mut() {
                    merge(below, path, stated, wanted);
                }
                tidy(item);
            }
            (_, _, Some(item)) => replace(item, wanted),
            (_, _, None) => {
                let headings = table.iter().any(|(_, item)| item.is_table());
                let laid_out = item(path, wanted);
                let fits = laid_out.is_value() || headings || table.is_empty();
                table.insert(key, if fits { laid_out } else { Item::Value(inline(wanted)) });
            }
        }
        path.pop();
    }
}

/// Takes a member out with the comment right above it. A comment set off by a blank line stays.
fn take_out(table: &mut dyn TableLike, key: &str) {
    let above = match (table.get(key), table.key(key)) {
        (Some(Item::Table(heading)), _) => heading.decor().prefix(),
        (_, Some(name)) => name.leaf_decor().prefix(),
        _ => None,
    };
    let above = above.and_then(|prefix| prefix.as_str()).unwrap_or_default().to_owned();
    let next = table.iter().skip_while(|(name, _)| *name != key).nth(1).map(|(name, _)| name.to_owned());
    table.remove(key);
    // up to and with the last blank line
    let stays = above.rfind("\n\n").map_or("", |at| &above[..at + 2]);
    if let (false, Some(next)) = (stays.trim().is_empty(), next) {
        if let Some(Item::Table(heading)) = table.get_mut(&next) {
            let own = heading.decor().prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default();
            let joined = format!("{stays}{}", own.trim_start_matches('\n'));
            heading.decor_mut().set_prefix(joined);
        } else if let Some(mut name) = table.key_mut(&next) {
            let own = name.leaf_decor().prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default();
            let joined = format!("{stays}{}", own.trim_start_matches('\n'));
            name.leaf_decor_mut().set_prefix(joined);
        }
    }
}

/// States another value in the place of one, with the blanks and comments round it.
fn replace(item: &mut Item, wanted: &Json) {
    let Item::Value(value) = item else {
        *item = Item::Value(inline(wanted));
        return;
    };
    let decor = value.decor().clone();
    *value = match (&*value, wanted) {
        (Value::Array(stated), Json::Array(wanted)) => Value::Array(list(stated, wanted)),
        _ => inline(wanted),
    };
    *value.decor_mut() = decor;
}

/// A list over several lines keeps the lines and comments of the items that stay.
fn list(stated: &Array, wanted: &[Json]) -> Array {
    let mut left = lines_of(stated);
    let Some(indent) =
        left.iter().find_map(|line| line.lead.rfind('\n').map(|at| line.lead[at..].to_owned()))
    else {
        return wanted.iter().map(inline).collect();
    };
    let (mut before, _) = split_line(stated.get(0).and_then(|first| first.decor().prefix()?.as_str()));
    let mut made = Array::new();
    for json in wanted {
        let same =
            left.iter().position(|line| line.item.as_str().is_some() && line.item.as_str() == json.as_str());
        let (item, lead, after) = match same.map(|index| left.remove(index)) {
            Some(line) => (line.item.clone(), line.lead, line.after),
            None => (inline(json), indent.clone(), String::new()),
        };
        made.push_formatted(item.decorated(before + &lead, ""));
        before = after;
    }
    let (_, last) = split_line(stated.trailing().as_str());
    made.set_trailing(before + &last);
    made.set_trailing_comma(stated.trailing_comma() && !wanted.is_empty());
    made
}

/// One item of a list with what belongs to it.
struct Line<'t> {
    item: &'t Value,
    /// From the line end before it to itself: comments above it, and its indent.
    lead: String,
    /// After its comma, to the end of its line.
    after: String,
}

fn lines_of(list: &Array) -> Vec<Line<'_>> {
    let mut lines: Vec<Line<'_>> = Vec::new();
    for item in list {
        let (after, lead) = split_line(item.decor().prefix().and_then(|prefix| prefix.as_str()));
        if let Some(last) = lines.last_mut() {
            last.after = after;
        }
        lines.push(Line { item, lead, after: String::new() });
    }
    if let Some(last) = lines.last_mut() {
        last.after = split_line(list.trailing().as_str()).0;
    }
    lines
}

/// What stands before the first line end, and what from there on; where there is none, all stands after it.
fn split_line(between: Option<&str>) -> (String, String) {
    let between = between.unwrap_or_default();
    let (before, after) = between.split_at(between.find('\n').unwrap_or(0));
    (before.to_owned(), after.to_owned())
}

/// Puts a table that stands on one line in order after members came or went.
fn tidy(item: &mut Item) {
    if let Some(table) = item.as_inline_table_mut() {
        one_line(table);
    }
}

fn one_line(table: &mut InlineTable) {
    let text = table.to_string();
    if !text.contains('\n') {
        table.fmt();
    }
}
