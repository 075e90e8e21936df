//! `casework/system-holes`: holes in an upright leave wood between them.
//!
//! What it checks: in sides and dividers, the holes of shelf pins, hinge plates, slides and joint screws against
//! each other, on one face, and through the board where both go deep. Holes that coincide are one hole.
//!
//! Why it matters: two holes that run into each other hold neither pin nor screw.
//!
//! Source: the grid of 5 mm holes, 32 mm apart and 37 mm behind the front edge, is that of the 32 mm cabinetmaking
//! system; 3 mm of wood between is common practice, no source.
//!
//! Example: a hinge plate's hole 6 mm above a pin hole leaves 1 mm.
//!
//! Remedy: pins on the pitch of the plates, or joint screws a little further in.

use dryfit_measure::{Dim, Length};
use dryfit_plan::Edit;

use super::Checked;
use super::found::{found, unit_at};
use crate::casework::{BuiltUnit, OperationKind, Part};
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};

/// Wood that is left between two holes at least.
const BETWEEN: Length = Length::mm(3);

/// One hole in a part.
#[derive(Clone, Debug)]
struct Hole {
    kind: OperationKind,
    /// Along and across.
    at: [Length; 2],
    radius: Length,
    depth: Length,
    good_face: bool,
}

/// Units with holes that run into each other, each by the two that are nearest.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|built| clash(checked, built)).collect()
}

fn clash(checked: &Checked<'_>, built: &BuiltUnit) -> Option<Finding> {
    let uprights = built.parts.iter().filter(|part| matches!(part.name.as_str(), "side" | "divider"));
    let (part, a, b, left) = uprights
        .filter_map(|part| {
            let (a, b, left) = nearest(&holes(part), part.thickness.length())?;
            Some((part, a, b, left))
        })
        .min_by_key(|(.., left)| *left)?;
    let shown =
        |length: Length| length.figure(checked.plan.fineness, dryfit_measure::Toward::Nearest).to_string();
    let between = if left.is_positive() { shown(left) } else { "nothing".to_owned() };
    let what = format!(
        "in `{}` of `{}` {} at {} leaves {between} to {}, and should leave {}",
        part.role,
        built.key,
        word(a.kind),
        shown(a.at[0]),
        word(b.kind),
        shown(BETWEEN)
    );
    let at = unit_at(&built.key).child("figures");
    let mut finding =
        found("casework/system-holes", Severity::Look, vec![built.key.clone()], at.clone(), what);
    let figures = Figures::of_unit(checked.plan, &built.key);
    let has = |kind| a.kind == kind || b.kind == kind;
    let (pins, plates) = (figures.dim("pin-hole-pitch"), figures.dim("hinge-plate-pitch"));
    if has(OperationKind::PinHoles) && has(OperationKind::PlateHoles) && pins.length() != plates.length() {
        let pitch = checked.mark(plates.length(), dryfit_measure::Toward::Nearest);
        let pitch = if pitch.length == plates.length() {
            pitch
        } else {
            dryfit_measure::Stated { length: plates.length(), unit: dryfit_measure::Unit::Millimetre }
        };
        let label = format!("put the pin holes of `{}` {pitch} apart, like the plates", built.key);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at.child("pin-hole-pitch"), pitch, label)));
    }
    if has(OperationKind::ScrewHoles) {
        let edge = figures.dim("joint-from-edge").length();
        let further = checked.mark(edge + BETWEEN - left + Length::mm(2), dryfit_measure::Toward::Up);
        let label = format!("put the joint screws of `{}` {further} from the edge", built.key);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at.child("joint-from-edge"), further, label)));
    }
    finding.because = vec![pins, Dim::rule(BETWEEN, "casework/system-holes").named("wood between two holes")];
    Some(finding)
}

/// What a hole is called.
fn word(kind: OperationKind) -> &'static str {
    match kind {
        OperationKind::PlateHoles => "a hinge plate's hole",
        OperationKind::SlideHoles => "a slide's hole",
        OperationKind::ScrewHoles => "a joint screw's hole",
        _ => "a pin hole",
    }
}

