//! What is known when one unit is taken apart: where it stands, its recipe, its goods and its figures.

use dryfit_handbook::Source;
use dryfit_measure::{Dim, Key, LONGEST, Length, Pointer, Stated, Toward, Unit as LengthUnit};
use dryfit_plan::{
    Build, Edit, Form, Front, FrontFit, Good, Grain, Level, Plan, Recipe, Role, SlideForm, ToeBuild, Unit,
    UnitKind,
};

use super::part::Stock;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;

/// One unit to build.
pub(super) struct Job<'a> {
    pub(super) plan: &'a Plan,
    pub(super) placed: &'a PlacedUnit,
    pub(super) unit: &'a Unit,
    pub(super) recipe: &'a Recipe,
    pub(super) recipe_key: &'a Key,
    pub(super) figures: Figures<'a>,
}

impl<'a> Job<'a> {
    /// Where this unit is stated.
    pub(super) fn pointer(&self) -> Pointer {
        Pointer::root().child("units").child(self.placed.key.as_str())
    }

    /// Where its recipe is stated.
    pub(super) fn recipe_pointer(&self) -> Pointer {
        Pointer::root().child("recipes").child(self.recipe_key.as_str())
    }

    /// A named figure: the unit's own, else the recipe's, else the handbook's.
    pub(super) fn figure(&self, id: &'static str) -> Dim {
        self.figures.dim(id)
    }

    /// Whether doors and fronts lap their openings.
    pub(super) fn overlays(&self) -> bool {
        self.recipe.fit == FrontFit::Overlay
    }

    /// Whether its front is a face frame.
    pub(super) fn framed(&self) -> bool {
        self.recipe.build == Build::FaceFrame
    }

    /// How many panels divide it: only a box without a frame is divided, and rods go through a drying cupboard.
    pub(super) fn dividers(&self) -> u8 {
        if self.framed() || self.placed.kind == UnitKind::Drying { 0 } else { self.unit.dividers.min(20) }
    }

    /// How high its box stands above the floor, or its notch goes up.
    pub(super) fn toe_height(&self) -> Dim {
        let legs = self.recipe.toe == ToeBuild::Legs;
        let height = self.figure(if legs { "leg-height" } else { "toe-height" });
        let name = if legs { "legs under the box" } else { "toe kick height" };
        height.decided_by([self.recipe_pointer().child("toe")]).named(name)
    }

    /// How far everything in the box stays behind its front edges: the thickness of inset fronts without a frame.
    pub(super) fn behind_fronts(&self) -> Dim {
        let fit = self.recipe_pointer().child("fit");
        match self.stock(Role::Door).filter(|_| !self.framed() && !self.overlays() && self.is_closed()) {
            Some(stock) => stock.thick("front").decided_by([fit]),
            None => Dim::zero(),
        }
    }

    /// Whether any part of its front is closed by wood.
    pub(super) fn is_closed(&self) -> bool {
        self.unit.fronts.as_ref().is_some_and(closes)
    }

    /// Whether it stands on the floor.
    pub(super) fn on_floor(&self) -> bool {
        self.plan.runs.get(&self.placed.run).is_some_and(|run| run.level == Level::Floor)
    }

