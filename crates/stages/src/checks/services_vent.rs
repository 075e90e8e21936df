//! `services/vent`: every trap has a vent, large enough, that rises above the rim before it turns.
//!
//! What it checks: that a vent leaves the drain of each sink; its size, at least half the drain's and the least of the
//! code; and how far it rises above the rim of the sink before its first level leg.
//!
//! Why it matters: without air behind it the water that runs off takes the trap's water with it, and the drain smells.
//!
//! Source: IRC P3113.1 and P3104.4, or as the plan's code has it.
//!
//! Example: under a rim at 36 3/4 in a vent goes straight up to 42 3/4 in.
//!
//! Remedy: a vent from the end of the arm to the ceiling; a larger pipe; the turn higher.

use dryfit_measure::{Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{Carries, Draft, Node, PipeRun, Place, Service, WallFace};

use super::Checked;
use super::found::found;
use super::piped::{level_nodes, stated_at};
use crate::finding::{Finding, Fix, Severity};
use crate::services::{NodeKind, PlacedRun, TrapArm};

const RULE: &str = "services/vent";

/// Traps without a vent that will do.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.arms.iter().filter_map(|arm| of_arm(checked, arm)).collect()
}

fn of_arm(checked: &Checked<'_>, arm: &TrapArm) -> Option<Finding> {
    let rules = &checked.services.rules;
    let rule = &rules.plumbing().vent;
    let drain = checked.services.run(&arm.drain)?;
    if drain.found {
        return None;
    }
    let cite = |finding: Finding, clause: &str| Finding { source: rules.cite(clause, rule.seen), ..finding };
    let Some([vent, _]) = &arm.vent else {
        let what = format!("no vent leaves `{}`, and its trap will be drawn empty", arm.drain);
        let at = stated_at(checked.plan, &arm.drain).child("nodes");
        let mut finding = found(RULE, Severity::Stop, vec![arm.drain.clone()], at, what);
        finding.fixes = straight_up(checked, drain).into_iter().collect();
        return Some(cite(finding, &rule.cite));
    };
    let vent = checked.services.run(vent)?;
    let subjects = vec![arm.drain.clone(), vent.key.clone()];
    let half = drain.nominal.split(2).swap_remove(0);
    let code = rules.dim(rule.least.length, "vent", "smallest vent");
    let least = dryfit_measure::Dim::greatest([half, code]).named("size of the vent at least");
    let small = &least - &vent.nominal;
    if small.length().is_positive() {
        let at = stated_at(checked.plan, &vent.key).child("good");
        let what = format!(
            "`{}` is {}, and the vent of `{}` has to be {} at least",
            vent.key,
            checked.available(&vent.nominal),
            drain.key,
            checked.needed(&least)
        );
        let mut finding = found(RULE, Severity::Stop, subjects, at.clone(), what);
        finding.fixes = checked
            .pipe_of(least.length())
            .map(|good| {
                let label = format!("make `{}` of {}", vent.key, checked.plan.goods[&good].name);
                Fix::of(Draft::of(checked.plan).set(&at, &good).edit(label))
            })
            .into_iter()
            .collect();
        finding.because = vec![least, vent.nominal.clone()];
        finding.short_by = Some(small);
        return Some(cite(finding, &rule.cite));
    }
    let window = checked.services.windows.iter().find(|window| window.drain.as_ref() == Some(&drain.key))?;
    let high = &window.rim + rules.dim(rule.rise.length, "vent above the rim", "vent above the rim");
    let turn = (0..vent.nodes.len().saturating_sub(1)).find(|i| level_nodes(vent, *i).end() > i)?;
    let place = &vent.nodes[turn];
    let short = &high - &place.spot.up;
    short.length().is_positive().then(|| {
        let what = format!(
            "`{}` turns {} up, and has to rise to {} first, above the rim of `{}`",
            vent.key,
            checked.available(&place.spot.up),
            checked.needed(&high),
            window.unit
        );
        let mut finding = found(RULE, Severity::Stop, subjects, place.at.child("up"), what);
        if place.kind != NodeKind::Joins {
            let nodes = level_nodes(vent, turn);
            let moved = checked.raised(Draft::of(checked.plan), vent, nodes, short.length(), Toward::Up);
            let label = format!("let `{}` turn {} up", vent.key, checked.needed(&high));
            finding.fixes = vec![Fix::of(moved.edit(label))];
        }
        finding.because = vec![high, place.spot.up.clone()];
        finding.short_by = Some(short);
        cite(finding, &rule.rise_cite)
    })
}

