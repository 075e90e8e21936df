//! Benches: a box with a seat on it that covers the fronts and stands out a little before them.

use dryfit_plan::{Role, UnitKind};

use super::carcass::Carcass;
use super::job::Job;
use super::part::{FLAT_UP, part};
use super::{Part, Purpose};

/// The seat of a bench, in one piece over the whole box.
pub(super) fn seat(job: &Job<'_>, carcass: &Carcass) -> Option<Part> {
    let stock = job.stock(Role::Seat).filter(|_| job.placed.kind == UnitKind::Bench)?;
    let before = &job.placed.frame + &job.placed.front + job.figure("seat-overhang");
    let sizes = [
        carcass.over_all.clone().named("seat length"),
        (&carcass.depth + &before).named("seat width"),
        stock.thick("seat"),
    ];
    let at = [-carcass.overhang[0].length(), -before.length(), carcass.height.length()];
    let seat = part(&stock, "seat", FLAT_UP, sizes, at).called("seat");
    Some(seat.serves(Purpose::Covers, Purpose::Covers).with_front_edge())
}
