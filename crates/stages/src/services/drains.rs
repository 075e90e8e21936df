//! From the bowl to the stub: how high the stub may be, how long the arm is to its vent, and standpipes.
//!
//! The trap hangs under the bowl's outlet, in the middle of the cut-out. From its weir the arm falls to the stub in the
//! wall and on to where its vent leaves. The arm is counted from under the outlet: a little on the long side.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{Form, Node, Plan, Role, Service};

use super::code::Rules;
use super::skin::Skin;
use super::ways::{NodeKind, PlacedRun, RunKind, Spot, level_length};
use crate::casework::Casework;
use crate::figures::Figures;
use crate::placement::{Cutout, PlacedTop, PlacedUnit, Placement, role, thickness};
use crate::survey::Survey;

/// What a sink asks of its drain.
#[derive(Clone, Debug)]
pub struct DrainWindow {
    /// The unit that holds the sink.
    pub unit: Key,
    /// Its drain, where one is stated.
    pub drain: Option<Key>,
    /// The middle of the bowl's outlet, at the end of its strainer.
    pub outlet: Spot,
    /// Level, from under the outlet to the finish where the stub comes out.
    pub across: Dim,
    /// The lowest stub that works, and what holds it.
    pub lowest: Dim,
    /// The highest.
    pub highest: Dim,
    /// The rim that a vent has to rise above.
    pub rim: Dim,
}

/// The way from a trap's weir to its vent.
#[derive(Clone, Debug)]
pub struct TrapArm {
    /// The drain.
    pub drain: Key,
    /// The vent and where it leaves; none where none is stated.
    pub vent: Option<[Key; 2]>,
    /// Level, from the weir to the vent; to the last node where there is none.
    pub length: Dim,
    /// How far it falls on that way.
    pub fall: Dim,
    /// The size it is called by.
    pub size: Dim,
    /// The longest that the code allows; none for sizes not in its table.
    pub most: Option<Dim>,
    /// The shortest.
    pub least: Dim,
}

/// The upright pipe that a drain hose hangs in.
#[derive(Clone, Debug)]
pub struct Standpipe {
    /// The drain.
    pub drain: Key,
    /// The node of its open end.
    pub node: Key,
    /// From its trap's weir to its open end.
    pub height: Dim,
    /// Where the open end may be, up from the datum: lowest and highest.
    pub window: [Dim; 2],
}

/// The windows of all sinks.
pub(super) fn windows(
    plan: &Plan,
    rules: &Rules,
    runs: &[PlacedRun],
    placement: &Placement,
    casework: &Casework,
) -> Vec<DrainWindow> {
    let mut windows = Vec::new();
    for top in &placement.tops {
        for cutout in top.legs.iter().flat_map(|leg| &leg.cutouts) {
            let Some(unit) = placement.unit(&cutout.unit) else { continue };
            let drain = runs
                .iter()
                .find(|run| run.kind == RunKind::Drain && run.serves.as_ref() == Some(&cutout.unit));
            windows.extend(window(plan, rules, (top, cutout, unit), drain, casework));
        }
    }
    windows
}

