//! How deep everything is: box, frame, front and pull, each from the good that serves there.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key, Pointer};
use dryfit_plan::{Build, Form, Front, FrontFit, Level, Plan, Role, Unit, UnitKind, Width};

use super::rows::Row;
use crate::figures::Figures;

/// How deep one unit is, part by part.
#[derive(Clone)]
pub(super) struct Depth {
    /// The box.
    pub carcass: Dim,
    /// The face frame before it.
    pub frame: Dim,
    /// Doors and drawer fronts, as far as they stand out from the frame.
    pub front: Dim,
    /// Pulls or a handle, as far as they stand out from the fronts.
    pub pull: Dim,
    /// From the unit's edge to the edge of its first front that opens, where there is one.
    pub reveal: Option<Dim>,
}

impl Depth {
    fn plain(carcass: Dim) -> Depth {
        Depth { carcass, frame: Dim::zero(), front: Dim::zero(), pull: Dim::zero(), reveal: None }
    }

    /// Out from the wall to the plane of the frames.
    pub fn plane(&self) -> Dim {
        &self.carcass + &self.frame
    }

    /// Out from the wall to what a strip beside it lies flush with: the frame, or without one the fronts.
    fn face(&self) -> Dim {
        if self.frame.length().is_zero() { &self.carcass + &self.front } else { self.plane() }
    }

    /// Out from the wall to whatever stands out furthest.
    pub fn overall(&self) -> Dim {
        &self.carcass + &self.frame + &self.front + &self.pull
    }
}

/// The depths of all units of all rows.
pub(super) fn depths<'p>(plan: &'p Plan, rows: &[Row<'p>]) -> BTreeMap<&'p Key, Depth> {
    let mut depths = BTreeMap::new();
    for row in rows {
        for (key, unit) in &row.units {
            if !is_strip(unit.kind) {
                depths.insert(*key, depth(plan, row, key, unit));
            }
        }
        for (i, (key, unit)) in row.units.iter().enumerate() {
            if is_strip(unit.kind) {
                // flush with frames where there are any, else with whatever stands beside it
                let mut beside =
                    neighbours(row, i, |unit| unit.kind.is_box()).into_iter().flatten().peekable();
                let others = neighbours(row, i, is_boxed).into_iter().flatten();
                let beside: Vec<&Key> =
                    if beside.peek().is_some() { beside.collect() } else { others.collect() };
                let beside: Vec<Depth> = beside.into_iter().map(|key| depths[key].clone()).collect();
                depths.insert(*key, strip_depth(plan, row, key, unit, &beside));
            }
        }
    }
    depths
}

/// Fillers and end panels take their height and depth from what they stand beside.
pub(super) fn is_strip(kind: UnitKind) -> bool {
    matches!(kind, UnitKind::Filler | UnitKind::EndPanel)
}

/// No strips and no gaps.
pub(super) fn is_boxed(unit: &Unit) -> bool {
    !is_strip(unit.kind) && unit.kind != UnitKind::Gap
}

/// The nearest units of a sort on the left and the right of unit `i`.
pub(super) fn neighbours<'p>(row: &Row<'p>, i: usize, is: fn(&Unit) -> bool) -> [Option<&'p Key>; 2] {
    let left = row.units[..i].iter().rev().find(|(_, unit)| is(unit));
    let right = row.units[i + 1..].iter().find(|(_, unit)| is(unit));
    [left.map(|(key, _)| *key), right.map(|(key, _)| *key)]
}

/// The good that serves a role in a unit.
pub(crate) fn role<'p>(plan: &'p Plan, unit: &'p Unit, role: Role) -> Option<&'p Key> {
    let recipe = unit.recipe.as_ref().and_then(|key| plan.recipes.get(key));
    unit.roles.get(&role).or_else(|| recipe?.roles.get(&role))
}

/// The measured thickness of a sheet or board.
pub(crate) fn thickness(plan: &Plan, good: &Key) -> Option<Dim> {
    let (key, good) = plan.goods.get_key_value(good)?;
    let (form, length) = match &good.form {
        Form::Sheet(sheet) => ("sheet", sheet.thickness.length),
        Form::Board(board) => ("board", board.thickness.length),
        _ => return None,
    };
    let at = Pointer::root().child("goods").child(key).child("form").child(form).child("thickness");
    Some(Dim::taped(length, at).named(format!("thickness of {}", good.name)))
}

