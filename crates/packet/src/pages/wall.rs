//! A wall with its units: one row of cumulative marks from one hook, and level lines.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// A wall.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Wall {
    /// The elevation.
    pub drawing: Drawing,
    /// What to do at the wall.
    pub steps: Vec<Words>,
}
