//! Worktops: a leg a run, as far as its units are no taller, with cut-outs for sinks.

use dryfit_measure::{Dim, Key, Pointer};
use dryfit_plan::{Form, UnitKind};

use super::along::{Spread, Terms};
use super::plot::Plot;
use super::rows::RowEnd;
use super::stack::is_under_top;
use super::{Cutout, PlacedTop, TopEnd, TopLeg};
use crate::figures::Figures;

/// A leg with what the outline needs of it.
struct Leg {
    row: usize,
    placed: TopLeg,
}

impl Leg {
    /// Whether it goes on round the corner on a side, into the leg before or after it.
    fn joined(&self, side: usize) -> bool {
        matches!(self.placed.ends[side], TopEnd::Corner { .. })
    }
}

/// All worktops; one that a tall unit parts is several of the same key.
pub(super) fn tops(terms: &Terms<'_, '_>, spreads: &[Spread]) -> Vec<PlacedTop> {
    let mut placed = Vec::new();
    for key in terms.plan.tops.keys() {
        let legs = legs(terms, spreads, key);
        let stack = &terms.stack.tops[key];
        let gap = Figures::of_top(terms.plan, key).dim("top-wall-gap");
        let mut pieces: Vec<Vec<Leg>> = Vec::new();
        for leg in legs {
            match pieces.last_mut() {
                Some(piece) if leg.joined(0) && piece.last().is_some_and(|last| last.joined(1)) => {
                    piece.push(leg);
                }
                _ => pieces.push(vec![leg]),
            }
        }
        for piece in pieces {
            placed.push(PlacedTop {
                key: key.clone(),
                upper: stack.upper.clone(),
                thickness: stack.thickness.clone(),
                outline: outline(terms, &piece, gap.length().as_mm_f64()),
                legs: piece.into_iter().map(|leg| leg.placed).collect(),
            });
        }
    }
    placed
}

/// The legs of a worktop, left to right as seen from inside the room.
fn legs(terms: &Terms<'_, '_>, spreads: &[Spread], key: &Key) -> Vec<Leg> {
    let over = |i: &usize| terms.plan.tops[key].over.contains(terms.rows[*i].key);
    let mut rows: Vec<usize> = (0..terms.rows.len()).filter(over).collect();
    // from one corner to the next; a ring begins with the first as stated
    let stated = |i: &usize| terms.plan.tops[key].over.iter().position(|run| run == terms.rows[*i].key);
    rows.sort_by_key(stated);
    let rows = in_order(terms, &rows);
    let depths: Vec<Option<Dim>> = rows.iter().map(|&i| depth(terms, key, i)).collect();
    let mut legs = Vec::new();
    for (at, &i) in rows.iter().enumerate() {
        let Some(depth) = &depths[at] else { continue };
        for [first, last] in stretches(terms, i) {
            let ends = [0, 1].map(|side| end(terms, spreads, key, (&rows, &depths), at, side, [first, last]));
            let [(from, left), (to, right)] = ends;
            let run = terms.rows[i].key;
            let named = |dim: Dim, name: &str| dim.named(name).placed(format!("{key} on {run}"));
            let placed = TopLeg {
                run: run.clone(),
                from: named(from, "left end"),
                to: named(to, "right end"),
                depth: depth.clone(),
                ends: [left, right],
                cutouts: cutouts(terms, &spreads[i], key, i, [first, last], depth),
            };
            legs.push(Leg { row: i, placed });
        }
    }
    legs
}

/// Rows so that each is followed by the one round the corner on its right.
fn in_order(terms: &Terms<'_, '_>, rows: &[usize]) -> Vec<usize> {
    let next = |i: usize| match terms.rows[i].ends[1] {
        RowEnd::Corner { with, .. } if rows.contains(&with) => Some(with),
        _ => None,
    };
    let begins = |i: &usize| !rows.iter().any(|&other| next(other) == Some(*i));
    let mut order: Vec<usize> = Vec::new();
    for start in rows.iter().filter(|i| begins(i)).chain(rows) {
        let mut here = Some(*start);
        while let Some(i) = here.filter(|i| !order.contains(i)) {
            order.push(i);
            here = next(i);
        }
    }
    order
}

/// The stretches of a row that carry its worktop: first and last unit of each.
fn stretches(terms: &Terms<'_, '_>, i: usize) -> Vec<[usize; 2]> {
    let row = &terms.rows[i];
    let tops = row.units.iter().filter(|(_, unit)| is_under_top(unit.kind));
    let tops = tops.map(|(key, _)| terms.stack.top_of(i, key).length());
    let Some(level) = tops.max() else { return Vec::new() };
    let carries = |k: &usize| {
        let (key, unit) = row.units[*k];
        !unit.kind.is_tall() && unit.kind != UnitKind::Bench && terms.stack.top_of(i, key).length() <= level
    };
    let mut stretches: Vec<[usize; 2]> = Vec::new();
    for k in (0..row.units.len()).filter(carries) {
        match stretches.last_mut() {
            Some([_, last]) if *last + 1 == k => *last = k,
            _ => stretches.push([k, k]),
        }
    }
    stretches
}

