//! Paint: real areas, from walls and ceiling less what covers them and from the parts of units, and what covers
//! them in so many coats.

use dryfit_measure::{Amount, Area, Dim, Key, Length, Volume};
use dryfit_plan::{Finish, PaintedBy, PartGroup, Plan, UnitKind};

use super::coating::Coat;
use super::trim::Trim;
use super::worktop::Worktop;
use crate::casework::{BuiltUnit, Casework, Part};
use crate::figures::Figures;
use crate::need::Need;
use crate::placement::{PlacedUnit, Placement};
use crate::survey::Survey;

/// One finish with everything it goes on.
#[derive(Clone, Debug)]
pub struct Paint {
    /// Its key in the plan.
    pub key: Key,
    /// The paint.
    pub good: Key,
    /// Coats of it.
    pub coats: u8,
    /// How it is put on.
    pub by: PaintedBy,
    /// What goes under it, and in how many coats.
    pub primer: Option<(Key, u8)>,
    /// What it goes on, one row a surface.
    pub rows: Vec<PaintRow>,
    /// All of it.
    pub area: Area,
    /// Paint for one coat, before it is thinned.
    pub one_coat: Volume,
    /// What thins all of it, where it is thinned.
    pub thinner: Option<Volume>,
    /// A dry coat of it, all coats and primer together.
    pub film: Dim,
    /// Loose pieces that have to lie flat to dry: how many, and how much room a side of each takes.
    pub flat: Option<(u32, Area)>,
    /// What has to be bought.
    pub needs: Vec<Need>,
}

/// One painted surface.
#[derive(Clone, Debug)]
pub struct PaintRow {
    /// What it is: "garden wall", "fronts".
    pub what: String,
    /// What it belongs to: a wall, a recipe, a trim; nothing for the ceiling.
    pub of: Option<Key>,
    /// Over all.
    pub whole: Area,
    /// What is not painted of it, each with what is there.
    pub less: Vec<(String, Area)>,
    /// What is painted.
    pub net: Area,
}

/// What has been made before it is painted.
#[derive(Clone, Copy)]
pub(super) struct Bare<'a> {
    pub plan: &'a Plan,
    pub survey: &'a Survey,
    pub placement: &'a Placement,
    pub casework: &'a Casework,
    pub worktops: &'a [Worktop],
    pub trims: &'a [Trim],
    /// Wall area that tile or planks cover.
    pub covered: &'a [(Key, String, Area)],
}

/// All finishes of a plan.
pub(super) fn paints(bare: Bare<'_>) -> Vec<Paint> {
    bare.plan.finishes.iter().map(|(key, finish)| paint(bare, key, finish)).collect()
}

fn paint(bare: Bare<'_>, key: &Key, finish: &Finish) -> Paint {
    let mut rows: Vec<PaintRow> = finish.on.walls.iter().filter_map(|wall| of_wall(bare, wall)).collect();
    if finish.on.ceiling {
        rows.extend(of_ceiling(bare.survey));
    }
    let mut flat = (0, 0_i128);
    for recipe in &finish.on.recipes {
        for group in groups(finish) {
            rows.push(of_group(bare, recipe, group));
            if group == PartGroup::Fronts {
                for leaf in leaves_of(bare, recipe) {
                    flat = (flat.0 + 1, flat.1 + (leaf.width * leaf.height).nm2());
                }
            }
        }
    }
    for trim in bare.trims.iter().filter(|trim| finish.on.trims.contains(&trim.key)) {
        rows.extend(of_trim(bare.plan, trim));
    }
    rows.retain(|row| row.net > Area::ZERO);
    let area = sum(rows.iter().map(|row| row.net));
    let coat = Coat::of(bare.plan, &finish.paint);
    let figures = Figures::of_finish(bare.plan, key);
    let one_coat = coat.covers(area);
    let all = times(one_coat, i128::from(finish.coats));
    let mut film = &coat.dry_film * i64::from(finish.coats);
    let at = format!("/finishes/{key}");
    let name = finish.name.clone().unwrap_or_else(|| key.to_string());
    let words = format!(
        "{name}, {}",
        if finish.coats == 1 { "1 coat".to_owned() } else { format!("{} coats", finish.coats) }
    );
    let because = vec![coat.wet_film.clone()];
    let mut needs =
        vec![Need::of(finish.paint.clone(), Amount::Volume(all), words, at.clone()).because(because)];
    let primer = finish.primer.as_ref().map(|good| (good.clone(), finish.primer_coats.unwrap_or(1)));
    if let Some((good, coats)) = &primer {
        let under = primer_coat(bare.plan, good, &figures);
        let volume = times(under.covers(area), i128::from(*coats));
        needs.push(Need::of(good.clone(), Amount::Volume(volume), format!("under {name}"), at));
        film = film + &under.dry_film * i64::from(*coats);
    }
    needs.retain(|need| !need.amount.is_none());
    let thinner = finish.thinned.and_then(|rate| {
        let paint = Amount::Volume(all);
        match paint.with_spare(rate).less(paint) {
            Some(Amount::Volume(thinner)) => Some(thinner),
            _ => None,
        }
    });
    Paint {
        key: key.clone(),
        good: finish.paint.clone(),
        coats: finish.coats,
        by: finish.by,
        primer,
        rows,
        area,
        one_coat,
        thinner,
        film: film.named("dry paint").placed(key.as_str()),
        flat: (flat.0 > 0).then(|| (flat.0, Area::from_nm2(flat.1))),
        needs,
    }
}

