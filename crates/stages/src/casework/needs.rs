//! Which goods a unit needs, and what to say about a role that none serves.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{BackJoint, Edit, Form, Front, Good, Plan, Recipe, Role, ToeBuild, Unit, UnitKind};

use super::front::unknown_keys;
use super::job::Job;
use crate::finding::{Finding, Fix};
use crate::likely::likely;

/// The most goods that are offered for a role.
const OFFERED: usize = 5;

/// A finding for each role that this unit needs and that no fitting good serves, and for each front or slide
/// that names nothing.
pub(super) fn missing(job: &Job<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> =
        roles(job).into_iter().filter_map(|role| missing_role(job, role)).collect();
    if let Some(fronts) = &job.unit.fronts {
        findings.extend(unknown_keys(fronts).into_iter().map(|key| {
            let what =
                format!("the order of the fronts of `{}` names `{key}`, and there is none", job.placed.key);
            Finding::unresolved(
                "casework/no-front",
                vec![job.placed.key.clone()],
                job.pointer().child("fronts"),
                what,
            )
        }));
        let mut slides = Vec::new();
        slides_of(fronts, &job.pointer().child("fronts"), &mut slides);
        findings.extend(slides.into_iter().filter_map(|(key, at)| {
            if job.slide(key).is_some() {
                return None;
            }
            Some(unserved(job, "a drawer", Some(key), &at, |form| matches!(form, Form::Slide(_))))
        }));
    }
    findings
}

/// A unit that is to be made and names no recipe that the plan has.
pub(super) fn no_recipe(plan: &Plan, key: &Key, unit: &Unit) -> Finding {
    let at = Pointer::root().child("units").child(key.as_str()).child("recipe");
    let what = match &unit.recipe {
        None => format!("`{key}` names no recipe, so its parts are not known"),
        Some(named) => {
            let meant = likely(named.as_str(), plan.recipes.keys().map(Key::as_str));
            let asked = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
            format!("`{key}` names the recipe `{named}`, and there is none{asked}")
        }
    };
    let fix = |(recipe, named): (&Key, &Recipe)| {
        let label = format!("make `{key}` by `{recipe}`, {}", named.name);
        Fix { edit: Edit::set(plan, &at, recipe.as_str(), label.clone()), label }
    };
    let fixes = plan.recipes.iter().take(OFFERED).map(fix).collect();
    Finding { fixes, ..Finding::unresolved("casework/no-recipe", vec![key.clone()], at, what) }
}

/// The slides that drawers name, with the places where they do.
fn slides_of<'a>(front: &'a Front, at: &Pointer, found: &mut Vec<(&'a Key, Pointer)>) {
    match front {
        Front::Drawer { slide, .. } => found.push((slide, at.child("drawer").child("slide"))),
        Front::Down { order, parts } => {
            for key in order {
                if let Some(part) = parts.get(key) {
                    slides_of(part, &at.child("down").child("parts").child(key.as_str()), found);
                }
            }
        }
        _ => {}
    }
}

/// What closes a front, counted: doors, drawers, fixed fronts.
fn fronts(front: Option<&Front>) -> [usize; 3] {
    match front {
        None | Some(Front::Open { .. }) => [0; 3],
        Some(Front::Door { .. }) => [1, 0, 0],
        Some(Front::Pair { .. }) => [2, 0, 0],
        Some(Front::Drawer { .. }) => [0, 1, 0],
        Some(Front::Fixed { .. }) => [0, 0, 1],
        Some(Front::Down { order, parts }) => order
            .iter()
            .map(|key| fronts(parts.get(key)))
            .fold([0; 3], |sum, add| [sum[0] + add[0], sum[1] + add[1], sum[2] + add[2]]),
    }
}

