//! `surfaces/bond`: long tile is shifted by a third at most.
//!
//! What it checks: in a running bond of tiles with a side over 15 in, how far rows are shifted.
//!
//! Why it matters: a long tile is bowed; shifted by half, the middle of one, where it is highest, lies beside the ends
//! of two others, where they are lowest.
//!
//! Source: ANSI A108.02-2017, 4.3.8.2 (editions before it say 18 in).
//!
//! Example: 12 by 24 in tile shifted by half.
//!
//! Severity: *look*.
//!
//! Remedy: rows shifted by a third.

use dryfit_plan::{Draft, Laying, TilePattern};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::{LaidField, TileField, field_at};

const RULE: &str = "surfaces/bond";

/// Fields of long tile shifted by half.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.surfaces.fields.iter().filter_map(|field| shifted(checked, field, field.tile()?)).collect()
}

fn shifted(checked: &Checked<'_>, field: &LaidField, tile: &TileField) -> Option<Finding> {
    let Some(Laying::Tile(laying)) = checked.plan.fields.get(&field.key).map(|field| &field.with) else {
        return None;
    };
    let most = Figures::of_field(checked.plan, &field.key).dim("tile-long");
    // rows lie along the first side
    if laying.pattern != TilePattern::BondHalf || tile.tile[0].length() <= most.length() {
        return None;
    }
    let what = format!(
        "tiles in `{}` are {} long and shifted by half: over {} by a third at most",
        field.key,
        checked.available(&tile.tile[0]),
        checked.needed(&most)
    );
    let at = field_at(&field.key).child("with").child("tile").child("pattern");
    let mut finding = found(RULE, Severity::Look, vec![field.key.clone()], at.clone(), what);
    let label = format!("shift the rows of `{}` by a third", field.key);
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, TilePattern::BondThird).edit(label)));
    finding.because = vec![tile.tile[0].clone(), most];
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use serde_json::json;

    const RULE: &str = "surfaces/bond";

    fn bonded(width: &str, pattern: &str) -> Plan {
        let on = json!({ "wall": { "wall": "AB", "from": "0 in", "to": "60 in", "low": { "at": "50 in" }, "high": { "at": "80 in" } } });
        let form = json!({ "width": width, "height": "6 in", "thickness": "3/8 in", "rectified": true });
        let plan =
            with(&demo(), "/goods/tile-trial", json!({ "name": "trial tile", "form": { "tile": form } }));
        let tile = json!({ "good": "tile-trial", "joint": "3/16 in", "pattern": pattern });
        with(&plan, "/fields/trial", json!({ "on": on, "with": { "tile": tile } }))
    }

    #[test]
    fn fifteen_inches_may_be_shifted_by_half_and_a_mark_more_may_not() {
        // ANSI A108.02-2017, 4.3.8.2: 33 % where a side is longer than 15 in
        assert!(found(&bonded("15 in", "bond-half"), RULE).is_empty());
        let plan = bonded("15 1/16 in", "bond-half");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
        assert!(found(&bonded("24 in", "bond-third"), RULE).is_empty());
        assert!(found(&bonded("24 in", "grid"), RULE).is_empty());
    }
}
