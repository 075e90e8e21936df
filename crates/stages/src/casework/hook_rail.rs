//! Boards with hooks, screwed to the studs.

use dryfit_measure::{Dim, Length};
use dryfit_plan::Role;

use super::job::Job;
use super::part::{Span, WIDE_FRONT, part, spaces};
use super::{Holes, OperationKind, Part, Purpose};

/// The board, drilled for its hooks.
pub(super) fn hook_rail(job: &Job<'_>) -> Vec<Part> {
    let Some(stock) = job.stock(Role::Skin) else { return Vec::new() };
    let length = job.placed.width.clone().named("rail length");
    let width = job.placed.height.clone().named("rail width");
    let sizes = [length.clone(), stock.thick("rail"), width.clone()];
    let rail = part(&stock, "rail", WIDE_FRONT, sizes, [Length::ZERO; 3])
        .called("hook rail")
        .serves(Purpose::Into, Purpose::Mates);
    let [from, to, pitch] = hooks(job, &length);
    if !(&to - &from).length().is_positive() {
        return vec![rail];
    }
    let holes = Holes { count: hook_count(job, &length), pitch, bit: job.figure("hook-bit") };
    let line = width.split(2).remove(0);
    let spans = [Span::FromLow(from, to), Span::Low(job.figure("hook-hole-depth")), Span::at(line)];
    vec![rail.drill(OperationKind::HookHoles, "for the hooks", &spans, holes)]
}

/// The first and the last hook, and how far apart they are.
fn hooks(job: &Job<'_>, length: &Dim) -> [Dim; 3] {
    let end = job.figure("hook-from-end");
    let row = length - &end * 2;
    let gaps = spaces(row.length(), job.figure("hook-spacing").length());
    let to = &end + &row;
    [end, to, row.split(usize::from(gaps)).remove(0)]
}

/// How many hooks a rail of this length carries: no further apart than stated.
pub(super) fn hook_count(job: &Job<'_>, length: &Dim) -> u32 {
    let row = length.length() - job.figure("hook-from-end").length() * 2;
    if row.is_positive() { u32::from(spaces(row, job.figure("hook-spacing").length())) + 1 } else { 0 }
}
