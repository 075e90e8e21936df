//! What is in each wall, by depth: where not to drill, and which screws would.
//!
//! A band lies along each pipe, cable and duct in a wall, as wide as the figure `keep-off-pipe` to each side. Screws are
//! those through the nailers and ledgers of units into the studs.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{Form, Plan, Role};

use super::skin::Skin;
use super::ways::{PlacedRun, RunKind};
use crate::casework::{BuiltUnit, Casework, Part};
use crate::figures::Figures;
use crate::placement::{PlacedUnit, Placement, Studs, reach, role};

/// What is in one wall.
#[derive(Clone, Debug)]
pub struct WallMap {
    /// The wall.
    pub wall: Key,
    /// Its bands, service by service.
    pub bands: Vec<Band>,
}

/// A stretch of a wall not to be drilled.
#[derive(Clone, Debug)]
pub struct Band {
    /// What runs in it.
    pub run: Key,
    /// What that is.
    pub kind: RunKind,
    /// The nodes between which it runs.
    pub leg: [Key; 2],
    /// Its middle line, along and up.
    pub from: [Length; 2],
    /// See `from`.
    pub to: [Length; 2],
    /// How far to each side nothing is drilled.
    pub half: Dim,
    /// Half of what it is made of.
    pub radius: Length,
    /// From the framing's face, negative into the wall: its nearest and its furthest surface.
    pub deep: [Length; 2],
}

/// A screw that holds a unit to a stud.
#[derive(Clone, Debug)]
pub struct WallScrew {
    /// The unit.
    pub unit: Key,
    /// The wall.
    pub wall: Key,
    /// Along the wall.
    pub along: Dim,
    /// Up from the datum.
    pub up: Dim,
    /// Its point, out from the framing's face: negative is in the stud.
    pub tip: Dim,
    /// The good.
    pub good: Key,
}

/// A screw that comes near what is in the wall.
#[derive(Clone, Debug)]
pub struct Hit {
    /// The screw.
    pub screw: WallScrew,
    /// What it comes near.
    pub run: Key,
    /// The nodes of the leg.
    pub leg: [Key; 2],
    /// From its axis to the middle of what runs there.
    pub off: Length,
    /// How far off it has to be.
    pub keep: Dim,
    /// Whether it goes into it.
    pub touches: bool,
    /// How far past the nearest surface of the service its point goes.
    pub past: Length,
}

/// The maps of all walls with something in them.
pub(super) fn maps(plan: &Plan, runs: &[PlacedRun], walls: impl Iterator<Item = Key>) -> Vec<WallMap> {
    let half = Figures::of_handbook(plan).dim("keep-off-pipe");
    let map = |wall: Key| {
        let of_run = |run: &PlacedRun| -> Vec<Band> {
            let here = run.legs().filter(|[a, b]| a.spot.wall == wall && b.spot.wall == wall);
            let radius = run.outside.length().div_ceil(2);
            let banded = here.filter_map(|[a, b]| {
                let at = |spot: &super::Spot| [spot.along.length(), spot.up.length()];
                let deeps = [a.spot.deep.length(), b.spot.deep.length()];
                let finish = Skin::of(plan, &wall, a.spot.along.length(), a.spot.up.length()).finish;
                let near = deeps[0].max(deeps[1]) + radius;
                let in_wall = deeps[0].min(deeps[1]) - radius < finish.length();
                in_wall.then(|| Band {
                    run: run.key.clone(),
                    kind: run.kind,
                    leg: [a.key.clone(), b.key.clone()],
                    from: at(&a.spot),
                    to: at(&b.spot),
                    half: half.clone(),
                    radius,
                    deep: [near.min(finish.length()), deeps[0].min(deeps[1]) - radius],
                })
            });
            banded.collect()
        };
        let bands: Vec<Band> = runs.iter().flat_map(of_run).collect();
        WallMap { wall, bands }
    };
    walls.map(map).filter(|map| !map.bands.is_empty()).collect()
}

/// The screws that hold units to studs, where the studs are stated.
pub(super) fn screws(plan: &Plan, placement: &Placement, casework: &Casework) -> Vec<WallScrew> {
    let of_unit = |unit: &PlacedUnit| -> Vec<WallScrew> {
        let built = casework.units.iter().find(|built| built.key == unit.key);
        built.map(|built| of_unit(plan, unit, built)).unwrap_or_default()
    };
    placement.units.iter().flat_map(of_unit).collect()
}

