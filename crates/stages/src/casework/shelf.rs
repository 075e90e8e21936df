//! Shelves on pins: where they can hang, the pin holes in both sides, and the shelves themselves.

use dryfit_measure::Dim;
use dryfit_plan::UnitKind;

use super::bottom::nailers;
use super::carcass::Carcass;
use super::front::Row;
use super::job::Job;
use super::part::{FLAT_UP, Span, part};
use super::{Holes, OperationKind, Part, Purpose};
use crate::finding::{Finding, Severity};

/// A space between two things that are fixed, in which shelves can be moved.
pub(super) struct Compartment {
    low: Dim,
    high: Dim,
}

/// A row of pin holes: the height of the first in the unit, and how many at which pitch.
pub(super) struct PinRow {
    first: Dim,
    count: u32,
    pitch: Dim,
}

/// The compartments behind doors or open fronts, from the top: clear of nailers and fixed shelves.
pub(super) fn compartments(
    job: &Job<'_>,
    carcass: &Carcass,
    rows: &[Row<'_>],
    fixed: &[Dim],
) -> Vec<Compartment> {
    if job.unit.shelves == 0 {
        return Vec::new();
    }
    let obstacles = obstacles(job, carcass, fixed);
    let clear = |row: &Row<'_>| {
        let (mut low, mut high) = (row.bottom.clone(), row.top());
        let middle = (low.length() + high.length()).div_floor(2);
        for (under, over) in &obstacles {
            if under.length() >= high.length() || over.length() <= low.length() {
                continue;
            }
            if (under.length() + over.length()).div_floor(2) >= middle {
                high = under.clone();
            } else {
                low = over.clone();
            }
        }
        Compartment { low, high }
    };
    rows.iter().filter(|row| row.takes_shelves()).map(clear).collect()
}

/// What stands in the way of a shelf that is moved up or down: lower and upper face of each.
fn obstacles(job: &Job<'_>, carcass: &Carcass, fixed: &[Dim]) -> Vec<(Dim, Dim)> {
    let thick = carcass.stock.thick("fixed shelf");
    let mut found: Vec<(Dim, Dim)> = fixed.iter().map(|upper| (upper - &thick, upper.clone())).collect();
    if !carcass.nailer_behind {
        let width = job.figure("stretcher-width");
        found.extend(nailers(job, carcass, fixed).into_iter().map(|(_, low)| (low.clone(), low + &width)));
    }
    if let Some(ceiling) = &carcass.ceiling {
        found.push((ceiling.clone(), carcass.height.clone()));
    } else if job.placed.kind == UnitKind::Base {
        found.push((&carcass.height - carcass.stock.thick("stretcher"), carcass.height.clone()));
    }
    found
}

/// The pin holes that each compartment has room for.
pub(super) fn pin_rows(job: &Job<'_>, carcass: &Carcass, compartments: &[Compartment]) -> Vec<PinRow> {
    let (pitch, above) = (job.figure("pin-hole-pitch"), job.figure("pin-hole-top"));
    let row = |space: &Compartment| {
        let clear = &space.high - &space.low;
        // In a low compartment the first hole is half-way up.
        let first = Dim::least([job.figure("pin-hole-first"), clear.split(2).remove(0)]);
        let room = clear.length() - first.length() - above.length();
        let count = if room.is_negative() { 1 } else { room.fits(pitch.length()) + 1 };
        let first = &space.low + first;
        let room_at_all = clear.length() > carcass.stock.thickness.length() * 3;
        PinRow {
            first,
            count: if room_at_all { u32::try_from(count).unwrap_or(0) } else { 0 },
            pitch: pitch.clone(),
        }
    };
    compartments.iter().map(row).collect()
}

/// The pin holes in a side, in two rows a compartment.
pub(super) fn pins(
    job: &Job<'_>,
    mut side: Part,
    foot: &Dim,
    inner: &dyn Fn(Dim) -> Span,
    rows: &[PinRow],
) -> Part {
    for row in rows.iter().filter(|row| row.count > 0) {
        let first = &row.first - foot;
        let last = &first + &row.pitch * i64::from(row.count - 1);
        let line = job.figure("pin-hole-in");
        for (at, what) in [(Span::at as fn(Dim) -> Span, "front row"), (Span::at_high, "back row")] {
            let spans = [
                inner(job.figure("pin-hole-depth")),
                at(line.clone()),
                Span::FromLow(first.clone(), last.clone()),
            ];
            let holes = Holes { count: row.count, pitch: row.pitch.clone(), bit: job.figure("pin-hole-bit") };
            side = side.drill(OperationKind::PinHoles, what, &spans, holes);
        }
    }
    side
}

/// The shelves, spread evenly over the pins; their lower and upper faces; and a finding where there are fewer
/// places than shelves.
pub(super) fn shelves(
    job: &Job<'_>,
    carcass: &Carcass,
    rows: &[PinRow],
) -> (Vec<Part>, Vec<[Dim; 2]>, Vec<Finding>) {
    let Some(stock) = job.stock(dryfit_plan::Role::Shelf) else {
        return (Vec::new(), Vec::new(), Vec::new());
    };
    let (play, setback) = (job.figure("shelf-side-play"), job.figure("shelf-front-setback"));
    let length = (&carcass.inside - &play * 2).named("shelf length");
    let width = (&carcass.back_front() - &setback).named("shelf width");
    let mut shelves = Vec::new();
    let mut zones = Vec::new();
    let mut findings = Vec::new();
    for row in rows {
        let wanted = u32::from(job.unit.shelves);
        // A shelf needs its own thickness and a hand's room before the next.
        let step = (stock.thickness.length() * 2).needs(row.pitch.length()).max(1);
        let most = if row.count == 0 { 0 } else { (row.count - 1) / u32::try_from(step).unwrap_or(1) + 1 };
        let count = wanted.min(most);
        if count < wanted {
            let what = format!("`{}` asks for {wanted} shelves where its pins carry {count}", job.placed.key);
            let mut finding = job.finding(Severity::Look, "casework/shelf-room", what);
            finding.at = job.pointer().child("shelves");
            findings.push(finding);
        }
        for k in 1..=count {
            // Hole number (count + 1) parts of the row, whole steps apart.
            let hole = i64::from(row.count - 1) * i64::from(2 * k - 1) / i64::from(2 * count);
            let hole = if count == most { i64::from(k - 1) * step } else { hole };
            let on_pin = job.figure("pin-hole-bit").split(2).remove(0);
            let low = &row.first + &row.pitch * hole + on_pin;
            let sizes = [length.clone(), width.clone(), stock.thick("shelf")];
            let at = [carcass.inside_left() + play.length(), setback.length(), low.length()];
            let number = shelves.len() + 1;
            let role = if number == 1 { "shelf".to_owned() } else { format!("shelf.{number}") };
            shelves.push(
                part(&stock, role, FLAT_UP, sizes, at)
                    .called("shelf")
                    .serves(Purpose::Into, Purpose::Into)
                    .with_front_edge(),
            );
            zones.push([low.clone(), low + stock.thick("shelf")]);
        }
    }
    (shelves, zones, findings)
}
