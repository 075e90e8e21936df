//! From fractions to whole bars: dives. Bars whose pattern the relaxation uses are fixed a few at a time, the rest
//! is relaxed afresh with new patterns, until nothing is left. The first dive takes the surest bars; later ones
//! take chances.

use super::decreasing::best_fit;
use super::master::{Pool, Relaxed, Residual, proven, relax};
use super::problem::{Plan, Problem};
use crate::rng::Rng;

pub(crate) struct Dives {
    rng: Rng,
    pool: Pool,
    root: Residual,
    /// The dive under way.
    left: Residual,
    fixed: Plan,
    spent: i128,
    /// Dives that came to their end.
    done: u64,
    /// Common measure of all prices: every cost is a multiple.
    measure: i128,
    /// The relaxation of the whole job, once solved.
    whole: Option<Relaxed>,
    pub bound: i128,
    pub best: Plan,
    pub best_cost: i128,
}

impl Dives {
    pub fn new(p: &Problem, best: Plan, bound: i128, seed: u64) -> Dives {
        let root = Residual {
            demand: p.sizes.iter().map(|s| s.qty).collect(),
            stock: p.stocks.iter().map(|s| s.qty).collect(),
        };
        let mut pool = Pool::default();
        for pattern in best.keys() {
            pool.add(pattern.clone());
        }
        let measure = p.stocks.iter().map(|s| i128::from(s.price)).fold(0, gcd).max(1);
        let best_cost = p.cost(&best);
        Dives {
            rng: Rng::new(seed),
            pool,
            left: root.clone(),
            root,
            fixed: Plan::new(),
            spent: 0,
            done: 0,
            measure,
            whole: None,
            bound,
            best,
            best_cost,
        }
    }

    pub fn proven(&self) -> bool {
        self.best_cost <= self.bound
    }

    /// Relax what is left and fix some bars of it; true when the best plan got better.
    pub fn step(&mut self, p: &Problem) -> bool {
        if self.spent == 0 && self.fixed.is_empty() && self.whole.is_none() {
            let r = relax(p, &mut self.pool, &self.root);
            let units = proven(p, &self.root, &r.duals);
            self.bound = self.bound.max(div_up(units, self.measure) * self.measure);
            self.whole = Some(r);
        }
        if self.proven() {
            return false;
        }
        let fresh;
        let r = if self.fixed.is_empty()
            && let Some(w) = &self.whole
        {
            w
        } else {
            fresh = relax(p, &mut self.pool, &self.left);
            &fresh
        };
        // A relaxation that was cut short of its least says nothing of what is out of reach.
        let least = if r.least { (r.value - 1e-6).ceil() as i128 } else { 0 };
        let hopeless = !r.covers || div_up(self.spent + least, self.measure) * self.measure >= self.best_cost;
        if hopeless {
            self.surface();
            return false;
        }
        let bars = r.bars.clone();
        let better = self.finish_at_once(p);
        self.fix(p, &bars);
        if self.left.demand.iter().all(|&d| d == 0) {
            let better_yet = self.spent < self.best_cost;
            if better_yet {
                self.best = self.fixed.clone();
                self.best_cost = self.spent;
            }
            self.surface();
            return better || better_yet;
        }
        better
    }

    /// What is left, cut at once by best fit.
    fn finish_at_once(&mut self, p: &Problem) -> bool {
        let (plan, missing) = best_fit(p, &self.left.demand, &self.left.stock);
        let cost = self.spent + p.cost(&plan);
        if missing.iter().any(|&n| n > 0) || cost >= self.best_cost {
            return false;
        }
        self.best = self.fixed.clone();
        for (pattern, n) in plan {
            *self.best.entry(pattern).or_default() += n;
        }
        self.best_cost = cost;
        true
    }

    fn fix(&mut self, p: &Problem, bars: &[(usize, f64)]) {
        let mut any = false;
        for &(i, x) in bars {
            let mut n = (x + 1e-6).floor() as i64;
            if n > 0 && self.done > 0 && self.rng.one_in(4) {
                n = self.rng.below(n as usize + 1) as i64;
            }
            any |= self.take(p, i, n);
        }
        if any || bars.is_empty() {
            return;
        }
        let part = |x: f64| x - (x + 1e-6).floor().max(0.0);
        let pick = if self.done == 0 {
            let mut best = bars[0];
            for &b in bars {
                if part(b.1) > part(best.1) + 1e-9 {
                    best = b;
                }
            }
            best
        } else {
            // By chance, the surer the likelier.
            let total: f64 = bars.iter().map(|b| part(b.1).powi(2) + 1e-6).sum();
            let mut at = self.rng.below(1 << 30) as f64 / f64::from(1 << 30) * total;
            let mut pick = bars[0];
            for &b in bars {
                pick = b;
                at -= part(b.1).powi(2) + 1e-6;
                if at <= 0.0 {
                    break;
                }
            }
            pick
        };
        self.take(p, pick.0, 1);
    }

    /// Fix up to `n` bars of pattern `i`, as many as what is left allows.
    fn take(&mut self, p: &Problem, i: usize, n: i64) -> bool {
        let pattern = &self.pool.patterns[i];
        let mut n = n.min(self.left.stock[pattern.stock]);
        for &(z, q) in &pattern.pieces {
            n = n.min(self.left.demand[z] / q);
        }
        if n <= 0 {
            return false;
        }
        for &(z, q) in &pattern.pieces {
            self.left.demand[z] -= q * n;
        }
        self.left.stock[pattern.stock] -= n;
        self.spent += i128::from(p.stocks[pattern.stock].price) * i128::from(n);
        *self.fixed.entry(pattern.clone()).or_default() += n;
        true
    }

    fn surface(&mut self) {
        self.left = self.root.clone();
        self.fixed.clear();
        self.spent = 0;
        self.done += 1;
    }
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}

pub(crate) fn div_up(a: i128, b: i128) -> i128 {
    if a <= 0 { 0 } else { (a - 1) / b + 1 }
}