/// A vent of the drain's own pipe from the end of its arm straight up.
pub(super) fn straight_up(checked: &Checked<'_>, drain: &PlacedRun) -> Option<Fix> {
    let from = drain.nodes.iter().position(|node| matches!(node.kind, NodeKind::Stub | NodeKind::Trap))?;
    let last = *level_nodes(drain, from).end();
    let foot = drain.nodes.get(last).filter(|_| last > from)?;
    let key = checked.plan.free_key(&format!("{}-vent", drain.key))?;
    let unit = checked.plan.fineness.unit();
    let ceiling =
        checked.survey.point_on_wall(&foot.spot.wall, foot.spot.along.length(), Length::ZERO, Length::ZERO);
    let ceiling = ceiling.and_then(|at| checked.survey.levels.ceiling_over(at));
    let up = ceiling.map_or(Length::inches(96, 0, 1), |ceiling| ceiling.length());
    let top = Place {
        wall: foot.spot.wall.clone(),
        along: Stated::new(foot.spot.along.length(), unit),
        up: Some(checked.mark(up, Toward::Down)),
        out: Some(Stated::new(foot.spot.deep.length(), unit)),
        face: WallFace::Frame,
    };
    let (low, high) = (Key::new("foot").ok()?, Key::new("top").ok()?);
    let joins = Node::Joins { service: drain.key.clone(), node: foot.key.clone() };
    let run = PipeRun {
        name: None,
        carries: Carries::Vent,
        good: drain.good.clone(),
        serves: None,
        found: false,
        order: vec![low.clone(), high.clone()],
        nodes: [(low, joins), (high, Node::At(top))].into(),
        fittings: [].into(),
        with: Vec::new(),
        plate: None,
    };
    let at = Pointer::root().child("services").child(key.as_str());
    let label = format!("vent `{}` straight up from `{}`", drain.key, foot.key);
    Some(Fix::of(Draft::of(checked.plan).set(&at, Service::Pipe(run)).edit(label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_measure::{Key, Pointer};
    use dryfit_plan::{Draft, Plan};

    fn turned(up: &str) -> Plan {
        let turn = serde_json::json!({ "at": { "wall": "BC", "along": "40 in", "up": up } });
        let far = serde_json::json!({ "at": { "wall": "BC", "along": "20 in", "up": up } });
        let plan = with(&demo(), "/services/air/pipe/nodes/x3", turn);
        let plan = with(&plan, "/services/air/pipe/nodes/x4", far);
        with(&plan, "/services/air/pipe/order", ["x1", "x3", "x4"])
    }

    #[test]
    fn the_vent_of_the_demo_will_do() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_drain_without_a_vent_is_given_one() {
        let plan = demo();
        let at = Pointer::parse("/services/air").expect("a pointer");
        let (plan, _) = plan.apply(&Draft::of(&plan).remove(&at).edit("no vent")).expect("still a plan");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn half_its_drain_is_not_enough_below_the_least() {
        // half of 1 1/2 is 3/4, and F-vent asks for 1 1/4
        let nominal = "/goods/pipe-supply/form/pipe/nominal";
        let plan = with(&demo(), "/services/air/pipe/good", "pipe-supply");
        assert!(found(&with(&plan, nominal, "1 1/4 in"), RULE).is_empty());
        let plan = with(&plan, nominal, "1 3/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`air` is 1 3/16 in, and the vent of `waste` has to be 1 1/4 in at least"
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn it_rises_six_inches_above_the_rim_before_it_turns() {
        // rim 36 51/64, six above it 42 51/64
        assert!(found(&turned("42 13/16 in"), RULE).is_empty());
        let plan = turned("42 3/4 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`air` turns 42 3/4 in up, and has to rise to 42 13/16 in first, above the rim of `b4`"
        );
        assert_eq!(findings[0].subjects, [Key::literal("waste"), Key::literal("air")]);
        every_remedy_clears(&plan, &findings[0]);
    }
}
