//! Where every service runs: its nodes along the wall, up from the datum and by depth from the framing's face.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{Carries, Form, Keyed, Node, Place, Plan, Service, WallFace};

use super::code::Rules;
use super::service_at;
use super::skin::Skin;
use crate::figures::Figures;
use crate::placement::Plot;
use crate::survey::Survey;

/// What runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RunKind {
    /// Waste water.
    Drain,
    /// A vent.
    Vent,
    /// Hot water.
    Hot,
    /// Cold water.
    Cold,
    /// A cable.
    Cable,
    /// An exhaust duct.
    Duct,
}

impl RunKind {
    /// Its letter, on drawings and in tables.
    pub fn letter(self) -> &'static str {
        match self {
            RunKind::Drain => "D",
            RunKind::Vent => "V",
            RunKind::Hot => "H",
            RunKind::Cold => "C",
            RunKind::Cable => "W",
            RunKind::Duct => "A",
        }
    }

    /// What a builder calls it.
    pub fn word(self) -> &'static str {
        match self {
            RunKind::Drain => "drain",
            RunKind::Vent => "vent",
            RunKind::Hot => "hot",
            RunKind::Cold => "cold",
            RunKind::Cable => "cable",
            RunKind::Duct => "duct",
        }
    }

    /// Whether water or air runs in it, in a rigid or flexible pipe.
    pub fn is_pipe(self) -> bool {
        !matches!(self, RunKind::Cable | RunKind::Duct)
    }
}

/// A place of a service, to its centre.
#[derive(Clone, Debug)]
pub struct Spot {
    /// The wall it is in, on, or before.
    pub wall: Key,
    /// From the wall's left-hand corner.
    pub along: Dim,
    /// Up from the datum.
    pub up: Dim,
    /// Out from the framing's face: negative is in the wall.
    pub deep: Dim,
}

/// What a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NodeKind {
    /// A turn, a joint, an end in the wall.
    At,
    /// It comes out of the finish.
    Stub,
    /// A trap's weir.
    Trap,
    /// The open end of a standpipe.
    Standpipe,
    /// It goes on from another service.
    Joins,
    /// It ends in a box.
    Box,
}

/// A node with its place.
#[derive(Clone, Debug)]
pub struct PlacedNode {
    /// Its key in its service.
    pub key: Key,
    /// What it is.
    pub kind: NodeKind,
    /// Where.
    pub spot: Spot,
    /// Where its place is stated.
    pub at: Pointer,
}

/// A pipe, cable or duct with its way.
#[derive(Clone, Debug)]
pub struct PlacedRun {
    /// Its key.
    pub key: Key,
    /// What runs in it.
    pub kind: RunKind,
    /// Whether it was there before.
    pub found: bool,
    /// The unit it serves.
    pub serves: Option<Key>,
    /// What it is made of.
    pub good: Key,
    /// The size it is called by; a cable's outside.
    pub nominal: Dim,
    /// Its outside.
    pub outside: Dim,
    /// Its nodes in order; those whose wall is not known are left out.
    pub nodes: Vec<PlacedNode>,
    /// Its whole length, node to node.
    pub length: Dim,
}

impl PlacedRun {
    /// Its legs: from node to node.
    pub fn legs(&self) -> impl Iterator<Item = [&PlacedNode; 2]> {
        self.nodes.windows(2).map(|pair| [&pair[0], &pair[1]])
    }

    /// How much the leg behind node `i` has to fall, and how much it does; none where it is upright.
    pub(crate) fn falls(&self, survey: &Survey, rules: &Rules, i: usize) -> Option<[Dim; 2]> {
        let [a, b] = [self.nodes.get(i)?, self.nodes.get(i + 1)?];
        let level = level_length(survey, [a, b]);
        let falls = &a.spot.up - &b.spot.up;
        let needed = super::drains::fall_over(rules, &level, self.nominal.length());
        let named = |dim: Dim, name: &'static str| dim.named(name).placed(self.key.as_str());
        (!level.length().is_zero()).then(|| [named(needed, "least fall"), named(falls, "fall")])
    }

    /// A node by its key.
    pub fn node(&self, key: &Key) -> Option<&PlacedNode> {
        self.nodes.iter().find(|node| node.key == *key)
    }

    /// The first node that comes out of a wall.
    pub fn stub(&self) -> Option<&PlacedNode> {
        self.nodes.iter().find(|node| node.kind == NodeKind::Stub)
    }
}

