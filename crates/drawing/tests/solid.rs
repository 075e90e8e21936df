//! The solid model: names, hands and places, and what is seen of it.

use std::collections::BTreeSet;

use dryfit_cutting::Budget;
use dryfit_drawing::solid::{Facet, Node, scene};
use dryfit_drawing::{Drawing, Frame, Shape, views};
use dryfit_measure::Length;
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::placement::Plot;
use dryfit_stages::{Derived, run};

fn demo() -> (Plan, Derived) {
    let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("a sound plan").plan;
    let derived = run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 });
    (plan, derived)
}

/// Facets of a node in the room.
fn facets(scene: &Node, path: &str) -> Vec<Facet> {
    let mut found = Vec::new();
    scene.walk(&mut |node, facets| {
        if node.path == path {
            found = facets;
        }
    });
    assert!(!found.is_empty(), "no body at {path}");
    found
}

/// The middle of the box round a node's body, mm.
fn middle(scene: &Node, path: &str) -> [f64; 3] {
    let facets = facets(scene, path);
    [0, 1, 2].map(|axis| {
        let at = facets.iter().flat_map(|facet| &facet.outline).map(|at| at[axis].as_mm_f64());
        f64::midpoint(at.clone().fold(f64::MAX, f64::min), at.fold(f64::MIN, f64::max))
    })
}

#[test]
fn every_part_is_a_node_under_its_role_path_and_no_path_twice() {
    let (plan, derived) = demo();
    let scene = scene(&plan, &derived);
    let mut paths = Vec::new();
    scene.walk(&mut |node, _| paths.push(node.path.clone()));
    let once: BTreeSet<&String> = paths.iter().collect();
    assert_eq!(once.len(), paths.len());
    for unit in &derived.casework.units {
        for part in &unit.parts {
            assert!(once.contains(&format!("{}/{}", unit.key, part.role)), "{}/{}", unit.key, part.role);
        }
    }
    for path in ["floor", "wall/BC", "top/slate", "a1/appliance", "b4/sink", "b3/door.d2", "b3/box"] {
        assert!(once.contains(&path.to_owned()), "{path}");
    }
}

#[test]
fn doors_and_drawers_say_how_they_open() {
    let (plan, derived) = demo();
    let scene = scene(&plan, &derived);
    let said = |path: &str| {
        let node = scene.find(path).unwrap_or_else(|| panic!("{path}"));
        node.said.iter().find(|(what, _)| *what == "opens").map(|(_, text)| text.clone())
    };
    let ways = [
        ("b1/door.left", "left"),
        ("b1/door.right", "right"),
        ("b2/drawer.d1", "out"),
        ("t1/door.d1", "left"),
    ];
    for (path, way) in ways {
        assert_eq!(said(path).as_deref(), Some(way), "{path}");
    }
    assert_eq!(said("b1/box"), None);
}

/// Right-handed: seen from its front, with z up, a unit's left side lies to the left of its right side. Whoever
/// stands in the room before the unit looks against the wall's outward direction.
#[test]
fn left_is_left_as_seen_from_the_front() {
    let (plan, derived) = demo();
    let scene = scene(&plan, &derived);
    for key in ["b1", "b3", "b6", "t1", "u1"] {
        let wall = &derived.placement.unit(&key.parse().expect("a key")).expect("placed").wall;
        let plot = Plot::of(&derived.survey, wall).expect("a wall");
        let ([ox, oy], [fx, fy]) = (plot.at(0.0, 0.0), plot.at(0.0, 1.0));
        let looking = [ox - fx, oy - fy];
        let to_the_right = [looking[1], -looking[0]];
        let (left, right) =
            (middle(&scene, &format!("{key}/side.left")), middle(&scene, &format!("{key}/side.right")));
        let apart = (right[0] - left[0]) * to_the_right[0] + (right[1] - left[1]) * to_the_right[1];
        assert!(apart > 300.0, "{key}: {apart}");
    }
}

/// A unit's frame lies in the box that placement gives it, to a thousandth of a millimetre.
#[test]
fn parts_stand_where_placement_puts_their_unit() {
    let (plan, derived) = demo();
    let scene = scene(&plan, &derived);
    for placed in &derived.placement.units {
        let Some(built) = derived.casework.units.iter().find(|built| built.key == placed.key) else {
            continue;
        };
        let plot = Plot::of(&derived.survey, &placed.wall).expect("a wall");
        let (zero, ahead) = (plot.at(0.0, 0.0), plot.at(1.0, 0.0));
        let along = [ahead[0] - zero[0], ahead[1] - zero[1]];
        for part in &built.parts {
            for at in facets(&scene, &format!("{}/{}", built.key, part.role)).iter().flat_map(|f| &f.outline)
            {
                let [x, y, z] = at.map(Length::as_mm_f64);
                let on = (x - zero[0]) * along[0] + (y - zero[1]) * along[1];
                let out = (x - zero[0]) * along[1] - (y - zero[1]) * along[0];
                let within = |value: f64, low: Length, high: Length| {
                    value > low.as_mm_f64() - 1e-3 && value < high.as_mm_f64() + 1e-3
                };
                let path = format!("{}/{} at {on} {out} {z}", built.key, part.role);
                assert!(within(on, placed.along.length(), placed.right().length()), "{path}");
                assert!(within(out, Length::ZERO, placed.overall_depth().length()), "{path}");
                assert!(within(z, placed.up.length(), placed.top().length()), "{path}");
            }
        }
    }
}

fn names(drawing: &Drawing) -> BTreeSet<&str> {
    let text = |mark: &&dryfit_drawing::Mark| matches!(mark.shape, Shape::Text { .. });
    drawing.marks.iter().filter(text).filter_map(|mark| mark.about.as_deref()).collect()
}

/// Everything that is cut today is hatched and named on the cover's picture, and what waits for readings is dashed.
#[test]
fn the_cover_names_and_hatches_what_is_cut_today() {
    let (plan, derived) = demo();
    let drawing = views::isometric(&plan, &derived, Frame { width: 248.0, height: 300.0 }).expect("a room");
    let names = names(&drawing);
    let hatched = |key: &str| {
        drawing.marks.iter().any(|mark| {
            mark.about.as_deref() == Some(key)
                && matches!(&mark.shape, Shape::Hatch { lines, .. } if !lines.is_empty())
        })
    };
    assert!(!derived.release.cut_today.is_empty());
    for ready in &derived.release.cut_today {
        assert!(names.contains(ready.unit.as_str()) && hatched(ready.unit.as_str()), "{}", ready.unit);
    }
    assert!(!hatched("u1"));
    let dashed = |mark: &&dryfit_drawing::Mark| {
        mark.about.as_deref() == Some("u1")
            && matches!(&mark.shape, Shape::Line { stroke: dryfit_drawing::Stroke::Dash, .. })
    };
    assert!(drawing.marks.iter().filter(dashed).count() > 4);
}

#[test]
fn no_room_is_no_picture() {
    let text = include_str!("../../../demos/potting-room.toml");
    let head = text.split("[instruments]").next().expect("a head");
    let plan =
        Plan::from_toml(&format!("{head}\n[room]\nwalk = []\nsense = \"clockwise\"\n")).expect("a plan").plan;
    let derived = run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 });
    assert!(views::isometric(&plan, &derived, Frame { width: 248.0, height: 300.0 }).is_none());
    assert!(scene(&plan, &derived).children.is_empty());
}
