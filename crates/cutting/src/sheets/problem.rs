//! The job as the search sees it: parts and sheets grown by one kerf, equal parts gathered.
//!
//! A part grown by a kerf on two sides, packed edge to edge in a sheet grown likewise, is the part with a kerf
//! between it and its neighbours; a last end no wider than the kerf is left to the blade.

use super::tree::Scale;
use crate::sheet_job::{MAX_STAGES, SheetJob};
use crate::sheet_layout::Unplaced;
use std::collections::BTreeMap;

/// Equal parts.
#[derive(Clone, Debug)]
pub(crate) struct Size {
    /// Extents along x and y, unturned, grown by a kerf.
    pub w: i64,
    pub h: i64,
    /// Whether turning it gives another, allowed, size.
    pub turns: bool,
    pub qty: usize,
    /// Area over the area of the largest sheet.
    pub area: f64,
    /// Parts of this size: index into the job's parts, and quantity.
    pub parts: Vec<(usize, usize)>,
}

/// A kind of sheet, less its trim, grown by a kerf.
#[derive(Clone, Debug)]
pub(crate) struct Stock {
    pub w: i64,
    pub h: i64,
    pub qty: usize,
    /// What the search minimises: the price, or the area where nothing has a price.
    pub price: i64,
    /// Area over the area of the largest sheet.
    pub area: f64,
    /// Index into the job's kinds.
    pub kind: usize,
    /// The axis along which its first cuts must divide it, if that is settled.
    pub root: Option<u8>,
}

#[derive(Clone, Debug)]
pub(crate) struct Problem {
    pub sizes: Vec<Size>,
    pub stocks: Vec<Stock>,
    pub scale: Scale,
    /// Whether the stock has prices; where it has none, area stands for them.
    pub priced: bool,
    pub stages: u8,
    /// Parts that fit no sheet at all.
    pub misfits: Vec<Unplaced>,
}

impl Problem {
    pub fn new(job: &SheetJob) -> Problem {
        let k = job.kerf;
        let mut stocks: Vec<Stock> = job
            .sheets
            .iter()
            .enumerate()
            .filter(|(_, s)| s.qty != Some(0) && s.w > 2 * job.trim && s.h > 2 * job.trim)
            .map(|(kind, s)| Stock {
                w: s.w - 2 * job.trim + k,
                h: s.h - 2 * job.trim + k,
                qty: s.qty.and_then(|q| usize::try_from(q).ok()).unwrap_or(usize::MAX),
                price: s.price,
                area: 0.0,
                kind,
                root: None,
            })
            .collect();
        let largest = stocks.iter().map(|s| s.w as f64 * s.h as f64).fold(1.0, f64::max);
        let unit = 1.0 / largest;
        let free = stocks.iter().all(|s| s.price == 0);
        for s in &mut stocks {
            s.area = s.w as f64 * s.h as f64 * unit;
            if free {
                s.price = ((s.area * 1e6).ceil() as i64).max(1);
            }
        }
        let stages = job.max_stages.unwrap_or(MAX_STAGES).min(MAX_STAGES) as u8;
        let mut sizes: BTreeMap<(i64, i64, bool), Size> = BTreeMap::new();
        let mut misfits = Vec::new();
        for (i, p) in job.parts.iter().enumerate() {
            if p.qty <= 0 {
                continue;
            }
            let (w, h) = (p.w + k, p.h + k);
            let fits = |w: i64, h: i64| stocks.iter().any(|s| w <= s.w && h <= s.h);
            let (up, turned) = (fits(w, h), p.can_rotate && fits(h, w));
            if !up && !turned {
                misfits.push(Unplaced { part_id: p.id.clone(), qty: p.qty, why: misfit(job, i) });
                continue;
            }
            let (w, h) = if up { (w, h) } else { (h, w) };
            let turns = up && turned && w != h;
            let key = if turns { (w.min(h), w.max(h), true) } else { (w, h, false) };
            let size = sizes.entry(key).or_insert_with(|| Size {
                w: key.0,
                h: key.1,
                turns,
                qty: 0,
                area: w as f64 * h as f64 * unit,
                parts: Vec::new(),
            });
            let qty = usize::try_from(p.qty).unwrap_or(0);
            size.qty += qty;
            size.parts.push((i, qty));
        }
        Problem {
            sizes: sizes.into_values().collect(),
            stocks,
            scale: Scale { unit, per_rest: 0.0 },
            priced: !free,
            stages,
            misfits,
        }
    }

    /// How many pieces are to be placed.
    pub fn pieces(&self) -> usize {
        self.sizes.iter().map(|s| s.qty).sum()
    }
}

/// Why part `i` fits no sheet.
fn misfit(job: &SheetJob, i: usize) -> String {
    let p = &job.parts[i];
    let stock: Vec<_> = job.sheets.iter().filter(|s| s.qty != Some(0)).collect();
    if stock.is_empty() {
        return "no sheet is in stock".into();
    }
    let turn = if p.can_rotate {
        ""
    } else if stock.iter().any(|s| p.h <= s.w - 2 * job.trim && p.w <= s.h - 2 * job.trim) {
        " and may not be turned"
    } else {
        ""
    };
    let rooms: Vec<String> = stock
        .iter()
        .map(|s| format!("`{}` has {} x {}", s.id, s.w - 2 * job.trim, s.h - 2 * job.trim))
        .collect();
    let trim = if job.trim > 0 { format!(" after a trim of {}", job.trim) } else { String::new() };
    format!("it is {} x {}{turn}; {}{trim}", p.w, p.h, rooms.join(", "))
}
