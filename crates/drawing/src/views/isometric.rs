//! The room and its units as solids, seen from above and from one side, hidden lines taken away.
//!
//! The near walls are left out, so that one looks in; from which side, is where most fronts can be seen. Lengths
//! along one direction keep their proportion (parallel projection).
#![allow(clippy::many_single_char_names, reason = "corners, axes and shares, as geometry calls them")]

use dryfit_measure::Length;
use dryfit_plan::{Plan, UnitKind};
use dryfit_stages::Derived;
use dryfit_stages::casework::{BuiltUnit, Part};
use dryfit_stages::placement::PlacedUnit;
use dryfit_stages::release::Until;

use super::leaf::is_front;
use crate::hatch::hatch;
use crate::hidden::{Eye, Screens, Seen};
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::patch::{Patch, words_patch};
use crate::sketch::{Frame, Margins, Sketch};
use crate::solid::{Body, Facet, Node, Sort, Stand, edges, on_wall, scene};

/// Below the horizon, degrees.
const DOWN: f64 = 32.0;
/// To the left or right of a wall's own direction, degrees.
const ASIDE: f64 = 34.0;
/// Size of names, points.
const NAME: f64 = 14.0;

/// Something to draw: facets in the room, and how.
struct Thing {
    about: Option<String>,
    layer: &'static str,
    pen: Pen,
    stroke: Stroke,
    facets: Vec<Facet>,
    /// Facets to hatch and to name it on, the best first.
    faces: Vec<usize>,
    hatched: bool,
    named: bool,
}

/// The room as it will stand: what is cut today hatched, what waits for readings dashed. `None` without a room.
pub fn isometric(plan: &Plan, derived: &Derived, frame: Frame) -> Option<Drawing> {
    let things = things(plan, derived);
    things.iter().find(|thing| thing.layer == "floor")?;
    let eye = best_eye(derived, &things);
    let today: Vec<&str> = derived.release.cut_today.iter().map(|ready| ready.unit.as_str()).collect();
    let alt = format!(
        "The room from above and one side, near walls left out, with the units that are cut today hatched: {}",
        today.join(", ")
    );
    Some(draw(&things, &eye, alt, frame))
}

/// One unit as it will stand, with its doors and drawers, every part of it. `None` where nothing is made for it.
pub fn together(plan: &Plan, derived: &Derived, unit: &BuiltUnit, frame: Frame) -> Option<Drawing> {
    let whole = scene(plan, derived);
    let node = whole.find(unit.key.as_str())?;
    let mut things = Vec::new();
    let free = Node { stand: Stand::SAME, ..node.clone() };
    free.walk(&mut |part, facets| {
        if !facets.is_empty() {
            things.push(Thing { about: Some(part.path.clone()), facets, ..plain("parts", Pen::Edge) });
        }
    });
    let alt = format!("{} put together, seen from the front, the right and above", unit.key);
    (!things.is_empty()).then(|| draw(&things, &Eye::new(ASIDE, DOWN - 8.0), alt, frame))
}

fn plain(layer: &'static str, pen: Pen) -> Thing {
    Thing {
        about: None,
        layer,
        pen,
        stroke: Stroke::Solid,
        facets: Vec::new(),
        faces: Vec::new(),
        hatched: false,
        named: false,
    }
}

/// Floor, walls and worktops of the scene; units as what shows of them from afar.
fn things(plan: &Plan, derived: &Derived) -> Vec<Thing> {
    let mut things = Vec::new();
    for node in &scene(plan, derived).children {
        let (layer, pen) = match node.sort {
            Sort::Floor => ("floor", Pen::Heavy),
            Sort::Wall => ("walls", Pen::Thin),
            Sort::Top => ("tops", Pen::Edge),
            _ => continue,
        };
        node.walk(&mut |part, facets| {
            things.push(Thing { about: Some(part.path.clone()), facets, ..plain(layer, pen) });
        });
    }
    for placed in derived.placement.units.iter().filter(|unit| unit.kind != UnitKind::Gap) {
        let built = derived.casework.units.iter().find(|built| built.key == placed.key);
        things.extend(unit(derived, placed, built));
    }
    things
}

