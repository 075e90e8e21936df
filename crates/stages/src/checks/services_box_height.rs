//! `services/box-height`: a box over a worktop is clear of it and of the splash.
//!
//! What it checks: the lower edge of each box before which a worktop runs, against the worktop's upper face and the
//! figure `box-above-top` above it.
//!
//! Why it matters: a box that the worktop or the splash meets is cut out of both, or moved when the wall is closed.
//!
//! Source: common practice, no source.
//!
//! Example: over a worktop at 36 3/4 in a box 3 3/4 in high has its centre at 40 5/8 in or above.
//!
//! Severity: *stop* where it meets the worktop itself, else *look*.
//!
//! Remedy: the box so much higher.

use dryfit_measure::Toward;
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{PlacedTop, TopLeg};
use crate::services::PlacedBox;

const RULE: &str = "services/box-height";

/// Boxes that a worktop or splash meets.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.boxes.iter().filter_map(|placed| of_box(checked, placed)).collect()
}

impl<'a> Checked<'a> {
    /// The worktop that runs before a place of a wall, with its leg.
    pub(super) fn top_before(&self, placed: &PlacedBox) -> Option<(&'a PlacedTop, &'a TopLeg)> {
        let here = |leg: &&TopLeg| {
            self.plan.runs.get(&leg.run).is_some_and(|run| run.along == placed.spot.wall)
                && leg.from.length() < placed.edge(0, 1).length()
                && leg.to.length() > placed.edge(0, -1).length()
        };
        let mut tops = self.placement.tops.iter();
        tops.find_map(|top| Some((top, top.legs.iter().find(here)?)))
    }
}

fn of_box(checked: &Checked<'_>, placed: &PlacedBox) -> Option<Finding> {
    if !placed.is_in_wall() {
        return None;
    }
    let (top, _) = checked.top_before(placed)?;
    let [low, high] = [-1, 1].map(|sign| placed.edge(1, sign));
    let under = &top.upper - &top.thickness;
    let least = (&top.upper + Figures::of_handbook(checked.plan).dim("box-above-top"))
        .named("lowest edge of a box")
        .placed(top.key.as_str());
    let short = &least - &low;
    if high.length() <= under.length() || !short.length().is_positive() {
        return None;
    }
    let meets = low.length() < top.upper.length();
    let severity = if meets { Severity::Stop } else { Severity::Look };
    let what = format!(
        "`{}` begins {} up, and over worktop `{}` it has to begin at {}",
        placed.key,
        checked.available(&low),
        top.key,
        checked.needed(&least)
    );
    let at = stated_at(checked.plan, &placed.key).child("at").child("up");
    let mut finding = found(RULE, severity, vec![placed.key.clone(), top.key.clone()], at.clone(), what);
    let up = checked.mark(placed.spot.up.length() + short.length(), Toward::Up);
    let label = format!("move `{}` to {up} up", placed.key);
    finding.fixes = vec![Fix::of(Draft::of(checked.plan).set(&at, up).edit(label))];
    finding.because = vec![least, low];
    finding.short_by = Some(short.named("too low by").placed(placed.key.as_str()));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use crate::finding::Severity;
    use dryfit_measure::{Length, Stated};
    use dryfit_plan::Plan;

    /// Its lower edge so far above 38 51/64: the worktop at 36 51/64, and 2 above it.
    fn over(sixty_fourths: i64) -> Plan {
        let up = Length::inches(38, 51, 64) + Length::inches(1, 7, 8) + Length::sixty_fourths(sixty_fourths);
        with(&demo(), "/services/rc1/box/at/up", Stated::inches(up))
    }

    #[test]
    fn at_the_limit_it_passes_and_a_hair_lower_it_does_not() {
        assert!(found(&demo(), RULE).is_empty());
        assert!(found(&over(0), RULE).is_empty());
        let findings = found(&over(-1), RULE);
        assert_eq!(findings[0].severity, Severity::Look);
        every_remedy_clears(&over(-1), &findings[0]);
    }

    #[test]
    fn one_that_meets_the_worktop_stops() {
        let findings = found(&over(-64 * 2 - 1), RULE);
        assert_eq!(findings[0].severity, Severity::Stop);
        assert!(found(&over(-64 * 2), RULE)[0].severity == Severity::Look);
        every_remedy_clears(&over(-129), &findings[0]);
    }
}
