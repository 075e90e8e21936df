//! The room with everything in it, put together from the stages.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Length};
use dryfit_plan::{Form, Front, Hand, Plan, UnitKind};
use dryfit_stages::Derived;
use dryfit_stages::casework::{BuiltUnit, Part};
use dryfit_stages::placement::{PlacedTop, PlacedUnit, Plot};
use dryfit_stages::survey::{Survey, WallLine};

use super::body::{Body, Facet};
use super::{Node, Sort, Stand};
use crate::tape::{plain_size, sized};

/// Floor, walls, units with their parts, worktops, appliances and sinks, in the room's axes.
///
/// A part's body is exact; where it stands on a wall that runs askew it is so to the nanometre.
pub fn scene(plan: &Plan, derived: &Derived) -> Node {
    let mut children: Vec<Node> = floor(&derived.survey).into_iter().collect();
    children.extend(derived.survey.walls.iter().filter_map(|line| wall(plan, &derived.survey, line)));
    let sizes: BTreeMap<&str, [Length; 2]> = derived
        .cut_list
        .groups
        .iter()
        .flat_map(|group| &group.pieces)
        .map(|piece| (piece.path.as_str(), [piece.length.length(), piece.width.length()]))
        .collect();
    for placed in &derived.placement.units {
        let built = derived.casework.units.iter().find(|built| built.key == placed.key);
        children.extend(unit(plan, &derived.survey, placed, built, &sizes));
    }
    children
        .extend(derived.placement.tops.iter().enumerate().filter_map(|(n, it)| top(plan, derived, it, n)));
    Node::group(plan.name.clone(), children)
}

/// Where a place on a wall's floor line lies in the room, and the wall's direction.
pub(crate) fn on_wall(survey: &Survey, wall: &Key, along: Length, out: Length, up: Length) -> Option<Stand> {
    let plot = Plot::of(survey, wall)?;
    let [x, y] = plot.at(along.as_mm_f64(), out.as_mm_f64());
    let (from, to) = (plot.at(0.0, 0.0), plot.at(1.0, 0.0));
    let origin = [Length::from_mm_f64(x), Length::from_mm_f64(y), up];
    Some(Stand { origin, along: [to[0] - from[0], to[1] - from[1]] })
}

/// The ceiling over a place on a wall, mm above the datum; eight feet where nobody measured it.
pub(crate) fn ceiling(survey: &Survey, wall: &Key, along: Length) -> Length {
    let at = survey.point_on_wall(wall, along, Length::ZERO, Length::ZERO);
    let over = at.and_then(|at| survey.levels.ceiling_over(at));
    over.map_or(Length::inches(96, 0, 1), |dim| dim.length())
}

/// The floor, flat at the datum.
fn floor(survey: &Survey) -> Option<Node> {
    let outline: Vec<_> = survey
        .corners
        .iter()
        .map(|corner| [Length::from_mm_f64(corner.at[0]), Length::from_mm_f64(corner.at[1]), Length::ZERO])
        .collect();
    let facet = Facet { outline, holes: Vec::new() };
    (facet.outline.len() > 2).then(|| Node::solid("floor", Sort::Floor, Body { facets: vec![facet] }))
}

/// A wall's inside face up to the ceiling, its doors and windows left out.
fn wall(plan: &Plan, survey: &Survey, line: &WallLine) -> Option<Node> {
    let stand = on_wall(survey, &line.key, Length::ZERO, Length::ZERO, Length::ZERO)?;
    let length = line.length.length();
    let holes: Vec<[[Length; 2]; 2]> = plan
        .openings
        .values()
        .filter(|opening| opening.wall == line.key)
        .map(|opening| {
            let sill = opening.sill.map_or(Length::ZERO, |sill| sill.length);
            let along = opening.along.length;
            [[along, sill], [along + opening.width.length, opening.head.length]]
        })
        .collect();
    let marks = |axis: usize, ends: &[Length]| {
        let mut marks: Vec<Length> = holes.iter().flatten().map(|corner| corner[axis]).collect();
        marks.retain(|mark| mark.is_positive() && (axis == 1 || *mark < length));
        marks.extend(ends);
        marks.sort_unstable();
        marks.dedup();
        marks
    };
    let (xs, zs) = (marks(0, &[Length::ZERO, length]), marks(1, &[Length::ZERO]));
    let over: Vec<Length> = xs.iter().map(|x| ceiling(survey, &line.key, *x)).collect();
    let mut facets = Vec::new();
    for (column, x) in xs.windows(2).enumerate() {
        for (row, low) in zs.iter().enumerate() {
            let gone = holes.iter().any(|[a, b]| {
                a[0] <= x[0]
                    && x[1] <= b[0]
                    && a[1] <= *low
                    && zs.get(row + 1).is_some_and(|high| *high <= b[1])
            });
            let high =
                |side: usize| zs.get(row + 1).map_or(over[column + side], |z| (*z).min(over[column + side]));
            if gone || high(0) <= *low || high(1) <= *low {
                continue;
            }
            let at = |side: usize, z: Length| [x[side], Length::ZERO, z];
            let outline = vec![at(0, *low), at(1, *low), at(1, high(1)), at(0, high(0))];
            facets.push(Facet { outline, holes: Vec::new() });
        }
    }
    let name = plan.walls.get(&line.key).and_then(|wall| wall.name.clone());
    let node = Node { stand, ..Node::solid(format!("wall/{}", line.key), Sort::Wall, Body { facets }) };
    let size = sized(length, plan.fineness).to_string();
    Some(node.saying("name", name.unwrap_or_else(|| line.key.to_string())).saying("length", size))
}

