//! Independent verifier of length layouts; it shares no code with any solver.

use crate::length_job::LengthJob;
use crate::length_layout::LengthLayout;
use std::collections::BTreeMap;
use std::fmt;

/// One thing wrong with a length layout. `bar` counts from 0.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "the fields are what the variant's line names")]
pub enum LengthFault {
    /// A bar is of a kind that the job does not list.
    UnknownStock { bar: usize, id: String },
    /// A bar is listed less than once.
    WrongBarCount { bar: usize, count: i64 },
    /// A bar holds nothing.
    EmptyBar { bar: usize },
    /// A bar holds a part that the job does not list.
    UnknownPart { bar: usize, id: String },
    /// The pieces and the kerfs between them are longer than the bar less its trim.
    TooLong { bar: usize, need: i128, room: i128 },
    /// More bars of a kind than there are.
    StockExceeded { id: String, used: i128, stock: i64 },
    /// A part is cut more or less often than it is wanted.
    WrongCount { id: String, cut: i128, wanted: i64 },
    /// A claim is not what was measured.
    WrongClaim { what: &'static str, claimed: i64, measured: i128 },
}

impl fmt::Display for LengthFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use LengthFault as F;
        match self {
            F::UnknownStock { bar, id } => write!(f, "bar {bar}: stock `{id}` is not in the job"),
            F::WrongBarCount { bar, count } => write!(f, "bar {bar}: is listed {count} times"),
            F::EmptyBar { bar } => write!(f, "bar {bar}: holds no part"),
            F::UnknownPart { bar, id } => write!(f, "bar {bar}: part `{id}` is not in the job"),
            F::TooLong { bar, need, room } => write!(f, "bar {bar}: needs {need} of {room}"),
            F::StockExceeded { id, used, stock } => write!(f, "stock `{id}`: {used} used, {stock} in stock"),
            F::WrongCount { id, cut, wanted } => write!(f, "part `{id}`: {cut} cut, {wanted} wanted"),
            F::WrongClaim { what, claimed, measured } => {
                write!(f, "claims {claimed} {what}, measured {measured}")
            }
        }
    }
}

/// Every fault of `layout` as an answer to `job`; none for a valid one.
pub fn verify_lengths(job: &LengthJob, layout: &LengthLayout) -> Vec<LengthFault> {
    let stocks: BTreeMap<&str, _> = job.stocks.iter().map(|s| (s.id.as_str(), s)).collect();
    let parts: BTreeMap<&str, _> = job.parts.iter().map(|p| (p.id.as_str(), p)).collect();
    let mut faults = Vec::new();
    let mut used: BTreeMap<&str, i128> = BTreeMap::new();
    let mut cut: BTreeMap<&str, i128> = BTreeMap::new();
    let (mut bars, mut cost) = (0i128, 0i128);
    for (n, bar) in layout.bars.iter().enumerate() {
        let Some(stock) = stocks.get(bar.stock_id.as_str()) else {
            faults.push(LengthFault::UnknownStock { bar: n, id: bar.stock_id.clone() });
            continue;
        };
        if bar.count < 1 {
            faults.push(LengthFault::WrongBarCount { bar: n, count: bar.count });
            continue;
        }
        if bar.parts.is_empty() {
            faults.push(LengthFault::EmptyBar { bar: n });
        }
        let count = i128::from(bar.count);
        *used.entry(&stock.id).or_default() += count;
        bars += count;
        cost += count * i128::from(stock.price);
        let mut need = i128::from(job.kerf) * (bar.parts.len() as i128 - 1).max(0);
        for id in &bar.parts {
            match parts.get(id.as_str()) {
                Some(p) => {
                    need += i128::from(p.length);
                    *cut.entry(&p.id).or_default() += count;
                }
                None => faults.push(LengthFault::UnknownPart { bar: n, id: id.clone() }),
            }
        }
        let room = i128::from(stock.length) - 2 * i128::from(job.end_trim);
        if need > room {
            faults.push(LengthFault::TooLong { bar: n, need, room });
        }
    }
    for (id, &used) in &used {
        if let Some(stock) = stocks[id].qty
            && used > i128::from(stock)
        {
            faults.push(LengthFault::StockExceeded { id: (*id).into(), used, stock });
        }
    }
    for p in &job.parts {
        let cut = cut.get(p.id.as_str()).copied().unwrap_or(0);
        if cut != i128::from(p.qty) {
            faults.push(LengthFault::WrongCount { id: p.id.clone(), cut, wanted: p.qty });
        }
    }
    if let Some(c) = &layout.claims {
        for (what, claimed, measured) in [("bars", c.bars, bars), ("cost", c.cost, cost)] {
            if i128::from(claimed) != measured {
                faults.push(LengthFault::WrongClaim { what, claimed, measured });
            }
        }
    }
    faults
}
