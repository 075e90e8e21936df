//! `surfaces/cutout`: enough worktop is left before and behind a cut-out.
//!
//! What it checks: the web from the front edge to the cut-out, and from the cut-out to the back edge, against the
//! figure `cutout-web-least`; the radius in its corners against `cutout-radius-least`.
//!
//! Why it matters: a thin web breaks when the top is carried, and a sharp inside corner starts a crack in the
//! laminate.
//!
//! Source: common practice for the web; AWS appendix B, section 11 (after NEMA) for the radius.
//!
//! Example: a sink of 22 in in a worktop of 25.
//!
//! Remedy: the cut-out where both webs are wide enough, if there is such a place; a larger radius.

use dryfit_measure::{Dim, Pointer, Toward};
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::worktop::{Hole, WorkLeg, Worktop};

const RULE: &str = "surfaces/cutout";

/// Cut-outs that leave too little.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for top in &checked.surfaces.worktops {
        for leg in &top.legs {
            for hole in &leg.holes {
                findings.extend(thin(checked, top, leg, hole));
                findings.extend(sharp(checked, top, hole));
            }
        }
    }
    findings
}

fn thin(checked: &Checked<'_>, top: &Worktop, leg: &WorkLeg, hole: &Hole) -> Option<Finding> {
    let figures = Figures::of_top(checked.plan, &top.key);
    let least = figures.dim("cutout-web-least");
    let front = (&leg.depth - &hole.front).named("worktop before the cut-out").placed(hole.unit.as_str());
    let back = (&hole.back - &leg.behind).named("worktop behind the cut-out").placed(hole.unit.as_str());
    let (web, side) = if front.length() < least.length() { (&front, "before") } else { (&back, "behind") };
    if web.length() >= least.length() {
        return None;
    }
    let left = if web.length().is_negative() { Dim::zero() } else { web.clone() };
    let what = format!(
        "{} of worktop should be left {side} the cut-out over `{}`, and {} are",
        checked.needed(&least),
        hole.unit,
        checked.available(&left)
    );
    let at = Pointer::root().child("tops").child(top.key.as_str()).child("figures").child("sink-web-front");
    let subjects = vec![top.key.clone(), hole.unit.clone()];
    let mut finding = found(RULE, Severity::Look, subjects, at.clone(), what);
    // both webs together stay what they are
    let both = front.length() + back.length();
    if both >= least.length() * 2 {
        let web = if side == "before" { least.length() } else { both - least.length() };
        let web = checked.mark(web, if side == "before" { Toward::Up } else { Toward::Down });
        if web.length >= least.length() {
            let label = format!("leave {web} of worktop before the cut-out");
            finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, web).edit(label)));
        }
    }
    finding.short_by = Some((&least - web).named("too little by").placed(hole.unit.as_str()));
    finding.because = vec![least, front, back];
    Some(finding)
}

fn sharp(checked: &Checked<'_>, top: &Worktop, hole: &Hole) -> Option<Finding> {
    let least = Figures::of_top(checked.plan, &top.key).dim("cutout-radius-least");
    if hole.radius.length() >= least.length() {
        return None;
    }
    let what = format!(
        "corners of the cut-out over `{}` need a radius of {}, and have {}",
        hole.unit,
        checked.needed(&least),
        checked.available(&hole.radius)
    );
    let at = Pointer::root().child("tops").child(top.key.as_str()).child("figures").child("cutout-radius");
    let mut finding = found(RULE, Severity::Look, vec![hole.unit.clone(), top.key.clone()], at.clone(), what);
    let radius = checked.mark(least.length(), Toward::Up);
    let label = format!("drill the corners with a radius of {radius}");
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, radius).edit(label)));
    finding.short_by = Some((&least - &hole.radius).named("too sharp by").placed(hole.unit.as_str()));
    finding.because = vec![least, hole.radius.clone()];
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use std::collections::BTreeMap;

    const RULE: &str = "surfaces/cutout";

    fn figure(id: &str, value: &str) -> Plan {
        with(&demo(), "/tops/slate/figures", BTreeMap::from([(id, value)]))
    }

    #[test]
    fn the_sink_of_the_demo_leaves_enough() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn two_inches_before_it_will_do_and_a_mark_less_will_not() {
        assert!(found(&figure("sink-web-front", "2 in"), RULE).is_empty());
        let plan = figure("sink-web-front", "1 15/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "2 in of worktop should be left before the cut-out over `b4`, and 1 15/16 in are"
        );
        let (mended, _) = plan.apply(&findings[0].fixes[0].edit).expect("it applies");
        assert!(found(&mended, RULE).is_empty());
    }

    #[test]
    fn behind_it_the_gap_at_the_wall_does_not_count() {
        // 25 deep, 18 1/4 of cut-out, 1/8 at the wall: 6 5/8 are left over, so 4 5/8 before it leave 2 behind
        assert!(found(&figure("sink-web-front", "4 5/8 in"), RULE).is_empty());
        let plan = figure("sink-web-front", "4 11/16 in");
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
    }

    #[test]
    fn a_sharp_corner_is_found() {
        assert!(found(&figure("cutout-radius", "1/8 in"), RULE).is_empty());
        let plan = figure("cutout-radius", "1/16 in");
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
    }
}
