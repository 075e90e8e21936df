//! Cope-and-stick doors and fronts: stiles, rails, a panel in their grooves, hinge cups and pull holes.

use dryfit_measure::{Dim, Length, Mass};
use dryfit_plan::{Form, Hand, Role};

use super::front::{Leaf, role};
use super::hinge;
use super::job::{Job, goods_pointer};
use super::part::{Span, Stock, UPRIGHT_FRONT, WIDE_FRONT, part};
use super::uprights::Grid;
use super::wood;
use super::{Gate, Holes, OperationKind, Part, Purpose};

/// Length of a rail between two stiles, tongues included: door - 2 x stile + 2 x tongue.
pub(super) fn rail_length(door: &Dim, stile: &Dim, tongue: &Dim) -> Dim {
    (door - stile * 2 + tongue * 2).named("rail")
}

/// Whether doors are slabs: the recipe names no panel for them.
pub(super) fn is_slab(job: &Job<'_>) -> bool {
    job.good_key(Role::Panel).is_none()
}

/// A door as it is made, with the centres of its cups from its lower end.
pub(super) struct Door {
    pub(super) parts: Vec<Part>,
    pub(super) cups: Vec<Dim>,
}

/// A slab door in its place, its cups in its own back, its pull near its free edge.
fn slab_door(
    job: &Job<'_>,
    leaf: &Leaf,
    frame: Length,
    shelves: &[[Dim; 2]],
    grid: Option<&Grid>,
) -> Option<Door> {
    let stock = job.stock(Role::Door)?;
    let y = leaf_front(job, frame, stock.thickness.length());
    let [across, upright] = purposes(job, leaf);
    let sizes = [leaf.width.clone(), stock.thick("door"), leaf.height.clone()];
    let slab = part(
        &stock,
        format!("{}/face", role("door", &leaf.path)),
        UPRIGHT_FRONT,
        sizes,
        [leaf.left, y, leaf.bottom.length()],
    )
    .called("door");
    let purposes = if slab.solid.axes[0] == 2 { [upright, across] } else { [across, upright] };
    let slab = slab.serves(purposes[0], purposes[1]).after(Gate::Openings);
    let Some(hand) = leaf.hinge else { return Some(Door { parts: vec![slab], cups: Vec::new() }) };
    let mass = super::mass::of_part(job.plan, &slab);
    let cups = hinge::cups(job, leaf, mass, shelves, grid);
    let slab = cups.iter().fold(slab, |slab, place| hinge::bore(job, slab, hand, place));
    Some(Door { parts: vec![pull_on_door(job, leaf, slab, hand)], cups })
}

/// The pieces of a leaf.
pub(super) struct Pieces {
    pub(super) left: Part,
    pub(super) right: Part,
    pub(super) top: Part,
    pub(super) bottom: Part,
    pub(super) panel: Part,
}

impl Pieces {
    /// In the order of the page.
    pub(super) fn into_parts(self) -> Vec<Part> {
        vec![self.left, self.right, self.top, self.bottom, self.panel]
    }

    fn mass(&self, job: &Job<'_>) -> Mass {
        [&self.left, &self.right, &self.top, &self.bottom, &self.panel]
            .into_iter()
            .map(|part| super::mass::of_part(job.plan, part))
            .sum()
    }
}

/// A door in its place, its hinges clear of these shelves (lower and upper face, in the unit).
///
/// `None` where no good serves its stiles or its panel.
pub(super) fn door(
    job: &Job<'_>,
    leaf: &Leaf,
    frame: Length,
    shelves: &[[Dim; 2]],
    grid: Option<&Grid>,
) -> Option<Door> {
    if is_slab(job) {
        return slab_door(job, leaf, frame, shelves, grid);
    }
    let mut pieces = five_piece(job, leaf, frame, "door", &job.figure("door-rail"))?;
    let Some(hand) = leaf.hinge else {
        return Some(Door { parts: pieces.into_parts(), cups: Vec::new() });
    };
    let cups = hinge::cups(job, leaf, pieces.mass(job), shelves, grid);
    let bored = |stile: Part| {
        cups.iter()
            .fold(stile, |stile, place| hinge::bore(job, stile, hand, place))
            .called("stile, hinge side")
    };
    let pulled = |stile: Part| pull_on_stile(job, leaf, stile).called("stile, pull side");
    let Pieces { left, right, top, bottom, panel } = pieces;
    let (left, right) = match hand {
        Hand::Left => (bored(left), pulled(right)),
        Hand::Right => (pulled(left), bored(right)),
    };
    pieces = Pieces { left, right, top, bottom, panel };
    Some(Door { parts: pieces.into_parts(), cups })
}

