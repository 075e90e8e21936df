//! `services/bore`: what goes through a stud leaves enough of it.
//!
//! What it checks: each hole against the share of the stud's depth that may be bored and the wood left beside it, each
//! notch against the share that may be cut; and that nothing runs up inside a stud. A wall of which it is not stated
//! whether it bears is taken to.
//!
//! Why it matters: a stud with too large a hole carries nothing, and nobody sees it behind the board.
//!
//! Source: IRC R602.6: holes 40 % of a stud that bears and 60 % of one that does not, 5/8 in to the edge; notches 25 and
//! 40 %. Structure is for a licensed trade where it bears.
//!
//! Example: in a stud 3 1/2 in deep that bears, a hole of 1 3/8 in passes, one of 2 in does not.
//!
//! Remedy: the hole in the middle of the stud; what runs inside a stud, beside it.

use dryfit_measure::{Dim, Length, Toward};
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::{Crossing, Lengthwise};

const RULE: &str = "services/bore";

/// Studs that lose too much: of each run and leg the first.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let services = checked.services;
    let mut findings: Vec<Finding> = Vec::new();
    let of_holes = services.crossings.iter().filter_map(|crossing| of_hole(checked, crossing));
    for finding in of_holes.chain(services.lengthwise.iter().map(|inside| of_inside(checked, inside))) {
        if !findings.iter().any(|known| known.id() == finding.id()) {
            findings.push(finding);
        }
    }
    findings
}

fn of_hole(checked: &Checked<'_>, crossing: &Crossing) -> Option<Finding> {
    let run = checked.services.run(&crossing.run)?;
    if run.found {
        return None;
    }
    let edge_least = Dim::rule(Crossing::edge_least(), "IRC R602.6").named("wood beside a hole at least");
    let stud = checked.available(&crossing.along);
    let (what, needed, available) = if let Some(notch) = &crossing.notch {
        if notch.length() <= crossing.most.length() {
            return None;
        }
        let said = format!(
            "`{}` takes {} out of the stud at {stud}, and a notch may take {}",
            crossing.run,
            checked.needed(notch),
            checked.available(&crossing.most)
        );
        (said, notch.clone(), crossing.most.clone())
    } else if crossing.hole.length() > crossing.most.length() {
        let said = format!(
            "`{}` needs a hole of {} in the stud at {stud}, and {} is the most",
            crossing.run,
            checked.needed(&crossing.hole),
            checked.available(&crossing.most)
        );
        (said, crossing.hole.clone(), crossing.most.clone())
    } else if crossing.edge.length() < edge_least.length() {
        let said = format!(
            "the hole for `{}` leaves {} of the stud at {stud} beside it, and {} is the least",
            crossing.run,
            checked.available(&crossing.edge),
            checked.needed(&edge_least)
        );
        (said, edge_least, crossing.edge.clone())
    } else {
        return None;
    };
    let at = stated_at(checked.plan, &crossing.run).child("nodes");
    let subjects = vec![crossing.run.clone(), crossing.wall.clone()];
    let mut finding = found(RULE, Severity::Stop, subjects, at, what);
    finding.fixes = centred(checked, crossing).into_iter().collect();
    finding.short_by = Some((&needed - &available).named("too much by").placed(crossing.run.as_str()));
    finding.because = vec![needed, available];
    Some(Finding { source: checked.services.rules.framing_source(), ..finding })
}

/// The whole run in the middle of the studs, where that would do.
fn centred(checked: &Checked<'_>, crossing: &Crossing) -> Option<Fix> {
    let run = checked.services.run(&crossing.run)?;
    let mut draft = Draft::of(checked.plan);
    let mut moved = false;
    for node in &run.nodes {
        let dryfit_plan::Node::At(place) =
            crate::services::nodes(checked.plan.services.get(&run.key)?).get(&node.key)?
        else {
            continue;
        };
        if place.out.is_some() {
            draft = draft.remove(&node.at.child("out"));
            if place.face != dryfit_plan::WallFace::Finish {
                draft = draft.remove(&node.at.child("face"));
            }
            moved = true;
        }
    }
    if !moved {
        return None;
    }
    let edit = draft.edit(format!("run `{}` in the middle of the studs", run.key));
    // only where the hole itself is not too large
    let most = crossing.most.length();
    let fits = crossing.notch.is_some() || crossing.hole.length() <= most;
    fits.then(|| Fix::of(edit))
}

