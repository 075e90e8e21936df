//! What is screwed to the uprights of a box without a frame, sides and dividers alike: hinge plates and slides, on
//! one line of holes behind the front edge.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Form, Front, Hand, Role};

use super::carcass::Carcass;
use super::front::{Leaf, Row};
use super::job::Job;
use super::part::Span;
use super::shelf::PinRow;
use super::{Holes, OperationKind, Part};

/// A row of holes in the upright on one side of a bay.
pub(super) struct Mount {
    /// Which upright, counted from the left side of the box; none for its right side.
    upright: Option<usize>,
    hand: Hand,
    kind: OperationKind,
    what: &'static str,
    /// From the front of what is in the box, first and last centre.
    back: [Dim; 2],
    /// Up in the unit, first and last centre.
    up: [Dim; 2],
    holes: Holes,
}

/// The upright on one side of a bay of this row.
fn upright(row: &Row<'_>, bay: usize, hand: Hand) -> Option<usize> {
    match hand {
        Hand::Left => Some(bay),
        Hand::Right => (bay + 1 < row.bays.len()).then_some(bay + 1),
    }
}

/// The plate of a hinge whose cup has its centre so high in the unit: two holes, above and below it.
pub(super) fn plate(job: &Job<'_>, row: &Row<'_>, bay: usize, hand: Hand, centre: &Dim) -> Mount {
    let upright = upright(row, bay, hand);
    let pitch = job.figure("hinge-plate-pitch");
    let half = pitch.split(2).remove(0);
    let line = job.figure("system-line");
    let holes = Holes { count: 2, pitch: pitch.clone(), bit: job.figure("system-bit") };
    let low = centre - &half;
    let up = [low.clone(), low + pitch];
    let back = [line.clone(), line];
    Mount { upright, hand, kind: OperationKind::PlateHoles, what: "for a hinge plate", back, up, holes }
}

/// The rows of both slides of a drawer, where their record says how high they are screwed on.
pub(super) fn slides(job: &Job<'_>, row: &Row<'_>, bay: usize) -> Vec<Mount> {
    let Some(Front::Drawer { slide, .. }) = row.front else { return Vec::new() };
    let Some((record, at)) = job.slide(slide) else { return Vec::new() };
    let Some(up) = record.up else { return Vec::new() };
    let off = Dim::taped(record.off_height.length, at.child("off_height")).named("off the opening's height");
    let up = Dim::taped(up.length, at.child("up")).named("slide above the box's lower edge");
    let height = (&row.bottom + off.split(2).remove(0) + up).named("line of the slide");
    let (line, pitch) = (job.figure("system-line"), job.figure("system-pitch"));
    let length = Dim::taped(record.length.length, at.child("length")).named("slide length");
    // on the line, in the middle, and as far back as whole steps go
    let room = length.length() - line.length() * 2;
    let steps = if pitch.length().is_positive() { room.fits(pitch.length() * 2).max(0) } else { 0 };
    let step = &pitch * steps;
    let count = if steps > 0 { 3 } else { 1 };
    let last = &line + &step * i64::from(count - 1);
    // how many whole steps go in hangs on the slide's length
    let last = if steps > 0 {
        Dim::worked(last.length(), "whole steps on the slide", [(last, 1.0), (length, 0.0)])
    } else {
        last
    };
    [Hand::Left, Hand::Right]
        .map(|hand| Mount {
            upright: upright(row, bay, hand),
            hand,
            kind: OperationKind::SlideHoles,
            what: "for a slide",
            back: [line.clone(), last.clone()],
            up: [height.clone(), height.clone()],
            holes: Holes {
                count,
                pitch: if count > 1 { step.clone() } else { Dim::zero() },
                bit: job.figure("system-bit"),
            },
        })
        .into()
}

/// Which bay a leaf closes.
pub(super) fn bay_of(row: &Row<'_>, leaf: &Leaf) -> usize {
    let own = row.bays.iter().position(|bay| bay.path == leaf.path);
    own.unwrap_or_else(|| match leaf.hinge {
        Some(Hand::Right) => row.bays.len().saturating_sub(1),
        _ => 0,
    })
}

