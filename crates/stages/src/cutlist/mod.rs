//! Stage 4, cut list: parts gathered by good, rounded to the tape by their purpose, with spares and set-up stock.
//!
//! This is the one place where a made part's size is rounded. Joints keep their exact sizes; what the rounding
//! leaves over is taken up by the play of the joint.

mod extras;

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Fineness, Key};
use dryfit_plan::{Form, Grain, Plan};

use crate::casework::{BuiltUnit, Casework, Gate, Part};
use crate::surfaces::Surfaces;

/// Everything to cut, by good.
#[derive(Clone, Debug)]
pub struct CutList {
    /// One group a good, in key order.
    pub groups: Vec<CutGroup>,
}

/// What is cut from one good.
#[derive(Clone, Debug)]
pub struct CutGroup {
    /// The good.
    pub good: Key,
    /// Its pieces: parts in the order of their units, then spares and set-up stock.
    pub pieces: Vec<CutPiece>,
}

/// One piece to cut.
#[derive(Clone, Debug)]
pub struct CutPiece {
    /// Its address among derived things: `b3/side.left`; spares and set-up stock have their own.
    pub path: String,
    /// What to write on it: "b3 side, left".
    pub label: String,
    /// Along the grain, before its edges are banded; rounded to the plan's fineness by its purpose.
    pub length: Dim,
    /// Across, likewise.
    pub width: Dim,
    /// The same over its edge bands, exactly; none where it has none.
    pub finished: Option<[Dim; 2]>,
    /// Whether it may not be turned.
    pub grain: bool,
    /// What has to be measured before it may be cut.
    pub gate: Option<Gate>,
    /// Spare or set-up stock, not a part of a unit.
    pub extra: bool,
}

/// Gathers every part of every unit, and every piece of worktops and trim, by the good it is cut from.
pub fn cut_list(plan: &Plan, casework: &Casework, surfaces: &Surfaces) -> CutList {
    let mut groups: BTreeMap<Key, Vec<CutPiece>> = BTreeMap::new();
    for unit in &casework.units {
        for part in &unit.parts {
            let grained = part.grain && has_grain(plan, &part.good);
            let piece = piece(unit, part, grained, plan.fineness);
            groups.entry(part.good.clone()).or_default().push(piece);
        }
    }
    for part in surfaces.to_cut() {
        let piece = CutPiece {
            path: format!("{}/{}", part.owner, part.role),
            label: format!("{} {}", part.owner, part.name),
            length: part.length.rounded(plan.fineness, part.purpose[0].toward()),
            width: part.width.rounded(plan.fineness, part.purpose[1].toward()),
            finished: None,
            grain: has_grain(plan, &part.good),
            gate: part.gate,
            extra: false,
        };
        groups.entry(part.good).or_default().push(piece);
    }
    for (good, piece) in extras::extras(plan, casework) {
        groups.entry(good).or_default().push(piece);
    }
    CutList { groups: groups.into_iter().map(|(good, pieces)| CutGroup { good, pieces }).collect() }
}

/// Whether the direction of a piece of this good matters: it does not on a sheet without grain.
fn has_grain(plan: &Plan, good: &Key) -> bool {
    match plan.goods.get(good).map(|good| &good.form) {
        Some(Form::Sheet(sheet)) => sheet.grain == Grain::Length,
        _ => true,
    }
}

fn piece(unit: &BuiltUnit, part: &Part, grain: bool, fineness: Fineness) -> CutPiece {
    let [length, width] = part.cut_size();
    CutPiece {
        path: format!("{}/{}", unit.key, part.role),
        label: format!("{} {}", unit.key, part.name),
        length: length.rounded(fineness, part.purpose[0].toward()),
        width: width.rounded(fineness, part.purpose[1].toward()),
        finished: (!part.bands.is_empty()).then(|| [part.length.clone(), part.width.clone()]),
        grain,
        gate: part.gate,
        extra: false,
    }
}