/// A coat of primer, which goes less far than paint.
fn primer_coat(plan: &Plan, good: &Key, figures: &Figures<'_>) -> Coat {
    let coat = Coat::of(plan, good);
    let says = plan.goods.get(good).is_some_and(|good| super::coating::says_how_far(&good.form));
    if says { coat } else { Coat { wet_film: figures.dim("primer-wet-film"), ..coat } }
}

fn times(volume: Volume, n: i128) -> Volume {
    Volume::from_nm3(volume.nm3().saturating_mul(n))
}

fn sum(areas: impl Iterator<Item = Area>) -> Area {
    Area::from_nm2(areas.map(Area::nm2).sum())
}

fn groups(finish: &Finish) -> Vec<PartGroup> {
    if finish.on.parts.is_empty() {
        vec![PartGroup::Fronts, PartGroup::Frames, PartGroup::Skins]
    } else {
        let mut groups = finish.on.parts.clone();
        groups.sort_unstable();
        groups.dedup();
        groups
    }
}

/// A wall from the datum to the ceiling, which may slope, less its openings and what stands against it.
fn of_wall(bare: Bare<'_>, key: &Key) -> Option<PaintRow> {
    let line = &bare.survey.walls[bare.survey.wall(key)?];
    let height = |corner: &Key| {
        let at = bare.survey.corners[bare.survey.corner(corner)?].at;
        Some(bare.survey.levels.ceiling_over(at)?.length())
    };
    let (left, right) = (height(&line.left)?, height(&line.right)?);
    let whole = Area::from_nm2(i128::from(line.length.length().nm()) * i128::from((left + right).nm()) / 2);
    let mut less: Vec<(String, Area)> = Vec::new();
    for (key_of, opening) in bare.plan.openings.iter().filter(|(_, opening)| opening.wall == *key) {
        let side = casing_round(bare.plan, key_of, opening);
        let sill = opening.sill.map_or(Length::ZERO, |sill| sill.length - side);
        let area = (opening.width.length + side * 2) * (opening.head.length + side - sill);
        less.push((opening.name.clone(), area));
    }
    for unit in bare.placement.units.iter().filter(|unit| unit.wall == *key && covers(unit)) {
        let area = unit.width.length() * unit.height.length();
        match less.iter_mut().find(|(what, _)| what == "units") {
            Some((_, all)) => *all += area,
            None => less.push(("units".to_owned(), area)),
        }
    }
    for leg in bare.worktops.iter().flat_map(|top| top.legs.iter().map(move |leg| (top, leg))) {
        let (top, leg) = leg;
        if leg.wall == *key {
            less.push((
                "worktop".to_owned(),
                (leg.back[1].length() - leg.back[0].length()) * top.thickness.length(),
            ));
        }
    }
    for (_, what, area) in bare.covered.iter().filter(|(wall, ..)| wall == key) {
        less.push((what.clone(), *area));
    }
    let gone = sum(less.iter().map(|(_, area)| *area));
    let name = bare.plan.walls.get(key).and_then(|wall| wall.name.clone());
    Some(PaintRow {
        what: name.unwrap_or_else(|| format!("wall {key}")),
        of: Some(key.clone()),
        whole,
        net: Area::from_nm2((whole.nm2() - gone.nm2()).max(0)),
        less,
    })
}

