//! Every field of a plan that moves a dimension is named in its reason.
//!
//! Each length in the demo's plan is nudged up, down and by a larger step, and the stages run again. A derived
//! dimension that moved without naming the field fails: it would print a *why* that leaves out a cause. Naming
//! more than moves is legal: a limit that does not bind now, a loser that could have won.

use std::collections::{BTreeMap, BTreeSet};

use dryfit_measure::{Dim, Length, Pointer, Stated, sources};
use dryfit_plan::Plan;
use dryfit_stages::casework::casework;
use dryfit_stages::dims::dims;
use dryfit_stages::placement::placement;
use dryfit_stages::surfaces::surfaces;
use dryfit_stages::survey::{Survey, survey};
use serde_json::Value;

/// Every named dimension of the stages up to surfaces, by place and name.
fn derive(plan: &Plan, survey: &Survey) -> BTreeMap<String, Dim> {
    let (placement, _) = placement(plan, survey);
    let (casework, _) = casework(plan, &placement);
    let (surfaces, _) = surfaces(plan, survey, &placement, &casework);
    let dims = dims(survey, &placement, &casework, &surfaces);
    dims.into_iter().map(|d| (format!("{} {}", d.place, d.dimension), d.dim.clone())).collect()
}

/// Every place in a plan where a length stands.
fn lengths(value: &Value, at: &Pointer, found: &mut Vec<(Pointer, Stated)>) {
    match value {
        Value::Object(members) => {
            for (key, value) in members {
                lengths(value, &at.child(key), found);
            }
        }
        Value::Array(items) => {
            for (i, value) in items.iter().enumerate() {
                lengths(value, &at.index(i), found);
            }
        }
        Value::String(text) => {
            // a length's text is exact and names its unit; words and prices are no such texts
            if let Ok(stated) = text.parse::<Stated>()
                && stated.to_string() == *text
            {
                found.push((at.clone(), stated));
            }
        }
        _ => {}
    }
}

/// A move that no adjustment can pass off as rounding of its own.
const NOTICED: Length = Length::um(1);

#[test]
fn what_moves_a_dimension_is_named_in_its_reason() {
    honest(include_str!("../../../demos/potting-room.toml"), Length::inches(0, 1, 16));
}

#[test]
fn what_moves_a_dimension_without_frames_is_named_in_its_reason() {
    honest(include_str!("../../../demos/ski-room.toml"), Length::mm(1));
}

/// Nudges every length of a plan by a mark of its tape, down by one, and by a larger step.
fn honest(text: &str, mark: Length) {
    let plan = Plan::from_toml(text).expect("the demo reads").plan;
    let json = plan.to_json();
    let mut fields = Vec::new();
    lengths(&json, &Pointer::root(), &mut fields);
    assert!(fields.len() > 100, "{} lengths in the demo", fields.len());
    let (room, _) = survey(&plan);
    let before: BTreeMap<String, (Length, BTreeSet<Pointer>)> =
        derive(&plan, &room).into_iter().map(|(name, dim)| (name, (dim.length(), sources(&dim)))).collect();
    assert!(before.len() > 100, "{} dimensions in the demo", before.len());
    let mut hidden = Vec::new();
    let mut movers = BTreeSet::new();
    for (at, stated) in &fields {
        for step in [mark, -mark, (mark * 4).max(stated.length.div_floor(8))] {
            let nudged = Stated::new(stated.length + step, stated.unit);
            let mut changed = json.clone();
            *changed.pointer_mut(at.as_str()).expect("the field is there") =
                Value::String(nudged.to_string());
            let Ok(changed) = Plan::from_json(&changed) else { continue };
            // the survey is slow, and no wish moves it: see the test below
            let nudged_room = is_measured(at).then(|| survey(&changed).0);
            for (name, dim) in derive(&changed, nudged_room.as_ref().unwrap_or(&room)) {
                let Some((old, named)) = before.get(&name) else { continue };
                let by = dim.length() - *old;
                if by.abs() <= NOTICED {
                    continue;
                }
                movers.insert(at.clone());
                // a reading is named whole: its height and its place weigh in with it
                if !named.iter().any(|place| at.is_within(place)) {
                    hidden.push(format!("{at} by {step:?} moves {name} by {by:?}"));
                }
            }
        }
    }
    assert!(hidden.is_empty(), "{} moved but not named:\n{}", hidden.len(), hidden.join("\n"));
    assert!(movers.len() > 40, "only {} fields moved anything", movers.len());
}

/// What the survey reads: not what is wished for, bought or made.
fn is_measured(at: &Pointer) -> bool {
    let wished = ["goods", "recipes", "units", "runs", "tops", "lots", "shop", "decisions", "money"];
    !at.segments().next().is_some_and(|map| wished.contains(&&*map))
}

#[test]
fn no_wish_moves_the_room() {
    let text = include_str!("../../../demos/potting-room.toml");
    let mut plan = Plan::from_toml(text).expect("the demo reads").plan;
    let walls = |plan: &Plan| -> Vec<Length> {
        survey(plan).0.walls.iter().map(|wall| wall.length.length()).collect()
    };
    let before = walls(&plan);
    for map in [plan.goods.len(), plan.units.len(), plan.runs.len(), plan.tops.len()] {
        assert!(map > 0);
    }
    plan.goods.clear();
    plan.recipes.clear();
    plan.units.clear();
    plan.runs.clear();
    plan.tops.clear();
    plan.shop = dryfit_plan::Shop::default();
    assert_eq!(walls(&plan), before);
}