/// Every hole of a part that takes a pin, a plate, a slide or a joint screw.
fn holes(part: &Part) -> Vec<Hole> {
    use OperationKind::{PinHoles, PlateHoles, ScrewHoles, SlideHoles};
    let mut all = Vec::new();
    for done in &part.operations {
        let (true, Some(row)) =
            (matches!(done.kind, PinHoles | PlateHoles | ScrewHoles | SlideHoles), &done.holes)
        else {
            continue;
        };
        let gaps = Length::from_nm(i64::from(row.count.max(2)) - 1);
        for k in 0..row.count {
            let at = |ends: &[Dim; 2]| {
                let stretch = ends[1].length() - ends[0].length();
                ends[0].length() + stretch.proportion(Length::from_nm(i64::from(k)), gaps)
            };
            all.push(Hole {
                kind: done.kind,
                at: [at(&done.along), at(&done.across)],
                radius: row.bit.length().div_floor(2),
                depth: done.depth.length(),
                good_face: done.on_good_face,
            });
        }
    }
    all
}

/// The two holes of different rows with least wood between them, if that is too little.
fn nearest(holes: &[Hole], thickness: Length) -> Option<(Hole, Hole, Length)> {
    let mut worst: Option<(Hole, Hole, Length)> = None;
    for (i, a) in holes.iter().enumerate() {
        for b in &holes[i + 1..] {
            let meet = a.good_face == b.good_face || a.depth + b.depth > thickness;
            let [dx, dy] = [0, 1].map(|k| (a.at[k] - b.at[k]).abs());
            // one hole that serves two: drilled once
            let one = a.good_face == b.good_face && dx <= Length::um(1) && dy <= Length::um(1);
            if !meet || one || a.kind == b.kind && a.good_face == b.good_face {
                continue;
            }
            let left = dx.hypot(dy) - a.radius - b.radius;
            if left < BETWEEN && worst.as_ref().is_none_or(|(.., known)| left < *known) {
                worst = Some((a.clone(), b.clone(), left));
            }
        }
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, frameless, with};
    use super::*;

    const RULE: &str = "casework/system-holes";

    fn hole(kind: OperationKind, up: Length, good_face: bool) -> Hole {
        Hole { kind, at: [up, Length::mm(37)], radius: Length::um(2_500), depth: Length::mm(13), good_face }
    }

    #[test]
    fn the_demos_holes_keep_clear_of_each_other() {
        // C-32: 5 mm holes, 32 mm apart, 37 mm from the front edge (32 mm cabinetmaking system, encyclopedia)
        assert!(found(&frameless(), RULE).is_empty());
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn three_millimetres_between_are_enough_and_less_are_not() {
        let pin = hole(OperationKind::PinHoles, Length::mm(100), true);
        let plate = |up: Length| hole(OperationKind::PlateHoles, up, true);
        // 8 mm from centre to centre, less two halves of 5
        assert!(nearest(&[pin.clone(), plate(Length::mm(108))], Length::mm(18)).is_none());
        assert!(nearest(&[pin.clone(), plate(Length::um(107_999))], Length::mm(18)).is_some());
        assert!(nearest(&[pin, plate(Length::mm(100))], Length::mm(18)).is_none(), "one hole serves both");
    }

    #[test]
    fn through_a_divider_two_faces_meet_where_both_are_deep() {
        let [a, b] = [true, false].map(|face| hole(OperationKind::PlateHoles, Length::mm(100), face));
        assert!(nearest(&[a.clone(), b.clone()], Length::mm(18)).is_some());
        assert!(nearest(&[a, b], Length::mm(26)).is_none());
    }

    #[test]
    fn pins_off_the_plates_pitch_are_found_and_mended() {
        let plan = with(&frameless(), "/recipes/frameless/figures/pin-hole-pitch", "25 mm");
        let plan = with(&plan, "/recipes/frameless/figures/pin-hole-first", "50 mm");
        let plan = with(&plan, "/recipes/frameless/figures/pin-hole-top", "50 mm");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        for finding in &findings {
            every_remedy_clears(&plan, finding);
        }
    }
}
