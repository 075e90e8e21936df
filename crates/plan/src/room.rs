//! The room as a walk round its corners, its walls and their openings.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::Keyed;
use crate::plan::is_default;

/// The corners in the order in which they are met.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Room {
    /// Keys of the corners, each once.
    pub walk: Vec<Key>,
    /// The sense of the walk seen from above. Distances alone would allow the mirror image.
    pub sense: Sense,
    /// The height of the ceiling where nobody has measured it yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ceiling_about: Option<Stated>,
    /// What will lie on the floor under or in front of the units: tile and mortar, say. Heights hang from
    /// the floor as it will be finished.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floor_buildup: Option<Stated>,
}

/// Which way round, seen from above.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Sense {
    /// As a clock's hands.
    Clockwise,
    /// Against them.
    CounterClockwise,
}

/// One wall, from one corner of the walk to the next.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Wall {
    /// The corner where it begins.
    pub from: Key,
    /// The corner where it ends.
    pub to: Key,
    /// What it is called on the page, if not by its key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The studs, as far as they are known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub framing: Option<Framing>,
    /// Whether it carries load; `None` is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bearing: Option<bool>,
    /// What lies on the framing, from the framing outwards, by key.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub layers: Keyed<Layer>,
}

/// Studs at a regular spacing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Framing {
    /// Centre to centre.
    pub studs: Stated,
    /// Centre of the first stud from the wall's left-hand corner, seen from inside.
    pub first: Stated,
    /// How deep the studs are, from face to face of the framing; the handbook's where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deep: Option<Stated>,
}

/// One layer of a wall: board, furring, tile, plank.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// What it is: "gypsum board".
    pub name: String,
    /// How thick it is.
    pub thickness: Stated,
    /// Whether it was there when the readings were taken, so that they include it.
    pub measured: bool,
}

/// A door, a window or a plain opening in a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// What it is called on the page.
    pub name: String,
    /// The wall it is in.
    pub wall: Key,
    /// From the wall's left-hand corner, seen from inside, to the opening's near edge.
    pub along: Stated,
    /// Clear width between the jambs.
    pub width: Stated,
    /// From the finished floor to the head.
    pub head: Stated,
    /// From the finished floor to the sill; none for a door.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sill: Option<Stated>,
    /// Width of the casing round it, on the wall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub casing: Option<Stated>,
    /// The leaf, for a door.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf: Option<Leaf>,
}

/// How a door leaf is hung.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Leaf {
    /// The side of the hinges, seen from inside the room.
    pub hinge: Hand,
    /// Where it swings.
    pub swings: Swing,
}

/// Left or right, as seen from the front (units) or from inside the room (walls, openings).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Hand {
    /// The left-hand side.
    Left,
    /// The right-hand side.
    Right,
}

/// Into the room or out of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Swing {
    /// Into the room.
    In,
    /// Out of the room.
    Out,
}

/// One way to say where: on a wall, or on the floor beside one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// The wall it is on, or beside.
    pub wall: Key,
    /// From the wall's left-hand corner, seen from inside.
    pub along: Stated,
    /// Up from the datum.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up: Option<Stated>,
    /// Out from that face of the wall, into the room; negative is into the wall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub out: Option<Stated>,
    /// The face that `out` counts from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face: WallFace,
}

/// A face of a wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WallFace {
    /// The framing, bare.
    Frame,
    /// Its layers, without tile or planks.
    Board,
    /// As it will be seen.
    #[default]
    Finish,
}