/// Resolves every run.
pub(super) fn runs(plan: &Plan, survey: &Survey) -> Vec<PlacedRun> {
    let placed = |(key, service): (&Key, &Service)| {
        let (kind, good, order, nodes) = match service {
            Service::Pipe(run) => {
                let kind = match run.carries {
                    Carries::Drain => RunKind::Drain,
                    Carries::Vent => RunKind::Vent,
                    Carries::Hot => RunKind::Hot,
                    Carries::Cold => RunKind::Cold,
                };
                (kind, &run.good, &run.order, &run.nodes)
            }
            Service::Cable(run) => (RunKind::Cable, &run.good, &run.order, &run.nodes),
            Service::Duct(run) => (RunKind::Duct, &run.good, &run.order, &run.nodes),
            Service::Box(_) => return None,
        };
        let nodes = placed_nodes(plan, survey, key, service, order, nodes);
        let [nominal, outside] = sizes(plan, good);
        let length = length(survey, key, &nodes);
        Some(PlacedRun {
            key: key.clone(),
            kind,
            found: service.is_found(),
            serves: service.serves().cloned(),
            good: good.clone(),
            nominal,
            outside,
            nodes,
            length,
        })
    };
    plan.services.iter().filter_map(placed).collect()
}

fn placed_nodes(
    plan: &Plan,
    survey: &Survey,
    key: &Key,
    service: &Service,
    order: &[Key],
    nodes: &Keyed<Node>,
) -> Vec<PlacedNode> {
    let base = service_at(key, service).child("nodes");
    let placed = |node_key: &Key| {
        let node = nodes.get(node_key)?;
        let at = base.child(node_key).child(node.word());
        let kind = kind(node);
        let (spot, at) = match node {
            Node::Joins { service, node } => joined(plan, survey, service, node, 0)?,
            Node::Box(box_key) => boxed(plan, survey, box_key)?,
            _ => (spot(plan, survey, node.place()?, &at, kind)?, at),
        };
        Some(PlacedNode { key: node_key.clone(), kind, spot, at })
    };
    order.iter().filter_map(placed).collect()
}

fn kind(node: &Node) -> NodeKind {
    match node {
        Node::At(_) => NodeKind::At,
        Node::Stub(_) => NodeKind::Stub,
        Node::Trap(_) => NodeKind::Trap,
        Node::Standpipe(_) => NodeKind::Standpipe,
        Node::Joins { .. } => NodeKind::Joins,
        Node::Box(_) => NodeKind::Box,
    }
}

/// Where a node of another service is. One that itself joins another is followed, but not for ever.
fn joined(plan: &Plan, survey: &Survey, service: &Key, node: &Key, depth: u8) -> Option<(Spot, Pointer)> {
    let (key, other) = plan.services.get_key_value(service)?;
    let (node_key, stated) = super::nodes(other).get_key_value(node)?;
    let at = service_at(key, other).child("nodes").child(node_key).child(stated.word());
    match stated {
        Node::Joins { service, node } if depth < 8 => joined(plan, survey, service, node, depth + 1),
        Node::Joins { .. } => None,
        Node::Box(box_key) => boxed(plan, survey, box_key),
        _ => Some((spot(plan, survey, stated.place()?, &at, kind(stated))?, at)),
    }
}

fn boxed(plan: &Plan, survey: &Survey, key: &Key) -> Option<(Spot, Pointer)> {
    let (key, service) = plan.services.get_key_value(key)?;
    let Service::Box(outlet) = service else { return None };
    let at = service_at(key, service).child("at");
    let mut spot = spot(plan, survey, &outlet.at, &at, NodeKind::At)?;
    if outlet.at.out.is_none() {
        spot.deep = middle(plan, &spot.wall);
    }
    Some((spot, at))
}

/// Half the studs' depth behind their face: where a pipe or cable runs unless it is said otherwise.
fn middle(plan: &Plan, wall: &Key) -> Dim {
    (-studs_deep(plan, wall).split(2).swap_remove(0)).named("middle of the studs").placed(wall.as_str())
}

/// How deep the studs of a wall are.
pub(super) fn studs_deep(plan: &Plan, wall: &Key) -> Dim {
    let stated = plan.walls.get(wall).and_then(|wall| wall.framing.as_ref()?.deep);
    match stated {
        Some(deep) => {
            let at = Pointer::root().child("walls").child(wall).child("framing").child("deep");
            Dim::taped(deep.length, at).named("depth of the studs").placed(wall.as_str())
        }
        None => Figures::of_handbook(plan).dim("stud-depth"),
    }
}

