//! `services/standpipe`: a standpipe ends neither too low nor too high above its trap.
//!
//! What it checks: from the weir to the open end, against the limits of the code.
//!
//! Why it matters: too low and it runs over when the machine pumps, too high and the machine cannot lift the water.
//!
//! Source: 18 to 42 in by IRC P2706.1.2 and IPC 802.4, 18 to 30 in by UPC 804.1.
//!
//! Example: over a trap at 8 in it ends between 26 and 50 in up.
//!
//! Remedy: the open end at the nearer limit.

use dryfit_measure::Toward;
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::services::Standpipe;

const RULE: &str = "services/standpipe";

/// Standpipes of the wrong height.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.standpipes.iter().filter_map(|standpipe| of_one(checked, standpipe)).collect()
}

fn of_one(checked: &Checked<'_>, standpipe: &Standpipe) -> Option<Finding> {
    let drain = checked.services.run(&standpipe.drain)?;
    let end = drain.node(&standpipe.node)?;
    let [lowest, highest] = &standpipe.window;
    let up = &end.spot.up;
    let (limit, short, toward, side) = if up.length() < lowest.length() {
        (lowest, lowest - up, Toward::Up, "lowest")
    } else if up.length() > highest.length() {
        (highest, up - highest, Toward::Down, "highest")
    } else {
        return None;
    };
    let to = checked.mark(limit.length(), toward);
    let what = format!(
        "the standpipe of `{}` ends {} above its trap, {} up, and {to} is the {side} it may",
        drain.key,
        checked.needed(&standpipe.height),
        checked.needed(up)
    );
    let at = end.at.child("up");
    let mut finding = found(RULE, Severity::Stop, vec![drain.key.clone()], at.clone(), what);
    let label = format!("let the standpipe of `{}` end {to} up", drain.key);
    finding.fixes = vec![Fix::of(Draft::of(checked.plan).set(&at, to).edit(label))];
    finding.because = vec![limit.clone(), standpipe.height.clone()];
    finding.short_by = Some(short.named("outside by").placed(drain.key.as_str()));
    let rules = &checked.services.rules;
    let rule = &rules.plumbing().standpipe;
    Some(Finding { source: rules.cite(&rule.cite, rule.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_plan::Plan;

    /// A standpipe of this height over a trap at 10 in, with its vent.
    fn standing(height: i64, sixty_fourths: i64, family: &str) -> Plan {
        let up = dryfit_measure::Stated::inches(
            dryfit_measure::Length::inches(10 + height, 0, 1)
                + dryfit_measure::Length::sixty_fourths(sixty_fourths),
        );
        let place = |along: &str, up: &str| serde_json::json!({ "wall": "DA", "along": along, "up": up });
        let pipe = serde_json::json!({ "pipe": {
            "carries": "drain", "good": "pipe-waste", "order": ["q1", "q2", "q3"],
            "nodes": {
                "q1": { "standpipe": place("20 in", &up.to_string()) },
                "q2": { "trap": place("20 in", "10 in") },
                "q3": { "at": place("8 in", "9 1/2 in") },
            },
        } });
        let vent = serde_json::json!({ "pipe": {
            "carries": "vent", "good": "pipe-waste", "order": ["q4", "q5"],
            "nodes": {
                "q4": { "joins": { "service": "hose", "node": "q3" } },
                "q5": { "at": place("8 in", "80 in") },
            },
        } });
        let plan = with(&with(&demo(), "/services/hose", pipe), "/services/hose-vent", vent);
        with(&plan, "/code/family", family)
    }

    #[test]
    fn the_limits_are_those_of_the_codes() {
        // F-stand-18, F-stand-42, and a hair outside as F-stand-17.9 and F-stand-42.1; UPC 804.1 ends at 30
        for (family, highest) in [("IRC", 42), ("UPC", 30)] {
            assert!(found(&standing(18, 0, family), RULE).is_empty(), "{family}");
            assert!(found(&standing(highest, 0, family), RULE).is_empty(), "{family}");
            for plan in [standing(18, -6, family), standing(highest, 6, family)] {
                let findings = found(&plan, RULE);
                assert_eq!(findings.len(), 1, "{family}");
                every_remedy_clears(&plan, &findings[0]);
            }
        }
        let findings = found(&standing(18, -6, "IRC"), RULE);
        assert_eq!(
            findings[0].what,
            "the standpipe of `hose` ends 17 15/16 in above its trap, 27 15/16 in up, and 28 in is the lowest it may"
        );
    }
}
