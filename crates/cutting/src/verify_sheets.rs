//! Independent verifier of sheet layouts. It shares no code with any solver and trusts nothing in a layout: the
//! placements are judged by themselves, then the tree of cuts is judged against them.

use crate::sheet_job::{Axis, Part, SheetJob, SheetKind};
use crate::sheet_layout::{Becomes, Piece, Placement, Sheet, SheetLayout};
use std::collections::BTreeMap;
use std::fmt;

/// One thing wrong with a sheet layout. `sheet` counts from 0.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "the fields are what the variant's line names")]
pub enum SheetFault {
    /// A sheet is of a kind that the job does not list.
    UnknownSheet { sheet: usize, id: String },
    /// A sheet holds nothing.
    EmptySheet { sheet: usize },
    /// More sheets of a kind than there are.
    StockExceeded { id: String, used: i64, stock: i64 },
    /// A placement names a part that the job does not list.
    UnknownPart { sheet: usize, id: String },
    /// A part lies with a size that is not its own.
    WrongSize { sheet: usize, id: String, w: i64, h: i64, want_w: i64, want_h: i64 },
    /// A part that keeps its grain is turned.
    AgainstGrain { sheet: usize, id: String },
    /// A part reaches into the trim or past the sheet.
    LeavesSheet { sheet: usize, id: String, x: i64, y: i64 },
    /// Two parts overlap.
    Overlap { sheet: usize, a: String, b: String },
    /// Two parts are closer than one kerf.
    CloserThanKerf { sheet: usize, a: String, b: String, gap: i64, kerf: i64 },
    /// No straight cut of full kerf, from edge to edge, divides these parts.
    NotGuillotine { sheet: usize, parts: Vec<String> },
    /// A part is placed more or less often than it is wanted.
    WrongCount { id: String, placed: i64, wanted: i64 },
    /// The members of a matched group are not those of its part, in order, a kerf apart.
    WrongMembers { sheet: usize, id: String },
    /// The tree of cuts does not follow from the sheet, at the piece whose near corner is given.
    BadCut { sheet: usize, x: i64, y: i64, why: &'static str },
    /// The tree's parts are not the placements.
    CutsOtherParts { sheet: usize },
    /// More stages of cuts than the job allows.
    TooManyStages { sheet: usize, stages: u32, limit: u32 },
    /// A claim is not what was measured.
    WrongClaim { what: &'static str, claimed: i64, measured: i64 },
}

impl fmt::Display for SheetFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use SheetFault as F;
        match self {
            F::UnknownSheet { sheet, id } => write!(f, "sheet {sheet}: kind `{id}` is not in the job"),
            F::EmptySheet { sheet } => write!(f, "sheet {sheet}: holds no part"),
            F::StockExceeded { id, used, stock } => {
                write!(f, "sheet kind `{id}`: {used} used, {stock} in stock")
            }
            F::UnknownPart { sheet, id } => write!(f, "sheet {sheet}: part `{id}` is not in the job"),
            F::WrongSize { sheet, id, w, h, want_w, want_h } => {
                write!(f, "sheet {sheet}: part `{id}` lies as {w} x {h}, wanted {want_w} x {want_h}")
            }
            F::AgainstGrain { sheet, id } => {
                write!(f, "sheet {sheet}: part `{id}` is turned against its grain")
            }
            F::LeavesSheet { sheet, id, x, y } => {
                write!(f, "sheet {sheet}: part `{id}` at {x}, {y} leaves the sheet less its trim")
            }
            F::Overlap { sheet, a, b } => write!(f, "sheet {sheet}: parts `{a}` and `{b}` overlap"),
            F::CloserThanKerf { sheet, a, b, gap, kerf } => {
                write!(f, "sheet {sheet}: parts `{a}` and `{b}` are {gap} apart, the kerf is {kerf}")
            }
            F::NotGuillotine { sheet, parts } => {
                write!(f, "sheet {sheet}: no edge-to-edge cut divides {}", parts.join(", "))
            }
            F::WrongCount { id, placed, wanted } => {
                write!(f, "part `{id}`: {placed} placed, {wanted} wanted")
            }
            F::WrongMembers { sheet, id } => {
                write!(f, "sheet {sheet}: the members of `{id}` are not in order a kerf apart")
            }
            F::BadCut { sheet, x, y, why } => write!(f, "sheet {sheet}: piece at {x}, {y} {why}"),
            F::CutsOtherParts { sheet } => {
                write!(f, "sheet {sheet}: the cuts free other parts than are placed")
            }
            F::TooManyStages { sheet, stages, limit } => {
                write!(f, "sheet {sheet}: {stages} stages of cuts, at most {limit} allowed")
            }
            F::WrongClaim { what, claimed, measured } => {
                write!(f, "claims {claimed} {what}, measured {measured}")
            }
        }
    }
}

