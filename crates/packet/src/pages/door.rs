//! A door: its parts in place, its joint in section, and the parts to cut. Drawers take the same page.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// A door or a drawer.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Door {
    /// The parts in place.
    pub drawing: Drawing,
    /// The joint.
    pub section: Option<Drawing>,
    /// The steps.
    pub steps: Vec<Words>,
    /// What its stock is: the head of the parts table.
    pub goods: String,
    /// The parts, spares and set-up stock.
    pub parts: Vec<DoorRow>,
}

/// A row of its parts.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DoorRow {
    /// The letter and number in the drawing; empty for spares.
    pub label: String,
    /// What it is.
    pub name: Words,
    /// How many.
    pub count: u32,
    /// Along the grain by across.
    pub size: String,
}
