//! The cut list: every piece, good by good.

use serde::Serialize;

use crate::words::Words;

/// Everything to cut.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CutList {
    /// By good.
    pub groups: Vec<CutRows>,
}

/// What is cut from one good.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CutRows {
    /// The good, as measured.
    pub good: String,
    /// The pieces; equal ones stand in one row.
    pub rows: Vec<PieceRow>,
}

/// Equal pieces.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PieceRow {
    /// How many.
    pub count: u32,
    /// What to write on them.
    pub what: Words,
    /// Along the grain.
    pub length: String,
    /// Across.
    pub width: String,
    /// Keys of the pages they are on.
    pub pages: Vec<String>,
}
