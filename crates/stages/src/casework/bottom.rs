//! Parts that lie across the box from side to side: bottom, top, fixed shelves, stretchers and nailers.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{BackJoint, BottomJoint, UnitKind};

use super::carcass::{Carcass, sink_stretcher};
use super::job::Job;
use super::part::{FLAT_DOWN, FLAT_UP, Span, WIDE_FRONT, part, pocket_depth, spaces};
use super::{Holes, OperationKind, Part, Purpose};

/// The bottom, level with the upper edge of its rail.
pub(super) fn bottom(job: &Job<'_>, carcass: &Carcass) -> Part {
    let (length, x) = carcass.joined("bottom");
    let z = carcass.floor.length() - carcass.stock.thickness.length();
    let sizes = [length, carcass.flat_depth(job).named("bottom width"), carcass.stock.thick("bottom")];
    let bottom = part(&carcass.stock, "bottom", FLAT_UP, sizes, [x, Length::ZERO, z]);
    let bottom =
        back_groove(job, carcass, bottom, Span::High).serves(Purpose::Into, Purpose::Mates).with_front_edge();
    joined_at_ends(job, carcass, bottom, Span::Low)
}

/// The top of a wall or tall unit, level with the lower edge of its rail.
pub(super) fn top(job: &Job<'_>, carcass: &Carcass) -> Option<Part> {
    let ceiling = carcass.ceiling.as_ref()?;
    let (length, x) = carcass.joined("top");
    let sizes = [length, carcass.flat_depth(job).named("top width"), carcass.stock.thick("top")];
    let top = part(&carcass.stock, "top", FLAT_DOWN, sizes, [x, Length::ZERO, ceiling.length()]);
    let top =
        back_groove(job, carcass, top, Span::Low).serves(Purpose::Into, Purpose::Mates).with_front_edge();
    Some(joined_at_ends(job, carcass, top, Span::High))
}

/// A shelf that is fixed at a rail of the frame, its upper face at `upper`.
pub(super) fn fixed_shelf(job: &Job<'_>, carcass: &Carcass, number: usize, upper: &Dim) -> Part {
    let (length, x) = carcass.joined("fixed shelf");
    let z = upper.length() - carcass.stock.thickness.length();
    let width = (carcass.back_front() - &carcass.behind).named("fixed shelf width");
    let sizes = [length, width, carcass.stock.thick("fixed shelf")];
    let at = [x, carcass.behind.length(), z];
    let shelf = part(&carcass.stock, format!("fixed-shelf.{number}"), FLAT_UP, sizes, at)
        .called("fixed shelf")
        .serves(Purpose::Into, Purpose::Mates)
        .with_front_edge();
    joined_at_ends(job, carcass, shelf, Span::Low)
}

/// The groove for the back on the inner face, for a back that is captured.
fn back_groove(job: &Job<'_>, carcass: &Carcass, part: Part, inner: fn(Dim) -> Span) -> Part {
    match &carcass.back {
        Some(back) if back.joint == BackJoint::Groove && job.placed.kind != UnitKind::Drying => {
            let behind = &back.front + back.stock.thick("back");
            let spans = [Span::All, Span::FromLow(back.front.clone(), behind), inner(back.reach.clone())];
            part.grooved("for the back", &spans, job.passes(back.stock.thickness.length()))
        }
        _ => part,
    }
}

/// The strips that hold a box square and fix it to the wall.
pub(super) fn strips(job: &Job<'_>, carcass: &Carcass, fixed: &[Dim]) -> Vec<Part> {
    strips_laid(job, carcass, fixed)
        .into_iter()
        .map(|strip| {
            joined_strip(job, carcass, strip.part(carcass).serves(Purpose::Into, Purpose::Mates), Span::High)
        })
        .collect()
}

/// A strip between the sides: flat, or on edge with its good face to the front.
pub(super) struct Strip {
    role: &'static str,
    name: &'static str,
    flat: bool,
    /// Across the grain: front to back where it is flat, up where it stands on edge.
    width: Dim,
    /// Its front.
    y: Dim,
    /// Its lower side.
    z: Dim,
}

