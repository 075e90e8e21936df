//! Where a field is: its outline from the survey and what stands there, and the holes that are found in it.
//!
//! On a wall a field lies in that wall's axes: along from its left-hand corner seen from inside, up from the datum. On
//! the floor it lies in the room's: along the first wall, and into the room. Tile ends at units, outlets and the casing
//! of openings; planks run behind units, since they are put up first.

use dryfit_measure::{Area, Dim, Key, Length, Pointer};
use dryfit_plan::{Field, FieldHigh, FieldLow, FieldOn, Form, Laying, Plan, Service, UnitKind, WallStretch};
use dryfit_tiling::{Hole, Net, Point, Rect, Shape, Side, intersection};

use super::planks::{PlankField, planks};
use super::tile::{TileField, tile};
use crate::figures::Figures;
use crate::finding::{Finding, Fix};
use crate::likely::likely;
use crate::need::Need;
use crate::placement::{Extent, Placement};
use crate::survey::Survey;

/// One field as it is covered.
#[derive(Clone, Debug)]
pub struct LaidField {
    /// Its key.
    pub key: Key,
    /// What a builder calls it.
    pub name: String,
    /// The wall it is on; none is the floor.
    pub wall: Option<Key>,
    /// Its outline, counter-clockwise, nanometres.
    pub outline: Vec<Point>,
    /// What is left out of it, each with what it is.
    pub holes: Vec<(String, Vec<Point>)>,
    /// What is left to be covered.
    pub net: Net,
    /// What covers it.
    pub cover: Cover,
    /// What has to be bought for it.
    pub needs: Vec<Need>,
}

/// What covers a field.
#[derive(Clone, Debug)]
pub enum Cover {
    /// Tile.
    Tile(Box<TileField>),
    /// Planks.
    Planks(Box<PlankField>),
    /// Nothing: it cannot be laid as it is stated.
    Nothing,
}

impl LaidField {
    /// Its tile, if that is what covers it.
    pub fn tile(&self) -> Option<&TileField> {
        match &self.cover {
            Cover::Tile(tile) => Some(tile),
            _ => None,
        }
    }

    /// The wall area that it hides from paint: the wall, what hides it, how much.
    pub(super) fn covers(&self) -> Option<(Key, String, Area)> {
        let area = match &self.cover {
            Cover::Tile(tile) => tile.area(),
            Cover::Planks(planks) => planks.area,
            Cover::Nothing => return None,
        };
        Some((self.wall.clone()?, self.name.clone(), area))
    }

    /// Its planks, if those cover it.
    pub fn planks(&self) -> Option<&PlankField> {
        match &self.cover {
            Cover::Planks(planks) => Some(planks),
            _ => None,
        }
    }
}

/// The place of a field in the plan.
pub(crate) fn field_at(key: &Key) -> Pointer {
    Pointer::root().child("fields").child(key.as_str())
}

/// All fields, and what is said of those that cannot be laid.
pub(super) fn fields(plan: &Plan, survey: &Survey, placement: &Placement) -> (Vec<LaidField>, Vec<Finding>) {
    let mut laid = Vec::new();
    let mut findings = Vec::new();
    for (key, field) in &plan.fields {
        let found = unknown(plan, key, field);
        let known = found.is_empty();
        findings.extend(found);
        let Some(bounds) = bounds(plan, survey, placement, key, field) else { continue };
        let net = bounds.field.net();
        let cover = match &field.with {
            _ if !known => None,
            Laying::Tile(laying) => {
                tile(plan, survey, key, laying, &net).map(|laid| Cover::Tile(Box::new(laid)))
            }
            Laying::Planks(laying) => planks(plan, key, laying, bounds.wall.as_ref(), &net)
                .map(|laid| Cover::Planks(Box::new(laid))),
        };
        if known && cover.is_none() {
            findings.push(not_laid(key, field));
        }
        let needs = match &cover {
            Some(Cover::Tile(tile)) => tile.needs(key),
            Some(Cover::Planks(planks)) => planks.needs(key),
            _ => Vec::new(),
        };
        laid.push(LaidField {
            key: key.clone(),
            name: field.name.clone().unwrap_or_else(|| key.to_string()),
            wall: bounds.wall.clone(),
            outline: bounds.field.outline.iter().map(|side| side.from).collect(),
            holes: within(&bounds),
            net,
            cover: cover.unwrap_or(Cover::Nothing),
            needs,
        });
    }
    (laid, findings)
}

fn not_laid(key: &Key, field: &Field) -> Finding {
    let (at, what) = match &field.with {
        Laying::Tile(_) => (
            "tile",
            "its tile and joint have no size that can be laid; a herringbone wants a long side and a joint that are a whole number of short sides and joints",
        ),
        Laying::Planks(_) => ("planks", "its planks cover nothing across, or have no length"),
    };
    let at = field_at(key).child("with").child(at);
    Finding::unresolved("surfaces/field", vec![key.clone()], at, format!("`{key}` cannot be laid: {what}"))
}

