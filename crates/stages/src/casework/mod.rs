//! Stage 3, casework: every part of every unit, with its size, its place, and what is done to it.
//!
//! Unit coordinates: origin at the front, left, bottom corner of the box; x to the right as seen from the
//! front, y from front to back, z up. The face frame and fronts have negative y. Part coordinates: the part lies
//! good face up, its length (along the grain; the longer side where there is none) from left to right, its width
//! from the near edge away from you, its thickness from the good face down.
//!
//! Sizes are exact: nothing here is brought to the tape's marks; each part says which way the cut list does it.

mod assemble;
mod back;
mod bench;
mod bottom;
mod cabinet;
mod carcass;
mod door;
mod drawer;
pub(crate) mod edges;
mod fixed;
mod floating;
mod frame;
mod frameless;
mod front;
mod hardware;
mod hinge;
mod hook_rail;
mod job;
mod locker;
mod mass;
mod needs;
mod panel;
mod part;
mod rods;
mod shelf;
mod side;
pub mod strength;
mod toe;
mod uprights;
mod wood;

use dryfit_measure::{Dim, Key, Length, Mass, Toward};
use dryfit_plan::{Hand, Plan, UnitKind};

use crate::figures::Figures;
use crate::finding::{Finding, Severity};
use crate::need::Need;
use crate::placement::{PlacedUnit, Placement};
use job::Job;

/// Every part of every unit that is made.
///
/// A role without a good, an opening too small for its front, slides too long for the box are findings; what can
/// be made of the unit all the same is there.
pub fn casework(plan: &Plan, placement: &Placement) -> (Casework, Vec<Finding>) {
    let mut units = Vec::new();
    let mut findings = Vec::new();
    for placed in &placement.units {
        let (unit, more) = unit(plan, placed);
        units.extend(unit);
        findings.extend(more);
    }
    (Casework { units }, findings)
}

/// One unit taken apart; nothing for appliances, gaps, and what the plan does not hold.
fn unit(plan: &Plan, placed: &PlacedUnit) -> (Option<BuiltUnit>, Vec<Finding>) {
    let made = !matches!(placed.kind, UnitKind::Appliance | UnitKind::Gap);
    let Some(unit) = plan.units.get(&placed.key).filter(|_| made) else { return (None, Vec::new()) };
    let Some((recipe_key, recipe)) =
        unit.recipe.as_ref().and_then(|key| plan.recipes.get(key).map(|recipe| (key, recipe)))
    else {
        return (None, vec![needs::no_recipe(plan, &placed.key, unit)]);
    };
    let figures = Figures::of_unit(plan, &placed.key);
    let job = Job { plan, placed, unit, recipe, recipe_key, figures };
    let mut findings = needs::missing(&job);
    let mut built = match placed.kind {
        UnitKind::FloatingShelf => {
            let (parts, more) = floating::floating(&job);
            findings.extend(more);
            let (steps, hardware) = (assemble::of_floating(&parts), hardware::of_floating(&job, &parts));
            BuiltUnit { steps, hardware, ..plain(&job, parts) }
        }
        UnitKind::HookRail => {
            let parts = edges::all_banded(&job, hook_rail::hook_rail(&job));
            let (steps, hardware) = (assemble::of_hook_rail(&parts), hardware::of_hook_rail(&job, &parts));
            BuiltUnit { steps, hardware, ..plain(&job, parts) }
        }
        UnitKind::Filler | UnitKind::EndPanel => {
            let (parts, more) = panel::panel(&job);
            let parts = edges::all_banded(&job, parts);
            findings.extend(more);
            let (steps, hardware) = (assemble::of_panel(&job, &parts), hardware::of_panel(&job, &parts));
            BuiltUnit { steps, hardware, ..plain(&job, parts) }
        }
        _ => {
            let (cabinet, more) = cabinet::cabinet(&job);
            findings.extend(more);
            let Some(mut cabinet) = cabinet else { return (None, findings) };
            findings.extend(no_room(&job, &mut cabinet.parts));
            cabinet.parts = edges::all_banded(&job, cabinet.parts);
            findings.extend(hardware::lengths(&job, &cabinet));
            BuiltUnit {
                overhang: cabinet.carcass.overhang.clone(),
                openings: cabinet.openings(),
                steps: assemble::of_cabinet(&job, &cabinet),
                hardware: hardware::of_cabinet(&job, &cabinet),
                ..plain(&job, cabinet.parts)
            }
        }
    };
    findings.extend(no_room(&job, &mut built.parts));
    for part in &mut built.parts {
        part.mass = mass::of_part(plan, part);
    }
    built.hardware.extend(hardware::bands(&job, &built.parts));
    built.mass = built.parts.iter().map(|part| part.mass).sum();
    (Some(built), findings)
}