fn unit(derived: &Derived, placed: &PlacedUnit, built: Option<&BuiltUnit>) -> Option<Thing> {
    let begins = built.map_or(Length::ZERO, |built| built.overhang[0].length());
    let along = placed.along.length() + begins;
    let stand = on_wall(&derived.survey, &placed.wall, along, placed.depth.length(), placed.up.length())?;
    let size = [placed.width.length(), placed.depth.length(), placed.height.length()];
    let bodies = built.map_or_else(|| vec![Body::cut_box([Length::ZERO; 3], size, &[])], hull);
    let facets: Vec<Facet> =
        bodies.iter().flat_map(|body| &body.facets).map(|facet| facet.moved(|at| stand.place(at))).collect();
    // the broadest facets are those to look at; the front before all others
    let front = [stand.along[1], -stand.along[0], 0.0];
    let facing = |facet: &Facet| (0..3).map(|k| facet.normal()[k] * front[k]).sum::<f64>();
    let mut faces: Vec<usize> = (0..facets.len()).filter(|i| facing(&facets[*i]).abs() > 0.9).collect();
    faces.sort_by(|a, b| {
        let worth = |i: usize| area(&facets[i]) * if facing(&facets[i]) > 0.0 { 1e3 } else { 1.0 };
        worth(*b).total_cmp(&worth(*a))
    });
    let waits = derived
        .release
        .held
        .iter()
        .any(|held| held.subject == placed.key && matches!(held.until, Until::Readings(_)));
    Some(Thing {
        about: Some(placed.key.to_string()),
        stroke: if waits { Stroke::Dash } else { Stroke::Solid },
        hatched: derived.release.cut_today.iter().any(|ready| ready.unit == placed.key),
        named: !matches!(placed.kind, UnitKind::Filler | UnitKind::EndPanel),
        facets,
        faces,
        ..plain("units", Pen::Thin)
    })
}

/// A unit as it shows from afar: its box without the toe kick, its frame, and each door or drawer as one slab.
fn hull(unit: &BuiltUnit) -> Vec<Body> {
    let slab = |parts: &[&Part]| {
        let axis = |of: fn(&Part) -> [Length; 3], axis: usize| parts.iter().map(move |part| of(part)[axis]);
        let low = [0, 1, 2].map(|k| axis(|part| part.solid.min, k).min().unwrap_or_default());
        let high = [0, 1, 2].map(|k| axis(|part| part.solid.max, k).max().unwrap_or_default());
        (!parts.is_empty()).then_some([low, high])
    };
    let mut groups: Vec<(&str, Vec<&Part>)> = Vec::new();
    for part in &unit.parts {
        let assembly = part.role.split_once('/').map_or("", |(assembly, _)| assembly);
        match groups.iter_mut().find(|(known, _)| *known == assembly) {
            Some((_, parts)) => parts.push(part),
            None => groups.push((assembly, vec![part])),
        }
    }
    let mut bodies = Vec::new();
    for (assembly, parts) in &groups {
        let leaf = !assembly.is_empty() && *assembly != "frame" && parts.iter().any(|part| is_front(part));
        let shown: Vec<&Part> = parts.iter().copied().filter(|part| !leaf || is_front(part)).collect();
        let Some([low, high]) = slab(&shown) else { continue };
        // the notch of a side goes through the whole box
        let notch = shown.iter().filter(|part| part.solid.axes[2] == 0).flat_map(|part| &part.solid.cut);
        let notch = notch.filter(|cut| assembly.is_empty() && cut[0][1] <= low[1] && cut[0][2] <= low[2]);
        let notch = notch.map(|cut| [low, [high[0], cut[1][1], cut[1][2]]]).next();
        bodies.push(Body::cut_box(low, high, notch.as_slice()));
    }
    bodies
}

fn mm(at: &[Length; 3]) -> Seen {
    at.map(Length::as_mm_f64)
}

