//! What is not cut: screws, hinges, slides, pulls, pins and glue, counted from the joints.

use std::collections::BTreeMap;

use dryfit_measure::{Amount, Area, Dim, Key, Length};
use dryfit_plan::{BackJoint, BottomJoint, Form, Front, Role, ToeBuild, UnitKind};

use super::cabinet::Cabinet;
use super::job::Job;
use super::part::spaces;
use super::{Operation, OperationKind, Part};
use crate::finding::{Finding, Severity};
use crate::need::Need;
use crate::placement::{Studs, reach};

/// Counts by role and purpose, resolved to goods at the end.
struct Count<'a, 'j> {
    job: &'a Job<'j>,
    lines: Vec<Need>,
}

impl Count<'_, '_> {
    fn of_role(&mut self, role: Role, count: u32, what_for: &str) {
        self.amount_of_role(role, Amount::Pieces(count), what_for);
    }

    fn amount_of_role(&mut self, role: Role, amount: Amount, what_for: &str) {
        if let Some(key) = self.job.good_key(role).filter(|key| self.job.plan.goods.contains_key(*key)) {
            self.of_good(key.clone(), amount, what_for);
        }
    }

    fn of_good(&mut self, good: Key, amount: Amount, what_for: &str) {
        if amount.is_none() {
            return;
        }
        let same = |line: &&mut Need| line.good == good && line.what_for == what_for;
        match self.lines.iter_mut().find(same).and_then(|line| Some((line.amount.plus(amount)?, line))) {
            Some((sum, line)) => line.amount = sum,
            None => self.lines.push(Need::of(good, amount, what_for, self.job.placed.key.as_str())),
        }
    }
}

/// The hardware of a box.
pub(super) fn of_cabinet(job: &Job<'_>, cabinet: &Cabinet<'_>) -> Vec<Need> {
    let mut count = Count { job, lines: Vec::new() };
    for (what_for, screws) in pocket_screws(&cabinet.parts) {
        count.of_role(Role::JointScrew, screws, what_for);
    }
    let named = |needle: &str| cabinet.parts.iter().filter(|part| part.name == needle).count();
    let pieces = |n: usize, each: u32| u32::try_from(n).unwrap_or(u32::MAX).saturating_mul(each);
    count.of_role(Role::JointScrew, pieces(named("slide cleat"), 3), "slide cleats to sides");
    count.of_role(Role::FrontScrew, pieces(named("block"), 2), "fixed fronts, from behind");
    let fixed = cabinet.rows.iter().filter(|row| matches!(row.front, Some(Front::Fixed { .. }))).count();
    if !job.framed() {
        count.of_role(Role::FrontScrew, pieces(fixed, 4), "fixed fronts, from behind");
    }
    for (row, leaves) in cabinet.rows.iter().zip(&cabinet.leaves) {
        match row.front {
            Some(Front::Door { .. } | Front::Pair { .. }) => {
                for leaf in leaves {
                    let cups = cups(&cabinet.parts, &leaf.path);
                    count.of_role(Role::Hinge, cups, "doors");
                    count.of_role(Role::Pull, 1, "doors");
                }
            }
            Some(Front::Drawer { slide, .. }) => {
                let drawers = pieces(leaves.len(), 1);
                if job.slide(slide).is_some() {
                    count.of_good(slide.clone(), Amount::Pieces(drawers), "drawers, a pair each");
                }
                count.of_role(Role::JointScrew, drawers.saturating_mul(8), "corners of drawer boxes");
                count.of_role(Role::FrontScrew, drawers.saturating_mul(4), "drawer fronts, from inside");
                count.of_role(Role::Pull, drawers, "drawers");
            }
            _ => {}
        }
    }
    count.of_role(Role::Pin, pieces(named("shelf"), 4), "shelves, 4 each");
    count.of_role(Role::JointScrew, pieces(named("divider"), 4), "dividers, from below and above");
    count.of_role(Role::BackNail, back_nails(job, cabinet), "the back");
    count.of_role(Role::Leg, legs(job, cabinet), "to stand on");
    if named("seat") > 0 && job.unit.lid {
        count.of_role(Role::LidHinge, lid_hinges(job), "the seat");
        count.of_role(Role::LidStay, 1, "the seat, to let it down slowly");
    } else {
        count.of_role(
            Role::FrontScrew,
            pieces(named("seat") * named("stretcher"), 3),
            "the seat, from below",
        );
    }
    if job.placed.kind == UnitKind::Locker {
        let hooks = super::hook_rail::hook_count(job, &cabinet.carcass.inside);
        count.of_role(Role::Hook, hooks, "the rail under the shelf for hats");
    }
    let nailers = pieces(named("nailer"), 1);
    // At least two to a stud (common practice, no source).
    count.of_role(
        Role::HangScrew,
        studs(job).saturating_mul(nailers).saturating_mul(2),
        "nailers to studs, 2 each",
    );
    count.amount_of_role(Role::Glue, glue(job, &cabinet.parts), "joints");
    count.lines
}

