//! Lengths: best-fit decreasing, the bound and the answer.

mod decreasing;
mod export;
mod problem;

use crate::answer::{Bound, Budget, LengthAnswer};
use crate::length_job::LengthJob;
use problem::Problem;

/// Lay the pieces of `job` out on bars. The answer is valid in all that it places; what cannot be placed is
/// listed in the layout with the reason.
pub fn solve_lengths(job: &LengthJob, budget: Budget) -> LengthAnswer {
    let p = Problem::new(job);
    let demand: Vec<i64> = p.sizes.iter().map(|s| s.qty).collect();
    let stock: Vec<i64> = p.stocks.iter().map(|s| s.qty).collect();
    let bound = by_length(job, &p);
    let (plan, left) = decreasing::best_fit(&p, &demand, &stock);
    let layout = export::layout(job, &p, &plan, &left);
    let mut report = export::report(job, &layout);
    report.steps = budget.steps;
    let proven = layout.unplaced.is_empty() && report.cost <= bound.value;
    LengthAnswer { layout, bound, proven, report }
}

/// The bound by length alone: what the pieces and their kerfs cost at the best rate.
fn by_length(job: &LengthJob, p: &Problem) -> Bound {
    let need: i128 = p.sizes.iter().map(|s| i128::from(s.length) * i128::from(s.qty)).sum();
    let least = |rate: fn(&problem::Stock) -> (i128, i128)| {
        p.stocks
            .iter()
            .map(|s| {
                let (price, length) = rate(s);
                (need * price + length - 1) / length.max(1)
            })
            .min()
            .unwrap_or(0)
    };
    let prices: Vec<i64> = job.stocks.iter().map(|s| s.price).collect();
    let value = if p.priced { least(|s| (i128::from(s.price), i128::from(s.length))) } else { 0 };
    let one_price = prices.windows(2).all(|w| w[0] == w[1]);
    let count = one_price.then(|| i64::try_from(least(|s| (1, i128::from(s.length)))).unwrap_or(i64::MAX));
    let value = match count {
        Some(c) => i128::from(c) * i128::from(prices.first().copied().unwrap_or(0)),
        None => value,
    };
    let value = i64::try_from(value).unwrap_or(i64::MAX);
    Bound {
        value,
        count,
        why: format!("the pieces and their kerfs, at the best rate by length, cost {value}"),
    }
}
