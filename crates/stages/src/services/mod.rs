//! Services: pipes, cables, ducts and boxes, where they run, what they ask of what stands before them, and
//! what is in each wall by depth.
//!
//! Along a wall from its left-hand corner seen from inside, up from the datum; depths are out from the framing's face,
//! negative into the wall. Every place is to a centre.
//!
//! Local code governs. What is computed here is there to be asked about, and approves nothing.

mod bores;
mod boxes;
mod code;
mod drains;
mod ducts;
mod map;
mod needs;
mod references;
mod skin;
mod ways;

#[cfg(test)]
mod published;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use dryfit_measure::{Dim, Key, Pointer};
use dryfit_plan::{Keyed, Node, Plan, Service};

use crate::casework::Casework;
use crate::finding::Finding;
use crate::need::Need;
use crate::placement::{Placement, Plot};
use crate::survey::Survey;

pub use bores::{Crossing, Lengthwise};
pub use boxes::{Fill, PlacedBox, fill};
pub use code::Rules;
#[cfg(test)]
use drains::fall_over;
pub use drains::{DrainWindow, Standpipe, TrapArm};
pub use ducts::{DuctLength, Turn, allowed};
pub use map::{Band, Hit, WallMap, WallScrew};
pub use skin::Skin;
pub use ways::{NodeKind, PlacedNode, PlacedRun, RunKind, Spot};

/// What stands on every page about services.
pub const CAUTION: [&str; 4] = [
    "Local code governs. Permit and inspection where required.",
    "Power off and proved dead, water off and drained, before a wall is opened.",
    "Gas, live wiring and structure: a licensed trade.",
    "Nothing here is approval.",
];

/// Everything about services.
#[derive(Clone, Debug)]
pub struct Services {
    /// The code that they are held against.
    pub rules: Rules,
    /// Pipes, cables and ducts, by key.
    pub runs: Vec<PlacedRun>,
    /// Boxes, by key.
    pub boxes: Vec<PlacedBox>,
    /// What each sink asks of its drain.
    pub windows: Vec<DrainWindow>,
    /// Trap arms, by drain.
    pub arms: Vec<TrapArm>,
    /// Standpipes, by drain.
    pub standpipes: Vec<Standpipe>,
    /// Holes and notches in studs.
    pub crossings: Vec<Crossing>,
    /// Legs that would lie inside a stud.
    pub lengthwise: Vec<Lengthwise>,
    /// Ducts with what they may be long.
    pub ducts: Vec<DuctLength>,
    /// What is in each wall.
    pub maps: Vec<WallMap>,
    /// Screws that hold units to studs.
    pub screws: Vec<WallScrew>,
    /// Those that come near what is in the wall.
    pub hits: Vec<Hit>,
    /// What is to be bought.
    pub needs: Vec<Need>,
}

/// One service as the order of work sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Its key.
    pub key: Key,
    /// Pipe, cable, duct or box.
    pub trade: Trade,
    /// Whether it is there and stays.
    pub found: bool,
    /// The walls it is in.
    pub walls: Vec<Key>,
}

/// Who does it, where the law leaves it to a trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trade {
    /// Pipes.
    Plumbing,
    /// Cables and boxes.
    Wiring,
    /// Ducts.
    Ducts,
}

impl Services {
    /// A run by its key.
    pub fn run(&self, key: &Key) -> Option<&PlacedRun> {
        self.runs.iter().find(|run| run.key == *key)
    }

    /// What is in one wall.
    pub fn map(&self, wall: &Key) -> Option<&WallMap> {
        self.maps.iter().find(|map| map.wall == *wall)
    }

    /// Walls that are opened for what is new in them.
    pub fn opened(&self) -> Vec<Key> {
        let new = self.jobs().into_iter().filter(|job| !job.found);
        let mut walls: Vec<Key> = new.flat_map(|job| job.walls).collect();
        walls.sort();
        walls.dedup();
        walls
    }

