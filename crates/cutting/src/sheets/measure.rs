//! What a layout comes to, measured on its tree of cuts.

use crate::answer::SheetReport;
use crate::sheet_job::{Axis, SheetJob, SheetKind};
use crate::sheet_layout::{Becomes, Piece, SheetLayout};
use std::collections::BTreeMap;

/// The figures of `layout`; sheets without a tree count for their area and price only.
pub(crate) fn report(job: &SheetJob, layout: &SheetLayout) -> SheetReport {
    let kinds: BTreeMap<&str, &SheetKind> = job.sheets.iter().map(|s| (s.id.as_str(), s)).collect();
    let mut r = SheetReport { sheets: layout.sheets.len() as i64, ..SheetReport::default() };
    for s in &layout.sheets {
        if let Some(k) = kinds.get(s.sheet_id.as_str()) {
            r.cost = r.cost.saturating_add(k.price);
            r.bought += i128::from(k.w) * i128::from(k.h);
        }
        r.used += s.placements.iter().map(|p| i128::from(p.w) * i128::from(p.h)).sum::<i128>();
        if let Some(cut) = &s.cut {
            let (cuts, stages) = cuts(cut);
            r.cuts += cuts;
            r.stages = r.stages.max(stages);
            r.clean_offcut = r.clean_offcut.max(clean_offcut(cut));
        }
    }
    r
}

/// Cuts in a tree and its stages, the trimming of factory edges left out.
pub(crate) fn cuts(piece: &Piece) -> (i64, u32) {
    let Becomes::Cut(axis, pieces) = &piece.becomes else { return (0, 0) };
    let last = pieces.last().map_or(0, |p| if *axis == Axis::X { p.x + p.w } else { p.y + p.h });
    let end = if *axis == Axis::X { piece.x + piece.w } else { piece.y + piece.h };
    let mut n = pieces.len() as i64 - 1 + i64::from(last < end);
    let mut stages = 0;
    for p in pieces {
        let (c, s) = cuts(p);
        n += c;
        stages = stages.max(s);
    }
    (n, stages + 1)
}

/// Area of the largest piece without a part that the first cuts free.
pub(crate) fn clean_offcut(piece: &Piece) -> i128 {
    let Becomes::Cut(_, pieces) = &piece.becomes else { return 0 };
    pieces
        .iter()
        .filter(|p| p.becomes == Becomes::Waste)
        .map(|p| i128::from(p.w) * i128::from(p.h))
        .max()
        .unwrap_or(0)
}
