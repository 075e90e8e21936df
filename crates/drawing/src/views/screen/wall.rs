//! A wall from inside, its sizes in chains: widths below, what hangs above, heights at the sides.

use dryfit_measure::{Key, Length};
use dryfit_plan::{Front, Hand, Plan, UnitKind};
use dryfit_stages::Derived;
use dryfit_stages::placement::PlacedUnit;

use super::chain::{Stretch, Way, chain};
use crate::paper::{Drawing, HatchKind, Pen, Point, Stroke};
use crate::sketch::{Frame, Margins, Sketch};
use crate::tape::measured;
use crate::views::wall::{View, face, leaves};

/// Thickness that wall, floor and ceiling are drawn with, points.
const WALL: f64 = 18.0;

/// One wall as it is laid out; `None` when the survey has none of that key.
pub fn layout_wall(plan: &Plan, derived: &Derived, key: &Key, frame: Frame) -> Option<Drawing> {
    let view = View::of(plan, derived, key)?;
    let length = view.line.length.length().as_mm_f64();
    let ceiling = [0.0, length].map(|along| view.ceiling(along));
    let hangs = !view.edges(false).is_empty() && view.edges(false).len() > 1;
    let margins = Margins {
        left: WALL + 74.0,
        right: WALL + 62.0,
        bottom: WALL + 78.0,
        top: WALL + if hangs { 40.0 } else { 10.0 },
    };
    let top = ceiling[0].max(ceiling[1]);
    let mut sketch = Sketch::new(view.alt(), [[0.0, 0.0], [length, top]], margins, frame);
    hatched_round(&mut sketch, length, ceiling);
    view.openings(&mut sketch);
    view.neighbours(&mut sketch);
    view.tops(&mut sketch);
    for unit in &view.units {
        view.unit(&mut sketch, unit);
        swings(&mut sketch, &view, unit);
    }
    let room = [[0.0, 0.0], [length, 0.0], [length, ceiling[1]], [0.0, ceiling[0]]];
    sketch.layer("room").outline(&room, Pen::Heavy, Stroke::Solid);
    view.names(&mut sketch);
    chains(&mut sketch, &view, length, top);
    Some(sketch.finish())
}

/// Floor, ceiling and the walls round the corners, cut through.
fn hatched_round(sketch: &mut Sketch, length: f64, ceiling: [f64; 2]) {
    let w = sketch.pt(WALL);
    sketch.layer("walls");
    let out = length + w;
    for side in [
        [[-w, -w], [out, -w], [out, 0.0], [-w, 0.0]],
        [[-w, 0.0], [0.0, 0.0], [0.0, ceiling[0]], [-w, ceiling[0]]],
        [[length, 0.0], [out, 0.0], [out, ceiling[1]], [length, ceiling[1]]],
        [[-w, ceiling[0]], [0.0, ceiling[0]], [0.0, ceiling[0] + w], [-w, ceiling[0] + w]],
        [[0.0, ceiling[0]], [length, ceiling[1]], [length, ceiling[1] + w], [0.0, ceiling[0] + w]],
        [[length, ceiling[1]], [out, ceiling[1]], [out, ceiling[1] + w], [length, ceiling[1] + w]],
    ] {
        sketch.hatched(&side, HatchKind::Cut);
    }
}

/// Dashed lines on each door that meet at its hinges.
fn swings(sketch: &mut Sketch, view: &View<'_>, unit: &PlacedUnit) {
    let Some(built) = view.derived.casework.units.iter().find(|built| built.key == unit.key) else { return };
    let Some(fronts) = view.plan.units.get(&unit.key).and_then(|stated| stated.fronts.as_ref()) else {
        return;
    };
    let middle = f64::midpoint(face(unit)[0][0], face(unit)[1][0]);
    for (leaf, [low, high]) in leaves(unit, built) {
        let Some(path) = leaf.strip_prefix("door.") else { continue };
        let hinge = match fronts.at_path(path) {
            Some(Front::Door { hinge, .. }) => *hinge,
            Some(Front::Pair { .. }) if f64::midpoint(low[0], high[0]) < middle => Hand::Left,
            Some(Front::Pair { .. }) => Hand::Right,
            _ => continue,
        };
        let (hinge, strike) = if hinge == Hand::Left { (low[0], high[0]) } else { (high[0], low[0]) };
        let at_hinge: Point = [hinge, f64::midpoint(low[1], high[1])];
        let lines = [[strike, high[1]], at_hinge, [strike, low[1]]];
        sketch.layer("swings").about(unit.key.as_str()).stroke(&lines, Pen::Thin, Stroke::Dash);
    }
}

fn chains(sketch: &mut Sketch, view: &View<'_>, length: f64, top: f64) {
    let w = sketch.pt(WALL);
    let (first, second) = (-w - sketch.pt(22.0), -w - sketch.pt(60.0));
    chain(sketch, Way::Across, first, -w, &widths(view, true));
    let whole = Stretch {
        ends: [0.0, length],
        figure: measured(view.line.length.length(), view.plan.fineness),
        about: Some(format!("{}.length", view.line.key)),
        what: format!("{} at the floor", view.name()),
    };
    chain(sketch, Way::Across, second, -w, &[whole]);
    let hanging = widths(view, false);
    if !hanging.is_empty() {
        let line = top + w + sketch.pt(12.0);
        chain(sketch, Way::Across, line, top + w, &hanging);
    }
    let left = heights(view, |unit| view.stands(unit) && unit.kind != UnitKind::Tall);
    let line = -w - sketch.pt(20.0);
    chain(sketch, Way::Up, line, -w, &left);
    let tall = tallest(view);
    let out = length + w + sketch.pt(34.0);
    chain(sketch, Way::Up, out, length + w, &tall);
}

