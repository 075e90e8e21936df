//! `services/plate`: a steel plate guards what runs near a stud's face.
//!
//! What it checks: every hole whose edge is nearer than 1 1/4 in to a face of its stud, for a plate that its run names,
//! thick enough.
//!
//! Why it matters: the screw that hangs a picture goes 1 in into the stud.
//!
//! Source: NEC 300.4(A)(1), 1/16 in of steel; the same for pipes by IRC P2603.2.1.
//!
//! Example: a hole of 2 in in the middle of a stud of 3 1/2 in leaves 3/4 in on both sides.
//!
//! Remedy: a plate of the plan.

use dryfit_measure::{Key, Length};
use dryfit_plan::{Draft, Form, Service};

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::PlacedRun;

const RULE: &str = "services/plate";

/// Steel that stops a screw or nail (NEC 300.4(A)(1)).
const STEEL: Length = Length::inches(0, 1, 16);

/// Runs that want plates and name none.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.runs.iter().filter(|run| !run.found).filter_map(|run| of_run(checked, run)).collect()
}

fn of_run(checked: &Checked<'_>, run: &PlacedRun) -> Option<Finding> {
    let plate = match checked.plan.services.get(&run.key)? {
        Service::Pipe(stated) => &stated.plate,
        Service::Cable(stated) => &stated.plate,
        Service::Duct(_) | Service::Box(_) => return None,
    };
    let near = checked.services.crossings.iter().filter(|crossing| crossing.run == run.key && crossing.plate);
    let near: Vec<_> = near.collect();
    let worst = near.iter().min_by_key(|crossing| crossing.edge.length())?;
    let stops = |key: &Key| match checked.plan.goods.get(key).map(|good| &good.form) {
        Some(Form::Plate { thickness }) => thickness.length >= STEEL,
        _ => false,
    };
    if plate.as_ref().is_some_and(stops) {
        return None;
    }
    let rules = &checked.services.rules;
    let rule = &rules.wiring().plate;
    let least = rules.dim(rule.deep.length, "hole to face", "hole to the stud's face");
    let studs = if near.len() == 1 { "1 stud".to_owned() } else { format!("{} studs", near.len()) };
    let what = format!(
        "`{}` goes through {studs} with {} of wood before it, and under {} a steel plate is due",
        run.key,
        checked.available(&worst.edge),
        checked.needed(&least)
    );
    let at = stated_at(checked.plan, &run.key).child("plate");
    let mut finding = found(RULE, Severity::Look, vec![run.key.clone()], at.clone(), what);
    if let Some((key, good)) = checked.plan.goods.iter().find(|(key, _)| stops(key)) {
        let label = format!("put {} over them", good.name);
        finding.fixes = vec![Fix::of(Draft::of(checked.plan).set(&at, key).edit(label))];
    }
    finding.short_by = Some((&least - &worst.edge).named("too near by").placed(run.key.as_str()));
    finding.because = vec![least, worst.edge.clone()];
    Some(Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};

    fn bare(run: &str) -> Plan {
        let plan = demo();
        let at = Pointer::parse(&format!("/services/{run}/plate")).expect("a pointer");
        plan.apply(&Draft::of(&plan).remove(&at).edit("no plate")).expect("still a plan").0
    }

    #[test]
    fn a_large_hole_wants_a_plate_and_a_thin_one_will_not_do() {
        assert!(found(&demo(), RULE).is_empty());
        let plan = bare("waste/pipe");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`waste` goes through 2 studs with 11/16 in of wood before it, and under 1 1/4 in a steel plate is due"
        );
        every_remedy_clears(&plan, &findings[0]);
        // G-plate: 1/16 in of steel
        assert_eq!(found(&with(&demo(), "/goods/stud-plate/form/plate/thickness", "3/64 in"), RULE).len(), 1);
    }

    #[test]
    fn exactly_an_inch_and_a_quarter_needs_none() {
        // 3 1/2 less twice 1 1/4 is 1: a cable of 7/8 with 1/8 of play
        let plan = |outside: &str| with(&bare("feed/cable"), "/goods/cable-12/form/cable/outside", outside);
        assert!(found(&plan("7/8 in"), RULE).is_empty());
        assert_eq!(found(&plan("15/16 in"), RULE).len(), 1);
    }
}
