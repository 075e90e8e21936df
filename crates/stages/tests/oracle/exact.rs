//! On exact sizes: nothing overlaps, every joint's gap is its allowance, the outside is as stated.

use dryfit_measure::Length;
use dryfit_plan::{BackJoint, Hand, Role, UnitKind};
use dryfit_stages::casework::{BuiltUnit, Edge, Face, OperationKind, Part};

use crate::boxes::Box3;
use crate::facts::Facts;
use crate::piece::{Piece, overlaps};

/// What is wrong with a unit, a line each.
pub fn faults(facts: &Facts<'_>, unit: &BuiltUnit, pieces: &[Piece]) -> Vec<String> {
    let mut faults: Vec<String> = pieces.iter().flat_map(|piece| piece.faults.clone()).collect();
    let whole = |piece: &Piece| [piece.whole.min, piece.whole.max];
    faults.extend(pieces.iter().filter(|piece| whole(piece) != piece.extents).map(|piece| {
        format!("{}: its sizes are not those of its place: {:?} {:?}", piece.role, piece.whole, piece.extents)
    }));
    faults.extend(overlaps(pieces));
    let own: Vec<i128> = unit
        .parts
        .iter()
        .map(|part| {
            let corner = |at: [Length; 3]| at.map(Length::nm);
            let whole = Box3 { min: corner(part.solid.min), max: corner(part.solid.max) };
            let cut: Vec<Box3> =
                part.solid.cut.iter().map(|cut| Box3 { min: corner(cut[0]), max: corner(cut[1]) }).collect();
            crate::boxes::left_of(whole, &cut).iter().map(Box3::volume).sum()
        })
        .collect();
    for (piece, volume) in pieces.iter().zip(own) {
        let left: i128 = piece.left.iter().map(Box3::volume).sum();
        if left != volume {
            faults.push(format!("{}: its operations leave {left}, its solid says {volume}", piece.role));
        }
    }
    faults.extend(unit.parts.iter().flat_map(lies));
    let mut check = Check { pieces, faults };
    check.outside(facts, unit);
    match facts.kind() {
        UnitKind::FloatingShelf => check.floating(facts),
        _ if facts.is_box() => {
            check.carcass(facts);
            if facts.framed() {
                check.frame(facts);
            }
            check.shelves(facts);
            check.toe(facts);
            check.kinds(facts);
        }
        _ => {}
    }
    if facts.framed() {
        check.leaves(facts, unit);
    } else {
        check.slabs(facts, unit);
        check.mounts(facts);
    }
    check.panels(facts);
    check.bands(facts, unit);
    check.drawers(facts, unit);
    let even = unit.overhang[0].length() == unit.overhang[1].length();
    check.mirrors(even);
    check.cups(facts);
    check.faults
}

/// The pieces that a leaf is made of.
const LEAF: [&str; 6] = ["stile.left", "stile.right", "rail.top", "rail.bottom", "panel", "face"];

pub struct Check<'a> {
    pub pieces: &'a [Piece],
    pub faults: Vec<String>,
}

