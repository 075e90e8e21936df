//! `surfaces/plank`: courses of planks end in no strip, and their end joints are staggered on studs.
//!
//! What it checks: what is left of the first and the last course against the figure `plank-least`; stretches longer
//! than a plank that no stud lets be jointed; end joints nearer to those of the course before than `plank-stagger`.
//!
//! Why it matters: a strip splits and shows that the ceiling is out of level; a joint off its stud opens.
//!
//! Source: common practice.
//!
//! Example: whole courses from the floor that leave 3/4 in under the ceiling.
//!
//! Severity: *look*.
//!
//! Remedy: first and last course equally wide; planks that stand upright where no stud lets them be jointed.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Draft, Laying, PlankLaying};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::{LaidField, PlankField, field_at};

const RULE: &str = "surfaces/plank";

/// Fields of planks that end in a strip, or whose joints are where they should not be.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.surfaces.fields.iter().filter_map(|field| uneven(checked, field, field.planks()?)).collect()
}

fn uneven(checked: &Checked<'_>, field: &LaidField, planks: &PlankField) -> Option<Finding> {
    let Some(Laying::Planks(laying)) = checked.plan.fields.get(&field.key).map(|field| &field.with) else {
        return None;
    };
    let least = Figures::of_field(checked.plan, &field.key).dim("plank-least");
    let strip = Dim::least(planks.ends.clone()).named("narrowest course").placed(field.key.as_str());
    let short = (&least - &strip).named("too narrow by").placed(field.key.as_str());
    let narrow = short.length() > Length::ZERO && !planks.courses.courses.is_empty();
    let courses = &planks.courses;
    let what = if courses.unjointed > 0 {
        format!(
            "{} of `{}` are longer than a plank, and no stud lets them be jointed",
            if courses.unjointed == 1 {
                "1 course".to_owned()
            } else {
                format!("{} courses", courses.unjointed)
            },
            field.key
        )
    } else if narrow {
        format!(
            "a course of `{}` is only {} wide, it should be at least {}",
            field.key,
            checked.available(&strip),
            checked.needed(&least)
        )
    } else if courses.crowded > 0 {
        format!("{} end joints in `{}` are too near those of the course before", courses.crowded, field.key)
    } else {
        return None;
    };
    let at = field_at(&field.key).child("with").child("planks");
    let mut finding = found(RULE, Severity::Look, vec![field.key.clone()], at.clone(), what);
    let mut offer = |way: PlankLaying, label: String| {
        finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at, way).edit(label)));
    };
    if courses.unjointed > 0 || courses.crowded > 0 {
        if !laying.upright {
            let label = format!("stand the planks of `{}` upright", field.key);
            offer(PlankLaying { upright: true, whole_first: false, ..laying.clone() }, label);
        }
    } else if laying.whole_first {
        let label = format!("make the first and the last course of `{}` equally wide", field.key);
        offer(PlankLaying { whole_first: false, ..laying.clone() }, label);
    }
    finding.because = vec![strip, least];
    if narrow {
        finding.short_by = Some(short);
    }
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use serde_json::json;

    const RULE: &str = "surfaces/plank";

    /// The demo with planks on a stretch of the lane wall, so high.
    fn planked(high: &str, length: &str) -> Plan {
        let on = json!({ "wall": { "wall": "AB", "from": "0 in", "to": "90 in", "low": { "at": "0 in" }, "high": { "at": high } } });
        let form = json!({ "reveal": "5 in", "thickness": "3/4 in", "length": length });
        let plan =
            with(&demo(), "/goods/plank-trial", json!({ "name": "trial plank", "form": { "plank": form } }));
        let planks = json!({ "good": "plank-trial", "whole_first": true });
        with(&plan, "/fields/trial", json!({ "on": on, "with": { "planks": planks } }))
    }

    fn of_trial(plan: &Plan) -> Vec<crate::finding::Finding> {
        found(plan, RULE).into_iter().filter(|finding| finding.subjects[0].as_str() == "trial").collect()
    }

    #[test]
    fn exactly_the_least_passes_and_a_mark_less_does_not() {
        assert!(of_trial(&planked("41 1/2 in", "96 in")).is_empty());
        let plan = planked("41 7/16 in", "96 in");
        let findings = of_trial(&plan);
        assert_eq!(
            findings[0].what,
            "a course of `trial` is only 1 7/16 in wide, it should be at least 1 1/2 in"
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_stretch_that_no_stud_lets_be_jointed_is_stood_upright() {
        // studs every 16 in from 15 1/4: a plank of 14 in reaches none of its pieces' far ends
        let plan = planked("41 1/2 in", "14 in");
        let findings = of_trial(&plan);
        assert!(findings[0].what.contains("no stud lets them be jointed"), "{}", findings[0].what);
    }
}
