//! Numbered cuts of bars: longest piece first, marks that run from one end.

use crate::length_job::LengthJob;
use crate::length_layout::LengthLayout;
use serde::Serialize;
use std::collections::BTreeMap;

/// One crosscut of a bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BarCut {
    /// Number through all bars of the layout, from 1.
    pub number: u32,
    /// Id of the piece that it brings to length; `None` for the cut that takes the factory end off.
    pub part: Option<String>,
    /// What the stop is set to: the piece's length, or what a trimming cut takes off.
    pub stop: i64,
    /// Where the piece ends, measured from the bar's first, uncut end.
    pub mark: i64,
    /// Whether a cut is made; a last piece that ends flush needs none.
    pub cut: bool,
}

/// The cuts of one bar, which is made `count` times.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BarSequence {
    /// Id of the kind of bar.
    pub stock_id: String,
    /// Length of the bar.
    pub length: i64,
    /// How many bars are cut so.
    pub count: i64,
    /// The cuts in order.
    pub cuts: Vec<BarCut>,
    /// Length that is left, a factory end that is still on it included; 0 when nothing is.
    pub offcut: i64,
    /// Name of the offcut when it is worth keeping.
    pub offcut_name: Option<String>,
}

/// One stop setting over the whole layout.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Stop {
    /// What the stop is set to.
    pub stop: i64,
    /// Numbers of the cuts made at it.
    pub cuts: Vec<u32>,
    /// Pieces that it gives: id and how many, bars that are made several times counted in full.
    pub gives: Vec<(String, i64)>,
}

/// The cuts of every bar, in the layout's order, and the stops, longest first. Offcuts of at least `least` are
/// worth keeping and are named.
pub fn bar_sequences(job: &LengthJob, layout: &LengthLayout, least: i64) -> (Vec<BarSequence>, Vec<Stop>) {
    let lengths: BTreeMap<&str, i64> = job.parts.iter().map(|p| (p.id.as_str(), p.length)).collect();
    let (mut number, mut named) = (0, 0);
    let mut bars = Vec::new();
    let mut stops: BTreeMap<i64, (Vec<u32>, BTreeMap<String, i64>)> = BTreeMap::new();
    for b in &layout.bars {
        let Some(kind) = job.stocks.iter().find(|s| s.id == b.stock_id) else { continue };
        let mut parts: Vec<(&str, i64)> =
            b.parts.iter().map(|id| (id.as_str(), lengths.get(id.as_str()).copied().unwrap_or(0))).collect();
        parts.sort_by_key(|&(_, length)| std::cmp::Reverse(length));
        let mut cuts = Vec::new();
        let mut at = job.end_trim;
        if job.end_trim > 0 {
            number += 1;
            cuts.push(BarCut { number, part: None, stop: job.end_trim, mark: at, cut: true });
        }
        let mut rest = kind.length - at;
        for (id, length) in parts {
            let mark = at + length;
            let cut = mark < kind.length;
            if cut {
                number += 1;
            }
            cuts.push(BarCut { number, part: Some(id.into()), stop: length, mark, cut });
            let row = stops.entry(length).or_default();
            if cut {
                row.0.push(number);
            }
            *row.1.entry(id.into()).or_default() += b.count;
            at = mark + job.kerf;
            rest = (kind.length - at).max(0);
        }
        let offcut_name = (rest >= least.max(1)).then(|| {
            named += 1;
            format!("O{named}")
        });
        let (stock_id, length, count) = (b.stock_id.clone(), kind.length, b.count);
        bars.push(BarSequence { stock_id, length, count, cuts, offcut: rest, offcut_name });
    }
    let stops = stops
        .into_iter()
        .rev()
        .map(|(stop, (cuts, gives))| Stop { stop, cuts, gives: gives.into_iter().collect() })
        .collect();
    (bars, stops)
}
