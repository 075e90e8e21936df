//! What an edit changed, before and after.

use std::collections::BTreeMap;

use dryfit_measure::Length;
use serde::Serialize;

use super::finding::cards;
use super::frame::{counted, sheets};
use super::names;
use super::number::{Run, number, rich};
use crate::open::Project;

/// What an edit changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Changed {
    /// What was done: "make b4 wider", "taken back: ...".
    pub label: Vec<Run>,
    /// Sizes, sheets, money, findings, before and after.
    pub moved: Vec<Moved>,
    /// "11 parts changed".
    pub parts: String,
    /// In one sentence, for those who hear it.
    pub said: String,
}

/// One thing before and after.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Moved {
    /// What.
    pub what: String,
    /// Before.
    pub was: Vec<Run>,
    /// After.
    pub is: Vec<Run>,
    /// Whether nothing changed: it then says "as before".
    pub same: bool,
}

/// Sizes of units that are told one by one.
const TOLD: usize = 4;

/// What an edit of this name changed between two projects.
pub fn note(label: &str, before: &Project, after: &Project) -> Changed {
    let mut moved = sizes(before, after);
    let parts = parts_changed(before, after);
    let mut add = |what: &str, was: String, is: String| {
        let same = was == is;
        moved.push(Moved { what: what.to_owned(), was: rich(&was), is: rich(&is), same });
    };
    let ([sheets_was, boards_was], [sheets_is, boards_is]) = (sheets(before), sheets(after));
    add("sheets", sheets_was.to_string(), sheets_is.to_string());
    if boards_was != boards_is {
        add("boards", boards_was.to_string(), boards_is.to_string());
    }
    let money = |project: &Project| {
        names::money(&project.plan, project.derived.takeoff.total + project.derived.takeoff.tax)
    };
    add("money", money(before), money(after));
    let (was, is) = (counts(before), counts(after));
    for (severity, (was, is)) in ["stop", "look", "note"].into_iter().zip(was.into_iter().zip(is)) {
        if was != is {
            add(severity, was.to_string(), is.to_string());
        }
    }
    if was == is {
        add("findings", "as before".to_owned(), "as before".to_owned());
    }
    let label = label.replace('`', "");
    let said = said(&label, &moved, &parts);
    Changed { label: rich(&label), moved, parts, said }
}

fn counts(project: &Project) -> [usize; 3] {
    let cards = cards(project);
    ["stop", "look", "note"]
        .map(|severity| cards.iter().filter(|card| card.left.is_none() && card.severity == severity).count())
}

fn said(label: &str, moved: &[Moved], parts: &str) -> String {
    let plain = |runs: &[Run]| -> String {
        runs.iter()
            .map(|run| match run {
                Run::Text(text) | Run::Strong(text) | Run::Struck(text) => text.clone(),
                Run::Ring(n) | Run::Gate(n) => n.to_string(),
                Run::Number(number) => number.plain.clone(),
            })
            .collect()
    };
    let mut words = vec![label.to_owned()];
    for one in moved.iter().filter(|one| !one.same) {
        words.push(format!("{} from {} to {}", one.what, plain(&one.was), plain(&one.is)));
    }
    words.push(parts.to_owned());
    words.join("; ")
}

/// Widths, heights and depths of units that are not what they were.
fn sizes(before: &Project, after: &Project) -> Vec<Moved> {
    let of = |project: &Project| -> BTreeMap<(String, &'static str), Length> {
        let derived = &project.derived;
        derived
            .dims()
            .into_iter()
            .filter(|one| {
                !one.place.contains('/') && ["width", "height", "depth", "length"].contains(&one.dimension)
            })
            .map(|one| ((one.place, one.dimension), one.dim.length()))
            .collect()
    };
    let (was, is) = (of(before), of(after));
    let fineness = after.plan.fineness;
    let step = fineness.step();
    let runs = |length: Option<&Length>| match length {
        Some(length) => vec![Run::Number(number(*length, fineness))],
        None => vec![Run::Text("nothing".into())],
    };
    let keys: std::collections::BTreeSet<_> = was.keys().chain(is.keys()).collect();
    let far = |a: Option<&Length>, b: Option<&Length>| match (a, b) {
        (Some(a), Some(b)) => (*a - *b).abs() * 2 >= step,
        _ => true,
    };
    let mut all: Vec<Moved> = Vec::new();
    for key in keys.into_iter().filter(|key| far(was.get(*key), is.get(*key))) {
        // what comes or goes is told once, by its width
        if was.contains_key(key) != is.contains_key(key) && key.1 != "width" {
            continue;
        }
        let word = if key.1 == "width" { String::new() } else { format!(" {}", key.1) };
        let what = format!("{}{word}", key.0);
        all.push(Moved { what, was: runs(was.get(key)), is: runs(is.get(key)), same: false });
    }
    let more = all.len().saturating_sub(TOLD);
    all.truncate(TOLD);
    if more > 0 {
        all.push(Moved {
            what: "and".into(),
            was: Vec::new(),
            is: vec![Run::Text(counted(more, "size more", "sizes more"))],
            same: false,
        });
    }
    all
}

fn parts_changed(before: &Project, after: &Project) -> String {
    let of = |project: &Project| -> BTreeMap<String, [Length; 2]> {
        let groups = &project.derived.cut_list.groups;
        let pieces = groups.iter().flat_map(|group| &group.pieces);
        pieces.map(|piece| (piece.path.clone(), [piece.length.length(), piece.width.length()])).collect()
    };
    let (was, is) = (of(before), of(after));
    let changed = is.iter().filter(|(path, size)| was.get(*path) != Some(size)).count();
    let gone = was.keys().filter(|path| !is.contains_key(*path)).count();
    match changed + gone {
        0 => "no part changed".to_owned(),
        n => format!("{} changed", counted(n, "part", "parts")),
    }
}
