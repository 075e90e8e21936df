//! Boards of one good: bars with their crosscuts, and a row for every stop.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// Boards.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Board {
    /// The boards as bars, marked from one end.
    pub drawing: Drawing,
    /// What is cut from each.
    pub rows: Vec<StopRow>,
}

/// One stop of the crosscuts.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StopRow {
    /// The board, or boards: "1, 2".
    pub board: String,
    /// The length cut off.
    pub stop: String,
    /// What it is for.
    pub gives: Words,
    /// How many.
    pub count: u32,
}
