//! `surfaces/paint`: paint covers, and fronts still fit once they are painted.
//!
//! What it checks: that a finish has two coats, or one over primer; that what is named as paint says how far it
//! goes; and that the gap round inset fronts, less the paint on both sides of it, is at least the figure
//! `inset-gap-least`.
//!
//! Why it matters: one coat shows every joint of the board. A door that was free on the bench sticks with five
//! coats on its edge and five on the frame.
//!
//! Source: common practice.
//!
//! Example: a gap of 1/16 in, primed once and painted twice on both sides.
//!
//! Remedy: another coat; a gap wider by the paint.

use dryfit_measure::{Dim, Key, Pointer, Toward};
use dryfit_plan::{Draft, Finish, Form, FrontFit, PartGroup, Plan};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::Paint;

const RULE: &str = "surfaces/paint";

/// Finishes that do not cover, or that jam.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for paint in &checked.surfaces.paints {
        let Some(finish) = checked.plan.finishes.get(&paint.key) else { continue };
        findings.extend(too_few(checked, paint, finish));
        findings.extend(says_nothing(checked, &paint.key, finish));
        let recipes = finish.on.recipes.iter().filter(|recipe| is_inset(checked.plan, finish, recipe));
        findings.extend(recipes.filter_map(|recipe| jams(checked, paint, recipe)));
    }
    findings
}

fn at(key: &Key) -> Pointer {
    Pointer::root().child("finishes").child(key.as_str())
}

fn too_few(checked: &Checked<'_>, paint: &Paint, finish: &Finish) -> Option<Finding> {
    let primed = paint.primer.as_ref().is_some_and(|(_, coats)| *coats > 0);
    let least = if primed { 1 } else { 2 };
    if finish.coats >= least {
        return None;
    }
    let bare = if primed { "over primer" } else { "without primer" };
    let what =
        format!("`{}` is put on in {} coats {bare}, and {least} is the least", paint.key, finish.coats);
    let at = at(&paint.key).child("coats");
    let mut finding = found(RULE, Severity::Look, vec![paint.key.clone()], at.clone(), what);
    let label = format!("put `{}` on in {}", paint.key, if least == 1 { "one coat" } else { "two coats" });
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, least).edit(label)));
    Some(finding)
}

/// Paint that is not of a form that is spread.
fn says_nothing(checked: &Checked<'_>, key: &Key, finish: &Finish) -> Option<Finding> {
    let good = checked.plan.goods.get(&finish.paint)?;
    if crate::surfaces::says_how_far(&good.form) {
        return None;
    }
    let what = format!(
        "`{}`, {}, does not say how far it goes, so it is reckoned at 350 sq ft a gallon",
        finish.paint, good.name
    );
    let at = at(key).child("paint");
    let mut finding = found(RULE, Severity::Note, vec![key.clone(), finish.paint.clone()], at.clone(), what);
    let spread = checked.plan.goods.iter().filter(|(_, good)| matches!(good.form, Form::Coating { .. }));
    finding.fixes = spread
        .take(2)
        .map(|(other, good)| {
            let label = format!("paint `{key}` with `{other}`, {}", good.name);
            Fix::of(Draft::of(checked.plan).set(&at, other.as_str()).edit(label))
        })
        .collect();
    Some(finding)
}

fn is_inset(plan: &Plan, finish: &Finish, recipe: &Key) -> bool {
    let painted = finish.on.parts.is_empty() || finish.on.parts.contains(&PartGroup::Fronts);
    painted && plan.recipes.get(recipe).is_some_and(|recipe| recipe.fit == FrontFit::Inset)
}

fn jams(checked: &Checked<'_>, paint: &Paint, recipe: &Key) -> Option<Finding> {
    let figures = crate::figures::Figures::of_recipe(checked.plan, recipe);
    let (gap, least) = (figures.dim("door-inset-gap"), figures.dim("inset-gap-least"));
    // on the edge of the front and on that of the frame
    let left: Dim = (&gap - &paint.film * 2).named("gap once painted").placed(recipe.as_str());
    if left.length() >= least.length() {
        return None;
    }
    let what = format!(
        "inset fronts made by `{recipe}` need {} all round once they are painted, and the gap of {} leaves less",
        checked.needed(&least),
        checked.available(&gap)
    );
    let at = Pointer::root().child("recipes").child(recipe.as_str()).child("figures").child("door-inset-gap");
    let subjects = vec![paint.key.clone(), recipe.clone()];
    let mut finding = found(RULE, Severity::Look, subjects, at.clone(), what);
    let wide = checked.mark((&least + &paint.film * 2).length(), Toward::Up);
    let label = format!("leave {wide} round fronts made by `{recipe}`");
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, wide).edit(label)));
    finding.short_by = Some((&least - &left).named("too tight by").placed(recipe.as_str()));
    finding.because = vec![left, least];
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    const RULE: &str = "surfaces/paint";

    fn inset(gap: &str) -> Plan {
        let plan = with(&demo(), "/recipes/painted/fit", "inset");
        with(&plan, "/recipes/painted/figures/door-inset-gap", gap)
    }

    #[test]
    fn the_paint_of_the_demo_covers() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn one_coat_over_primer_passes_and_none_does_not() {
        assert!(found(&with(&demo(), "/finishes/lime/coats", 1), RULE).is_empty());
        let plan = with(&demo(), "/finishes/lime/coats", 0);
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
    }

    #[test]
    fn a_gap_that_the_paint_just_leaves_passes_and_a_tenth_of_a_millimetre_less_does_not() {
        // one coat of primer and two of paint, 0.038 mm each, on both sides: 0.228 mm over 1/16 in
        assert!(found(&inset("1.8155 mm"), RULE).is_empty());
        let plan = inset("1.8154 mm");
        let findings = found(&plan, RULE);
        assert!(findings[0].what.starts_with("inset fronts made by `painted` need 1/16 in all round"));
        let (mended, _) = plan.apply(&findings[0].fixes[0].edit).expect("it applies");
        assert!(found(&mended, RULE).is_empty());
    }

    #[test]
    fn paint_that_does_not_say_how_far_it_goes_is_told_of() {
        let plan = with(&demo(), "/finishes/lime/paint", "glue");
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
    }
}