fn window(
    plan: &Plan,
    rules: &Rules,
    (top, cutout, unit): (&PlacedTop, &Cutout, &PlacedUnit),
    drain: Option<&PlacedRun>,
    casework: &Casework,
) -> Option<DrainWindow> {
    let key = &unit.key;
    let stated = plan.units.get(key)?;
    let (good, record) = plan.goods.get_key_value(stated.holds.as_ref()?)?;
    let Form::Sink { bowl, .. } = &record.form else { return None };
    let at = Pointer::root().child("goods").child(good.as_str()).child("form").child("sink").child("bowl");
    let bowl = Dim::taped(bowl.length, at).named("bowl").placed(record.name.as_str());
    let figures = Figures::of_unit(plan, key);
    let named = |dim: Dim, name: &'static str| dim.named(name).placed(key.as_str());
    let outlet_up = named(&top.upper - &bowl - figures.dim("sink-strainer"), "end of the strainer");
    let along = &cutout.left + half(&cutout.width);
    let out = &cutout.back + half(&cutout.depth);
    let skin = Skin::of(plan, &unit.wall, along.length(), outlet_up.length());
    let outlet = Spot {
        wall: unit.wall.clone(),
        along: named(along, "middle of the outlet"),
        up: outlet_up.clone(),
        deep: named(&skin.measured + out, "outlet from the framing"),
    };
    let stub = drain.and_then(PlacedRun::stub).filter(|stub| stub.spot.wall == unit.wall);
    let deep = &outlet.deep - &skin.finish;
    let across = match stub {
        Some(stub) => hypot(&(&stub.spot.along - &outlet.along), &deep),
        None => deep,
    };
    let across = named(across, "from under the outlet to the wall");
    let size = drain.map_or_else(|| rules.plumbing_dim_usual(), |drain| drain.nominal.clone());
    let fall = named(fall_over(rules, &across, size.length()), "fall to the wall");
    let trap = Trap::of(plan, rules, drain, &size, &figures);
    let weir = |tailpiece: &str| &outlet_up - figures.dim(tailpiece) - &trap.rise;
    let highest = named(weir("tailpiece-least") - &fall, "highest stub");
    let code_down =
        rules.dim(rules.plumbing().outlet.down.length, "outlet to weir", "outlet to weir at most");
    let mut least = vec![
        named(&outlet_up - code_down - &fall, "as far as the code lets it drop"),
        named(weir("tailpiece-most") - &fall, "with the longest tailpiece"),
    ];
    if let Some(floor) = box_floor(plan, casework, unit) {
        least.push(named(floor + figures.dim("trap-room") + &trap.dip - &fall, "trap clear of the box"));
    }
    let lowest = named(Dim::greatest_of(least)?, "lowest stub");
    Some(DrainWindow {
        unit: key.clone(),
        drain: drain.map(|drain| drain.key.clone()),
        outlet,
        across,
        lowest,
        highest,
        rim: named(top.upper.clone(), "rim"),
    })
}

impl Rules {
    /// The pipe that a sink's drain has where none is stated: 1 1/2 in.
    fn plumbing_dim_usual(&self) -> Dim {
        self.dim(Length::inches(1, 1, 2), "sink trap", "size of a sink's drain")
    }
}

/// The sizes of a trap that matter for its height.
struct Trap {
    rise: Dim,
    /// From the middle of its outlet down to its lowest point.
    dip: Dim,
}

impl Trap {
    fn of(plan: &Plan, rules: &Rules, drain: Option<&PlacedRun>, size: &Dim, figures: &Figures<'_>) -> Trap {
        let stated = drain.and_then(|drain| trap_good(plan, &drain.key));
        let (size, seal, rise) = if let Some((key, [nominal, seal, rise])) = stated {
            let at = Pointer::root().child("goods").child(key).child("form").child("trap");
            let taped = |length, name: &'static str| {
                Dim::taped(length, at.child(name)).named(name).placed(key.as_str())
            };
            (taped(nominal, "nominal"), taped(seal, "seal"), taped(rise, "rise"))
        } else {
            let seal = rules.dim(rules.plumbing().seal.least.length, "trap seal", "trap seal");
            (size.clone(), seal, figures.dim("trap-rise"))
        };
        let dip = half(&size) + seal + size;
        Trap { rise, dip: dip.named("trap under the middle of its outlet") }
    }
}

/// The trap that a drain's fittings name, with its sizes: nominal, seal, rise.
fn trap_good<'p>(plan: &'p Plan, drain: &Key) -> Option<(&'p Key, [Length; 3])> {
    let Service::Pipe(run) = plan.services.get(drain)? else { return None };
    run.fittings.values().find_map(|good| {
        let (key, good) = plan.goods.get_key_value(good)?;
        match &good.form {
            Form::Trap { nominal, seal, rise } => Some((key, [nominal.length, seal.length, rise.length])),
            _ => None,
        }
    })
}

/// The upper face of a unit's bottom.
fn box_floor(plan: &Plan, casework: &Casework, unit: &PlacedUnit) -> Option<Dim> {
    let built = casework.units.iter().find(|built| built.key == unit.key)?;
    let bottom = built.parts.iter().find(|part| part.role == "bottom")?;
    let stated = plan.units.get(&unit.key)?;
    let thick = thickness(plan, role(plan, stated, Role::Box)?)?;
    let low = Dim::worked(bottom.solid.min[2], "toe kick", [(unit.up.clone(), 0.0)]);
    let low = if bottom.solid.min[2] == Figures::of_unit(plan, &unit.key).dim("toe-height").length() {
        Figures::of_unit(plan, &unit.key).dim("toe-height")
    } else {
        low
    };
    Some((&unit.up + low + thick).named("bottom of its box").placed(unit.key.as_str()))
}

fn half(dim: &Dim) -> Dim {
    dim.split(2).swap_remove(0)
}

