//! Fronts that do not open: made like the others, and screwed on from behind.

use dryfit_measure::Length;
use dryfit_plan::Role;

use super::carcass::Carcass;
use super::door::five_piece;
use super::drawer::{in_one_piece, slab};
use super::front::{Leaf, Row, role};
use super::job::Job;
use super::part::{UPRIGHT_FRONT, part};
use super::{Part, Purpose};

/// The front, and where it laps the frame the two blocks in its opening that it is screwed to.
pub(super) fn fixed(job: &Job<'_>, carcass: &Carcass, row: &Row<'_>, leaf: &Leaf) -> Vec<Part> {
    let Some(stock) = job.stock(Role::Door) else { return Vec::new() };
    let frame = carcass.frame_thickness();
    let mut parts = if in_one_piece(job, &stock, leaf) {
        vec![slab(job, &stock, leaf, frame, "fixed")]
    } else {
        five_piece(job, leaf, frame, "fixed", &job.figure("drawer-front-rail"))
            .map_or_else(Vec::new, super::door::Pieces::into_parts)
    };
    if job.overlays() {
        parts.extend(blocks(job, carcass, row));
    }
    parts
}

/// Two short uprights between the rails, beside the stiles, in the plane of the frame.
fn blocks(job: &Job<'_>, carcass: &Carcass, row: &Row<'_>) -> Vec<Part> {
    let (Some(stock), Some(bay)) = (&carcass.frame, row.bays.first()) else { return Vec::new() };
    let width = job.figure("frame-stile");
    let at = |side: &str, x: Length| {
        let sizes = [width.clone(), stock.thick("frame"), row.height.clone().named("block length")];
        let corner = [x, -stock.thickness.length(), row.bottom.length()];
        part(stock, format!("{}/block.{side}", role("fixed", &row.path)), UPRIGHT_FRONT, sizes, corner)
            .called("block")
            .serves(Purpose::Into, Purpose::Mates)
    };
    let at = |side: &str, x: Length| super::frame::pockets(job, stock, at(side, x));
    vec![at("left", bay.left), at("right", row.right() - width.length())]
}
