//! A waiver holds for its rule and subjects, and lapses when what was short is shorter.

use dryfit_measure::{Key, Pointer, Stated};
use dryfit_plan::{Decision, Draft, Plan};
use dryfit_stages::Finding;

use crate::{demo, derive};

/// The demo with a fridge so much deeper than it is that it stands so far proud of the worktop.
fn deep(depth: &str) -> Plan {
    let at = Pointer::parse("/goods/seed-fridge/form/appliance/depth").expect("a pointer");
    let plan = demo();
    plan.apply(&Draft::of(&plan).set(&at, depth).edit("another fridge")).expect("still a plan").0
}

fn waived(mut plan: Plan, subjects: &[&'static str], short_by: Option<&str>) -> Plan {
    let short_by: Option<Stated> = short_by.map(|short| short.parse().expect("a length"));
    let decision = Decision {
        rule: "fit/appliance-depth".to_owned(),
        subjects: subjects.iter().copied().map(Key::literal).collect(),
        reason: "nobody walks there".to_owned(),
        short_by,
    };
    plan.decisions.insert(Key::literal("w1"), decision);
    plan
}

fn proud(plan: &Plan) -> Finding {
    let found = derive(plan).findings.into_iter().find(|finding| finding.rule == "fit/appliance-depth");
    found.expect("it stands proud")
}

#[test]
fn without_a_waiver_it_stands_open() {
    assert_eq!(proud(&demo()).waived, None);
}

#[test]
fn one_that_is_as_short_as_it_was_holds() {
    // 26 1/8 in against 25 in
    let finding = proud(&waived(demo(), &["a1"], Some("1 1/8 in")));
    assert_eq!(finding.waived.as_deref(), Some("nobody walks there"));
}

#[test]
fn it_holds_when_it_got_better_and_lapses_when_it_got_worse() {
    let better = proud(&waived(deep("23 9/16 in"), &["a1"], Some("1 1/8 in")));
    assert!(better.waived.is_some());
    let worse = proud(&waived(deep("23 11/16 in"), &["a1"], Some("1 1/8 in")));
    assert!(worse.waived.is_none());
}

#[test]
fn a_waiver_of_something_else_does_not_hold() {
    assert!(proud(&waived(demo(), &["b6"], Some("1 1/8 in"))).waived.is_none());
    assert!(proud(&waived(demo(), &["a1", "b6"], Some("1 1/8 in"))).waived.is_none());
}

#[test]
fn one_that_never_said_how_short_does_not_hold_for_a_length() {
    assert!(proud(&waived(demo(), &["a1"], None)).waived.is_none());
}

#[test]
fn a_finding_that_is_left_is_still_among_the_findings() {
    let (open, left) = (derive(&demo()), derive(&waived(demo(), &["a1"], Some("2 in"))));
    let ids = |findings: &[Finding]| findings.iter().map(Finding::id).collect::<Vec<_>>();
    assert_eq!(ids(&open.findings), ids(&left.findings));
}