/// Every fault of `layout` as an answer to `job`; none for a valid one. Parts that the layout lists as unplaced
/// count as missing.
pub fn verify_sheets(job: &SheetJob, layout: &SheetLayout) -> Vec<SheetFault> {
    let kinds: BTreeMap<&str, &SheetKind> = job.sheets.iter().map(|s| (s.id.as_str(), s)).collect();
    let parts: BTreeMap<&str, &Part> = job.parts.iter().map(|p| (p.id.as_str(), p)).collect();
    let mut faults = Vec::new();
    let mut used: BTreeMap<&str, i64> = BTreeMap::new();
    let mut placed: BTreeMap<&str, i64> = BTreeMap::new();
    let mut cost: i128 = 0;
    for (n, sheet) in layout.sheets.iter().enumerate() {
        let Some(kind) = kinds.get(sheet.sheet_id.as_str()) else {
            faults.push(SheetFault::UnknownSheet { sheet: n, id: sheet.sheet_id.clone() });
            continue;
        };
        *used.entry(&kind.id).or_default() += 1;
        cost += i128::from(kind.price);
        if sheet.placements.is_empty() {
            faults.push(SheetFault::EmptySheet { sheet: n });
            continue;
        }
        for p in &sheet.placements {
            match parts.get(p.part_id.as_str()) {
                Some(part) => {
                    *placed.entry(&part.id).or_default() += 1;
                    judge_placement(job, kind, part, p, n, &mut faults);
                }
                None => faults.push(SheetFault::UnknownPart { sheet: n, id: p.part_id.clone() }),
            }
        }
        judge_gaps(job.kerf, sheet, n, &mut faults);
        if let Some(stuck) = stuck(&sheet.placements, job.kerf) {
            faults.push(SheetFault::NotGuillotine { sheet: n, parts: stuck });
        }
        if let Some(cut) = &sheet.cut {
            judge_tree(job, kind, sheet, cut, n, &mut faults);
        }
    }
    for (id, &used) in &used {
        if let Some(stock) = kinds[id].qty
            && used > stock
        {
            faults.push(SheetFault::StockExceeded { id: (*id).into(), used, stock });
        }
    }
    for p in &job.parts {
        let placed = placed.get(p.id.as_str()).copied().unwrap_or(0);
        if placed != p.qty {
            faults.push(SheetFault::WrongCount { id: p.id.clone(), placed, wanted: p.qty });
        }
    }
    if let Some(c) = &layout.claims {
        let count = layout.sheets.len() as i64;
        if c.sheets != count {
            faults.push(SheetFault::WrongClaim { what: "sheets", claimed: c.sheets, measured: count });
        }
        if i128::from(c.cost) != cost {
            let measured = i64::try_from(cost).unwrap_or(i64::MAX);
            faults.push(SheetFault::WrongClaim { what: "cost", claimed: c.cost, measured });
        }
    }
    faults
}

