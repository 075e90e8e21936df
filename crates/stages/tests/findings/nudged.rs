//! The demo with some of its lengths nudged: nothing panics, and every remedy that is offered applies.

use dryfit_measure::{Length, Pointer, Stated};
use dryfit_plan::{Draft, Plan};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use serde_json::Value;

use dryfit_stages::{Finding, Fix};

use crate::{demo, derive};

/// Every place of a plan that holds a length.
fn lengths(at: &Pointer, value: &Value, found: &mut Vec<(Pointer, Stated)>) {
    match value {
        Value::Object(members) => {
            members.iter().for_each(|(key, member)| lengths(&at.child(key), member, found));
        }
        Value::String(text) => {
            let ours = text.ends_with(" in") || text.ends_with(" mm");
            if let Some(stated) = ours.then(|| text.parse().ok()).flatten() {
                found.push((at.clone(), stated));
            }
        }
        _ => {}
    }
}

/// How a length is nudged: by sixteenths, or by a factor.
#[derive(Clone, Copy, Debug)]
enum Nudge {
    Sixteenths(i64),
    Hundredths(i64),
    Nothing,
}

fn nudge() -> impl Strategy<Value = Nudge> {
    prop_oneof![
        6 => (-48_i64..48).prop_map(Nudge::Sixteenths),
        4 => (30_i64..200).prop_map(Nudge::Hundredths),
        1 => Just(Nudge::Nothing),
    ]
}

fn nudged(stated: Stated, by: Nudge) -> Stated {
    let length = match by {
        Nudge::Sixteenths(n) => stated.length + Length::sixty_fourths(n * 4),
        Nudge::Hundredths(n) => {
            Length::sixty_fourths((stated.length * n).nm() / 100 / Length::sixty_fourths(1).nm())
        }
        Nudge::Nothing => Length::ZERO,
    };
    Stated { length, ..stated }
}

/// The demo with a few lengths of what is wished for, held and measured nudged.
fn plan() -> impl Strategy<Value = (Plan, Vec<String>)> {
    let plan = demo();
    let mut places = Vec::new();
    lengths(&Pointer::root(), &plan.to_json(), &mut places);
    assert!(places.len() > 150, "the demo states many lengths");
    prop::collection::vec((prop::sample::select(places), nudge()), 1..6).prop_map(move |nudges| {
        let mut draft = Draft::of(&plan);
        let mut named = Vec::new();
        for ((at, stated), by) in nudges {
            named.push(format!("{at}: {stated} {by:?}"));
            draft = draft.set(&at, nudged(stated, by));
        }
        // a length that no plan may state is refused when it is read, and is no case
        match plan.apply(&draft.edit("nudged")) {
            Ok((plan, _)) => (plan, named),
            Err(_) => (plan.clone(), Vec::new()),
        }
    })
}

#[test]
fn a_board_of_no_thickness_is_found() {
    let plan = demo();
    let at = Pointer::parse("/goods/maple-6/form/board/thickness").expect("a pointer");
    let (plan, _) = plan.apply(&Draft::of(&plan).set(&at, "0 in").edit("no board")).expect("still a plan");
    assert!(derive(&plan).findings.iter().any(|finding| finding.rule == "casework/no-room"));
}

/// What a remedy leaves of the finding that it was offered for, if anything.
fn left_by(plan: &Plan, finding: &Finding, fix: &Fix) -> Option<Finding> {
    let (mended, _) = plan.apply(&fix.edit).ok()?;
    derive(&mended).findings.into_iter().find(|left| left.id() == finding.id())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, rng_seed: RngSeed::Fixed(2026), ..ProptestConfig::default() })]

    /// The same nudges in every run, so that a run can be had again.
    ///
    /// Every remedy of a rule clears its finding, or what is left of it is said with other numbers: the second of
    /// two causes, say.
    #[test]
    fn a_remedy_clears_its_finding_or_says_what_is_left((plan, named) in plan()) {
        let findings = derive(&plan).findings;
        for finding in findings.iter().filter(|finding| dryfit_handbook::rule(finding.rule).is_some()) {
            for fix in &finding.fixes {
                if let Some(left) = left_by(&plan, finding, fix) {
                    prop_assert!(
                        left.what != finding.what,
                        "`{}` changes nothing of `{}` after {:?}",
                        fix.label, finding.what, named
                    );
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_panics_and_every_remedy_applies((plan, named) in plan()) {
        for finding in derive(&plan).findings {
            prop_assert!(!finding.what.is_empty());
            for fix in &finding.fixes {
                let applied = plan.apply(&fix.edit);
                prop_assert!(
                    applied.is_ok(),
                    "{}: `{}` after {:?}: {}",
                    finding.id(), fix.label, named,
                    applied.err().map(|refused| refused.to_string()).unwrap_or_default()
                );
            }
        }
    }
}
