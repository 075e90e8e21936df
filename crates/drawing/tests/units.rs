//! Units, parts and doors of the demo as drawings: what is numbered, what is marked, and that it stays on paper.

use std::collections::BTreeMap;

use dryfit_drawing::{Drawing, Frame, Point, Shape, Words, views};
use dryfit_plan::Plan;
use dryfit_stages::casework::{BuiltUnit, Casework, Gate, casework};
use dryfit_stages::{Derived, placement::placement, run, survey::survey};

const FRAME: Frame = Frame { width: 540.0, height: 420.0 };

fn demo() -> (Plan, Casework) {
    let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("a sound plan").plan;
    let (survey, _) = survey(&plan);
    let (placement, _) = placement(&plan, &survey);
    let (casework, _) = casework(&plan, &placement);
    (plan, casework)
}

fn unit<'a>(casework: &'a Casework, key: &str) -> &'a BuiltUnit {
    casework.units.iter().find(|unit| unit.key.as_str() == key).expect("a unit of the demo")
}

/// Every figure on the drawing, as it is typed.
fn figures(drawing: &Drawing) -> Vec<String> {
    let words = drawing.marks.iter().filter_map(|mark| match &mark.shape {
        Shape::Text { words, .. } => Some(words),
        _ => None,
    });
    let figure = |word: &Words| match word {
        Words::Figure(figure) => Some(figure.bare().to_string()),
        Words::Plain(_) => None,
    };
    words.flatten().filter_map(figure).collect()
}

fn points(shape: &Shape) -> Vec<Point> {
    match shape {
        Shape::Line { points, .. } | Shape::Fill { points } => points.clone(),
        Shape::Hatch { lines, .. } => lines.concat(),
        Shape::Circle { at, .. }
        | Shape::Arc { at, .. }
        | Shape::Text { at, .. }
        | Shape::Balloon { at, .. }
        | Shape::Flag { at, .. }
        | Shape::Dot { at }
        | Shape::Hook { at, .. }
        | Shape::FaceMark { at, .. }
        | Shape::Grain { at, .. } => vec![*at],
    }
}

fn stays_on_paper(drawing: &Drawing, frame: Frame) {
    let [low, high] = drawing.extent;
    let size = [0, 1].map(|k| (high[k] - low[k]) * drawing.points_per_mm);
    assert!(size[0] <= frame.width + 0.01 && size[1] <= frame.height + 0.01, "{size:?}");
    for [x, y] in drawing.marks.iter().flat_map(|mark| points(&mark.shape)) {
        assert!(x.is_finite() && y.is_finite());
        assert!(x >= low[0] && x <= high[0] && y >= low[1] && y <= high[1], "{} at {x} {y}", drawing.alt);
    }
}

fn numbers(unit: &BuiltUnit) -> BTreeMap<&str, u32> {
    let own = unit.parts.iter().filter(|part| part.gate != Some(Gate::Openings));
    (1..).zip(own).map(|(n, part)| (part.role.as_str(), n)).collect()
}

#[test]
fn every_unit_comes_apart_with_all_its_numbers() {
    let (_, casework) = demo();
    for unit in &casework.units {
        let numbers = numbers(unit);
        let small = Frame { width: 150.0, height: 110.0 };
        let crowded = views::exploded(unit, &numbers, "apart", small).expect("parts");
        let count = crowded.marks.iter().filter(|mark| matches!(mark.shape, Shape::Balloon { .. })).count();
        assert!(count >= numbers.len(), "{}: a number left out", unit.key);
        let drawing = views::exploded(unit, &numbers, "apart", FRAME).expect("parts");
        stays_on_paper(&drawing, FRAME);
        let mut balloons: Vec<u32> = drawing
            .marks
            .iter()
            .filter_map(|mark| match mark.shape {
                Shape::Balloon { number, .. } => Some(number),
                _ => None,
            })
            .collect();
        balloons.sort_unstable();
        let all: Vec<u32> =
            numbers.values().copied().collect::<std::collections::BTreeSet<_>>().into_iter().collect();
        assert_eq!(balloons, all, "{}", unit.key);
    }
}

#[test]
fn balloons_do_not_lie_on_each_other() {
    let (_, casework) = demo();
    let unit = unit(&casework, "b3");
    let drawing = views::exploded(unit, &numbers(unit), "apart", FRAME).expect("parts");
    let at: Vec<Point> = drawing
        .marks
        .iter()
        .filter_map(|mark| match mark.shape {
            Shape::Balloon { at, .. } => Some(at),
            _ => None,
        })
        .collect();
    for (i, a) in at.iter().enumerate() {
        for b in &at[i + 1..] {
            let apart = (a[0] - b[0]).hypot(a[1] - b[1]) * drawing.points_per_mm;
            assert!(apart >= 20.0, "{a:?} {b:?}");
        }
    }
}