/// A unit of these parts and nothing else.
fn plain(job: &Job<'_>, parts: Vec<Part>) -> BuiltUnit {
    BuiltUnit {
        key: job.placed.key.clone(),
        overhang: [Dim::zero(), Dim::zero()],
        parts,
        openings: Vec::new(),
        steps: Vec::new(),
        hardware: Vec::new(),
        mass: Mass::ZERO,
    }
}

/// Takes out parts that would have no size, and says so.
fn no_room(job: &Job<'_>, parts: &mut Vec<Part>) -> Option<Finding> {
    let has_size =
        |part: &Part| [&part.length, &part.width, &part.thickness].iter().all(|d| d.length().is_positive());
    let (kept, gone): (Vec<Part>, Vec<Part>) = std::mem::take(parts).into_iter().partition(has_size);
    *parts = kept;
    let first = gone.first()?;
    let least = [&first.length, &first.width].into_iter().min_by_key(|dim| dim.length())?;
    let more = if gone.len() > 1 { format!(" and {} more parts", gone.len() - 1) } else { String::new() };
    let what = format!(
        "`{}` has no room for {}{more}: a size comes out at {}",
        job.placed.key,
        first.name,
        job.show(least.length())
    );
    let mut finding = job.finding(Severity::Stop, "casework/no-room", what);
    finding.because = vec![least.clone()];
    finding.short_by = Some(-least);
    Some(finding)
}

/// All parts of all units.
#[derive(Clone, Debug)]
pub struct Casework {
    /// Units in placement's order.
    pub units: Vec<BuiltUnit>,
}

impl Casework {
    /// Everything that is not cut, unit by unit.
    pub fn needs(&self) -> Vec<Need> {
        self.units.iter().flat_map(|unit| unit.hardware.iter().cloned()).collect()
    }
}

/// One unit, taken apart.
#[derive(Clone, Debug)]
pub struct BuiltUnit {
    /// Its key.
    pub key: Key,
    /// How far the face frame stands past the box, left and right: the box begins so much to the right of
    /// where the unit is placed.
    pub overhang: [Dim; 2],
    /// Its parts, in the order in which they are named on its page.
    pub parts: Vec<Part>,
    /// Its openings, as planned, for doors and drawers.
    pub openings: Vec<FrontOpening>,
    /// Steps in an order that can be done.
    pub steps: Vec<Step>,
    /// Fasteners, hinges, slides, pulls, pins, glue: each good with how much of it and what for.
    pub hardware: Vec<Need>,
    /// Without what will stand in it.
    pub mass: Mass,
}

/// One part to cut.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its role path within the unit: `side.left`, `door.d2/rail.top`.
    pub role: String,
    /// What the bench calls it: "side".
    pub name: String,
    /// Left and right parts are mirror images, never one part.
    pub hand: Option<Hand>,
    /// The good it is cut from.
    pub good: Key,
    /// Along the grain.
    pub length: Dim,
    /// Across the grain.
    pub width: Dim,
    /// As measured of the good.
    pub thickness: Dim,
    /// What its length and its width are for, and so which way the cut list rounds them.
    pub purpose: [Purpose; 2],
    /// Whether its grain direction is fixed.
    pub grain: bool,
    /// Which way its good face looks in the unit.
    pub good_face: Face,
    /// Which of its edges is the front edge, if it shows.
    pub front_edge: Option<Edge>,
    /// Where it is in its unit.
    pub solid: Solid,
    /// What is done to it, in bench order.
    pub operations: Vec<Operation>,
    /// Its edge bands, in the order in which they are put on. Its length and width are over them.
    pub bands: Vec<Band>,
    /// Its mass.
    pub mass: Mass,
    /// Whether it may be cut before openings are measured as built: doors and drawers may not.
    pub gate: Option<Gate>,
}

