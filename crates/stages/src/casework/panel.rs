//! Strips and panels beside boxes: fillers, and finished panels at free ends.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Role, ToeBuild, UnitKind};

use super::job::Job;
use super::part::{Span, Stock, UPRIGHT_FACING_LEFT, UPRIGHT_FRONT, part};
use super::{OperationKind, Part, Purpose, toe};
use crate::finding::{Finding, Severity};
use crate::placement::Beside;

/// The parts of a filler or an end panel.
pub(super) fn panel(job: &Job<'_>) -> (Vec<Part>, Vec<Finding>) {
    if job.placed.kind == UnitKind::EndPanel { end_panel(job) } else { (filler(job), Vec::new()) }
}

/// A filler: a strip level with the face of the frames beside it, and its stretch of toe board.
fn filler(job: &Job<'_>) -> Vec<Part> {
    let Some(stock) = job.stock(Role::Skin) else { return Vec::new() };
    let frame = &job.placed.frame;
    let foot = if job.on_floor() { job.toe_height() } else { Dim::zero() };
    let length = (job.placed.height.clone().named("unit height") - &foot).named("filler length");
    let width = job.placed.width.clone().named("filler width");
    let sizes = [width.clone(), stock.thick("filler"), length.clone()];
    let mut parts = vec![
        part(&stock, "filler", UPRIGHT_FRONT, sizes, [Length::ZERO, -frame.length(), foot.length()])
            .serves(Purpose::Mates, Purpose::Covers),
    ];
    if let (true, Some(board)) = (job.on_floor(), job.stock(Role::Toe)) {
        let depth = job.figure("toe-depth").length();
        parts.push(toe::board(&board, &width, &job.toe_height(), Length::ZERO, depth));
    }
    parts.extend(cleat(job, &stock, &length, foot.length()));
    parts
}

/// Without a frame the filler lies in the plane of the doors: a strip behind it, screwed to the side of the box
/// beside it, holds it there.
fn cleat(job: &Job<'_>, stock: &Stock, length: &Dim, foot: Length) -> Option<Part> {
    let beside = [0, 1].into_iter().find(|&k| match &job.placed.beside[k] {
        Beside::Unit(key) => job.plan.units.get(key).is_some_and(|unit| unit.kind.is_box()),
        _ => false,
    });
    let beside = beside.filter(|_| !job.framed() && job.placed.width.length() >= stock.thickness.length())?;
    let right = job.placed.width.length() - stock.thickness.length();
    let x = if beside == 0 { Length::ZERO } else { right };
    let behind = stock.thickness.length() - job.placed.frame.length();
    let sizes = [stock.thick("cleat"), job.figure("filler-cleat"), length.clone()];
    let cleat =
        part(stock, "cleat", UPRIGHT_FACING_LEFT.outside(), sizes, [x, behind.max(Length::ZERO), foot]);
    Some(cleat.called("filler cleat").serves(Purpose::Into, Purpose::Mates))
}

/// A finished end panel: its depth covers box and frame, and it follows the toe notch.
fn end_panel(job: &Job<'_>) -> (Vec<Part>, Vec<Finding>) {
    let Some(stock) = job.stock(Role::Skin) else { return (Vec::new(), Vec::new()) };
    let length = job.placed.height.clone().named("panel length");
    let width = job.placed.depth.clone().named("panel width");
    // Its good face looks away from its neighbour: to the side that is free.
    let faces_right = matches!(job.placed.beside[1], Beside::Free);
    let lay = if faces_right { super::part::UPRIGHT_FACING_RIGHT } else { UPRIGHT_FACING_LEFT };
    let sizes = [stock.thick("panel"), width, length];
    let mut panel = part(&stock, "panel", lay.outside(), sizes, [Length::ZERO; 3])
        .called("end panel")
        .serves(Purpose::Mates, Purpose::Mates)
        .with_front_edge();
    if job.on_floor() && job.recipe.toe == ToeBuild::Notched {
        let frame = if job.framed() {
            job.stock(Role::Frame).map_or_else(Dim::zero, |stock| stock.thick("frame"))
        } else {
            job.stock(Role::Door)
                .filter(|_| job.overlays())
                .map_or_else(Dim::zero, |stock| stock.thick("front"))
        };
        let depth = job.figure("toe-depth") + frame;
        panel = panel.cut(
            OperationKind::Notch,
            "toe kick; saw it last",
            &[Span::All, Span::Low(depth), Span::Low(job.toe_height())],
        );
    }
    let off = job.placed.width.length() - stock.thickness.length();
    let mut findings = Vec::new();
    if !off.is_zero() {
        let what = format!(
            "`{}` is given {} of the run, and its panel is {} thick as measured",
            job.placed.key,
            job.show(job.placed.width.length()),
            job.show(stock.thickness.length())
        );
        let mut finding = job.finding(Severity::Look, "casework/panel-thickness", what);
        finding.at = job.pointer().child("width");
        finding.because = vec![job.placed.width.clone(), stock.thickness.clone()];
        findings.push(finding);
    }
    (vec![panel], findings)
}
