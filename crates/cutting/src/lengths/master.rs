//! The master problem of column generation (Gilmore & Gomory 1961): how many bars of each pattern, fractions
//! allowed. A revised simplex on a dense inverse; new patterns are priced by the knapsack.

use super::knapsack::{Item, fill};
use super::problem::{Pattern, Problem};
use std::collections::{BTreeMap, BTreeSet};

/// What is still to be cut, and the bars that may still be taken.
#[derive(Clone, Debug)]
pub(crate) struct Residual {
    pub demand: Vec<i64>,
    pub stock: Vec<i64>,
}

/// Every pattern met so far.
#[derive(Default)]
pub(crate) struct Pool {
    pub patterns: Vec<Pattern>,
    known: BTreeSet<Pattern>,
}

impl Pool {
    /// Add a pattern; its index, unless it was known.
    pub fn add(&mut self, p: Pattern) -> Option<usize> {
        if !self.known.insert(p.clone()) {
            return None;
        }
        self.patterns.push(p);
        Some(self.patterns.len() - 1)
    }
}

/// A fractional optimum.
pub(crate) struct Relaxed {
    pub value: f64,
    /// Index of the pattern and how many bars, those over 0.
    pub bars: Vec<(usize, f64)>,
    /// Value of one piece of each size.
    pub duals: Vec<f64>,
    /// Whether all is cut.
    pub covers: bool,
    /// Whether no pattern was left that would better it: `value` is the least there is.
    pub least: bool,
}

#[derive(Clone, Copy, PartialEq)]
enum Var {
    /// Stands in for pieces of a row that nothing cuts yet.
    Missing(usize),
    /// More pieces of a row than wanted.
    Surplus(usize),
    /// Bars of a limited stock that are not used.
    Spare(usize),
    Pattern(usize),
}

struct Simplex<'a> {
    p: &'a Problem,
    m: usize,
    /// Row of each size that is still wanted.
    row_of: BTreeMap<usize, usize>,
    sizes: Vec<usize>,
    /// Row of each stock that is limited.
    stock_row: BTreeMap<usize, usize>,
    basis: Vec<Var>,
    inverse: Vec<f64>,
    right: Vec<f64>,
    x: Vec<f64>,
    missing_cost: f64,
}

const EPS: f64 = 1e-9;

impl Simplex<'_> {
    fn cost(&self, v: Var, pool: &Pool) -> f64 {
        match v {
            Var::Missing(_) => self.missing_cost,
            Var::Surplus(_) | Var::Spare(_) => 0.0,
            Var::Pattern(i) => self.p.stocks[pool.patterns[i].stock].price as f64,
        }
    }

    fn column(&self, v: Var, pool: &Pool) -> Vec<(usize, f64)> {
        match v {
            Var::Missing(r) | Var::Spare(r) => vec![(r, 1.0)],
            Var::Surplus(r) => vec![(r, -1.0)],
            Var::Pattern(i) => {
                let pattern = &pool.patterns[i];
                let mut c: Vec<(usize, f64)> =
                    pattern.pieces.iter().map(|&(n, q)| (self.row_of[&n], q as f64)).collect();
                if let Some(&r) = self.stock_row.get(&pattern.stock) {
                    c.push((r, 1.0));
                }
                c
            }
        }
    }

    fn duals(&self, pool: &Pool) -> Vec<f64> {
        let mut y = vec![0.0; self.m];
        for (r, &v) in self.basis.iter().enumerate() {
            let c = self.cost(v, pool);
            if c != 0.0 {
                for (j, y) in y.iter_mut().enumerate() {
                    *y += c * self.inverse[r * self.m + j];
                }
            }
        }
        y
    }

    /// Bring `v` into the basis; false when no row limits it or the pivot is too small.
    fn enter(&mut self, v: Var, pool: &Pool) -> bool {
        let m = self.m;
        let column = self.column(v, pool);
        let mut d = vec![0.0; m];
        for (r, d) in d.iter_mut().enumerate() {
            *d = column.iter().map(|&(j, c)| self.inverse[r * m + j] * c).sum();
        }
        let mut leave: Option<usize> = None;
        for r in 0..m {
            if d[r] > 1e-7 {
                let better = leave.is_none_or(|l| {
                    let (a, b) = (self.x[r] / d[r], self.x[l] / d[l]);
                    a < b - 1e-12 || (a <= b + 1e-12 && d[r] > d[l])
                });
                if better {
                    leave = Some(r);
                }
            }
        }
        let Some(l) = leave else { return false };
        let step = self.x[l].max(0.0) / d[l];
        let pivot = 1.0 / d[l];
        for j in 0..m {
            self.inverse[l * m + j] *= pivot;
        }
        let row: Vec<f64> = self.inverse[l * m..(l + 1) * m].to_vec();
        for (r, &f) in d.iter().enumerate() {
            if r != l && f != 0.0 {
                self.x[r] -= f * step;
                for (a, b) in self.inverse[r * m..(r + 1) * m].iter_mut().zip(&row) {
                    *a -= f * b;
                }
            }
        }
        self.x[l] = step;
        self.basis[l] = v;
        true
    }
}