/// A strip of edge band on one edge of a part.
#[derive(Clone, Debug)]
pub struct Band {
    /// Where it goes.
    pub edge: Edge,
    /// The good.
    pub good: Key,
    /// How much it adds to the part, and is taken off the size that is cut.
    pub thickness: Dim,
    /// How long a strip to cut, with what is trimmed off.
    pub length: Dim,
}

impl Part {
    /// What it is cut to before its edges are banded: length and width.
    pub fn cut_size(&self) -> [Dim; 2] {
        let taken = |ends: bool| -> Option<Dim> {
            let bands = self.bands.iter().filter(|band| band.edge.is_end() == ends);
            bands.map(|band| band.thickness.clone()).reduce(|a, b| a + b)
        };
        let cut = |size: &Dim, ends: bool| match (taken(ends), size.name()) {
            (None, _) => size.clone(),
            (Some(bands), Some(name)) => (size - bands).named(format!("{name} before banding")),
            (Some(bands), None) => size - bands,
        };
        [cut(&self.length, true), cut(&self.width, false)]
    }
}

impl Part {
    /// Whether another part is its mirror image across the unit, worked alike: a left side with a right one.
    pub fn mirrors(&self, other: &Part) -> bool {
        let size = |part: &Part| [&part.length, &part.width, &part.thickness].map(Dim::length);
        size(self) == size(other) && self.good == other.good && self.worked() == other.worked()
    }

    /// What is done to it, told from the low ends of its length and width in the unit, in order.
    fn worked(&self) -> Vec<(OperationKind, [[Length; 2]; 2], Length)> {
        let seen = |ends: &[Dim; 2], whole: &Dim, forward: bool| {
            let [a, b] = [ends[0].length(), ends[1].length()];
            if forward { [a, b] } else { [whole.length() - b, whole.length() - a] }
        };
        let mut worked: Vec<_> = self
            .operations
            .iter()
            .map(|done| {
                let along = seen(&done.along, &self.length, self.solid.forward[0]);
                let across = seen(&done.across, &self.width, self.solid.forward[1]);
                (done.kind, [along, across], done.depth.length())
            })
            .collect();
        worked.sort_unstable();
        worked
    }

    /// The side of the unit that an edge of it looks to.
    pub fn looks(&self, edge: Edge) -> Face {
        let (k, low) = match edge {
            Edge::LeftEnd => (0, true),
            Edge::RightEnd => (0, false),
            Edge::Near => (1, true),
            Edge::Far => (1, false),
        };
        let lower = self.solid.forward[k] == low;
        match (self.solid.axes[k], lower) {
            (1, true) => Face::Front,
            (1, false) => Face::Back,
            (2, true) => Face::Down,
            (2, false) => Face::Up,
            (_, _) => Face::Outside,
        }
    }
}

/// What a size is for: it decides the rounding, so that parts still go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// It goes into a space: rounded down.
    Into,
    /// It covers something: rounded up.
    Covers,
    /// It mates with equal parts, which all round alike: to the nearest mark.
    Mates,
}

impl Purpose {
    /// Which way it is rounded.
    pub fn toward(self) -> Toward {
        match self {
            Purpose::Into => Toward::Down,
            Purpose::Covers => Toward::Up,
            Purpose::Mates => Toward::Nearest,
        }
    }
}

/// A direction in a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Towards the inside of the box.
    Inside,
    /// Away from the inside of the box.
    Outside,
    /// Up.
    Up,
    /// Down.
    Down,
    /// To the front.
    Front,
    /// To the back.
    Back,
}

