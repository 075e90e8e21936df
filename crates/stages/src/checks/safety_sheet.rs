//! `safety/sheet-handling`: one person can handle a full sheet.
//!
//! What it checks: the heaviest whole sheet that is to be cut, against the 51 lb that one person should lift at
//! the very best.
//!
//! Why it matters: a sheet that slips in the saw pulls the hands after it.
//!
//! Source: NIOSH 94-110, load constant of 51 lb; a sheet of 3/4 in goods at 45 lb a cubic foot weighs 90 lb.
//!
//! Example: 90 lb is 1.76 times what one person should lift.
//!
//! Remedy: a second person; or have the shop rip it first.

use dryfit_measure::{Density, Key, Mass, Pointer};
use dryfit_plan::{Edit, Form, SheetForm};

use super::Checked;
use super::found::found;
use super::safety_lift::weight_limit;
use crate::finding::{Finding, Fix, Severity};

/// The heaviest sheet, where it is too heavy and nobody helps.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    if checked.plan.shop.helper == Some(true) {
        return Vec::new();
    }
    let bought = checked.layouts.sheets.iter().filter(|stack| stack.bought() > 0);
    let sheets = bought.filter_map(|stack| match &checked.plan.goods.get(&stack.good)?.form {
        Form::Sheet(sheet) => Some((&stack.good, mass(sheet))),
        _ => None,
    });
    let Some((good, mass)) = sheets.max_by_key(|(_, mass)| *mass) else { return Vec::new() };
    too_heavy(checked, good, mass).into_iter().collect()
}

fn mass(sheet: &SheetForm) -> Mass {
    let area = sheet.length.length * sheet.width.length;
    (area * sheet.thickness.length) * Density::from_kilograms_per_cubic_metre(f64::from(sheet.density))
}

fn too_heavy(checked: &Checked<'_>, good: &Key, mass: Mass) -> Option<Finding> {
    let best = weight_limit(10.0, 30.0, 10.0, 1.0, 1.0);
    if mass.as_pounds_f64() <= best {
        return None;
    }
    let unit = checked.plan.fineness.unit();
    let what = format!(
        "a whole sheet of `{good}` weighs {}, one person should lift {} at best: two people, or have it ripped \
         where it is sold",
        mass.figure(unit),
        Mass::from_pounds(best).figure(unit)
    );
    let at = Pointer::root().child("shop").child("helper");
    let mut finding = found("safety/sheet-handling", Severity::Note, vec![good.clone()], at.clone(), what);
    finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, true, "have a second person for whole sheets")));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};

    #[test]
    fn alone_the_heaviest_sheet_is_named() {
        let plan = with(&demo(), "/shop/helper", false);
        let findings = found(&plan, "safety/sheet-handling");
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].what.starts_with("a whole sheet of `particle-19` weighs "),
            "{}",
            findings[0].what
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn with_two_people_it_is_not() {
        assert!(found(&with(&demo(), "/shop/helper", true), "safety/sheet-handling").is_empty());
    }

    #[test]
    fn a_light_sheet_is_one_persons_and_the_limit_is_51_pounds() {
        // 4 x 8 ft x 23/32 in is 0.05427 m3: at 426 kg/m3 just under 51 lb, at 427 just over
        let plan = with(&demo(), "/shop/helper", false);
        // the heaviest is named: the worktop's substrate, if it is not as light
        let plan = with(&plan, "/goods/particle-19/form/sheet/density", 100);
        let dense = |density: u32| with(&plan, "/goods/ply-18/form/sheet/density", density);
        assert!(found(&dense(300), "safety/sheet-handling").iter().all(|one| !one.what.contains("ply-18")));
        let limit = (51.0_f64 * 0.453_592_37 / (2.4384 * 1.2192 * 0.018_256_25)).floor();
        assert!((426.0..=427.0).contains(&limit), "{limit}");
        assert!(found(&dense(426), "safety/sheet-handling").iter().all(|one| !one.what.contains("ply-18")));
        assert!(found(&dense(427), "safety/sheet-handling").iter().any(|one| one.what.contains("ply-18")));
    }
}