    /// The key of the good that serves a role: the unit's own, else the recipe's.
    pub(super) fn good_key(&self, role: Role) -> Option<&'a Key> {
        self.unit.roles.get(&role).or_else(|| self.recipe.roles.get(&role))
    }

    /// The good that serves a role.
    pub(super) fn good(&self, role: Role) -> Option<&'a Good> {
        self.plan.goods.get(self.good_key(role)?)
    }

    /// The sheet or board that serves a role.
    pub(super) fn stock(&self, role: Role) -> Option<Stock> {
        let key = self.good_key(role)?;
        let form = goods_pointer(key).child("form");
        let taped = |length: Length, name: &str, size: &str| Dim::taped(length, form.child(name).child(size));
        match &self.plan.goods.get(key)?.form {
            Form::Sheet(sheet) => Some(Stock {
                good: key.clone(),
                thickness: taped(sheet.thickness.length, "sheet", "thickness"),
                nominal: taped(sheet.nominal.length, "sheet", "nominal"),
                grain: sheet.grain == Grain::Length,
                board_width: None,
                species: None,
            }),
            Form::Board(board) => Some(Stock {
                good: key.clone(),
                thickness: taped(board.thickness.length, "board", "thickness"),
                nominal: taped(board.thickness.length, "board", "thickness"),
                grain: true,
                board_width: Some(taped(board.width.length, "board", "width").named("board width")),
                species: board.species.clone(),
            }),
            _ => None,
        }
    }

    /// A slide by its key, with the place of its record.
    pub(super) fn slide(&self, key: &Key) -> Option<(&'a SlideForm, Pointer)> {
        match &self.plan.goods.get(key)?.form {
            Form::Slide(slide) => Some((slide, goods_pointer(key).child("form").child("slide"))),
            _ => None,
        }
    }

    /// Passes of the blade, side by side, that make a groove of this width: with the widest blade that goes in.
    pub(super) fn passes(&self, groove: Length) -> u32 {
        let kerfs = self.plan.shop.kerfs.values().map(|kerf| kerf.length).filter(|kerf| *kerf <= groove);
        let kerf = kerfs.max().unwrap_or_else(|| self.figure("kerf").length());
        u32::try_from(groove.needs(kerf)).unwrap_or(1).max(1)
    }

    /// A length as the builder reads it, on the tape's marks.
    pub(super) fn marks(&self, length: Length) -> String {
        length.figure(self.plan.fineness, Toward::Nearest).to_string()
    }

    /// A length exactly where its unit can say it in a few digits, else on the tape's marks and as "about".
    pub(super) fn show(&self, length: Length) -> String {
        let unit = self.plan.entry_unit;
        let few = match unit {
            LengthUnit::Inch => Length::sixty_fourths(1),
            LengthUnit::Millimetre => Length::um(100),
        };
        if length.nm() % few.nm() == 0 {
            Stated { length, unit }.to_string()
        } else {
            format!("about {}", self.marks(length))
        }
    }

    /// A remedy that puts a text at this place.
    pub(super) fn put(&self, label: String, at: &Pointer, text: &str) -> Fix {
        let edit = Edit::set(self.plan, at, text, label.clone());
        Fix { label, edit }
    }

    /// A remedy that states this figure for this unit.
    pub(super) fn put_figure(&self, id: &str, length: Length) -> Option<Fix> {
        let what = &dryfit_handbook::figure(id)?.what;
        let at = self.pointer().child("figures").child(id);
        let label = format!("make the {what} of `{}` {}", self.placed.key, self.show(length));
        self.put_length(label, &at, length)
    }

    /// A remedy that states a length at this place, if a plan can hold it.
    pub(super) fn put_length(&self, label: String, at: &Pointer, length: Length) -> Option<Fix> {
        let stated = Stated { length, unit: self.plan.entry_unit };
        (length.is_positive() && length <= LONGEST).then(|| self.put(label, at, &stated.to_string()))
    }

    /// Remedies that name another sheet or board for a role.
    pub(super) fn other_stock(&self, role: Role, written: &str, suits: impl Fn(Length) -> bool) -> Vec<Fix> {
        let own = self.unit.roles.contains_key(&role);
        let at = if own { self.pointer() } else { self.recipe_pointer() }.child("roles").child(written);
        let thickness = |form: &Form| match form {
            Form::Sheet(sheet) => Some(sheet.thickness.length),
            Form::Board(board) => Some(board.thickness.length),
            _ => None,
        };
        let others = self.plan.goods.iter().filter(|(_, good)| thickness(&good.form).is_some_and(&suits));
        others
            .take(3)
            .map(|(key, good)| self.put(format!("use `{key}`, {}", good.name), &at, key.as_str()))
            .collect()
    }

    /// A finding about this unit.
    pub(super) fn finding(&self, severity: Severity, rule: &'static str, what: String) -> Finding {
        Finding {
            severity,
            rule,
            subjects: vec![self.placed.key.clone()],
            at: self.pointer(),
            what,
            because: Vec::new(),
            source: Source::Geometry,
            short_by: None,
            fixes: Vec::new(),
            waived: None,
        }
    }
}

fn closes(front: &Front) -> bool {
    match front {
        Front::Open { .. } => false,
        Front::Down { parts, .. } => parts.values().any(closes),
        _ => true,
    }
}

/// Where a good is stated.
pub(super) fn goods_pointer(key: &Key) -> Pointer {
    Pointer::root().child("goods").child(key.as_str())
}
