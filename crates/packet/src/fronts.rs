//! What the fronts of a unit are called: by what they are and where they are, not by their keys.

use dryfit_plan::{Front, Unit};

/// Names of a unit's fronts by their paths in the plan's tree: "drawer", "upper door", "drawer 2".
pub(crate) fn front_names(unit: &Unit) -> Vec<(String, String)> {
    let Some(front) = &unit.fronts else { return Vec::new() };
    let mut leaves: Vec<(String, &'static str)> = Vec::new();
    collect(front, String::new(), &mut leaves);
    let name = |index: usize| {
        let kind = leaves[index].1;
        let same: Vec<usize> = (0..leaves.len()).filter(|i| leaves[*i].1 == kind).collect();
        let place = same.iter().position(|i| *i == index).unwrap_or_default();
        match (same.len(), place) {
            (1, _) => kind.to_owned(),
            (2, 0) => format!("upper {kind}"),
            (2, _) => format!("lower {kind}"),
            _ => format!("{kind} {}", place + 1),
        }
    };
    leaves.iter().enumerate().map(|(index, (path, _))| (path.clone(), name(index))).collect()
}

/// The fronts from the top, each with its path.
fn collect(front: &Front, path: String, into: &mut Vec<(String, &'static str)>) {
    let kind = match front {
        Front::Door { .. } => "door",
        Front::Pair { .. } => "doors",
        Front::Drawer { .. } => "drawer",
        Front::Fixed { .. } => "fixed front",
        Front::Open { .. } => return,
        Front::Down { order, parts } => {
            for key in order {
                if let Some(part) = parts.get(key) {
                    let path = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
                    collect(part, path, into);
                }
            }
            return;
        }
    };
    into.push((path, kind));
}

/// The name of the front that a role path's first segment belongs to: `door.d2.left` is one leaf of `d2`.
pub(crate) fn front_name(unit: &Unit, segment: &str) -> String {
    let (kind, path) = segment.split_once('.').unwrap_or((segment, ""));
    let names = front_names(unit);
    let of = |path: &str| names.iter().find(|(known, _)| known == path).map(|(_, name)| name.clone());
    let leaf = path
        .strip_suffix("left")
        .or_else(|| path.strip_suffix("right"))
        .map(|base| base.trim_end_matches('.'));
    of(path).or_else(|| of(leaf?)).unwrap_or_else(|| kind.to_owned())
}
