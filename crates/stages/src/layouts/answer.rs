//! From the solver's answer back to pieces with names, and to cuts with settings.

use std::collections::BTreeMap;

use dryfit_cutting::{CutKind, CutSequence, Freed, Purpose, Sheet, SheetAnswer, cut_sequences};
use dryfit_measure::Length;
use dryfit_plan::Plan;

use super::jobs::{Asked, Stock};
use super::{CutWay, Offcut, PlacedPiece, Rect, SawCut, Setting, SheetLayout, SheetStack};
use crate::cutlist::{CutGroup, CutPiece};

/// Names everything in an answer.
pub(super) fn stack(
    plan: &Plan,
    group: &CutGroup,
    stocks: &[Stock],
    asked: &Asked,
    answer: &SheetAnswer,
) -> SheetStack {
    let keep = super::keep(plan).nm() / asked.step;
    let sequences = cut_sequences(&asked.job, &answer.layout, keep);
    let mut left: BTreeMap<&str, std::slice::Iter<'_, usize>> =
        asked.pieces.iter().map(|(id, pieces)| (id.as_str(), pieces.iter())).collect();
    let sheets = answer
        .layout
        .sheets
        .iter()
        .zip(&sequences)
        .map(|(sheet, sequence)| {
            let index = asked.stock.get(&sheet.sheet_id).copied().unwrap_or(0);
            layout(group, &stocks[index], (asked.step, asked.job.kerf), sheet, sequence, &mut left)
        })
        .collect();
    let unplaced = answer
        .layout
        .unplaced
        .iter()
        .flat_map(|missing| {
            let rest = left.get_mut(missing.part_id.as_str());
            rest.into_iter().flatten().map(|&index| group.pieces[index].path.clone()).collect::<Vec<_>>()
        })
        .collect();
    SheetStack {
        good: group.good.clone(),
        sheets,
        kerf: Length::from_nm(asked.job.kerf * asked.step),
        trim: Length::from_nm(asked.job.trim * asked.step),
        least: answer.bound.count.and_then(|count| u32::try_from(count).ok()).unwrap_or(0),
        proven: answer.proven,
        why: answer.bound.why.clone(),
        unplaced,
    }
}

fn layout(
    group: &CutGroup,
    stock: &Stock,
    (step, kerf): (i64, i64),
    sheet: &Sheet,
    sequence: &CutSequence,
    left: &mut BTreeMap<&str, std::slice::Iter<'_, usize>>,
) -> SheetLayout {
    let real = |units: i64| Length::from_nm(units * step);
    // The solver's h is the grain's direction, which is our x.
    let rect =
        |x: i64, y: i64, w: i64, h: i64| Rect { x: real(y), y: real(x), length: real(h), width: real(w) };

    let way = |kind: CutKind| if kind == CutKind::Rip { CutWay::Rip } else { CutWay::Cross };
    let cuts: Vec<SawCut> = sequence
        .cuts
        .iter()
        .map(|cut| SawCut {
            number: cut.number,
            way: way(cut.kind),
            line: [[real(cut.line[1]), real(cut.line[0])], [real(cut.line[3]), real(cut.line[2])]],
            setting: (cut.purpose != Purpose::Trim).then(|| real(cut.setting)),
            trim: cut.purpose == Purpose::Trim,
        })
        .collect();

    let mut pieces = Vec::new();
    let mut names: BTreeMap<&str, Vec<&CutPiece>> = BTreeMap::new();
    for placement in &sheet.placements {
        let Some(&index) = left.get_mut(placement.part_id.as_str()).and_then(Iterator::next) else {
            continue;
        };
        let piece = &group.pieces[index];
        names.entry(placement.part_id.as_str()).or_default().push(piece);
        let rect = rect(placement.x, placement.y, placement.w, placement.h);
        pieces.push(PlacedPiece {
            path: piece.path.clone(),
            label: piece.label.clone(),
            turned: rect.length != piece.length.length(),
            freed_by: freed_by(&cuts, real(kerf), &rect),
            rect,
        });
    }
    let gives = |freed: &[Freed]| {
        let mut words: Vec<String> = Vec::new();
        for one in freed {
            let word = match one {
                Freed::Part { part } | Freed::Member { part, .. } => {
                    let labels: Vec<&str> = names
                        .get(part.as_str())
                        .into_iter()
                        .flatten()
                        .map(|piece| piece.label.as_str())
                        .collect();
                    labels.join(", ")
                }
                Freed::Offcut { name } => name.clone(),
                Freed::Piece { name } => format!("strip {name}"),
                Freed::Waste { .. } => continue,
            };
            if !words.contains(&word) {
                words.push(word);
            }
        }
        words.join(", ")
    };
    SheetLayout {
        length: stock.length,
        width: stock.width,
        lot: stock.lot.clone(),
        pieces,
        cuts,
        settings: sequence
            .settings
            .iter()
            .map(|setting| Setting {
                setting: setting.setting.map(real),
                way: way(setting.kind),
                takes: setting.takes.map(real),
                cuts: setting.cuts.clone(),
                gives: if setting.purpose == Purpose::Trim {
                    "clean edge".to_owned()
                } else {
                    gives(&setting.gives)
                },
            })
            .collect(),
        offcuts: sequence
            .offcuts
            .iter()
            .filter(|offcut| offcut.keep)
            .map(|offcut| Offcut {
                name: offcut.name.clone(),
                rect: rect(offcut.x, offcut.y, offcut.w, offcut.h),
            })
            .collect(),
        waste: sequence
            .offcuts
            .iter()
            .filter(|offcut| !offcut.keep)
            .map(|offcut| rect(offcut.x, offcut.y, offcut.w, offcut.h))
            .collect(),
    }
}

/// The number of the cut that frees a piece: the last of those that run along one of its edges.
fn freed_by(cuts: &[SawCut], kerf: Length, piece: &Rect) -> u32 {
    let spans = |[from, to]: [Length; 2], low: Length, size: Length| from < low + size && to > low;
    let beside =
        |at: Length, low: Length, size: Length| (at - low).abs() <= kerf || (at - (low + size)).abs() <= kerf;
    let frees = |cut: &&SawCut| {
        let [[x1, y1], [x2, y2]] = cut.line;
        if x1 == x2 {
            beside(x1, piece.x, piece.length) && spans([y1.min(y2), y1.max(y2)], piece.y, piece.width)
        } else {
            beside(y1, piece.y, piece.width) && spans([x1.min(x2), x1.max(x2)], piece.x, piece.length)
        }
    };
    cuts.iter().filter(frees).map(|cut| cut.number).max().unwrap_or(0)
}
