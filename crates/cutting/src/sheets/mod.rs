//! Sheets: the quick insertion, the search, the bound and the answer.

mod bound;
mod export;
mod insertion;
pub(crate) mod measure;
mod polish;
mod problem;
mod search;
mod tree;

use crate::answer::{Bound, Budget, SheetAnswer};
use crate::sheet_job::SheetJob;
use polish::Polish;
use problem::Problem;
use search::{Search, Tuning};
use tree::Tree;

/// Lay the parts of `job` out on sheets. The answer is valid in all that it places; what cannot be placed is
/// listed in the layout with the reason.
pub fn solve_sheets(job: &SheetJob, budget: Budget) -> SheetAnswer {
    let mut search = SheetSearch::new(job, budget.seed);
    search.run(budget.steps);
    search.answer()
}

/// Sizes times kinds of sheet for which the search has room; a larger job has the quick answer alone.
const MOST_FRESH: usize = 2_000_000;
/// Steps spent on one goal before the other has its turn.
const TURN: u64 = 1000;
/// While a cheaper layout may exist, one turn in so many goes to offcut and effort.
const POLISH_TURN: u64 = 16;

/// A search that can be paid step by step and asked for its best answer at any time.
pub struct SheetSearch {
    job: SheetJob,
    p: Problem,
    bound: Bound,
    /// Sizes that the stock cannot hold.
    left: Vec<usize>,
    /// The cheapest layout so far.
    best: Vec<Tree>,
    best_cost: i128,
    search: Option<Search>,
    polish: Option<Polish>,
    seed: u64,
    steps: u64,
}

impl SheetSearch {
    /// The quick answer, ready to be bettered.
    pub fn new(job: &SheetJob, seed: u64) -> SheetSearch {
        let p = Problem::new(job);
        let bound = bound::bound(job, &p);
        let (best, left) = insertion::insert_all(&p);
        let best_cost = insertion::cost(&p, &best);
        SheetSearch {
            job: job.clone(),
            p,
            bound,
            left,
            best,
            best_cost,
            search: None,
            polish: None,
            seed,
            steps: 0,
        }
    }

    /// Whether the bound is met: nothing cheaper can be found.
    pub fn proven(&self) -> bool {
        self.left.is_empty() && self.p.misfits.is_empty() && self.cheapest()
    }

    fn cheapest(&self) -> bool {
        match self.bound.count {
            Some(n) => self.best.len() as i64 <= n,
            None => self.p.priced && self.best_cost <= i128::from(self.bound.value),
        }
    }

    /// Spend `steps`; none are spent when nothing is placed or the stock does not suffice. True when the answer
    /// got better. The cost comes first; offcut, stages and effort have a turn now and then, and every turn once
    /// the cost is proven the least.
    pub fn run(&mut self, steps: u64) -> bool {
        let mut better = false;
        let large = self.p.sizes.len() * self.p.stocks.len() > MOST_FRESH;
        if !self.left.is_empty() || self.best.is_empty() || large {
            return false;
        }
        for _ in 0..steps {
            let turn = self.steps / TURN;
            self.steps += 1;
            if self.cheapest() || turn % POLISH_TURN == POLISH_TURN - 1 {
                let (p, best, seed) = (&self.p, &self.best, self.seed);
                let polish = self.polish.get_or_insert_with(|| Polish::new(p, best, seed));
                better |= polish.step(p);
                let cost = insertion::cost(p, &polish.trees);
                if cost < self.best_cost {
                    self.best_cost = cost;
                    self.best.clone_from(&polish.trees);
                    self.search = None;
                }
                continue;
            }
            let search = self.search.get_or_insert_with(|| {
                let mut s = Search::new(&self.p, self.best.len(), self.seed, Tuning::default());
                s.lower(&self.p, &self.best);
                s
            });
            if search.step(&self.p) {
                better = true;
                self.best = search.trees().to_vec();
                self.best_cost = insertion::cost(&self.p, &self.best);
                search.lower(&self.p, &self.best);
                self.polish = None;
            }
        }
        better
    }

    /// The best answer so far.
    pub fn answer(&self) -> SheetAnswer {
        let trees = self.polish.as_ref().map_or(&self.best, |p| &p.trees);
        let layout = export::layout(&self.job, &self.p, trees, &self.left);
        let mut report = measure::report(&self.job, &layout);
        report.steps = self.steps;
        SheetAnswer { layout, bound: self.bound.clone(), proven: self.proven(), report }
    }
}
