//! `services/drain-size`: a drain carries the fixture units of what runs into it.
//!
//! What it checks: the drainage fixture units of the sink or machine that a drain serves, against what a branch of its
//! size carries.
//!
//! Why it matters: a pipe that runs full has no room for the air behind the water.
//!
//! Source: IRC Tables P3004.1 and P3005.4.1, IPC 709 and 710, UPC 702.1 and 703.2, as the plan's code says.
//!
//! Example: a sink counts two units; by the UPC a branch of 1 1/4 in carries one.
//!
//! Remedy: a larger pipe, where the plan has one.

use dryfit_measure::Length;
use dryfit_plan::{Draft, UnitKind};

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::{PlacedRun, RunKind};

const RULE: &str = "services/drain-size";

/// Drains that are too small.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let new = |run: &&PlacedRun| run.kind == RunKind::Drain && !run.found;
    checked.services.runs.iter().filter(new).filter_map(|drain| of_drain(checked, drain)).collect()
}

fn of_drain(checked: &Checked<'_>, drain: &PlacedRun) -> Option<Finding> {
    let rules = &checked.services.rules;
    let rule = &rules.plumbing().units;
    let served = checked.plan.units.get(drain.serves.as_ref()?)?;
    let units = if served.kind == UnitKind::Appliance { rule.washer } else { rule.sink };
    let carries = rule.at(drain.nominal.length())?;
    if units <= carries {
        return None;
    }
    let at = stated_at(checked.plan, &drain.key).child("good");
    let what = format!(
        "`{}` serves {units} fixture units, and a branch of {} carries {carries}",
        drain.key,
        checked.available(&drain.nominal)
    );
    let mut finding = found(RULE, Severity::Stop, vec![drain.key.clone()], at.clone(), what);
    let least = rule.rows.iter().find(|row| row.units >= units)?.upto.length;
    let smaller = rule.rows.iter().rev().find(|row| row.units < units);
    let least = smaller.map_or(least, |row| row.upto.length + Length::from_nm(1));
    finding.fixes = checked
        .pipe_of(least)
        .map(|good| {
            let label = format!("make `{}` of {}", drain.key, checked.plan.goods[&good].name);
            Fix::of(Draft::of(checked.plan).set(&at, &good).edit(label))
        })
        .into_iter()
        .collect();
    finding.because = vec![drain.nominal.clone()];
    Some(Finding { source: rules.cite(&rule.cite, rule.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;

    #[test]
    fn a_sink_counts_two_units_and_the_least_pipe_that_carries_them_passes() {
        // UPC 703.2: 1 1/4 in carries 1, 1 1/2 in carries 2; F-dfu-upc-laundry-sink 2
        let plan = with(&demo(), "/code/family", "UPC");
        assert!(found(&demo(), RULE).is_empty());
        assert!(found(&plan, RULE).is_empty());
        let plan = with(&plan, "/goods/pipe-supply/form/pipe/nominal", "1 1/4 in");
        let plan = with(&plan, "/services/waste/pipe/good", "pipe-supply");
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "`waste` serves 2 fixture units, and a branch of 1 1/4 in carries 1");
        every_remedy_clears(&plan, &findings[0]);
    }
}
