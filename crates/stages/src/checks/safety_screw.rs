//! `safety/screw`: no screw of a unit goes into what is in the wall.
//!
//! What it checks: every screw through a nailer or ledger into a stud, its place and the depth of its point, against the
//! pipes, cables and ducts in that wall and the band beside them.
//!
//! Why it matters: a screw in a cable is live, and one in a pipe is found when it has rusted through.
//!
//! Source: common practice, no source: nothing is drilled within 3 in of pipe or cable.
//!
//! Example: a screw of 3 in through nailer, back and board ends 1 5/16 in deep in the stud; a cable of 7/16 in whose
//! middle is 1 1/2 in deep is hit.
//!
//! Severity: *stop* where it would go into it, else *look*.
//!
//! Remedy: the run so far to the side, where it is not there yet; a shorter screw of the plan.

use dryfit_measure::{Length, Toward};
use dryfit_plan::{Draft, Form};

use super::Checked;
use super::found::{found, unit_at};
use super::piped::level_nodes;
use crate::finding::{Finding, Fix, Severity};
use crate::services::Hit;

const RULE: &str = "safety/screw";

/// Screws that come near what is in the wall.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.hits.iter().map(|hit| of_hit(checked, hit)).collect()
}

fn of_hit(checked: &Checked<'_>, hit: &Hit) -> Finding {
    let screw = &hit.screw;
    let fineness = checked.plan.fineness;
    let off = hit.off.figure(fineness, Toward::Down);
    let at = format!("{} along, {} up", checked.available(&screw.along), checked.available(&screw.up));
    let (severity, what) = if hit.touches {
        (Severity::Stop, format!("a screw of `{}`, {at}, goes into `{}`", screw.unit, hit.run))
    } else {
        let keep = checked.needed(&hit.keep);
        (
            Severity::Look,
            format!(
                "a screw of `{}`, {at}, passes {off} from `{}`, and {keep} are kept free",
                screw.unit, hit.run
            ),
        )
    };
    let subjects = vec![screw.unit.clone(), hit.run.clone()];
    let mut finding = found(RULE, severity, subjects, unit_at(&screw.unit).child("roles"), what);
    finding.fixes = aside(checked, hit).into_iter().chain(shorter(checked, hit)).collect();
    finding.because = vec![screw.tip.clone(), screw.up.clone(), screw.along.clone()];
    finding
}

/// The leg moved away from the screw; up or down where it runs level, else along.
fn aside(checked: &Checked<'_>, hit: &Hit) -> Option<Fix> {
    let run = checked.services.run(&hit.run).filter(|run| !run.found)?;
    let place = run.nodes.iter().position(|node| node.key == hit.leg[0])?;
    let (a, b) = (run.nodes.get(place)?, run.nodes.get(place + 1)?);
    let [rise, side] = [
        (b.spot.up.length() - a.spot.up.length()).abs(),
        (b.spot.along.length() - a.spot.along.length()).abs(),
    ];
    // what other screws of the unit need, too
    let unit =
        |screw: &&crate::services::WallScrew| screw.unit == hit.screw.unit && screw.wall == hit.screw.wall;
    let screws = checked.services.screws.iter().filter(unit);
    let keep = hit.keep.length();
    let edit = if side >= rise {
        let highest = screws.filter(|screw| (screw.up.length() - hit.screw.up.length()).abs() < keep * 2);
        let highest = highest.map(|screw| screw.up.length()).max()?;
        let by = highest + keep - a.spot.up.length().min(b.spot.up.length());
        let nodes = level_nodes(run, place);
        let moved = checked.raised(Draft::of(checked.plan), run, nodes, by, Toward::Up);
        moved.edit(format!("run `{}` {} higher", run.key, checked.mark(by, Toward::Up)))
    } else {
        let here = a.spot.along.length();
        let right = here >= hit.screw.along.length();
        let (to, toward) = if right {
            (hit.screw.along.length() + keep, Toward::Up)
        } else {
            (hit.screw.along.length() - keep, Toward::Down)
        };
        let to = checked.mark(to, toward);
        let moved = checked.slid(Draft::of(checked.plan), run, here, to.length);
        moved.edit(format!("run `{}` {to} along", run.key))
    };
    (!edit.is_empty()).then(|| Fix::of(edit))
}

/// The longest screw of the plan that ends before what is in the wall.
fn shorter(checked: &Checked<'_>, hit: &Hit) -> Option<Fix> {
    let Form::Fastener { length } = checked.plan.goods.get(&hit.screw.good)?.form else { return None };
    // an inch in the stud, or it holds nothing
    let most = length.length - hit.past - Length::from_nm(1);
    let least = length.length + hit.screw.tip.length() + Length::INCH;
    let suits = checked.plan.goods.iter().filter_map(|(key, good)| match good.form {
        Form::Fastener { length } if length.length <= most && length.length >= least => {
            Some((length.length, key, good))
        }
        _ => None,
    });
    let (_, key, good) = suits.max_by_key(|(length, key, _)| (*length, *key))?;
    let at = unit_at(&hit.screw.unit).child("roles").child("hang-screw");
    let label = format!("hang `{}` with {}", hit.screw.unit, good.name);
    Some(Fix::of(Draft::of(checked.plan).set(&at, key).edit(label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::RULE;
    use crate::finding::Severity;
    use dryfit_measure::{Length, Stated};
    use dryfit_plan::Plan;

    /// The cable of the worktop circuit level behind the nailers of the garden wall, so far above its screws, and so
    /// far behind the face of the studs.
    fn over(by: Length, out: &str) -> Plan {
        let screws = derive(&demo()).services.screws;
        let high =
            screws.iter().filter(|s| s.wall.as_str() == "BC").map(|s| s.up.length()).max().expect("screws");
        let up = Stated::millimetres(high + by);
        ["ca3", "ca4"].iter().fold(demo(), |plan, node| {
            let at = |name: &str| format!("/services/feed/cable/nodes/{node}/at/{name}");
            let plan = with(&with(&plan, &at("up"), up), &at("face"), "frame");
            with(&plan, &at("out"), out)
        })
    }

    #[test]
    fn nothing_of_the_demo_is_screwed_into() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_screw_into_a_cable_stops_and_the_cable_gives_way() {
        let plan = over(Length::ZERO, "-1 1/4 in");
        let findings = found(&plan, RULE);
        // the nailer of the sink unit is the highest, and its screws are level with the cable
        let into = findings.iter().find(|finding| finding.severity == Severity::Stop).expect("it goes in");
        assert!(into.what.ends_with("goes into `feed`"), "{}", into.what);
        every_remedy_clears(&plan, into);
    }

    #[test]
    fn three_inches_off_it_passes_and_nearer_it_is_looked_at() {
        assert!(found(&over(Length::inches(3, 0, 1), "-1 1/4 in"), RULE).is_empty());
        let plan = over(Length::inches(2, 15, 16), "-1 1/4 in");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        assert!(findings.iter().all(|finding| finding.severity == Severity::Look));
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_cable_behind_the_point_of_every_screw_is_safe() {
        // 3 in of screw less nailer 23/32, back 7/32, 1/4 behind it and 1/2 of board: 1 5/16 in the stud; 7/16 of cable
        assert!(!found(&over(Length::ZERO, "-1 17/32 in"), RULE).is_empty());
        assert!(found(&over(Length::ZERO, "-1 9/16 in"), RULE).is_empty());
    }
}
