//! `services/box-flush`: a box ends with the finish.
//!
//! What it checks: how far the front edge of a box stands out from the framing, where that is stated, against the
//! layers and the tile or planks that lie there.
//!
//! Why it matters: behind a finish that was forgotten a plate leaves a gap that a spark can leap into.
//!
//! Source: NEC 314.20: no more than 1/4 in behind a finish that does not burn.
//!
//! Example: a box set for 1/2 in of board ends 3/8 in behind tile of that thickness.
//!
//! Remedy: an extension or ring that brings it flush.

use dryfit_measure::Toward;
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::PlacedBox;

const RULE: &str = "services/box-flush";

/// Boxes that end too far behind the finish, or before it.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.boxes.iter().filter_map(|placed| of_box(checked, placed)).collect()
}

fn of_box(checked: &Checked<'_>, placed: &PlacedBox) -> Option<Finding> {
    let rules = &checked.services.rules;
    let rule = &rules.wiring().flush;
    let proud = placed.proud.as_ref()?;
    let back = &placed.flush - proud;
    let allowed = rules.dim(rule.back.length, "box behind the finish", "box behind the finish at most");
    let (severity, short) = if back.length() > allowed.length() {
        (Severity::Stop, &back - &allowed)
    } else if back.length().is_negative() {
        (Severity::Look, -&back)
    } else {
        return None;
    };
    let ends = if back.length().is_negative() {
        format!("stands {} before the finish", checked.needed(&-&back))
    } else {
        format!(
            "ends {} behind the finish, and {} is the most",
            checked.needed(&back),
            checked.available(&allowed)
        )
    };
    let what = format!("`{}` {ends}", placed.key);
    let at = stated_at(checked.plan, &placed.key).child("proud");
    let mut finding = found(RULE, severity, vec![placed.key.clone()], at.clone(), what);
    let to = checked.exact(placed.flush.length(), Toward::Down);
    let label = format!("bring the front of `{}` {to} past the framing, with the finish", placed.key);
    finding.fixes = vec![Fix::of(Draft::of(checked.plan).set(&at, to).edit(label))];
    finding.because = vec![placed.flush.clone(), proud.clone()];
    finding.short_by = Some(short.named("off by").placed(placed.key.as_str()));
    Some(Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_plan::Plan;

    fn proud(by: &str) -> Plan {
        with(&demo(), "/services/rc3/box/proud", by)
    }

    #[test]
    fn a_quarter_inch_behind_the_board_passes_and_more_does_not() {
        // 1/2 in of board on the framing
        assert!(found(&proud("1/2 in"), RULE).is_empty());
        assert!(found(&proud("1/4 in"), RULE).is_empty());
        let plan = proud("3/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "`rc3` ends 5/16 in behind the finish, and 1/4 in is the most");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn one_that_stands_out_holds_its_plate_off_the_wall() {
        let plan = proud("9/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "`rc3` stands 1/16 in before the finish");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_layer_that_is_still_to_come_counts() {
        let layer = serde_json::json!({ "name": "planks", "thickness": "5/8 in", "measured": false });
        let plan = with(&proud("1/2 in"), "/walls/CD/layers/planks", layer);
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "`rc3` ends 5/8 in behind the finish, and 1/4 in is the most");
        every_remedy_clears(&plan, &findings[0]);
    }
}
