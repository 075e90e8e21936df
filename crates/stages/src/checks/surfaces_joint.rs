//! `surfaces/joint`: a joint is as wide as its tile and its pattern ask.
//!
//! What it checks: the joint against three times the variation of the tile's faces, and 1/16 in; in a running bond of
//! tiles with a side over 15 in, against 1/8 in for rectified tile and 3/16 for others, and the warp of an edge more.
//!
//! Why it matters: tiles of one box differ; in a joint too narrow to take that up the lines wander and edges stand up.
//!
//! Source: ANSI A108.02-2017, 4.3.8 and 4.3.8.1.
//!
//! Example: tiles that differ by 1/16 in ask for joints of 3/16.
//!
//! Severity: *look*.
//!
//! Remedy: a joint that wide.

use dryfit_measure::{Dim, Length, Toward};
use dryfit_plan::{Draft, Form, Laying, TilePattern};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::{LaidField, TileField, field_at};

const RULE: &str = "surfaces/joint";

/// Fields whose joint is too narrow.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.surfaces.fields.iter().filter_map(|field| narrow(checked, field, field.tile()?)).collect()
}

fn narrow(checked: &Checked<'_>, field: &LaidField, tile: &TileField) -> Option<Finding> {
    let Some(Laying::Tile(laying)) = checked.plan.fields.get(&field.key).map(|field| &field.with) else {
        return None;
    };
    let Form::Tile(form) = &checked.plan.goods.get(&tile.good)?.form else { return None };
    let figures = Figures::of_field(checked.plan, &field.key);
    let at =
        dryfit_measure::Pointer::root().child("goods").child(tile.good.as_str()).child("form").child("tile");
    let taped = |name: &'static str, stated: Option<dryfit_measure::Stated>| {
        let what = name.replace('_', " ");
        Dim::taped(stated.map_or(Length::ZERO, |stated| stated.length), at.child(name)).named(what)
    };
    let mut wanted = vec![figures.dim("tile-joint-least"), taped("variation", form.variation) * 3];
    let bonded = matches!(laying.pattern, TilePattern::BondHalf | TilePattern::BondThird);
    let longest = tile.tile[0].length().max(tile.tile[1].length());
    if bonded && longest > figures.dim("tile-long").length() {
        let base = figures.dim(if form.rectified { "tile-bond-rectified" } else { "tile-bond-calibrated" });
        wanted.push(base + taped("warp", form.warp));
    }
    let needed = Dim::greatest_of(wanted)?.named("joint that is needed").placed(field.key.as_str());
    let short = (&needed - &tile.joint).named("too narrow by").placed(field.key.as_str());
    if !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "joints in `{}` should be at least {}, and are {}",
        field.key,
        checked.needed(&needed),
        checked.available(&tile.joint)
    );
    let at = field_at(&field.key).child("with").child("tile").child("joint");
    let mut finding = found(RULE, Severity::Look, vec![field.key.clone()], at.clone(), what);
    let joint = checked.mark(needed.length(), Toward::Up);
    let label = format!("leave joints of {joint} in `{}`", field.key);
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, joint).edit(label)));
    finding.because = vec![needed, tile.joint.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use serde_json::{Value, json};

    const RULE: &str = "surfaces/joint";

    /// The demo with one more field of such a tile, on the lane wall.
    fn laid(form: &Value, joint: &str, pattern: &str) -> Plan {
        let on = json!({ "wall": { "wall": "AB", "from": "0 in", "to": "60 in", "low": { "at": "50 in" }, "high": { "at": "80 in" } } });
        let plan =
            with(&demo(), "/goods/tile-trial", json!({ "name": "trial tile", "form": { "tile": form } }));
        let tile = json!({ "good": "tile-trial", "joint": joint, "pattern": pattern });
        with(&plan, "/fields/trial", json!({ "on": on, "with": { "tile": tile } }))
    }

    fn of_trial(plan: &Plan) -> Vec<crate::finding::Finding> {
        found(plan, RULE).into_iter().filter(|finding| finding.subjects[0].as_str() == "trial").collect()
    }

    #[test]
    fn three_times_the_variation() {
        // ANSI A108.02-2017, 4.3.8: 1/16 in of variation asks for 3/16 in
        let form =
            || json!({ "width": "8 in", "height": "8 in", "thickness": "3/8 in", "variation": "1/16 in" });
        assert!(of_trial(&laid(&form(), "3/16 in", "grid")).is_empty());
        let plan = laid(&form(), "1/8 in", "grid");
        let findings = of_trial(&plan);
        assert_eq!(findings[0].what, "joints in `trial` should be at least 3/16 in, and are 1/8 in");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn never_less_than_a_sixteenth() {
        // the same, 4.3.8: 1/16 in at least
        let form = || json!({ "width": "8 in", "height": "8 in", "thickness": "3/8 in", "rectified": true });
        assert!(of_trial(&laid(&form(), "1/16 in", "grid")).is_empty());
        assert_eq!(of_trial(&laid(&form(), "1/32 in", "grid")).len(), 1);
    }

    #[test]
    fn a_bond_of_long_rectified_tile_adds_its_warp() {
        // the same, 4.3.8.1, example: 1/8 in and 1/32 of warp make 5/32
        let form = || json!({ "width": "24 in", "height": "12 in", "thickness": "3/8 in", "rectified": true, "warp": "1/32 in" });
        assert!(of_trial(&laid(&form(), "5/32 in", "bond-third")).is_empty());
        assert_eq!(of_trial(&laid(&form(), "1/8 in", "bond-third")).len(), 1);
        assert!(of_trial(&laid(&form(), "1/8 in", "grid")).is_empty());
    }
}
