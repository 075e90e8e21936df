//! Paint, trim, beads of sealant and adhesive, and what tile is set in.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Rate, Stated, StatedAmount};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::Figures;
use crate::plan::is_default;

/// One colour of paint, or clear finish, and what it goes on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Finish {
    /// What a builder calls it: "lime white".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The paint, a coating.
    pub paint: Key,
    /// How many coats of it.
    pub coats: u8,
    /// What goes under it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub primer: Option<Key>,
    /// How many coats of primer; one where there is a primer and nothing is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub primer_coats: Option<u8>,
    /// How it is put on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub by: PaintedBy,
    /// Thinned by so much of its volume, for spraying.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thinned: Option<Rate>,
    /// What it goes on.
    pub on: Painted,
    /// Figures that differ from the handbook's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// How a coat is put on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PaintedBy {
    /// With a roller, edges with a brush.
    #[default]
    Roller,
    /// With a brush.
    Brush,
    /// Sprayed.
    Spray,
}

/// What a finish goes on; what is not named is not painted with it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Painted {
    /// Walls, less their openings and what covers them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub walls: Vec<Key>,
    /// The ceiling.
    #[serde(skip_serializing_if = "is_default")]
    pub ceiling: bool,
    /// Groups of parts of the units made by these recipes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub recipes: Vec<Key>,
    /// Which parts of those units; all that show where nothing is stated.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartGroup>,
    /// Trim.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trims: Vec<Key>,
}

/// Parts of units that are painted alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PartGroup {
    /// Doors, drawer fronts and fixed fronts, both faces and edges.
    Fronts,
    /// Face frames: their faces, and the edges of their openings.
    Frames,
    /// Fillers, end panels, toe boards and floating shelves.
    Skins,
    /// Sides, bottoms, shelves and backs, inside.
    Insides,
}

/// Trim along walls or round openings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Trim {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The board it is cut from: its width is its height on the wall, or its width round an opening.
    pub good: Key,
    /// What it is.
    pub kind: TrimKind,
    /// What it is nailed with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nails: Option<Key>,
    /// Figures that differ from the handbook's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// Sorts of trim.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum TrimKind {
    /// On the floor along these walls, wherever no unit stands and no door is.
    Base {
        /// The walls.
        along: Vec<Key>,
    },
    /// Round these openings: two legs and a head, and a piece under a window.
    Casing {
        /// The openings.
        around: Vec<Key>,
    },
    /// Under the ceiling along these walls, leaning out.
    Crown {
        /// The walls.
        along: Vec<Key>,
        /// Between its back and the wall, in whole degrees: 38 and 45 are usual.
        spring: u8,
    },
}

/// A bead of sealant or adhesive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bead {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The sealant or adhesive.
    pub good: Key,
    /// Where it runs.
    pub runs: BeadRun,
    /// Its section.
    pub section: BeadSection,
}

/// Where a bead runs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum BeadRun {
    /// Between a worktop and the walls behind it.
    TopAtWalls(Key),
    /// Under the rims of the sinks let into a worktop.
    SinkRims(Key),
    /// Along the upper edge of a trim.
    TrimEdge(Key),
    /// Behind a trim, as adhesive.
    TrimBack(Key),
    /// Up the corners at both ends of these walls, from the worktop or the floor to the ceiling.
    WallCorners(Vec<Key>),
    /// As long as stated.
    Given(Stated),
}

/// The section of a bead.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum BeadSection {
    /// In a joint so wide and so deep.
    Joint {
        /// Width of the joint.
        width: Stated,
        /// How deep it is filled.
        depth: Stated,
    },
    /// In an inside corner, with legs so long.
    Fillet(Stated),
    /// As it comes out of the nozzle: its diameter.
    Round(Stated),
}

/// What a field of tile is set in and grouted with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Setting {
    /// The field of tile, by its key.
    pub field: Key,
    /// The field as counted by hand, where the plan lays out none of that key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_hand: Option<HandField>,
    /// The mortar.
    pub mortar: Key,
    /// The trowel; what the tile's size asks for where nothing is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trowel: Option<Trowel>,
    /// Whether mortar is spread on the backs of the tiles too; as the tile's size asks where nothing is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back_buttered: Option<bool>,
    /// The grout.
    pub grout: Key,
    /// Spacers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacers: Option<Key>,
    /// Clips that level the edges of large tiles.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clips: Option<Key>,
    /// Trim along the field's free edges.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge_trim: Option<EdgeTrim>,
}

/// A field of tile that was counted by hand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HandField {
    /// The longer side of its tile.
    pub long: Stated,
    /// The shorter side.
    pub wide: Stated,
    /// Its thickness.
    pub thick: Stated,
    /// Between two tiles.
    pub joint: Stated,
    /// All of it, tiles and joints: "31 sq ft".
    pub area: StatedAmount,
}

/// A notched trowel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Trowel {
    /// Width of its notches.
    pub notch: Stated,
    /// Depth of them.
    pub deep: Stated,
}

/// Trim along a free edge of tile.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EdgeTrim {
    /// The trim, by length.
    pub good: Key,
    /// How long the free edges are.
    pub length: Stated,
}
