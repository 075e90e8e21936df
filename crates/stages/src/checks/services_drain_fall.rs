//! `services/drain-fall`: every drain falls as much as its size asks.
//!
//! What it checks: each leg of a drain that is not upright, its fall against the slope for its size.
//!
//! Why it matters: what does not run stands, and what stands settles.
//!
//! Source: the table of the code that governs: 1/4 in in a foot up to 2 1/2 in, by IRC P3005.3.
//!
//! Example: 28 in of 1 1/2 in pipe fall 9/16 in at least.
//!
//! Remedy: the lower end, and what runs level behind it, as much lower as is missing.

use dryfit_measure::Toward;
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use super::piped::level_nodes;
use crate::finding::{Finding, Fix, Severity};
use crate::services::{PlacedRun, RunKind};

const RULE: &str = "services/drain-fall";

/// Drains that do not fall enough: of each the worst leg.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let drains = checked.services.runs.iter().filter(|run| run.kind == RunKind::Drain);
    drains.filter_map(|drain| of_drain(checked, drain)).collect()
}

fn of_drain(checked: &Checked<'_>, drain: &PlacedRun) -> Option<Finding> {
    let rules = &checked.services.rules;
    let fall = &rules.plumbing().fall;
    let short = |i: &usize| {
        let [needed, falls] = drain.falls(checked.survey, rules, *i)?;
        let short = &needed - &falls;
        short.length().is_positive().then_some((needed, falls, short))
    };
    // one after the other: what is mended above lowers what is below
    let (leg, (needed, falls, short)) =
        (0..drain.nodes.len().saturating_sub(1)).find_map(|i| Some((i, short(&i)?)))?;
    let (from, to) = (&drain.nodes[leg], &drain.nodes[leg + 1]);
    let falling = if falls.length().is_negative() {
        format!("rises {}", checked.needed(&-&falls))
    } else {
        format!("falls {}", checked.available(&falls))
    };
    let what = format!(
        "`{}` {falling} from `{}` to `{}`, and has to fall {}",
        drain.key,
        from.key,
        to.key,
        checked.needed(&needed)
    );
    let subjects = vec![drain.key.clone(), from.key.clone()];
    let mut finding = found(RULE, Severity::Stop, subjects, to.at.child("up"), what);
    let moved = checked.raised(
        Draft::of(checked.plan),
        drain,
        level_nodes(drain, leg + 1),
        -short.length(),
        Toward::Down,
    );
    let edit =
        moved.edit(format!("lower `{}` from `{}` on by {}", drain.key, to.key, checked.needed(&short)));
    if !edit.is_empty() {
        finding.fixes = vec![Fix::of(edit)];
    }
    finding.because = vec![needed, falls];
    finding.short_by = Some(short.named("falls short by").placed(drain.key.as_str()));
    Some(Finding { source: rules.cite(&fall.cite, fall.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;

    #[test]
    fn the_drain_of_the_demo_falls() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_at_its_slope_it_passes_and_a_mark_less_it_does_not() {
        // 28 in at 1/4 in to the foot: 7/12 in; 24 in: 1/2 in exactly
        let plan = with(&demo(), "/services/waste/pipe/nodes/w3/at/along", "44 in");
        let plan = with(&plan, "/services/waste/pipe/nodes/w4/at/along", "44 in");
        assert!(found(&with(&plan, "/services/waste/pipe/nodes/w3/at/up", "16 7/16 in"), RULE).is_empty());
        let plan = with(&plan, "/services/waste/pipe/nodes/w3/at/up", "16 1/2 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].what, "`waste` falls 7/16 in from `w2` to `w3`, and has to fall 1/2 in");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn one_that_rises_says_so() {
        let plan = with(&demo(), "/services/waste/pipe/nodes/w3/at/up", "18 in");
        let findings = found(&plan, RULE);
        assert!(
            findings[0].what.starts_with("`waste` rises 1 1/16 in from `w2` to `w3`"),
            "{}",
            findings[0].what
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