fn area(facet: &Facet) -> f64 {
    let points: Vec<Seen> = facet.rings().flatten().map(mm).collect();
    let one = |[a, b, c]: [usize; 3]| {
        let [a, b, c] = [points[a], points[b], points[c]];
        let (p, q) = ([0, 1, 2].map(|k| b[k] - a[k]), [0, 1, 2].map(|k| c[k] - a[k]));
        let cross = [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];
        cross.iter().map(|x| x * x).sum::<f64>().sqrt() / 2.0
    };
    facet.triangles().into_iter().map(one).sum()
}

/// What hides what: facets that look towards the eye, as triangles.
fn screens(things: &[Thing], eye: &Eye) -> Screens {
    let mut triangles = Vec::new();
    for facet in things.iter().flat_map(|thing| &thing.facets).filter(|it| eye.faces(it.normal()) > 1e-6) {
        let points: Vec<Seen> = facet.rings().flatten().map(|at| eye.see(mm(at))).collect();
        triangles.extend(facet.triangles().into_iter().map(|three| three.map(|k| points[k])));
    }
    Screens::new(triangles)
}

/// Places on a facet, as they are seen, the middle first; a little before it, so that it does not hide them.
fn places(facet: &Facet, eye: &Eye) -> Vec<Seen> {
    let [Some(a), Some(b), Some(d)] = [0, 1, facet.outline.len() - 1].map(|k| facet.outline.get(k).map(mm))
    else {
        return Vec::new();
    };
    let mut places = Vec::new();
    for i in 1..16 {
        for j in 1..16 {
            let (s, t) = (f64::from(i) / 16.0, f64::from(j) / 16.0);
            let at = [0, 1, 2].map(|k| a[k] + s * (b[k] - a[k]) + t * (d[k] - a[k]));
            places.push(((s - 0.5).hypot(t - 0.5), eye.see(at)));
        }
    }
    places.sort_by(|p, q| p.0.total_cmp(&q.0));
    places.into_iter().map(|(_, [x, y, z])| [x, y, z + 0.5]).collect()
}

/// The side from which most of the fronts are seen: along each wall, from its left and from its right.
fn best_eye(derived: &Derived, things: &[Thing]) -> Eye {
    let mut best: Option<(f64, Eye)> = None;
    for line in &derived.survey.walls {
        let zero = Length::ZERO;
        let Some(stand) = on_wall(&derived.survey, &line.key, zero, zero, zero) else { continue };
        let turn = stand.along[1].atan2(stand.along[0]).to_degrees();
        for aside in [ASIDE, -ASIDE] {
            let eye = Eye::new(turn + aside, DOWN);
            let screens = screens(things, &eye);
            let front = |thing: &Thing| {
                let Some(facet) = thing.faces.first().map(|i| &thing.facets[*i]) else { return 0.0 };
                let facing = eye.faces(facet.normal()).max(0.0);
                if facing <= 0.0 {
                    return 0.0;
                }
                let places = places(facet, &eye);
                let seen = places.iter().step_by(9).filter(|at| screens.sees(**at)).count();
                area(facet) * facing * seen as f64
            };
            let worth: f64 = things.iter().map(front).sum();
            // a hair more than before, so that equal sides keep their order
            if best.as_ref().is_none_or(|(known, _)| worth > known * 1.0001) {
                best = Some((worth, eye));
            }
        }
    }
    best.map_or_else(|| Eye::new(ASIDE, DOWN), |(_, eye)| eye)
}