fn hypot(a: &Dim, b: &Dim) -> Dim {
    if a.length().is_zero() { b.clone() } else { Dim::hypot(a, b) }
}

/// How much a drain of a size has to fall over a level length.
pub(super) fn fall_over(rules: &Rules, level: &Dim, size: Length) -> Dim {
    let Some(fall) = rules.plumbing().fall.at(size) else { return Dim::zero() };
    let slope = fall.as_inches_f64() / 12.0;
    level.scaled(slope, format!("{} {} fall of a drain", rules.family, rules.edition))
}

/// The arms of all drains that come out for a trap, or have one in the wall.
pub(super) fn arms(
    plan: &Plan,
    rules: &Rules,
    survey: &Survey,
    runs: &[PlacedRun],
    windows: &[DrainWindow],
) -> Vec<TrapArm> {
    let drains = runs.iter().filter(|run| run.kind == RunKind::Drain);
    drains.filter_map(|drain| arm(plan, rules, survey, drain, windows)).collect()
}

fn arm(
    plan: &Plan,
    rules: &Rules,
    survey: &Survey,
    drain: &PlacedRun,
    windows: &[DrainWindow],
) -> Option<TrapArm> {
    let from = drain.nodes.iter().position(|node| matches!(node.kind, NodeKind::Stub | NodeKind::Trap))?;
    let vent = vent_of(plan, &drain.key).filter(|(_, node)| drain.node(node).is_some());
    let to = match &vent {
        Some((_, node)) => drain.nodes.iter().position(|placed| placed.key == *node)?,
        None => drain.nodes.len() - 1,
    };
    let window = windows.iter().find(|window| window.drain.as_ref() == Some(&drain.key));
    let before = match (window, drain.nodes[from].kind) {
        (Some(window), NodeKind::Stub) => window.across.clone(),
        _ => Dim::zero(),
    };
    let size = &drain.nominal;
    let nodes = &drain.nodes;
    let levels = nodes.windows(2).take(to).skip(from);
    let in_wall: Dim = levels.map(|pair| level_length(survey, [&pair[0], &pair[1]])).sum();
    let dropped = if to >= from { &nodes[from].spot.up - &nodes[to].spot.up } else { Dim::zero() };
    let named = |dim: Dim, name: &'static str| dim.named(name).placed(drain.key.as_str());
    let fall = named(fall_over(rules, &before, size.length()) + dropped, "fall of the arm");
    let most = rules.plumbing().arm.at(size.length());
    Some(TrapArm {
        drain: drain.key.clone(),
        vent: vent.map(|(vent, node)| [vent, node]),
        length: named(before + in_wall, "trap arm"),
        fall,
        most: most.map(|most| rules.dim(most, "trap arm", "longest trap arm")),
        least: size * rules.plumbing().arm.least_diameters,
        size: size.clone(),
    })
}

/// The vent that leaves a drain, and the drain's node where it does.
fn vent_of(plan: &Plan, drain: &Key) -> Option<(Key, Key)> {
    plan.services.iter().find_map(|(key, service)| {
        let Service::Pipe(run) = service else { return None };
        if run.carries != dryfit_plan::Carries::Vent {
            return None;
        }
        run.order.iter().filter_map(|node| run.nodes.get(node)).find_map(|node| match node {
            Node::Joins { service, node } if service == drain => Some((key.clone(), node.clone())),
            _ => None,
        })
    })
}

/// All standpipes with a trap below them.
pub(super) fn standpipes(rules: &Rules, runs: &[PlacedRun]) -> Vec<Standpipe> {
    let drains = runs.iter().filter(|run| run.kind == RunKind::Drain);
    let found = drains.filter_map(|drain| {
        let end = drain.nodes.iter().find(|node| node.kind == NodeKind::Standpipe)?;
        let weir = drain.nodes.iter().find(|node| node.kind == NodeKind::Trap)?;
        let range = &rules.plumbing().standpipe;
        let limit = |length: Length, name| {
            (&weir.spot.up + rules.dim(length, "standpipe above the weir", name)).placed(drain.key.as_str())
        };
        Some(Standpipe {
            drain: drain.key.clone(),
            node: end.key.clone(),
            height: (&end.spot.up - &weir.spot.up).named("standpipe").placed(drain.key.as_str()),
            window: [
                limit(range.least.length, "shortest standpipe").named("lowest end"),
                limit(range.most.length, "longest standpipe").named("highest end"),
            ],
        })
    });
    found.collect()
}