impl Strip {
    fn part(self, carcass: &Carcass) -> Part {
        let name = if self.name == "nailer" { "nailer" } else { "stretcher" };
        let (length, thick) = (carcass.inside.clone().named(name), carcass.stock.thick(name));
        let (lay, sizes) = if self.flat {
            (FLAT_DOWN, [length, self.width, thick])
        } else {
            (WIDE_FRONT, [length, thick, self.width])
        };
        let at = [carcass.inside_left(), self.y.length(), self.z.length()];
        let strip = part(&carcass.stock, self.role, lay, sizes, at).called(self.name);
        if self.flat && self.y.length().is_zero() { strip.with_front_edge() } else { strip }
    }

    /// Where screws through the side meet its end: from front to back, and from below.
    fn screwed_at(&self, carcass: &Carcass) -> [[Dim; 2]; 2] {
        let middle = carcass.stock.thickness.split(2).remove(0);
        let quarter = self.width.split(4).remove(0);
        let row = |from: &Dim| [from + &quarter, from + &self.width - &quarter];
        let line = |from: &Dim| [from + &middle, from + &middle];
        if self.flat { [row(&self.y), line(&self.z)] } else { [line(&self.y), row(&self.z)] }
    }
}

/// Every strip of a box, where it lies.
fn strips_laid(job: &Job<'_>, carcass: &Carcass, fixed: &[Dim]) -> Vec<Strip> {
    let width = job.figure("stretcher-width");
    let thick = carcass.stock.thick("stretcher");
    let on_edge = |role, width: Dim| Strip {
        role,
        name: "stretcher, on edge",
        flat: false,
        y: Dim::zero(),
        z: &carcass.height - &width,
        width,
    };
    let mut strips = match job.placed.kind {
        UnitKind::Base => stretchers(carcass, &width),
        UnitKind::Bench if !job.unit.lid => stretchers(carcass, &width),
        // On edge in front, out of the way of a bowl or a lid.
        UnitKind::Bench => vec![on_edge("stretcher.front", width.clone())],
        UnitKind::Sink => vec![on_edge("stretcher.front", sink_stretcher(job))],
        _ => Vec::new(),
    };
    let y = match &carcass.back {
        Some(back) if carcass.nailer_behind => &back.front + back.stock.thick("back"),
        _ => carcass.back_front() - &thick,
    };
    strips.extend(nailers(job, carcass, fixed).into_iter().map(|(role, low)| Strip {
        role,
        name: "nailer",
        flat: false,
        width: width.clone(),
        y: y.clone(),
        z: low,
    }));
    strips
}

