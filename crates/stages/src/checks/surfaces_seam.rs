//! `surfaces/seam`: seams of a worktop lie away from water and heat.
//!
//! What it checks: seams against the cut-outs of sinks, by the figure `top-seam-cutout`, and against appliances
//! under the worktop.
//!
//! Why it matters: the strip beside a cut-out is the weakest of the worktop, and it gets wet: a seam there opens,
//! water goes in, and the substrate swells. Steam from an appliance does the same from below.
//!
//! Source: AWS appendix B, section 11: no seam through a cut-out, wide strips beside it; how far is common
//! practice.
//!
//! Example: a seam 6 in from the sink.
//!
//! Remedy: the seam where it is clear of both; no seam, where the blank comes out of its sheet without.

use dryfit_measure::{Pointer, Toward};
use dryfit_plan::{Draft, Form};

use super::Checked;
use super::found::found;
use super::surfaces_laminate::place;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::worktop::{Seam, SeamCut, Worktop};

const RULE: &str = "surfaces/seam";

/// Seams too near a cut-out or over an appliance.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let of_top = |top: &Worktop| {
        top.seams.iter().filter_map(|seam| badly_placed(checked, top, seam)).collect::<Vec<_>>()
    };
    checked.surfaces.worktops.iter().flat_map(of_top).collect()
}

fn badly_placed(checked: &Checked<'_>, top: &Worktop, seam: &Seam) -> Option<Finding> {
    let least = Figures::of_top(checked.plan, &top.key).dim("top-seam-cutout");
    let near = seam.cutout.as_ref().filter(|(_, far)| far.length() < least.length());
    let called = match seam.cut {
        SeamCut::Across => format!("seam `{}`", seam.name),
        SeamCut::Butt | SeamCut::Mitre => format!("the seam of `{}`", seam.name),
    };
    let (severity, what, short, because) = match (near, &seam.over) {
        (Some((unit, far)), _) if far.length().is_zero() => {
            let what = format!("{called} goes through the cut-out over `{unit}`");
            (Severity::Stop, what, Some(&least - far), vec![least.clone(), far.clone()])
        }
        (Some((unit, far)), _) => {
            let what = format!(
                "{called} should be {} from the cut-out over `{unit}`, and is {} from it",
                checked.needed(&least),
                checked.available(far)
            );
            (Severity::Look, what, Some(&least - far), vec![least.clone(), far.clone()])
        }
        (None, Some(unit)) => {
            (Severity::Look, format!("{called} lies over `{unit}`, whose steam opens it"), None, Vec::new())
        }
        (None, None) => return None,
    };
    let at = Pointer::root().child("tops").child(top.key.as_str());
    let at = match seam.cut {
        SeamCut::Across => at.child("seams").child(&seam.name),
        SeamCut::Butt | SeamCut::Mitre => at.child("corner"),
    };
    let subjects = match seam.cut {
        SeamCut::Across => vec![top.key.clone(), seam.name.parse().unwrap_or_else(|_| seam.run.clone())],
        SeamCut::Butt | SeamCut::Mitre => vec![top.key.clone(), seam.run.clone(), seam.with.clone()],
    };
    let mut finding = found(RULE, severity, subjects, at.clone(), what);
    finding.short_by = short.map(|short| short.named("too near by").placed(top.key.as_str()));
    finding.because = because;
    if seam.cut == SeamCut::Across {
        finding.fixes.extend(elsewhere(checked, top, seam, &at));
    }
    Some(finding)
}

/// The seam where it is clear.
fn elsewhere(checked: &Checked<'_>, top: &Worktop, seam: &Seam, at: &Pointer) -> Option<Fix> {
    let leg = top.legs.iter().find(|leg| leg.run == seam.run)?;
    let facing = checked.plan.tops.get(&top.key)?.facing.as_ref()?;
    let Form::Sheet(sheet) = &checked.plan.goods.get(facing)?.form else { return None };
    let trim = checked.layouts.sheets.iter().find(|stack| stack.good == *facing).map(|stack| stack.trim)?;
    let along = place(checked, top, leg, sheet.length.length - trim * 2)?;
    let along = checked.mark(along, Toward::Nearest);
    let label = format!("move seam `{}` to {along} from the corner", seam.name);
    Some(Fix::of(Draft::of(checked.plan).set(&at.child("along"), along).edit(label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    const RULE: &str = "surfaces/seam";

    fn seamed(over: &str, along: &str) -> Plan {
        with(&demo(), "/tops/slate/seams", serde_json::json!({ "s1": { "over": over, "along": along } }))
    }

    #[test]
    fn the_seams_of_the_demo_are_away_from_its_sink() {
        let derived = derive(&demo());
        assert_eq!(derived.surfaces.worktops[0].seams.len(), 2);
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_seam_exactly_as_far_as_asked_passes_and_a_mark_nearer_does_not() {
        let left = derive(&demo()).surfaces.worktops[0].legs[1].holes[0].left.length();
        let at = |inches: i64, sixteenths: i64| {
            let along = left - dryfit_measure::Length::inches(inches, sixteenths, 16);
            // the seam is moved, so that the distance itself is on a mark
            let along = dryfit_measure::Stated::new(along, dryfit_measure::Unit::Inch);
            found(&seamed("back", &along.to_string()), RULE)
        };
        assert!(at(18, 0).is_empty());
        let findings = at(17, 15);
        assert!(
            findings[0].what.starts_with("seam `s1` should be 18 in from the cut-out over `b4`"),
            "{findings:?}"
        );
    }

    #[test]
    fn a_seam_near_the_sink_is_moved_and_so_is_one_through_it() {
        for along in ["50 in", "68 in"] {
            let plan = seamed("back", along);
            every_remedy_clears(&plan, &found(&plan, RULE)[0]);
        }
    }

    #[test]
    fn a_seam_over_the_fridge_is_found() {
        let plan = seamed("right", "40 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "seam `s1` lies over `a1`, whose steam opens it");
        every_remedy_clears(&plan, &findings[0]);
    }
}
