//! Keys in walls, openings and readings that name nothing, and a walk that is no ring.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Plan, Subject};
use serde_json::json;

use crate::finding::{Finding, Fix};
use crate::likely::likely;

use super::walk::Ring;

/// What names nothing, and what is missing for the walk to be a ring of walls.
pub(crate) fn unknown(plan: &Plan, ring: &Ring) -> Vec<Finding> {
    let root = Pointer::root();
    let corners: Vec<&Key> = plan.room.walk.iter().collect();
    let walls: Vec<&Key> = plan.walls.keys().collect();
    let instruments: Vec<&Key> = plan.instruments.keys().collect();
    let epochs: Vec<&Key> = plan.epochs.keys().collect();
    let mut found = Vec::new();
    let mut look = |one: &str, known: &[&Key], at: Pointer, subject: &Key, named: &Key| {
        if !known.contains(&named) {
            found.push(names_nothing(one, known, at, subject, named));
        }
    };
    for (key, wall) in &plan.walls {
        let at = root.child("walls").child(key);
        look("corner", &corners, at.child("from"), key, &wall.from);
        look("corner", &corners, at.child("to"), key, &wall.to);
    }
    for (key, opening) in &plan.openings {
        look("wall", &walls, root.child("openings").child(key).child("wall"), key, &opening.wall);
    }
    for (key, reading) in &plan.readings {
        let at = root.child("readings").child(key);
        look("epoch", &epochs, at.child("epoch"), key, &reading.epoch);
        look("instrument", &instruments, at.child("by"), key, &reading.by);
        let of = at.child("of");
        match &reading.of {
            Subject::Span { from, to } => {
                look("corner", &corners, of.child("span").child("from"), key, from);
                look("corner", &corners, of.child("span").child("to"), key, to);
            }
            Subject::Diagonal { from, to } => {
                look("corner", &corners, of.child("diagonal").child("from"), key, from);
                look("corner", &corners, of.child("diagonal").child("to"), key, to);
            }
            Subject::Lean { wall } => look("wall", &walls, of.child("lean").child("wall"), key, wall),
            Subject::Floor { at } => {
                look("wall", &walls, of.child("floor").child("at").child("wall"), key, &at.wall);
            }
            Subject::Ceiling { at } => {
                look("wall", &walls, of.child("ceiling").child("at").child("wall"), key, &at.wall);
            }
        }
    }
    found.extend(ringless(plan, ring));
    found
}

fn names_nothing(one: &str, known: &[&Key], at: Pointer, subject: &Key, named: &Key) -> Finding {
    let meant = likely(named.as_str(), known.iter().map(|key| key.as_str()));
    let asked = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
    let put = meant.map(|meant| Fix::replace(format!("put `{meant}` there"), &at, named, &meant));
    let what = format!("`{subject}` names `{named}`, and there is no {one} of that key{asked}");
    Finding {
        fixes: put.into_iter().collect(),
        ..Finding::unresolved("plan/names-nothing", vec![subject.clone(), named.clone()], at, what)
    }
}

fn ringless(plan: &Plan, ring: &Ring) -> Vec<Finding> {
    let mut found = Vec::new();
    let walk = Pointer::root().child("room").child("walk");
    for (i, key) in plan.room.walk.iter().enumerate() {
        if plan.room.walk[..i].contains(key) {
            let what = format!("corner `{key}` is met twice on the walk; only its first place counts");
            let at = walk.index(i);
            let fixes = vec![Fix::remove(format!("take the second `{key}` out of the walk"), &at, key)];
            let finding = Finding::unresolved("survey/corner-twice", vec![key.clone()], at, what);
            found.push(Finding { fixes, ..finding });
        }
    }
    if ring.len() < 3 {
        let what = format!("a room has at least three corners, and the walk names {}", ring.len());
        found.push(Finding::unresolved("survey/no-room", ring.corners.clone(), walk, what));
        return found;
    }
    for i in 0..ring.len() {
        if ring.walls[i].is_some() {
            continue;
        }
        let ends = [&ring.corners[i], &ring.corners[(i + 1) % ring.len()]];
        let what = format!("the walk goes from `{}` to `{}`, and no wall joins them", ends[0], ends[1]);
        let subjects = ends.map(Key::clone).to_vec();
        let key = free_wall_key(plan, ring, i);
        let at = Pointer::root().child("walls").child(&key);
        let wall = json!({ "from": ends[0], "to": ends[1] });
        let add = |at: &Pointer| {
            if plan.walls.is_empty() {
                let walls = json!({ key.as_str(): wall });
                return Fix::add(format!("add wall `{key}`"), &Pointer::root().child("walls"), &walls);
            }
            Fix::add(format!("add wall `{key}`"), at, &wall)
        };
        let fixes = vec![add(&at)];
        let place = ring.corner_place(i);
        found.push(Finding { fixes, ..Finding::unresolved("survey/no-wall", subjects, place, what) });
    }
    for (key, wall) in &plan.walls {
        let known = ring.corner(&wall.from).zip(ring.corner(&wall.to));
        if known.is_some() && ring.wall(key).is_none() {
            let at = Pointer::root().child("walls").child(key);
            let what = format!(
                "wall `{key}` joins `{}` and `{}`, which are no neighbours on the walk, or is joined by another wall",
                wall.from, wall.to
            );
            found.push(Finding::unresolved("survey/wall-across", vec![key.clone()], at, what));
        }
    }
    found
}

/// A key for the missing wall that nothing else has.
fn free_wall_key(plan: &Plan, ring: &Ring, wall: usize) -> Key {
    let base = ring.wall_key(wall);
    let numbered = (2..).filter_map(|i| Key::new(&format!("{base}-{i}")).ok());
    std::iter::once(base.clone()).chain(numbered).find(|key| !plan.walls.contains_key(key)).unwrap_or(base)
}
