//! Boxes, with a face frame and without: bases, wall and tall units, drawer banks, benches, lockers.

use dryfit_measure::{Dim, Length, Toward};
use dryfit_plan::{BackJoint, Edit, Form, Front, Hand, Role, UnitKind};

use super::back::back;
use super::bottom::{bottom, fixed_shelf, screw_rows, strips, top};
use super::carcass::Carcass;
use super::door::{door, has_inside, is_slab};
use super::drawer::{drawer, packing};
use super::fixed::fixed;
use super::frame::frame;
use super::front::{Leaf, Row, leaves, openings, role, rows};
use super::hinge;
use super::job::Job;
use super::shelf::{compartments, pin_rows, shelves};
use super::side::side;
use super::toe::toe;
use super::uprights::{self, Grid, bay_of};
use super::{FrontOpening, OperationKind, Part, bench, frameless, locker, rods};
use crate::finding::{Finding, Fix, Severity};

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
    /// What is packed out behind slides, left and right, where there are drawers.
    pub(super) packing: [Length; 2],
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
    let (rows, fixed_at, mut findings) = if job.framed() {
        let (rows, findings) = rows(job, &carcass);
        let fixed = fixed_shelves(job, &rows);
        (rows, fixed, findings)
    } else {
        frameless::rows(job, &carcass)
    };
    let hat = locker::hat_shelf(job, &carcass, &fixed_at);
    let through = fixed_at.clone();
    let mut fixed_at: Vec<Dim> = fixed_at.into_iter().chain(hat.clone()).collect();
    fixed_at.sort_by_key(|upper| std::cmp::Reverse(upper.length()));
    let spaces = compartments(job, &carcass, &rows, &fixed_at);
    let pins = pin_rows(job, &carcass, &spaces);
    let (shelves, zones, more) = shelves(job, &carcass, &pins);
    findings.extend(more);
    let leaves: Vec<Vec<Leaf>> = rows.iter().map(|row| leaves(job, row)).collect();

    let thick = carcass.stock.thick("bottom");
    let mut dadoes = vec![(&carcass.floor - &thick, "bottom")];
    dadoes.extend(fixed_at.iter().map(|upper| (upper - &thick, "fixed shelf")));
    dadoes.extend(carcass.ceiling.iter().map(|ceiling| (ceiling.clone(), "top")));
    let mut screws = screw_rows(job, &carcass, &dadoes, &fixed_at);
    let rods = rods::rods(job, &carcass);
    screws.extend(rods.iter().map(|rod| ("rod", rod.screwed_at())));

    let mut parts: Vec<Part> =
        [Hand::Left, Hand::Right].map(|hand| side(job, &carcass, hand, &dadoes, &screws, &pins)).into();
    parts.push(bottom(job, &carcass));
    parts.extend(top(job, &carcass));
    parts.extend(through.iter().enumerate().map(|(i, upper)| fixed_shelf(job, &carcass, i + 1, upper)));
    parts.extend(hat.iter().flat_map(|upper| locker::hat_shelves(job, &carcass, &rows, upper)));
    parts.extend(frameless::dividers(job, &carcass, &rows, &through));
    parts.extend(strips(job, &carcass, &fixed_at));
    parts.extend(back(job, &carcass));
    parts.extend(shelves);
    parts.extend(rods.into_iter().map(|rod| rod.part));
    parts.extend(bench::seat(job, &carcass));
    parts.extend(frame(job, &carcass, &rows));
    parts.extend(toe(job, &carcass));

    let mut behind = zones;
    behind.extend(fixed_at.iter().map(|upper| [upper - &thick, upper.clone()]));
    let mut mounts = Vec::new();
    let mut rows_of_pins = pins.iter();
    for (row, leaves) in rows.iter().zip(&leaves) {
        let pins = if row.takes_shelves() { rows_of_pins.next() } else { None };
        let grid = pins.filter(|_| !job.framed()).and_then(|pins| Grid::of(job, pins));
        for leaf in leaves {
            let bay = bay_of(row, leaf);
            match row.front {
                Some(Front::Drawer { .. }) => {
                    let (drawer, more) = drawer(job, &carcass, row, leaf);
                    parts.extend(drawer);
                    findings.extend(more);
                    if !job.framed() {
                        mounts.extend(uprights::slides(job, row, bay));
                    }
                }
                Some(Front::Fixed { .. }) => parts.extend(fixed(job, &carcass, row, leaf)),
                _ => {
                    let Some(door) = door(job, leaf, carcass.frame_thickness(), &behind, grid.as_ref())
                    else {
                        continue;
                    };
                    if let Some(hand) = leaf.hinge.filter(|_| uprights::on_plates(job)) {
                        let centres = door.cups.iter().map(|cup| &leaf.bottom + cup);
                        mounts.extend(centres.map(|up| uprights::plate(job, row, bay, hand, &up)));
                    }
                    findings.extend(hinge::shelf_finding(job, leaf, &door.cups, &behind));
                    parts.extend(door.parts);
                }
            }
        }
    }
    parts = uprights::mounted(job, &carcass, parts, &mounts);
    parts = uprights::pinned(job, &carcass, parts, &pins);
    let packing =
        rows.iter().find(|row| row.is_drawer()).map_or([Length::ZERO; 2], |row| packing(&carcass, row));
    findings.extend(hinge_lap(job, &leaves));
    if leaves.iter().flatten().any(|leaf| leaf.hinge.is_some()) {
        findings.extend(hinge::cup_finding(job));
    }
    findings.extend(dado_depth(job, &carcass));
    findings.extend(front_findings(job, &carcass, &rows, &leaves, &parts));
    (Some(Cabinet { parts, carcass, rows, leaves, packing }), findings)
}

