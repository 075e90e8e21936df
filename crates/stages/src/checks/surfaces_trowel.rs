//! `surfaces/trowel`: mortar is spread as thick as the tile asks for.
//!
//! What it checks: a stated trowel against the one that the tile's longest side asks for, and whether the backs of
//! large tiles are spread too.
//!
//! Why it matters: under a large tile a shallow bed leaves hollows; it sounds empty, then it breaks. Eighty
//! percent of a dry tile's back has to be covered, 95 of a wet one's (ANSI A108.5, 3.3.2).
//!
//! Source: common practice.
//!
//! Example: tiles of 24 in in a bed of 1/4 in notches.
//!
//! Remedy: the trowel that the tile asks for; mortar on the backs.

use dryfit_measure::{Dim, Pointer, Stated};
use dryfit_plan::{Draft, Trowel};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::Bed;
use crate::surfaces::setting::trowel_for;

const RULE: &str = "surfaces/trowel";

/// Fields in too thin a bed.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.surfaces.beds.iter().filter_map(|bed| too_thin(checked, bed)).collect()
}

fn too_thin(checked: &Checked<'_>, bed: &Bed) -> Option<Finding> {
    let asked = trowel_for(bed.field.tile[0].length());
    let shallow = bed.trowel[1] < asked.deep.length;
    let bare = asked.back_butter && !bed.back_buttered;
    if !shallow && !bare {
        return None;
    }
    let at = Pointer::root().child("settings").child(bed.key.as_str());
    let tile = checked.needed(&bed.field.tile[0]);
    let what = if shallow {
        let written = Stated::new(bed.trowel[1], checked.plan.entry_unit);
        format!(
            "tiles of {tile} in `{}` ask for notches {} deep, and the trowel's are {written}",
            bed.field.key, asked.deep
        )
    } else {
        format!("tiles of {tile} in `{}` ask for mortar on their backs too", bed.field.key)
    };
    let subjects = vec![bed.key.clone(), bed.field.key.clone()];
    let mut finding = found(RULE, Severity::Look, subjects, at.clone(), what);
    let trowel = Trowel { notch: asked.notch, deep: asked.deep };
    let mut draft = Draft::of(checked.plan);
    let mut label = Vec::new();
    if shallow {
        draft = draft.set(&at.child("trowel"), trowel);
        label.push(format!("use a trowel with notches of {} by {}", asked.notch, asked.deep));
    }
    if bare {
        draft = draft.set(&at.child("back_buttered"), true);
        label.push("spread mortar on the backs of the tiles".to_owned());
    }
    finding.fixes.push(Fix::of(draft.edit(label.join(" and "))));
    finding.because = vec![bed.field.tile[0].clone()];
    let short = Dim::rule(asked.deep.length - bed.trowel[1], RULE).named("notches too shallow by");
    finding.short_by = shallow.then_some(short);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    const RULE: &str = "surfaces/trowel";

    fn laid(long: &str, more: &serde_json::Value) -> Plan {
        let field = serde_json::json!({
            "long": long, "wide": "3 in", "thick": "1/4 in", "joint": "1/8 in", "area": "30 sq ft",
        });
        let mut setting = serde_json::json!({
            "field": "trial", "by_hand": field, "mortar": "mortar", "grout": "grout-sanded",
        });
        for (key, value) in more.as_object().expect("a table") {
            setting[key] = value.clone();
        }
        with(&demo(), "/settings/trial", setting)
    }

    fn of_trial(plan: &Plan) -> Vec<crate::finding::Finding> {
        found(plan, RULE).into_iter().filter(|finding| finding.subjects[0].as_str() == "trial").collect()
    }

    #[test]
    fn where_nothing_is_stated_the_tile_decides() {
        assert!(found(&demo(), RULE).is_empty());
        assert!(of_trial(&laid("24 in", &serde_json::json!({}))).is_empty());
    }

    #[test]
    fn a_trowel_as_deep_as_asked_passes_and_a_shallower_one_does_not() {
        let trowel = |deep: &str| serde_json::json!({ "trowel": { "notch": "1/4 in", "deep": deep } });
        assert!(of_trial(&laid("12 in", &trowel("3/8 in"))).is_empty());
        let plan = laid("12 in", &trowel("1/4 in"));
        let findings = of_trial(&plan);
        assert_eq!(
            findings[0].what,
            "tiles of 12 in in `trial` ask for notches 3/8 in deep, and the trowel's are 1/4 in"
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn the_backs_of_large_tiles_are_spread() {
        // 15 in is where a tile is large: ANSI A108.02 4.3.8
        let bare = serde_json::json!({ "back_buttered": false });
        assert!(of_trial(&laid("14 15/16 in", &bare)).is_empty());
        let plan = laid("15 in", &bare);
        every_remedy_clears(&plan, &of_trial(&plan)[0]);
    }
}
