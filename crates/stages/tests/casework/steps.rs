//! Steps name parts that are there, leave none out, and stand in an order that can be done.

use dryfit_plan::{Plan, UnitKind};
use dryfit_stages::casework::{BuiltUnit, casework};
use dryfit_stages::placement::placement;
use dryfit_stages::survey::survey;

use crate::made::{build, demo_with, placed};

fn demo() -> Vec<BuiltUnit> {
    let plan =
        Plan::from_toml(include_str!("../../../../demos/potting-room.toml")).expect("the demo reads").plan;
    let (survey, _) = survey(&plan);
    let (placement, _) = placement(&plan, &survey);
    let (casework, findings) = casework(&plan, &placement);
    assert!(findings.is_empty(), "{findings:?}");
    casework.units
}

/// Roles that a step names.
fn named(text: &str) -> Vec<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split('}').next()).collect()
}

/// The first step that names a part or holds these words.
fn step(unit: &BuiltUnit, what: &str) -> usize {
    let found = unit.steps.iter().position(|step| step.text.contains(what));
    found.unwrap_or_else(|| panic!("no step says `{what}`: {:?}", unit.steps))
}

#[test]
fn every_part_of_the_demo_is_put_somewhere() {
    for unit in demo() {
        let told: Vec<&str> = unit.steps.iter().flat_map(|step| named(&step.text)).collect();
        for role in &told {
            assert!(unit.parts.iter().any(|part| part.role == *role), "{}: there is no {role}", unit.key);
        }
        for part in &unit.parts {
            assert!(told.contains(&part.role.as_str()), "{}: {} is left over", unit.key, part.role);
        }
    }
}

#[test]
fn every_dimension_of_the_demo_has_a_name_and_a_cause() {
    for unit in demo() {
        for part in &unit.parts {
            for dim in [&part.length, &part.width, &part.thickness] {
                assert!(dim.name().is_some(), "{} {}: {dim:?}", unit.key, part.role);
                let causes = dryfit_measure::sources(dim).len() + dryfit_measure::rules(dim).len();
                assert!(causes > 0, "{} {}: {dim:?}", unit.key, part.role);
            }
        }
    }
}

const DRAWER_AND_DOOR: &str = r#"
kind = "base"
recipe = "painted"
width = { given = "24 in" }
shelves = 1
fronts = { down = { order = ["d1", "d2"], parts = { d1 = { drawer = { slide = "slide-21", height = "5 in" } }, d2 = { door = { hinge = "left" } } } } }
"#;

#[test]
fn a_captured_back_goes_in_before_the_last_side() {
    let (unit, _) =
        build(&demo_with(DRAWER_AND_DOOR), placed(UnitKind::Base, ["24 in", "34 1/2 in", "24 in"]));
    let order = [
        step(&unit, "{bottom}"),
        step(&unit, "{back}"),
        step(&unit, "Close with {side.right}"),
        step(&unit, "diagonals"),
        step(&unit, "clamped"),
        step(&unit, "Frame on the box"),
        step(&unit, "{drawer.d1/cleat.left}"),
        step(&unit, "slides on"),
        step(&unit, "Finish the inside"),
        step(&unit, "{shelf}"),
        step(&unit, "Measure every opening"),
        step(&unit, "{drawer.d1/bottom}"),
        step(&unit, "{door.d2/panel}"),
        step(&unit, "{nailer.top}") + 1,
        step(&unit, "{toe}"),
    ];
    assert!(order[..13].is_sorted() && order[14] == unit.steps.len() - 1, "{order:?}");
    // the drawer's bottom before its last side
    let slide_in = step(&unit, "{drawer.d1/bottom}");
    assert!(unit.steps[slide_in].text.find("bottom") < unit.steps[slide_in].text.find("side.right"));
    assert!(unit.steps[step(&unit, "before the glue sets")].test);
}

#[test]
fn a_back_that_is_nailed_on_comes_after_the_sides() {
    let mut plan = demo_with(DRAWER_AND_DOOR);
    for recipe in plan.recipes.values_mut() {
        recipe.joints.back = dryfit_plan::BackJoint::Rabbet;
    }
    let (unit, _) = build(&plan, placed(UnitKind::Base, ["24 in", "34 1/2 in", "24 in"]));
    assert!(step(&unit, "Close with {side.right}") < step(&unit, "{back}"));
}

#[test]
fn what_can_hurt_is_said_where_it_does() {
    for unit in demo() {
        let hung = unit.steps.iter().find(|step| step.text.contains("every stud"));
        if unit.parts.iter().any(|part| part.name == "nailer" || part.role == "ledger") {
            let caution = hung.and_then(|step| step.caution.as_deref()).expect("a caution at the studs");
            assert!(caution.contains("in the wall") || caution.contains("tip"), "{caution}");
        }
    }
}