/// A size of the appliance that a unit holds.
pub(crate) fn appliance(plan: &Plan, unit: &Unit, size: ApplianceSize) -> Option<Dim> {
    let (key, good) = plan.goods.get_key_value(unit.holds.as_ref()?)?;
    let Form::Appliance(form) = &good.form else { return None };
    let (name, what, stated) = match size {
        ApplianceSize::Width => ("width", "width", Some(form.width)),
        ApplianceSize::Height => ("height", "height, feet screwed in", Some(form.height)),
        ApplianceSize::Depth => ("depth", "depth", Some(form.depth)),
        ApplianceSize::Handle => ("handle", "handle", form.handle),
        ApplianceSize::Feet => ("feet", "feet screwed out", form.feet),
        ApplianceSize::AirSide => ("air_side", "air at each side", Some(form.air_side)),
        ApplianceSize::AirTop => ("air_top", "air above", Some(form.air_top)),
        ApplianceSize::AirBack => ("air_back", "air behind", Some(form.air_back)),
    };
    let at = Pointer::root().child("goods").child(key).child("form").child("appliance").child(name);
    Some(Dim::taped(stated?.length, at).named(what).placed(good.name.as_str()))
}

/// What is asked of an appliance's record.
#[derive(Clone, Copy)]
pub(crate) enum ApplianceSize {
    Width,
    Height,
    Depth,
    Handle,
    Feet,
    AirSide,
    AirTop,
    AirBack,
}

fn pull(plan: &Plan, unit: &Unit) -> Option<Dim> {
    let (key, good) = plan.goods.get_key_value(role(plan, unit, Role::Pull)?)?;
    let Form::Pull { projection, .. } = &good.form else { return None };
    let at = Pointer::root().child("goods").child(key).child("form").child("pull").child("projection");
    Some(Dim::taped(projection.length, at).named(format!("projection of {}", good.name)))
}

/// Whether any part of a front opens.
fn opens(front: &Front) -> bool {
    match front {
        Front::Door { .. } | Front::Pair { .. } | Front::Drawer { .. } => true,
        Front::Fixed { .. } | Front::Open { .. } => false,
        Front::Down { parts, .. } => parts.values().any(opens),
    }
}

/// Whether any part of a front is closed by wood.
fn closes(front: &Front) -> bool {
    match front {
        Front::Open { .. } => false,
        Front::Down { parts, .. } => parts.values().any(closes),
        _ => true,
    }
}

fn box_depth(plan: &Plan, row: &Row<'_>, key: &Key, unit: &Unit) -> Dim {
    if let Some(depth) = unit.depth {
        let at = Pointer::root().child("units").child(key).child("depth");
        return Dim::chosen(depth.length, at).named("box depth").placed(key.as_str());
    }
    let figures = Figures::of_unit(plan, key);
    let on_floor = matches!(row.run.level, Level::Floor);
    match unit.kind {
        UnitKind::Base | UnitKind::Sink | UnitKind::Tall | UnitKind::Drying => figures.dim("base-depth"),
        UnitKind::Wall | UnitKind::FloatingShelf => figures.dim("wall-depth"),
        UnitKind::Bench => figures.dim("bench-depth"),
        UnitKind::Locker => figures.dim("locker-depth"),
        UnitKind::HookRail => {
            role(plan, unit, Role::Skin).and_then(|good| thickness(plan, good)).unwrap_or_default()
        }
        _ if on_floor => figures.dim("base-depth"),
        _ => figures.dim("wall-depth"),
    }
}

