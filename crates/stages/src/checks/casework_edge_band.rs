//! `casework/edge-band`: every edge that shows has a band, and the band covers it.
//!
//! What it checks: in recipes without a frame, that the sheets of boxes, shelves, doors and panels have an edge band
//! for the edges that show; in every recipe, that each band it names is one, and as wide as its board is thick.
//!
//! Why it matters: a raw edge of a faced board drinks water and chips, and the thickness of a band that is thought
//! of last is missing at every door.
//!
//! Source: common practice, no source.
//!
//! Example: a board 19.1 mm thick wants a band at least 19.1 mm wide; they are sold 23 wide.
//!
//! Remedy: one of the plan's bands that is wide enough.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{Build, Draft, Form, Recipe, Role};

use super::Checked;
use super::found::found;
use crate::casework::edges::shown;
use crate::finding::{Finding, Fix, Severity};
use crate::likely::likely;

/// Roles whose sheets are not left raw; a seat or a drawer of good ply may be.
const COVERED: [Role; 4] = [Role::Box, Role::Shelf, Role::Door, Role::Skin];

/// Recipes whose edges stay raw, or whose bands do not serve: each band of a recipe once, with all it is named for.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut edges: BTreeMap<(&Key, Role), (&Dim, &Key)> = BTreeMap::new();
    for built in &checked.casework.units {
        let Some(unit) = checked.plan.units.get(&built.key) else { continue };
        let Some(recipe) = &unit.recipe else { continue };
        for part in &built.parts {
            let Some((role, _)) = shown(unit.kind, part) else { continue };
            let widest = edges.entry((recipe, role)).or_insert((&part.thickness, &part.good));
            if part.thickness.length() > widest.0.length() {
                *widest = (&part.thickness, &part.good);
            }
        }
    }
    let mut lots: BTreeMap<_, Vec<(Role, &Dim)>> = BTreeMap::new();
    for ((key, role), (thickness, good)) in edges {
        let Some(recipe) = checked.plan.recipes.get(key) else { continue };
        let named = recipe.edges.get(&role);
        if named.is_some() || is_raw(checked, recipe, role, good) {
            lots.entry((key, named)).or_default().push((role, thickness));
        }
    }
    lots.into_iter().filter_map(|((recipe, named), roles)| of_band(checked, recipe, named, &roles)).collect()
}

/// What there is to say about one band of a recipe, or about the roles that have none.
fn of_band(checked: &Checked<'_>, key: &Key, named: Option<&Key>, roles: &[(Role, &Dim)]) -> Option<Finding> {
    let thickness = *roles.iter().map(|(_, thickness)| thickness).max_by_key(|dim| dim.length())?;
    let words: Vec<String> = roles.iter().map(|(role, _)| format!("`{}`", written(*role))).collect();
    let words = words.join(", ");
    let edges = Pointer::root().child("recipes").child(key.as_str()).child("edges");
    let form = named.and_then(|named| checked.plan.goods.get(named)).map(|good| &good.form);
    let (severity, what) = match (named, form) {
        (None, _) => (
            Severity::Look,
            format!("the edges of {words} in recipe `{key}` show, and it names no edge band for them"),
        ),
        (Some(named), None) => {
            let meant = likely(named.as_str(), bands(checked, Length::ZERO).map(|(key, _)| key.as_str()));
            let asked = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
            (
                Severity::Stop,
                format!("recipe `{key}` names the edge band `{named}`, and there is none{asked}"),
            )
        }
        (Some(_), Some(Form::EdgeBand(band))) if band.width.length >= thickness.length() => return None,
        (Some(named), Some(Form::EdgeBand(band))) => (
            Severity::Stop,
            format!(
                "the edge band `{named}` is {} wide, and the edges it covers are {}",
                band.width,
                checked.needed(thickness)
            ),
        ),
        (Some(named), Some(_)) => {
            (Severity::Stop, format!("recipe `{key}` bands its edges with `{named}`, which is no edge band"))
        }
    };
    let at = edges.child(written(roles[0].0).as_str());
    let subjects = std::iter::once(key).chain(named).cloned().collect();
    let mut finding = found("casework/edge-band", severity, subjects, at, what);
    finding.because = vec![thickness.clone()];
    finding.fixes = bands(checked, thickness.length())
        .filter(|(band, _)| Some(*band) != named)
        .take(3)
        .map(|(band, name)| {
            let draft = roles.iter().fold(Draft::of(checked.plan), |draft, (role, _)| {
                draft.set(&edges.child(written(*role).as_str()), band.as_str())
            });
            Fix::of(draft.edit(format!("band {words} with `{band}`, {name}")))
        })
        .collect();
    Some(finding)
}

/// Whether an edge without a band stays raw: that of a sheet, in a recipe that has no frame to hide it.
fn is_raw(checked: &Checked<'_>, recipe: &Recipe, role: Role, good: &Key) -> bool {
    let sheet = matches!(checked.plan.goods.get(good).map(|good| &good.form), Some(Form::Sheet(_)));
    recipe.build == Build::Frameless && sheet && COVERED.contains(&role)
}

/// The plan's bands that cover an edge of this thickness.
fn bands<'a>(checked: &Checked<'a>, least: Length) -> impl Iterator<Item = (&'a Key, &'a str)> {
    checked.plan.goods.iter().filter_map(move |(key, good)| match &good.form {
        Form::EdgeBand(band) if band.width.length >= least => Some((key, good.name.as_str())),
        _ => None,
    })
}

/// A role as the plan writes it.
fn written(role: Role) -> String {
    match serde_json::to_value(role) {
        Ok(serde_json::Value::String(text)) => text,
        _ => format!("{role:?}"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, frameless, with, without};

    const RULE: &str = "casework/edge-band";

    #[test]
    fn the_demos_leave_no_edge_raw() {
        assert!(found(&frameless(), RULE).is_empty());
        assert!(found(&demo(), RULE).is_empty(), "a face frame hides its edges");
    }

    #[test]
    fn a_role_without_a_band_is_found_and_each_band_mends_it() {
        let plan = without(&frameless(), "/recipes/frameless/edges/door");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert!(findings[0].fixes.len() >= 2);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_band_that_is_none_and_one_that_is_not_there_are_found() {
        for named in ["pull", "abs-3"] {
            let plan = with(&frameless(), "/recipes/frameless/edges/shelf", named);
            let findings = found(&plan, RULE);
            assert_eq!(findings.len(), 1, "{named}: {findings:?}");
            every_remedy_clears(&plan, &findings[0]);
        }
    }

    #[test]
    fn a_band_as_wide_as_its_board_is_thick_will_do_and_a_narrower_one_will_not() {
        // boxes and shelves are 18.2 thick as measured
        let wide = |width: &str| with(&frameless(), "/goods/abs-1/form/edge-band/width", width);
        assert!(found(&wide("18.2 mm"), RULE).is_empty());
        let plan = wide("18.1 mm");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        every_remedy_clears(&plan, &findings[0]);
    }
}