fn judge_placement(
    job: &SheetJob,
    kind: &SheetKind,
    part: &Part,
    p: &Placement,
    sheet: usize,
    faults: &mut Vec<SheetFault>,
) {
    let id = || part.id.clone();
    if (p.w, p.h) != (part.w, part.h) {
        if (p.w, p.h) != (part.h, part.w) {
            let (want_w, want_h) = (part.w, part.h);
            faults.push(SheetFault::WrongSize { sheet, id: id(), w: p.w, h: p.h, want_w, want_h });
        } else if !part.can_rotate {
            faults.push(SheetFault::AgainstGrain { sheet, id: id() });
        }
    }
    let t = i128::from(job.trim);
    let inside = |at: i64, size: i64, whole: i64| {
        i128::from(at) >= t && i128::from(at) + i128::from(size) <= i128::from(whole) - t
    };
    if !inside(p.x, p.w, kind.w) || !inside(p.y, p.h, kind.h) {
        faults.push(SheetFault::LeavesSheet { sheet, id: id(), x: p.x, y: p.y });
    }
    // A layout made elsewhere may leave the members out: they follow from the part.
    if !p.members.is_empty() && !members_follow(job.kerf, part, p) {
        faults.push(SheetFault::WrongMembers { sheet, id: id() });
    }
}

fn members_follow(kerf: i64, part: &Part, p: &Placement) -> bool {
    if p.members.len() != part.members.len() {
        return false;
    }
    let (mut x, mut y) = (i128::from(p.x), i128::from(p.y));
    for (m, want) in p.members.iter().zip(&part.members) {
        let size = if part.members_along == Axis::Y { (p.w, want.length) } else { (want.length, p.h) };
        if m.id != want.id || (i128::from(m.x), i128::from(m.y)) != (x, y) || (m.w, m.h) != size {
            return false;
        }
        let step = i128::from(want.length) + i128::from(kerf);
        if part.members_along == Axis::Y { y += step } else { x += step }
    }
    true
}

fn judge_gaps(kerf: i64, sheet: &Sheet, n: usize, faults: &mut Vec<SheetFault>) {
    let mut order: Vec<&Placement> = sheet.placements.iter().collect();
    order.sort_by_key(|p| (p.x, p.y));
    for (i, a) in order.iter().enumerate() {
        for b in &order[i + 1..] {
            let gap_x = b.x.saturating_sub(a.x.saturating_add(a.w));
            if gap_x >= kerf && gap_x >= 0 {
                break;
            }
            let top = a.y.max(b.y);
            let low = a.y.saturating_add(a.h).min(b.y.saturating_add(b.h));
            let gap_y = top.saturating_sub(low);
            let (a, b) = (a.part_id.clone(), b.part_id.clone());
            if gap_x < 0 && gap_y < 0 {
                faults.push(SheetFault::Overlap { sheet: n, a, b });
            } else if gap_x < kerf && gap_y < kerf {
                faults.push(SheetFault::CloserThanKerf { sheet: n, a, b, gap: gap_x.max(gap_y), kerf });
            }
        }
    }
}

/// A set of parts that no edge-to-edge cut of full kerf divides, or `None` when all come free. Dividing by any
/// cut that there is loses nothing: a part of a separable set is separable.
fn stuck(placements: &[Placement], kerf: i64) -> Option<Vec<String>> {
    let mut stack: Vec<Vec<&Placement>> = vec![placements.iter().collect()];
    while let Some(set) = stack.pop() {
        if set.len() < 2 {
            continue;
        }
        let mut groups = divide(&set, kerf, |p| (p.x, p.w));
        if groups.len() == 1 {
            groups = divide(&set, kerf, |p| (p.y, p.h));
        }
        if groups.len() == 1 {
            return Some(set.iter().map(|p| p.part_id.clone()).collect());
        }
        stack.extend(groups);
    }
    None
}

