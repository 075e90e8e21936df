//! Boxes: where they are, what covers them, how far they have to stand out, and whether what is in them fits.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key, Pointer, Volume};
use dryfit_plan::{BoxPurpose, Capacity, Form, Node, OutletBox, Plan, Service, UnitKind};

use super::code::Rules;
use super::skin::Skin;
use super::ways::{NodeKind, Spot, spot};
use crate::placement::{PlacedUnit, Placement};
use crate::survey::Survey;

/// One box.
#[derive(Clone, Debug)]
pub struct PlacedBox {
    /// Its key.
    pub key: Key,
    /// What it is for.
    pub purpose: BoxPurpose,
    /// Whether it was there before.
    pub found: bool,
    /// Its centre.
    pub spot: Spot,
    /// Left to right and bottom to top; none where its good is not known.
    pub size: Option<[Dim; 2]>,
    /// How far its front edge stands out from the framing, where that is stated.
    pub proud: Option<Dim>,
    /// How far it has to, to be flush with the finish.
    pub flush: Dim,
    /// Units on its wall that cover it.
    pub behind: Vec<Key>,
    /// What is in it; none where its good is not known, or nothing goes into it.
    pub fill: Option<Fill>,
}

impl PlacedBox {
    /// Its lower, upper, left or right edge: half its size to one side of its centre.
    pub(crate) fn edge(&self, axis: usize, sign: i64) -> Dim {
        let centre = if axis == 0 { &self.spot.along } else { &self.spot.up };
        match &self.size {
            Some(size) => centre + size[axis].split(2).swap_remove(0) * sign,
            None => centre.clone(),
        }
    }

    /// Whether it is in a wall, and not in a ceiling or out in the room.
    pub fn is_in_wall(&self) -> bool {
        self.spot.deep.length() <= self.flush.length()
    }
}

/// What takes up room in a box, thousandths of a cubic inch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fill {
    /// Insulated conductors that come in.
    pub conductors: u32,
    /// All grounds together count as one conductor.
    pub grounds: bool,
    /// All clamps together count as one conductor.
    pub clamps: bool,
    /// Straps; each counts as two conductors.
    pub yokes: u32,
    /// All of it.
    pub needed: u32,
    /// What the box holds.
    pub holds: Capacity,
}

impl Fill {
    /// What is needed, as it would be stamped.
    pub fn capacity(&self) -> Capacity {
        Capacity::cubic_inches(self.needed)
    }

    /// Whether it goes in.
    pub fn fits(&self) -> bool {
        self.capacity().volume() <= self.holds.volume()
    }

    /// What is missing.
    pub fn short(&self) -> Volume {
        self.capacity().volume() - self.holds.volume()
    }
}

/// Conductors by gauge, with whatever else counts, against the table of the electrical code; none for a gauge that
/// is not in it. All grounds, and all clamps, count as the largest conductor; a strap as two of them.
pub fn fill(
    rules: &Rules,
    conductors: &BTreeMap<u8, u32>,
    (grounds, clamps, yokes): (bool, bool, u32),
    holds: Capacity,
) -> Option<Fill> {
    let table = &rules.wiring().fill;
    let mut needed = 0_u32;
    let mut largest = 0_u32;
    for (gauge, count) in conductors {
        let each = table.conductor(*gauge)?;
        needed = needed.saturating_add(each.saturating_mul(*count));
        largest = largest.max(each);
    }
    let extra = u32::from(grounds) + u32::from(clamps) + yokes.saturating_mul(2);
    needed = needed.saturating_add(largest.saturating_mul(extra));
    let conductors = conductors.values().fold(0_u32, |sum, count| sum.saturating_add(*count));
    Some(Fill { conductors, grounds, clamps, yokes, needed, holds })
}

