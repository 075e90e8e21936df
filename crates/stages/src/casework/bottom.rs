//! Parts that lie across the box from side to side: bottom, top, fixed shelves, stretchers and nailers.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{BackJoint, UnitKind};

use super::carcass::Carcass;
use super::job::Job;
use super::part::{FLAT_DOWN, FLAT_UP, Lay, Span, WIDE_FRONT, part, pocket_depth, spaces};
use super::{Holes, OperationKind, Part, Purpose};

/// The bottom, level with the upper edge of its rail.
pub(super) fn bottom(job: &Job<'_>, carcass: &Carcass) -> Part {
    let (length, x) = carcass.joined("bottom");
    let z = carcass.floor.length() - carcass.stock.thickness.length();
    let sizes = [length, carcass.flat_depth().named("bottom width"), carcass.stock.thick("bottom")];
    let bottom = part(&carcass.stock, "bottom", FLAT_UP, sizes, [x, Length::ZERO, z]);
    let bottom =
        back_groove(job, carcass, bottom, Span::High).serves(Purpose::Into, Purpose::Mates).with_front_edge();
    if carcass.dadoed() { bottom } else { pockets_at_ends(job, carcass, bottom, Span::Low) }
}

/// The top of a wall or tall unit, level with the lower edge of its rail.
pub(super) fn top(job: &Job<'_>, carcass: &Carcass) -> Option<Part> {
    let ceiling = carcass.ceiling.as_ref()?;
    let (length, x) = carcass.joined("top");
    let sizes = [length, carcass.flat_depth().named("top width"), carcass.stock.thick("top")];
    let top = part(&carcass.stock, "top", FLAT_DOWN, sizes, [x, Length::ZERO, ceiling.length()]);
    let top =
        back_groove(job, carcass, top, Span::Low).serves(Purpose::Into, Purpose::Mates).with_front_edge();
    Some(if carcass.dadoed() { top } else { pockets_at_ends(job, carcass, top, Span::High) })
}

/// A shelf that is fixed at a rail of the frame, its upper face at `upper`.
pub(super) fn fixed_shelf(job: &Job<'_>, carcass: &Carcass, number: usize, upper: &Dim) -> Part {
    let (length, x) = carcass.joined("fixed shelf");
    let z = upper.length() - carcass.stock.thickness.length();
    let sizes = [length, carcass.back_front().named("fixed shelf width"), carcass.stock.thick("fixed shelf")];
    let shelf = part(&carcass.stock, format!("fixed-shelf.{number}"), FLAT_UP, sizes, [x, Length::ZERO, z])
        .called("fixed shelf")
        .serves(Purpose::Into, Purpose::Mates)
        .with_front_edge();
    if carcass.dadoed() { shelf } else { pockets_at_ends(job, carcass, shelf, Span::Low) }
}

/// The groove for the back on the inner face, for a back that is captured.
fn back_groove(job: &Job<'_>, carcass: &Carcass, part: Part, inner: fn(Dim) -> Span) -> Part {
    match &carcass.back {
        Some(back) if back.joint == BackJoint::Groove => {
            let behind = &back.front + back.stock.thick("back");
            let spans = [Span::All, Span::FromLow(back.front.clone(), behind), inner(back.reach.clone())];
            part.grooved("for the back", &spans, job.passes(back.stock.thickness.length()))
        }
        _ => part,
    }
}

/// The strips that hold a box square and fix it to the wall.
pub(super) fn strips(
    job: &Job<'_>,
    carcass: &Carcass,
    first_front_is_fixed: bool,
    fixed: &[Dim],
) -> Vec<Part> {
    let thick = carcass.stock.thickness.length();
    let width = job.figure("stretcher-width");
    let mut strips = Vec::new();
    match job.placed.kind {
        UnitKind::Base => strips.extend(stretchers(carcass, &width)),
        UnitKind::Sink => {
            // On edge behind the top rail, out of the bowl's way.
            let wide = if first_front_is_fixed { width.clone() } else { job.figure("frame-rail") };
            let z = carcass.height.length() - wide.length();
            let stretcher = strip(carcass, "stretcher.front", WIDE_FRONT, &wide, [Length::ZERO, z]);
            strips.push(stretcher.called("stretcher, on edge"));
        }
        _ => {}
    }
    let y = match &carcass.back {
        Some(back) if carcass.nailer_behind => back.front.length() + back.stock.thickness.length(),
        _ => carcass.back_front().length() - thick,
    };
    for (role, low) in nailers(job, carcass, fixed) {
        strips.push(strip(carcass, role, WIDE_FRONT, &width, [y, low.length()]).called("nailer"));
    }
    strips
        .into_iter()
        .map(|part| pockets_at_ends(job, carcass, part.serves(Purpose::Into, Purpose::Mates), Span::High))
        .collect()
}

/// The nailers through which the box is screwed to the wall: role, and lower edge in the unit.
pub(super) fn nailers(job: &Job<'_>, carcass: &Carcass, fixed: &[Dim]) -> Vec<(&'static str, Dim)> {
    let width = job.figure("stretcher-width");
    let thick = carcass.stock.thick("stretcher");
    let under = match &carcass.ceiling {
        Some(ceiling) => ceiling.clone(),
        // Behind the back, no stretcher lies in its way.
        None if job.placed.kind == UnitKind::Base && !carcass.nailer_behind => &carcass.height - &thick,
        None => carcass.height.clone(),
    };
    let mut nailers = vec![("nailer.top", under - &width)];
    match job.placed.kind {
        UnitKind::Wall => nailers.push(("nailer.bottom", carcass.floor.clone())),
        UnitKind::Tall => {
            nailers.extend(fixed.first().map(|upper| ("nailer.middle", upper - &thick - &width)));
        }
        _ => {}
    }
    nailers
}

/// Two flat stretchers under the worktop, or one where the box is too shallow for two.
fn stretchers(carcass: &Carcass, width: &Dim) -> Vec<Part> {
    let z = carcass.height.length() - carcass.stock.thickness.length();
    let back = carcass.back_front();
    let flat = |role: &str, width: &Dim, y: Length| {
        strip(carcass, role, FLAT_DOWN, width, [y, z]).called("stretcher")
    };
    if width.length() * 2 > back.length() {
        return vec![flat("stretcher.front", &back.named("stretcher width"), Length::ZERO)];
    }
    let rear = back.length() - width.length();
    vec![flat("stretcher.front", width, Length::ZERO), flat("stretcher.back", width, rear)]
}

/// A strip between the sides; `at` gives its y and z.
fn strip(carcass: &Carcass, role: &str, lay: Lay, width: &Dim, at: [Length; 2]) -> Part {
    let name = if role.starts_with("nailer") { "nailer" } else { "stretcher" };
    let (length, thick) = (carcass.inside.clone().named(name), carcass.stock.thick(name));
    let sizes = match lay.face() {
        super::Face::Down => [length, width.clone(), thick],
        _ => [length, thick, width.clone()],
    };
    part(&carcass.stock, role, lay, sizes, [carcass.inside_left(), at[0], at[1]])
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