/// A unit in its own axes, its parts by assembly; an appliance by its measured size. Nothing for a gap.
fn unit(
    plan: &Plan,
    survey: &Survey,
    placed: &PlacedUnit,
    built: Option<&BuiltUnit>,
    sizes: &BTreeMap<&str, [Length; 2]>,
) -> Option<Node> {
    let begins = built.map_or(Length::ZERO, |built| built.overhang[0].length());
    let along = placed.along.length() + begins;
    let stand = on_wall(survey, &placed.wall, along, placed.depth.length(), placed.up.length())?;
    let key = &placed.key;
    let children = match (placed.kind, built) {
        (UnitKind::Gap, _) => return None,
        (UnitKind::Appliance, _) => vec![appliance(plan, placed)],
        (_, Some(built)) => assemblies(plan, built, sizes),
        (_, None) => return None,
    };
    let size = [placed.width.length(), placed.height.length(), placed.depth.length()];
    let size = size.map(|side| sized(side, plan.fineness).bare().to_string()).join(" \u{d7} ");
    let mut node = Node { stand, ..Node::group(key.as_str(), children) };
    if let Some(name) = plan.units.get(key).and_then(|unit| unit.name.clone()) {
        node = node.saying("name", name);
    }
    Some(node.saying("width, height, depth", size))
}

/// Parts of one unit under their assemblies: `b1/door.left`, `b1/frame`; what belongs to none is the box.
fn assemblies(plan: &Plan, built: &BuiltUnit, sizes: &BTreeMap<&str, [Length; 2]>) -> Vec<Node> {
    let mut groups: Vec<(String, Vec<Node>)> = Vec::new();
    for one in &built.parts {
        let assembly = one.role.split_once('/').map_or("box", |(assembly, _)| assembly);
        let path = format!("{}/{assembly}", built.key);
        let node = part(plan, &built.key, one, sizes);
        match groups.iter_mut().find(|(known, _)| *known == path) {
            Some((_, parts)) => parts.push(node),
            None => groups.push((path, vec![node])),
        }
    }
    let fronts = plan.units.get(&built.key).and_then(|unit| unit.fronts.as_ref());
    let opens = |path: &str| opens(fronts?, path.split_once('/')?.1);
    let group = |(path, parts): (String, Vec<Node>)| match opens(&path) {
        Some(way) => Node::group(path, parts).saying("opens", way),
        None => Node::group(path, parts),
    };
    groups.into_iter().map(group).collect()
}

/// How a door or a drawer opens: about its `left` or its `right` side, or `out`; none for what does not.
fn opens(fronts: &Front, assembly: &str) -> Option<&'static str> {
    let (sort, path) = assembly.split_once('.').unwrap_or((assembly, ""));
    match (sort, fronts.at_path(path)?) {
        ("door", Front::Door { hinge: Hand::Left, .. }) => Some("left"),
        ("door", Front::Pair { .. }) if path.ends_with("left") => Some("left"),
        ("door", Front::Door { .. } | Front::Pair { .. }) => Some("right"),
        ("drawer", Front::Drawer { .. }) => Some("out"),
        _ => None,
    }
}

