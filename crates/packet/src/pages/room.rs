//! The room: its plan as adjusted, and every reading with how it fits.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// The room and its readings.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Room {
    /// The plan, with spans, corners and floor heights.
    pub drawing: Drawing,
    /// What the marks on it mean.
    pub caption: Words,
    /// Every reading of the walls.
    pub readings: Vec<ReadingRow>,
}

/// One reading.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReadingRow {
    /// Its number on this page.
    pub number: u32,
    /// What was measured, and how high up.
    pub what: String,
    /// As typed.
    pub taped: String,
    /// Adjusted less read, or what a reading that was set aside probably was.
    pub off: Words,
    /// Struck out.
    pub set_aside: bool,
}
