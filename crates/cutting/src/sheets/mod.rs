//! Sheets: the quick insertion, the search, the bound and the answer.

mod bound;
mod export;
mod insertion;
pub(crate) mod measure;
mod problem;
#[allow(dead_code, reason = "the search that uses it lands next")]
mod tree;

use crate::answer::{Budget, SheetAnswer};
use crate::sheet_job::SheetJob;
use problem::Problem;

/// Lay the parts of `job` out on sheets. The answer is valid in all that it places; what cannot be placed is
/// listed in the layout with the reason.
pub fn solve_sheets(job: &SheetJob, budget: Budget) -> SheetAnswer {
    let p = Problem::new(job);
    let bound = bound::bound(job, &p);
    let (trees, left) = insertion::insert_all(&p);
    let layout = export::layout(job, &p, &trees, &left);
    let mut report = measure::report(job, &layout);
    report.steps = budget.steps;
    let proven = layout.unplaced.is_empty() && report.cost <= bound.value;
    SheetAnswer { layout, bound, proven, report }
}
