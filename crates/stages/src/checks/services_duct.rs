//! `services/duct`: an exhaust duct is no longer than its turns allow.
//!
//! What it checks: the length of each duct, node to node, against what the code allows with its turns taken off.
//!
//! Why it matters: lint settles in a duct that is too long, and burns.
//!
//! Source: IRC M1502.4.6.1 (2021), 35 ft less 5 ft for a quarter turn; UMC 504.3.1.2, 14 ft with two of them.
//!
//! Example: with two quarter turns 25 ft are allowed.
//!
//! Remedy: fittings of the plan that take less off.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Draft, Form, Service};

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::DuctLength;

const RULE: &str = "services/duct";

/// Ducts that are too long.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.ducts.iter().filter_map(|duct| of_duct(checked, duct)).collect()
}

fn of_duct(checked: &Checked<'_>, duct: &DuctLength) -> Option<Finding> {
    let short = &duct.length - &duct.most;
    if !short.length().is_positive() {
        return None;
    }
    let turns = duct.turns[0] + duct.turns[1];
    let what = format!(
        "`{}` is {} long, and with its {turns} turns {} are the most",
        duct.duct,
        checked.needed(&duct.length),
        checked.available(&Dim::greatest([duct.most.clone(), Dim::zero()]))
    );
    let rules = &checked.services.rules;
    let rule = &rules.plumbing().duct;
    let at = stated_at(checked.plan, &duct.duct);
    let mut finding = found(RULE, Severity::Stop, vec![duct.duct.clone()], at.child("nodes"), what);
    finding.fixes = smoother(checked, duct, short.length()).into_iter().collect();
    finding.because = vec![duct.length.clone(), duct.most.clone()];
    finding.short_by = Some(short);
    Some(Finding { source: rules.cite(rule.cite_in(&rules.edition), rule.seen), ..finding })
}

/// The fitting that takes least off, at every turn, where that is enough.
fn smoother(checked: &Checked<'_>, duct: &DuctLength, short: Length) -> Option<Fix> {
    let rule = &checked.services.rules.plumbing().duct;
    let Some(Service::Duct(stated)) = checked.plan.services.get(&duct.duct) else { return None };
    if rule.turns_free > 0 {
        return None;
    }
    let fitting = checked.plan.goods.iter().filter_map(|(key, good)| match &good.form {
        Form::Fitting { deducts: Some(deducts), .. } => Some((deducts.length, key, good)),
        _ => None,
    });
    let (off, key, good) = fitting.min_by_key(|(off, key, _)| (*off, *key))?;
    let run = checked.services.run(&duct.duct)?;
    let turns: Vec<_> = run.nodes.iter().skip(1).rev().skip(1).collect();
    let now = duct.most.length();
    let then = rule.most.length - off * i64::from(duct.turns[0] + duct.turns[1]);
    if then < now + short {
        return None;
    }
    let at = stated_at(checked.plan, &duct.duct).child("fittings");
    let fittings: dryfit_plan::Keyed<_> = stated
        .fittings
        .clone()
        .into_iter()
        .chain(turns.into_iter().map(|node| (node.key.clone(), key.clone())))
        .collect();
    Some(Fix::of(
        Draft::of(checked.plan).set(&at, fittings).edit(format!("turn `{}` with {}", duct.duct, good.name)),
    ))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_plan::Plan;

    /// Up 60 in, and so far along: one turn.
    fn duct(along: &str, fittings: bool) -> Plan {
        let place =
            |along: &str, up: &str| serde_json::json!({ "at": { "wall": "DA", "along": along, "up": up } });
        let duct = serde_json::json!({ "duct": {
            "good": "duct-4", "order": ["n1", "n2", "n3"],
            "nodes": { "n1": place("0 in", "0 in"), "n2": place("0 in", "60 in"), "n3": place(along, "60 in") },
        } });
        let good = |form| serde_json::json!({ "name": "smooth", "form": form });
        let form = serde_json::json!({ "duct": { "nominal": "4 in" } });
        let plan = with(&demo(), "/goods/duct-4", good(form));
        let bend = serde_json::json!({ "fitting": { "nominal": "4 in", "deducts": "21 in" } });
        let plan = if fittings { with(&plan, "/goods/bend", good(bend)) } else { plan };
        with(&plan, "/services/exhaust", duct)
    }

    #[test]
    fn with_one_turn_thirty_feet_pass_and_a_mark_more_does_not() {
        // 35 ft - 5 ft = 360 in
        assert!(found(&duct("300 in", false), RULE).is_empty());
        let findings = found(&duct("300 1/16 in", false), RULE);
        assert_eq!(
            findings[0].what,
            "`exhaust` is 360 1/16 in long, and with its 1 turns 360 in are the most"
        );
        assert_eq!(findings[0].source.to_string(), "IRC 2021, M1502.4.6.1");
        assert!(findings[0].fixes.is_empty());
    }

    #[test]
    fn a_smooth_turn_takes_less_off() {
        let plan = duct("320 in", true);
        every_remedy_clears(&plan, &found(&plan, RULE)[0]);
        assert!(found(&duct("340 in", true), RULE)[0].fixes.is_empty());
    }
}