/// Fronts that cannot be as they are asked for: narrower than their stiles, into each other, thicker than the
/// frame they lie in, without room for their pull.
fn front_findings(
    job: &Job<'_>,
    carcass: &Carcass,
    rows: &[Row<'_>],
    leaves: &[Vec<Leaf>],
    parts: &[Part],
) -> Vec<Finding> {
    let mut findings = Vec::new();
    let unit = &job.placed.key;
    for (row, leaves) in rows.iter().zip(leaves) {
        let door = matches!(row.front, Some(Front::Door { .. } | Front::Pair { .. }));
        for leaf in leaves.iter().filter(|_| door) {
            if !is_slab(job) && !has_inside(job, leaf, &job.figure("door-rail")) {
                let what = format!(
                    "the door `{}` of `{unit}` is {} wide and {} high, and its stiles and rails leave no panel",
                    leaf.path,
                    job.show(leaf.width.length()),
                    job.show(leaf.height.length())
                );
                let mut finding = job.finding(Severity::Stop, "casework/door-inside", what);
                finding.because = vec![leaf.width.clone(), leaf.height.clone(), job.figure("door-stile")];
                finding.fixes = one_door(job, row, leaf).into_iter().collect();
                findings.push(finding);
            }
        }
        for leaf in leaves.iter().filter(|_| door || row.is_drawer()) {
            let kind = role(if door { "door" } else { "drawer" }, &leaf.path);
            let mut own = parts
                .iter()
                .filter(|part| part.role.strip_prefix(&kind).is_some_and(|rest| rest.starts_with('/')))
                .peekable();
            let drilled =
                |part: &Part| part.operations.iter().any(|done| done.kind == OperationKind::PullHoles);
            if own.peek().is_some() && !own.any(drilled) && job.good(Role::Pull).is_some() {
                let what =
                    format!("the front `{}` of `{unit}` has no room for the screws of its pull", leaf.path);
                findings.push(job.finding(Severity::Look, "casework/pull-room", what));
            }
        }
    }
    let closed = |row: &Row<'_>| !matches!(row.front, None | Some(Front::Open { .. }));
    let stacked = rows.windows(2).any(|pair| closed(&pair[0]) && closed(&pair[1]));
    let beside = rows.iter().any(|row| row.bays.len() > 1);
    let lap = job.figure("door-overlay");
    for (there, id) in [(stacked, "frame-rail"), (beside, "frame-mid-stile")] {
        let between = job.figure(id);
        let short = (&lap * 2 - &between).named("too wide a lap by");
        if there && job.framed() && job.overlays() && short.length().is_positive() {
            let what = format!(
                "two fronts of `{unit}` that lap by {} meet on {} that is {} wide",
                job.show(lap.length()),
                between.name().unwrap_or("a part of the frame"),
                job.show(between.length())
            );
            let mut finding = job.finding(Severity::Stop, "casework/front-overlap", what);
            let wide = (&lap * 2).length().round_to(job.plan.fineness, Toward::Up);
            finding.fixes = job.put_figure(id, wide).into_iter().collect();
            finding.because = vec![lap.clone(), between];
            finding.short_by = Some(short);
            findings.push(finding);
        }
    }
    let hung = leaves.iter().any(|leaves| !leaves.is_empty());
    if let (false, true, Some(stock), Some(frame)) =
        (job.overlays(), hung, job.stock(Role::Door), &carcass.frame)
        && stock.thickness.length() > frame.thickness.length()
    {
        let what = format!(
            "the inset fronts of `{unit}` are {} thick, and the frame that they lie in is {}",
            job.show(stock.thickness.length()),
            job.show(frame.thickness.length())
        );
        let mut finding = job.finding(Severity::Stop, "casework/inset-thickness", what);
        let most = frame.thickness.length();
        finding.fixes =
            job.other_stock(Role::Door, "door", |thickness| thickness <= most && thickness * 2 > most);
        finding.because = vec![stock.thickness, frame.thickness.clone()];
        findings.push(finding);
    }
    findings
}

/// One door in the place of a pair whose leaves are too narrow, where one is wide enough.
fn one_door(job: &Job<'_>, row: &Row<'_>, leaf: &Leaf) -> Option<Fix> {
    let Some(Front::Pair { height }) = row.front else { return None };
    let single = Front::Door { hinge: Hand::Left, height: *height };
    if row.bays.len() > 1 || (&leaf.width * 2).length() <= job.figure("door-stile").length() * 2 {
        return None;
    }
    let label = format!("close `{}` of `{}` with one door", row.path, job.placed.key);
    Some(Fix { edit: Edit::set(job.plan, &row.at, single, label.clone()), label })
}

/// Upper faces of the shelves that are fixed at rails of wall and tall units, from the top.
fn fixed_shelves(job: &Job<'_>, rows: &[Row<'_>]) -> Vec<Dim> {
    if job.placed.kind != UnitKind::Wall && !job.placed.kind.is_tall() {
        return Vec::new();
    }
    let between = rows.windows(2).filter(|pair| !pair[0].is_drawer() && !pair[1].is_drawer());
    between.map(|pair| pair[0].bottom.clone().named("fixed shelf at the rail")).collect()
}

