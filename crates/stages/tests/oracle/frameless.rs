//! What is asked of boxes without a frame: equal gaps, plates that meet their hinges, dividers before gaps, bands.

use dryfit_plan::{Role, UnitKind};
use dryfit_stages::casework::{BuiltUnit, Edge, OperationKind, Part};

use crate::boxes::Box3;
use crate::exact::{Check, join, path_of};
use crate::facts::Facts;
use crate::piece::Piece;

impl<'a> Check<'a> {
    fn count(&mut self, what: &str, is: usize, wanted: usize) {
        if is != wanted {
            self.faults.push(format!("{what}: {is}, wanted {wanted}"));
        }
    }

    /// The leaves of all openings, each as one box.
    fn all_leaves(&mut self, unit: &BuiltUnit) -> Vec<Box3> {
        let mut leaves = Vec::new();
        for opening in &unit.openings {
            let own: Vec<Box3> = self
                .fronts(&path_of(&opening.front))
                .into_iter()
                .map(|leaf| leaf.into_iter().map(|piece| piece.whole).reduce(join).expect("pieces"))
                .collect();
            if own.is_empty() {
                self.faults.push(format!("nothing closes the opening {}", opening.front));
            }
            leaves.extend(own);
        }
        leaves.sort_unstable();
        leaves.dedup();
        leaves
    }

    /// Every front has the one gap to its neighbours, and its share of it to the outline of its box.
    pub fn slabs(&mut self, facts: &Facts<'_>, unit: &BuiltUnit) {
        let leaves = self.all_leaves(unit);
        let (gap, sheet) = (facts.figure("front-gap"), facts.thickness(Role::Box));
        let placed = facts.placed;
        let [width, height] = [placed.width.length().nm(), placed.height.length().nm()];
        let box_top = height - self.find("seat").map_or(0, |seat| seat.whole.size(2));
        let under = matches!(facts.kind(), UnitKind::Base | UnitKind::Sink | UnitKind::Bench);
        let half = (gap + 1).div_euclid(2);
        // what closes the box above: a strip on edge behind the fronts of a sink, and of a bench with a lid
        let above = match facts.kind() {
            UnitKind::Sink => facts.figure("stretcher-width"),
            UnitKind::Bench if facts.has_lid() => facts.figure("stretcher-width"),
            _ => sheet,
        };
        let outline = if facts.overlays() {
            [[half, facts.foot() + half], [width - half, box_top - if under { gap } else { half }]]
        } else {
            [[sheet + gap, facts.foot() + sheet + gap], [width - sheet - gap, box_top - above - gap]]
        };
        let meets = |a: &Box3, b: &Box3, axis: usize| a.min[axis] < b.max[axis] && b.min[axis] < a.max[axis];
        for leaf in &leaves {
            for (axis, across, k) in [(0, 2, 0), (2, 0, 1)] {
                let next = leaves
                    .iter()
                    .filter(|other| meets(leaf, other, across) && other.min[axis] >= leaf.max[axis])
                    .map(|other| other.min[axis] - leaf.max[axis])
                    .min();
                let before = leaves
                    .iter()
                    .any(|other| meets(leaf, other, across) && other.max[axis] <= leaf.min[axis]);
                let lax = axis == 2 && facts.has_open();
                if let Some(next) = next
                    && !(lax && next > gap)
                    && (next - gap).abs() > 1
                {
                    self.equal(&format!("gap between fronts along {axis}"), next, gap);
                }
                if next.is_none() && !lax && (outline[1][k] - leaf.max[axis]).abs() > 1 {
                    self.equal(
                        &format!("high edge of the fronts along {axis}"),
                        leaf.max[axis],
                        outline[1][k],
                    );
                }
                if !before && !lax && (leaf.min[axis] - outline[0][k]).abs() > 1 {
                    self.equal(
                        &format!("low edge of the fronts along {axis}"),
                        leaf.min[axis],
                        outline[0][k],
                    );
                }
            }
            let back = if facts.overlays() { 0 } else { leaf.size(1) };
            self.equal("back of a front", leaf.max[1], back);
        }
        for divider in self.named("divider") {
            self.divider(facts, divider, &leaves, box_top);
        }
        let count = self.named("divider").len();
        if count != 0 && count != facts.dividers() {
            self.count("dividers", count, facts.dividers());
        }
    }