fn of_inside(checked: &Checked<'_>, inside: &Lengthwise) -> Finding {
    let [a, _] = &inside.leg;
    let run = checked.services.run(&inside.run);
    let what = format!("`{}` runs up inside the stud at {}", inside.run, checked.available(&inside.along));
    let at = stated_at(checked.plan, &inside.run).child("nodes");
    let mut finding = found(RULE, Severity::Stop, vec![inside.run.clone(), a.clone()], at, what);
    if let Some((run, node)) = run.and_then(|run| Some((run, run.node(a)?))) {
        let here = node.spot.along.length();
        let right = here >= inside.along.length();
        let clear = inside.clear.length() + Length::inches(0, 1, 4);
        let to = inside.along.length() + if right { clear } else { -clear };
        let to = checked.mark(to, if right { Toward::Up } else { Toward::Down });
        let edit = checked.slid(Draft::of(checked.plan), run, here, to.length);
        let edit = edit.edit(format!("run `{}` {to} along, beside the stud", run.key));
        if !edit.is_empty() {
            finding.fixes = vec![Fix::of(edit)];
        }
    }
    finding.because = vec![inside.along.clone(), inside.clear.clone()];
    Finding { source: checked.services.rules.framing_source(), ..finding }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_plan::Plan;

    fn hole(outside: &str, bears: bool) -> Plan {
        let plan = with(&demo(), "/goods/pipe-waste/form/pipe/outside", outside);
        with(&plan, "/walls/BC/bearing", bears)
    }

    #[test]
    fn the_limits_are_those_of_the_stud() {
        assert!(found(&demo(), RULE).is_empty());
        // F-bore60-2x4: 2.1 in with 1/8 of play; F-bore40-2x4: 1.4 in
        assert!(found(&hole("1.975 in", false), RULE).is_empty());
        assert_eq!(found(&hole("1.976 in", false), RULE).len(), 1);
        assert!(found(&hole("1.275 in", true), RULE).is_empty());
        let findings = found(&hole("1.276 in", true), RULE);
        assert_eq!(
            findings[0].what,
            "`waste` needs a hole of 1 7/16 in in the stud at 46 1/2 in, and 1 3/8 in is the most"
        );
    }

    #[test]
    fn a_hole_too_near_a_face_goes_to_the_middle() {
        // a cable's hole is 9/16: 5/8 beside it when its centre is 29/32 behind the face
        let near = |out: &str| {
            let plan = with(&demo(), "/services/feed/cable/nodes/ca3/at/out", out);
            let plan = with(&plan, "/services/feed/cable/nodes/ca4/at/out", out);
            let plan = with(&plan, "/services/feed/cable/nodes/ca3/at/face", "frame");
            with(&plan, "/services/feed/cable/nodes/ca4/at/face", "frame")
        };
        assert!(found(&near("-29/32 in"), RULE).is_empty());
        let plan = near("-7/8 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "the hole for `feed` leaves 9/16 in of the stud at 46 1/2 in beside it, and 5/8 in is the least"
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn what_runs_up_inside_a_stud_goes_beside_it() {
        let plan = with(&demo(), "/services/hot/pipe/nodes/y1/at/along", "62 1/2 in");
        let plan = with(&plan, "/services/hot/pipe/nodes/y2/at/along", "62 1/2 in");
        let plan = with(&plan, "/services/hot/pipe/nodes/y3/stub/along", "62 1/2 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "`hot` runs up inside the stud at 62 1/2 in");
        every_remedy_clears(&plan, &findings[0]);
    }
}
