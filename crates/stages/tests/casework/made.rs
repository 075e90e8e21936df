//! Plans and placements made by hand, for one unit at a time.

use dryfit_measure::{Dim, Key, Pointer, Stated};
use dryfit_plan::{Plan, UnitKind};
use dryfit_stages::Finding;
use dryfit_stages::casework::{BuiltUnit, Part, casework};
use dryfit_stages::placement::{Beside, PlacedUnit, Placement};

/// The demo's goods and recipe with this one unit, `b1`, in its `units` table.
pub fn demo_with(unit: &str) -> Plan {
    let text = include_str!("../../../../demos/potting-room.toml");
    let plan = Plan::from_toml(text).expect("the demo reads").plan;
    let mut value = plan.to_json();
    let unit: toml::Value = toml::from_str(unit).expect("a unit in TOML");
    value["units"] = serde_json::json!({ "b1": unit });
    value["runs"]["left"]["order"] = serde_json::json!(["b1"]);
    serde_json::from_value(value).expect("a plan")
}

/// Where the unit stands: these outside sizes as text, nothing beside it.
pub fn placed(kind: UnitKind, [width, height, depth]: [&str; 3]) -> PlacedUnit {
    let at = |name: &str| Pointer::root().child("units").child("b1").child(name);
    let dim = |text: &str, name: &'static str| {
        let stated: Stated = text.parse().expect("a length");
        Dim::chosen(stated.length, at(name)).named(format!("unit {name}"))
    };
    let unit = || Beside::Unit(Key::literal("b2"));
    PlacedUnit {
        key: Key::literal("b1"),
        kind,
        run: Key::literal("left"),
        wall: Key::literal("AB"),
        along: dim("24 in", "along"),
        width: dim(width, "width"),
        overhang: [Dim::zero(), Dim::zero()],
        up: Dim::zero(),
        height: dim(height, "height"),
        depth: dim(depth, "depth"),
        frame: dim("3/4 in", "frame"),
        front: dim("3/4 in", "front"),
        pull: dim("1 1/4 in", "pull"),
        beside: [unit(), unit()],
    }
}

/// The unit, taken apart, with what there is to say about it.
pub fn build(plan: &Plan, placed: PlacedUnit) -> (BuiltUnit, Vec<Finding>) {
    let placement = Placement { runs: vec![], units: vec![placed], tops: vec![], lines: vec![] };
    let (mut casework, findings) = casework(plan, &placement);
    (casework.units.pop().expect("one unit"), findings)
}

/// A part by its role.
pub fn part<'a>(unit: &'a BuiltUnit, role: &str) -> &'a Part {
    let roles: Vec<&str> = unit.parts.iter().map(|part| part.role.as_str()).collect();
    unit.parts.iter().find(|part| part.role == role).unwrap_or_else(|| panic!("no {role} in {roles:?}"))
}
