//! `surfaces/laminate`: every blank comes out of its sheet, with a seam where one is needed.
//!
//! What it checks: blanks of facing, their trim included, against what a sheet gives.
//!
//! Why it matters: a blank that is an inch short shows a strip of bare substrate in the corner; a seam has to be
//! chosen before the sheet is bought.
//!
//! Source: geometry.
//!
//! Example: a leg of 137 in, and a sheet that gives 95 1/2 in.
//!
//! Remedy: a seam in the middle, away from sinks and appliances; larger sheets as thick.

use dryfit_measure::{Key, Length, Pointer, Toward};
use dryfit_plan::{CrossSeam, Draft, Form};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;
use crate::surfaces::worktop::{TopPart, TopPiece, WorkLeg, Worktop};
use dryfit_plan::UnitKind;

const RULE: &str = "surfaces/laminate";

/// Blanks that no sheet gives.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let of_top = |top| blanks(top).filter_map(move |piece| too_long(checked, top, piece));
    checked.surfaces.worktops.iter().flat_map(of_top).collect()
}

/// Pieces that are told of here, and not as pieces too big for their stock.
pub(super) fn tells_of(checked: &Checked<'_>, path: &str) -> bool {
    checked.surfaces.worktops.iter().any(|top| {
        blanks(top).any(|piece| path.strip_prefix(top.key.as_str()) == Some(&format!("/{}", piece.role)))
    })
}

fn blanks(top: &Worktop) -> impl Iterator<Item = &TopPiece> {
    top.pieces.iter().filter(|piece| matches!(piece.what, TopPart::Facing | TopPart::Edge))
}

fn too_long(checked: &Checked<'_>, top: &Worktop, piece: &TopPiece) -> Option<Finding> {
    let path = format!("{}/{}", top.key, piece.role);
    let stack = checked.layouts.sheets.iter().find(|stack| stack.good == piece.good)?;
    if !stack.unplaced.contains(&path) {
        return None;
    }
    let Form::Sheet(sheet) = &checked.plan.goods.get(&piece.good)?.form else { return None };
    let gives = [sheet.length.length, sheet.width.length].map(|side| side - stack.trim * 2);
    let figure = |length: Length| length.figure(checked.plan.fineness, Toward::Down);
    let what = format!(
        "`{path}` is {} by {}, and a sheet of `{}` gives {} by {}",
        checked.needed(&piece.length),
        checked.needed(&piece.width),
        piece.good,
        figure(gives[0]),
        figure(gives[1])
    );
    let at = Pointer::root().child("tops").child(top.key.as_str()).child("seams");
    let subjects = vec![top.key.clone(), piece.run.clone(), piece.good.clone()];
    let mut finding = found(RULE, Severity::Stop, subjects, at.clone(), what);
    let leg = top.legs.iter().find(|leg| leg.run == piece.run);
    if piece.what == TopPart::Facing
        && piece.width.length() <= gives[0].max(gives[1])
        && let Some(along) = leg.and_then(|leg| place(checked, top, leg, gives[0]))
    {
        let key = free_key(checked, top);
        let seam = CrossSeam { over: piece.run.clone(), along: checked.mark(along, Toward::Nearest) };
        let label = format!("seam the leg over `{}` at {} from the corner", piece.run, seam.along);
        finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at.child(key.as_str()), seam).edit(label)));
    }
    finding.because = vec![piece.length.clone(), piece.width.clone()];
    Some(finding)
}

/// A key that no seam of the worktop has yet.
fn free_key(checked: &Checked<'_>, top: &Worktop) -> Key {
    let taken = &checked.plan.tops[&top.key].seams;
    let numbered = (1..=taken.len() + 1).map(|n| format!("s{n}").parse::<Key>().expect("a key by its form"));
    numbered.into_iter().find(|key| !taken.contains_key(key)).expect("one more than are taken")
}

/// The place nearest the middle of a leg where a seam is clear of cut-outs and appliances and both blanks come
/// out of a sheet.
pub(super) fn place(checked: &Checked<'_>, top: &Worktop, leg: &WorkLeg, most: Length) -> Option<Length> {
    let figures = Figures::of_top(checked.plan, &top.key);
    let clear = figures.dim("top-seam-cutout").length();
    let spare = (figures.dim("laminate-trim").length() + figures.dim("top-scribe").length()) * 2;
    let [from, to] = [leg.back[0].length(), leg.back[1].length()];
    let mut off: Vec<[Length; 2]> =
        leg.holes.iter().map(|hole| [hole.left.length() - clear, hole.right.length() + clear]).collect();
    let over = |unit: &&PlacedUnit| unit.kind == UnitKind::Appliance;
    off.extend(
        checked
            .placement
            .units_of(&leg.run)
            .filter(over)
            .map(|unit| [unit.along.length(), unit.right().length()]),
    );
    let middle = from + (to - from).halves().0;
    let edges = off.iter().flat_map(|[a, b]| [*a, *b]);
    let clear = |at: &Length| {
        *at > from
            && *at < to
            && *at - from + spare <= most
            && to - *at + spare <= most
            && off.iter().all(|[a, b]| at <= a || at >= b)
    };
    // a mark away from what it keeps off, so that rounding does not take it back in
    let step = checked.plan.fineness.step();
    let near = edges.flat_map(|edge| [edge - step, edge + step]);
    near.chain([middle, from + most - spare, to - most + spare])
        .filter(clear)
        .min_by_key(|at| ((*at - middle).abs(), *at))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    const RULE: &str = "surfaces/laminate";

    fn sheets(length: &str) -> Plan {
        with(&demo(), "/goods/laminate/form/sheet/length", length)
    }

    #[test]
    fn the_long_blank_of_the_demo_comes_out_of_its_sheet() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_as_long_as_the_sheet_gives_passes_and_a_mark_longer_does_not() {
        let derived = derive(&demo());
        let pieces = derived.surfaces.to_cut();
        let blank = pieces.iter().find(|piece| piece.role == "laminate.back").expect("a blank");
        // trimmed 1/4 at both ends
        let half = dryfit_measure::Length::inches(0, 1, 2);
        let fineness = demo().fineness;
        let cut = blank.length.length().round_to(fineness, dryfit_measure::Toward::Up);
        let sheet = |length| dryfit_measure::Stated::new(length, dryfit_measure::Unit::Inch).to_string();
        assert!(found(&sheets(&sheet(cut + half)), RULE).is_empty());
        assert!(!found(&sheets(&sheet(cut + half - fineness.step())), RULE).is_empty());
    }

    #[test]
    fn a_seam_clears_a_leg_that_is_too_long() {
        let plan = sheets("121 in");
        let findings = found(&plan, RULE);
        assert!(findings[0].fixes[0].label.starts_with("seam the leg over `back` at "), "{findings:?}");
        let blank =
            findings.iter().find(|finding| finding.what.contains("laminate.back")).expect("the blank");
        let (mended, _) = plan.apply(&blank.fixes[0].edit).expect("it applies");
        assert!(found(&mended, "surfaces/seam").is_empty());
        every_remedy_clears(&plan, blank);
    }
}