/// More studs than a unit can stand before.
const MOST: i64 = 100;

fn of_unit(plan: &Plan, unit: &PlacedUnit, built: &BuiltUnit) -> Vec<WallScrew> {
    let Some(stated) = plan.units.get(&unit.key) else { return Vec::new() };
    let Some((good, length)) = role(plan, stated, Role::HangScrew).and_then(|key| {
        let Form::Fastener { length } = plan.goods.get(key)?.form else { return None };
        let at = Pointer::root().child("goods").child(key).child("form").child("fastener").child("length");
        Some((key.clone(), Dim::taped(length.length, at).named("screw")))
    }) else {
        return Vec::new();
    };
    let Some(studs) = Studs::of(plan, &unit.wall) else { return Vec::new() };
    let behind = studs.behind(&reach(plan, unit));
    let held = |part: &&Part| part.role.starts_with("nailer") || part.role == "ledger";
    let mut screws = Vec::new();
    for part in built.parts.iter().filter(held) {
        let high = part.solid.max[2] - part.solid.min[2];
        let skin = Skin::of(plan, &unit.wall, unit.along.length(), unit.up.length());
        // from the wall's face to the face of the strip that the head is drawn up to
        let before = unit.depth.length() - part.solid.min[1];
        let before = Dim::worked(before, "strip and back", [(part.thickness.clone(), 1.0)]);
        let tip = (&skin.measured + before - &length).named("point of the screw").placed(unit.key.as_str());
        for number in behind.clone().take(usize::try_from(MOST).unwrap_or(usize::MAX)) {
            for quarter in [1, 3] {
                let over = part.solid.min[2] + high.div_floor(4) * quarter;
                let over = Dim::worked(over, "place of its nailer", [(part.width.clone(), 0.25)]);
                screws.push(WallScrew {
                    unit: unit.key.clone(),
                    wall: unit.wall.clone(),
                    along: studs.centre(number),
                    up: (&unit.up + over).named("screw up").placed(unit.key.as_str()),
                    tip: tip.clone(),
                    good: good.clone(),
                });
            }
        }
    }
    screws
}

/// How near a screw may pass to what it must not touch: half of its own thickness and of what it wanders.
const WANDER: Length = Length::inches(0, 1, 4);

/// Every screw that goes so deep and so near that it may meet what is in the wall: of each unit and leg the nearest.
pub(super) fn hits(maps: &[WallMap], screws: &[WallScrew]) -> Vec<Hit> {
    let mut hits: Vec<Hit> = Vec::new();
    for screw in screws {
        let Some(map) = maps.iter().find(|map| map.wall == screw.wall) else { continue };
        for band in &map.bands {
            let off = distance([screw.along.length(), screw.up.length()], band);
            let past = band.deep[0] - screw.tip.length();
            if off >= band.half.length() || past.is_negative() {
                continue;
            }
            let hit = Hit {
                screw: screw.clone(),
                run: band.run.clone(),
                leg: band.leg.clone(),
                off,
                keep: band.half.clone(),
                touches: off <= band.radius + WANDER,
                past,
            };
            let known = hits.iter_mut().find(|known| known.screw.unit == screw.unit && known.run == band.run);
            match known {
                Some(known) if known.off > off => *known = hit,
                Some(_) => {}
                None => hits.push(hit),
            }
        }
    }
    hits
}

/// From a place on the wall to the middle line of a band.
fn distance(at: [Length; 2], band: &Band) -> Length {
    let mm = |point: [Length; 2]| point.map(Length::as_mm_f64);
    let (p, a, b) = (mm(at), mm(band.from), mm(band.to));
    let run = [b[0] - a[0], b[1] - a[1]];
    let long = run[0] * run[0] + run[1] * run[1];
    let part = if long == 0.0 {
        0.0
    } else {
        (((p[0] - a[0]) * run[0] + (p[1] - a[1]) * run[1]) / long).clamp(0.0, 1.0)
    };
    let near = [a[0] + run[0] * part, a[1] + run[1] * part];
    Length::from_mm_f64((p[0] - near[0]).hypot(p[1] - near[1]))
}