/// From the wall to the front edge of the leg over a row; none where nothing carries it.
fn depth(terms: &Terms<'_, '_>, key: &Key, i: usize) -> Option<Dim> {
    let row = &terms.rows[i];
    let planes = row.units.iter().filter(|(_, unit)| is_under_top(unit.kind));
    let mut all: Vec<Dim> = Vec::new();
    for plane in planes.map(|(unit, _)| terms.depths[*unit].plane()) {
        if !all.iter().any(|known| super::along::same_sum(known, &plane)) {
            all.push(plane);
        }
    }
    let plane = match all.as_slice() {
        [one] => one.clone(),
        _ => Dim::greatest_of(all)?,
    };
    let overhang = Figures::of_top(terms.plan, key).dim("top-overhang");
    Some((plane + overhang).named("depth").placed(format!("{key} on {}", row.key)))
}

/// Where a leg ends on one side, and at what.
fn end(
    terms: &Terms<'_, '_>,
    spreads: &[Spread],
    key: &Key,
    (rows, depths): (&[usize], &[Option<Dim>]),
    at: usize,
    side: usize,
    stretch: [usize; 2],
) -> (Dim, TopEnd) {
    let i = rows[at];
    let (row, shared) = (&terms.rows[i], &spreads[i].shared);
    let figures = Figures::of_top(terms.plan, key);
    let sign = if side == 0 { 1 } else { -1 };
    let edge = if side == 0 { shared.edges[stretch[0]].clone() } else { shared.right(stretch[1]) };
    let at_end = if side == 0 { stretch[0] == 0 } else { stretch[1] + 1 == row.units.len() };
    if !at_end {
        // against a taller unit: touching is legal
        return (edge, TopEnd::Unit);
    }
    let to_wall = || &terms.top_edge(i, side, key, depths[at].as_ref()) + figures.dim("top-wall-gap") * sign;
    match &row.ends[side] {
        RowEnd::Wall => (to_wall(), TopEnd::Wall),
        RowEnd::Corner { with, owns: true } => {
            let joined = rows.iter().position(|row| row == with).is_some_and(|k| depths[k].is_some());
            let corner = TopEnd::Corner { with: terms.rows[*with].key.clone(), owns: true };
            (to_wall(), if joined { corner } else { TopEnd::Wall })
        }
        RowEnd::Corner { with, .. } => {
            let other = rows.iter().position(|row| row == with).and_then(|k| depths[k].clone());
            match (other, &depths[at]) {
                (Some(other), Some(own)) => {
                    let corner = TopEnd::Corner { with: terms.rows[*with].key.clone(), owns: false };
                    (terms.top_reach(i, side, key, [&other, own]), corner)
                }
                _ => (edge, TopEnd::Unit),
            }
        }
        RowEnd::Free(_) | RowEnd::Open => (edge - figures.dim("top-overhang-free") * sign, TopEnd::Free),
        RowEnd::Unit { .. } => (edge, TopEnd::Unit),
    }
}

/// Cut-outs of the sinks under a leg: each centred in its unit, its front edge behind the worktop's.
fn cutouts(
    terms: &Terms<'_, '_>,
    spread: &Spread,
    top: &Key,
    i: usize,
    [first, last]: [usize; 2],
    depth: &Dim,
) -> Vec<Cutout> {
    let mut cutouts = Vec::new();
    for (k, (key, unit)) in terms.rows[i].units.iter().enumerate().take(last + 1).skip(first) {
        let good = unit.holds.as_ref().and_then(|good| terms.plan.goods.get_key_value(good));
        let Some((good_key, good)) = good else { continue };
        let Form::Sink { cutout_width, cutout_depth, .. } = &good.form else { continue };
        let at = Pointer::root().child("goods").child(good_key).child("form").child("sink");
        let template = |name: &str, length| {
            let what = format!("cut-out {}", name.trim_start_matches("cutout_"));
            Dim::taped(length, at.child(name)).named(what).placed(good.name.as_str())
        };
        let width = template("cutout_width", cutout_width.length);
        let deep = template("cutout_depth", cutout_depth.length);
        let web = Figures::of_top(terms.plan, top).dim("sink-web-front");
        let beside = (&spread.shared.widths[k] - &width).split(2).swap_remove(0);
        let left = &spread.shared.edges[k] + beside;
        cutouts.push(Cutout {
            unit: (*key).clone(),
            left: left.named("left edge of the cut-out").placed(key.as_str()),
            back: (depth - web - &deep).named("cut-out from the wall").placed(key.as_str()),
            width,
            depth: deep,
        });
    }
    cutouts
}

/// The outline of joined legs on the floor plan, counter-clockwise, mm.
fn outline(terms: &Terms<'_, '_>, piece: &[Leg], gap: f64) -> Vec<[f64; 2]> {
    let plots: Vec<Plot> =
        piece.iter().filter_map(|leg| Plot::of(terms.survey, terms.rows[leg.row].wall)).collect();
    if plots.len() < piece.len() {
        return Vec::new();
    }
    let (mut back, mut front) = (Vec::new(), Vec::new());
    for (k, (leg, plot)) in piece.iter().zip(&plots).enumerate() {
        let (from, to) = (leg.placed.from.length().as_mm_f64(), leg.placed.to.length().as_mm_f64());
        let (behind, before) = (gap, leg.placed.depth.length().as_mm_f64());
        if let Some((last, other)) = k.checked_sub(1).map(|j| (&piece[j], &plots[j])) {
            back.push(other.meet(gap, plot, behind));
            front.push(other.meet(last.placed.depth.length().as_mm_f64(), plot, before));
        } else {
            back.push(plot.at(from, behind));
            front.push(plot.at(from, before));
        }
        if k + 1 == piece.len() {
            back.push(plot.at(to, behind));
            front.push(plot.at(to, before));
        }
    }
    // along the fronts from left to right the room lies behind us: back along the walls closes it
    front.extend(back.into_iter().rev());
    front
}
