//! Lengths: best-fit decreasing, column generation with dives, the bound and the answer.

mod decreasing;
mod dive;
mod export;
mod knapsack;
mod master;
mod problem;

use crate::answer::{Bound, Budget, LengthAnswer};
use crate::length_job::LengthJob;
use dive::{Dives, div_up};
use problem::{Problem, Stock};

/// Most sizes for which patterns are generated; the inverse is square in them.
const MOST_SIZES: usize = 500;

/// Lay the pieces of `job` out on bars. The answer is valid in all that it places; what cannot be placed is
/// listed in the layout with the reason.
pub fn solve_lengths(job: &LengthJob, budget: Budget) -> LengthAnswer {
    let mut search = LengthSearch::new(job, budget.seed);
    search.run(budget.steps);
    search.answer()
}

/// A search that can be paid step by step and asked for its best answer at any time.
pub struct LengthSearch {
    job: LengthJob,
    p: Problem,
    /// Pieces that the stock cannot hold, by size.
    left: Vec<i64>,
    by_length: i128,
    dives: Dives,
    steps: u64,
}

impl LengthSearch {
    /// The quick answer, ready to be bettered.
    pub fn new(job: &LengthJob, seed: u64) -> LengthSearch {
        let p = Problem::new(job);
        let demand: Vec<i64> = p.sizes.iter().map(|s| s.qty).collect();
        let stock: Vec<i64> = p.stocks.iter().map(|s| s.qty).collect();
        let (plan, left) = decreasing::best_fit(&p, &demand, &stock);
        let by_length = by_length(&p);
        let dives = Dives::new(&p, plan, by_length, seed);
        LengthSearch { job: job.clone(), p, left, by_length, dives, steps: 0 }
    }

    fn placed(&self) -> bool {
        self.left.iter().all(|&n| n == 0)
    }

    /// Whether the bound is met: nothing cheaper can be found.
    pub fn proven(&self) -> bool {
        self.placed() && self.p.misfits.is_empty() && self.dives.proven()
    }

    /// Spend up to `steps`; fewer are spent when nothing is left to better. True when the answer got better. The
    /// first step solves the relaxation of the whole job and so raises the bound.
    pub fn run(&mut self, steps: u64) -> bool {
        let mut better = false;
        if !self.placed() || self.p.sizes.len() > MOST_SIZES || self.p.sizes.is_empty() {
            return false;
        }
        for _ in 0..steps {
            if self.dives.proven() {
                break;
            }
            self.steps += 1;
            better |= self.dives.step(&self.p);
        }
        better
    }

    /// The best answer so far.
    pub fn answer(&self) -> LengthAnswer {
        let layout = export::layout(&self.job, &self.p, &self.dives.best, &self.left);
        let mut report = export::report(&self.job, &layout);
        report.steps = self.steps;
        LengthAnswer { layout, bound: self.bound(), proven: self.proven(), report }
    }

    fn bound(&self) -> Bound {
        let bound = self.dives.bound;
        let by_patterns = bound > self.by_length;
        let prices: Vec<i64> = self.job.stocks.iter().map(|s| s.price).collect();
        let value = if self.p.priced { i64::try_from(bound).unwrap_or(i64::MAX) } else { 0 };
        let one_price = prices.windows(2).all(|w| w[0] == w[1]);
        let price = prices.first().copied().unwrap_or(0);
        let count = if one_price && price > 0 {
            Some(value / price)
        } else {
            (self.p.stocks.len() == 1)
                .then(|| i64::try_from(div_up(bound, i128::from(self.p.stocks[0].price))).unwrap_or(i64::MAX))
        };
        let what = match count {
            Some(n) => format!("fewer than {n} bars"),
            None => format!("less than {value}"),
        };
        let why = if by_patterns {
            format!(
                "even if bars could be cut in fractions, with every pattern there is, {what} would not do"
            )
        } else {
            format!("the pieces and their kerfs, at the best rate by length, need no {what}")
        };
        Bound { value, count, why }
    }
}

/// The bound by length alone, in the search's price: what the pieces and their kerfs cost at the best rates that
/// the stock allows.
fn by_length(p: &Problem) -> i128 {
    let mut need: i128 = p.sizes.iter().map(|s| i128::from(s.length) * i128::from(s.qty)).sum();
    let mut order: Vec<&Stock> = p.stocks.iter().collect();
    order.sort_by(|a, b| {
        let cross = |x: &Stock, y: &Stock| i128::from(x.price) * i128::from(y.length);
        cross(a, b).cmp(&cross(b, a)).then(a.kind.cmp(&b.kind))
    });
    let mut cost: i128 = 0;
    for s in order {
        let length = i128::from(s.length);
        let whole = (need / length).min(i128::from(s.qty));
        cost += whole * i128::from(s.price);
        need -= whole * length;
        if need > 0 && whole < i128::from(s.qty) {
            return cost + div_up(need * i128::from(s.price), length);
        }
    }
    cost
}
