//! The cover: what may be cut today, what is done in the room, what is held back, and five totals.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// The cover.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Cover {
    /// What will not go together, or is unsafe; a banner when there is any.
    pub stops: Vec<Words>,
    /// What may be cut.
    pub today: Vec<Task>,
    /// What is done in the room.
    pub room: Vec<Task>,
    /// What may not be cut yet.
    pub held: Vec<HeldBack>,
    /// Sheets, boards, money.
    pub totals: Vec<Total>,
    /// The room, with what is cut today hatched.
    pub drawing: Option<Drawing>,
}

/// A line to tick.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Task {
    /// What.
    pub what: Words,
    /// Keys of the pages it is on.
    pub pages: Vec<String>,
}

/// A line of what is held back.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HeldBack {
    /// What.
    pub what: Words,
    /// What would release it.
    pub until: Words,
    /// The number of its gate, where it is one.
    pub gate: Option<u32>,
    /// Keys of the pages on which the gate's boxes are.
    pub pages: Vec<String>,
    /// A box to write a reading in.
    pub blank: bool,
}

/// A number that sums up.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Total {
    /// The number: "3", "$697".
    pub figure: String,
    /// What it counts.
    pub label: Words,
}
