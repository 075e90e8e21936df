//! What a solver is given to spend and what it hands back beside the layout.

use crate::length_layout::LengthLayout;
use crate::sheet_layout::SheetLayout;
use serde::{Deserialize, Serialize};

/// What a search may spend. The same job, steps and seed give the same bytes on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Steps of search after the quick answer; 0 is the quick answer alone.
    pub steps: u64,
    /// Seed of every random choice.
    pub seed: u64,
}

/// A proven lower bound on the cost of the stock, and the reason in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Bound {
    /// No layout that places every part costs less.
    pub value: i64,
    /// How many sheets or bars at least, where all stock has one price.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// Why, in words, with its numbers.
    pub why: String,
}

/// What a layout of sheets comes to. Areas are in square units of the job.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetReport {
    /// Sheets used.
    pub sheets: i64,
    /// What they cost.
    pub cost: i64,
    /// Whole area of the sheets.
    pub bought: i128,
    /// Area of the parts.
    pub used: i128,
    /// The largest rectangle that one cut frees from a sheet, over all sheets.
    pub clean_offcut: i128,
    /// Cuts, the trimming of factory edges left out.
    pub cuts: i64,
    /// Most stages of cuts on any sheet.
    pub stages: u32,
    /// Steps of search spent.
    pub steps: u64,
}

/// The answer to a [`crate::SheetJob`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetAnswer {
    /// The layout, valid in all it places.
    pub layout: SheetLayout,
    /// Lower bound on its cost.
    pub bound: Bound,
    /// Whether every part is placed at a cost equal to the bound.
    pub proven: bool,
    /// What it comes to.
    pub report: SheetReport,
}

/// What a layout of lengths comes to.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct LengthReport {
    /// Bars used.
    pub bars: i64,
    /// What they cost.
    pub cost: i64,
    /// Length of the bars.
    pub bought: i128,
    /// Length of the parts.
    pub used: i128,
    /// Cuts, the trimming of ends left out.
    pub cuts: i64,
    /// The longest offcut.
    pub longest_offcut: i64,
    /// Steps of search spent.
    pub steps: u64,
}

/// The answer to a [`crate::LengthJob`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LengthAnswer {
    /// The layout, valid in all it places.
    pub layout: LengthLayout,
    /// Lower bound on its cost.
    pub bound: Bound,
    /// Whether every part is placed at a cost equal to the bound.
    pub proven: bool,
    /// What it comes to.
    pub report: LengthReport,
}
