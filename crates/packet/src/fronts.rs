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

#[cfg(test)]
mod tests {
    use super::*;
    use dryfit_measure::Key;
    use dryfit_plan::Plan;

    fn named(unit: &str, segment: &str) -> String {
        let plan =
            Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("a sound plan").plan;
        front_name(&plan.units[&Key::new(unit).expect("a key")], segment)
    }

    #[test]
    fn fronts_are_named_by_what_and_where_they_are() {
        assert_eq!(named("b1", "door.left"), "doors");
        assert_eq!(named("b2", "drawer.d3"), "drawer 3");
        assert_eq!(named("b3", "drawer.d1"), "drawer");
        assert_eq!(named("b4", "fixed.x1"), "fixed front");
        assert_eq!(named("b4", "door.d1.right"), "doors");
        assert_eq!(named("t1", "door.d2"), "lower door");
        assert_eq!(named("t1", "opening.d1"), "upper door");
        assert_eq!(named("f1", "door.d9"), "door");
    }
}
