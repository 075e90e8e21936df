//! `services/drain-height`: a sink's drain comes out of the wall where its trap can hang.
//!
//! What it checks: the stub against the window that bowl, strainer, tailpiece and trap leave: no higher than the shortest
//! tailpiece allows, no lower than the code, the longest tailpiece and the bottom of the box allow.
//!
//! Why it matters: a stub that is too high holds water in the bowl, and is found out when the wall is closed.
//!
//! Source: the code's limit from outlet to weir; the rest are the sizes of what hangs there.
//!
//! Example: a bowl 9 in deep under a top at 36 3/4 in, with 2 1/2 of strainer, 1 1/2 of tailpiece and 2 of trap, drains
//! into a stub at 21 1/2 in at the highest.
//!
//! Remedy: the stub, and the drain as far as it runs level, higher or lower.

use dryfit_measure::Toward;
use dryfit_plan::Draft;

use super::Checked;
use super::found::{found, unit_at};
use super::piped::level_nodes;
use crate::finding::{Finding, Fix, Severity};
use crate::services::{DrainWindow, NodeKind};

const RULE: &str = "services/drain-height";

/// Stubs outside their windows.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.windows.iter().filter_map(|window| of_sink(checked, window)).collect()
}

fn of_sink(checked: &Checked<'_>, window: &DrainWindow) -> Option<Finding> {
    let drain = checked.services.run(window.drain.as_ref()?)?;
    let source = {
        let outlet = &checked.services.rules.plumbing().outlet;
        checked.services.rules.cite(&outlet.cite, outlet.seen)
    };
    let unit = &window.unit;
    let subjects = vec![unit.clone(), drain.key.clone()];
    if window.lowest.length() > window.highest.length() {
        let what = format!(
            "no drain can serve `{unit}`: its trap hangs no lower than {}, and water runs off no higher than {}",
            checked.needed(&window.lowest),
            checked.available(&window.highest)
        );
        let mut finding = found(RULE, Severity::Stop, subjects, unit_at(unit).child("holds"), what);
        finding.because = vec![window.lowest.clone(), window.highest.clone()];
        return Some(Finding { source, ..finding });
    }
    let place = drain.nodes.iter().position(|node| node.kind == NodeKind::Stub)?;
    let stub = &drain.nodes[place];
    let up = &stub.spot.up;
    let high = up - &window.highest;
    let low = &window.lowest - up;
    let (what, short, toward) = if high.length().is_positive() {
        let most = checked.available(&window.highest);
        let what = format!(
            "the drain of `{unit}` comes out {} up, and its bowl drains into {most} at the highest",
            checked.needed(up)
        );
        (what, high, Toward::Down)
    } else if low.length().is_positive() {
        let least = checked.needed(&window.lowest);
        let what = format!(
            "the drain of `{unit}` comes out {} up, and its trap hangs no lower than {least}",
            checked.available(up)
        );
        (what, low, Toward::Up)
    } else {
        return None;
    };
    let (limit, by) = match toward {
        Toward::Down => (&window.highest, -short.length()),
        _ => (&window.lowest, short.length()),
    };
    let mut finding = found(RULE, Severity::Stop, subjects, stub.at.child("up"), what);
    let moved = checked.raised(Draft::of(checked.plan), drain, level_nodes(drain, place), by, toward);
    let label = format!("bring the drain of `{unit}` out {} up", checked.mark(limit.length(), toward));
    finding.fixes = vec![Fix::of(moved.edit(label))];
    finding.because = vec![limit.clone(), up.clone()];
    finding.short_by = Some(short.named("outside by").placed(unit.as_str()));
    Some(Finding { source, ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_measure::{Length, Stated, Unit};
    use dryfit_plan::Plan;

    const STUB: &str = "/services/waste/pipe/nodes/w1/stub/up";

    fn at(up: Length) -> Plan {
        with(&demo(), STUB, Stated::new(up, Unit::Millimetre))
    }

    #[test]
    fn the_drain_of_the_demo_is_where_its_trap_hangs() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn at_both_limits_it_passes_and_past_them_it_does_not() {
        let window = derive(&demo()).services.windows[0].clone();
        let (lowest, highest) = (window.lowest.length(), window.highest.length());
        assert!(found(&at(highest), RULE).is_empty());
        assert!(found(&at(lowest), RULE).is_empty());
        let high = at(highest + Length::um(1));
        let findings = found(&high, RULE);
        assert_eq!(
            findings[0].what,
            "the drain of `b4` comes out 21 9/16 in up, and its bowl drains into 21 1/2 in at the highest"
        );
        every_remedy_clears(&high, &findings[0]);
        let low = at(lowest - Length::um(1));
        every_remedy_clears(&low, &found(&low, RULE)[0]);
    }

    #[test]
    fn a_deep_bowl_in_a_low_box_leaves_no_window() {
        let plan = with(&demo(), "/goods/sink/form/sink/bowl", "22 in");
        let findings = found(&plan, RULE);
        assert!(findings[0].what.starts_with("no drain can serve `b4`"), "{}", findings[0].what);
    }
}
