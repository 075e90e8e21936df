//! On rounded sizes: pieces are pushed apart until nothing overlaps, and no gap has changed by more than the
//! roundings of the pieces that were pushed against each other.

use std::collections::BTreeSet;

use crate::piece::{Piece, overlaps};

/// Joints have gaps below this; wider spaces are rooms, which many chains run through.
const JOINT: i64 = 12_000_000;
/// What goes into a space that is there already.
const INTO: [&str; 8] =
    ["back", "shelf", "panel", "drawer bottom", "drawer side", "drawer box front", "drawer box back", "arm"];
/// More pushes than any chain of pieces is long.
const PUSHES: usize = 400;

/// What is wrong with the rounded pieces, a line each.
pub fn faults(exact: &[Piece], rounded: &[Piece], step: i64) -> Vec<String> {
    let mut faults = Vec::new();
    let off = |i: usize, axis: usize| (rounded[i].whole.size(axis) - exact[i].whole.size(axis)).abs();
    for (i, piece) in rounded.iter().enumerate() {
        for axis in 0..3 {
            if off(i, axis) >= step {
                faults.push(format!("{} is rounded by {} nm", piece.role, off(i, axis)));
            }
        }
        let grown = (0..3).any(|axis| rounded[i].whole.size(axis) > exact[i].whole.size(axis));
        if grown && INTO.contains(&piece.name.as_str()) {
            faults.push(format!("{} goes into a space and is rounded up", piece.role));
        }
        if piece.whole.is_empty() {
            faults.push(format!("{} is rounded to nothing", piece.role));
        }
    }
    let mut placed = rounded.to_vec();
    // for each axis and piece: whose roundings have moved it
    let mut chains: Vec<[BTreeSet<usize>; 3]> =
        (0..placed.len()).map(|i| [0, 1, 2].map(|_| BTreeSet::from([i]))).collect();
    let mut pushes = 0;
    while let Some(overlap) = first_overlap(&placed) {
        let most = |axis: usize| -> i64 {
            union(&chains, overlap.pair[0], overlap.pair[1], axis).iter().map(|&i| off(i, axis)).sum()
        };
        // the way in which roundings can have made it, else the way in which they do least
        let ways = || (0..3).filter(|&axis| overlap.shared[axis] <= most(axis));
        let least = |axis: &usize| overlap.shared[*axis];
        let axis = ways().min_by_key(least).or_else(|| (0..3).min_by_key(least)).unwrap_or(0);
        let (depth, most) = (overlap.shared[axis], most(axis));
        let [a, b] = overlap.pair;
        let (low, high) = if overlap.first_is_low[axis] { (a, b) } else { (b, a) };
        let both = union(&chains, low, high, axis);
        if depth > most || pushes > PUSHES {
            faults.push(format!(
                "{} and {} stand {depth} nm in each other along {axis}, and their roundings sum to {most}",
                placed[low].role, placed[high].role
            ));
            return faults;
        }
        let mut by = [0; 3];
        by[axis] = depth;
        placed[high] = placed[high].moved(by);
        chains[high][axis] = both;
        pushes += 1;
    }
    faults.extend(overlaps(&placed));
    for i in 0..placed.len() {
        for j in (0..placed.len()).filter(|&j| j != i) {
            for axis in 0..3 {
                let (Some(was), Some(is)) =
                    (exact[i].gap_to(&exact[j], axis), placed[i].gap_to(&placed[j], axis))
                else {
                    continue;
                };
                let both = union(&chains, i, j, axis);
                let most: i64 = both.iter().map(|&p| off(p, axis)).sum();
                // halves of odd nanometres
                if was < JOINT && (is - was).abs() > most + 2 {
                    faults.push(format!(
                        "the gap from {} to {} along {axis} went from {was} to {is} nm by roundings of {most}",
                        placed[i].role, placed[j].role
                    ));
                }
            }
        }
    }
    faults
}

/// Whose roundings have moved either of two pieces along an axis.
fn union(chains: &[[BTreeSet<usize>; 3]], a: usize, b: usize, axis: usize) -> BTreeSet<usize> {
    chains[a][axis].union(&chains[b][axis]).copied().collect()
}

/// Two pieces that share material: how much along each axis, and whether the first of them is the lower one there.
struct Overlap {
    pair: [usize; 2],
    shared: [i64; 3],
    first_is_low: [bool; 3],
}

/// The first pair that shares material.
fn first_overlap(pieces: &[Piece]) -> Option<Overlap> {
    for (i, a) in pieces.iter().enumerate() {
        for (j, b) in pieces.iter().enumerate().skip(i + 1) {
            if a.whole.meet(&b.whole).is_empty() {
                continue;
            }
            for (x, y) in a.left.iter().flat_map(|x| b.left.iter().map(move |y| (x, y))) {
                let shared = x.meet(y);
                if shared.is_empty() {
                    continue;
                }
                return Some(Overlap {
                    pair: [i, j],
                    shared: [0, 1, 2].map(|axis| shared.size(axis)),
                    first_is_low: [0, 1, 2].map(|k| x.min[k] + x.max[k] <= y.min[k] + y.max[k]),
                });
            }
        }
    }
    None
}
