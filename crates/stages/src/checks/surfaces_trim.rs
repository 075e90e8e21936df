//! `surfaces/trim`: trim runs where it can be seen.
//!
//! What it checks: walls that a base is stated along, and where units and doors leave no stretch for one.
//!
//! Why it matters: base that is bought and mitred for a wall behind cabinets is money in the offcut bin, and its
//! thickness keeps the boxes off the wall.
//!
//! Source: the plan.
//!
//! Example: a base along a wall that a run fills from corner to corner.
//!
//! Remedy: the base without that wall.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Draft, TrimKind};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::Trim;

const RULE: &str = "surfaces/trim";

/// Walls that take no base, where one is stated.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for trim in &checked.surfaces.trims {
        let Some(stated) = checked.plan.trims.get(&trim.key) else { continue };
        let TrimKind::Base { along } = &stated.kind else { continue };
        let hidden = |wall: &&Key| {
            checked.survey.wall(wall).is_some() && !trim.pieces.iter().any(|piece| piece.wall == **wall)
        };
        findings.extend(along.iter().filter(hidden).map(|wall| behind(checked, trim, along, wall)));
    }
    findings
}

fn behind(checked: &Checked<'_>, trim: &Trim, along: &[Key], wall: &Key) -> Finding {
    let name = checked.plan.walls.get(wall).and_then(|wall| wall.name.clone());
    let name = name.unwrap_or_else(|| format!("wall {wall}"));
    let what =
        format!("`{}` is stated along the {name}, and units and doors leave no room for it there", trim.key);
    let at =
        Pointer::root().child("trims").child(trim.key.as_str()).child("kind").child("base").child("along");
    let subjects = vec![trim.key.clone(), wall.clone()];
    let mut finding = found(RULE, Severity::Note, subjects, at.clone(), what);
    let others: Vec<&Key> = along.iter().filter(|other| *other != wall).collect();
    let label = format!("leave `{}` off the {name}", trim.key);
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, others).edit(label)));
    finding
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};

    const RULE: &str = "surfaces/trim";

    #[test]
    fn the_base_of_the_demo_runs_only_where_it_shows() {
        assert!(found(&demo(), RULE).is_empty());
        let trims = derive(&demo()).surfaces.trims;
        assert!(trims[0].pieces.iter().all(|piece| ["AB", "DA"].contains(&piece.wall.as_str())));
    }

    #[test]
    fn a_wall_full_of_units_takes_no_base() {
        let plan = with(&demo(), "/trims/base/kind/base/along", ["AB", "BC", "DA"]);
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`base` is stated along the garden wall, and units and doors leave no room for it there"
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
