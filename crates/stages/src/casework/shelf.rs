//! Shelves on pins: where they can hang, the pin holes in both sides, and the shelves themselves.

use dryfit_measure::{Dim, Length};
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
    /// The spaces beside each other: left end and clear width.
    bays: Vec<(Length, Dim)>,
}

/// A row of pin holes: the height of the first in the unit, and how many at which pitch.
pub(super) struct PinRow {
    first: Dim,
    count: u32,
    pitch: Dim,
    bays: Vec<(Length, Dim)>,
}

impl PinRow {
    /// Height of the first hole in the unit, and how far apart they are; none where there are no holes.
    pub(super) fn grid(&self) -> Option<(&Dim, &Dim)> {
        (self.count > 0).then_some((&self.first, &self.pitch))
    }

    /// Whether panels stand in it that carry shelves on both sides.
    pub(super) fn is_divided(&self) -> bool {
        self.bays.len() > 1 && self.count > 0
    }
}

/// The compartments behind doors or open fronts, from the top: clear of nailers and fixed shelves.
pub(super) fn compartments(
    job: &Job<'_>,
    carcass: &Carcass,
    rows: &[Row<'_>],
    fixed: &[Dim],
) -> Vec<Compartment> {
    if job.unit.shelves == 0 || job.placed.kind == UnitKind::Drying {
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
        let bays = if job.framed() {
            vec![(carcass.inside_left(), carcass.inside.clone())]
        } else {
            row.bays.iter().map(|bay| (bay.left, bay.width.clone())).collect()
        };
        Compartment { low, high, bays }
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
    } else if matches!(job.placed.kind, UnitKind::Base | UnitKind::Bench) {
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
            bays: space.bays.clone(),
        }
    };
    compartments.iter().map(row).collect()
}

/// The pin holes in a side, in two rows a compartment; `behind` is how far the side goes on before what is in the
/// box.
pub(super) fn pins<'r>(
    job: &Job<'_>,
    mut side: Part,
    [foot, behind]: [&Dim; 2],
    inner: &dyn Fn(Dim) -> Span,
    rows: impl Iterator<Item = &'r PinRow>,
) -> Part {
    for row in rows.filter(|row| row.count > 0) {
        let first = &row.first - foot;
        let last = &first + &row.pitch * i64::from(row.count - 1);
        let line = job.figure("pin-hole-in");
        for (place, what) in
            [(Span::at(&line + behind), "front row"), (Span::at_high(line.clone()), "back row")]
        {
            let spans =
                [inner(job.figure("pin-hole-depth")), place, Span::FromLow(first.clone(), last.clone())];
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
    let setback = (setback + &carcass.behind).named("shelf setback");
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
        for (k, (left, clear)) in (1..=count).flat_map(|k| row.bays.iter().map(move |bay| (k, bay))) {
            // Hole number (count + 1) parts of the row, whole steps apart.
            let hole = i64::from(row.count - 1) * i64::from(2 * k - 1) / i64::from(2 * count);
            let hole = if count == most { i64::from(k - 1) * step } else { hole };
            let on_pin = job.figure("pin-hole-bit").split(2).remove(0);
            let low = &row.first + &row.pitch * hole + on_pin;
            let length = (clear - &play * 2).named("shelf length");
            let sizes = [length, width.clone(), stock.thick("shelf")];
            let at = [*left + play.length(), setback.length(), low.length()];
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