/// Dadoes and grooves that take more than half of the sides' nominal thickness (common practice, no source).
fn dado_depth(job: &Job<'_>, carcass: &Carcass) -> Option<Finding> {
    let half = carcass.stock.nominal.split(2).remove(0).named("half the sheet");
    let deepest = Dim::greatest_of(
        [carcass.dado.clone()].into_iter().chain(carcass.back.iter().map(|back| back.reach.clone())),
    )?;
    let short = (&deepest - &half).named("too deep by");
    if !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "a joint is cut {} deep into the sides of `{}`, which are {} thick: more than half",
        job.show(deepest.length()),
        job.placed.key,
        job.show(carcass.stock.nominal.length())
    );
    let id = match carcass.back.as_ref().map(|back| back.joint) {
        _ if carcass.dado.length() == deepest.length() => "bottom-dado-depth",
        Some(BackJoint::Rabbet) => "back-rabbet-depth",
        _ => "back-groove-depth",
    };
    let mut finding = job.finding(Severity::Look, "casework/dado-depth", what);
    finding.fixes =
        job.put_figure(id, half.length().round_to(job.plan.fineness, Toward::Down)).into_iter().collect();
    finding.source = dryfit_handbook::Source::Practice;
    finding.because = vec![deepest, half];
    finding.short_by = Some(short);
    Some(finding)
}

/// Hinges that lap by another amount than the doors do.
fn hinge_lap(job: &Job<'_>, leaves: &[Vec<Leaf>]) -> Option<Finding> {
    let hung = leaves.iter().flatten().any(|leaf| leaf.hinge.is_some());
    let Form::Hinge { overlay, .. } = &job.good(Role::Hinge)?.form else {
        return None;
    };
    // without a frame the side and the gap decide the lap, and a check of its own asks about it
    if !hung || !job.overlays() || !job.framed() {
        return None;
    }
    let lap = job.figure("door-overlay");
    if lap.length() == overlay.length {
        return None;
    }
    let key = job.good_key(Role::Hinge)?;
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
