//! Stage 5, layouts: which piece is cut from which sheet or board, in which order of cuts.
//!
//! Sheet coordinates: x along the sheet's length (its grain), y across, from the corner that is trimmed first.

mod answer;
mod jobs;

use std::collections::BTreeMap;

use dryfit_cutting::{Budget, SheetAnswer, solve_sheets};
use dryfit_handbook::figure;
use dryfit_measure::{Key, Length};
use dryfit_plan::{Form, Good, Grain, Plan};

use crate::cutlist::CutList;
use jobs::Stock;

/// Layouts of every good that is cut.
#[derive(Clone, Debug)]
pub struct Layouts {
    /// Sheet goods, in key order.
    pub sheets: Vec<SheetStack>,
    /// Boards, in key order: narrow sheets, ripped and then crosscut.
    pub boards: Vec<SheetStack>,
}

/// Answers of the solver, remembered by the bare numbers of the job (its JSON form).
pub type Answers = BTreeMap<String, SheetAnswer>;

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
    /// Paths of pieces that no stock can take.
    pub unplaced: Vec<String>,
}

impl SheetStack {
    /// How many have to be bought.
    pub fn bought(&self) -> usize {
        self.sheets.iter().filter(|sheet| sheet.lot.is_none()).count()
    }
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
    /// What each trimming cut takes off, its kerf included.
    pub takes: Option<Length>,
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

/// Lays out every good that is cut. `known` are answers of earlier runs; those used or found are given back.
pub fn layouts(plan: &Plan, cut_list: &CutList, known: &Answers, budget: Budget) -> (Layouts, Answers) {
    let mut answers = Answers::new();
    let mut layouts = Layouts { sheets: Vec::new(), boards: Vec::new() };
    for group in &cut_list.groups {
        let Some(good) = plan.goods.get(&group.good) else { continue };
        let board = matches!(good.form, Form::Board(_));
        let stocks = stocks(plan, &group.good, good);
        let asked =
            jobs::ask(&stocks, &group.pieces, kerf(plan), if board { Length::ZERO } else { trim(plan) });
        let digest = asked.job.to_json();
        let answer = known.get(&digest).cloned().unwrap_or_else(|| solve_sheets(&asked.job, budget));
        let stack = answer::stack(plan, group, &stocks, &asked, &answer);
        answers.insert(digest, answer);
        if board { layouts.boards.push(stack) } else { layouts.sheets.push(stack) }
    }
    (layouts, answers)
}

/// The widest kerf in the shop, because a piece may be cut on any of its saws.
fn kerf(plan: &Plan) -> Length {
    let widest = plan.shop.kerfs.values().map(|kerf| kerf.length).max();
    widest.or_else(|| figure("kerf").map(|kerf| kerf.value.length)).unwrap_or_default()
}

/// What comes off a factory edge.
fn trim(plan: &Plan) -> Length {
    let stated = plan.shop.factory_trim.map(|trim| trim.length);
    stated.or_else(|| figure("factory-trim").map(|trim| trim.value.length)).unwrap_or_default()
}

/// Least side of an offcut that is worth keeping.
fn keep(plan: &Plan) -> Length {
    let stated = plan.shop.keep_offcuts.map(|keep| keep.length);
    stated.or_else(|| figure("keep-offcut").map(|keep| keep.value.length)).unwrap_or_default()
}

/// What there is to cut from: lots on hand first, which cost nothing, then as many as it takes from the shop.
fn stocks(plan: &Plan, key: &Key, good: &Good) -> Vec<Stock> {
    let (length, width, grain) = match &good.form {
        Form::Sheet(sheet) => (sheet.length.length, sheet.width.length, sheet.grain == Grain::Length),
        Form::Board(board) => (board.length.length, board.width.length, true),
        _ => return Vec::new(),
    };
    let price = good.packs.values().filter_map(|pack| pack.price).min();
    let mut stocks: Vec<Stock> = plan
        .lots
        .iter()
        .filter(|(_, lot)| lot.good == *key)
        .filter_map(|(lot_key, lot)| Some((lot_key, lot, lot.count.amount().pieces()?)))
        .filter(|(_, _, count)| *count > 0)
        .map(|(lot_key, lot, count)| Stock {
            lot: Some(lot_key.clone()),
            length: lot.length.map_or(length, |length| length.length),
            width: lot.width.map_or(width, |width| width.length),
            count: Some(count),
            price: 0,
            grain,
        })
        .collect();
    stocks.push(Stock {
        lot: None,
        length,
        width,
        count: None,
        // Without a price every sheet costs alike, so that the fewest still win.
        price: price.map_or(100, dryfit_measure::Money::hundredths).max(1),
        grain,
    });
    stocks
}
