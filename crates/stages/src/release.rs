//! Stage 7, release: what is known well enough to be cut today, and what is held back for which reading.
//!
//! Nothing is more costly than cutting from a number that is not yet true. A box may be cut when the walls that
//! its run stands between are known up to its own top; a door or drawer when its opening has been measured as
//! built; what is scribed, and what lies over or between set units, when they are fixed.

use dryfit_measure::{Fineness, Key, Length, Toward};
use dryfit_plan::{End, Plan, UnitKind};

use crate::casework::{BuiltUnit, Casework, Gate};
use crate::placement::{PlacedUnit, Placement};
use crate::survey::{Survey, WallLine};

/// What this release holds.
#[derive(Clone, Debug)]
pub struct Release {
    /// Its number, from one.
    pub number: u32,
    /// What may be cut today.
    pub cut_today: Vec<Ready>,
    /// What may not, and what would release it.
    pub held: Vec<Held>,
}

/// Something that may be cut today.
#[derive(Clone, Debug)]
pub struct Ready {
    /// The unit.
    pub unit: Key,
    /// Which of its parts: "box and frame".
    pub what: String,
}

/// Something that may not be cut yet.
#[derive(Clone, Debug)]
pub struct Held {
    /// The unit or worktop.
    pub subject: Key,
    /// Which of its parts: "doors".
    pub what: String,
    /// What would release it: a reading, or a gate.
    pub until: Until,
}

/// What something waits for.
#[derive(Clone, Debug)]
pub enum Until {
    /// Readings to take, in words.
    Readings(Vec<String>),
    /// Openings measured as built.
    Openings,
    /// Units fixed, measured over all.
    UnitsSet,
}

/// Sorts what is made into what may be cut today and what waits.
pub fn release(plan: &Plan, survey: &Survey, placement: &Placement, casework: &Casework) -> Release {
    let mut release = Release { number: 1, cut_today: Vec::new(), held: Vec::new() };
    for built in &casework.units {
        let Some(placed) = placement.units.iter().find(|unit| unit.key == built.key) else { continue };
        let mut hold = |what: &str, until| {
            release.held.push(Held { subject: built.key.clone(), what: what.to_owned(), until });
        };
        let missing = missing_readings(plan, survey, placed);
        if matches!(placed.kind, UnitKind::Filler | UnitKind::EndPanel | UnitKind::FloatingShelf) {
            hold("all of it", Until::UnitsSet);
        } else if !missing.is_empty() {
            hold("all of it", Until::Readings(missing));
        } else {
            let framed = built.parts.iter().any(|part| part.role.starts_with("frame"));
            let what = if framed { "box and frame" } else { "box" };
            release.cut_today.push(Ready { unit: built.key.clone(), what: what.to_owned() });
            if let Some(fronts) = gated(built) {
                hold(fronts, Until::Openings);
            }
        }
    }
    for top in &placement.tops {
        release.held.push(Held {
            subject: top.key.clone(),
            what: "all of it".to_owned(),
            until: Until::UnitsSet,
        });
    }
    release
}

/// What of a unit waits for its openings.
fn gated(unit: &BuiltUnit) -> Option<&'static str> {
    let gated = |front: &str| {
        unit.parts.iter().any(|part| part.gate == Some(Gate::Openings) && part.role.starts_with(front))
    };
    match (gated("door"), gated("drawer")) {
        (true, true) => Some("doors and drawers"),
        (true, false) => Some("doors"),
        (false, true) => Some("drawers"),
        (false, false) => unit.parts.iter().any(|part| part.gate == Some(Gate::Openings)).then_some("fronts"),
    }
}

/// Readings that are missing before a unit may be cut: its run's walls have to be known up to its own top.
fn missing_readings(plan: &Plan, survey: &Survey, unit: &PlacedUnit) -> Vec<String> {
    let Some(run) = plan.runs.get(&unit.run) else { return Vec::new() };
    let Some(place) = survey.walls.iter().position(|wall| wall.key == unit.wall) else { return Vec::new() };
    let count = survey.walls.len();
    // Walls lie counter-clockwise: the next one meets this wall's left-hand corner as seen from inside when its
    // own right-hand corner is that corner.
    let here = &survey.walls[place];
    let beside = |corner: &Key| {
        [&survey.walls[(place + 1) % count], &survey.walls[(place + count - 1) % count]]
            .into_iter()
            .find(|wall| wall.left == *corner || wall.right == *corner)
    };
    let mut missing = Vec::new();
    for (end, corner) in [(&run.left, &here.left), (&run.right, &here.right)] {
        let stands_against = matches!(end, End::Wall);
        let Some(wall) = beside(corner).filter(|_| stands_against) else { continue };
        let top = unit.top().length();
        if wall.known_up_to.is_none_or(|known| known < top) {
            missing.push(wanted(plan, wall, unit.up.length(), top, plan.fineness));
        }
    }
    missing
}

fn wanted(plan: &Plan, wall: &WallLine, bottom: Length, top: Length, fineness: Fineness) -> String {
    let name = plan
        .walls
        .get(&wall.key)
        .and_then(|wall| wall.name.clone())
        .unwrap_or_else(|| format!("wall {}", wall.key));
    let up = |length: Length| length.figure(fineness, Toward::Nearest).bare().to_string();
    format!("{name}: lean between {} and {} up", up(bottom), up(top))
}
