//! The cut list: every piece, good by good.

use serde::Serialize;

use dryfit_measure::{Dim, Length, Toward};
use dryfit_stages::cutlist::{CutGroup, CutPiece};

use crate::data::{Body, Page};
use crate::material::{Material, Wait};
use crate::pages::gate_number;
use crate::words::{Span, Words};

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
    /// Both over its edge bands; nothing where it has none.
    pub over_bands: String,
    /// Keys of the pages they are on.
    pub pages: Vec<String>,
}

/// The page of the cut list.
pub(crate) fn cut_list(m: &Material<'_>) -> Page {
    let groups: Vec<CutRows> = m.derived.cut_list.groups.iter().map(|group| rows(m, group)).collect();
    let pieces: u32 = groups.iter().flat_map(|group| &group.rows).map(|row| row.count).sum();
    let inputs = Words::new()
        .plain(format!("{pieces} pieces, rounded to be cut; what waits for a gate carries its block "))
        .with(Span::Gate(1));
    Page::new("cut-list", "Cut list", inputs, Body::CutList(CutList { groups }))
}

fn rows(m: &Material<'_>, group: &CutGroup) -> CutRows {
    let mut rows: Vec<(Same<'_>, Vec<&CutPiece>)> = Vec::new();
    for piece in &group.pieces {
        let same = Same::of(m, piece);
        match rows.iter_mut().find(|(known, _)| *known == same) {
            Some((_, pieces)) => pieces.push(piece),
            None => rows.push((same, vec![piece])),
        }
    }
    CutRows {
        good: m.names.good(&group.good),
        rows: rows.iter().map(|(same, pieces)| row(m, same, pieces)).collect(),
    }
}

/// What equal pieces have in common: they stand in one row.
#[derive(PartialEq, Eq)]
struct Same<'a> {
    unit: &'a str,
    name: &'a str,
    size: [Length; 2],
    over: Option<[Length; 2]>,
    waits: Option<Wait>,
}

impl<'a> Same<'a> {
    fn of(m: &Material<'_>, piece: &'a CutPiece) -> Self {
        Same {
            unit: unit(&piece.path),
            name: &piece.label,
            size: [piece.length.length(), piece.width.length()],
            over: piece.finished.as_ref().map(|[length, width]| {
                // what is put on an end or edge comes on top of what was cut
                let over = |cut: &Dim, whole: &Dim| {
                    whole.length().round_to(m.plan.fineness, Toward::Nearest).max(cut.length())
                };
                [over(&piece.length, length), over(&piece.width, width)]
            }),
            waits: m.waits(&piece.path),
        }
    }
}

fn unit(path: &str) -> &str {
    path.split('/').next().unwrap_or_default()
}

fn row(m: &Material<'_>, same: &Same<'_>, pieces: &[&CutPiece]) -> PieceRow {
    let mut what = Words::from(same.name);
    match same.waits {
        Some(Wait::Gate(gate)) => what = what.plain("  ").with(Span::Gate(gate_number(gate))),
        Some(Wait::Readings) => what = what.strong("  HELD BACK"),
        None => {}
    }
    let mut on: Vec<String> = pieces.iter().flat_map(|piece| m.cut_on(&piece.path)).collect();
    on.sort();
    on.dedup();
    PieceRow {
        count: u32::try_from(pieces.len()).unwrap_or(u32::MAX),
        what,
        length: m.names.length(same.size[0]),
        width: m.names.length(same.size[1]),
        over_bands: same.over.map_or_else(String::new, |[length, width]| m.names.size(length, width)),
        pages: on,
    }
}
