//! The quick answer: parts in falling order, each into the rest where the least worth of waste is lost.

use super::problem::Problem;
use super::tree::{Offer, Tree};

/// Sheets that are still looked at for the next part; older ones that did not take it are nearly full. It keeps
/// the time for many thousand parts linear in their number.
const OPEN: usize = 1000;

/// A layout of all parts that the stock can hold, and the sizes (with repetition) that it cannot.
pub(crate) fn insert_all(p: &Problem) -> (Vec<Tree>, Vec<usize>) {
    let mut best: Option<(Vec<Tree>, Vec<usize>)> = None;
    for order in orders(p) {
        for prefer in preferences(p) {
            let found = insert_in(p, &order, &prefer);
            let better = best
                .as_ref()
                .is_none_or(|b| (lost(p, &found.1), cost(p, &found.0)) < (lost(p, &b.1), cost(p, &b.0)));
            if better {
                best = Some(found);
            }
        }
    }
    best.unwrap_or_default()
}

pub(crate) fn cost(p: &Problem, trees: &[Tree]) -> i128 {
    trees.iter().map(|t| i128::from(p.stocks[t.stock as usize].price)).sum()
}

fn lost(p: &Problem, left: &[usize]) -> u64 {
    left.iter().map(|&n| (p.sizes[n].area * 1e9) as u64).sum()
}

/// Orders of sizes that do well on different jobs: falling area, longer side, shorter side.
fn orders(p: &Problem) -> Vec<Vec<usize>> {
    let sorted = |key: &dyn Fn(usize) -> (i128, i128)| {
        let mut o: Vec<usize> = (0..p.sizes.len()).collect();
        o.sort_by_key(|&n| std::cmp::Reverse(key(n)));
        o
    };
    let side = |n: usize| (i128::from(p.sizes[n].w), i128::from(p.sizes[n].h));
    let mut all = vec![sorted(&|n| (side(n).0 * side(n).1, side(n).0))];
    if p.pieces() <= 2000 {
        all.push(sorted(&|n| (side(n).0.max(side(n).1), side(n).0.min(side(n).1))));
        all.push(sorted(&|n| (side(n).0.min(side(n).1), side(n).0.max(side(n).1))));
        all.push(sorted(&|n| (side(n).0, side(n).1)));
        all.push(sorted(&|n| (side(n).1, side(n).0)));
    }
    all
}

/// Orders in which kinds of sheet are opened: cheapest by area first, and each kind before the others.
fn preferences(p: &Problem) -> Vec<Vec<usize>> {
    let mut base: Vec<usize> = (0..p.stocks.len()).collect();
    base.sort_by(|&a, &b| {
        let rate = |i: usize| p.stocks[i].price as f64 / p.stocks[i].area;
        rate(a).total_cmp(&rate(b)).then(p.stocks[b].area.total_cmp(&p.stocks[a].area)).then(a.cmp(&b))
    });
    let mut all = vec![base.clone()];
    for &first in base.iter().skip(1).take(7) {
        let mut o = base.clone();
        o.retain(|&i| i != first);
        o.insert(0, first);
        all.push(o);
    }
    all
}

fn insert_in(p: &Problem, order: &[usize], prefer: &[usize]) -> (Vec<Tree>, Vec<usize>) {
    let mut trees: Vec<Tree> = Vec::new();
    let mut taken = vec![0usize; p.stocks.len()];
    let mut left = Vec::new();
    for &n in order {
        let size = &p.sizes[n];
        let mut offers: Vec<Option<Offer>> = Vec::new();
        let from = trees.len().saturating_sub(OPEN);
        offers.resize(trees.len() - from, None);
        'pieces: for _ in 0..size.qty {
            let mut best: Option<(usize, f64)> = None;
            for (i, o) in offers.iter_mut().enumerate() {
                let o = o.get_or_insert_with(|| trees[from + i].offer(size, p));
                if o.count > 0 && best.is_none_or(|b| o.loss < b.1) {
                    best = Some((i, o.loss));
                }
            }
            if let Some((i, _)) = best
                && let Some(o) = offers[i].take()
            {
                trees[from + i].insert(n, size, o.way, p.scale);
                continue;
            }
            for &k in prefer {
                if taken[k] < p.stocks[k].qty {
                    let mut tree = Tree::new(p, k);
                    let o = tree.offer(size, p);
                    if o.count > 0 {
                        taken[k] += 1;
                        tree.insert(n, size, o.way, p.scale);
                        trees.push(tree);
                        offers.push(None);
                        continue 'pieces;
                    }
                }
            }
            left.push(n);
        }
    }
    (trees, left)
}
