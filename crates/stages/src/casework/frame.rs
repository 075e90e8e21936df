//! The face frame: stiles from end to end, rails between them, and a stile between two doors where one is needed.

use dryfit_measure::{Dim, Length};

use super::carcass::Carcass;
use super::front::{Row, role};
use super::job::Job;
use super::part::{Span, Stock, UPRIGHT_FRONT, WIDE_FRONT, part, pocket_depth};
use super::{Holes, OperationKind, Part, Purpose};

/// Stiles, rails and mid stiles.
pub(super) fn frame(job: &Job<'_>, carcass: &Carcass, rows: &[Row<'_>]) -> Vec<Part> {
    let Some(stock) = &carcass.frame else { return Vec::new() };
    let (stile, rail) = (job.figure("frame-stile"), job.figure("frame-rail"));
    let y = -stock.thickness.length();
    let left = -carcass.overhang[0].length();
    let right = left + carcass.over_all.length() - stile.length();
    let foot = carcass.frame_foot.length();
    let stile_length = (&carcass.height - &carcass.frame_foot).named("frame stile length");
    let stile_at = |role: &str, x: Length| {
        let sizes = [stile.clone(), stock.thick("frame"), stile_length.clone()];
        part(stock, role, UPRIGHT_FRONT, sizes, [x, y, foot])
            .called("stile")
            .serves(Purpose::Mates, Purpose::Mates)
    };
    let mut parts = vec![stile_at("frame/stile.left", left), stile_at("frame/stile.right", right)];
    parts[0].hand = Some(dryfit_plan::Hand::Left);
    parts[1].hand = Some(dryfit_plan::Hand::Right);

    let rail_length = (&carcass.over_all - &stile * 2).named("frame rail length");
    let x = left + stile.length();
    let mut rail_at = |role: String, z: Length| {
        let sizes = [rail_length.clone(), stock.thick("frame"), rail.clone()];
        let rail = part(stock, role, WIDE_FRONT, sizes, [x, y, z])
            .called("frame rail")
            .serves(Purpose::Mates, Purpose::Mates);
        parts.push(pockets(job, stock, rail));
    };
    rail_at("frame/rail.top".to_owned(), carcass.height.length() - rail.length());
    for row in rows.iter().take(rows.len().saturating_sub(1)) {
        rail_at(format!("frame/rail.under-{}", row.path), row.bottom.length() - rail.length());
    }
    rail_at("frame/rail.bottom".to_owned(), foot);

    for row in rows {
        if let [first, _] = row.bays.as_slice() {
            let mid = job.figure("frame-mid-stile");
            let x = first.left + first.width.length();
            let sizes = [mid, stock.thick("frame"), row.height.clone().named("mid stile length")];
            let role = role("frame/mid-stile", &row.path);
            let stile = part(stock, role, UPRIGHT_FRONT, sizes, [x, y, row.bottom.length()])
                .called("mid stile")
                .serves(Purpose::Mates, Purpose::Mates);
            parts.push(pockets(job, stock, stile));
        }
    }
    parts
}

/// Two pocket holes in each end, from the back.
pub(super) fn pockets(job: &Job<'_>, stock: &Stock, mut part: Part) -> Part {
    let (along, across) = (usize::from(part.solid.axes[0]), usize::from(part.solid.axes[1]));
    let quarters = part.width.split(4);
    let first = quarters[0].clone().named("pocket from the edge");
    let stretch = &part.width - &first * 2;
    for (end, what) in [(Span::at as fn(Dim) -> Span, "at one end"), (Span::at_high, "at the other end")] {
        let mut spans = [Span::All, Span::High(pocket_depth(stock)), Span::All];
        spans[along] = end(job.figure("pocket-from-end"));
        spans[across] = Span::FromLow(first.clone(), &first + &stretch);
        let holes = Holes { count: 2, pitch: stretch.clone(), bit: job.figure("pocket-bit") };
        part = part.drill(OperationKind::PocketHoles, what, &spans, holes);
    }
    part
}
