//! Trying rules on whole plans: the demo, changed in one place.
#![cfg(test)]

use dryfit_cutting::Budget;
use dryfit_measure::Pointer;
use dryfit_plan::{Draft, Plan};
use serde::Serialize;

use crate::finding::{Finding, Severity};
use crate::layouts::Answers;
use crate::run::{Derived, run};

/// The demo room, as its plan file states it.
pub(super) fn demo() -> Plan {
    Plan::from_toml(include_str!("../../../../demos/potting-room.toml")).expect("the demo reads").plan
}

/// The demo room in millimetres, its boxes without frames.
pub(super) fn frameless() -> Plan {
    Plan::from_toml(include_str!("../../../../demos/ski-room.toml")).expect("the demo reads").plan
}

/// A plan without what stands at one place.
pub(super) fn without(plan: &Plan, at: &str) -> Plan {
    let at = Pointer::parse(at).expect("a pointer");
    plan.apply(&Draft::of(plan).remove(&at).edit("trial")).expect("it still reads").0
}

/// A plan with one place stated anew.
pub(super) fn with(plan: &Plan, at: &str, value: impl Serialize) -> Plan {
    let at = Pointer::parse(at).expect("a pointer");
    plan.apply(&Draft::of(plan).set(&at, value).edit("trial")).expect("it still reads").0
}

/// What follows, with quick layouts.
pub(super) fn derive(plan: &Plan) -> Derived {
    run(plan, &Answers::new(), Budget { steps: 0, seed: 1 })
}

/// What one rule finds in a plan.
pub(super) fn found(plan: &Plan, rule: &str) -> Vec<Finding> {
    derive(plan).findings.into_iter().filter(|finding| finding.rule == rule).collect()
}

/// Applies every remedy of a finding: each clears it and brings no new stop.
pub(super) fn every_remedy_clears(plan: &Plan, finding: &Finding) {
    let stops = |plan: &Plan| -> Vec<String> {
        let stop = |finding: &&Finding| finding.severity == Severity::Stop;
        derive(plan).findings.iter().filter(stop).map(Finding::id).collect()
    };
    let before = stops(plan);
    assert!(!finding.fixes.is_empty(), "{} offers no remedy", finding.id());
    for fix in &finding.fixes {
        let (mended, _) = plan.apply(&fix.edit).unwrap_or_else(|refused| panic!("{}: {refused}", fix.label));
        let left = found(&mended, finding.rule);
        assert!(
            !left.iter().any(|left| left.id() == finding.id()),
            "`{}` leaves {}",
            fix.label,
            finding.id()
        );
        let new: Vec<String> = stops(&mended).into_iter().filter(|id| !before.contains(id)).collect();
        assert!(new.is_empty(), "`{}` brings {new:?}", fix.label);
    }
}
