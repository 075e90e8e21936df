//! The appliances of a plan, each in its space.

use dryfit_measure::{Dim, Key, Pointer, Stated};
use dryfit_plan::{ApplianceForm, Form, UnitKind};

use super::Checked;
use crate::placement::PlacedUnit;

/// Every space for an appliance, with the good that stands in it.
pub(super) fn appliances<'a>(
    checked: &Checked<'a>,
) -> impl Iterator<Item = (&'a PlacedUnit, &'a Key, &'a ApplianceForm)> {
    let plan = checked.plan;
    let spaces = checked.placement.units.iter().filter(|unit| unit.kind == UnitKind::Appliance);
    spaces.filter_map(|unit| {
        let key = plan.units.get(&unit.key)?.holds.as_ref()?;
        match &plan.goods.get(key)?.form {
            Form::Appliance(form) => Some((unit, key, form)),
            _ => None,
        }
    })
}

/// A size of an appliance, taped from its sheet.
pub(super) fn taped(good: &Key, field: &str, size: Stated, what: &str) -> Dim {
    let at = ["goods", good.as_str(), "form", "appliance", field];
    let at = at.into_iter().fold(Pointer::root(), |at, step| at.child(step));
    Dim::taped(size.length, at).named(what)
}