    /// A divider stands behind the middle of a gap, from the bottom to what is above it.
    fn divider(&mut self, facts: &Facts<'_>, divider: &Piece, leaves: &[Box3], box_top: i64) {
        let middle = i64::midpoint(divider.whole.min[0], divider.whole.max[0]);
        let ends = leaves
            .iter()
            .filter(|leaf| leaf.min[2] < divider.whole.max[2])
            .filter(|leaf| leaf.min[0] < middle && leaf.max[0] <= middle)
            .map(|leaf| leaf.max[0])
            .max();
        if let Some(end) = ends {
            let gap = facts.figure("front-gap");
            if (end + gap / 2 - middle).abs() > 2 {
                self.equal("divider behind the middle of its gap", middle, end + gap / 2);
            }
        }
        if let Some(bottom) = self.find("bottom") {
            self.gap(bottom, divider, 2, 0);
        }
        let above = self.pieces.iter().filter(|piece| {
            matches!(piece.name.as_str(), "top" | "fixed shelf" | "stretcher" | "stretcher, on edge")
        });
        let nearest = above.filter_map(|piece| divider.gap_to(piece, 2)).min();
        // behind or round a strip on edge it goes up to the top
        let free = divider.whole.max[2] == box_top;
        if !free {
            self.equal("divider under what is above it", nearest.unwrap_or(-1), 0);
        }
        self.equal("front of the divider", divider.whole.min[1], facts.behind());
    }

