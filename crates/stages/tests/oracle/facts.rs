//! What the oracle takes from the plan by itself: figures, thicknesses, and what is wished for.

use dryfit_measure::{Length, Unit as LengthUnit};
use dryfit_plan::{BackJoint, BottomJoint, Form, FrontFit, Plan, Recipe, Role, ToeBuild, Unit, UnitKind};
use dryfit_stages::placement::PlacedUnit;

/// One unit as it was asked for.
pub struct Facts<'a> {
    pub plan: &'a Plan,
    pub placed: &'a PlacedUnit,
    unit: &'a Unit,
    recipe: &'a Recipe,
}

impl<'a> Facts<'a> {
    pub fn of(plan: &'a Plan, placed: &'a PlacedUnit) -> Facts<'a> {
        let unit = &plan.units[&placed.key];
        let recipe = &plan.recipes[unit.recipe.as_ref().expect("a recipe")];
        Facts { plan, placed, unit, recipe }
    }

    /// A figure: the unit's, the recipe's, the handbook's.
    pub fn figure(&self, id: &str) -> i64 {
        let stated = self.unit.figures.get(id).or_else(|| self.recipe.figures.get(id));
        let known = dryfit_handbook::figure(id).expect(id);
        let usual = match self.plan.entry_unit {
            LengthUnit::Inch => known.value,
            LengthUnit::Millimetre => known.metric,
        };
        stated.unwrap_or(&usual).length.nm()
    }

    /// The measured thickness of the good in a role.
    pub fn thickness(&self, role: Role) -> i64 {
        let key = self.unit.roles.get(&role).or_else(|| self.recipe.roles.get(&role)).expect("a good");
        match &self.plan.goods[key].form {
            Form::Sheet(sheet) => sheet.thickness.length.nm(),
            Form::Board(board) => board.thickness.length.nm(),
            form => panic!("{form:?} has no thickness"),
        }
    }

    /// The slide of any drawer, if there is one.
    pub fn slides(&self) -> Vec<[i64; 4]> {
        let nm = |length: Length| length.nm();
        let slide = |form: &Form| match form {
            Form::Slide(s) => Some([
                nm(s.length.length),
                nm(s.each_side.length),
                nm(s.off_height.length),
                nm(s.behind.length),
            ]),
            _ => None,
        };
        self.plan.goods.values().filter_map(|good| slide(&good.form)).collect()
    }

    pub fn kind(&self) -> UnitKind {
        self.placed.kind
    }

    pub fn is_box(&self) -> bool {
        matches!(self.kind(), UnitKind::Base | UnitKind::Sink | UnitKind::Wall | UnitKind::Tall)
    }

    pub fn dadoed(&self) -> bool {
        self.recipe.joints.bottom == BottomJoint::Dado
    }

    pub fn back(&self) -> BackJoint {
        self.recipe.joints.back
    }

    pub fn overlays(&self) -> bool {
        self.recipe.fit == FrontFit::Overlay
    }

    pub fn loose_toe(&self) -> bool {
        self.recipe.toe == ToeBuild::Loose
    }

    /// Room that a panel is left for its movement, in all: none for plywood, the tangential coefficient by the
    /// handbook's change of moisture for boards (Wood Handbook, chapter 13).
    pub fn panel_movement(&self, clear: i64) -> i64 {
        let key =
            self.unit.roles.get(&Role::Panel).or_else(|| self.recipe.roles.get(&Role::Panel)).expect("panel");
        let Form::Board(board) = &self.plan.goods[key].form else { return 0 };
        let known = board.species.as_deref().and_then(dryfit_handbook::movement);
        known.map_or(0, |m| (clear as f64 * m.tangential * dryfit_handbook::moisture_change()).round() as i64)
    }
}
