//! What the oracle takes from the plan by itself: figures, thicknesses, and what is wished for.

use dryfit_measure::{Length, Unit as LengthUnit};
use dryfit_plan::{
    BackJoint, BottomJoint, Build, Form, Front, FrontFit, Plan, Recipe, Role, ToeBuild, Unit, UnitKind,
};
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
        use UnitKind::{Base, Bench, Drying, Locker, Sink, Tall, Wall};
        matches!(self.kind(), Base | Sink | Wall | Tall | Bench | Locker | Drying)
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

    /// Whether the box stands on something.
    pub fn raised(&self) -> bool {
        self.recipe.toe != ToeBuild::Notched
    }

    /// From the floor to the box, or to the upper end of its notch.
    pub fn foot(&self) -> i64 {
        match self.recipe.toe {
            _ if self.kind() == UnitKind::Wall => 0,
            ToeBuild::Legs => self.figure("leg-height"),
            _ => self.figure("toe-height"),
        }
    }

    pub fn framed(&self) -> bool {
        self.recipe.build == Build::FaceFrame
    }

    pub fn frame(&self) -> i64 {
        if self.framed() { self.thickness(Role::Frame) } else { 0 }
    }

    /// How far what is in the box stays behind its front edges.
    pub fn behind(&self) -> i64 {
        let closed = self.unit.fronts.as_ref().is_some_and(|front| !opens_all(front));
        if self.framed() || self.overlays() || !closed { 0 } else { self.thickness(Role::Door) }
    }

    /// Whether any part of the front is open.
    pub fn has_open(&self) -> bool {
        self.unit.fronts.as_ref().is_none_or(opens_any)
    }

    pub fn has_lid(&self) -> bool {
        self.unit.lid
    }

    pub fn dividers(&self) -> usize {
        let divided = !self.framed() && self.kind() != UnitKind::Drying;
        if divided { usize::from(self.unit.dividers) } else { 0 }
    }

    /// Thickness of the band on the edges of a role's parts; nothing where there is none.
    pub fn band(&self, role: Role) -> i64 {
        let form = self.recipe.edges.get(&role).map(|key| &self.plan.goods[key].form);
        if let Some(Form::EdgeBand(band)) = form { band.thickness.length.nm() } else { 0 }
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

fn opens_all(front: &Front) -> bool {
    match front {
        Front::Open { .. } => true,
        Front::Down { parts, .. } => parts.values().all(opens_all),
        _ => false,
    }
}

fn opens_any(front: &Front) -> bool {
    match front {
        Front::Open { .. } => true,
        Front::Down { parts, .. } => parts.values().any(opens_any),
        _ => false,
    }
}
