//! Stage 5, layouts: which piece is cut from which sheet or board, in which order of cuts.
//!
//! Sheet coordinates: x along the sheet's length (its grain), y across, from the corner that is trimmed first.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Length};

/// Layouts of every good that is cut.
#[derive(Clone, Debug)]
pub struct Layouts {
    /// Sheet goods, in key order.
    pub sheets: Vec<SheetStack>,
    /// Boards, in key order.
    pub boards: Vec<BoardStack>,
}

/// Answers of the solvers, remembered by a digest of the bare numbers of the job.
pub type Answers = BTreeMap<String, String>;

/// All sheets of one good.
#[derive(Clone, Debug)]
pub struct SheetStack {
    /// The good.
    pub good: Key,
    /// Sheets, in the order in which they are cut.
    pub sheets: Vec<SheetLayout>,
    /// The widest kerf that was planned with.
    pub kerf: Length,
    /// Taken off a factory edge.
    pub trim: Length,
    /// No layout needs fewer bought sheets than this.
    pub least: u32,
    /// Whether `least` is reached.
    pub proven: bool,
    /// Why there cannot be fewer, in words with numbers.
    pub why: String,
}

/// One sheet.
#[derive(Clone, Debug)]
pub struct SheetLayout {
    /// Along the grain, as sold or as left over.
    pub length: Length,
    /// Across.
    pub width: Length,
    /// The lot it comes from, when it is on hand.
    pub lot: Option<Key>,
    /// What is cut from it.
    pub pieces: Vec<PlacedPiece>,
    /// Every cut in order.
    pub cuts: Vec<SawCut>,
    /// The same by setting of fence or stop, in order of first use.
    pub settings: Vec<Setting>,
    /// What is worth keeping.
    pub offcuts: Vec<Offcut>,
    /// What is not.
    pub waste: Vec<Rect>,
}

/// A rectangle on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rect {
    /// Left, along the sheet's length.
    pub x: Length,
    /// Bottom, across.
    pub y: Length,
    /// Along the sheet's length.
    pub length: Length,
    /// Across.
    pub width: Length,
}

/// A piece on a sheet.
#[derive(Clone, Debug)]
pub struct PlacedPiece {
    /// Path of the cut list's piece.
    pub path: String,
    /// What to write on it.
    pub label: String,
    /// Where.
    pub rect: Rect,
    /// Whether its length lies across the sheet.
    pub turned: bool,
    /// The cut that frees it.
    pub freed_by: u32,
}

/// Along the sheet's length, or across it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CutWay {
    /// Along the sheet's length.
    Rip,
    /// Across it.
    Cross,
}

/// One pass of the saw, edge to edge of the piece it is made on.
#[derive(Clone, Debug)]
pub struct SawCut {
    /// Its number on this sheet, from one.
    pub number: u32,
    /// Along or across.
    pub way: CutWay,
    /// The ends of the cut line's middle, on the sheet.
    pub line: [[Length; 2]; 2],
    /// Fence or stop to the blade's near side; none where a factory edge is trimmed.
    pub setting: Option<Length>,
    /// Whether it only cleans a factory edge.
    pub trim: bool,
}

/// A setting and all cuts made with it.
#[derive(Clone, Debug)]
pub struct Setting {
    /// Fence or stop; none for trimming.
    pub setting: Option<Length>,
    /// Along or across.
    pub way: CutWay,
    /// Cut numbers.
    pub cuts: Vec<u32>,
    /// What it gives: "b2 sides".
    pub gives: String,
}

/// A piece left over and worth keeping.
#[derive(Clone, Debug)]
pub struct Offcut {
    /// "O1".
    pub name: String,
    /// Where it lay.
    pub rect: Rect,
}

/// All boards of one good.
#[derive(Clone, Debug)]
pub struct BoardStack {
    /// The good.
    pub good: Key,
    /// Boards, in the order in which they are cut.
    pub boards: Vec<BoardLayout>,
    /// Kerf that was planned with.
    pub kerf: Length,
    /// No layout needs fewer bought boards than this.
    pub least: u32,
    /// Whether `least` is reached.
    pub proven: bool,
    /// Why there cannot be fewer.
    pub why: String,
}

/// One board: ripped to widths, then crosscut. A board is a narrow sheet.
#[derive(Clone, Debug)]
pub struct BoardLayout {
    /// As sold or as left over.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// The lot it comes from, when it is on hand.
    pub lot: Option<Key>,
    /// What is cut from it.
    pub pieces: Vec<PlacedPiece>,
    /// Every cut in order.
    pub cuts: Vec<SawCut>,
    /// The same by setting.
    pub settings: Vec<Setting>,
    /// What is worth keeping.
    pub offcuts: Vec<Offcut>,
}
