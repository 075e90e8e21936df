//! Every picture of every demo.

mod paper_checks;

use std::collections::BTreeSet;

use dryfit_cutting::Budget;
use dryfit_drawing::views;
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::{Derived, run};

const DEMOS: [(&str, &str); 1] = [("potting-room", include_str!("../../../demos/potting-room.toml"))];

fn demos() -> impl Iterator<Item = (&'static str, Plan, Derived)> {
    DEMOS.into_iter().map(|(name, text)| {
        let plan = Plan::from_toml(text).expect("a demo reads").plan;
        let derived = run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 });
        (name, plan, derived)
    })
}

/// Keys name files: two that differ only in case would be one on some systems.
#[test]
fn keys_are_unique_whatever_their_case() {
    for (name, plan, derived) in demos() {
        let keys: Vec<String> = views::all(&plan, &derived).iter().map(|it| it.key.to_lowercase()).collect();
        assert_eq!(keys.iter().collect::<BTreeSet<_>>().len(), keys.len(), "{name}");
    }
}
