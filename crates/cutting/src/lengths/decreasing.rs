//! The quick answer: longest piece first, each into the bar that it leaves the least of (best-fit decreasing),
//! over several priced stocks.

use super::problem::{Pattern, Plan, Problem};
use std::collections::{BTreeMap, BTreeSet};

struct Open {
    stock: usize,
    pieces: BTreeMap<usize, i64>,
}

/// A plan for `demand` pieces of each size out of `stock` bars of each kind, and the pieces left for want of
/// stock. Every kind is tried as the first to be opened, and each bar is then exchanged for the cheapest that
/// holds the same.
pub(crate) fn best_fit(p: &Problem, demand: &[i64], stock: &[i64]) -> (Plan, Vec<i64>) {
    let mut by_rate: Vec<usize> = (0..p.stocks.len()).collect();
    by_rate.sort_by_key(|&k| {
        let s = &p.stocks[k];
        // Price a unit of length, as an exact fraction scaled; ties to the longer bar.
        (i128::from(s.price) * 1_000_000_000_000 / i128::from(s.length.max(1)), -s.length)
    });
    let mut best: Option<(i64, i128, Plan, Vec<i64>)> = None;
    for first in 0..by_rate.len().min(12) {
        let mut order = by_rate.clone();
        let k = order.remove(first);
        order.insert(0, k);
        let (plan, left) = fit(p, demand, stock, &order);
        let lost: i64 = left.iter().zip(&p.sizes).map(|(n, s)| n.saturating_mul(s.length)).sum();
        let cost = p.cost(&plan);
        if best.as_ref().is_none_or(|b| (lost, cost) < (b.0, b.1)) {
            best = Some((lost, cost, plan, left));
        }
    }
    best.map_or_else(|| (Plan::new(), demand.to_vec()), |b| (b.2, b.3))
}

fn fit(p: &Problem, demand: &[i64], stock: &[i64], order: &[usize]) -> (Plan, Vec<i64>) {
    let mut bars: Vec<Open> = Vec::new();
    // Open bars by what is left of them, then by number: the best fit is the first that is long enough.
    let mut rests: BTreeSet<(i64, usize)> = BTreeSet::new();
    let mut taken = vec![0i64; p.stocks.len()];
    let mut left = vec![0i64; p.sizes.len()];
    for (n, size) in p.sizes.iter().enumerate() {
        for _ in 0..demand[n] {
            let fit = rests.range((size.length, 0)..).next().copied();
            let (rest, i) = if let Some(key) = fit {
                rests.remove(&key);
                key
            } else {
                let open = order.iter().find(|&&k| taken[k] < stock[k] && p.stocks[k].length >= size.length);
                let Some(&k) = open else {
                    left[n] += 1;
                    continue;
                };
                taken[k] += 1;
                bars.push(Open { stock: k, pieces: BTreeMap::new() });
                (p.stocks[k].length, bars.len() - 1)
            };
            *bars[i].pieces.entry(n).or_default() += 1;
            rests.insert((rest - size.length, i));
        }
    }
    let mut plan = Plan::new();
    for b in bars {
        let used: i64 = b.pieces.iter().map(|(&n, &q)| p.sizes[n].length * q).sum();
        let cheapest = (0..p.stocks.len())
            .filter(|&k| p.stocks[k].length >= used && (k == b.stock || taken[k] < stock[k]))
            .min_by_key(|&k| (p.stocks[k].price, p.stocks[k].length))
            .unwrap_or(b.stock);
        taken[b.stock] -= 1;
        taken[cheapest] += 1;
        let pattern = Pattern { stock: cheapest, pieces: b.pieces.into_iter().collect() };
        *plan.entry(pattern).or_default() += 1;
    }
    (plan, left)
}