/// Edge bands: every strip with what is trimmed off it.
pub(super) fn bands(job: &Job<'_>, parts: &[Part]) -> Vec<Need> {
    let mut count = Count { job, lines: Vec::new() };
    for band in parts.iter().flat_map(|part| &part.bands) {
        count.of_good(
            band.good.clone(),
            Amount::Length(band.length.length()),
            "edges, with what is trimmed off",
        );
    }
    count.lines
}

/// Legs under a box: one in each corner, and pairs between them where it is wide.
fn legs(job: &Job<'_>, cabinet: &Cabinet<'_>) -> u32 {
    let stands = job.recipe.toe == ToeBuild::Legs && cabinet.carcass.toe.is_some();
    let width = cabinet.carcass.width.length();
    if stands { (u32::from(spaces(width, job.figure("leg-spacing").length())) + 1) * 2 } else { 0 }
}

/// Hinges of a lid: one at each end, and more between them on a long one.
fn lid_hinges(job: &Job<'_>) -> u32 {
    u32::from(spaces(job.placed.width.length(), job.figure("lid-hinge-spacing").length())) + 1
}

/// Nails round a back that is laid on or in a rabbet, and along what it crosses.
fn back_nails(job: &Job<'_>, cabinet: &Cabinet<'_>) -> u32 {
    let Some(back) = cabinet.parts.iter().find(|part| part.role == "back") else { return 0 };
    if job.recipe.joints.back == BackJoint::Groove {
        return 0;
    }
    let apart = job.figure("back-nail-spacing").length();
    let row = |length: &Dim| u32::try_from(length.length().needs(apart)).unwrap_or(0) + 1;
    let shelves = cabinet.parts.iter().filter(|part| part.name == "fixed shelf").count();
    let across = row(&back.width).saturating_mul(u32::try_from(shelves).unwrap_or(0) + 2);
    across.saturating_add(row(&back.length).saturating_mul(2))
}

/// The hardware of a hook rail: its hooks, and two screws a stud.
pub(super) fn of_hook_rail(job: &Job<'_>, parts: &[Part]) -> Vec<Need> {
    let mut count = Count { job, lines: Vec::new() };
    let hooks = parts.first().map_or(0, |rail| super::hook_rail::hook_count(job, &rail.length));
    count.of_role(Role::Hook, hooks, "the rail");
    count.of_role(Role::HangScrew, studs(job).saturating_mul(2), "rail to studs, 2 each");
    count.lines
}

/// The hardware of a floating shelf: two screws a stud through its ledger, two at each arm.
pub(super) fn of_floating(job: &Job<'_>, parts: &[Part]) -> Vec<Need> {
    let mut count = Count { job, lines: Vec::new() };
    let arms = u32::try_from(parts.iter().filter(|part| part.name == "arm").count()).unwrap_or(0);
    count.of_role(Role::HangScrew, studs(job).saturating_mul(2), "ledger to studs, 2 each");
    count.of_role(Role::HangScrew, arms * 2, "arms to ledger, 2 each");
    count.amount_of_role(Role::Glue, glue(job, parts), "joints");
    count.lines
}

/// The screws of a filler or an end panel: to the neighbour's stile or side, no more than a foot apart.
pub(super) fn of_panel(job: &Job<'_>, parts: &[Part]) -> Vec<Need> {
    let mut count = Count { job, lines: Vec::new() };
    let tallest =
        parts.iter().map(|part| part.solid.max[2] - part.solid.min[2]).max().unwrap_or(Length::ZERO);
    let rows = u32::try_from(tallest.needs(Length::FOOT)).unwrap_or(1) + 1;
    let wide = if job.placed.kind == UnitKind::EndPanel { 2 } else { 1 };
    count.of_role(Role::JointScrew, rows * wide, "to its neighbour");
    count.lines
}

