//! Worktops: what they lie on, what they are made of, where they are seamed.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};

use crate::plan::is_default;
use crate::{Figures, Keyed};

/// A worktop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Top {
    /// What a builder calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The runs it lies on, in order along the walk.
    pub over: Vec<Key>,
    /// The sheet that is its substrate.
    pub substrate: Key,
    /// How many layers of substrate at its edges.
    pub layers: u8,
    /// Whether the lower layers are strips at the edges or whole.
    #[serde(default, skip_serializing_if = "is_default")]
    pub build_up: BuildUp,
    /// What faces it, if not the substrate itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing: Option<Key>,
    /// What covers its front and free ends, if not the facing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge: Option<Key>,
    /// How its legs meet in a corner.
    #[serde(default, skip_serializing_if = "is_default")]
    pub corner: CornerSeam,
    /// Seams across a leg, where a blank would be longer than its sheet.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub seams: Keyed<CrossSeam>,
    /// A splash of the same make, so high above the upper face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub splash: Option<Stated>,
    /// What serves to make and to fix it.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(schema_with = "goods_by_top_role")]
    pub roles: BTreeMap<TopRole, Key>,
    /// Figures that differ from the handbook's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// How the lower layers of a substrate are made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BuildUp {
    /// Strips along the edges, at the seams and under the joints.
    #[default]
    Strips,
    /// Whole layers.
    Whole,
}

/// How two legs meet in a corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CornerSeam {
    /// The leg of the run that owns the corner goes through; the other is butted to its front edge.
    #[default]
    Butt,
    /// From the inner corner to the outer one, each leg cut to half the real angle.
    Mitre,
}

/// A seam straight across a leg.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CrossSeam {
    /// The run whose leg it crosses.
    pub over: Key,
    /// From the left-hand corner of its wall, seen from inside.
    pub along: Stated,
}

/// What a good does for a worktop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TopRole {
    /// Contact adhesive between substrate and facing.
    Adhesive,
    /// Glue between the layers.
    Glue,
    /// Screws that hold the layers while the glue sets.
    LayerScrew,
    /// Screws up through the boxes.
    FixScrew,
    /// Bolts that draw a seam together.
    SeamBolt,
    /// Boards that carry it where no box does.
    Cleat,
}

/// The schema of goods by what they do: the keys are words of a closed set.
fn goods_by_top_role(generator: &mut SchemaGenerator) -> Schema {
    let (role, good) = (generator.subschema_for::<TopRole>(), generator.subschema_for::<Key>());
    json_schema!({ "type": "object", "propertyNames": role, "additionalProperties": good })
}