#[test]
fn nothing_numbered_is_no_drawing() {
    let (_, casework) = demo();
    assert!(views::exploded(unit(&casework, "b1"), &BTreeMap::new(), "nothing", FRAME).is_none());
}

#[test]
fn a_side_carries_the_marks_that_a_builder_would_work_out() {
    let (plan, casework) = demo();
    let unit = unit(&casework, "b1");
    let side = unit.parts.iter().find(|part| part.role == "side.left").expect("a side");
    let drawing = views::part(&plan, unit, side, [side.length.length(), side.width.length()], FRAME);
    stays_on_paper(&drawing, FRAME);
    let figures = figures(&drawing);
    // toe kick 4; frame rail 1 1/2 above it, the bottom (23/32) flush with the rail's upper edge
    for mark in ["0", "4", "4 25/32", "5 1/2", "35 1/4", "23/32", "7/32"] {
        assert!(figures.iter().any(|figure| figure == mark), "{mark} among {figures:?}");
    }
    assert!(drawing.alt.contains("b1 side, left, 35 1/4"));
}

#[test]
fn every_part_can_be_drawn() {
    let (plan, casework) = demo();
    for unit in &casework.units {
        for part in &unit.parts {
            let size = [part.length.length(), part.width.length()];
            let drawing = views::part(&plan, unit, part, size, FRAME);
            assert!(
                drawing.points_per_mm.is_finite() && drawing.points_per_mm > 0.0,
                "{}/{}",
                unit.key,
                part.role
            );
        }
    }
}

#[test]
fn doors_and_drawers_show_their_parts_and_their_joint() {
    let (plan, casework) = demo();
    for (key, path) in [("b3", "door.d2"), ("b3", "drawer.d1"), ("b1", "door.left"), ("b2", "drawer.d3")] {
        let unit = unit(&casework, key);
        let parts: Vec<_> = unit
            .parts
            .iter()
            .filter(|part| part.gate == Some(Gate::Openings) && part.role.split('/').next() == Some(path))
            .collect();
        assert!(!parts.is_empty(), "{key} {path}");
        let numbers: BTreeMap<&str, u32> =
            (1..).zip(&parts).map(|(n, part)| (part.role.as_str(), n)).collect();
        let drawing = views::leaf(&plan, unit, &parts, &numbers, "a leaf", FRAME).expect("a front");
        stays_on_paper(&drawing, FRAME);
        let balloons =
            drawing.marks.iter().filter(|mark| matches!(mark.shape, Shape::Balloon { .. })).count();
        assert_eq!(balloons, parts.len(), "{key} {path}");
        // door panels stand 1/16 off the grooves' bottoms: the handbook's panel gap
        if let Some(joint) = views::joint(&plan, &parts, FRAME) {
            assert!(joint.alt.contains("groove 3/8 deep and 7/32 wide, the panel 1/16 off"), "{}", joint.alt);
            stays_on_paper(&joint, FRAME);
        }
    }
}

fn derived() -> (Plan, Derived) {
    let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("a sound plan").plan;
    let derived =
        run(&plan, &dryfit_stages::layouts::Answers::new(), dryfit_cutting::Budget { steps: 0, seed: 1 });
    (plan, derived)
}

#[test]
fn the_room_shows_its_walls_as_adjusted() {
    let (plan, derived) = derived();
    let measured = views::measured(&plan, &derived, FRAME).expect("a room");
    stays_on_paper(&measured, FRAME);
    let figures = figures(&measured);
    for wall in &derived.survey.walls {
        let length = wall.length.length().figure(plan.fineness, dryfit_measure::Toward::Nearest);
        assert!(figures.contains(&length.bare().to_string()), "{}", wall.key);
    }
    let floor = views::floor(&plan, &derived, FRAME).expect("a room");
    stays_on_paper(&floor, FRAME);
    let hatched = |drawing: &Drawing, key: &str| {
        drawing.marks.iter().any(|mark| {
            mark.about.as_deref() == Some(key)
                && matches!(&mark.shape, Shape::Hatch { lines, .. } if !lines.is_empty())
        })
    };
    assert!(
        hatched(&floor, "b3") && !hatched(&floor, "u1"),
        "what is cut today is hatched, what is held is not"
    );
}

#[test]
fn no_room_is_no_drawing() {
    let text = include_str!("../../../demos/potting-room.toml");
    let head = text.split("[instruments]").next().expect("a head");
    let plan =
        Plan::from_toml(&format!("{head}\n[room]\nwalk = []\nsense = \"clockwise\"\n")).expect("a plan").plan;
    let derived =
        run(&plan, &dryfit_stages::layouts::Answers::new(), dryfit_cutting::Budget { steps: 0, seed: 1 });
    assert!(views::measured(&plan, &derived, FRAME).is_none());
    assert!(views::floor(&plan, &derived, FRAME).is_none());
}
