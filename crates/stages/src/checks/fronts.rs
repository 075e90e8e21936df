//! Where the leaves of a unit's front are stated.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::Front;

use super::Checked;
use super::found::unit_at;

/// A front that is not split further.
pub(super) struct Leaf<'a> {
    /// What casework calls it: `d1`, `d1.left` in a split one, `front` where it is the whole.
    pub path: String,
    /// Where it is stated.
    pub at: Pointer,
    /// What closes it.
    pub front: &'a Front,
}

impl<'a> Checked<'a> {
    /// The leaves of a unit's front, from the top.
    pub(super) fn leaves(&self, unit: &Key) -> Vec<Leaf<'a>> {
        let mut leaves = Vec::new();
        if let Some(front) = self.plan.units.get(unit).and_then(|unit| unit.fronts.as_ref()) {
            collect(front, String::new(), unit_at(unit).child("fronts"), &mut leaves);
        }
        leaves
    }
}

fn collect<'a>(front: &'a Front, path: String, at: Pointer, leaves: &mut Vec<Leaf<'a>>) {
    let Front::Down { order, parts } = front else {
        let path = if path.is_empty() { "front".to_owned() } else { path };
        leaves.push(Leaf { path, at, front });
        return;
    };
    for key in order {
        if let Some(part) = parts.get(key) {
            let path = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
            collect(part, path, at.child("down").child("parts").child(key.as_str()), leaves);
        }
    }
}
