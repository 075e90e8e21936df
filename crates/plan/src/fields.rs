//! Fields of tile and of planks: what is covered, with what, and in which pattern.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plan::is_default;
use crate::{Figures, Keyed};

/// A field: one surface, covered alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Field {
    /// What a builder calls it: "floor tile".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Where it is. Openings, outlets and what stands or hangs before a wall are found and left out.
    pub on: FieldOn,
    /// What covers it.
    pub with: Laying,
    /// Holes that are not found: a floor drain, a pipe.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub holes: Keyed<FieldHole>,
    /// Figures that differ from the handbook's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// The surface that a field covers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum FieldOn {
    /// The floor from wall to wall.
    Floor {
        /// Units that stand on the bare floor: the field ends at them.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        bare: Vec<Key>,
    },
    /// A wall, or a stretch of it.
    Wall(WallStretch),
}

/// A stretch of a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WallStretch {
    /// The wall.
    pub wall: Key,
    /// Where it begins, from the wall's left-hand corner seen from inside; in that corner if it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Stated>,
    /// Where it ends, from the same corner; in the right-hand corner if it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Stated>,
    /// Its lower end.
    #[serde(default, skip_serializing_if = "is_default")]
    pub low: FieldLow,
    /// Its upper end.
    #[serde(default, skip_serializing_if = "is_default")]
    pub high: FieldHigh,
}

/// Where a field on a wall begins.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum FieldLow {
    /// On the finished floor.
    #[default]
    Floor,
    /// So far above the datum.
    At(Stated),
    /// On a worktop.
    Top(Key),
}

/// Where a field on a wall ends.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum FieldHigh {
    /// Under the ceiling, which may slope.
    #[default]
    Ceiling,
    /// So far above the datum.
    At(Stated),
    /// Under this unit.
    Unit(Key),
}

/// What covers a field.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Laying {
    /// Tile with joints.
    Tile(TileLaying),
    /// Planks in courses.
    Planks(PlankLaying),
}

/// How tile is laid.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TileLaying {
    /// The tile.
    pub good: Key,
    /// Between two tiles.
    pub joint: Stated,
    /// How they lie to each other.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pattern: TilePattern,
    /// Whether tiles stand on end: their height along the wall.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turned: bool,
    /// Lower left corner of one tile, where the start is pinned; the start that cuts best otherwise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<TileStart>,
    /// What is in sight and should come out even.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sight: Option<TileSight>,
}

/// How tiles lie to each other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TilePattern {
    /// Joints run through both ways.
    #[default]
    Grid,
    /// Rows shifted by half a tile.
    BondHalf,
    /// Rows shifted by a third of a tile.
    BondThird,
    /// Lying and standing by turns.
    Herringbone,
}

/// A pinned start: the lower left corner of one tile.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TileStart {
    /// Along the wall from its left-hand corner; on a floor, along the first wall from the first corner.
    pub along: Stated,
    /// Up from the datum; on a floor, into the room.
    pub up: Stated,
}

/// What should come out even.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum TileSight {
    /// A tile or a joint has its middle here, along the wall from its left-hand corner.
    Middle(Stated),
    /// Whole tiles begin at the left end.
    Left,
    /// Whole tiles end at the right end.
    Right,
}

/// How planks are laid.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlankLaying {
    /// The planks.
    pub good: Key,
    /// Whether they stand upright; they lie level otherwise, and their end joints are on studs.
    #[serde(default, skip_serializing_if = "is_default")]
    pub upright: bool,
    /// Whether the first course is a whole one; the first and the last are equally wide otherwise.
    #[serde(default, skip_serializing_if = "is_default")]
    pub whole_first: bool,
    /// What they are nailed with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nails: Option<Key>,
}

/// A hole in a field: an upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FieldHole {
    /// Its left edge; as a start is counted.
    pub along: Stated,
    /// Its lower edge.
    pub up: Stated,
    /// Left to right.
    pub width: Stated,
    /// Bottom to top.
    pub height: Stated,
}