impl<'a> Check<'a> {
    pub fn find(&self, role: &str) -> Option<&'a Piece> {
        self.pieces.iter().find(|piece| piece.role == role)
    }

    pub fn need(&mut self, role: &str) -> Option<&'a Piece> {
        let found = self.find(role);
        if found.is_none() {
            self.faults.push(format!("there is no {role}"));
        }
        found
    }

    pub fn named(&self, name: &str) -> Vec<&'a Piece> {
        self.pieces.iter().filter(|piece| piece.name == name).collect()
    }

    pub fn equal(&mut self, what: &str, is: i64, wanted: i64) {
        if is != wanted {
            self.faults.push(format!("{what}: {} mm, wanted {} mm", is as f64 / 1e6, wanted as f64 / 1e6));
        }
    }

    /// The gap between two pieces along an axis is this; they must face each other.
    pub fn gap(&mut self, a: &Piece, b: &Piece, axis: usize, wanted: i64) {
        match a.gap_to(b, axis) {
            Some(gap) => self.equal(&format!("gap from {} to {} along {axis}", a.role, b.role), gap, wanted),
            None => self.faults.push(format!("{} does not face {} along {axis}", a.role, b.role)),
        }
    }

    /// The stated outside, over everything but fronts that lap the frame.
    fn outside(&mut self, facts: &Facts<'_>, unit: &BuiltUnit) {
        let fixed = self.pieces.iter().filter(|piece| !piece.gated);
        let Some(over) = fixed.map(|piece| piece.whole).reduce(|a, b| Box3 {
            min: [0, 1, 2].map(|k| a.min[k].min(b.min[k])),
            max: [0, 1, 2].map(|k| a.max[k].max(b.max[k])),
        }) else {
            self.faults.push("there are no parts".into());
            return;
        };
        let placed = facts.placed;
        let [left, right] = [0, 1].map(|k| unit.overhang[k].length().nm());
        self.equal("left edge", over.min[0], -left);
        let thin = facts.kind() == UnitKind::EndPanel;
        let width = if thin { facts.thickness(Role::Skin) } else { placed.width.length().nm() };
        self.equal("width over all", over.size(0), width);
        self.equal("bottom", over.min[2], 0);
        self.equal("height over all", over.max[2], placed.height.length().nm());
        if facts.is_box() {
            let seat = self.find("seat").map_or(0, |seat| -seat.whole.min[1]);
            self.equal("front of the frame", over.min[1], -facts.frame().max(seat));
            self.equal("depth of the box", over.max[1], placed.depth.length().nm());
            if let (Some(l), Some(r)) = (self.need("side.left"), self.need("side.right")) {
                self.equal("box width", r.whole.max[0] - l.whole.min[0], width - left - right);
            }
        }
        if facts.kind() == UnitKind::FloatingShelf {
            self.equal("front of the shelf", over.min[1], 0);
            self.equal("back of the shelf", over.max[1], placed.depth.length().nm());
        }
    }

    fn carcass(&mut self, facts: &Facts<'_>) {
        let (Some(left), Some(right)) = (self.need("side.left"), self.need("side.right")) else { return };
        let sheet = facts.thickness(Role::Box);
        let between = self.pieces.iter().filter(|p| {
            matches!(
                p.name.as_str(),
                "bottom" | "top" | "fixed shelf" | "stretcher" | "stretcher, on edge" | "nailer" | "rod"
            )
        });
        for piece in between {
            self.gap(left, piece, 0, 0);
            self.gap(piece, right, 0, 0);
            let flat = matches!(piece.name.as_str(), "bottom" | "top" | "fixed shelf");
            let reach = if flat && facts.dadoed() { facts.figure("bottom-dado-depth") } else { 0 };
            self.equal(
                &format!("{} into the left side", piece.role),
                left.whole.min[0] + sheet - piece.whole.min[0],
                reach,
            );
        }
        let rail = if facts.framed() { facts.figure("frame-rail").max(sheet) } else { sheet };
        let foot = facts.foot();
        if let Some(bottom) = self.need("bottom") {
            self.equal("bottom flush with its rail", bottom.whole.max[2], foot + rail);
        }
        let Some(back) = self.need("back") else { return };
        let (deep, play) = match facts.back() {
            BackJoint::Groove => (facts.figure("back-groove-depth"), facts.figure("back-play")),
            BackJoint::Rabbet => (facts.figure("back-rabbet-depth"), facts.figure("back-play")),
            BackJoint::Applied => (0, 0),
        };
        if facts.back() != BackJoint::Applied {
            self.gap(left, back, 0, play);
            self.gap(back, right, 0, play);
            self.equal("back into the left side", left.whole.min[0] + sheet - back.whole.min[0], deep - play);
        } else if let Some(gap) = left.gap_to(back, 1) {
            self.equal("back on the edge of the side", gap, 0);
        } else {
            self.faults.push("the back does not lie on the side".into());
        }
        if facts.kind() == UnitKind::Drying {
            return;
        }
        let holders = [Some(left), Some(right), self.find("bottom"), self.find("top")];
        for holder in holders.into_iter().flatten().filter(|_| facts.back() == BackJoint::Groove) {
            self.gap(holder, back, 1, 0);
            self.gap(back, holder, 1, 0);
        }
        if facts.back() == BackJoint::Groove
            && let Some(bottom) = self.find("bottom")
        {
            self.gap(bottom, back, 2, play);
            let inset = facts.placed.depth.length().nm() - back.whole.max[1];
            self.equal("back from the back edge", inset, facts.figure("back-groove-inset"));
            if let Some(top) = self.find("top") {
                self.gap(back, top, 2, play);
            }
        }
    }

    fn frame(&mut self, facts: &Facts<'_>) {
        let (Some(left), Some(right)) = (self.need("frame/stile.left"), self.need("frame/stile.right"))
        else {
            return;
        };
        for rail in self.named("frame rail") {
            self.gap(left, rail, 0, 0);
            self.gap(rail, right, 0, 0);
        }
        let foot = facts.foot();
        self.equal("foot of the frame", left.whole.min[2], foot);
        if let Some(side) = self.find("side.left") {
            self.equal("frame on the box", side.whole.min[1], left.whole.max[1]);
        }
        let mut rails = self.named("frame rail");
        rails.sort_by_key(|rail| rail.whole.min[2]);
        let bottom = rails.first().map(|rail| rail.whole.min[2] - foot);
        self.equal("lowest rail", bottom.unwrap_or(-1), 0);
        let seat = self.find("seat").map_or(0, |seat| seat.whole.size(2));
        let top = rails.last().map(|rail| facts.placed.height.length().nm() - seat - rail.whole.max[2]);
        self.equal("topmost rail", top.unwrap_or(-1), 0);
        for mid in self.named("mid stile") {
            let near = |above: bool| {
                rails
                    .iter()
                    .filter_map(|rail| if above { mid.gap_to(rail, 2) } else { rail.gap_to(mid, 2) })
                    .min()
            };
            self.equal("mid stile on its rail", near(false).unwrap_or(-1), 0);
            self.equal("mid stile under its rail", near(true).unwrap_or(-1), 0);
            let sides = (mid.whole.min[0] - left.whole.max[0]) - (right.whole.min[0] - mid.whole.max[0]);
            if sides.abs() > 1 {
                self.equal("mid stile off the middle", sides, 0);
            }
        }
    }

    fn shelves(&mut self, facts: &Facts<'_>) {
        let (Some(left), Some(right)) = (self.find("side.left"), self.find("side.right")) else { return };
        let play = facts.figure("shelf-side-play");
        let mut uprights = vec![left, right];
        uprights.extend(self.named("divider"));
        uprights.sort_by_key(|upright| upright.whole.min[0]);
        for shelf in self.named("shelf") {
            let beside = |upright: &&&Piece| upright.whole.max[2] > shelf.whole.min[2];
            let uprights: Vec<&Piece> = uprights.iter().filter(beside).copied().collect();
            let place =
                uprights.iter().rposition(|upright| upright.whole.min[0] < shelf.whole.min[0]).unwrap_or(0);
            let [Some(left), Some(right)] = [uprights.get(place), uprights.get(place + 1)] else { continue };
            self.gap(left, shelf, 0, play);
            self.gap(shelf, right, 0, play);
            let setback = facts.figure("shelf-front-setback") + facts.behind();
            self.equal("shelf setback", shelf.whole.min[1], setback);
            if let Some(back) = self.find("back") {
                self.equal("shelf to back", back.whole.min[1] - shelf.whole.max[1], 0);
            }
            // it lies on pins: their upper edge is its lower face
            for side in [left, right] {
                let under = side
                    .holes
                    .iter()
                    .filter(|(kind, _)| *kind == OperationKind::PinHoles)
                    .any(|(_, row)| row.min[2] < shelf.whole.min[2] && shelf.whole.min[2] <= row.max[2]);
                if !under {
                    self.faults.push(format!("{} lies on no pin in {}", shelf.role, side.role));
                }
            }
        }
    }

    fn toe(&mut self, facts: &Facts<'_>) {
        if facts.kind() == UnitKind::Wall {
            return;
        }
        let (Some(toe), Some(left)) = (self.need("toe"), self.find("side.left")) else { return };
        let (height, depth) = (facts.foot(), facts.figure("toe-depth"));
        self.equal("toe board height", toe.whole.size(2), height);
        self.equal("toe board depth", toe.whole.max[1], depth);
        if facts.raised() {
            self.equal("side on its base", left.whole.min[2], height);
        } else {
            self.gap(toe, left, 1, 0);
        }
    }

    /// Doors, drawer fronts and fixed fronts against their openings, and their own joints.
    fn leaves(&mut self, facts: &Facts<'_>, unit: &BuiltUnit) {
        let lap =
            if facts.overlays() { facts.figure("door-overlay") } else { -facts.figure("door-inset-gap") };
        let between =
            if facts.overlays() { facts.figure("door-pair-gap") } else { facts.figure("door-inset-gap") };
        for opening in &unit.openings {
            let path = path_of(&opening.front);
            let leaves: Vec<Box3> = self
                .fronts(&path)
                .into_iter()
                .map(|leaf| leaf.into_iter().map(|piece| piece.whole).reduce(join).expect("pieces"))
                .collect();
            let [left, bottom] = opening.at.map(Length::nm);
            let right = left + opening.width.length().nm();
            let top = bottom + opening.height.length().nm();
            let Some(over) = leaves.iter().copied().reduce(join) else {
                self.faults.push(format!("nothing closes the opening {}", opening.front));
                continue;
            };
            self.equal("lap on the left", left - over.min[0], lap);
            self.equal("lap on the right", over.max[0] - right, lap);
            self.equal("lap below", bottom - over.min[2], lap);
            self.equal("lap above", over.max[2] - top, lap);
            if let [a, b] = leaves.as_slice() {
                let (a, b) = if a.min[0] < b.min[0] { (a, b) } else { (b, a) };
                self.equal("gap of the pair", b.min[0] - a.max[0], between);
                if (a.size(0) - b.size(0)).abs() > 1 {
                    self.equal("a pair of unequal doors", a.size(0), b.size(0));
                }
            }
            let frame = facts.frame();
            let wanted = if facts.overlays() { -frame } else { -frame + over.size(1) };
            self.equal("back of the front", over.max[1], wanted);
        }
    }

    /// The joints of stiles, rails and panels.
    fn panels(&mut self, facts: &Facts<'_>) {
        let stiles: Vec<&Piece> =
            self.pieces.iter().filter(|p| p.gated && p.role.ends_with("/stile.left")).collect();
        for stile in stiles {
            let front = stile.role.trim_end_matches("/stile.left");
            let piece = |name: &str| self.find(&format!("{front}/{name}"));
            let (Some(right), Some(top), Some(bottom), Some(panel)) =
                (piece("stile.right"), piece("rail.top"), piece("rail.bottom"), piece("panel"))
            else {
                self.faults.push(format!("{front} lacks a piece"));
                continue;
            };
            let tongue = facts.figure("door-tongue");
            for rail in [top, bottom] {
                self.equal("tongue into the left stile", stile.whole.max[0] - rail.whole.min[0], tongue);
                self.equal("tongue into the right stile", rail.whole.max[0] - right.whole.min[0], tongue);
                self.gap(stile, rail, 0, 0);
                self.gap(rail, right, 0, 0);
                self.gap(stile, rail, 1, 0);
            }
            let gap = facts.figure("door-panel-gap");
            let clear = right.whole.min[0] - stile.whole.max[0];
            let moves = facts.panel_movement(clear);
            let half = moves / 2;
            self.gap(stile, panel, 0, gap + half);
            self.gap(panel, right, 0, gap + moves - half);
            self.gap(bottom, panel, 2, gap);
            self.gap(panel, top, 2, gap);
            self.gap(stile, panel, 1, 0);
            self.gap(panel, stile, 1, 0);
        }
    }

    /// The leaves that close an opening: for each its pieces.
    pub fn fronts(&self, path: &str) -> Vec<Vec<&'a Piece>> {
        let mut found: Vec<(String, Vec<&Piece>)> = Vec::new();
        for piece in self.pieces.iter().filter(|piece| piece.gated) {
            let Some((front, name)) = piece.role.split_once('/') else { continue };
            if !LEAF.contains(&name) {
                continue;
            }
            let rest = ["door", "drawer", "fixed"].iter().find_map(|kind| front.strip_prefix(kind));
            let of_pair = |side: &str| rest.and_then(|rest| rest.strip_suffix(side)) == Some(path);
            if rest == Some(path) || of_pair(".left") || of_pair(".right") {
                match found.iter_mut().find(|(key, _)| key == front) {
                    Some((_, pieces)) => pieces.push(piece),
                    None => found.push((front.to_owned(), vec![piece])),
                }
            }
        }
        found.into_iter().map(|(_, pieces)| pieces).collect()
    }

    fn drawers(&mut self, facts: &Facts<'_>, unit: &BuiltUnit) {
        for opening in &unit.openings {
            let path = path_of(&opening.front);
            let piece = |name: &str| self.find(&format!("drawer{path}/{name}"));
            let (Some(left), Some(right)) = (piece("side.left"), piece("side.right")) else { continue };
            let (Some(front), Some(back), Some(bottom)) = (piece("front"), piece("back"), piece("bottom"))
            else {
                self.faults.push(format!("the drawer {} lacks a piece", opening.front));
                continue;
            };
            let Some([length, each, off, behind]) =
                facts.slides().into_iter().find(|slide| slide[0] == left.whole.size(1))
            else {
                self.faults.push("no slide is as long as the drawer".into());
                continue;
            };
            let x = opening.at[0].nm();
            self.equal("slide on the left", left.whole.min[0] - x, each);
            self.equal("slide on the right", x + opening.width.length().nm() - right.whole.max[0], each);
            self.equal("drawer box height", left.whole.size(2), opening.height.length().nm() - off);
            self.equal("drawer box depth", back.whole.max[1] - front.whole.min[1], length);
            let rear = self
                .pieces
                .iter()
                .filter(|p| matches!(p.name.as_str(), "back" | "nailer" | "stretcher"))
                .filter_map(|p| back.gap_to(p, 1))
                .min();
            if rear.is_some_and(|free| free < behind) {
                self.equal("free behind the drawer", rear.unwrap_or(0), behind);
            }
            let play = facts.figure("drawer-bottom-play");
            for (a, b, axis) in [(left, bottom, 0), (bottom, right, 0), (front, bottom, 1), (bottom, back, 1)]
            {
                self.gap(a, b, axis, play);
            }
            self.gap(left, front, 0, 0);
            self.gap(back, right, 0, 0);
            let up = bottom.whole.min[2] - left.whole.min[2];
            self.equal("drawer bottom above the lower edge", up, facts.figure("drawer-bottom-groove-up"));
            for side in [left, right] {
                self.gap(side, bottom, 2, 0);
                self.gap(bottom, side, 2, 0);
            }
        }
    }

    fn floating(&mut self, facts: &Facts<'_>) {
        let (Some(top), Some(ledger), Some(front)) =
            (self.need("skin.top"), self.need("ledger"), self.need("front"))
        else {
            return;
        };
        self.gap(front, top, 1, 0);
        self.gap(ledger, top, 2, 0);
        let play = facts.figure("ledger-play");
        for arm in self.named("arm") {
            self.gap(arm, ledger, 1, 0);
            self.gap(front, arm, 1, play);
            self.gap(arm, top, 2, 0);
        }
        for end in self.named("end") {
            match end.hand {
                Some(Hand::Left) => self.gap(end, ledger, 0, play),
                _ => self.gap(ledger, end, 0, play),
            }
        }
    }

    /// Parts with a hand come in mirrored pairs: boxes, and what is taken from them.
    fn mirrors(&mut self, even: bool) {
        for left in self.pieces.iter().filter(|piece| piece.hand == Some(Hand::Left)) {
            let Some(role) = left.role.contains(".left").then(|| replace_last(&left.role, ".left", ".right"))
            else {
                self.faults.push(format!("{} has a hand and does not say so", left.role));
                continue;
            };
            let Some(right) = self.find(&role) else {
                // a floating shelf may end free on one side only; beside a wall there is less to pack out
                if left.name != "end" && (even || left.name != "slide cleat") {
                    self.faults.push(format!("{} has no mirror image", left.role));
                }
                continue;
            };
            if left.name == "slide cleat" && !even {
                continue;
            }
            let about = left.whole.min[0] + right.whole.max[0];
            let sorted = |mut boxes: Vec<Box3>| {
                boxes.sort_unstable();
                boxes
            };
            let image = |boxes: &[Box3]| sorted(boxes.iter().map(|part| part.mirrored(about)).collect());
            if left.whole.mirrored(about) != right.whole || image(&left.gone) != sorted(right.gone.clone()) {
                self.faults.push(format!("{} is not the mirror image of {role}", left.role));
            }
            if left.name == "side" {
                // plates are where a door hangs, which may be on one side only
                let both = |(kind, _): &&(OperationKind, Box3)| *kind != OperationKind::PlateHoles;
                let holes = |piece: &Piece| {
                    piece.holes.iter().filter(both).map(|(_, hole)| *hole).collect::<Vec<_>>()
                };
                if image(&holes(left)) != sorted(holes(right)) {
                    self.faults.push(format!("the holes of {} are not mirrored in {role}", left.role));
                }
            }
        }
    }

    /// Hinge cups miss shelves, and stay clear of the groove.
    fn cups(&mut self, facts: &Facts<'_>) {
        let clear = facts.figure("hinge-shelf-clear");
        let shelves: Vec<&Piece> = self
            .pieces
            .iter()
            .filter(|piece| matches!(piece.name.as_str(), "shelf" | "fixed shelf" | "shelf for hats"))
            .collect();
        for stile in self.pieces.iter().filter(|piece| piece.gated) {
            for (_, cup) in stile.holes.iter().filter(|(kind, _)| *kind == OperationKind::HingeCup) {
                let centre = i64::midpoint(cup.min[2], cup.max[2]);
                let hit = shelves
                    .iter()
                    .find(|shelf| shelf.whole.min[2] - clear < centre && centre < shelf.whole.max[2] + clear);
                if let Some(shelf) = hit {
                    self.faults.push(format!("a cup of {} stands before {}", stile.role, shelf.role));
                }
                if let Some(groove) = stile.gone.iter().find(|groove| !groove.meet(cup).is_empty()) {
                    self.faults.push(format!("a cup of {} breaks into {groove:?}", stile.role));
                }
            }
        }
    }
}