/// Solve the fractional problem for what is left, pricing patterns until none betters it.
pub(crate) fn relax(p: &Problem, pool: &mut Pool, left: &Residual) -> Relaxed {
    let sizes: Vec<usize> = (0..p.sizes.len()).filter(|&n| left.demand[n] > 0).collect();
    let limited: Vec<usize> =
        (0..p.stocks.len()).filter(|&k| left.stock[k] < left.demand.iter().sum::<i64>()).collect();
    let m = sizes.len() + limited.len();
    let top = p.stocks.iter().map(|s| s.price).max().unwrap_or(1).max(1) as f64;
    let mut inverse = vec![0.0; m * m];
    for r in 0..m {
        inverse[r * m + r] = 1.0;
    }
    let mut right: Vec<f64> = sizes.iter().map(|&n| left.demand[n] as f64).collect();
    right.extend(limited.iter().map(|&k| left.stock[k] as f64));
    let mut basis: Vec<Var> = (0..sizes.len()).map(Var::Missing).collect();
    basis.extend((sizes.len()..m).map(Var::Spare));
    let mut s = Simplex {
        p,
        m,
        row_of: sizes.iter().enumerate().map(|(r, &n)| (n, r)).collect(),
        stock_row: limited.iter().enumerate().map(|(i, &k)| (k, sizes.len() + i)).collect(),
        sizes,
        basis,
        inverse,
        x: right.clone(),
        right,
        missing_cost: 10.0 * top,
    };
    let proper = |q: &Pattern| left.stock[q.stock] > 0 && q.pieces.iter().all(|&(n, c)| left.demand[n] >= c);
    let mut usable: Vec<usize> = (0..pool.patterns.len()).filter(|&i| proper(&pool.patterns[i])).collect();
    let (mut covers, mut least) = (true, false);
    let mut tabu: BTreeSet<usize> = BTreeSet::new();
    for _ in 0..60 * m + 400 {
        let y = s.duals(pool);
        let Some(v) = s.entering(pool, &mut usable, &tabu, &y, left) else {
            least = true;
            break;
        };
        if !s.enter(v, pool) {
            match v {
                Var::Pattern(i) => {
                    tabu.insert(i);
                }
                _ => break,
            }
        }
    }
    // Once afresh from the inverse, so that the steps' rounding does not add up.
    for r in 0..m {
        s.x[r] = (0..m).map(|j| s.inverse[r * m + j] * s.right[j]).sum();
    }
    let y = s.duals(pool);
    let mut duals = vec![0.0; p.sizes.len()];
    for (r, &n) in s.sizes.iter().enumerate() {
        duals[n] = y[r].max(0.0);
    }
    let mut value = 0.0;
    let mut bars = Vec::new();
    for (r, &v) in s.basis.iter().enumerate() {
        match v {
            Var::Pattern(i) if s.x[r] > EPS => {
                value += s.cost(v, pool) * s.x[r];
                bars.push((i, s.x[r]));
            }
            Var::Missing(_) if s.x[r] > 1e-6 => covers = false,
            _ => {}
        }
    }
    bars.sort_by_key(|b| b.0);
    Relaxed { value, bars, duals, covers, least }
}

