//! Boxes with a face frame: base, sink, wall and tall units, drawer banks among them.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Front, Hand, UnitKind};

use super::back::back;
use super::bottom::{bottom, fixed_shelf, strips, top};
use super::carcass::Carcass;
use super::door::{Pieces, door};
use super::drawer::{drawer, packing};
use super::fixed::fixed;
use super::frame::frame;
use super::front::{Leaf, Row, leaves, openings, rows};
use super::job::Job;
use super::shelf::{compartments, pin_rows, shelves};
use super::side::side;
use super::toe::toe;
use super::{FrontOpening, Part};
use crate::finding::{Finding, Severity};

/// A box taken apart, with what its steps and its hardware are told from.
pub(super) struct Cabinet<'a> {
    /// Its parts, in the order of its page.
    pub(super) parts: Vec<Part>,
    /// Its measures.
    pub(super) carcass: Carcass,
    /// Its front.
    pub(super) rows: Vec<Row<'a>>,
    /// What closes each row.
    pub(super) leaves: Vec<Vec<Leaf>>,
    /// What is packed out behind slides, where there are drawers.
    pub(super) packing: Length,
}

impl Cabinet<'_> {
    /// Its openings, for doors, drawers and fronts.
    pub(super) fn openings(&self) -> Vec<FrontOpening> {
        openings(&self.rows)
    }
}

/// Takes a box apart; `None` where no good is named for it.
pub(super) fn cabinet<'a>(job: &Job<'a>) -> (Option<Cabinet<'a>>, Vec<Finding>) {
    let Some(carcass) = Carcass::of(job) else { return (None, Vec::new()) };
    let (rows, mut findings) = rows(job, &carcass);
    let fixed_at = fixed_shelves(job, &rows);
    let spaces = compartments(job, &carcass, &rows, &fixed_at);
    let pins = pin_rows(job, &carcass, &spaces);
    let (shelves, zones, more) = shelves(job, &carcass, &pins);
    findings.extend(more);
    let leaves: Vec<Vec<Leaf>> = rows.iter().map(|row| leaves(job, row)).collect();

    let thick = carcass.stock.thick("bottom");
    let mut dadoes = vec![(&carcass.floor - &thick, "bottom")];
    dadoes.extend(fixed_at.iter().map(|upper| (upper - &thick, "fixed shelf")));
    dadoes.extend(carcass.ceiling.iter().map(|ceiling| (ceiling.clone(), "top")));
    let first_is_fixed = matches!(rows.first().and_then(|row| row.front), Some(Front::Fixed { .. }));

    let mut parts: Vec<Part> =
        [Hand::Left, Hand::Right].map(|hand| side(job, &carcass, hand, &dadoes, &pins)).into();
    parts.push(bottom(job, &carcass));
    parts.extend(top(job, &carcass));
    parts.extend(fixed_at.iter().enumerate().map(|(i, upper)| fixed_shelf(job, &carcass, i + 1, upper)));
    parts.extend(strips(job, &carcass, first_is_fixed, &fixed_at));
    parts.extend(back(&carcass));
    parts.extend(shelves);
    parts.extend(frame(job, &carcass, &rows));
    parts.extend(toe(job, &carcass));

    let mut behind = zones;
    behind.extend(fixed_at.iter().map(|upper| [upper - &thick, upper.clone()]));
    for (row, leaves) in rows.iter().zip(&leaves) {
        for leaf in leaves {
            match row.front {
                Some(Front::Drawer { .. }) => {
                    let (drawer, more) = drawer(job, &carcass, row, leaf);
                    parts.extend(drawer);
                    findings.extend(more);
                }
                Some(Front::Fixed { .. }) => parts.extend(fixed(job, &carcass, row, leaf)),
                _ => {
                    let door = door(job, leaf, carcass.frame_thickness(), &behind);
                    parts.extend(door.map_or_else(Vec::new, Pieces::into_parts));
                }
            }
        }
    }
    let packing = rows.iter().find(|row| row.is_drawer()).map_or(Length::ZERO, |row| packing(&carcass, row));
    findings.extend(hinge_lap(job, &leaves));
    (Some(Cabinet { parts, carcass, rows, leaves, packing }), findings)
}

/// Upper faces of the shelves that are fixed at rails of wall and tall units, from the top.
fn fixed_shelves(job: &Job<'_>, rows: &[Row<'_>]) -> Vec<Dim> {
    if !matches!(job.placed.kind, UnitKind::Wall | UnitKind::Tall) {
        return Vec::new();
    }
    let between = rows.windows(2).filter(|pair| !pair[0].is_drawer() && !pair[1].is_drawer());
    between.map(|pair| pair[0].bottom.clone().named("fixed shelf at the rail")).collect()
}

/// Hinges that lap by another amount than the doors do.
fn hinge_lap(job: &Job<'_>, leaves: &[Vec<Leaf>]) -> Option<Finding> {
    let hung = leaves.iter().flatten().any(|leaf| leaf.hinge.is_some());
    let dryfit_plan::Form::Hinge { overlay, .. } = &job.good(dryfit_plan::Role::Hinge)?.form else {
        return None;
    };
    if !hung || !job.overlays() {
        return None;
    }
    let lap = job.figure("door-overlay");
    if lap.length() == overlay.length {
        return None;
    }
    let key = job.good_key(dryfit_plan::Role::Hinge)?;
    let what = format!(
        "the doors of `{}` lap by {}, and the hinge `{key}` is made for {}",
        job.placed.key,
        job.show(lap.length()),
        job.show(overlay.length)
    );
    let mut finding = job.finding(Severity::Stop, "casework/hinge-lap", what);
    let at = job.pointer().child("figures").child("door-overlay");
    finding.fixes = vec![job.put(
        format!("lap the doors of `{}` by {overlay}", job.placed.key),
        &at,
        &overlay.to_string(),
    )];
    finding.because = vec![lap];
    Some(finding)
}
