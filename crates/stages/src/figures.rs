//! Named figures: the unit's own exception, else its recipe's, else the handbook's.

use dryfit_handbook::{NamedFigure, figure, figures};
use dryfit_measure::{Dim, Key, Length, Pointer, Unit as LengthUnit};
use dryfit_plan::{Figures as Stated, Plan};

use crate::finding::{Finding, Fix};
use crate::likely::likely;

/// The figures that hold for one unit, one worktop or the whole plan.
#[derive(Clone, Debug)]
pub struct Figures<'p> {
    /// What is stated, nearest first, each with the place where it stands.
    stated: Vec<(&'p Stated, Pointer)>,
    /// Whose value of the handbook holds where nothing is stated.
    unit: LengthUnit,
}

impl<'p> Figures<'p> {
    /// What holds where nothing else is stated.
    pub fn of_handbook(plan: &'p Plan) -> Figures<'p> {
        Figures { stated: Vec::new(), unit: plan.entry_unit }
    }

    /// What holds for a unit: its own exceptions, then its recipe's.
    pub fn of_unit(plan: &'p Plan, key: &Key) -> Figures<'p> {
        let mut figures = Figures::of_handbook(plan);
        if let Some(unit) = plan.units.get(key) {
            let at = Pointer::root().child("units").child(key).child("figures");
            figures.stated.push((&unit.figures, at));
            if let Some((recipe, key)) =
                unit.recipe.as_ref().and_then(|key| Some((plan.recipes.get(key)?, key)))
            {
                let at = Pointer::root().child("recipes").child(key).child("figures");
                figures.stated.push((&recipe.figures, at));
            }
        }
        figures
    }

    /// What holds for a worktop: its own exceptions.
    pub fn of_top(plan: &'p Plan, key: &Key) -> Figures<'p> {
        let mut figures = Figures::of_handbook(plan);
        if let Some(top) = plan.tops.get(key) {
            figures.stated.push((&top.figures, Pointer::root().child("tops").child(key).child("figures")));
        }
        figures
    }

    /// What holds for every unit of a recipe: the recipe's own.
    pub fn of_recipe(plan: &'p Plan, key: &Key) -> Figures<'p> {
        let mut figures = Figures::of_handbook(plan);
        if let Some(recipe) = plan.recipes.get(key) {
            let at = Pointer::root().child("recipes").child(key).child("figures");
            figures.stated.push((&recipe.figures, at));
        }
        figures
    }

    /// What holds for a trim: its own exceptions.
    pub fn of_trim(plan: &'p Plan, key: &Key) -> Figures<'p> {
        let mut figures = Figures::of_handbook(plan);
        if let Some(trim) = plan.trims.get(key) {
            let at = Pointer::root().child("trims").child(key).child("figures");
            figures.stated.push((&trim.figures, at));
        }
        figures
    }

    /// What holds for a finish: its own exceptions.
    pub fn of_finish(plan: &'p Plan, key: &Key) -> Figures<'p> {
        let mut figures = Figures::of_handbook(plan);
        if let Some(finish) = plan.finishes.get(key) {
            let at = Pointer::root().child("finishes").child(key).child("figures");
            figures.stated.push((&finish.figures, at));
        }
        figures
    }

    /// What holds for a field: its own exceptions.
    pub fn of_field(plan: &'p Plan, key: &Key) -> Figures<'p> {
        let mut figures = Figures::of_handbook(plan);
        if let Some(field) = plan.fields.get(key) {
            let at = Pointer::root().child("fields").child(key).child("figures");
            figures.stated.push((&field.figures, at));
        }
        figures
    }

    /// The figure of this id, named as the handbook names it: *chosen* where it is stated, else a *rule*.
    ///
    /// # Panics
    /// If the handbook has no such figure: ids are written in code. Ids from a plan are proven by [`unknown`].
    pub fn dim(&self, id: &str) -> Dim {
        let known = figure(id).unwrap_or_else(|| panic!("the handbook has no figure `{id}`"));
        for (stated, at) in &self.stated {
            if let Some(value) = stated.get(id) {
                return Dim::chosen(value.length, at.child(id)).named(known.what.as_str());
            }
        }
        Dim::rule(in_unit(known, self.unit), id).named(known.what.as_str())
    }
}

/// The handbook's value for plans in this unit.
fn in_unit(figure: &NamedFigure, unit: LengthUnit) -> Length {
    match unit {
        LengthUnit::Inch => figure.value.length,
        LengthUnit::Millimetre => figure.metric.length,
    }
}

/// A finding for every figure in the plan whose id names nothing.
pub fn unknown(plan: &Plan) -> Vec<Finding> {
    let root = Pointer::root();
    let recipes = plan.recipes.iter().map(|(key, recipe)| ("recipes", key, &recipe.figures));
    let units = plan.units.iter().map(|(key, unit)| ("units", key, &unit.figures));
    let tops = plan.tops.iter().map(|(key, top)| ("tops", key, &top.figures));
    let trims = plan.trims.iter().map(|(key, trim)| ("trims", key, &trim.figures));
    let finishes = plan.finishes.iter().map(|(key, finish)| ("finishes", key, &finish.figures));
    let fields = plan.fields.iter().map(|(key, field)| ("fields", key, &field.figures));
    let mut findings = Vec::new();
    for (map, key, stated) in recipes.chain(units).chain(tops).chain(trims).chain(finishes).chain(fields) {
        let at = root.child(map).child(key).child("figures");
        let strange = stated.keys().filter(|id| figure(id).is_none());
        findings.extend(strange.map(|id| unknown_figure(key, &at, id, stated)));
    }
    findings
}

fn unknown_figure(key: &Key, figures_at: &Pointer, id: &str, stated: &Stated) -> Finding {
    let at = figures_at.child(id);
    let meant = likely(id, figures().keys().map(String::as_str)).filter(|meant| !stated.contains_key(*meant));
    let asked = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
    let rename = meant.map(|meant| Fix::rename(format!("call it `{meant}`"), &at, meant, &stated[id]));
    let drop = Fix::remove(format!("take `{id}` out"), &at, &stated[id]);
    let what = format!("`{key}` states a figure `{id}`, and the handbook has none of that name{asked}");
    let fixes = rename.into_iter().chain([drop]).collect();
    Finding { fixes, ..Finding::unresolved("plan/unknown-figure", vec![key.clone()], at, what) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(text: &'static str) -> Key {
        Key::literal(text)
    }

    fn plan(unit: &str) -> Plan {
        let text = format!(
            r#"
            format = 1
            name = "Figures"
            entry_unit = "{unit}"
            fineness = "1/16 in"
            money = {{ currency = "USD" }}
            room = {{ walk = [], sense = "clockwise" }}
            [units]
            b1 = {{ kind = "base", recipe = "k", width = "left-over", figures = {{ frame-stile = "2 in" }} }}
            b2 = {{ kind = "base", recipe = "k", width = "left-over", figures = {{ toe-hight = "5 in" }} }}
            b3 = {{ kind = "base", width = "left-over" }}
            [recipes.k]
            name = "k"
            build = "face-frame"
            fit = "overlay"
            roles = {{}}
            figures = {{ frame-stile = "1 3/4 in", frame-rail = "1 3/4 in" }}
            [tops.t]
            over = []
            substrate = "s"
            layers = 1
            figures = {{ above-top = "20 in" }}
            "#
        );
        toml::from_str(&text).expect("a plan")
    }

    #[test]
    fn the_unit_goes_before_its_recipe_and_that_before_the_handbook() {
        let plan = plan("in");
        let said = |figures: &Figures<'_>, id| {
            let dim = figures.dim(id);
            (dim.length(), dryfit_measure::because(&dim, plan.fineness))
        };
        let b1 = Figures::of_unit(&plan, &key("b1"));
        let stile = "frame stile 2 in: chosen at /units/b1/figures/frame-stile".to_owned();
        assert_eq!(said(&b1, "frame-stile"), (Length::inches(2, 0, 1), stile));
        let rail = "frame rail 1 3/4 in: chosen at /recipes/k/figures/frame-rail".to_owned();
        assert_eq!(said(&b1, "frame-rail"), (Length::inches(1, 3, 4), rail));
        // toe kick 4 high: common practice, no source
        let toe = "toe kick height 4 in: rule toe-height".to_owned();
        assert_eq!(said(&b1, "toe-height"), (Length::inches(4, 0, 1), toe));
        let b3 = Figures::of_unit(&plan, &key("b3"));
        assert_eq!(b3.dim("frame-stile").length(), Length::inches(1, 1, 2));
        let top = Figures::of_top(&plan, &key("t"));
        assert_eq!(top.dim("above-top").length(), Length::inches(20, 0, 1));
        assert_eq!(Figures::of_handbook(&plan).dim("above-top").length(), Length::inches(18, 0, 1));
        assert_eq!(Figures::of_unit(&plan, &key("nobody")).dim("kerf").length(), Length::inches(0, 1, 8));
    }

    #[test]
    fn millimetre_plans_have_round_millimetres() {
        let plan = plan("mm");
        // 870 high by 560 deep: common practice, no source
        assert_eq!(Figures::of_handbook(&plan).dim("base-height").length(), Length::mm(870));
        assert_eq!(Figures::of_handbook(&plan).dim("base-depth").length(), Length::mm(560));
    }

    #[test]
    fn an_unknown_figure_is_found_with_what_was_meant() {
        let findings = unknown(&plan("in"));
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].id(), "plan/unknown-figure:b2");
        assert_eq!(
            findings[0].what,
            "`b2` states a figure `toe-hight`, and the handbook has none of that name; did you mean `toe-height`?"
        );
        assert_eq!(findings[0].at.as_str(), "/units/b2/figures/toe-hight");
        let labels: Vec<&str> = findings[0].fixes.iter().map(|fix| fix.label.as_str()).collect();
        assert_eq!(labels, ["call it `toe-height`", "take `toe-hight` out"]);
    }

    #[test]
    fn both_remedies_of_an_unknown_figure_clear_it() {
        let plan = plan("in");
        for fix in &unknown(&plan)[0].fixes {
            let mut value = serde_json::to_value(&plan).expect("a plan writes");
            json_patch::patch(&mut value, &fix.edit.patch).expect("the edit applies");
            let mended: Plan = serde_json::from_value(value).expect("still a plan");
            assert!(unknown(&mended).is_empty(), "{}", fix.label);
        }
    }
}
