//! From a plan to a layout: part ids, equal bars gathered.

use super::problem::{Plan, Problem};
use crate::answer::LengthReport;
use crate::length_job::LengthJob;
use crate::length_layout::{Bar, LengthClaims, LengthLayout};
use crate::sheet_layout::Unplaced;
use std::collections::BTreeMap;

/// The layout of `plan`; `left` counts the pieces of each size that found no bar.
pub(crate) fn layout(job: &LengthJob, p: &Problem, plan: &Plan, left: &[i64]) -> LengthLayout {
    let mut stock: Vec<Vec<(usize, i64)>> =
        p.sizes.iter().map(|s| s.parts.iter().rev().copied().collect()).collect();
    let mut take = |n: usize| {
        let last = stock[n].last_mut();
        let Some(last) = last else { return p.sizes[n].parts[0].0 };
        let part = last.0;
        last.1 -= 1;
        if last.1 == 0 {
            stock[n].pop();
        }
        part
    };
    let mut bars: BTreeMap<(usize, Vec<usize>), i64> = BTreeMap::new();
    for (pattern, &count) in plan {
        for _ in 0..count {
            let parts =
                pattern.pieces.iter().flat_map(|&(n, q)| (0..q).map(move |_| n)).map(&mut take).collect();
            *bars.entry((pattern.stock, parts)).or_default() += 1;
        }
    }
    let mut unplaced = p.misfits.clone();
    for (n, &q) in left.iter().enumerate() {
        let mut missing: BTreeMap<usize, i64> = BTreeMap::new();
        for _ in 0..q {
            *missing.entry(take(n)).or_default() += 1;
        }
        for (i, qty) in missing {
            unplaced.push(Unplaced { part_id: job.parts[i].id.clone(), qty, why: used_up(job) });
        }
    }
    unplaced.sort_by(|a, b| a.part_id.cmp(&b.part_id));
    let bars: Vec<Bar> = bars
        .into_iter()
        .map(|((k, parts), count)| Bar {
            stock_id: job.stocks[p.stocks[k].kind].id.clone(),
            count,
            parts: parts.into_iter().map(|i| job.parts[i].id.clone()).collect(),
        })
        .collect();
    let mut layout = LengthLayout { job: job.name.clone(), bars, unplaced, claims: None };
    let r = report(job, &layout);
    layout.claims = Some(LengthClaims { bars: r.bars, cost: r.cost });
    layout
}

fn used_up(job: &LengthJob) -> String {
    let stock: Vec<String> = job
        .stocks
        .iter()
        .map(|s| match s.qty {
            Some(q) => format!("{q} of `{}`", s.id),
            None => format!("`{}` is too short", s.id),
        })
        .collect();
    format!("the stock is used up: {}", stock.join(", "))
}

/// What a layout comes to.
pub(crate) fn report(job: &LengthJob, layout: &LengthLayout) -> LengthReport {
    let stocks: BTreeMap<&str, _> = job.stocks.iter().map(|s| (s.id.as_str(), s)).collect();
    let lengths: BTreeMap<&str, i64> = job.parts.iter().map(|p| (p.id.as_str(), p.length)).collect();
    let mut r = LengthReport::default();
    for b in &layout.bars {
        let Some(s) = stocks.get(b.stock_id.as_str()) else { continue };
        let parts: i64 = b.parts.iter().filter_map(|id| lengths.get(id.as_str())).sum();
        let between = b.parts.len() as i64 - 1;
        let rest = s.length - 2 * job.end_trim - parts - between * job.kerf;
        r.bars += b.count;
        r.cost = r.cost.saturating_add(s.price.saturating_mul(b.count));
        r.bought += i128::from(s.length) * i128::from(b.count);
        r.used += i128::from(parts) * i128::from(b.count);
        r.cuts += b.count * (between + i64::from(rest > 0));
        r.longest_offcut = r.longest_offcut.max(rest - job.kerf);
    }
    r
}