impl Simplex<'_> {
    /// A variable that would better the solution: a slack, a known pattern, or a new one.
    fn entering(
        &self,
        pool: &mut Pool,
        usable: &mut Vec<usize>,
        tabu: &BTreeSet<usize>,
        y: &[f64],
        left: &Residual,
    ) -> Option<Var> {
        let mut best: (f64, Option<Var>) = (-EPS, None);
        for (r, &dual) in y.iter().enumerate() {
            let (reduced, v) =
                if r < self.sizes.len() { (dual, Var::Surplus(r)) } else { (-dual, Var::Spare(r)) };
            if reduced < best.0 {
                best = (reduced, Some(v));
            }
        }
        let spare = |k: usize| self.stock_row.get(&k).map_or(0.0, |&r| y[r]);
        for &i in usable.iter().filter(|i| !tabu.contains(i)) {
            let q = &pool.patterns[i];
            let worth: f64 = q.pieces.iter().map(|&(n, c)| y[self.row_of[&n]] * c as f64).sum();
            let reduced = self.p.stocks[q.stock].price as f64 - worth - spare(q.stock);
            if reduced < best.0 {
                best = (reduced, Some(Var::Pattern(i)));
            }
        }
        if best.1.is_some() {
            return best.1;
        }
        let items: Vec<Item> = self
            .sizes
            .iter()
            .enumerate()
            .map(|(r, &n)| Item { length: self.p.sizes[n].length, most: left.demand[n], value: y[r] })
            .collect();
        let open: Vec<usize> = (0..self.p.stocks.len()).filter(|&k| left.stock[k] > 0).collect();
        let rooms: Vec<i64> = open.iter().map(|&k| self.p.stocks[k].length).collect();
        for (&k, f) in open.iter().zip(fill(&items, &rooms)) {
            let reduced = self.p.stocks[k].price as f64 - f.value - spare(k);
            if reduced > -1e-7 {
                continue;
            }
            let pieces =
                f.counts.iter().zip(&self.sizes).filter(|(q, _)| **q > 0).map(|(&q, &n)| (n, q)).collect();
            if let Some(i) = pool.add(Pattern { stock: k, pieces }) {
                usable.push(i);
                if reduced < best.0 {
                    best = (reduced, Some(Var::Pattern(i)));
                }
            }
        }
        best.1
    }
}

/// A proven lower bound on the price from any values of pieces: the values are cut down until no pattern is worth
/// more than its bar, in whole numbers, so that no rounding can make it too high. What a limited stock saves over
/// that is charged for each of its bars.
pub(crate) fn proven(p: &Problem, left: &Residual, duals: &[f64]) -> i128 {
    const SCALE: f64 = 1e6;
    let items: Vec<Item> = p
        .sizes
        .iter()
        .enumerate()
        .map(|(n, z)| Item {
            length: z.length,
            most: left.demand[n],
            value: (duals[n].max(0.0) * SCALE).floor(),
        })
        .collect();
    let open: Vec<usize> = (0..p.stocks.len()).filter(|&k| left.stock[k] > 0).collect();
    let rooms: Vec<i64> = open.iter().map(|&k| p.stocks[k].length).collect();
    let most: Vec<f64> = fill(&items, &rooms).iter().map(|f| f.at_most.ceil()).collect();
    let pieces: i64 = left.demand.iter().sum();
    let total: f64 = items.iter().map(|i| i.value * i.most as f64).sum();
    // Either every stock's patterns are priced down, or a limited stock pays for its advantage: the better.
    let mut best: i128 = 0;
    for pays in [false, true] {
        let charged = |k: usize| pays && left.stock[k] < pieces;
        let mut share: f64 = 1.0;
        for (&k, &v) in open.iter().zip(&most) {
            let price = p.stocks[k].price as f64 * SCALE;
            if v > price && !charged(k) {
                share = share.min(price / v);
            }
        }
        let mut value = total * share;
        for (&k, &v) in open.iter().zip(&most) {
            let price = p.stocks[k].price as f64 * SCALE;
            if charged(k) {
                value -= (v * share - price).max(0.0) * left.stock[k] as f64;
            }
        }
        // A margin far over the rounding of these few products, far under one unit of price.
        let units = value / SCALE * (1.0 - 1e-12) - 1e-6;
        best = best.max(units.ceil() as i128);
    }
    best
}
