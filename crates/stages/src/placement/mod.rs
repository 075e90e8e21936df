//! Stage 2, placement: where everything stands.
//!
//! Along a wall from its left-hand corner seen from inside, up from the datum, out from the finished face of
//! the wall into the room. Sizes that the program chooses snap to the plan's fineness here; no later stage
//! rounds midway.

mod along;
mod depth;
mod lines;
mod plot;
mod references;
mod rows;
mod stack;
mod studs;
mod tops;
mod unshared;
mod widths;

use dryfit_measure::{Dim, Key, Length};
use dryfit_plan::{Hand, Plan, UnitKind};

use crate::figures::{self, Figures};
use crate::finding::Finding;
use crate::survey::Survey;
pub(crate) use depth::{ApplianceSize, appliance, reveal, role, thickness};
pub use plot::{Extent, Plot, Solid};
pub(crate) use studs::{Studs, reach};

/// Everything that stands or hangs.
#[derive(Clone, Debug)]
pub struct Placement {
    /// Runs, in the plan's order.
    pub runs: Vec<PlacedRun>,
    /// Units, run by run, left to right.
    pub units: Vec<PlacedUnit>,
    /// Worktops.
    pub tops: Vec<PlacedTop>,
    /// Heights that are worth a level line round the room, lowest first.
    pub lines: Vec<LevelLine>,
}

impl Placement {
    /// A unit by its key.
    pub fn unit(&self, key: &Key) -> Option<&PlacedUnit> {
        self.units.iter().find(|unit| unit.key == *key)
    }

    /// A run by its key.
    pub fn run(&self, key: &Key) -> Option<&PlacedRun> {
        self.runs.iter().find(|run| run.key == *key)
    }

    /// Whether a unit's side can be seen, so that it needs a finished face: nothing stands beside it, or what does
    /// is a gap, or not so high or not so deep. What a gap in a corner hides does not show.
    pub fn side_shows(&self, unit: &PlacedUnit, side: Hand) -> bool {
        match unit.beside(side) {
            Beside::Wall(_) | Beside::Run(_) => false,
            Beside::Free => true,
            Beside::Unit(key) => self.unit(key).is_none_or(|other| {
                let hidden = other.kind == UnitKind::Gap && *other.beside(side) != Beside::Free;
                let covers = other.top().length() >= unit.top().length()
                    && other.up.length() <= unit.up.length()
                    && other.frame_plane().length() >= unit.frame_plane().length();
                !hidden && (other.kind == UnitKind::Gap || !covers)
            }),
        }
    }

    /// The units of a run, left to right.
    pub fn units_of<'a>(&'a self, run: &'a Key) -> impl Iterator<Item = &'a PlacedUnit> {
        self.units.iter().filter(move |unit| unit.run == *run)
    }
}

/// Places everything in the room.
///
/// Runs are resolved first, then depths, then the height stack, and last what stands where along the walls: so
/// nothing has to be gone back to. What cannot be as it is stated is placed as near to it as can be, and found.
pub fn placement(plan: &Plan, survey: &Survey) -> (Placement, Vec<Finding>) {
    let mut findings = references::unknown(plan);
    findings.extend(figures::unknown(plan));
    let (rows, found) = rows::rows(plan, survey);
    findings.extend(found);
    let depths = depth::depths(plan, &rows);
    let (stack, found) = stack::stack(plan, &rows);
    findings.extend(found);
    let terms = along::Terms { plan, survey, rows: &rows, depths: &depths, stack: &stack };
    let (spreads, found) = along::spread(&terms);
    findings.extend(found);
    let units: Vec<PlacedUnit> = (0..rows.len()).flat_map(|i| placed_units(&terms, &spreads[i], i)).collect();
    let runs = spreads.iter().enumerate().map(|(i, spread)| placed_run(&terms, spread, i)).collect();
    let tops = tops::tops(&terms, &spreads);
    let lines = lines::lines(plan, &units);
    (Placement { runs, units, tops, lines }, findings)
}

fn placed_run(terms: &along::Terms<'_, '_>, spread: &along::Spread, i: usize) -> PlacedRun {
    let row = &terms.rows[i];
    PlacedRun {
        key: row.key.clone(),
        wall: row.wall.clone(),
        from: spread.from.clone(),
        to: spread.shared.end.clone(),
        clear: spread.clear.clone(),
        kept_clear: spread.kept.clone(),
        spare: spread.spare.clone(),
        depth_over_all: terms.row_depth(i),
    }
}

fn placed_units(terms: &along::Terms<'_, '_>, spread: &along::Spread, i: usize) -> Vec<PlacedUnit> {
    let row = &terms.rows[i];
    let place = |(k, (key, unit)): (usize, &(&Key, &dryfit_plan::Unit))| {
        let depth = &terms.depths[*key];
        let beside = [0, 1].map(|side| terms.beside(i, k, side));
        let overhang = [0, 1].map(|side| match beside[side] {
            Beside::Wall(_) if depth::has_frame(terms.plan, unit) => {
                Figures::of_unit(terms.plan, key).dim("frame-end-overhang")
            }
            _ => Dim::zero(),
        });
        PlacedUnit {
            key: (*key).clone(),
            kind: unit.kind,
            run: row.key.clone(),
            wall: row.wall.clone(),
            along: spread.shared.edges[k].clone(),
            width: spread.shared.widths[k].clone(),
            overhang,
            up: terms.stack.up[i].clone(),
            height: terms.stack.height[*key].clone(),
            depth: depth.carcass.clone(),
            frame: depth.frame.clone(),
            front: depth.front.clone(),
            pull: depth.pull.clone(),
            beside,
        }
    };
    row.units.iter().enumerate().map(place).collect()
}

