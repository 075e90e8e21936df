//! Services: pipes, cables and ducts with the way they take, and boxes with what is in them.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plan::is_default;
use crate::{Keyed, Place};

/// One pipe, cable, duct or box, found or to be made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Service {
    /// A pipe: drain, vent, hot or cold.
    Pipe(PipeRun),
    /// A cable, from box to box.
    Cable(CableRun),
    /// An exhaust duct.
    Duct(DuctRun),
    /// A box in a wall or ceiling, with what is in it.
    Box(OutletBox),
}

impl Service {
    /// Whether it was there when the job began.
    pub fn is_found(&self) -> bool {
        match self {
            Service::Pipe(run) => run.found,
            Service::Cable(run) => run.found,
            Service::Duct(run) => run.found,
            Service::Box(outlet) => outlet.found,
        }
    }

    /// What a builder calls it, where it has a name.
    pub fn name(&self) -> Option<&str> {
        match self {
            Service::Pipe(run) => run.name.as_deref(),
            Service::Cable(run) => run.name.as_deref(),
            Service::Duct(run) => run.name.as_deref(),
            Service::Box(outlet) => outlet.name.as_deref(),
        }
    }

    /// The unit whose sink or appliance it serves.
    pub fn serves(&self) -> Option<&Key> {
        match self {
            Service::Pipe(run) => run.serves.as_ref(),
            Service::Cable(_) => None,
            Service::Duct(run) => run.serves.as_ref(),
            Service::Box(outlet) => outlet.serves.as_ref(),
        }
    }
}

/// A pipe and its way, in the order of the water's flow (a vent: from its drain upwards).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PipeRun {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What runs in it.
    pub carries: Carries,
    /// The pipe, a good of the form `pipe`.
    pub good: Key,
    /// The unit whose sink or appliance it serves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serves: Option<Key>,
    /// Whether it was there when the job began, and stays.
    #[serde(default, skip_serializing_if = "is_default")]
    pub found: bool,
    /// Its nodes in the order of the flow.
    pub order: Vec<Key>,
    /// Where it ends, turns and is joined.
    pub nodes: Keyed<Node>,
    /// Which good makes a node: an elbow, a tee, a stop valve, a trap.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub fittings: Keyed<Key>,
    /// Goods that hang on it besides, one of each: strainer, tailpiece, air chamber.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<Key>,
    /// The steel plate over studs that it goes through near their face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate: Option<Key>,
}

/// What runs in a pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Carries {
    /// Waste water.
    Drain,
    /// Air.
    Vent,
    /// Hot water.
    Hot,
    /// Cold water.
    Cold,
}

/// A place on the way of a pipe, cable or duct. Places are to its centre.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Node {
    /// It turns, is joined or is held here.
    At(Place),
    /// It comes out of the finished face here, for a trap, a stop valve or a hood.
    Stub(Place),
    /// The weir of a trap in the wall.
    Trap(Place),
    /// The open upper end of a standpipe.
    Standpipe(Place),
    /// It goes on from a node of another service.
    Joins {
        /// The other service.
        service: Key,
        /// Its node.
        node: Key,
    },
    /// It ends in this box.
    Box(Key),
}

impl Node {
    /// Where it is, unless another service says.
    pub fn place(&self) -> Option<&Place> {
        match self {
            Node::At(place) | Node::Stub(place) | Node::Trap(place) | Node::Standpipe(place) => Some(place),
            Node::Joins { .. } | Node::Box(_) => None,
        }
    }

    /// The word under which its place stands in a plan.
    pub fn word(&self) -> &'static str {
        match self {
            Node::At(_) => "at",
            Node::Stub(_) => "stub",
            Node::Trap(_) => "trap",
            Node::Standpipe(_) => "standpipe",
            Node::Joins { .. } => "joins",
            Node::Box(_) => "box",
        }
    }
}

/// A cable and its way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CableRun {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The cable, a good of the form `cable`.
    pub good: Key,
    /// The circuit that feeds it: "12, 20 A".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub circuit: Option<String>,
    /// Whether it was there when the job began, and stays.
    #[serde(default, skip_serializing_if = "is_default")]
    pub found: bool,
    /// The steel plate over studs that it goes through near their face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate: Option<Key>,
    /// Its nodes, from the panel's side.
    pub order: Vec<Key>,
    /// Boxes, turns, and where it leaves the room.
    pub nodes: Keyed<Node>,
}

/// An exhaust duct and its way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DuctRun {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The duct, a good of the form `duct`.
    pub good: Key,
    /// The unit whose appliance it serves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serves: Option<Key>,
    /// Whether it was there when the job began, and stays.
    #[serde(default, skip_serializing_if = "is_default")]
    pub found: bool,
    /// Its nodes, from the appliance to the open air.
    pub order: Vec<Key>,
    /// Where it begins, turns and ends.
    pub nodes: Keyed<Node>,
    /// Which good makes a turn.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub fittings: Keyed<Key>,
}

/// A box in a wall or ceiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OutletBox {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What it is for.
    pub purpose: BoxPurpose,
    /// Its centre.
    pub at: Place,
    /// The box, a good of the form `box`; none is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub good: Option<Key>,
    /// What is fastened in it: goods of the form `device`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub devices: Vec<Key>,
    /// Goods that go with it besides, one of each: ring, plate, extension, lamp.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<Key>,
    /// How far its front edge, its ring or extension included, stands out from the framing; none is not set yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub proud: Option<Stated>,
    /// The unit whose appliance is plugged in here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serves: Option<Key>,
    /// The unit through whose back a hole is cut for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub through: Option<Key>,
    /// Whether a ground-fault device guards it, here or ahead of it on its circuit.
    #[serde(default, skip_serializing_if = "is_default")]
    pub ground_fault: bool,
    /// Whether it was there when the job began, and stays.
    #[serde(default, skip_serializing_if = "is_default")]
    pub found: bool,
}

/// What a box is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BoxPurpose {
    /// To plug something in.
    Receptacle,
    /// To switch something.
    Switch,
    /// To hang a lamp on.
    Light,
    /// Where cables are joined.
    Junction,
}