/// A part with what joints take away from it.
fn part(plan: &Plan, unit: &Key, part: &Part, sizes: &BTreeMap<&str, [Length; 2]>) -> Node {
    let path = format!("{unit}/{}", part.role);
    let good = plan.goods.get(&part.good);
    let sort = match good.map(|good| &good.form) {
        Some(Form::Board(_)) => Sort::Board,
        _ => Sort::Sheet,
    };
    let [length, width] =
        sizes.get(path.as_str()).copied().unwrap_or([part.length.length(), part.width.length()]);
    let thickness = sized(part.thickness.length(), plan.fineness);
    let size = format!("{} \u{d7} {}", plain_size(length, width, plan.fineness), thickness);
    let name = match part.hand {
        Some(Hand::Left) => format!("{}, left", part.name),
        Some(Hand::Right) => format!("{}, right", part.name),
        None => part.name.clone(),
    };
    let body = Body::cut_box(part.solid.min, part.solid.max, &part.solid.cut);
    let node = Node::solid(path, sort, body).saying("name", name).saying("size", size);
    node.saying("good", good.map_or_else(|| part.good.to_string(), |good| good.name.clone()))
}

/// An appliance where its air lets it stand: in the middle of its place, its feet out.
fn appliance(plan: &Plan, placed: &PlacedUnit) -> Node {
    let unit = plan.units.get(&placed.key);
    let good = unit.and_then(|unit| plan.goods.get(unit.holds.as_ref()?));
    let (size, behind) = match good.map(|good| &good.form) {
        Some(Form::Appliance(form)) => {
            let high = form.height.length + form.feet.map_or(Length::ZERO, |feet| feet.length);
            ([form.width.length, form.depth.length, high], form.air_back.length)
        }
        _ => ([placed.width.length(), placed.depth.length(), placed.height.length()], Length::ZERO),
    };
    let left = Length::from_nm((placed.width.length() - size[0]).nm() / 2);
    let back = placed.depth.length() - behind;
    let min = [left, back - size[1], Length::ZERO];
    let max = [left + size[0], back, size[2]];
    let path = format!("{}/appliance", placed.key);
    let said = size.map(|side| sized(side, plan.fineness).bare().to_string()).join(" \u{d7} ");
    let node = Node::solid(path, Sort::Appliance, Body::cut_box(min, max, &[]));
    node.saying("width, depth, height", said)
        .saying("name", good.map_or_else(|| "appliance".to_owned(), |good| good.name.clone()))
}

/// A worktop with its cut-outs, and the bowls in them. The first piece of a key has its plain name.
fn top(plan: &Plan, derived: &Derived, top: &PlacedTop, index: usize) -> Option<Node> {
    if top.outline.len() < 3 {
        return None;
    }
    let upper = top.upper.length();
    let lower = upper - top.thickness.length();
    let outline: Vec<[Length; 2]> = top.outline.iter().map(|at| at.map(Length::from_mm_f64)).collect();
    let (mut holes, mut bowls) = (Vec::new(), Vec::new());
    for leg in &top.legs {
        let Some(run) = derived.placement.run(&leg.run) else { continue };
        for cutout in &leg.cutouts {
            let front = cutout.back.length() + cutout.depth.length();
            let Some(stand) = on_wall(&derived.survey, &run.wall, cutout.left.length(), front, Length::ZERO)
            else {
                continue;
            };
            let (width, depth) = (cutout.width.length(), cutout.depth.length());
            let corner = |x: Length, y: Length| {
                let [x, y, _] = stand.place([x, y, Length::ZERO]);
                [x, y]
            };
            let zero = Length::ZERO;
            holes.push(vec![
                corner(zero, zero),
                corner(zero, depth),
                corner(width, depth),
                corner(width, zero),
            ]);
            let unit = plan.units.get(&cutout.unit);
            let good = unit.and_then(|unit| plan.goods.get(unit.holds.as_ref()?));
            if let Some(Form::Sink { bowl, .. }) = good.map(|good| &good.form) {
                let body = Body::bowl([zero, zero, upper - bowl.length], [width, depth, upper]);
                let node = Node { stand, ..Node::solid(format!("{}/sink", cutout.unit), Sort::Sink, body) };
                bowls.push(node.saying("name", good.map(|good| good.name.clone()).unwrap_or_default()));
            }
        }
    }
    let earlier = derived.placement.tops[..index].iter().filter(|other| other.key == top.key).count();
    let number = if earlier > 0 { format!(".{}", earlier + 1) } else { String::new() };
    let path = format!("top/{}{number}", top.key);
    let mut node = Node::solid(path, Sort::Top, Body::prism(&outline, &holes, [lower, upper]));
    if let Some(name) = plan.tops.get(&top.key).and_then(|stated| stated.name.clone()) {
        node = node.saying("name", name);
    }
    node.children = bowls;
    Some(node.saying("thickness", sized(top.thickness.length(), plan.fineness).to_string()))
}
