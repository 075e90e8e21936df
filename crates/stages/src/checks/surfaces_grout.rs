//! `surfaces/grout`: the grout is of the kind that its joint asks for.
//!
//! What it checks: sanded grout in joints narrower than 1/8 in or wider than 5/8, and grout without sand in joints
//! wider than 1/8.
//!
//! Why it matters: sand does not go into a narrow joint, which stays hollow; without sand a wide joint cracks as
//! it shrinks.
//!
//! Source: common practice; grout makers' sheets draw the line at 1/8 in.
//!
//! Example: sanded grout in joints of 1/16 in.
//!
//! Remedy: grout of the other kind; a joint at the limit.

use dryfit_measure::{Dim, Key, Pointer, Toward};
use dryfit_plan::{Draft, Form};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::Bed;

const RULE: &str = "surfaces/grout";

/// Fields whose grout does not suit their joints.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.surfaces.beds.iter().filter_map(|bed| unsuited(checked, bed)).collect()
}

fn unsuited(checked: &Checked<'_>, bed: &Bed) -> Option<Finding> {
    let figures = Figures::of_handbook(checked.plan);
    let (sand, most) = (figures.dim("grout-sanded-from"), figures.dim("grout-sanded-to"));
    let joint = &bed.field.joint;
    let (what, limit, other) = match bed.sanded? {
        true if joint.length() < sand.length() => {
            let what = format!(
                "sanded grout in `{}` needs joints of {}, and they are {}",
                bed.field.key,
                checked.needed(&sand),
                checked.available(joint)
            );
            (what, sand, Some(false))
        }
        true if joint.length() > most.length() => {
            let what = format!(
                "joints in `{}` are {} wide, and sanded grout fills {} at most",
                bed.field.key,
                checked.needed(joint),
                checked.available(&most)
            );
            (what, most, None)
        }
        false if joint.length() > sand.length() => {
            let what = format!(
                "grout without sand in `{}` cracks in joints wider than {}, and they are {}",
                bed.field.key,
                checked.available(&sand),
                checked.needed(joint)
            );
            (what, sand, Some(true))
        }
        _ => return None,
    };
    let at = Pointer::root().child("settings").child(bed.key.as_str()).child("grout");
    let subjects = vec![bed.key.clone(), bed.field.key.clone()];
    let mut finding = found(RULE, Severity::Stop, subjects, at.clone(), what);
    if let Some(sanded) = other {
        let of_kind = checked.plan.goods.iter().filter(|(_, good)| good.form == Form::Grout { sanded });
        let fix = |(key, good): (&Key, &dryfit_plan::Good)| {
            let label = format!("grout `{}` with `{key}`, {}", bed.field.key, good.name);
            Fix::of(Draft::of(checked.plan).set(&at, key.as_str()).edit(label))
        };
        finding.fixes.extend(of_kind.take(2).map(fix));
    }
    let joint_at_limit = checked.mark(limit.length(), Toward::Nearest);
    if joint_at_limit.length == limit.length() {
        let label = format!("leave joints of {joint_at_limit} in `{}`", bed.field.key);
        let draft = Draft::of(checked.plan).set(&bed.field.joint_at, joint_at_limit);
        finding.fixes.push(Fix::of(draft.edit(label)));
    }
    let off: Dim = if joint.length() > limit.length() { joint - &limit } else { &limit - joint };
    finding.because = vec![joint.clone(), limit];
    finding.short_by = Some(off.named("joint off by").placed(bed.field.key.as_str()));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    const RULE: &str = "surfaces/grout";

    /// The demo with one field counted by hand: so wide a joint, this grout.
    fn grouted(joint: &str, grout: &str) -> Plan {
        let field = serde_json::json!({
            "long": "6 in", "wide": "3 in", "thick": "1/4 in", "joint": joint, "area": "30 sq ft",
        });
        let setting =
            serde_json::json!({ "field": "trial", "by_hand": field, "mortar": "mortar", "grout": grout });
        with(&demo(), "/settings/trial", setting)
    }

    fn of_trial(plan: &Plan) -> Vec<crate::finding::Finding> {
        found(plan, RULE).into_iter().filter(|finding| finding.subjects[0].as_str() == "trial").collect()
    }

    #[test]
    fn the_grouts_of_the_demo_suit_their_joints() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn sand_goes_into_an_eighth_and_into_nothing_narrower() {
        // facts of the trade: sanded from 1/8 to 5/8, so never with 1/16 in spacers
        assert!(of_trial(&grouted("1/8 in", "grout-sanded")).is_empty());
        let plan = grouted("1/16 in", "grout-sanded");
        let findings = of_trial(&plan);
        assert_eq!(findings[0].what, "sanded grout in `trial` needs joints of 1/8 in, and they are 1/16 in");
        assert_eq!(findings[0].fixes.len(), 2);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn without_sand_an_eighth_is_the_most() {
        assert!(of_trial(&grouted("1/8 in", "grout-fine")).is_empty());
        let plan = grouted("3/16 in", "grout-fine");
        every_remedy_clears(&plan, &of_trial(&plan)[0]);
    }

    #[test]
    fn five_eighths_is_the_widest_joint() {
        assert!(of_trial(&grouted("5/8 in", "grout-sanded")).is_empty());
        let plan = grouted("11/16 in", "grout-sanded");
        every_remedy_clears(&plan, &of_trial(&plan)[0]);
    }
}
