//! Where pipes and cables go through studs: the hole, the wood that is left, and where a steel plate is due.

use dryfit_handbook::framing_rule;
use dryfit_measure::{Dim, Key, Length};
use dryfit_plan::Plan;

use super::code::Rules;
use super::ways::{PlacedNode, PlacedRun, studs_deep};
use crate::figures::Figures;
use crate::placement::Studs;

/// One hole or notch in a stud.
#[derive(Clone, Debug)]
pub struct Crossing {
    /// What goes through.
    pub run: Key,
    /// The wall.
    pub wall: Key,
    /// The stud's centre, along the wall.
    pub along: Dim,
    /// Up from the datum.
    pub up: Dim,
    /// The nodes that its leg lies between.
    pub leg: [Key; 2],
    /// Diameter of the hole.
    pub hole: Dim,
    /// Wood left between the hole and the nearer face; less than nothing where it breaks out.
    pub edge: Dim,
    /// How deep it goes in from the face where it breaks out.
    pub notch: Option<Dim>,
    /// The widest hole, or the deepest notch, that this stud takes.
    pub most: Dim,
    /// Whether its edge is so near a face that a steel plate is due.
    pub plate: bool,
}

/// A leg that runs up or down inside a stud.
#[derive(Clone, Debug)]
pub struct Lengthwise {
    /// What runs.
    pub run: Key,
    /// The wall.
    pub wall: Key,
    /// The stud's centre.
    pub along: Dim,
    /// The nodes of the leg.
    pub leg: [Key; 2],
    /// How far the leg's centre has to be from the stud's.
    pub clear: Dim,
}

/// More studs than a leg can cross in a room.
const MOST: i64 = 100;

/// All holes, and all legs that lie inside a stud.
pub(super) fn bores(plan: &Plan, rules: &Rules, runs: &[PlacedRun]) -> (Vec<Crossing>, Vec<Lengthwise>) {
    let (mut crossings, mut lengthwise) = (Vec::new(), Vec::new());
    for run in runs {
        for [a, b] in run.legs() {
            let wall = &a.spot.wall;
            let in_wall = a.spot.wall == b.spot.wall
                && a.spot.deep.length().is_negative()
                && b.spot.deep.length().is_negative();
            let Some(studs) = Studs::of(plan, wall).filter(|_| in_wall) else { continue };
            crossings.extend(of_leg(plan, rules, run, [a, b], &studs));
            lengthwise.extend(inside(plan, run, [a, b], &studs));
        }
    }
    (crossings, lengthwise)
}

fn of_leg(
    plan: &Plan,
    rules: &Rules,
    run: &PlacedRun,
    [a, b]: [&PlacedNode; 2],
    studs: &Studs,
) -> Vec<Crossing> {
    let (from, to) = (a.spot.along.length(), b.spot.along.length());
    let (low, high) = (from.min(to), from.max(to));
    let first = studs.next_after(low);
    let numbers = (first..first.saturating_add(MOST)).take_while(|n| studs.centre(*n).length() < high);
    numbers.map(|number| crossing(plan, rules, run, [a, b], studs.centre(number))).collect()
}

fn crossing(plan: &Plan, rules: &Rules, run: &PlacedRun, [a, b]: [&PlacedNode; 2], along: Dim) -> Crossing {
    let wall = &a.spot.wall;
    let far = (b.spot.along.length() - a.spot.along.length()).as_mm_f64();
    let part = (along.length() - a.spot.along.length()).as_mm_f64() / far;
    let between = |a: &Dim, b: &Dim| {
        let run = b - a;
        if run.length().is_zero() { a.clone() } else { a + run.scaled(part, "on the way") }
    };
    let deep = between(&a.spot.deep, &b.spot.deep);
    let figures = Figures::of_handbook(plan);
    let hole = (&run.outside + figures.dim("bore-play")).named("hole").placed(run.key.as_str());
    let radius = hole.split(2).swap_remove(0);
    let studs = studs_deep(plan, wall);
    let (near, back) = (-&deep - &radius, &studs + &deep - &radius);
    let edge =
        Dim::least([near.clone(), back.clone()]).named("wood left beside the hole").placed(run.key.as_str());
    let breaks = !edge.length().is_positive();
    let notch = breaks.then(|| {
        let cut = if near.length() <= back.length() { -&deep + &radius } else { &studs + &deep + &radius };
        cut.named("notch").placed(run.key.as_str())
    });
    // what is not known to carry nothing is taken to carry
    let bears = plan.walls.get(wall).and_then(|wall| wall.bearing) != Some(false);
    let rule = framing_rule();
    let percent = match (breaks, bears) {
        (false, true) => rule.bore_bearing,
        (false, false) => rule.bore_other,
        (true, true) => rule.notch_bearing,
        (true, false) => rule.notch_other,
    };
    let why = format!("IRC R602.6, {percent} % of a stud");
    let most = studs.scaled(percent as f64 / 100.0, why);
    let plate = edge.length() < rules.wiring().plate.deep.length;
    Crossing {
        run: run.key.clone(),
        wall: wall.clone(),
        up: between(&a.spot.up, &b.spot.up).named("hole up").placed(run.key.as_str()),
        along,
        leg: [a.key.clone(), b.key.clone()],
        hole,
        edge,
        notch,
        most: most.named(if breaks { "deepest notch" } else { "widest hole" }).placed(wall.as_str()),
        plate,
    }
}

/// A leg straight up whose pipe meets a stud all the way.
fn inside(plan: &Plan, run: &PlacedRun, [a, b]: [&PlacedNode; 2], studs: &Studs) -> Option<Lengthwise> {
    let along = &a.spot.along;
    let upright = along.length() == b.spot.along.length();
    let long = (a.spot.up.length() - b.spot.up.length()).abs();
    if !upright || long <= run.outside.length() {
        return None;
    }
    let figures = Figures::of_handbook(plan);
    let clear = figures.dim("stud-thickness").split(2).swap_remove(0) + run.outside.split(2).swap_remove(0);
    let number = studs.next_after(along.length() - clear.length());
    let centre = studs.centre(number);
    let off = (along.length() - centre.length()).abs();
    (off < clear.length()).then(|| Lengthwise {
        run: run.key.clone(),
        wall: a.spot.wall.clone(),
        along: centre,
        leg: [a.key.clone(), b.key.clone()],
        clear: clear.named("clear of the stud").placed(run.key.as_str()),
    })
}

impl Crossing {
    /// The wood that has to be left beside a hole.
    pub fn edge_least() -> Length {
        framing_rule().bore_edge.length
    }
}
