//! `services/box-fill`: what is in a box fits in it.
//!
//! What it checks: conductors, grounds, clamps and straps against what the box is stamped to hold.
//!
//! Why it matters: wires that are pushed in are nicked, and run hot.
//!
//! Source: NEC 314.16(B): 2.00 in3 for 14 AWG, 2.25 for 12, 2.50 for 10; a strap counts two.
//!
//! Example: two 12/2 cables with grounds, inside clamps and one receptacle need 18 in3.
//!
//! Remedy: a box of the plan that holds it.

use dryfit_plan::{Draft, Form};

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::finding::{Finding, Fix, Severity};
use crate::services::PlacedBox;

const RULE: &str = "services/box-fill";

/// Boxes that are too full.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.boxes.iter().filter_map(|placed| of_box(checked, placed)).collect()
}

fn of_box(checked: &Checked<'_>, placed: &PlacedBox) -> Option<Finding> {
    let rules = &checked.services.rules;
    let fill = placed.fill.as_ref().filter(|fill| !fill.fits())?;
    let mut in_it = vec![format!("{} conductors", fill.conductors)];
    in_it.extend(fill.grounds.then(|| "grounds".to_owned()));
    in_it.extend(fill.clamps.then(|| "clamps".to_owned()));
    in_it.extend((fill.yokes > 0).then(|| match fill.yokes {
        1 => "1 strap".to_owned(),
        more => format!("{more} straps"),
    }));
    let what = format!(
        "{} in `{}` need {}, and it holds {}",
        in_it.join(", "),
        placed.key,
        fill.capacity(),
        fill.holds
    );
    let at = stated_at(checked.plan, &placed.key).child("good");
    let mut finding = found(RULE, Severity::Stop, vec![placed.key.clone()], at.clone(), what);
    let needs = fill.capacity().volume();
    let larger = checked.plan.goods.iter().filter_map(|(key, good)| match good.form {
        // one without clamps inside needs no more than this one
        Form::Box { volume, clamps, .. } if volume.volume() >= needs && (fill.clamps || !clamps) => {
            Some((volume.volume(), key, good))
        }
        _ => None,
    });
    if let Some((_, key, good)) = larger.min_by_key(|(volume, key, _)| (*volume, *key)) {
        let label = format!("take {} for `{}`", good.name, placed.key);
        finding.fixes = vec![Fix::of(Draft::of(checked.plan).set(&at, key).edit(label))];
    }
    let rule = &rules.wiring().fill;
    Some(Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;

    #[test]
    fn the_boxes_of_the_demo_hold_what_is_in_them() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_full_it_passes_and_a_thousandth_more_does_not() {
        // four 12 AWG, grounds and a strap of two: 7 x 2.25 = 15.75 in3
        let holds = |volume: &str| {
            let mut plan = with(&demo(), "/services/rc1/box/good", "lamp-box");
            plan = with(&plan, "/goods/lamp-box/form/box/clamps", false);
            with(&plan, "/goods/lamp-box/form/box/volume", volume)
        };
        assert!(found(&holds("15.75 in3"), RULE).is_empty());
        let plan = holds("15.749 in3");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "4 conductors, grounds, 1 strap in `rc1` need 15.75 in3, and it holds 15.749 in3"
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
