//! A unit: taken apart, the steps that put it together, and its parts.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// A unit.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Unit {
    /// Its parts drawn apart, with balloons.
    pub drawing: Option<Drawing>,
    /// The steps, in an order that can be done.
    pub steps: Vec<Words>,
    /// Its parts.
    pub parts: Vec<PartRow>,
}

/// A row of the parts table: equal parts stand in one.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PartRow {
    /// Its number on this page.
    pub balloon: u32,
    /// What the bench calls it, with LEFT or RIGHT.
    pub name: String,
    /// Along the grain by across.
    pub size: String,
    /// Where its good face looks.
    pub good_face: String,
    /// How long its front edge is.
    pub front_edge: String,
    /// How many.
    pub count: u32,
    /// What is done to it, or what it is made of.
    pub note: Words,
}