/// Screws of joints by what they join: one in each pocket hole, and in each hole through a side.
fn pocket_screws(parts: &[Part]) -> BTreeMap<&'static str, u32> {
    let mut screws = BTreeMap::new();
    for part in parts {
        let what_for = match part.name.as_str() {
            "side" => "frame to box",
            "frame rail" | "mid stile" => "face frame",
            "block" => "blocks to rails",
            "stretcher" | "stretcher, on edge" | "nailer" => "stretchers and nailers to sides",
            "divider" => "dividers to what is above and below",
            _ => "bottom, top and fixed shelves to sides",
        };
        let screwed = |operation: &&Operation| {
            matches!(operation.kind, OperationKind::PocketHoles | OperationKind::ScrewHoles)
        };
        for operation in part.operations.iter().filter(screwed) {
            let what_for = match operation.kind {
                OperationKind::ScrewHoles => "sides to what stands between them",
                _ => what_for,
            };
            let holes = operation.holes.as_ref().map_or(0, |holes| holes.count);
            *screws.entry(what_for).or_insert(0) += holes;
        }
    }
    screws
}

/// How many cups are bored in the door with this path.
fn cups(parts: &[Part], path: &str) -> u32 {
    let door = super::front::role("door", path);
    let stiles =
        parts.iter().filter(|part| part.role.strip_prefix(&door).is_some_and(|rest| rest.starts_with('/')));
    let cups = stiles
        .flat_map(|part| &part.operations)
        .filter(|operation| operation.kind == OperationKind::HingeCup);
    u32::try_from(cups.count()).unwrap_or(0)
}

/// Studs behind the unit; where the framing is not known, as many as 16 in centres give at least, plus one.
fn studs(job: &Job<'_>) -> u32 {
    let Some(studs) = Studs::of(job.plan, &job.placed.wall) else {
        let width = job.placed.width.length();
        return u32::try_from(width.fits(Length::inches(16, 0, 1))).unwrap_or(0) + 1;
    };
    let behind = studs.behind(&reach(job.plan, job.placed));
    u32::try_from(behind.end - behind.start).unwrap_or(0)
}

/// Glue: the faces that touch, as thick as a glue line. Backs, shelves, panels and drawer bottoms
/// stay free.
fn glue(job: &Job<'_>, parts: &[Part]) -> Amount {
    const DRY: [&str; 9] =
        ["back", "shelf", "panel", "drawer bottom", "toe board", "slide cleat", "block", "rod", "seat"];
    let glued: Vec<&Part> = parts.iter().filter(|part| !DRY.contains(&part.name.as_str())).collect();
    let mut area = Area::ZERO;
    for (i, a) in glued.iter().enumerate() {
        // Fronts are hung or screwed; only the pieces of one front are glued.
        for b in &glued[i + 1..] {
            if front_of(a) == front_of(b) {
                area += touching(a, b);
            }
        }
    }
    let film = job.figure("glue-film").length();
    Amount::Volume(area * film)
}

/// The front that a part belongs to, if it is one.
fn front_of(part: &Part) -> Option<&str> {
    part.gate?;
    let (front, piece) = part.role.rsplit_once('/')?;
    // A drawer's front is screwed to its box.
    Some(if piece == "face" { piece } else { front })
}

/// The area in which two parts touch: a face, or the two cheeks of what reaches into the other.
fn touching(a: &Part, b: &Part) -> Area {
    let shared = [0, 1, 2].map(|k| a.solid.max[k].min(b.solid.max[k]) - a.solid.min[k].max(b.solid.min[k]));
    if shared.iter().any(|length| length.is_negative()) {
        return Area::ZERO;
    }
    let faces = [shared[1] * shared[2], shared[0] * shared[2], shared[0] * shared[1]];
    let flat = shared.iter().filter(|length| length.is_zero()).count();
    let widest = faces.into_iter().max().unwrap_or(Area::ZERO);
    match flat {
        0 => widest * 2,
        1 => widest,
        _ => Area::ZERO,
    }
}