/// An edge of a part as it lies with its good face up, its length from left to right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// The long edge nearer to you.
    Near,
    /// The long edge away from you.
    Far,
    /// The end at your left.
    LeftEnd,
    /// The end at your right.
    RightEnd,
}

impl Edge {
    /// Whether it is an end, across the grain.
    pub fn is_end(self) -> bool {
        matches!(self, Edge::LeftEnd | Edge::RightEnd)
    }
}

/// A part as a box in its unit, and how its own axes lie in it.
#[derive(Clone, Debug)]
pub struct Solid {
    /// Least x, y, z.
    pub min: [Length; 3],
    /// Greatest x, y, z.
    pub max: [Length; 3],
    /// The unit axis (0 x, 1 y, 2 z) along which the part's length, width and thickness lie.
    pub axes: [u8; 3],
    /// Whether its length, its width and its thickness (towards the good face) run to greater coordinates.
    pub forward: [bool; 3],
    /// Where joints cut material away: boxes that belong to this solid no more (dadoes, grooves, notches).
    pub cut: Vec<[[Length; 3]; 2]>,
}

/// One thing done to a part, placed from a named edge.
#[derive(Clone, Debug)]
pub struct Operation {
    /// What.
    pub kind: OperationKind,
    /// In words, for the page: "for the bottom".
    pub what: String,
    /// The face it is worked from.
    pub on_good_face: bool,
    /// Along the length, from the left end: where it begins and ends. For holes: the first and the last centre.
    pub along: [Dim; 2],
    /// Across the width, from the near edge; likewise.
    pub across: [Dim; 2],
    /// How deep; the whole thickness for a notch; for work on an edge or end, how far in from it.
    pub depth: Dim,
    /// For work on an edge or end: the part of the thickness, from the good face, that a groove takes away or
    /// that a tongue leaves.
    pub in_thickness: Option<[Dim; 2]>,
    /// For grooves wider than the blade: how many passes, side by side.
    pub passes: Option<u32>,
    /// For holes: how many, and how far apart, along the length or across, whichever way the row runs.
    pub holes: Option<Holes>,
}

/// A row of equal holes.
#[derive(Clone, Debug)]
pub struct Holes {
    /// How many.
    pub count: u32,
    /// Centre to centre.
    pub pitch: Dim,
    /// The bit.
    pub bit: Dim,
}

/// Sorts of operation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OperationKind {
    /// Across the grain of a side, for a shelf or bottom.
    Dado,
    /// Along an edge, inside it.
    Groove,
    /// Along an edge, open to it.
    Rabbet,
    /// Sawn out of a corner.
    Notch,
    /// Rows of pin holes.
    PinHoles,
    /// A hinge's cup.
    HingeCup,
    /// Pocket holes.
    PocketHoles,
    /// The tongue on the end of a rail (cope).
    Cope,
    /// The profile and groove on the inner edge of a stile or rail (stick).
    Stick,
    /// Holes for a pull.
    PullHoles,
    /// Holes for the screws of a joint, right through.
    ScrewHoles,
    /// Holes for the plate that a hinge is clipped to.
    PlateHoles,
    /// Holes for a drawer slide.
    SlideHoles,
    /// Holes for clothes hooks.
    HookHoles,
}

/// An opening that a front closes, as planned; measured as built before its front is cut.
#[derive(Clone, Debug)]
pub struct FrontOpening {
    /// The front's path in the plan's tree: `d1`.
    pub front: String,
    /// Clear width.
    pub width: Dim,
    /// Clear height.
    pub height: Dim,
    /// Left, bottom in unit coordinates.
    pub at: [Length; 2],
}

/// One step of assembly.
#[derive(Clone, Debug)]
pub struct Step {
    /// The instruction. Part roles in it stand in braces, `{side.left}`, and are printed as balloons.
    pub text: String,
    /// Whether it is a test that has to pass before going on.
    pub test: bool,
    /// What can hurt here, and how not to be hurt.
    pub caution: Option<String>,
}

/// What has to be measured before a part may be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gate {
    /// The openings of the boxes as built.
    Openings,
    /// The units as fixed.
    UnitsSet,
}
