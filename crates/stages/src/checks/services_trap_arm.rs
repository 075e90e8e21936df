//! `services/trap-arm`: from a trap to its vent it is neither too far nor too near.
//!
//! What it checks: the level way from the weir to where the vent leaves, against the table for its size and against two
//! diameters; and that it falls no more than its own diameter on that way.
//!
//! Why it matters: an arm that is too long, or too steep, fills up and pulls the water out of its trap.
//!
//! Source: IRC Table P3105.1, P3105.2 and P3105.3, IPC 909, UPC Table 1002.2, as the plan's code says.
//!
//! Example: 1 1/2 in pipe may run 6 ft by the IRC, and 42 in by the UPC.
//!
//! Remedy: a larger pipe, where the plan has one; the vent nearer to the trap.

use dryfit_measure::{Dim, Length, Toward};
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::{NodeKind, TrapArm};

const RULE: &str = "services/trap-arm";

/// Arms of the wrong length.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    // one without a vent is told of by the rule on vents
    checked
        .services
        .arms
        .iter()
        .filter(|arm| arm.vent.is_some())
        .filter_map(|arm| of_arm(checked, arm))
        .collect()
}

fn of_arm(checked: &Checked<'_>, arm: &TrapArm) -> Option<Finding> {
    let rules = &checked.services.rules;
    let rule = &rules.plumbing().arm;
    let finding = |severity, what, limit: &Dim, short: Dim| {
        let at = stated_at(checked.plan, &arm.drain).child("nodes");
        let mut finding = found(RULE, severity, vec![arm.drain.clone()], at, what);
        finding.because = vec![arm.length.clone(), limit.clone()];
        finding.short_by = Some(short.named("outside by").placed(arm.drain.as_str()));
        Finding { source: rules.cite(&rule.cite, rule.seen), ..finding }
    };
    if let Some(most) = &arm.most {
        let over = &arm.length - most;
        if over.length().is_positive() {
            let what = format!(
                "the arm of `{}` runs {} to its vent, and {} is the most for its size",
                arm.drain,
                checked.needed(&arm.length),
                checked.available(most)
            );
            let mut told = finding(Severity::Stop, what, most, over.clone());
            told.fixes =
                larger(checked, arm).into_iter().chain(nearer(checked, arm, over.length())).collect();
            return Some(told);
        }
    }
    let steep = &arm.fall - &arm.size;
    if steep.length().is_positive() {
        let what = format!(
            "the arm of `{}` falls {} to its vent, and may fall no more than its size, {}",
            arm.drain,
            checked.needed(&arm.fall),
            checked.available(&arm.size)
        );
        return Some(finding(Severity::Stop, what, &arm.size, steep));
    }
    let near = &arm.least - &arm.length;
    near.length().is_positive().then(|| {
        let what = format!(
            "the vent of `{}` leaves {} from its trap, and {} is the least",
            arm.drain,
            checked.available(&arm.length),
            checked.needed(&arm.least)
        );
        finding(Severity::Look, what, &arm.least, near)
    })
}

/// The next larger pipe of the plan that may run so far.
fn larger(checked: &Checked<'_>, arm: &TrapArm) -> Option<Fix> {
    let rule = &checked.services.rules.plumbing().arm;
    let least = rule.rows.iter().find(|row| row.most.length >= arm.length.length())?.upto.length;
    let next = arm.size.length() + Length::from_nm(1);
    let good = checked.pipe_of(least.max(next))?;
    let suits = checked.plan.goods.get(&good)?;
    let dryfit_plan::Form::Pipe { nominal, .. } = suits.form else { return None };
    rule.at(nominal.length).filter(|most| *most >= arm.length.length())?;
    let at = stated_at(checked.plan, &arm.drain).child("good");
    let label = format!("make `{}` of {}", arm.drain, suits.name);
    Some(Fix::of(Draft::of(checked.plan).set(&at, &good).edit(label)))
}

/// The vent so much nearer along the wall, with everything over and under it.
fn nearer(checked: &Checked<'_>, arm: &TrapArm, by: Length) -> Option<Fix> {
    let drain = checked.services.run(&arm.drain)?;
    let [_, node] = arm.vent.as_ref()?;
    let vented = drain.node(node)?;
    let trap = drain.nodes.iter().find(|node| matches!(node.kind, NodeKind::Stub | NodeKind::Trap))?;
    let (here, there) = (vented.spot.along.length(), trap.spot.along.length());
    if by > (here - there).abs() || vented.spot.wall != trap.spot.wall {
        return None;
    }
    let to = if here > there {
        checked.mark(here - by, Toward::Down)
    } else {
        checked.mark(here + by, Toward::Up)
    };
    let moved = checked.slid(Draft::of(checked.plan), drain, here, to.length);
    Some(Fix::of(moved.edit(format!("let the vent of `{}` leave {to} along", arm.drain))))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_measure::{Length, Stated, Unit};
    use dryfit_plan::Plan;

    fn vent_at(along: Length) -> Plan {
        let along = Stated::new(along, Unit::Millimetre);
        let nodes = ["waste/pipe/nodes/w3", "waste/pipe/nodes/w4", "air/pipe/nodes/x2"];
        nodes.iter().fold(demo(), |plan, node| with(&plan, &format!("/services/{node}/at/along"), along))
    }

    fn in_52(plan: &Plan) -> Plan {
        with(plan, "/code/family", "UPC")
    }

    #[test]
    fn the_arm_of_the_demo_is_short_enough_for_its_code_and_too_long_for_another() {
        assert!(found(&demo(), RULE).is_empty());
        let plan = in_52(&demo());
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "the arm of `waste` runs 42 3/16 in to its vent, and 42 in is the most for its size"
        );
        assert_eq!(findings[0].source.to_string(), "UPC 2021, Table 1002.2");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn exactly_as_long_as_allowed_it_passes() {
        let plan = in_52(&demo());
        let over = derive(&plan).services.arms[0].length.length() - Length::inches(42, 0, 1);
        let at = Length::inches(40, 0, 1) + over;
        assert!(found(&in_52(&vent_at(at)), RULE).is_empty());
        let plan = in_52(&vent_at(at - Length::um(1)));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_larger_pipe_may_run_further() {
        let mut plan = in_52(&vent_at(Length::inches(30, 0, 1)));
        let key = dryfit_measure::Key::literal("pipe-two");
        let mut two = plan.goods[&dryfit_measure::Key::literal("pipe-waste")].clone();
        two.form = dryfit_plan::Form::Pipe {
            nominal: "2 in".parse().expect("a length"),
            outside: "2 3/8 in".parse().expect("a length"),
        };
        plan.goods.insert(key, two);
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].fixes.len(), 2);
        let (mended, _) = plan.apply(&findings[0].fixes[0].edit).expect("it applies");
        assert!(found(&mended, RULE).is_empty());
    }

    #[test]
    fn one_that_falls_more_than_its_size_is_told() {
        let plan = with(&demo(), "/services/waste/pipe/nodes/w3/at/up", "15 in");
        let findings = found(&plan, RULE);
        assert!(
            findings[0].what.starts_with("the arm of `waste` falls 2 1/4 in to its vent"),
            "{}",
            findings[0].what
        );
    }
}