/// What is wrong with how a part is said to lie: good face up, length to the right and width away from you make a
/// right-handed frame, the good face looks where it says, and the front edge is the foremost.
fn lies(part: &Part) -> Vec<String> {
    let solid = &part.solid;
    let unit = |k: usize| {
        let mut axis = [0_i8; 3];
        axis[usize::from(solid.axes[k])] = if solid.forward[k] { 1 } else { -1 };
        axis
    };
    let (length, width, up) = (unit(0), unit(1), unit(2));
    let cross = [0, 1, 2].map(|k| {
        let (i, j) = ((k + 1) % 3, (k + 2) % 3);
        length[i] * width[j] - length[j] * width[i]
    });
    let mut faults = Vec::new();
    if cross != up {
        faults.push(format!("{} lies as its own mirror image", part.role));
    }
    let looks = match (part.good_face, part.hand) {
        (Face::Up, _) => [0, 0, 1],
        (Face::Down, _) => [0, 0, -1],
        (Face::Front, _) => [0, -1, 0],
        (Face::Back, _) => [0, 1, 0],
        (Face::Inside, Some(Hand::Left)) | (Face::Outside, Some(Hand::Right)) => [1, 0, 0],
        (Face::Inside, Some(Hand::Right)) | (Face::Outside, Some(Hand::Left)) => [-1, 0, 0],
        (_, None) => up,
    };
    if looks != up {
        faults.push(format!("the good face of {} does not look {:?}", part.role, part.good_face));
    }
    let front = part.front_edge.map(|edge| match edge {
        Edge::Near => width.map(|at| -at),
        Edge::Far => width,
        Edge::LeftEnd => length.map(|at| -at),
        Edge::RightEnd => length,
    });
    if front.is_some_and(|way| way != [0, -1, 0]) {
        faults.push(format!("the front edge of {} is not in front", part.role));
    }
    faults
}

/// A front's path as role paths have it: an unsplit front has no key of its own.
pub fn path_of(front: &str) -> String {
    front.strip_prefix("front").map_or_else(|| format!(".{front}"), str::to_owned)
}

pub fn join(a: Box3, b: Box3) -> Box3 {
    Box3 { min: [0, 1, 2].map(|k| a.min[k].min(b.min[k])), max: [0, 1, 2].map(|k| a.max[k].max(b.max[k])) }
}

fn replace_last(text: &str, what: &str, with: &str) -> String {
    match text.rfind(what) {
        Some(at) => format!("{}{with}{}", &text[..at], &text[at + what.len()..]),
        None => text.to_owned(),
    }
}
