//! The job as the search sees it: pieces and bars grown by one kerf, equal pieces gathered, longest first.

use crate::length_job::LengthJob;
use crate::sheet_layout::Unplaced;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Equal pieces.
#[derive(Clone, Debug)]
pub(crate) struct Size {
    /// Length grown by a kerf.
    pub length: i64,
    pub qty: i64,
    /// Index into the job's parts, and quantity.
    pub parts: Vec<(usize, i64)>,
}

/// A kind of bar, less its trim, grown by a kerf.
#[derive(Clone, Debug)]
pub(crate) struct Stock {
    pub length: i64,
    pub qty: i64,
    /// What the search minimises: the price, or the length where nothing has a price.
    pub price: i64,
    /// Index into the job's kinds.
    pub kind: usize,
}

/// A way to cut one bar: its stock, and how many of each size.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Pattern {
    pub stock: usize,
    /// Index of the size and how many, in rising order of index.
    pub pieces: Vec<(usize, i64)>,
}

/// Patterns and how many bars are cut by each.
pub(crate) type Plan = BTreeMap<Pattern, i64>;

#[derive(Clone, Debug)]
pub(crate) struct Problem {
    pub sizes: Vec<Size>,
    pub stocks: Vec<Stock>,
    /// Whether `price` is the job's own.
    pub priced: bool,
    pub misfits: Vec<Unplaced>,
}

impl Problem {
    pub fn new(job: &LengthJob) -> Problem {
        let room = |length: i64| length - 2 * job.end_trim;
        let priced = job.stocks.iter().any(|s| s.price > 0);
        let wanted: i64 = job.parts.iter().map(|p| p.qty).sum();
        let mut stocks: Vec<Stock> = job
            .stocks
            .iter()
            .enumerate()
            .filter(|(_, s)| s.qty != Some(0) && room(s.length) > 0)
            .map(|(kind, s)| Stock {
                length: room(s.length) + job.kerf,
                qty: s.qty.map_or(wanted, |q| q.min(wanted)),
                price: if priced { s.price } else { s.length },
                kind,
            })
            .collect();
        let longest = stocks.iter().map(|s| s.length).max().unwrap_or(0);
        let mut sizes: BTreeMap<Reverse<i64>, Size> = BTreeMap::new();
        let mut misfits = Vec::new();
        for (i, p) in job.parts.iter().enumerate().filter(|(_, p)| p.qty > 0) {
            let length = p.length + job.kerf;
            if length > longest {
                misfits.push(Unplaced { part_id: p.id.clone(), qty: p.qty, why: misfit(job, p.length) });
                continue;
            }
            let s =
                sizes.entry(Reverse(length)).or_insert_with(|| Size { length, qty: 0, parts: Vec::new() });
            s.qty += p.qty;
            s.parts.push((i, p.qty));
        }
        let sizes: Vec<Size> = sizes.into_values().collect();
        let g = sizes.iter().map(|s| s.length).fold(0, gcd);
        if g > 1 {
            // What a bar holds is a multiple of the common measure of all pieces.
            let sizes = sizes.into_iter().map(|s| Size { length: s.length / g, ..s }).collect();
            for s in &mut stocks {
                s.length /= g;
            }
            // One that is shorter than every piece.
            stocks.retain(|s| s.length > 0);
            return Problem { sizes, stocks, priced, misfits };
        }
        Problem { sizes, stocks, priced, misfits }
    }

    /// What a plan costs, in the search's price.
    pub fn cost(&self, plan: &Plan) -> i128 {
        plan.iter().map(|(p, &n)| i128::from(self.stocks[p.stock].price) * i128::from(n)).sum()
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

fn misfit(job: &LengthJob, length: i64) -> String {
    let rooms: Vec<String> = job
        .stocks
        .iter()
        .filter(|s| s.qty != Some(0))
        .map(|s| format!("`{}` has {}", s.id, s.length - 2 * job.end_trim))
        .collect();
    if rooms.is_empty() {
        return "no bar is in stock".into();
    }
    let trim = if job.end_trim > 0 { format!(" after a trim of {}", job.end_trim) } else { String::new() };
    format!("it is {length} long; {}{trim}", rooms.join(", "))
}