/// A stated place in the wall's own terms.
pub(super) fn spot(
    plan: &Plan,
    survey: &Survey,
    place: &Place,
    at: &Pointer,
    kind: NodeKind,
) -> Option<Spot> {
    survey.wall(&place.wall)?;
    let wall = plan.walls.get_key_value(&place.wall)?.0.clone();
    let along = Dim::chosen(place.along.length, at.child("along")).named("along").placed(wall.as_str());
    let up = place.up.map_or_else(Dim::zero, |up| {
        Dim::chosen(up.length, at.child("up")).named("up").placed(wall.as_str())
    });
    let skin = Skin::of(plan, &wall, place.along.length, up.length());
    let out = place.out.map(|out| Dim::chosen(out.length, at.child("out")).named("out"));
    let deep = match (out, kind) {
        (Some(out), _) => {
            let face = match place.face {
                WallFace::Frame => Dim::zero(),
                WallFace::Board => skin.board.clone(),
                WallFace::Finish => skin.finish.clone(),
            };
            face + out
        }
        (None, NodeKind::Stub) => skin.finish,
        (None, _) => middle(plan, &wall),
    };
    Some(Spot { wall, along, up, deep })
}

/// What a pipe, cable or duct is called by, and its outside.
fn sizes(plan: &Plan, good: &Key) -> [Dim; 2] {
    let Some((key, record)) = plan.goods.get_key_value(good) else { return [Dim::zero(), Dim::zero()] };
    let at = Pointer::root().child("goods").child(key).child("form");
    let taped = |form: &str, name: &str, length: Length, what: &'static str| {
        Dim::taped(length, at.child(form).child(name)).named(what).placed(record.name.as_str())
    };
    match &record.form {
        Form::Pipe { nominal, outside } => [
            taped("pipe", "nominal", nominal.length, "size"),
            taped("pipe", "outside", outside.length, "outside"),
        ],
        Form::Cable { outside, .. } => {
            let outside = taped("cable", "outside", outside.length, "outside");
            [outside.clone(), outside]
        }
        Form::Duct { nominal } => {
            let nominal = taped("duct", "nominal", nominal.length, "diameter");
            [nominal.clone(), nominal]
        }
        _ => [Dim::zero(), Dim::zero()],
    }
}

/// The length of a leg: in the wall's own terms, or through the room where it goes from wall to wall.
pub(super) fn leg_length(survey: &Survey, [a, b]: [&PlacedNode; 2]) -> Dim {
    let level = level_length(survey, [a, b]);
    let rise = &b.spot.up - &a.spot.up;
    if rise.length().is_zero() {
        return level;
    }
    if level.length().is_zero() {
        return if rise.length().is_negative() { -rise } else { rise };
    }
    Dim::hypot(&level, &rise)
}

/// The same as seen from above.
pub(super) fn level_length(survey: &Survey, [a, b]: [&PlacedNode; 2]) -> Dim {
    let (a, b) = (&a.spot, &b.spot);
    if a.wall == b.wall {
        let (along, deep) = (&b.along - &a.along, &b.deep - &a.deep);
        return match (along.length().is_zero(), deep.length().is_zero()) {
            (true, true) => Dim::zero(),
            (false, true) => positive(along),
            (true, false) => positive(deep),
            (false, false) => Dim::hypot(&along, &deep),
        };
    }
    let room = |spot: &Spot| {
        let plot = Plot::of(survey, &spot.wall)?;
        Some(plot.at(spot.along.length().as_mm_f64(), spot.deep.length().as_mm_f64()))
    };
    let (Some(p), Some(q)) = (room(a), room(b)) else { return Dim::zero() };
    let across = Length::from_mm_f64((p[0] - q[0]).hypot(p[1] - q[1]));
    let inputs = [&a.along, &a.deep, &b.along, &b.deep].map(|dim| (dim.clone(), 1.0));
    Dim::worked(across, "way through the room", inputs)
}

fn positive(dim: Dim) -> Dim {
    if dim.length().is_negative() { -dim } else { dim }
}

fn length(survey: &Survey, key: &Key, nodes: &[PlacedNode]) -> Dim {
    let legs = nodes.windows(2).map(|pair| leg_length(survey, [&pair[0], &pair[1]]));
    legs.sum::<Dim>().named("length").placed(key.as_str())
}