fn draw(things: &[Thing], eye: &Eye, alt: String, frame: Frame) -> Drawing {
    let screens = screens(things, eye);
    let (mut low, mut high) = ([f64::MAX; 2], [f64::MIN; 2]);
    for thing in things {
        // walls that look away are not drawn
        let seen =
            thing.facets.iter().filter(|facet| thing.layer != "walls" || eye.faces(facet.normal()) > 0.0);
        for at in seen.flat_map(|facet| &facet.outline) {
            let at = eye.see(mm(at));
            for axis in 0..2 {
                low[axis] = low[axis].min(at[axis]);
                high[axis] = high[axis].max(at[axis]);
            }
        }
    }
    let margins = Margins { left: 8.0, right: 8.0, bottom: 8.0, top: 8.0 };
    let mut sketch = Sketch::new(alt, [low, high], margins, frame);
    let mut inked: Vec<[Point; 2]> = Vec::new();
    for thing in things {
        hatching(&mut sketch, thing, eye, &screens);
    }
    for thing in things {
        sketch.layer(thing.layer);
        if let Some(about) = &thing.about {
            sketch.about(about.clone());
        }
        for ([a, b], of) in edges(&thing.facets) {
            let toward = |i: &usize| eye.faces(thing.facets[*i].normal()) > 1e-6;
            if thing.layer != "floor" && !of.iter().any(toward) {
                continue;
            }
            let pen = if thing.layer == "walls" { wall_pen(things, eye, [a, b]) } else { thing.pen };
            for line in screens.visible(eye.see(mm(&a)), eye.see(mm(&b))) {
                let line = line.map(|[x, y, _]| [x, y]);
                let known = |other: &[Point; 2]| {
                    let near = |p: Point, q: Point| (p[0] - q[0]).hypot(p[1] - q[1]) < 0.05;
                    (near(other[0], line[0]) && near(other[1], line[1]))
                        || (near(other[0], line[1]) && near(other[1], line[0]))
                };
                if !inked.iter().any(known) {
                    inked.push(line);
                    sketch.stroke(&line, pen, thing.stroke);
                }
            }
        }
    }
    names(&mut sketch, things, eye, &screens, &inked);
    sketch.finish()
}

/// How a wall's edge is drawn: heavy along the ceiling and where the drawn walls end, less in the corner between
/// two of them, thin round openings.
fn wall_pen(things: &[Thing], eye: &Eye, edge: [[Length; 3]; 2]) -> Pen {
    let near = |at: &[Length; 3], other: &[Length; 3]| {
        let far = |k: usize| (at[k] - other[k]).as_mm_f64();
        far(0).hypot(far(1)) < 0.1
    };
    let drawn = |thing: &&Thing| {
        thing.layer == "walls" && thing.facets.iter().any(|facet| eye.faces(facet.normal()) > 1e-6)
    };
    let points = |thing: &Thing| -> Vec<[Length; 3]> {
        thing.facets.iter().flat_map(|facet| facet.outline.clone()).collect()
    };
    if near(&edge[0], &edge[1]) {
        let corners = things.iter().filter(|thing| thing.layer == "floor");
        let corners = corners.flat_map(|thing| &thing.facets).flat_map(|facet| &facet.outline);
        if !corners.clone().any(|at| near(at, &edge[0])) {
            return Pen::Thin;
        }
        let meet = |thing: &&Thing| points(thing).iter().any(|at| near(at, &edge[0]));
        return if things.iter().filter(drawn).filter(meet).count() > 1 { Pen::Edge } else { Pen::Heavy };
    }
    let along_ceiling = |thing: &Thing| {
        let all = points(thing);
        let highest = |at: &[Length; 3]| all.iter().filter(|it| near(it, at)).map(|it| it[2]).max();
        edge.iter().all(|at| all.contains(at) && highest(at) == Some(at[2]))
    };
    if things.iter().filter(drawn).any(along_ceiling) { Pen::Heavy } else { Pen::Thin }
}

/// Hatches the faces of what is cut today, as far as they are seen.
fn hatching(sketch: &mut Sketch, thing: &Thing, eye: &Eye, screens: &Screens) {
    if !thing.hatched {
        return;
    }
    let mut lines = Vec::new();
    for facet in thing.faces.iter().map(|i| &thing.facets[*i]).filter(|it| eye.faces(it.normal()) > 1e-6) {
        let outline: Vec<Seen> = facet.outline.iter().map(|at| eye.see(mm(at))).collect();
        let flat: Vec<Point> = outline.iter().map(|[x, y, _]| [*x, *y]).collect();
        // how far towards the eye the facet's plane is, from three of its corners
        let Some([a, b, c]) = outline.first_chunk::<3>() else { continue };
        let whole = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        if whole.abs() < 1e-9 {
            continue;
        }
        let deep = |[x, y]: Point| {
            let (dx, dy) = (x - a[0], y - a[1]);
            let s = (dx * (c[1] - a[1]) - dy * (c[0] - a[0])) / whole;
            let t = ((b[0] - a[0]) * dy - (b[1] - a[1]) * dx) / whole;
            [x, y, a[2] + s * (b[2] - a[2]) + t * (c[2] - a[2])]
        };
        for [from, to] in hatch(&flat, HatchKind::Cut, sketch.pt(1.0)) {
            for line in screens.visible(deep(from), deep(to)) {
                lines.push(line.map(|[x, y, _]| [x, y]));
            }
        }
    }
    sketch.layer("hatches");
    if let Some(about) = &thing.about {
        sketch.about(about.clone());
    }
    sketch.shape(Shape::Hatch { kind: HatchKind::Cut, lines });
}

