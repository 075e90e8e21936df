//! `surfaces/sliver`: no tile is cut to a strip.
//!
//! What it checks: the narrowest that a side of a field leaves of any tile, against half and a third of that tile, and
//! against the figure `tile-least`.
//!
//! Why it matters: a strip shows that nobody laid it out, breaks as it is cut, and hardly holds.
//!
//! Source: ANSI A108.02, 4.3.1 and 4.3.2: centre and balance, usually no cut under half a tile. The third, and the
//! least strip that can be snapped, are common practice.
//!
//! Example: a 12 in tile cut to 2 1/4 in along a wall.
//!
//! Severity: *note* below half a tile, *look* below a third or below what can be snapped.
//!
//! Remedy: the start that cuts best, where another is pinned or something in sight decides; a tile that is turned; a
//! plainer pattern. Where no start does better, it stays a note or a look: the field is as wide as it is.

use dryfit_measure::{Dim, Key};
use dryfit_plan::{Draft, Laying, TileLaying, TilePattern};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::{LaidField, TileField, field_at};

const RULE: &str = "surfaces/sliver";

/// Fields with a tile that is cut too narrow.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.surfaces.fields.iter().filter_map(|field| narrow(checked, field, field.tile()?)).collect()
}

fn narrow(checked: &Checked<'_>, field: &LaidField, tile: &TileField) -> Option<Finding> {
    let share = tile.quality.least_96ths;
    let inputs = [(tile.tile[0].clone(), 0.0), (tile.tile[1].clone(), 0.0), (tile.joint.clone(), 0.0)];
    let least = dryfit_measure::Length::from_nm(tile.quality.least?);
    let least = Dim::worked(least, "narrowest cut", inputs).named("narrowest cut").placed(field.key.as_str());
    let snapped = Figures::of_field(checked.plan, &field.key).dim("tile-least");
    let severity = match share {
        48.. => return None,
        32.. if least.length() >= snapped.length() => Severity::Note,
        _ => Severity::Look,
    };
    let wide = if severity == Severity::Note { "half" } else { "a third of" };
    let what = format!(
        "the narrowest tile in `{}` is cut to {}, less than {wide} a tile",
        field.key,
        checked.available(&least)
    );
    let at = field_at(&field.key).child("with").child("tile");
    let mut finding = found(RULE, severity, vec![field.key.clone()], at, what);
    finding.fixes = fixes(checked, &field.key);
    finding.because = vec![least, tile.tile[0].clone(), tile.tile[1].clone()];
    Some(finding)
}

/// What may cut better. Each is tried before it is offered.
fn fixes(checked: &Checked<'_>, key: &Key) -> Vec<Fix> {
    let Some(Laying::Tile(laying)) = checked.plan.fields.get(key).map(|field| &field.with) else {
        return Vec::new();
    };
    let mut ways: Vec<(TileLaying, String)> = Vec::new();
    if laying.start.is_some() {
        let free = TileLaying { start: None, ..laying.clone() };
        ways.push((free, format!("start `{key}` where it is cut best")));
    }
    if laying.sight.is_some() {
        let blind = TileLaying { start: None, sight: None, ..laying.clone() };
        ways.push((blind, format!("start `{key}` where it is cut best, whatever is in sight")));
    }
    let turned = TileLaying { start: None, turned: !laying.turned, ..laying.clone() };
    ways.push((turned, format!("turn the tiles of `{key}` by a quarter")));
    for (pattern, word) in [(TilePattern::Grid, "straight"), (TilePattern::BondHalf, "shifted by half")] {
        if pattern != laying.pattern {
            let other = TileLaying { start: None, pattern, ..laying.clone() };
            ways.push((other, format!("lay `{key}` {word}")));
        }
    }
    let at = field_at(key).child("with");
    let clears = |(way, _): &(TileLaying, String)| {
        let half = |tile: TileField| tile.quality.least_96ths >= 48;
        checked.surfaces.fields.iter().find(|field| field.key == *key).is_some_and(|field| {
            crate::surfaces::relaid(checked.plan, checked.survey, key, way, &field.net).is_some_and(half)
        })
    };
    let fix = |(way, label)| Fix::of(Draft::of(checked.plan).set(&at, Laying::Tile(way)).edit(label));
    ways.into_iter().filter(clears).take(2).map(fix).collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use serde_json::json;

    const RULE: &str = "surfaces/sliver";

    /// The demo with one more field: a strip of tile on the lane wall, so long, begun at its left end.
    fn strip(length: &str) -> Plan {
        let on = json!({ "wall": { "wall": "AB", "from": "0 in", "to": length, "low": { "at": "60 in" }, "high": { "at": "72 in" } } });
        let tile =
            json!({ "good": "tile-trial", "joint": "1/8 in", "start": { "along": "0 in", "up": "60 in" } });
        let good = json!({ "name": "trial tile", "form": { "tile": { "width": "12 in", "height": "12 in", "thickness": "3/8 in", "rectified": true } } });
        let plan = with(&demo(), "/goods/tile-trial", good);
        with(&plan, "/fields/trial", json!({ "on": on, "with": { "tile": tile } }))
    }

    fn of_trial(plan: &Plan) -> Vec<crate::finding::Finding> {
        found(plan, RULE).into_iter().filter(|finding| finding.subjects[0].as_str() == "trial").collect()
    }

    #[test]
    fn exactly_half_passes_and_a_mark_less_is_noted() {
        // two tiles, two joints and the half of a third
        assert!(of_trial(&strip("30 1/4 in")).is_empty());
        let findings = of_trial(&strip("30 3/16 in"));
        assert_eq!(
            findings[0].what,
            "the narrowest tile in `trial` is cut to 5 15/16 in, less than half a tile"
        );
        assert_eq!(findings[0].severity, crate::finding::Severity::Note);
    }

    #[test]
    fn less_than_a_third_is_looked_at_and_another_start_clears_it() {
        assert_eq!(of_trial(&strip("28 1/4 in"))[0].severity, crate::finding::Severity::Note);
        let plan = strip("27 in");
        let findings = of_trial(&plan);
        assert_eq!(findings[0].severity, crate::finding::Severity::Look);
        every_remedy_clears(&plan, &findings[0]);
    }
}