/// The roles without which this unit cannot be made.
fn roles(job: &Job<'_>) -> Vec<Role> {
    use Role::{
        Back, BackNail, Box, Door, DrawerBottom, DrawerBox, Frame, FrontScrew, Glue, HangScrew, Hinge, Hook,
        JointScrew, Ledger, Leg, LidHinge, LidStay, Panel, Pin, Pull, Rod, Seat, Shelf, Skin, Toe,
    };
    let mut roles = Vec::new();
    match job.placed.kind {
        kind if kind.is_box() => {
            let [doors, drawers, fixed] = fronts(job.unit.fronts.as_ref());
            roles.extend([Box, Back, JointScrew, HangScrew, Glue]);
            if job.framed() {
                roles.push(Frame);
            }
            if job.recipe.joints.back != BackJoint::Groove {
                roles.push(BackNail);
            }
            if kind != UnitKind::Wall {
                roles.push(Toe);
                if job.recipe.toe == ToeBuild::Legs {
                    roles.push(Leg);
                }
            }
            if job.unit.shelves > 0 {
                if kind == UnitKind::Drying { roles.push(Rod) } else { roles.extend([Shelf, Pin]) }
            }
            match kind {
                UnitKind::Bench if job.unit.lid => roles.extend([Seat, LidHinge, LidStay]),
                UnitKind::Bench => roles.extend([Seat, FrontScrew]),
                UnitKind::Locker => roles.push(Hook),
                _ => {}
            }
            if doors + drawers + fixed > 0 {
                roles.push(Door);
            }
            if doors > 0 {
                roles.push(Hinge);
            }
            // a sheet makes a door by itself, a board none without a panel
            let sheet = matches!(job.good(Door).map(|good| &good.form), Some(Form::Sheet(_)));
            if doors > 0 && (job.good_key(Panel).is_some() || !sheet) {
                roles.push(Panel);
            }
            if doors + drawers > 0 {
                roles.push(Pull);
            }
            if drawers + fixed > 0 {
                roles.push(FrontScrew);
            }
            if drawers > 0 {
                roles.extend([DrawerBox, DrawerBottom]);
            }
        }
        UnitKind::FloatingShelf => roles.extend([Skin, Ledger, HangScrew, Glue]),
        UnitKind::Filler | UnitKind::EndPanel => roles.extend([Skin, JointScrew]),
        UnitKind::HookRail => roles.extend([Skin, Hook, HangScrew]),
        _ => {}
    }
    roles.sort_unstable();
    roles.dedup();
    roles
}

/// Whether a good of this form can serve a role.
fn serves(role: Role, form: &Form) -> bool {
    match role {
        Role::Hinge => matches!(form, Form::Hinge { .. }),
        Role::Pull => matches!(form, Form::Pull { .. }),
        Role::Pin | Role::JointScrew | Role::FrontScrew | Role::HangScrew | Role::BackNail => {
            matches!(form, Form::Fastener { .. })
        }
        Role::Leg => matches!(form, Form::Leg { .. }),
        Role::Hook | Role::LidHinge | Role::LidStay => {
            matches!(form, Form::Fastener { .. } | Form::Supply {})
        }
        Role::Rod => matches!(form, Form::Board(_)),
        Role::Glue => matches!(form, Form::Supply {}),
        _ => matches!(form, Form::Sheet(_) | Form::Board(_)),
    }
}

/// A role as the plan writes it.
fn written(role: Role) -> String {
    match serde_json::to_value(role) {
        Ok(serde_json::Value::String(text)) => text,
        _ => format!("{role:?}"),
    }
}

fn missing_role(job: &Job<'_>, role: Role) -> Option<Finding> {
    let key = job.good_key(role);
    if job.good(role).is_some_and(|good| serves(role, &good.form)) {
        return None;
    }
    let at = if job.unit.roles.contains_key(&role) { job.pointer() } else { job.recipe_pointer() };
    let at = at.child("roles").child(written(role));
    Some(unserved(job, &format!("the role `{}`", written(role)), key, &at, |form| serves(role, form)))
}

/// Nothing serves: what is named, and what could be.
fn unserved(
    job: &Job<'_>,
    whom: &str,
    named: Option<&Key>,
    at: &Pointer,
    fits: impl Fn(&Form) -> bool,
) -> Finding {
    let unit = &job.placed.key;
    let fitting = || job.plan.goods.iter().filter(|(_, good)| fits(&good.form));
    let what = match named {
        None => format!("{whom} in `{unit}` needs a good, and its recipe `{}` names none", job.recipe_key),
        Some(key) if job.plan.goods.contains_key(key) => {
            format!("{whom} in `{unit}` is served by `{key}`, which is not of a kind that can")
        }
        Some(key) => {
            let meant = likely(key.as_str(), fitting().map(|(key, _)| key.as_str()));
            let asked = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
            format!("{whom} in `{unit}` names the good `{key}`, and there is none{asked}")
        }
    };
    let mut finding = Finding::unresolved("casework/no-good", vec![unit.clone()], at.clone(), what);
    let mut offered: Vec<(&Key, &Good)> = fitting().collect();
    if let Some(meant) =
        named.and_then(|key| likely(key.as_str(), offered.iter().map(|(key, _)| key.as_str())))
    {
        let meant = meant.to_owned();
        offered.sort_by_key(|(key, _)| key.as_str() != meant);
    }
    finding.fixes = offered
        .into_iter()
        .take(OFFERED)
        .map(|(key, good)| -> Fix { job.put(format!("use `{key}`, {}", good.name), at, key.as_str()) })
        .collect();
    finding
}