/// Screws that do not suit what they go through: pocket screws by their table, and front screws that would come
/// out of the face.
pub(super) fn lengths(job: &Job<'_>, cabinet: &Cabinet<'_>) -> Vec<Finding> {
    let box_stock = &cabinet.carcass.stock;
    let wanted = pocket_screw(box_stock.thickness.length());
    // a screw through a side goes into an end, and is judged by a check of its own
    let through = job.recipe.joints.bottom == BottomJoint::Screw;
    let pocket = unsuited(job, Role::JointScrew, "joint-screw", &box_stock.thickness, |screw| {
        through || screw == wanted
    });
    let pocket = pocket.map(|(mut finding, screw)| {
        finding.severity = Severity::Look;
        finding.what = format!(
            "pocket screws in stock {} thick are {} long, and those of `{}` are {}",
            job.show(box_stock.thickness.length()),
            job.show(wanted),
            job.placed.key,
            job.show(screw)
        );
        finding
    });
    let stack = || {
        Some(
            (job.stock(Role::DrawerBox)?.thick("drawer box front") + job.stock(Role::Door)?.thick("front"))
                .named("box and front"),
        )
    };
    let drawers = cabinet.rows.iter().any(super::front::Row::is_drawer);
    let front = stack().filter(|_| drawers).and_then(|stack| {
        let (mut finding, screw) =
            unsuited(job, Role::FrontScrew, "front-screw", &stack, |screw| screw < stack.length())?;
        finding.what = format!(
            "the front screws of `{}` are {} long and go into {}: they come out of the face",
            job.placed.key,
            job.show(screw),
            job.show(stack.length())
        );
        Some(finding)
    });
    pocket.into_iter().chain(front).collect()
}

/// A finding, still without words, for the screw of a role that does not suit; with its length. Remedies are the
/// screws of the plan that do.
fn unsuited(
    job: &Job<'_>,
    role: Role,
    written: &str,
    through: &Dim,
    suits: impl Fn(Length) -> bool,
) -> Option<(Finding, Length)> {
    let Form::Fastener { length } = job.good(role)?.form else { return None };
    if suits(length.length) {
        return None;
    }
    let mut finding = job.finding(Severity::Stop, "casework/screw-length", String::new());
    finding.source = dryfit_handbook::Source::Practice;
    finding.because = vec![through.clone()];
    finding.at = if job.unit.roles.contains_key(&role) { job.pointer() } else { job.recipe_pointer() };
    finding.at = finding.at.child("roles").child(written);
    let others = job.plan.goods.iter().filter(|(_, good)| {
        matches!(good.form, Form::Fastener { length } if suits(length.length) && length.length >= Length::INCH)
    });
    finding.fixes = others
        .take(3)
        .map(|(key, good)| job.put(format!("use `{key}`, {}", good.name), &finding.at, key.as_str()))
        .collect();
    Some((finding, length.length))
}

/// The length of a pocket screw for stock of this thickness: 1 in for 1/2, 1 1/4 for 3/4, 1 1/2 up to 1 1/4,
/// 2 1/2 for 1 1/2 and more (a published table of screw lengths; its maker is not named here).
pub(super) fn pocket_screw(thickness: Length) -> Length {
    const TABLE: [(Length, Length); 3] = [
        (Length::inches(0, 5, 8), Length::inches(1, 0, 1)),
        (Length::inches(0, 7, 8), Length::inches(1, 1, 4)),
        (Length::inches(1, 1, 4), Length::inches(1, 1, 2)),
    ];
    TABLE.iter().find(|(most, _)| thickness <= *most).map_or(Length::inches(2, 1, 2), |(_, screw)| *screw)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pocket_screws_by_thickness() {
        // C-pocket: a published pocket-screw length table, 1/2 -> 1, 3/4 -> 1 1/4, 1 1/2 -> 2 1/2
        let inch = Length::inches;
        for (thickness, screw) in [
            (inch(0, 1, 2), inch(1, 0, 1)),
            (inch(0, 23, 32), inch(1, 1, 4)),
            (inch(0, 3, 4), inch(1, 1, 4)),
            (inch(1, 1, 2), inch(2, 1, 2)),
        ] {
            assert_eq!(pocket_screw(thickness), screw, "{thickness:?}");
        }
    }
}
