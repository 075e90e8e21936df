//! `services/counter`: along a worktop a receptacle is within reach.
//!
//! What it checks: every stretch of a worktop along a wall that is 12 in wide or wider, sinks parting it: no place of it
//! further than 24 in from a receptacle no higher than 20 in above the worktop.
//!
//! Why it matters: what has no receptacle near gets a cord across a sink.
//!
//! Source: NEC 210.52(C), for kitchens, pantries and the like; elsewhere a good measure, so it is a *note*.
//!
//! Example: 49 in of worktop ask for two receptacles, 48 in for one.
//!
//! Remedy: one more in the middle of what is out of reach.

use dryfit_measure::{Length, Toward};
use dryfit_plan::{BoxPurpose, Draft};

use super::Checked;
use super::found::found;
use super::piped::receptacle_at;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{PlacedTop, TopLeg};
use crate::services::PlacedBox;

const RULE: &str = "services/counter";

/// Worktops with places out of reach: of each the widest.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    if checked.services.boxes.is_empty() {
        return Vec::new();
    }
    checked.placement.tops.iter().filter_map(|top| of_top(checked, top)).collect()
}

/// A part of a worktop that no receptacle reaches, along its wall.
struct Bare<'a> {
    leg: &'a TopLeg,
    from: Length,
    to: Length,
}

fn of_top(checked: &Checked<'_>, top: &PlacedTop) -> Option<Finding> {
    let rules = &checked.services.rules;
    let rule = &rules.wiring().counter;
    let bare = top.legs.iter().flat_map(|leg| bare(checked, top, leg));
    let bare = bare.max_by_key(|bare| bare.to - bare.from)?;
    let wall = &checked.plan.runs.get(&bare.leg.run)?.along;
    let marked = |length: Length| checked.mark(length, Toward::Nearest);
    let what = format!(
        "worktop `{}` has no receptacle within {} from {} to {} along `{wall}`",
        top.key,
        rule.reach,
        marked(bare.from),
        marked(bare.to)
    );
    let at = dryfit_measure::Pointer::root().child("services");
    let mut finding = found(RULE, Severity::Note, vec![top.key.clone(), wall.clone()], at.clone(), what);
    if let Some(key) = checked.plan.free_key("receptacle") {
        let middle = Length::from_nm(i64::midpoint(bare.from.nm(), bare.to.nm()));
        let up = marked(top.upper.length() + rule.above.length.div_floor(2));
        let outlet = receptacle_at(wall, marked(middle), up, None);
        let label = format!("put a receptacle `{key}` {} along `{wall}`", marked(middle));
        let draft = Draft::of(checked.plan).set(&at.child(key.as_str()), outlet);
        finding.fixes = vec![Fix::of(draft.edit(label))];
    }
    finding.because = vec![bare.leg.from.clone(), bare.leg.to.clone()];
    Some(Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding })
}

/// What of a leg is out of reach, stretch by stretch.
fn bare<'a>(checked: &Checked<'_>, top: &PlacedTop, leg: &'a TopLeg) -> Vec<Bare<'a>> {
    let rule = &checked.services.rules.wiring().counter;
    let Some(run) = checked.plan.runs.get(&leg.run) else { return Vec::new() };
    let counts = |placed: &&PlacedBox| {
        placed.purpose == BoxPurpose::Receptacle
            && placed.spot.wall == run.along
            && placed.spot.up.length() > top.upper.length()
            && placed.spot.up.length() <= top.upper.length() + rule.above.length
    };
    let mut outlets: Vec<Length> =
        checked.services.boxes.iter().filter(counts).map(|placed| placed.spot.along.length()).collect();
    outlets.sort();
    let mut found = Vec::new();
    for [from, to] in stretches(leg) {
        if to - from < rule.width.length {
            continue;
        }
        let mut reached = from;
        for outlet in outlets.iter().filter(|outlet| **outlet >= from && **outlet <= to) {
            if *outlet - rule.reach.length > reached {
                found.push(Bare { leg, from: reached, to: *outlet - rule.reach.length });
            }
            reached = reached.max(*outlet + rule.reach.length);
        }
        if reached < to {
            found.push(Bare { leg, from: reached, to });
        }
    }
    found
}

/// The stretches of a leg between its ends and its sinks.
fn stretches(leg: &TopLeg) -> Vec<[Length; 2]> {
    let mut from = leg.from.length();
    let mut stretches = Vec::new();
    let mut holes: Vec<[Length; 2]> =
        leg.cutouts.iter().map(|hole| [hole.left.length(), (&hole.left + &hole.width).length()]).collect();
    holes.sort();
    for [left, right] in holes {
        stretches.push([from, left]);
        from = right;
    }
    stretches.push([from, leg.to.length()]);
    stretches
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, found, with};
    use super::RULE;
    use dryfit_measure::{Length, Stated};

    #[test]
    fn stretches_ask_for_as_many_as_the_code_counts() {
        // NEC 210.52(C)(1): G-ctr-11.9, -12, -48, -49, -96, -97
        let rules = derive(&demo()).services.rules;
        let rule = &rules.wiring().counter;
        let asked = |width: &str| {
            let width = width.parse::<Stated>().expect("a length").length;
            if width < rule.width.length { 0 } else { width.needs(rule.reach.length * 2) }
        };
        let found = ["11.9 in", "12 in", "48 in", "49 in", "96 in", "97 in"].map(asked);
        assert_eq!(found, [0, 1, 1, 2, 2, 3]);
    }

    #[test]
    fn what_is_out_of_reach_is_noted_and_a_receptacle_there_mends_that_stretch() {
        let plan = demo();
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        let (mended, _) = plan.apply(&findings[0].fixes[0].edit).expect("it applies");
        let left = found(&mended, RULE);
        assert!(left.iter().all(|left| left.what != findings[0].what));
    }

    #[test]
    fn a_receptacle_higher_than_twenty_inches_does_not_count() {
        let reached = |up: Length| {
            let plan = with(&demo(), "/services/rc2/box/at/up", dryfit_measure::Stated::inches(up));
            found(&plan, RULE).iter().any(|finding| finding.what.contains("along `BC`"))
        };
        let top = derive(&demo()).placement.tops[0].upper.length();
        let at = top + Length::inches(20, 0, 1);
        assert_ne!(reached(at), reached(at + Length::um(1)));
    }
}