/// Drills every mount into its upright: the first and the last of the bays' sides are the sides of the box.
pub(super) fn mounted(job: &Job<'_>, carcass: &Carcass, parts: Vec<Part>, mounts: &[Mount]) -> Vec<Part> {
    let mut seen = 0;
    parts
        .into_iter()
        .map(|part| {
            // which uprights it is, counted from the left: the left side is none, the right side the last
            let place = match (part.name.as_str(), part.hand) {
                ("side", Some(Hand::Left)) => Some(0),
                ("side", _) => None,
                ("divider", _) => {
                    seen += 1;
                    Some(seen)
                }
                _ => return part,
            };
            mounts
                .iter()
                .filter(|mount| mount.upright == place)
                .fold(part, |part, mount| drilled(job, carcass, part, mount))
        })
        .collect()
}

fn drilled(job: &Job<'_>, carcass: &Carcass, part: Part, mount: &Mount) -> Part {
    let depth = job.figure("system-depth");
    // what hangs at the left of a bay is on the right face of its upright
    let face = match mount.hand {
        Hand::Left => Span::High(depth),
        Hand::Right => Span::Low(depth),
    };
    let side = part.name == "side";
    let (from_front, from_below) = if side {
        (carcass.behind.clone(), carcass.foot.clone())
    } else {
        (Dim::zero(), carcass.floor.clone())
    };
    let back = [0, 1].map(|k| &mount.back[k] + &from_front);
    let up = [0, 1].map(|k| &mount.up[k] - &from_below);
    let span = |[a, b]: [Dim; 2]| Span::FromLow(a, b);
    let holes =
        Holes { count: mount.holes.count, pitch: mount.holes.pitch.clone(), bit: mount.holes.bit.clone() };
    part.drill(mount.kind, mount.what, &[face, span(back), span(up)], holes)
}

/// The pins of shelves on both sides of every divider: holes right through it.
pub(super) fn pinned(job: &Job<'_>, carcass: &Carcass, parts: Vec<Part>, rows: &[PinRow]) -> Vec<Part> {
    let through = |part: Part| {
        let divided = rows.iter().filter(|row| row.is_divided());
        super::shelf::pins(job, part, [&carcass.floor, &Dim::zero()], &|_| Span::All, divided)
    };
    let drilled = |part: Part| if part.name == "divider" { through(part) } else { part };
    parts.into_iter().map(drilled).collect()
}

/// The places where a hinge's cup has both holes of its plate among those of the shelf pins.
pub(super) struct Grid {
    /// One of them, up in the unit.
    first: Dim,
    pitch: Dim,
}

impl Grid {
    /// The grid of a row of pins; none where its pitch is not that of the plates, which then have their own holes.
    pub(super) fn of(job: &Job<'_>, row: &PinRow) -> Option<Grid> {
        let (first, pitch) = row.grid()?;
        let own = job.figure("hinge-plate-pitch");
        let same = pitch.length() == own.length() && pitch.length().is_positive();
        same.then(|| Grid { first: first + own.split(2).remove(0), pitch: pitch.clone() })
    }

    /// Places near to one, the nearest first.
    pub(super) fn near(&self, place: Length) -> Vec<Dim> {
        let pitch = self.pitch.length();
        let nearest = (place - self.first.length()).nm().div_euclid(pitch.nm());
        let mut steps: Vec<i64> = (nearest - 8..=nearest + 9).collect();
        steps.sort_by_key(|k| ((self.first.length() + pitch * *k - place).abs(), *k));
        steps.into_iter().map(|k| &self.first + &self.pitch * k).collect()
    }
}

/// Whether a role's good is a hinge that lies on a plate.
pub(super) fn on_plates(job: &Job<'_>) -> bool {
    !job.framed() && matches!(job.good(Role::Hinge).map(|good| &good.form), Some(Form::Hinge { .. }))
}
