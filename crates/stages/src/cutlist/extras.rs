//! Spares and set-up stock: what the cutters are set on, and what replaces the one that goes wrong.
//!
//! One spare stile, one spare rail and one length of set-up stock for each good that doors are made of, cut with
//! the rest because a board bought later has another thickness. Common practice, no source.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key};
use dryfit_plan::Plan;

use super::CutPiece;
use crate::casework::{Casework, Gate, OperationKind, Part};
use crate::figures::Figures;

/// Spares and set-up stock by good.
pub(super) fn extras(plan: &Plan, casework: &Casework) -> Vec<(Key, CutPiece)> {
    let fineness = plan.fineness;
    let figures = Figures::of_handbook(plan);
    let mut longest: BTreeMap<(&Key, bool), &Part> = BTreeMap::new();
    for part in casework.units.iter().flat_map(|unit| &unit.parts) {
        let is = |kind| part.operations.iter().any(|operation| operation.kind == kind);
        // A rail is coped and stuck, a stile only stuck.
        if is(OperationKind::Stick) {
            let best = longest.entry((&part.good, is(OperationKind::Cope))).or_insert(part);
            if part.length.length() > best.length.length() {
                *best = part;
            }
        }
    }
    let mut extras = Vec::new();
    for ((good, rail), part) in longest {
        let name = if rail { "rail" } else { "stile" };
        let length = part.length.rounded(fineness, part.purpose[0].toward());
        let width = part.width.rounded(fineness, part.purpose[1].toward());
        let spare = |path: String, label: String, length: Dim| CutPiece {
            path,
            label,
            length,
            width: width.clone(),
            finished: None,
            grain: true,
            gate: Some(Gate::Openings),
            extra: true,
        };
        extras.push((good.clone(), spare(format!("spare/{good}/{name}"), format!("spare {name}"), length)));
        if rail {
            let length = figures.dim("set-up-length").named("set-up stock");
            extras.push((good.clone(), spare(format!("set-up/{good}"), "set-up stock".into(), length)));
        }
    }
    extras
}