/// Names on the fronts that are broad enough; the others beside, at the end of a leader.
fn names(sketch: &mut Sketch, things: &[Thing], eye: &Eye, screens: &Screens, inked: &[[Point; 2]]) {
    let scale = sketch.points_per_mm();
    let patch = |at: Point, name: &str| {
        let words = [Words::Plain(name.to_owned())];
        words_patch(at, &words, (NAME, Weight::Bold), Anchor::Centre, 0.0, scale)
    };
    let crossed = |patch: &Patch| inked.iter().filter(|[a, b]| patch.is_crossed(*a, *b)).count();
    let mut taken: Vec<Patch> = Vec::new();
    let mut beside: Vec<(&str, Point)> = Vec::new();
    for thing in things.iter().filter(|thing| thing.named) {
        let Some(name) = thing.about.as_deref() else { continue };
        let seen: Vec<Point> = thing
            .faces
            .iter()
            .map(|i| &thing.facets[*i])
            .filter(|facet| eye.faces(facet.normal()) > 1e-6)
            .flat_map(|facet| places(facet, eye))
            .filter(|at| screens.sees(*at))
            .map(|[x, y, _]| [x, y])
            .collect();
        let free = seen.iter().copied().find(|at| {
            let patch = patch(*at, name).grown(sketch.pt(1.0));
            crossed(&patch) == 0 && !taken.iter().any(|other| patch.overlaps(other))
        });
        match (free, seen.first()) {
            (Some(at), _) => {
                taken.push(patch(at, name));
                sketch.layer("names").about(name);
                sketch.text(at, name, NAME, Weight::Bold, Anchor::Centre);
            }
            (None, Some(at)) => beside.push((name, *at)),
            (None, None) => {}
        }
    }
    let dots: Vec<Point> = beside.iter().map(|(_, at)| *at).collect();
    let mut leaders: Vec<[Point; 2]> = Vec::new();
    for (name, dot) in beside {
        let mut best: Option<(f64, Point)> = None;
        for ring in 0..24 {
            for turn in 0..32 {
                let (sin, cos) = (f64::from(turn) * 11.25_f64.to_radians()).sin_cos();
                let reach = sketch.pt(16.0 + 6.0 * f64::from(ring));
                let at = [dot[0] + reach * cos, dot[1] + reach * sin];
                let here = patch(at, name).grown(sketch.pt(2.0));
                let clear = here.is_inside(sketch.extent())
                    && !taken.iter().any(|other| here.overlaps(other) || other.is_crossed(dot, at))
                    && !leaders.iter().any(|[a, b]| here.is_crossed(*a, *b))
                    && !dots.iter().any(|other| here.is_crossed(*other, *other));
                if !clear {
                    continue;
                }
                let over = inked.iter().filter(|[a, b]| crosses(*a, *b, dot, at)).count()
                    + leaders.iter().filter(|[a, b]| crosses(*a, *b, dot, at)).count() * 20;
                let cost = crossed(&here) as f64 * 12.0 + over as f64 * 3.0 + f64::from(ring);
                if best.is_none_or(|(known, _)| cost < known) {
                    best = Some((cost, at));
                }
            }
        }
        let Some((_, at)) = best else { continue };
        taken.push(patch(at, name));
        leaders.push([dot, at]);
        sketch.layer("names").about(name);
        sketch.line(&[dot, at], Pen::Hair);
        sketch.shape(Shape::Dot { at: dot });
        sketch.text(at, name, NAME, Weight::Bold, Anchor::Centre);
    }
}

/// Whether two stretches cross.
fn crosses(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