/// Rows of screws through the sides into what stands between them, where that is how the box is joined: what they
/// hold, and from where to where, from front to back and from below.
pub(super) fn screw_rows(
    job: &Job<'_>,
    carcass: &Carcass,
    flats: &[(Dim, &'static str)],
    fixed: &[Dim],
) -> Vec<(&'static str, [[Dim; 2]; 2])> {
    if job.recipe.joints.bottom != BottomJoint::Screw {
        return Vec::new();
    }
    let middle = carcass.stock.thickness.split(2).remove(0);
    let edge = job.figure("joint-from-edge");
    let across = |what: &str| {
        let [from, to] = match what {
            "fixed shelf" => [carcass.behind.clone(), carcass.back_front()],
            _ => [Dim::zero(), carcass.flat_depth(job)],
        };
        [from + &edge, to - &edge]
    };
    let flat = |(low, what): &(Dim, &'static str)| (*what, [across(what), [low + &middle, low + &middle]]);
    let strips = strips_laid(job, carcass, fixed);
    let strips = strips.iter().map(|strip| {
        let what = if strip.name == "nailer" { "nailer" } else { "stretcher" };
        (what, strip.screwed_at(carcass))
    });
    flats.iter().map(flat).chain(strips).collect()
}

/// The nailers through which the box is screwed to the wall: role, and lower edge in the unit.
pub(super) fn nailers(job: &Job<'_>, carcass: &Carcass, fixed: &[Dim]) -> Vec<(&'static str, Dim)> {
    let width = job.figure("stretcher-width");
    let thick = carcass.stock.thick("stretcher");
    let under = match &carcass.ceiling {
        Some(ceiling) => ceiling.clone(),
        // Behind the back, no stretcher lies in its way.
        None if flat_behind(job) && !carcass.nailer_behind => &carcass.height - &thick,
        None => carcass.height.clone(),
    };
    let mut nailers = vec![("nailer.top", under - &width)];
    match job.placed.kind {
        UnitKind::Wall => nailers.push(("nailer.bottom", carcass.floor.clone())),
        kind if kind.is_tall() => {
            nailers.extend(fixed.first().map(|upper| ("nailer.middle", upper - &thick - &width)));
        }
        _ => {}
    }
    nailers
}

/// Whether a flat stretcher lies behind, under the worktop or seat.
fn flat_behind(job: &Job<'_>) -> bool {
    job.placed.kind == UnitKind::Base || (job.placed.kind == UnitKind::Bench && !job.unit.lid)
}

/// Two flat stretchers under the worktop or seat, or one where the box is too shallow for two.
fn stretchers(carcass: &Carcass, width: &Dim) -> Vec<Strip> {
    let back = carcass.back_front();
    let flat = |role: &'static str, width: Dim, y: Dim| Strip {
        role,
        name: "stretcher",
        flat: true,
        width,
        y,
        z: &carcass.height - carcass.stock.thick("stretcher"),
    };
    if width.length() * 2 > back.length() {
        return vec![flat("stretcher.front", back.named("stretcher width"), Dim::zero())];
    }
    let rear = &back - width;
    vec![flat("stretcher.front", width.clone(), Dim::zero()), flat("stretcher.back", width.clone(), rear)]
}

/// What is done to the ends of a bottom, top or fixed shelf: nothing where it stands in dadoes or is screwed
/// through the sides.
pub(super) fn joined_at_ends(job: &Job<'_>, carcass: &Carcass, part: Part, hidden: fn(Dim) -> Span) -> Part {
    match job.recipe.joints.bottom {
        BottomJoint::PocketScrew => pockets_at_ends(job, carcass, part, hidden),
        BottomJoint::Dado | BottomJoint::Screw => part,
    }
}

/// What is done to the ends of a strip: pocket holes, unless it is screwed through the sides.
fn joined_strip(job: &Job<'_>, carcass: &Carcass, part: Part, hidden: fn(Dim) -> Span) -> Part {
    match job.recipe.joints.bottom {
        BottomJoint::Screw => part,
        BottomJoint::PocketScrew | BottomJoint::Dado => pockets_at_ends(job, carcass, part, hidden),
    }
}

/// Pocket holes at both ends, left and right, drilled from the face that does not show.
fn pockets_at_ends(job: &Job<'_>, carcass: &Carcass, mut part: Part, hidden: fn(Dim) -> Span) -> Part {
    let thick_axis = usize::from(part.solid.axes[2]);
    let row_axis = 3 - thick_axis;
    let size = part.size(row_axis as u8).clone();
    let edge = job.figure("pocket-from-edge");
    let run = size.length() - edge.length() * 2;
    let gaps = spaces(run, job.figure("pocket-spacing").length());
    let stretch = &size - &edge * 2;
    let (row, count, pitch) = if run.is_positive() {
        let pitch = stretch.split(usize::from(gaps)).remove(0);
        (Span::FromLow(edge.clone(), &edge + &stretch), u32::from(gaps) + 1, pitch)
    } else {
        (Span::at(size.split(2).remove(0)), 1, Dim::zero())
    };
    for (end, what) in [(Span::at as fn(Dim) -> Span, "at the left end"), (Span::at_high, "at the right end")]
    {
        let mut spans = [end(job.figure("pocket-from-end")), Span::All, Span::All];
        spans[thick_axis] = hidden(pocket_depth(&carcass.stock));
        spans[row_axis] = row.clone();
        let holes = Holes { count, pitch: pitch.clone(), bit: job.figure("pocket-bit") };
        part = part.drill(OperationKind::PocketHoles, what, &spans, holes);
    }
    part
}