    /// Every cup has its plate: on an upright beside it, at the same height, on the line behind the front edges.
    pub fn mounts(&mut self, facts: &Facts<'_>) {
        let of = |kind: OperationKind| {
            let holes = |piece: &'a Piece| {
                piece.holes.iter().filter(move |(own, _)| *own == kind).map(move |(_, hole)| (piece, *hole))
            };
            self.pieces.iter().flat_map(holes).collect::<Vec<_>>()
        };
        let (cups, plates) = (of(OperationKind::HingeCup), of(OperationKind::PlateHoles));
        let middle = |hole: &Box3, axis: usize| i64::midpoint(hole.min[axis], hole.max[axis]);
        let line = facts.figure("system-line") + facts.behind();
        self.count("plates for cups", plates.len(), cups.len());
        for (door, cup) in &cups {
            let meets = |(upright, plate): &&(&Piece, Box3)| {
                let near = (upright.whole.min[0] - middle(cup, 0))
                    .abs()
                    .min((upright.whole.max[0] - middle(cup, 0)).abs());
                (middle(plate, 2) - middle(cup, 2)).abs() <= 1 && near < 60_000_000
            };
            match plates.iter().find(meets) {
                Some((_, plate)) => {
                    if (middle(plate, 1) - line).abs() > 1 {
                        self.equal("line of the plates", middle(plate, 1), line);
                    }
                }
                None => self.faults.push(format!("a cup of {} has no plate at its height", door.role)),
            }
        }
        let slides = of(OperationKind::SlideHoles);
        for (upright, hole) in &slides {
            let drawer = self.pieces.iter().any(|piece| {
                piece.name == "drawer side"
                    && piece.whole.min[2] < middle(hole, 2)
                    && middle(hole, 2) < piece.whole.max[2]
            });
            if !drawer {
                self.faults.push(format!("a slide in {} is not at the height of any drawer", upright.role));
            }
        }
    }

    /// What is special to a kind: a bench's seat, a locker's shelf and rail, air and rods in a drying cupboard.
    pub fn kinds(&mut self, facts: &Facts<'_>) {
        match facts.kind() {
            UnitKind::Bench => {
                let (Some(seat), Some(left)) = (self.need("seat"), self.find("side.left")) else { return };
                self.gap(left, seat, 2, 0);
                let before = facts.placed.frame.length().nm() + facts.placed.front.length().nm();
                self.equal(
                    "seat past the fronts",
                    -seat.whole.min[1],
                    before + facts.figure("seat-overhang"),
                );
                self.equal("back of the seat", seat.whole.max[1], facts.placed.depth.length().nm());
            }
            UnitKind::Locker => {
                let Some(top) = self.need("top") else { return };
                let hat = top.whole.min[2] - facts.figure("locker-hat");
                let mut uprights: Vec<&Piece> =
                    ["side", "divider"].into_iter().flat_map(|name| self.named(name)).collect();
                uprights.sort_by_key(|upright| upright.whole.min[0]);
                let shelves = self.named("shelf for hats");
                for shelf in &shelves {
                    self.equal("shelf for hats", shelf.whole.max[2], hat);
                    if let Some(rail) =
                        self.find("nailer.middle").filter(|rail| rail.whole.max[2] > shelf.whole.min[2])
                    {
                        self.equal("rail under the shelf for hats", rail.whole.max[2], shelf.whole.min[2]);
                    }
                    let [Some(left), Some(right)] = [
                        uprights.iter().rposition(|upright| upright.whole.min[0] < shelf.whole.min[0]),
                        uprights.iter().position(|upright| upright.whole.max[0] > shelf.whole.max[0]),
                    ] else {
                        continue;
                    };
                    self.gap(uprights[left], shelf, 0, 0);
                    self.gap(shelf, uprights[right], 0, 0);
                }
                if !shelves.is_empty()
                    && shelves.len() != 1 + self.named("divider").len()
                    && shelves.len() != 1
                {
                    self.count("shelves for hats", shelves.len(), 1 + self.named("divider").len());
                }
            }
            UnitKind::Drying => {
                let (Some(bottom), Some(top), Some(back)) =
                    (self.need("bottom"), self.need("top"), self.need("back"))
                else {
                    return;
                };
                for flat in [bottom, top] {
                    let air = back.whole.min[1] - flat.whole.max[1];
                    self.equal("gap for air", air, facts.figure("vent-gap"));
                }
            }
            _ => {}
        }
    }

    /// Every edge that shows has its band, ends before long edges, and what is cut grows to the part's size by them.
    pub fn bands(&mut self, facts: &Facts<'_>, unit: &BuiltUnit) {
        for part in &unit.parts {
            let (role, edges) = match part.name.as_str() {
                "side" if facts.kind() == UnitKind::Wall => (Role::Box, 2),
                "side" | "bottom" | "top" | "fixed shelf" | "shelf for hats" | "divider" => (Role::Box, 1),
                "stretcher" if part.role == "stretcher.front" => (Role::Box, 1),
                "shelf" => (Role::Shelf, 1),
                "seat" => (Role::Seat, 3),
                "end panel" => (Role::Skin, 1),
                "hook rail" => (Role::Skin, 4),
                "drawer side" | "drawer box front" | "drawer box back" => (Role::DrawerBox, 1),
                "door" | "front" if part.role.ends_with("/face") => (Role::Door, 4),
                _ => (Role::Box, 0),
            };
            let thick = facts.band(role);
            let wanted = if thick > 0 { edges } else { 0 };
            self.count(&format!("bands of {}", part.role), part.bands.len(), wanted);
            self.band_order(part, thick);
        }
    }

    fn band_order(&mut self, part: &Part, thick: i64) {
        let is_end = |edge: Edge| matches!(edge, Edge::LeftEnd | Edge::RightEnd);
        let sizes = [part.length.length().nm(), part.width.length().nm()];
        let cut = part.cut_size().map(|dim| dim.length().nm());
        // put them on, one after the other: each strip covers its edge as it then is
        let mut now = cut;
        let mut long = false;
        for band in &part.bands {
            long |= !is_end(band.edge);
            if long && is_end(band.edge) {
                self.faults.push(format!("{}: an end is banded after a long edge", part.role));
            }
            let (grows, along) = if is_end(band.edge) { (0, 1) } else { (1, 0) };
            if band.length.length().nm() < now[along] {
                self.faults.push(format!("{}: a strip of band is shorter than its edge", part.role));
            }
            self.equal(&format!("thickness of a band on {}", part.role), band.thickness.length().nm(), thick);
            now[grows] += thick;
        }
        for k in 0..2 {
            self.equal(&format!("{} over its bands", part.role), now[k], sizes[k]);
        }
        if let (Some(front), false) = (part.front_edge, part.bands.is_empty())
            && part.bands.iter().all(|band| band.edge != front)
        {
            self.faults.push(format!("{}: its front edge has no band", part.role));
        }
    }
}
