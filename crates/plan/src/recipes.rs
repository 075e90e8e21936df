//! Recipes: how a kind of unit is made.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};

use crate::plan::is_default;

/// Figures of the handbook that are overridden here, by their id: `frame-stile = "1 3/4 in"`.
pub type Figures = BTreeMap<String, Stated>;

/// How a unit is made: its goods by role, its joints, and its own figures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Recipe {
    /// What a builder calls it: "painted face frame".
    pub name: String,
    /// How the front of the box is built.
    pub build: Build,
    /// How doors and drawer fronts sit.
    pub fit: FrontFit,
    /// Which good serves which role.
    #[schemars(schema_with = "goods_by_role")]
    pub roles: BTreeMap<Role, Key>,
    /// How the box is joined.
    #[serde(default, skip_serializing_if = "is_default")]
    pub joints: Joints,
    /// How the toe kick is built, where there is one.
    #[serde(default, skip_serializing_if = "is_default")]
    pub toe: ToeBuild,
    /// Which edge band goes on the edges that show, by the role of the part: `door = "abs-2"` bands all four edges
    /// of doors and fronts, `box = "abs-1"` the front edges of the box.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(schema_with = "goods_by_role")]
    pub edges: BTreeMap<Role, Key>,
    /// What differs from the handbook.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// The schema of goods by role: the keys are words of a closed set.
pub(crate) fn goods_by_role(generator: &mut SchemaGenerator) -> Schema {
    let (role, good) = (generator.subschema_for::<Role>(), generator.subschema_for::<Key>());
    json_schema!({ "type": "object", "propertyNames": role, "additionalProperties": good })
}

/// What a good is used for in a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// Sides, bottoms, stretchers, fixed parts of the box.
    Box,
    /// Backs.
    Back,
    /// Adjustable shelves.
    Shelf,
    /// Face frames.
    Frame,
    /// Stiles and rails of doors, slab doors and slab drawer fronts.
    Door,
    /// Panels of cope-and-stick doors.
    Panel,
    /// Sides, front and back of drawer boxes.
    DrawerBox,
    /// Bottoms of drawer boxes.
    DrawerBottom,
    /// Hinges.
    Hinge,
    /// Pulls.
    Pull,
    /// Shelf pins.
    Pin,
    /// Screws for joints of the box and the frame.
    JointScrew,
    /// Screws from behind into drawer fronts and fixed fronts.
    FrontScrew,
    /// Screws through the hanging rail into studs.
    HangScrew,
    /// Toe boards.
    Toe,
    /// Fillers, end panels, floating shelves.
    Skin,
    /// Ledgers of floating shelves.
    Ledger,
    /// Seats of benches.
    Seat,
    /// Adjustable legs under boxes without frames.
    Leg,
    /// Hinges of seats that lift.
    LidHinge,
    /// Stays that hold a lifted seat, and let it down slowly.
    LidStay,
    /// Clothes hooks.
    Hook,
    /// Rods that wet things hang on.
    Rod,
    /// Nails or staples that hold a back on.
    BackNail,
    /// Glue.
    Glue,
}

/// How the front of the box is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Build {
    /// A face frame of stiles and rails on the front of the box.
    FaceFrame,
    /// No frame: doors and fronts lie on the front edges of the box, or between its sides.
    Frameless,
}

/// How a door or drawer front sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FrontFit {
    /// It laps its opening on every side: the frame by the figure `door-overlay`; without a frame, all of the
    /// edges of the box but half the figure `front-gap`.
    Overlay,
    /// It lies in its opening, with the figure `door-inset-gap` (without a frame, `front-gap`) all round.
    Inset,
}

/// How the box is joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Joints {
    /// Bottom to sides.
    pub bottom: BottomJoint,
    /// How the back is held.
    pub back: BackJoint,
}

impl Default for Joints {
    fn default() -> Self {
        Joints { bottom: BottomJoint::Dado, back: BackJoint::Groove }
    }
}

/// Bottom to sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BottomJoint {
    /// In a dado across the side.
    Dado,
    /// Butted, with pocket screws from below.
    PocketScrew,
    /// Butted, with screws through the side into its end.
    Screw,
}

/// How a back is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BackJoint {
    /// Captured in a groove of sides and bottom.
    Groove,
    /// Laid in a rabbet from behind.
    Rabbet,
    /// Nailed on from behind.
    Applied,
}

/// How a toe kick is built.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ToeBuild {
    /// Notched out of the sides, which stand on the floor.
    #[default]
    Notched,
    /// The box stands on a loose base frame.
    Loose,
    /// The box stands on adjustable legs, its toe board clipped to them: the figure `leg-height` from floor to box.
    Legs,
}