/// Whether anything of a panel shows between stiles and rails of these widths.
pub(super) fn has_inside(job: &Job<'_>, leaf: &Leaf, rail: &Dim) -> bool {
    let stiles = job.figure("door-stile").length() * 2;
    leaf.width.length() > stiles && leaf.height.length() > rail.length() * 2
}

/// Stiles, rails and panel of a leaf whose role path begins with `kind`; `None` too where no inside is left.
pub(super) fn five_piece(
    job: &Job<'_>,
    leaf: &Leaf,
    frame: Length,
    kind: &str,
    rail: &Dim,
) -> Option<Pieces> {
    let stock = job.stock(Role::Door)?;
    let panel = job.stock(Role::Panel).filter(|_| has_inside(job, leaf, rail))?;
    let (stile, tongue) = (job.figure("door-stile"), job.figure("door-tongue"));
    let cheek =
        (stock.thick("stile thickness") - panel.thick("panel")).split(2).remove(0).named("face to groove");
    let groove = Span::FromLow(cheek.clone(), &cheek + panel.thick("panel"));
    let y = leaf_front(job, frame, stock.thickness.length());
    let z = leaf.bottom.length();
    let path = |piece: &str| format!("{}/{piece}", role(kind, &leaf.path));
    let [across, upright] = purposes(job, leaf);

    let stile_at = |side: &str, hand: Hand, x: Length| {
        let sizes = [stile.clone(), stock.thick("stile thickness"), leaf.height.clone().named("stile")];
        let inner = match hand {
            Hand::Left => Span::High(tongue.clone()),
            Hand::Right => Span::Low(tongue.clone()),
        };
        let mut piece = part(&stock, path(side), UPRIGHT_FRONT, sizes, [x, y, z])
            .called("stile")
            .serves(upright, Purpose::Mates)
            .after(Gate::Openings)
            .cut(OperationKind::Stick, "groove for panel and tongues", &[inner, groove.clone(), Span::All]);
        piece.hand = Some(hand);
        piece
    };
    let length = rail_length(&leaf.width, &stile, &tongue);
    let x = leaf.left + stile.length() - tongue.length();
    let rail_at = |place: &str, z: Length, inner: Span| {
        let sizes = [length.clone(), stock.thick("stile thickness"), rail.clone()];
        part(&stock, path(place), WIDE_FRONT, sizes, [x, y, z])
            .called("rail")
            .serves(across, Purpose::Mates)
            .after(Gate::Openings)
            .tongue("tongue into the stile", &[Span::Low(tongue.clone()), groove.clone(), Span::All])
            .tongue("tongue into the stile", &[Span::High(tongue.clone()), groove.clone(), Span::All])
            .cut(OperationKind::Stick, "groove for the panel", &[Span::All, groove.clone(), inner])
    };
    let top_z = z + leaf.height.length() - rail.length();
    Some(Pieces {
        left: stile_at("stile.left", Hand::Left, leaf.left),
        right: stile_at("stile.right", Hand::Right, leaf.left + leaf.width.length() - stile.length()),
        top: rail_at("rail.top", top_z, Span::Low(tongue.clone())),
        bottom: rail_at("rail.bottom", z, Span::High(tongue.clone())),
        panel: panel_of(job, leaf, &panel, [&stile, rail, &tongue], y + cheek.length(), path("panel")),
    })
}

/// The panel: what is free between the grooves' bottoms, less the gap on each side and, for solid wood, what it
/// may still swell across its grain.
fn panel_of(job: &Job<'_>, leaf: &Leaf, stock: &Stock, by: [&Dim; 3], y: Length, role: String) -> Part {
    let [stile, rail, tongue] = by;
    let gap = job.figure("door-panel-gap");
    let free = |over_all: &Dim, edge: &Dim| over_all - edge * 2 + tongue * 2 - &gap * 2;
    let clear = (&leaf.width - stile * 2).named("inside of the door");
    let swell = wood::movement(stock, &clear);
    let width = match &swell {
        Some(swell) => free(&leaf.width, stile) - swell,
        None => free(&leaf.width, stile),
    };
    let half = swell.map_or(Length::ZERO, |swell| swell.length().div_floor(2));
    let x = leaf.left + stile.length() - tongue.length() + gap.length() + half;
    let z = leaf.bottom.length() + rail.length() - tongue.length() + gap.length();
    let sizes =
        [width.named("panel width"), stock.thick("panel"), free(&leaf.height, rail).named("panel length")];
    part(stock, role, UPRIGHT_FRONT, sizes, [x, y, z])
        .called("panel")
        .serves(Purpose::Into, Purpose::Into)
        .after(Gate::Openings)
}