/// One run.
#[derive(Clone, Debug)]
pub struct PlacedRun {
    /// Its key.
    pub key: Key,
    /// Its wall.
    pub wall: Key,
    /// Where its first unit begins.
    pub from: Dim,
    /// Where its last unit ends.
    pub to: Dim,
    /// Clear width between walls where it stands; the least over its height and depth.
    pub clear: Dim,
    /// How far into each corner another run reaches, front, pull and air included.
    pub kept_clear: [Option<Dim>; 2],
    /// What its widths leave over (negative: too wide) after what is given and shared.
    pub spare: Dim,
    /// Greatest overall depth of its units: box, frame, front and pull.
    pub depth_over_all: Dim,
}

/// One unit.
#[derive(Clone, Debug)]
pub struct PlacedUnit {
    /// Its key.
    pub key: Key,
    /// Its kind.
    pub kind: UnitKind,
    /// Its run.
    pub run: Key,
    /// Its wall.
    pub wall: Key,
    /// Left edge, along the wall.
    pub along: Dim,
    /// Width over all, as it is stated or chosen: of the face frame where there is one, and so the width that
    /// neighbours stand against. The box is narrower by `overhang`.
    pub width: Dim,
    /// How far the face frame reaches past the box, left and right: the figure `frame-end-overhang` where the
    /// unit itself meets a wall, else nothing.
    pub overhang: [Dim; 2],
    /// Bottom, above the datum.
    pub up: Dim,
    /// Height, toe kick included.
    pub height: Dim,
    /// Depth of the box without frame and front. A filler has that of the unit it stands beside, so that its
    /// face is flush with that unit's frame or, without one, its fronts; an end panel covers box and frame and has no frame of its own.
    pub depth: Dim,
    /// Thickness of the face frame before the box; nothing where there is none. A filler beside a box without a
    /// frame lies that far out which its fronts do.
    pub frame: Dim,
    /// How far doors and drawer fronts stand out from the frame; nothing where they are inset or absent.
    pub front: Dim,
    /// How far pulls or an appliance's handle stand out from that.
    pub pull: Dim,
    /// Its neighbours, by side.
    pub beside: [Beside; 2],
}

/// What is beside a unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Beside {
    /// Another unit.
    Unit(Key),
    /// The wall round the corner.
    Wall(Key),
    /// Another run, in the corner.
    Run(Key),
    /// Nothing.
    Free,
}

impl PlacedUnit {
    /// Width of the box behind its frame.
    pub fn box_width(&self) -> Dim {
        (&self.width - &self.overhang[0] - &self.overhang[1]).named("box width")
    }

    /// Depth of box and frame: where the plane of the frames is, out from the wall.
    pub fn frame_plane(&self) -> Dim {
        (&self.depth + &self.frame).named("depth of box and frame")
    }

    /// Depth over all: box, frame, front and pull.
    pub fn overall_depth(&self) -> Dim {
        (&self.depth + &self.frame + &self.front + &self.pull).named("depth over all")
    }

    /// Right edge, along the wall.
    pub fn right(&self) -> Dim {
        (&self.along + &self.width).named("right edge")
    }

    /// Top, above the datum.
    pub fn top(&self) -> Dim {
        (&self.up + &self.height).named("top")
    }

    /// What is beside it on one side.
    pub fn beside(&self, side: Hand) -> &Beside {
        match side {
            Hand::Left => &self.beside[0],
            Hand::Right => &self.beside[1],
        }
    }
}

/// A worktop, one leg a wall. One that a tall unit parts is several of these with one key.
#[derive(Clone, Debug)]
pub struct PlacedTop {
    /// Its key.
    pub key: Key,
    /// Upper face above the datum.
    pub upper: Dim,
    /// Thickness at the edge.
    pub thickness: Dim,
    /// Outline on the floor plan, counter-clockwise, in room coordinates (mm).
    pub outline: Vec<[f64; 2]>,
    /// Legs, in the order of its runs.
    pub legs: Vec<TopLeg>,
}

/// The part of a worktop over one run.
#[derive(Clone, Debug)]
pub struct TopLeg {
    /// The run.
    pub run: Key,
    /// Along the wall: begin and end, overhangs included.
    pub from: Dim,
    /// See `from`.
    pub to: Dim,
    /// From the wall to the front edge.
    pub depth: Dim,
    /// What it ends at, left and right.
    pub ends: [TopEnd; 2],
    /// Cut-outs of sinks: unit, left, right, back, front (along and out).
    pub cutouts: Vec<Cutout>,
}

/// What a leg of a worktop ends at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TopEnd {
    /// The wall round the corner.
    Wall,
    /// The leg over another run, in the corner.
    Corner {
        /// The other run.
        with: Key,
        /// Whether this leg goes through to the wall.
        owns: bool,
    },
    /// Nothing: it ends free, its overhang included.
    Free,
    /// A unit that is taller than the worktop.
    Unit,
}

/// A hole in a worktop.
#[derive(Clone, Debug)]
pub struct Cutout {
    /// The unit under it.
    pub unit: Key,
    /// Left edge along the wall.
    pub left: Dim,
    /// Left to right.
    pub width: Dim,
    /// From the wall to its back edge.
    pub back: Dim,
    /// Front to back.
    pub depth: Dim,
}

/// A line to snap.
#[derive(Clone, Debug)]
pub struct LevelLine {
    /// What stands on it or hangs from it: "box tops".
    pub what: String,
    /// Above the datum.
    pub up: Dim,
    /// The walls it is wanted on.
    pub walls: Vec<Key>,
}

/// A length that no later stage may round, because placement already put it on the grid.
pub fn on_grid(length: Length, step: Length) -> bool {
    length.nm() % step.nm() == 0
}