fn depth(plan: &Plan, row: &Row<'_>, key: &Key, unit: &Unit) -> Depth {
    if unit.kind == UnitKind::Appliance {
        return appliance_depth(plan, row, key, unit);
    }
    let mut depth = Depth::plain(box_depth(plan, row, key, unit));
    if !unit.kind.is_box() {
        return depth;
    }
    if has_frame(plan, unit)
        && let Some(frame) = role(plan, unit, Role::Frame).and_then(|good| thickness(plan, good))
    {
        depth.frame = frame;
    }
    let fit = unit.recipe.as_ref().and_then(|key| plan.recipes.get(key)).map(|recipe| recipe.fit);
    let Some(front) = &unit.fronts else { return depth };
    if closes(front) && fit == Some(FrontFit::Overlay) {
        depth.front = role(plan, unit, Role::Door).and_then(|good| thickness(plan, good)).unwrap_or_default();
    }
    if opens(front) {
        depth.pull = pull(plan, unit).unwrap_or_default();
        depth.reveal = reveal(plan, key, unit);
    }
    depth
}

/// From the edge of a box to the edge of its first front that opens; none where none does.
pub(crate) fn reveal(plan: &Plan, key: &Key, unit: &Unit) -> Option<Dim> {
    unit.fronts.as_ref().filter(|front| opens(front))?;
    let fit = unit.recipe.as_ref().and_then(|key| plan.recipes.get(key)).map(|recipe| recipe.fit);
    let figures = Figures::of_unit(plan, key);
    let gap = figures.dim("front-gap");
    if !has_frame(plan, unit) {
        let side = || role(plan, unit, Role::Box).and_then(|good| thickness(plan, good)).unwrap_or_default();
        let reveal = if fit == Some(FrontFit::Inset) { side() + gap } else { gap.split(2).remove(0) };
        return Some(reveal.named("edge to its front").placed(key.as_str()));
    }
    let stile = figures.dim("frame-stile");
    let reveal = match fit {
        Some(FrontFit::Inset) => stile + figures.dim("door-inset-gap"),
        _ => stile - figures.dim("door-overlay"),
    };
    Some(reveal.named("edge to its front").placed(key.as_str()))
}

/// Whether a unit is a box with a face frame; one whose recipe is not known is taken for one.
pub(crate) fn has_frame(plan: &Plan, unit: &Unit) -> bool {
    let recipe = unit.recipe.as_ref().and_then(|key| plan.recipes.get(key));
    unit.kind.is_box() && recipe.is_none_or(|recipe| recipe.build == Build::FaceFrame)
}

fn appliance_depth(plan: &Plan, row: &Row<'_>, key: &Key, unit: &Unit) -> Depth {
    let size = |size| appliance(plan, unit, size);
    let (Some(body), Some(air)) = (size(ApplianceSize::Depth), size(ApplianceSize::AirBack)) else {
        return Depth::plain(box_depth(plan, row, key, unit));
    };
    let mut depth = Depth::plain(body + air);
    depth.pull = size(ApplianceSize::Handle).unwrap_or_default();
    depth.reveal = match (&unit.width, size(ApplianceSize::Width)) {
        (Width::Given(width), Some(own)) => {
            let at = Pointer::root().child("units").child(key).child("width").child("given");
            let spare = Dim::chosen(width.length, at).named("width").placed(key.as_str()) - own;
            spare.split(2).pop()
        }
        _ => size(ApplianceSize::AirSide),
    };
    depth
}

/// Flush with whichever neighbour stands out less: what stands out more covers the strip's end. Beside boxes
/// without frames it is flush with their fronts.
fn strip_depth(plan: &Plan, row: &Row<'_>, key: &Key, unit: &Unit, beside: &[Depth]) -> Depth {
    let least = |part: fn(&Depth) -> Dim| match beside {
        [one] => Some(part(one)),
        all => Dim::least_of(all.iter().map(part)),
    };
    let stated = unit.depth.is_some();
    let own = || box_depth(plan, row, key, unit);
    if unit.kind == UnitKind::EndPanel {
        return Depth::plain(if stated { own() } else { least(Depth::face).unwrap_or_else(own) });
    }
    let carcass = if stated { None } else { least(|depth| depth.carcass.clone()) };
    let frame =
        least(|depth| if depth.frame.length().is_zero() { depth.front.clone() } else { depth.frame.clone() });
    let frame = frame.unwrap_or_default();
    Depth { frame, ..Depth::plain(carcass.unwrap_or_else(own)) }
}