/// Keys in a field that name nothing, or a good of another sort.
fn unknown(plan: &Plan, key: &Key, field: &Field) -> Vec<Finding> {
    let mut findings = Vec::new();
    let at = field_at(key);
    let mut look = |at: Pointer, asked: &Key, sort: &str, known: Vec<&Key>| {
        if known.contains(&asked) {
            return;
        }
        let meant = likely(asked.as_str(), known.iter().map(|key| key.as_str()));
        let hint = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
        let what = format!("`{key}` names `{asked}`, and there is no {sort} of that key{hint}");
        let mut finding = Finding::unresolved("surfaces/field", vec![key.clone()], at.clone(), what);
        let fix = meant.map(|meant| Fix::replace(format!("take `{meant}`"), &at, asked, &meant));
        finding.fixes.extend(fix);
        findings.push(finding);
    };
    match &field.on {
        FieldOn::Floor { bare } => {
            for (i, unit) in bare.iter().enumerate() {
                look(
                    at.child("on").child("floor").child("bare").index(i),
                    unit,
                    "unit",
                    plan.units.keys().collect(),
                );
            }
        }
        FieldOn::Wall(stretch) => {
            let on = at.child("on").child("wall");
            look(on.child("wall"), &stretch.wall, "wall", plan.walls.keys().collect());
            if let FieldLow::Top(top) = &stretch.low {
                look(on.child("low").child("top"), top, "worktop", plan.tops.keys().collect());
            }
            if let FieldHigh::Unit(unit) = &stretch.high {
                look(on.child("high").child("unit"), unit, "unit", plan.units.keys().collect());
            }
        }
    }
    let of = |wanted: fn(&Form) -> bool| -> Vec<&Key> {
        plan.goods.iter().filter(|(_, good)| wanted(&good.form)).map(|(key, _)| key).collect()
    };
    match &field.with {
        Laying::Tile(laying) => {
            let tiles = of(|form| matches!(form, Form::Tile(_)));
            look(at.child("with").child("tile").child("good"), &laying.good, "tile", tiles);
        }
        Laying::Planks(laying) => {
            let planks = of(|form| matches!(form, Form::Plank(_)));
            look(at.child("with").child("planks").child("good"), &laying.good, "plank", planks);
        }
    }
    findings
}

/// Where a field ends.
struct Bounds {
    wall: Option<Key>,
    field: dryfit_tiling::Field,
    holes: Vec<(String, Vec<Point>)>,
}

/// Gaps of a field: at walls, floor and ceiling, and over a worktop.
struct Gaps {
    wall: i64,
    top: i64,
}

fn bounds(plan: &Plan, survey: &Survey, placement: &Placement, key: &Key, field: &Field) -> Option<Bounds> {
    let figures = Figures::of_field(plan, key);
    let nm = |id: &str| figures.dim(id).length().nm();
    let gaps = match &field.with {
        Laying::Tile(_) => Gaps { wall: nm("tile-gap"), top: nm("tile-top-gap") },
        Laying::Planks(_) => Gaps { wall: nm("plank-gap"), top: nm("plank-gap") },
    };
    let mut bounds = match &field.on {
        FieldOn::Floor { bare } => floor(survey, placement, bare, &gaps)?,
        FieldOn::Wall(stretch) => {
            let tiled = matches!(field.with, Laying::Tile(_));
            wall(plan, survey, placement, stretch, &gaps, tiled)?
        }
    };
    for (name, hole) in &field.holes {
        let low = [hole.along.length.nm(), hole.up.length.nm()];
        let size = [hole.width.length.nm(), hole.height.length.nm()];
        if size.iter().all(|side| *side > 0) {
            bounds.leave_out(name.to_string(), Rect::at(low, size).ring(), false);
        }
    }
    Some(bounds)
}

impl Bounds {
    fn leave_out(&mut self, what: String, ring: Vec<Point>, bounds: bool) {
        self.field.holes.push(Hole { ring: ring.clone(), gap: 0, bounds });
        self.holes.push((what, ring));
    }
}

/// The holes as far as they lie in the field.
fn within(bounds: &Bounds) -> Vec<(String, Vec<Point>)> {
    let field = [Shape::of(bounds.field.outline.iter().map(|side| side.from).collect())];
    let cut = |(what, ring): &(String, Vec<Point>)| {
        let parts = intersection(&field, &[Shape::of(ring.clone())]);
        parts.into_iter().map(|part| (what.clone(), part.outer)).collect::<Vec<_>>()
    };
    bounds.holes.iter().flat_map(cut).collect()
}

