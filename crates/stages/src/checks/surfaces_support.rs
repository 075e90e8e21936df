//! `surfaces/support`: a worktop is carried wherever it spans or hangs over.
//!
//! What it checks: overhangs at the front and at free ends against the figure `top-overhang-most`; spans between
//! what carries it against `top-span-most`; and that there is a board for the cleats of shorter spans.
//!
//! Why it matters: laminate on board breaks at its edge when somebody sits on it, and sags over a gap until its
//! seam opens. The front edge has to resist 75 lb (AWS section 11, 6.2.1.1).
//!
//! Source: common practice; AWS section 11, 4.4.16.8 allows solid surface of 3/4 in 12 in, of 1/2 in 6.
//!
//! Example: an overhang of 10 in with nothing under it.
//!
//! Remedy: a smaller overhang; a board to cut cleats from; for a span, a panel or a unit under it.

use dryfit_measure::{Dim, Pointer, Toward};
use dryfit_plan::{Draft, Form, TopRole};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::worktop::{LegEnd, Span, WorkLeg, Worktop};

const RULE: &str = "surfaces/support";

/// Worktops that nothing carries somewhere.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for top in &checked.surfaces.worktops {
        findings.extend(overhangs(checked, top));
        findings.extend(top.legs.iter().flat_map(|leg| spans(checked, top, leg)));
        findings.extend(no_cleats(checked, top));
    }
    findings
}

fn overhangs(checked: &Checked<'_>, top: &Worktop) -> Vec<Finding> {
    let figures = Figures::of_top(checked.plan, &top.key);
    let most = figures.dim("top-overhang-most");
    let free = top.legs.iter().flat_map(|leg| &leg.ends).any(|end| *end == LegEnd::Free);
    let mut findings = Vec::new();
    for (id, place, there) in
        [("top-overhang", "at the front", true), ("top-overhang-free", "at its free end", free)]
    {
        let over = figures.dim(id);
        if !there || over.length() <= most.length() {
            continue;
        }
        let what = format!(
            "`{}` hangs over {} {place} with nothing under it, and {} is the most",
            top.key,
            checked.needed(&over),
            checked.available(&most)
        );
        let at = Pointer::root().child("tops").child(top.key.as_str()).child("figures").child(id);
        let mut finding = found(RULE, Severity::Stop, vec![top.key.clone()], at.clone(), what);
        let less = checked.mark(most.length(), Toward::Down);
        let label = format!("let `{}` hang over {less} {place}", top.key);
        finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, less).edit(label)));
        finding.short_by = Some((&over - &most).named("too far by").placed(top.key.as_str()));
        finding.because = vec![over, most.clone()];
        findings.push(finding);
    }
    findings
}

fn spans(checked: &Checked<'_>, top: &Worktop, leg: &WorkLeg) -> Vec<Finding> {
    let most = Figures::of_top(checked.plan, &top.key).dim("top-span-most");
    let wide = |span: &&Span| span.width.length() > most.length();
    leg.spans.iter().filter(wide).map(|span| sags(checked, top, span, &most)).collect()
}

fn sags(checked: &Checked<'_>, top: &Worktop, span: &Span, most: &Dim) -> Finding {
    let units: Vec<String> = span.units.iter().map(|unit| format!("`{unit}`")).collect();
    let what = format!(
        "`{}` spans {} over {}, and {} is the most between what carries it",
        top.key,
        checked.needed(&span.width),
        units.join(" and "),
        checked.available(most)
    );
    let unit = &span.units[0];
    let at = Pointer::root().child("units").child(unit.as_str()).child("width");
    let mut finding = found(RULE, Severity::Look, vec![top.key.clone(), unit.clone()], at.clone(), what);
    let over = span.width.length() - most.length();
    for key in &span.units {
        let Some(dryfit_plan::Width::Given(width)) = checked.plan.units.get(key).map(|unit| unit.width)
        else {
            continue;
        };
        let less = checked.mark(width.length - over, Toward::Down);
        if less.length * 2 > width.length {
            let at = Pointer::root().child("units").child(key.as_str()).child("width");
            let draft = Draft::of(checked.plan).set(&at, dryfit_plan::Width::Given(less));
            finding.fixes.push(Fix::of(draft.edit(format!("make `{key}` {less} wide"))));
        }
    }
    finding.short_by = Some((&span.width - most).named("too wide by").placed(unit.as_str()));
    finding.because = vec![span.width.clone(), most.clone()];
    finding
}

