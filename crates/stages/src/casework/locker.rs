//! Lockers: tall boxes for clothes, with a shelf for hats above a rail with hooks.

use dryfit_measure::{Dim, Length};
use dryfit_plan::UnitKind;

use super::carcass::Carcass;
use super::front::Row;
use super::job::Job;
use super::part::{FLAT_UP, part};
use super::{Part, Purpose};

/// The upper face of a locker's shelf for hats, where these fixed shelves leave it room.
///
/// The rail with the hooks is the nailer under that shelf, which every tall box has under its topmost fixed shelf.
pub(super) fn hat_shelf(job: &Job<'_>, carcass: &Carcass, fixed: &[Dim]) -> Option<Dim> {
    let ceiling = carcass.ceiling.as_ref().filter(|_| job.placed.kind == UnitKind::Locker)?;
    let upper = (ceiling - job.figure("locker-hat")).named("shelf for hats");
    // with a rail below it, and hands above whatever is fixed already
    let room = job.figure("stretcher-width").length() * 2;
    let apart = |other: &Dim| (other.length() - upper.length()).abs() > room;
    let fits = upper.length() - carcass.floor.length() > room && fixed.iter().all(apart);
    fits.then_some(upper)
}

/// The shelf for hats: one from side to side, or one in each space of a divided locker, whose dividers go up past
/// it so that doors can hang on them.
pub(super) fn hat_shelves(job: &Job<'_>, carcass: &Carcass, rows: &[Row<'_>], upper: &Dim) -> Vec<Part> {
    let place = rows.iter().find(|row| row.bottom.length() < upper.length());
    let bays = place.filter(|_| !job.framed()).map_or(&[][..], |row| row.bays.as_slice());
    let thick = carcass.stock.thick("shelf for hats");
    let at = |number: usize, left: Length, length: Dim| {
        let sizes = [
            length.named("shelf for hats"),
            (carcass.back_front() - &carcass.behind).named("fixed shelf width"),
            thick.clone(),
        ];
        let corner = [left, carcass.behind.length(), upper.length() - thick.length()];
        let role = if number == 0 { "hat-shelf".to_owned() } else { format!("hat-shelf.{number}") };
        part(&carcass.stock, role, FLAT_UP, sizes, corner)
            .called("shelf for hats")
            .serves(Purpose::Into, Purpose::Mates)
            .with_front_edge()
    };
    if bays.len() < 2 {
        let (length, left) = carcass.joined("shelf for hats");
        return vec![super::bottom::joined_at_ends(
            job,
            carcass,
            at(0, left, length),
            super::part::Span::Low,
        )];
    }
    let last = bays.len() - 1;
    (0..bays.len())
        .map(|k| {
            // into the sides as the joint has it, butted to the dividers
            let into = |outer: bool| if outer { carcass.dado.clone() } else { Dim::zero() };
            let length = &bays[k].width + into(k == 0) + into(k == last);
            at(k + 1, bays[k].left - into(k == 0).length(), length)
        })
        .collect()
}
