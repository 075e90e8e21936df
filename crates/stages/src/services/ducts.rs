//! Exhaust ducts: their length against what the code allows, turn by turn.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{Form, Plan, Service};

use super::code::Rules;
use super::ways::{PlacedNode, PlacedRun, RunKind};

/// One duct.
#[derive(Clone, Debug)]
pub struct DuctLength {
    /// Its key.
    pub duct: Key,
    /// Its length, node to node.
    pub length: Dim,
    /// Its turns: quarter and half-quarter.
    pub turns: [u32; 2],
    /// The longest it may be, its turns taken off.
    pub most: Dim,
}

/// What a code allows for so many turns, `deducts` being what their fittings take off where they say so.
pub fn allowed(rules: &Rules, turns: &[Turn]) -> Dim {
    let duct = &rules.plumbing().duct;
    let straight = rules.dim(duct.most.length, "duct", "longest duct");
    let free = usize::try_from(duct.turns_free).unwrap_or(usize::MAX);
    let quarter = rules.dim(duct.turn.length, "duct turn", "off for a turn");
    let mut most = straight;
    for turn in turns.iter().skip(free) {
        let off = match (&turn.deducts, turn.quarter) {
            (Some(deducts), _) if free == 0 => deducts.clone(),
            (_, true) => quarter.clone(),
            (_, false) => quarter.split(2).swap_remove(0),
        };
        most = most - off;
    }
    most.named("longest duct with its turns")
}

/// One turn.
#[derive(Clone, Debug)]
pub struct Turn {
    /// A quarter turn, or half of one.
    pub quarter: bool,
    /// What its fitting says that it takes off.
    pub deducts: Option<Dim>,
}

/// All ducts.
pub(super) fn ducts(plan: &Plan, rules: &Rules, runs: &[PlacedRun]) -> Vec<DuctLength> {
    let ducts = runs.iter().filter(|run| run.kind == RunKind::Duct);
    let sized = ducts.map(|run| {
        let turns: Vec<Turn> = run
            .nodes
            .windows(3)
            .filter_map(|three| {
                let sharp = bend([&three[0], &three[1], &three[2]])?;
                let deducts = deducted(plan, run, &three[1].key);
                Some(Turn { quarter: sharp > 60.0, deducts })
            })
            .collect();
        let count = |quarter: bool| turns.iter().filter(|turn| turn.quarter == quarter).count();
        DuctLength {
            duct: run.key.clone(),
            length: run.length.clone(),
            turns: [true, false].map(|quarter| u32::try_from(count(quarter)).unwrap_or(u32::MAX)),
            most: allowed(rules, &turns).placed(run.key.as_str()),
        }
    });
    sized.collect()
}

/// Degrees by which a way turns at its middle node; none for less than a sixteenth of a turn, or across walls.
fn bend(nodes: [&PlacedNode; 3]) -> Option<f64> {
    let at = |node: &PlacedNode| {
        [&node.spot.along, &node.spot.up, &node.spot.deep].map(|dim| dim.length().as_mm_f64())
    };
    if nodes.iter().any(|node| node.spot.wall != nodes[0].spot.wall) {
        return Some(90.0);
    }
    let [before, here, after] = nodes.map(at);
    let way = |from: [f64; 3], to: [f64; 3]| [0, 1, 2].map(|axis| to[axis] - from[axis]);
    let (u, v) = (way(before, here), way(here, after));
    let dot = |p: [f64; 3], q: [f64; 3]| p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
    let long = (dot(u, u) * dot(v, v)).sqrt();
    let degrees = (dot(u, v) / long).clamp(-1.0, 1.0).acos().to_degrees();
    (long > 0.0 && degrees > 22.5).then_some(degrees)
}

fn deducted(plan: &Plan, run: &PlacedRun, node: &Key) -> Option<Dim> {
    let Service::Duct(stated) = plan.services.get(&run.key)? else { return None };
    let (key, good) = plan.goods.get_key_value(stated.fittings.get(node)?)?;
    let Form::Fitting { deducts, .. } = &good.form else { return None };
    let deducts: Length = (*deducts)?.length;
    let at = Pointer::root().child("goods").child(key).child("form").child("fitting").child("deducts");
    Some(Dim::taped(deducts, at).named("off for a turn").placed(good.name.as_str()))
}
