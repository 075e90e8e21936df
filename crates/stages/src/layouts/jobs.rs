//! From a good's pieces to a job of bare numbers, and from the solver's answer back to pieces.
//!
//! A job knows nothing of labels: equal pieces are one part, and all lengths are divided by their greatest
//! common divisor. So a changed reading that alters no cut size asks for the same job, and is remembered.

use std::collections::BTreeMap;

use dryfit_cutting::{Member, Part, SheetJob, SheetKind};
use dryfit_measure::{Key, Length};

use crate::cutlist::CutPiece;

/// Stock to cut from: whole sheets or boards as sold, and what is on hand.
#[derive(Clone, Debug)]
pub(super) struct Stock {
    /// Where it comes from: a lot, or the shop.
    pub lot: Option<Key>,
    /// Along the grain.
    pub length: Length,
    /// Across.
    pub width: Length,
    /// How many there are; `None` as many as it takes.
    pub count: Option<u32>,
    /// In whole hundredths of the currency.
    pub price: i64,
    /// Whether it has a grain.
    pub grain: bool,
}

/// A job and the way back.
pub(super) struct Asked {
    pub job: SheetJob,
    /// One step of the job's numbers.
    pub step: i64,
    /// For each part id, the pieces it stands for, in cut list order.
    pub pieces: BTreeMap<String, Vec<usize>>,
    /// For each kind id, the stock.
    pub stock: BTreeMap<String, usize>,
}

/// Builds the job.
pub(super) fn ask(stocks: &[Stock], pieces: &[CutPiece], kerf: Length, trim: Length) -> Asked {
    let lengths = stocks
        .iter()
        .flat_map(|stock| [stock.length, stock.width])
        .chain(pieces.iter().flat_map(|piece| [piece.length.length(), piece.width.length()]))
        .chain([kerf, trim]);
    let step = lengths.map(|length| length.nm().abs()).fold(0, gcd).max(1);
    let units = |length: Length| (length.nm() / step).max(1);

    let mut sizes: BTreeMap<(i64, i64, bool), Vec<usize>> = BTreeMap::new();
    // A piece that comes out at nothing is flagged where it is made; no saw can make it.
    let real = |piece: &&CutPiece| piece.length.length().nm() > 0 && piece.width.length().nm() > 0;
    for (index, piece) in pieces.iter().enumerate().filter(|(_, piece)| real(piece)) {
        let size = (units(piece.length.length()), units(piece.width.length()), piece.grain);
        sizes.entry(size).or_default().push(index);
    }
    let mut parts = Vec::new();
    let mut by_id = BTreeMap::new();
    for (number, ((length, width, grain), members)) in sizes.into_iter().rev().enumerate() {
        let id = format!("p{number}");
        parts.push(Part {
            id: id.clone(),
            w: width,
            h: length,
            qty: i64::try_from(members.len()).unwrap_or(i64::MAX),
            can_rotate: !grain,
            label: String::new(),
            members: Vec::<Member>::new(),
            members_along: dryfit_cutting::Axis::Y,
        });
        by_id.insert(id, members);
    }
    let mut stock = BTreeMap::new();
    let mut sheets = Vec::new();
    for (index, one) in stocks.iter().enumerate() {
        let id = format!("s{index}");
        sheets.push(SheetKind {
            id: id.clone(),
            w: units(one.width),
            h: units(one.length),
            qty: one.count.map(i64::from),
            price: one.price,
            grain: one.grain,
        });
        stock.insert(id, index);
    }
    let job = SheetJob {
        name: String::new(),
        unit: String::new(),
        kerf: kerf.nm() / step,
        trim: trim.nm() / step,
        sheets,
        parts,
        max_stages: None,
    };
    Asked { job, step, pieces: by_id, stock }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