/// Spans that get a cleat, and no board to cut it from.
fn no_cleats(checked: &Checked<'_>, top: &Worktop) -> Option<Finding> {
    let stated = checked.plan.tops.get(&top.key)?;
    let spans: Vec<&Span> =
        top.legs.iter().flat_map(|leg| &leg.spans).filter(|span| span.cleat.is_some()).collect();
    let widest = spans.iter().max_by_key(|span| span.width.length())?;
    if stated.roles.contains_key(&TopRole::Cleat) {
        return None;
    }
    let what = format!(
        "`{}` spans {} over `{}` and needs a cleat on the wall there, and no board serves as `cleat`",
        top.key,
        checked.needed(&widest.width),
        widest.units[0]
    );
    let at = Pointer::root().child("tops").child(top.key.as_str()).child("roles").child("cleat");
    let subjects = vec![top.key.clone(), widest.units[0].clone()];
    let mut finding = found(RULE, Severity::Look, subjects, at.clone(), what);
    let boards = checked.plan.goods.iter().filter(
        |(_, good)| matches!(&good.form, Form::Board(board) if board.length.length >= widest.width.length()),
    );
    finding.fixes = boards
        .take(2)
        .map(|(key, good)| {
            let label = format!("cut cleats from `{key}`, {}", good.name);
            Fix::of(Draft::of(checked.plan).set(&at, key.as_str()).edit(label))
        })
        .collect();
    finding.because = vec![widest.width.clone()];
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};
    use std::collections::BTreeMap;

    const RULE: &str = "surfaces/support";

    fn figures(these: &[(&str, &str)]) -> Plan {
        let these: BTreeMap<&str, &str> = these.iter().copied().collect();
        with(&demo(), "/tops/slate/figures", these)
    }

    #[test]
    fn the_worktop_of_the_demo_is_carried() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn six_inches_may_hang_over_and_a_mark_more_may_not() {
        // common practice for laminate on a 3/4 core: 6 to 10 in
        assert!(found(&figures(&[("top-overhang-free", "6 in")]), RULE).is_empty());
        let plan = figures(&[("top-overhang-free", "6 1/16 in")]);
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`slate` hangs over 6 1/16 in at its free end with nothing under it, and 6 in is the most"
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_span_exactly_as_wide_as_allowed_passes_and_a_mark_wider_does_not() {
        let widest = super::super::trial::derive(&demo()).surfaces.worktops[0]
            .legs
            .iter()
            .flat_map(|leg| &leg.spans)
            .map(|span| span.width.length())
            .max()
            .expect("spans");
        let most = |by: i64| {
            let most = widest + dryfit_measure::Length::from_nm(by);
            figures(&[(
                "top-span-most",
                &dryfit_measure::Stated::new(most, dryfit_measure::Unit::Millimetre).to_string(),
            )])
        };
        assert!(found(&most(1_000), RULE).is_empty());
        assert!(!found(&most(-1_600_000), RULE).is_empty());
    }

    #[test]
    fn without_a_board_for_cleats_one_is_offered() {
        let plan = demo();
        let at = Pointer::parse("/tops/slate/roles/cleat").expect("a pointer");
        let (plan, _) = plan.apply(&Draft::of(&plan).remove(&at).edit("no cleat")).expect("still a plan");
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
    }
}
