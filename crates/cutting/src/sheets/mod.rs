//! Sheets: the quick insertion, the search, the bound and the answer.

mod bound;
mod export;
mod insertion;
pub(crate) mod measure;
mod problem;
mod search;
mod tree;

use crate::answer::{Bound, Budget, SheetAnswer};
use crate::sheet_job::SheetJob;
use problem::Problem;
use search::{Search, Tuning};

/// Lay the parts of `job` out on sheets. The answer is valid in all that it places; what cannot be placed is
/// listed in the layout with the reason.
pub fn solve_sheets(job: &SheetJob, budget: Budget) -> SheetAnswer {
    let mut search = SheetSearch::new(job, budget.seed);
    search.run(budget.steps);
    search.answer()
}

/// A search that can be paid step by step and asked for its best answer at any time.
pub struct SheetSearch {
    job: SheetJob,
    p: Problem,
    bound: Bound,
    /// Sizes that the stock cannot hold.
    left: Vec<usize>,
    search: Search,
    steps: u64,
}

impl SheetSearch {
    /// The quick answer, ready to be bettered.
    pub fn new(job: &SheetJob, seed: u64) -> SheetSearch {
        let p = Problem::new(job);
        let bound = bound::bound(job, &p);
        let (trees, left) = insertion::insert_all(&p);
        let mut search = Search::new(&p, trees, seed, Tuning::default());
        if left.is_empty() && !search.best.is_empty() {
            search.lower(&p);
        }
        SheetSearch { job: job.clone(), p, bound, left, search, steps: 0 }
    }

    /// Whether the bound is met: nothing cheaper can be found.
    pub fn proven(&self) -> bool {
        self.left.is_empty()
            && self.p.misfits.is_empty()
            && self.search.best_cost <= i128::from(self.bound.value)
    }

    /// Spend up to `steps`; fewer are spent when nothing is left to better. True when the answer got better.
    pub fn run(&mut self, steps: u64) -> bool {
        let mut better = false;
        if !self.left.is_empty() || self.search.best.is_empty() {
            return false;
        }
        for _ in 0..steps {
            if self.search.best_cost <= i128::from(self.bound.value) {
                break;
            }
            self.steps += 1;
            if self.search.step(&self.p) {
                better = true;
                self.search.lower(&self.p);
            }
        }
        better
    }

    /// The best answer so far.
    pub fn answer(&self) -> SheetAnswer {
        let layout = export::layout(&self.job, &self.p, &self.search.best, &self.left);
        let mut report = measure::report(&self.job, &layout);
        report.steps = self.steps;
        SheetAnswer { layout, bound: self.bound.clone(), proven: self.proven(), report }
    }
}