fn nanometres(at: [f64; 2]) -> Point {
    at.map(|mm| Length::from_mm_f64(mm).nm())
}

fn floor(survey: &Survey, placement: &Placement, bare: &[Key], gaps: &Gaps) -> Option<Bounds> {
    if survey.corners.len() < 3 {
        return None;
    }
    let outline =
        survey.corners.iter().map(|corner| Side { from: nanometres(corner.at), gap: gaps.wall }).collect();
    let field = dryfit_tiling::Field { outline, holes: Vec::new() };
    let mut bounds = Bounds { wall: None, field, holes: Vec::new() };
    for unit in bare.iter().filter_map(|key| placement.unit(key)) {
        if let Some(solid) = unit.solid(survey, Extent::Frame) {
            bounds.leave_out(unit.key.to_string(), solid.plan.map(nanometres).to_vec(), true);
        }
    }
    Some(bounds)
}

fn wall(
    plan: &Plan,
    survey: &Survey,
    placement: &Placement,
    stretch: &WallStretch,
    gaps: &Gaps,
    tiled: bool,
) -> Option<Bounds> {
    let length = survey.wall_length(&stretch.wall)?.length();
    let from = stretch.from.map_or(Length::ZERO, |from| from.length.max(Length::ZERO));
    let to = stretch.to.map_or(length, |to| to.length.min(length));
    let (low, low_gap) = match &stretch.low {
        FieldLow::Floor => (Length::ZERO, gaps.wall),
        FieldLow::At(up) => (up.length, 0),
        FieldLow::Top(key) => (placement.tops.iter().find(|top| top.key == *key)?.upper.length(), gaps.top),
    };
    let over = |along: Length| -> Option<Length> {
        Some(match &stretch.high {
            FieldHigh::Ceiling => {
                let at = survey.point_on_wall(&stretch.wall, along, Length::ZERO, Length::ZERO)?;
                survey.levels.ceiling_over(at)?.length()
            }
            FieldHigh::At(up) => up.length,
            FieldHigh::Unit(key) => placement.unit(key)?.up.length(),
        })
    };
    let high_gap = if stretch.high == FieldHigh::Ceiling { gaps.wall } else { 0 };
    let side_gap = |stated: bool| if stated { 0 } else { gaps.wall };
    let (left, right) = (over(from)?, over(to)?);
    if to <= from || left <= low || right <= low {
        return None;
    }
    let side = |along: Length, up: Length, gap: i64| Side { from: [along.nm(), up.nm()], gap };
    let outline = vec![
        side(from, low, low_gap),
        side(to, low, side_gap(stretch.to.is_some())),
        side(to, right, high_gap),
        side(from, left, side_gap(stretch.from.is_some())),
    ];
    let field = dryfit_tiling::Field { outline, holes: Vec::new() };
    let mut bounds = Bounds { wall: Some(stretch.wall.clone()), field, holes: Vec::new() };
    for opening in plan.openings.values().filter(|opening| opening.wall == stretch.wall) {
        let casing = opening.casing.map_or(Length::ZERO, |casing| casing.length);
        // a door's hole goes on below the floor, so that no strip is left under it
        let sill = opening.sill.map_or(-Length::METRE, |sill| sill.length - casing);
        let low = [(opening.along.length - casing).nm(), sill.nm()];
        let high = opening.along.length + opening.width.length + casing;
        let high = [high.nm(), (opening.head.length + casing).nm()];
        bounds.leave_out(opening.name.clone(), Rect { low, high }.ring(), true);
    }
    let before = |kind: UnitKind| matches!(kind, UnitKind::Wall | UnitKind::Tall);
    for unit in placement.units.iter().filter(|unit| tiled && unit.wall == stretch.wall && before(unit.kind))
    {
        let corner = |along: &Dim, up: &Dim| [along.length().nm(), up.length().nm()];
        let rect = Rect { low: corner(&unit.along, &unit.up), high: corner(&unit.right(), &unit.top()) };
        bounds.leave_out(unit.key.to_string(), rect.ring(), true);
    }
    for (key, service) in &plan.services {
        let Service::Box(outlet) = service else { continue };
        let Some(up) = outlet.at.up.filter(|_| outlet.at.wall == stretch.wall) else { continue };
        let good = outlet.good.as_ref().and_then(|good| plan.goods.get(good));
        let size = match good.map(|good| &good.form) {
            Some(Form::Box { width, height, .. }) => [width.length, height.length],
            // a box of one device. Common practice, no source
            _ => [Length::inches(2, 0, 1), Length::inches(3, 0, 1)],
        };
        let low = [outlet.at.along.length - size[0].halves().1, up.length - size[1].halves().1];
        bounds.leave_out(key.to_string(), Rect::at(low.map(Length::nm), size.map(Length::nm)).ring(), false);
    }
    Some(bounds)
}