fn divide<'a>(
    set: &[&'a Placement],
    kerf: i64,
    span: impl Fn(&Placement) -> (i64, i64),
) -> Vec<Vec<&'a Placement>> {
    let mut order = set.to_vec();
    order.sort_by_key(|p| span(p));
    let mut groups: Vec<Vec<&Placement>> = Vec::new();
    let mut reach = 0;
    for p in order {
        let (at, size) = span(p);
        let end = at.saturating_add(size);
        match groups.last_mut() {
            Some(group) if at < reach || at.saturating_sub(reach) < kerf => {
                group.push(p);
                reach = reach.max(end);
            }
            _ => {
                groups.push(vec![p]);
                reach = end;
            }
        }
    }
    groups
}

fn judge_tree(
    job: &SheetJob,
    kind: &SheetKind,
    sheet: &Sheet,
    cut: &Piece,
    n: usize,
    faults: &mut Vec<SheetFault>,
) {
    let t = job.trim;
    let usable = [t, t, kind.w.saturating_sub(2 * t), kind.h.saturating_sub(2 * t)];
    if [cut.x, cut.y, cut.w, cut.h] != usable {
        faults.push(SheetFault::BadCut {
            sheet: n,
            x: cut.x,
            y: cut.y,
            why: "is not the sheet less its trim",
        });
        return;
    }
    let mut freed = Vec::new();
    let mut stages = 0;
    let mut stack = vec![(cut, 0)];
    while let Some((piece, depth)) = stack.pop() {
        stages = stages.max(depth);
        match &piece.becomes {
            Becomes::Part(id) => freed.push((id.as_str(), piece.x, piece.y, piece.w, piece.h)),
            Becomes::Waste => {}
            Becomes::Cut(axis, pieces) => {
                if let Some(why) = bad_cut(job.kerf, piece, *axis, pieces) {
                    faults.push(SheetFault::BadCut { sheet: n, x: piece.x, y: piece.y, why });
                }
                stack.extend(pieces.iter().map(|p| (p, depth + 1)));
            }
        }
    }
    let mut placed: Vec<_> =
        sheet.placements.iter().map(|p| (p.part_id.as_str(), p.x, p.y, p.w, p.h)).collect();
    placed.sort_unstable();
    freed.sort_unstable();
    if placed != freed {
        faults.push(SheetFault::CutsOtherParts { sheet: n });
    }
    if let Some(limit) = job.max_stages
        && stages > limit
    {
        faults.push(SheetFault::TooManyStages { sheet: n, stages, limit });
    }
}

/// Why the pieces do not follow from parallel cuts of `piece` along `axis`, if they do not.
fn bad_cut(kerf: i64, piece: &Piece, axis: Axis, pieces: &[Piece]) -> Option<&'static str> {
    let along = |p: &Piece| if axis == Axis::X { (p.x, p.w) } else { (p.y, p.h) };
    let across = |p: &Piece| if axis == Axis::X { (p.y, p.h) } else { (p.x, p.w) };
    let (start, size) = along(piece);
    let end = i128::from(start) + i128::from(size);
    let mut at = i128::from(start);
    if pieces.is_empty() {
        return Some("is cut into no pieces");
    }
    for (i, p) in pieces.iter().enumerate() {
        if across(p) != across(piece) {
            return Some("is cut into a piece that does not reach from edge to edge");
        }
        let (a, s) = along(p);
        if i128::from(a) != at {
            return Some(if i == 0 {
                "has a gap before its first piece"
            } else {
                "has pieces that are not one kerf apart"
            });
        }
        if s < 0 || (s == 0 && p.becomes != Becomes::Waste) {
            return Some("is cut into a piece without size");
        }
        at += i128::from(s);
        if at > end {
            return Some("is cut into more than it holds");
        }
        if i + 1 < pieces.len() {
            at += i128::from(kerf);
        }
    }
    let left = end - at;
    (left > i128::from(kerf)).then_some("has an end that no piece accounts for")
}