/// Casing and reveal on the wall round an opening.
fn casing_round(plan: &Plan, key: &Key, opening: &dryfit_plan::Opening) -> Length {
    let cased = plan.trims.values().find_map(|trim| match &trim.kind {
        dryfit_plan::TrimKind::Casing { around } if around.contains(key) => Some(&trim.good),
        _ => None,
    });
    let board = cased.and_then(|good| match &plan.goods.get(good)?.form {
        dryfit_plan::Form::Board(board) => Some(board.width.length),
        _ => None,
    });
    board.or(opening.casing.map(|casing| casing.length)).unwrap_or(Length::ZERO)
}

/// Units that hide the wall behind them.
fn covers(unit: &PlacedUnit) -> bool {
    !matches!(unit.kind, UnitKind::Gap | UnitKind::Appliance)
}

/// The ceiling over the whole room, along its slope.
fn of_ceiling(survey: &Survey) -> Option<PaintRow> {
    let points: Option<Vec<[f64; 3]>> = survey
        .corners
        .iter()
        .map(|corner| {
            let up = survey.levels.ceiling_over(corner.at)?.length().as_mm_f64();
            Some([corner.at[0], corner.at[1], up])
        })
        .collect();
    let points = points.filter(|points| points.len() > 2)?;
    let mm2 = outline_area(&points);
    let whole = Area::from_square_metres_f64(mm2 / 1e6);
    Some(PaintRow { what: "ceiling".to_owned(), of: None, whole, less: Vec::new(), net: whole })
}

/// The area of a plane outline in the room: half the length of the sum of its corners' cross products.
fn outline_area(points: &[[f64; 3]]) -> f64 {
    let mut sum = [0.0; 3];
    for (i, a) in points.iter().enumerate() {
        let b = points[(i + 1) % points.len()];
        sum[0] += a[1] * b[2] - a[2] * b[1];
        sum[1] += a[2] * b[0] - a[0] * b[2];
        sum[2] += a[0] * b[1] - a[1] * b[0];
    }
    (sum[0] * sum[0] + sum[1] * sum[1] + sum[2] * sum[2]).sqrt() / 2.0
}

/// A door, drawer front or fixed front as hung.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Leaf {
    width: Length,
    height: Length,
    thick: Length,
}

impl Leaf {
    /// Both faces and all four edges.
    fn area(self) -> Area {
        let faces = (self.width * self.height).nm2() * 2;
        let edges = ((self.width + self.height) * self.thick).nm2() * 2;
        Area::from_nm2(faces + edges)
    }
}

/// Units of a recipe, as built.
fn made_by<'a>(bare: Bare<'a>, recipe: &'a Key) -> impl Iterator<Item = &'a BuiltUnit> {
    let is = move |built: &&BuiltUnit| {
        bare.plan.units.get(&built.key).is_some_and(|unit| unit.recipe.as_ref() == Some(recipe))
    };
    bare.casework.units.iter().filter(is)
}

fn leaves_of(bare: Bare<'_>, recipe: &Key) -> Vec<Leaf> {
    made_by(bare, recipe).flat_map(leaves).collect()
}

/// The leaf that a part belongs to: `door.d1`, `drawer.d2/front`; none for what is no front.
fn leaf_of(part: &Part) -> Option<&str> {
    let (first, rest) = part.role.split_once('/').unwrap_or((&part.role, ""));
    if first.starts_with("door") || first.starts_with("fixed") {
        return Some(first);
    }
    (first.starts_with("drawer") && rest.starts_with("front")).then_some(first)
}

/// The leaves of a unit: whatever is hung or screwed on as one.
fn leaves(unit: &BuiltUnit) -> Vec<Leaf> {
    let mut by_name: std::collections::BTreeMap<&str, [[Length; 3]; 2]> = std::collections::BTreeMap::new();
    for part in &unit.parts {
        let Some(name) = leaf_of(part) else { continue };
        let (min, max) = (part.solid.min, part.solid.max);
        let bounds = by_name.entry(name).or_insert([min, max]);
        for k in 0..3 {
            bounds[0][k] = bounds[0][k].min(min[k]);
            bounds[1][k] = bounds[1][k].max(max[k]);
        }
    }
    by_name
        .into_values()
        .map(|[min, max]| Leaf { width: max[0] - min[0], thick: max[1] - min[1], height: max[2] - min[2] })
        .collect()
}

