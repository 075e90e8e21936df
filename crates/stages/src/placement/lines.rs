//! Level lines: heights that are worth a line round the room, each carried from the first.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key, Length};
use dryfit_plan::{Plan, UnitKind};

use super::{LevelLine, PlacedUnit};
use crate::figures::Figures;

/// What the first line is called.
const FIRST: &str = "first line";

impl LevelLine {
    /// Whether all others are carried from this one.
    pub fn is_first(&self) -> bool {
        self.what == FIRST
    }
}

/// What a line is for, in the order in which one line serving several is named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Purpose {
    First,
    BoxTops,
    TallTop,
    Under,
}

/// The level lines of everything that is placed, lowest first.
pub(super) fn lines(plan: &Plan, units: &[PlacedUnit]) -> Vec<LevelLine> {
    let mut walls: Vec<Key> = Vec::new();
    for unit in units {
        if !walls.contains(&unit.wall) {
            walls.push(unit.wall.clone());
        }
    }
    if walls.is_empty() {
        return Vec::new();
    }
    let first = Figures::of_handbook(plan).dim("level-line");
    let mut wanted: BTreeMap<(Length, Purpose), (Dim, Vec<&PlacedUnit>)> = BTreeMap::new();
    for unit in units {
        let (purpose, up) = match unit.kind {
            UnitKind::Base | UnitKind::Sink => (Purpose::BoxTops, unit.top()),
            UnitKind::Bench | UnitKind::Tall | UnitKind::Locker | UnitKind::Drying => {
                (Purpose::TallTop, unit.top())
            }
            UnitKind::Wall | UnitKind::FloatingShelf | UnitKind::HookRail => {
                (Purpose::Under, unit.up.clone())
            }
            UnitKind::Appliance | UnitKind::Filler | UnitKind::EndPanel | UnitKind::Gap => continue,
        };
        wanted.entry((up.length(), purpose)).or_insert_with(|| (up, Vec::new())).1.push(unit);
    }
    let line = |(purpose, up, served): (Purpose, Dim, &[&PlacedUnit])| {
        let mut walls: Vec<Key> = served.iter().map(|unit| unit.wall.clone()).collect();
        walls.dedup();
        LevelLine { what: what(purpose, served), up, walls }
    };
    let mut lines: Vec<LevelLine> =
        wanted.iter().map(|((_, purpose), (up, served))| line((*purpose, up.clone(), served))).collect();
    lines.push(LevelLine { what: what(Purpose::First, &[]), up: first, walls });
    lines.sort_by_key(|line| line.up.length());
    lines
}

fn what(purpose: Purpose, served: &[&PlacedUnit]) -> String {
    let keys: Vec<&str> = served.iter().map(|unit| unit.key.as_str()).collect();
    let keys = keys.join(", ");
    match purpose {
        Purpose::First => FIRST.to_owned(),
        Purpose::BoxTops => "box tops".to_owned(),
        Purpose::TallTop => format!("top of {keys}"),
        Purpose::Under => format!("under {keys}"),
    }
}