/// Every box.
pub(super) fn boxes(plan: &Plan, rules: &Rules, survey: &Survey, placement: &Placement) -> Vec<PlacedBox> {
    let placed = |(key, service): (&Key, &Service)| {
        let Service::Box(outlet) = service else { return None };
        let at = super::service_at(key, service);
        let place = at.child("at");
        let mut spot = spot(plan, survey, &outlet.at, &place, NodeKind::At)?;
        let skin = Skin::of(plan, &spot.wall, spot.along.length(), spot.up.length());
        if outlet.at.out.is_none() {
            spot.deep = skin.finish.clone();
        }
        let size = size(plan, outlet);
        let proud = outlet.proud.map(|proud| {
            Dim::chosen(proud.length, at.child("proud")).named("box past the framing").placed(key.as_str())
        });
        let mut placed = PlacedBox {
            key: key.clone(),
            purpose: outlet.purpose,
            found: outlet.found,
            spot,
            size,
            proud,
            flush: skin.finish.named("finish past the framing").placed(key.as_str()),
            behind: Vec::new(),
            fill: fill_of(plan, rules, key, outlet),
        };
        placed.behind = covered(placement, &placed);
        Some(placed)
    };
    plan.services.iter().filter_map(placed).collect()
}

fn size(plan: &Plan, outlet: &OutletBox) -> Option<[Dim; 2]> {
    let (key, good) = plan.goods.get_key_value(outlet.good.as_ref()?)?;
    let Form::Box { width, height, .. } = &good.form else { return None };
    let at = Pointer::root().child("goods").child(key).child("form").child("box");
    let taped = |length, name: &'static str| {
        Dim::taped(length, at.child(name)).named(name).placed(good.name.as_str())
    };
    Some([taped(width.length, "width"), taped(height.length, "height")])
}

fn covered(placement: &Placement, placed: &PlacedBox) -> Vec<Key> {
    if !placed.is_in_wall() {
        return Vec::new();
    }
    let covers = |unit: &&PlacedUnit| {
        unit.wall == placed.spot.wall
            && unit.kind != UnitKind::Gap
            && unit.along.length() < placed.edge(0, 1).length()
            && unit.right().length() > placed.edge(0, -1).length()
            && unit.up.length() < placed.edge(1, 1).length()
            && unit.top().length() > placed.edge(1, -1).length()
    };
    placement.units.iter().filter(covers).map(|unit| unit.key.clone()).collect()
}

fn fill_of(plan: &Plan, rules: &Rules, key: &Key, outlet: &OutletBox) -> Option<Fill> {
    let Form::Box { volume, clamps, .. } = &plan.goods.get(outlet.good.as_ref()?)?.form else { return None };
    let mut conductors: BTreeMap<u8, u32> = BTreeMap::new();
    let (mut grounds, mut cables) = (false, 0_u32);
    for service in plan.services.values() {
        let Service::Cable(run) = service else { continue };
        let Some(Form::Cable { gauge, conductors: wires, grounds: bare, .. }) =
            plan.goods.get(&run.good).map(|good| &good.form)
        else {
            continue;
        };
        let ends = entries(&run.order, |node| run.nodes.get(node) == Some(&Node::Box(key.clone())));
        if ends > 0 {
            *conductors.entry(*gauge).or_default() += ends.saturating_mul(u32::from(*wires));
            grounds |= *bare > 0;
            cables += ends;
        }
    }
    if cables == 0 {
        return None;
    }
    let yokes = outlet.devices.iter().filter_map(|good| match plan.goods.get(good)?.form {
        Form::Device { yokes, .. } => Some(u32::from(yokes)),
        _ => None,
    });
    fill(rules, &conductors, (grounds, *clamps, yokes.sum()), *volume)
}

/// How many ends of a cable are in a box: one where it ends there, two where it goes on.
pub(super) fn entries(order: &[Key], is_box: impl Fn(&Key) -> bool) -> u32 {
    let last = order.len().saturating_sub(1);
    let ends = |i: usize| u32::from(i > 0) + u32::from(i < last);
    order.iter().enumerate().filter(|(_, node)| is_box(node)).map(|(i, _)| ends(i)).sum()
}