/// The front face of a leaf of this thickness: on the frame, or flush with it.
pub(super) fn leaf_front(job: &Job<'_>, frame: Length, thickness: Length) -> Length {
    if job.overlays() { -frame - thickness } else { -frame }
}

/// What the width and the height of a leaf are for: a lap covers; inset, or beside another, it goes in.
pub(super) fn purposes(job: &Job<'_>, leaf: &Leaf) -> [Purpose; 2] {
    let lap = if job.overlays() { Purpose::Covers } else { Purpose::Into };
    [if leaf.paired { Purpose::Into } else { lap }, lap]
}

/// The holes of a pull on the stile: in its middle.
fn pull_on_stile(job: &Job<'_>, leaf: &Leaf, stile: Part) -> Part {
    let line = job.figure("door-stile").split(2).remove(0);
    drill_pull(job, stile, Span::at(line), pull_height(job, leaf), 2)
}

/// The holes of a pull on a slab door: as far from its free edge as from a stile's.
fn pull_on_door(job: &Job<'_>, leaf: &Leaf, door: Part, hinge: Hand) -> Part {
    let line = job.figure("door-stile").split(2).remove(0);
    let line = if hinge == Hand::Left { Span::at_high(line) } else { Span::at(line) };
    drill_pull(job, door, line, pull_height(job, leaf), 2)
}

/// How high the middle of a pull is on its door: near the end that the hand reaches first.
fn pull_height(job: &Job<'_>, leaf: &Leaf) -> Dim {
    let reach = job.figure("pull-reach").length();
    let low = job.placed.up.length() + leaf.bottom.length();
    let high = low + leaf.height.length();
    let from_end = Dim::least([job.figure("pull-from-end"), leaf.height.split(2).remove(0)]);
    let near_top = (high - reach).abs() <= (low - reach).abs();
    if near_top { &leaf.height - &from_end } else { from_end }
}

/// The holes of a pull that lies along a front, in its middle.
pub(super) fn pull_on_front(job: &Job<'_>, front: Part) -> Part {
    let centre = front.size(0).split(2).remove(0);
    let line = Span::at(front.size(2).split(2).remove(0));
    drill_pull(job, front, line, centre, 0)
}

/// Drills for the pull that serves this unit, its row along unit axis `axis` about `centre`.
fn drill_pull(job: &Job<'_>, part: Part, line: Span, centre: Dim, axis: usize) -> Part {
    let Some(Form::Pull { centres, .. }) = job.good(Role::Pull).map(|good| &good.form) else { return part };
    let at =
        job.good_key(Role::Pull).map(|key| goods_pointer(key).child("form").child("pull").child("centres"));
    let (row, count, pitch) = match (centres, at) {
        (Some(centres), Some(at)) => {
            let pitch = Dim::taped(centres.length, at).named("pull centres");
            let low = &centre - pitch.split(2).remove(0);
            let high = &low + &pitch;
            (Span::FromLow(low, high), 2, pitch)
        }
        _ => (Span::at(centre), 1, Dim::zero()),
    };
    if pitch.length() + job.figure("pull-bit").length() * 2 >= part.size(axis as u8).length() {
        return part;
    }
    let mut spans = [line.clone(), Span::All, line];
    spans[axis] = row;
    let holes = Holes { count, pitch, bit: job.figure("pull-bit") };
    part.drill(OperationKind::PullHoles, "for the pull", &spans, holes)
}

#[cfg(test)]
mod tests {
    use dryfit_measure::Pointer;

    use super::*;

    /// Half a nanometre in inches: the opening less its gaps is an odd number of them.
    const HALF_NM: f64 = 0.51 / 25.4e6;

    #[test]
    fn a_published_pair_of_doors() {
        // C-door2-leaf, C-door2-rail: opening 40 in, gaps 5/64 in, stiles 4 3/8, tongues 1/2 ("Sizing Cabinet
        // Doors to Tolerances", a woodworking trade site): leaf 19.8828125, rail 12.1328125 (printed 12.13281)
        let dim = |length: Length| Dim::taped(length, Pointer::root().child("tested"));
        let gap = dim(Length::inches(0, 5, 64));
        let [leaf, other] = super::super::front::pair_leaves(&dim(Length::inches(40, 0, 1)), &-&gap, &gap);
        assert!((leaf.length() - other.length()).abs() <= Length::from_nm(1)); // an odd nanometre
        assert!((leaf.length().as_inches_f64() - 19.882_812_5).abs() < HALF_NM);
        let rail = rail_length(&leaf, &dim(Length::inches(4, 3, 8)), &dim(Length::inches(0, 1, 2)));
        assert!((rail.length().as_inches_f64() - 12.132_812_5).abs() < HALF_NM);
    }
}
