//! The demos, worked out with the quickest layouts.

use dryfit_cutting::Budget;
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::{Derived, run};

const DEMOS: [(&str, &str); 2] = [
    ("potting-room", include_str!("../../../../demos/potting-room.toml")),
    ("ski-room", include_str!("../../../../demos/ski-room.toml")),
];

pub fn demos() -> impl Iterator<Item = (&'static str, Plan, Derived)> {
    DEMOS.into_iter().map(|(name, text)| {
        let plan = Plan::from_toml(text).expect("a demo reads").plan;
        let derived = run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 });
        (name, plan, derived)
    })
}