    /// All services with their walls, for the order of work: what has to be done before a wall is closed.
    pub fn jobs(&self) -> Vec<Job> {
        let run = |run: &PlacedRun| Job {
            key: run.key.clone(),
            trade: match run.kind {
                RunKind::Cable => Trade::Wiring,
                RunKind::Duct => Trade::Ducts,
                _ => Trade::Plumbing,
            },
            found: run.found,
            walls: {
                let mut walls: Vec<Key> = run.nodes.iter().map(|node| node.spot.wall.clone()).collect();
                walls.sort();
                walls.dedup();
                walls
            },
        };
        let placed = |placed: &PlacedBox| Job {
            key: placed.key.clone(),
            trade: Trade::Wiring,
            found: placed.found,
            walls: vec![placed.spot.wall.clone()],
        };
        let mut jobs: Vec<Job> = self.runs.iter().map(run).chain(self.boxes.iter().map(placed)).collect();
        jobs.sort_by(|a, b| a.key.cmp(&b.key));
        jobs
    }

    /// Up from the floor as it is now, before anything is laid on it: what is taped at the rough-in.
    pub fn from_subfloor(plan: &Plan, survey: &Survey, spot: &Spot) -> Dim {
        let at = Plot::of(survey, &spot.wall)
            .map(|plot| plot.at(spot.along.length().as_mm_f64(), spot.deep.length().as_mm_f64().max(0.0)));
        let floor = at.and_then(|at| survey.levels.floor_at(at)).unwrap_or_default();
        let buildup = plan.room.floor_buildup.map_or_else(Dim::zero, |buildup| {
            let at = Pointer::root().child("room").child("floor_buildup");
            Dim::chosen(buildup.length, at).named("floor build-up")
        });
        (&spot.up - floor + buildup).named("up from the floor as it is").placed(spot.wall.as_str())
    }
}

/// Places everything that runs in the walls.
pub fn services(
    plan: &Plan,
    survey: &Survey,
    placement: &Placement,
    casework: &Casework,
) -> (Services, Vec<Finding>) {
    let (rules, mut findings) = code::code(plan);
    findings.extend(references::unknown(plan));
    let runs = ways::runs(plan, survey);
    let boxes = boxes::boxes(plan, &rules, survey, placement);
    let windows = drains::windows(plan, &rules, &runs, placement, casework);
    let arms = drains::arms(plan, &rules, survey, &runs, &windows);
    let standpipes = drains::standpipes(&rules, &runs);
    let (crossings, lengthwise) = bores::bores(plan, &rules, &runs);
    let ducts = ducts::ducts(plan, &rules, &runs);
    let maps = map::maps(plan, &runs, survey.walls.iter().map(|wall| wall.key.clone()));
    let screws = map::screws(plan, placement, casework);
    let hits = map::hits(&maps, &screws);
    let mut services = Services {
        rules,
        runs,
        boxes,
        windows,
        arms,
        standpipes,
        crossings,
        lengthwise,
        ducts,
        maps,
        screws,
        hits,
        needs: Vec::new(),
    };
    services.needs = needs::needs(plan, &services);
    (services, findings)
}

/// Where a service is stated, its sort included.
pub(crate) fn service_at(key: &Key, service: &Service) -> Pointer {
    let sort = match service {
        Service::Pipe(_) => "pipe",
        Service::Cable(_) => "cable",
        Service::Duct(_) => "duct",
        Service::Box(_) => "box",
    };
    Pointer::root().child("services").child(key).child(sort)
}

/// The nodes of a service; a box has none.
pub(crate) fn nodes(service: &Service) -> &Keyed<Node> {
    static NONE: LazyLock<Keyed<Node>> = LazyLock::new(BTreeMap::new);
    match service {
        Service::Pipe(run) => &run.nodes,
        Service::Cable(run) => &run.nodes,
        Service::Duct(run) => &run.nodes,
        Service::Box(_) => &NONE,
    }
}