/// What is painted of one group of a recipe's parts.
fn of_group(bare: Bare<'_>, recipe: &Key, group: PartGroup) -> PaintRow {
    let of_unit = |unit: &BuiltUnit| -> i128 {
        let kind = bare.plan.units[&unit.key].kind;
        let strip = matches!(kind, UnitKind::Filler | UnitKind::EndPanel | UnitKind::FloatingShelf);
        match group {
            PartGroup::Fronts => leaves(unit).into_iter().map(|leaf| leaf.area().nm2()).sum(),
            PartGroup::Frames => {
                let members = unit.parts.iter().filter(|part| part.role.starts_with("frame"));
                let thick = unit.parts.iter().find(|part| part.role.starts_with("frame"));
                let thick = thick.map_or(Length::ZERO, |part| part.thickness.length());
                let edges = unit
                    .openings
                    .iter()
                    .map(|opening| ((opening.width.length() + opening.height.length()) * thick).nm2() * 2);
                members.map(face).sum::<i128>() + edges.sum::<i128>()
            }
            PartGroup::Skins => {
                unit.parts.iter().filter(|part| strip || part.role.starts_with("toe")).map(face).sum()
            }
            PartGroup::Insides if strip => 0,
            PartGroup::Insides => unit.parts.iter().map(inside).sum(),
        }
    };
    let area = Area::from_nm2(made_by(bare, recipe).map(of_unit).sum());
    let name = bare.plan.recipes.get(recipe).map_or(recipe.as_str(), |recipe| recipe.name.as_str());
    PaintRow {
        what: format!("{}, {name}", called(group)),
        of: Some(recipe.clone()),
        whole: area,
        less: Vec::new(),
        net: area,
    }
}

fn called(group: PartGroup) -> &'static str {
    match group {
        PartGroup::Fronts => "fronts, both faces and edges",
        PartGroup::Frames => "face frames",
        PartGroup::Skins => "fillers, panels, toe boards, shelves",
        PartGroup::Insides => "inside of the boxes",
    }
}

/// One face of a part.
fn face(part: &Part) -> i128 {
    (part.length.length() * part.width.length()).nm2()
}

/// What of a part is painted inside a box: both faces of a shelf, one of what encloses it.
fn inside(part: &Part) -> i128 {
    let own = part.role.split(['.', '/']).next().unwrap_or_default();
    match own {
        "shelf" => face(part) * 2,
        "side" | "bottom" | "back" | "top" | "stretcher" | "nailer" | "partition" => face(part),
        _ => 0,
    }
}

/// The face and both long edges of a trim.
fn of_trim(plan: &Plan, trim: &Trim) -> Option<PaintRow> {
    let thick = crate::placement::thickness(plan, &trim.good)?.length();
    let area =
        sum(trim.pieces.iter().map(|piece| piece.length.length() * (piece.width.length() + thick * 2)));
    let name = plan.trims.get(&trim.key).and_then(|trim| trim.name.clone());
    Some(PaintRow {
        what: name.unwrap_or_else(|| trim.key.to_string()),
        of: Some(trim.key.clone()),
        whole: area,
        less: Vec::new(),
        net: area,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_faces_and_edges_of_a_door_are_painted() {
        // geometry: 18 by 30 by 3/4 gives 8.0 sq ft
        let [width, height, thick] = [(18, 0), (30, 0), (0, 3)].map(|(n, q)| Length::inches(n, q, 4));
        assert!((Leaf { width, height, thick }.area().as_square_feet_f64() - 8.0).abs() < 1e-9);
    }

    #[test]
    fn a_sloping_outline_has_its_own_area_not_its_shadow() {
        let flat = [[0.0, 0.0, 5.0], [4.0, 0.0, 5.0], [4.0, 3.0, 5.0], [0.0, 3.0, 5.0]];
        assert!((outline_area(&flat) - 12.0).abs() < 1e-9);
        // 3 across and 4 up make 5 along the slope
        let steep = [[0.0, 0.0, 0.0], [4.0, 0.0, 0.0], [4.0, 3.0, 4.0], [0.0, 3.0, 4.0]];
        assert!((outline_area(&steep) - 20.0).abs() < 1e-9);
    }
}