/// The widths of what stands or hangs, side by side, with what is free between.
fn widths(view: &View<'_>, standing: bool) -> Vec<Stretch> {
    let mut units: Vec<&&PlacedUnit> =
        view.units.iter().filter(|unit| view.stands(unit) == standing).collect();
    units.sort_by_key(|unit| (unit.along.length(), unit.up.length()));
    let mut stretches: Vec<Stretch> = Vec::new();
    let mut until = Length::ZERO;
    for unit in units {
        let (from, to) = (unit.along.length(), unit.right().length());
        if from < until {
            continue;
        }
        if from > until && (standing || !stretches.is_empty()) {
            stretches.push(free(view, until, from));
        }
        stretches.push(Stretch {
            ends: [from.as_mm_f64(), to.as_mm_f64()],
            figure: view.sized(unit.width.length()),
            about: Some(format!("{}.width", unit.key)),
            what: format!("{} wide", unit.key),
        });
        until = to;
    }
    if standing && !stretches.is_empty() && view.line.length.length() > until {
        stretches.push(free(view, until, view.line.length.length()));
    }
    stretches
}

fn free(view: &View<'_>, from: Length, to: Length) -> Stretch {
    Stretch {
        ends: [from.as_mm_f64(), to.as_mm_f64()],
        figure: measured(to - from, view.plan.fineness),
        about: None,
        what: "free between".to_owned(),
    }
}

/// Heights of the first that stands, the worktop over it, and what hangs above.
fn heights(view: &View<'_>, wanted: impl Fn(&PlacedUnit) -> bool) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    let mut until = Length::ZERO;
    let mut add = |from: Length, to: Length, about: Option<String>, what: String, until: &mut Length| {
        if to > from {
            // what is left free is measured, what was made has its own size
            let free = about.as_ref().is_some_and(|about| about.rsplit('.').next() == Some("up"));
            let figure = if free { measured(to - from, view.plan.fineness) } else { view.sized(to - from) };
            stretches.push(Stretch { ends: [from.as_mm_f64(), to.as_mm_f64()], figure, about, what });
        }
        *until = to;
    };
    let base = view.units.iter().filter(|unit| wanted(unit) && unit.kind != UnitKind::Filler);
    if let Some(unit) = base.min_by_key(|unit| unit.along.length()) {
        let what = format!("{} high", unit.key);
        add(Length::ZERO, unit.height.length(), Some(format!("{}.height", unit.key)), what, &mut until);
    }
    for top in &view.derived.placement.tops {
        let here = top
            .legs
            .iter()
            .any(|leg| view.plan.runs.get(&leg.run).is_some_and(|run| run.along == view.line.key));
        let lower = top.upper.length() - top.thickness.length();
        if here && lower >= until {
            add(
                lower,
                top.upper.length(),
                Some(format!("{}.thickness", top.key)),
                "worktop thick".into(),
                &mut until,
            );
        }
    }
    let mut hanging: Vec<&&PlacedUnit> =
        view.units.iter().filter(|unit| !view.stands(unit) && unit.kind != UnitKind::Filler).collect();
    hanging.sort_by_key(|unit| (unit.up.length(), unit.along.length()));
    for unit in hanging {
        let (low, high) = (unit.up.length(), unit.top().length());
        if low < until {
            continue;
        }
        let above = format!("{}.up", unit.key);
        // what is free above the top has no dimension of its own: its number stands for the height it leads to
        add(until, low, Some(above), format!("below {}", unit.key), &mut until);
        add(low, high, Some(format!("{}.height", unit.key)), format!("{} high", unit.key), &mut until);
    }
    stretches
}

/// The tallest unit's height, and what is free above it.
fn tallest(view: &View<'_>) -> Vec<Stretch> {
    let right = view.line.length.length().as_mm_f64();
    let ceiling = Length::from_mm_f64(view.ceiling(right));
    let tall =
        view.units.iter().filter(|unit| unit.kind == UnitKind::Tall).max_by_key(|unit| unit.top().length());
    let mut stretches = Vec::new();
    let mut until = Length::ZERO;
    if let Some(unit) = tall {
        until = unit.top().length();
        stretches.push(Stretch {
            ends: [0.0, until.as_mm_f64()],
            figure: view.sized(unit.height.length()),
            about: Some(format!("{}.height", unit.key)),
            what: format!("{} high", unit.key),
        });
    }
    if ceiling > until {
        stretches.push(Stretch {
            ends: [until.as_mm_f64(), ceiling.as_mm_f64()],
            figure: measured(ceiling - until, view.plan.fineness),
            about: None,
            what: "to the ceiling".into(),
        });
    }
    stretches
}
