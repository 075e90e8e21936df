//! `services/ground-fault`: a receptacle near a sink is guarded against ground faults.
//!
//! What it checks: every receptacle within six feet of the bowl of a sink, the shortest way, for a device that trips or
//! one ahead of it on its circuit.
//!
//! Why it matters: a wet hand at a live part kills without it.
//!
//! Source: NEC 210.8(A)(7), within 6 ft of the bowl. Have it tested by whoever does the wiring.
//!
//! Example: a receptacle 32 in beside the bowl.
//!
//! Remedy: a device of the plan that trips; or one ahead of it.

use dryfit_measure::{Key, Length};
use dryfit_plan::{BoxPurpose, Draft, Form};

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::Plot;
use crate::services::{PlacedBox, Spot};

const RULE: &str = "services/ground-fault";

/// Receptacles that are not guarded.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let receptacle = |placed: &&PlacedBox| placed.purpose == BoxPurpose::Receptacle;
    checked.services.boxes.iter().filter(receptacle).filter_map(|placed| of_box(checked, placed)).collect()
}

fn of_box(checked: &Checked<'_>, placed: &PlacedBox) -> Option<Finding> {
    let dryfit_plan::Service::Box(stated) = checked.plan.services.get(&placed.key)? else { return None };
    let trips = |good: &Key| {
        let form = checked.plan.goods.get(good).map(|good| &good.form);
        matches!(form, Some(Form::Device { ground_fault: true, .. }))
    };
    if stated.ground_fault || stated.devices.iter().any(trips) {
        return None;
    }
    let rules = &checked.services.rules;
    let rule = &rules.wiring().ground_fault;
    let near = |window: &crate::services::DrainWindow| {
        let away = away(checked, &window.outlet, &placed.spot)?;
        (away <= rule.reach.length).then(|| (away, window.unit.clone()))
    };
    let (away, unit) = checked.services.windows.iter().filter_map(near).min()?;
    let fineness = checked.plan.fineness;
    let what = format!(
        "`{}` is {} from the bowl in `{unit}`, and nothing guards it against a ground fault",
        placed.key,
        away.figure(fineness, dryfit_measure::Toward::Nearest)
    );
    let at = stated_at(checked.plan, &placed.key);
    let mut finding = found(RULE, Severity::Stop, vec![placed.key.clone(), unit], at.clone(), what);
    let guard = checked.plan.goods.iter().find(|(key, _)| trips(key));
    if let (Some((key, good)), [_]) = (guard, stated.devices.as_slice()) {
        let label = format!("put {} in `{}`", good.name, placed.key);
        let devices = vec![key.clone()];
        finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at.child("devices"), devices).edit(label)));
    }
    let label = format!("guard `{}` by a device ahead of it on its circuit", placed.key);
    finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at.child("ground_fault"), true).edit(label)));
    Some(Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding })
}

/// From one place to another, the shortest way through the room.
fn away(checked: &Checked<'_>, a: &Spot, b: &Spot) -> Option<Length> {
    let at = |spot: &Spot| {
        let plot = Plot::of(checked.survey, &spot.wall)?;
        let level = plot.at(spot.along.length().as_mm_f64(), spot.deep.length().as_mm_f64());
        Some([level[0], level[1], spot.up.length().as_mm_f64()])
    };
    let (p, q) = (at(a)?, at(b)?);
    let square: f64 = p.iter().zip(q).map(|(p, q)| (p - q) * (p - q)).sum();
    Some(Length::from_mm_f64(square.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_measure::{Length, Stated};
    use dryfit_plan::Plan;

    /// The receptacle at the right, unguarded, at this place along.
    fn bare(along: Length) -> Plan {
        let plan = with(&demo(), "/services/rc2/box/ground_fault", false);
        let plan = with(&plan, "/services/rc2/box/at/up", "1778 mm");
        with(&plan, "/services/rc2/box/at/along", Stated::millimetres(along))
    }

    #[test]
    fn within_six_feet_of_the_bowl_it_has_to_trip() {
        assert!(found(&demo(), RULE).is_empty());
        let near = |n: i64| !found(&bare(Length::mm(n)), RULE).is_empty();
        // bowl at 1725.6 along, 642.5 up, 301.6 before the wall; box at 1778 up: 6 ft are 1828.8
        let level: f64 = 1828.8_f64.powi(2) - (1778.0_f64 - 642.54).powi(2) - 301.625_f64.powi(2);
        let last = Length::from_mm_f64(level.sqrt() + 1725.61).fits(Length::MM);
        assert!(near(last - 1) && !near(last + 2), "{last}");
        let plan = bare(Length::mm(last - 1));
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
    }
}
