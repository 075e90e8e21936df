//! A sheet to cut: settings in order, and the sheet as it lies.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// A sheet.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Sheet {
    /// Settings of fence or stop, in order, each with all cuts made at it.
    pub settings: Vec<Setting>,
    /// The sheet with its cuts.
    pub drawing: Drawing,
    /// What the lines mean.
    pub legend: Words,
    /// What is kept.
    pub offcuts: Vec<Words>,
}

/// One setting.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Setting {
    /// From blade to fence or stop.
    pub fence: String,
    /// The numbers of the cuts: "2, 3".
    pub cuts: String,
    /// What they free.
    pub gives: Words,
    /// "rip" or "cross".
    pub way: String,
    /// What to mind.
    pub note: Words,
}
