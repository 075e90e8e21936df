//! The honesty test, as far as parts go: a stated length that moves a dimension of a part is named in its reason.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Length, Pointer, Stated, sources};
use dryfit_plan::Plan;
use dryfit_stages::casework::{Casework, casework};
use dryfit_stages::placement::placement;
use dryfit_stages::survey::survey;
use serde_json::Value;

/// The tables whose lengths are nudged; readings move the survey, which has a test of its own.
const TABLES: [&str; 6] = ["goods", "recipes", "units", "runs", "tops", "shop"];

fn derive(plan: &Plan) -> Casework {
    let (survey, _) = survey(plan);
    let (placement, _) = placement(plan, &survey);
    casework(plan, &placement).0
}

/// Every dimension of every part and opening, by where it is.
fn dims(casework: &Casework) -> BTreeMap<String, Dim> {
    let mut all = BTreeMap::new();
    for unit in &casework.units {
        for part in &unit.parts {
            let sizes = [("length", &part.length), ("width", &part.width), ("thickness", &part.thickness)];
            for (name, dim) in sizes {
                all.insert(format!("{}/{}.{name}", unit.key, part.role), dim.clone());
            }
            for (i, operation) in part.operations.iter().enumerate() {
                let [a, b] = &operation.along;
                let [c, d] = &operation.across;
                for (name, dim) in
                    [("from", a), ("to", b), ("near", c), ("far", d), ("depth", &operation.depth)]
                {
                    let at = format!("{}/{} {i} {:?} {name}", unit.key, part.role, operation.kind);
                    all.insert(at, dim.clone());
                }
            }
        }
        for opening in &unit.openings {
            for (name, dim) in [("width", &opening.width), ("height", &opening.height)] {
                all.insert(format!("{}/opening {} {name}", unit.key, opening.front), dim.clone());
            }
        }
    }
    all
}

/// Every place that holds a length.
fn lengths(value: &Value, at: &Pointer, found: &mut Vec<(Pointer, Stated)>) {
    match value {
        Value::String(text) => found.extend(text.parse().ok().map(|stated| (at.clone(), stated))),
        Value::Object(map) => map.iter().for_each(|(key, inner)| lengths(inner, &at.child(key), found)),
        _ => {}
    }
}

#[test]
fn what_moves_a_part_is_named_in_its_reason() {
    let text = include_str!("../../../../demos/potting-room.toml");
    let plan = Plan::from_toml(text).expect("the demo reads").plan;
    let json = plan.to_json();
    let before = dims(&derive(&plan));
    let mut stated = Vec::new();
    for table in TABLES {
        lengths(&json[table], &Pointer::root().child(table), &mut stated);
    }
    assert!(stated.len() > 60, "{}", stated.len());
    let mut dishonest = Vec::new();
    let mut moving = 0;
    for (at, was) in &stated {
        let mark = Length::inches(0, 1, 16);
        for nudge in [mark, -mark, mark * 8, mark * 32] {
            let mut changed = json.clone();
            let now = Stated { length: was.length + nudge, unit: was.unit };
            *changed.pointer_mut(at.as_str()).expect("it was found there") = now.to_string().into();
            let Ok(changed) = serde_json::from_value::<Plan>(changed) else { continue };
            for (place, after) in dims(&derive(&changed)) {
                let Some(dim) = before.get(&place).filter(|dim| dim.length() != after.length()) else {
                    continue;
                };
                moving += 1;
                if !sources(dim).contains(at) {
                    dishonest.push(format!("{at} moves {place} and is not named: {dim:?}"));
                }
            }
        }
    }
    dishonest.sort_unstable();
    dishonest.dedup();
    assert!(moving > 1000, "{moving}");
    assert!(
        dishonest.is_empty(),
        "{} of {moving}:\n{}",
        dishonest.len(),
        dishonest[..dishonest.len().min(60)].join("\n")
    );
}

#[test]
fn a_choice_that_moves_a_part_is_named_in_its_reason() {
    let text = include_str!("../../../../demos/potting-room.toml");
    let plan = Plan::from_toml(text).expect("the demo reads").plan;
    let json = plan.to_json();
    let before = dims(&derive(&plan));
    let choices = [
        ("/recipes/painted/joints/bottom", "pocket-screw"),
        ("/recipes/painted/joints/back", "rabbet"),
        ("/recipes/painted/joints/back", "applied"),
        ("/recipes/painted/toe", "loose"),
        ("/recipes/painted/fit", "inset"),
    ];
    let mut dishonest = Vec::new();
    for (at, choice) in choices {
        let pointer = Pointer::parse(at).expect("a pointer");
        let mut changed = json.clone();
        // what is as usual is not written, so the place itself may be empty
        let (table, key) = at.rsplit_once('/').expect("a place in a table");
        if changed.pointer(table).is_none() {
            changed["recipes"]["painted"]["joints"] = serde_json::json!({});
        }
        changed.pointer_mut(table).expect("a table")[key] = choice.into();
        let changed: Plan = serde_json::from_value(changed).expect("a plan");
        let mut moving = 0;
        for (place, after) in dims(&derive(&changed)) {
            // operations are other ones where a joint is another
            let sized = place.ends_with("length") || place.ends_with("width") || place.ends_with("height");
            let Some(dim) = before.get(&place).filter(|dim| sized && dim.length() != after.length()) else {
                continue;
            };
            moving += 1;
            if !sources(dim).contains(&pointer) {
                dishonest.push(format!("{at} = {choice} moves {place} and is not named: {dim:?}"));
            }
        }
        assert!(moving > 0, "{at} = {choice} moves nothing");
    }
    assert!(dishonest.is_empty(), "{}", dishonest.join("\n"));
}
