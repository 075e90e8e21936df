//! `casework/drawer-height`: a drawer box comes out high enough to hold something.
//!
//! What it checks: the height of each drawer box, which is its opening's less what its slides take, against the
//! figure `drawer-box-least`.
//!
//! Why it matters: what is left of a low opening is a tray: its bottom sits half an inch up, and its slides are
//! nearly as high as its sides.
//!
//! Source: common practice, no source.
//!
//! Example: an opening of 3 in with slides that take 1 in leaves a box of 2 in, half an inch lower than the least.
//!
//! Remedy: an opening just high enough.

use dryfit_measure::Toward;
use dryfit_plan::{Draft, Front};

use super::Checked;
use super::found::found;
use crate::casework::BuiltUnit;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};

/// Units with drawers that are too low, each named once by its lowest.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|built| too_low(checked, built)).collect()
}

fn too_low(checked: &Checked<'_>, built: &BuiltUnit) -> Option<Finding> {
    let least = Figures::of_unit(checked.plan, &built.key).dim("drawer-box-least");
    let framed = built.parts.iter().any(|part| part.role.starts_with("frame/"));
    let mut low = Vec::new();
    for leaf in checked.leaves(&built.key) {
        let Front::Drawer { .. } = leaf.front else { continue };
        let side = format!("drawer.{}/side.left", leaf.path);
        let Some(side) = built.parts.iter().find(|part| part.role == side) else { continue };
        let opening = built.openings.iter().find(|opening| opening.front == leaf.path)?;
        // a side's grain runs along it: its height is its width
        let short = &least - &side.width;
        if short.length().is_positive() {
            // without a frame the front's own height is stated
            let face = format!("drawer.{}/face", leaf.path);
            let face = built.parts.iter().find(|part| part.role == face && !framed);
            let now = face.map_or(opening.height.length(), |face| face.solid.max[2] - face.solid.min[2]);
            let higher = checked.mark(now + short.length(), Toward::Up);
            low.push((leaf, &side.width, short, higher));
        }
    }
    low.sort_by_key(|(_, _, short, _)| std::cmp::Reverse(short.length()));
    let (leaf, height, short, higher) = low.first()?;
    let what = format!(
        "the box of drawer `{}` in `{}` is {} high, it should be at least {}",
        leaf.path,
        built.key,
        checked.available(height),
        checked.needed(&least)
    );
    let at = leaf.at.child("drawer").child("height");
    let mut finding = found("casework/drawer-height", Severity::Look, vec![built.key.clone()], at, what);
    let draft = low.iter().fold(Draft::of(checked.plan), |draft, (leaf, _, _, higher)| {
        draft.set(&leaf.at.child("drawer").child("height"), higher)
    });
    let label = match low.len() {
        1 if framed => format!("make the opening of `{}` in `{}` {higher} high", leaf.path, built.key),
        1 => format!("make the front `{}` of `{}` {higher} high", leaf.path, built.key),
        more => format!("make the openings of {more} drawers in `{}` higher", built.key),
    };
    finding.fixes.push(Fix::of(draft.edit(label)));
    finding.because = vec![(*height).clone(), least.clone()];
    finding.short_by = Some(short.clone().named("too low by").placed(built.key.as_str()));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    const RULE: &str = "casework/drawer-height";

    /// The demo with the top drawer's opening in `b3` so high; its slides take 1 in.
    fn opening(height: &str) -> Plan {
        with(&demo(), "/units/b3/fronts/down/parts/d1/drawer/height", height)
    }

    #[test]
    fn the_drawers_of_the_demo_hold_something() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_the_least_passes_and_a_mark_lower_does_not() {
        assert!(found(&opening("3 1/2 in"), RULE).is_empty());
        let plan = opening("3 7/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(
            findings[0].what,
            "the box of drawer `d1` in `b3` is 2 7/16 in high, it should be at least 2 1/2 in"
        );
        assert_eq!(findings[0].fixes[0].label, "make the opening of `d1` in `b3` 3 1/2 in high");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn of_several_the_lowest_is_named_and_all_are_mended() {
        let plan = with(&demo(), "/units/b2/fronts/down/parts/d1/drawer/height", "3 in");
        let plan = with(&plan, "/units/b2/fronts/down/parts/d2/drawer/height", "2 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        let what = &findings[0].what;
        assert!(what.starts_with("the box of drawer `d2` in `b2` is 1 in high"), "{what}");
        every_remedy_clears(&plan, &findings[0]);
    }
}
