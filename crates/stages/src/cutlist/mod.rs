//! Stage 4, cut list: parts gathered by good, with spares and set-up stock, ready for the solvers.

use dryfit_measure::{Dim, Key};

/// Everything to cut, by good.
#[derive(Clone, Debug)]
pub struct CutList {
    /// One group a good, in key order.
    pub groups: Vec<CutGroup>,
}

/// What is cut from one good.
#[derive(Clone, Debug)]
pub struct CutGroup {
    /// The good.
    pub good: Key,
    /// Its pieces.
    pub pieces: Vec<CutPiece>,
}

/// One piece to cut.
#[derive(Clone, Debug)]
pub struct CutPiece {
    /// Its address among derived things: `b3/side.left`; spares and set-up stock have their own.
    pub path: String,
    /// What to write on it: "b3 side, left".
    pub label: String,
    /// Along the grain, rounded to the plan's fineness by its purpose.
    pub length: Dim,
    /// Across, rounded likewise.
    pub width: Dim,
    /// Whether it may not be turned.
    pub grain: bool,
    /// Spare, set-up stock, or a part of a unit.
    pub extra: bool,
}
