//! The buying list, aisle by aisle.

use serde::Serialize;

use crate::words::Words;

/// What to buy.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Buy {
    /// By aisle of the shop.
    pub aisles: Vec<AisleRows>,
    /// Empty rows for what was forgotten.
    pub empty: u32,
    /// What is not bought yet, and what has no price.
    pub notes: Vec<Words>,
}

/// One aisle.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct AisleRows {
    /// Its name.
    pub name: String,
    /// What is bought there, in money.
    pub total: String,
    /// The lines.
    pub rows: Vec<BuyRow>,
}

/// One line.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BuyRow {
    /// How many packs.
    pub packs: u32,
    /// The good and its pack.
    pub what: String,
    /// What to look at when buying it.
    pub look_for: Option<String>,
    /// What it is for, and why so many.
    pub why: Words,
    /// What it costs, without tax.
    pub about: String,
}
