//! A part as it comes from the saw: its box from its three sizes, less what its operations take away.

use dryfit_measure::Length;
use dryfit_plan::Hand;
use dryfit_stages::casework::{Gate, Operation, OperationKind, Part};

use crate::boxes::{Box3, left_of};

/// One part, placed.
#[derive(Clone, Debug)]
pub struct Piece {
    pub role: String,
    pub name: String,
    pub hand: Option<Hand>,
    pub gated: bool,
    pub whole: Box3,
    /// What joints take away.
    pub gone: Vec<Box3>,
    /// Holes, as the box round the row of their centres, grown by half the bit in the plane of the face.
    pub holes: Vec<(OperationKind, Box3)>,
    /// What is left, in boxes that do not overlap.
    pub left: Vec<Box3>,
    /// Faults of its own: an operation that lies outside of it.
    pub faults: Vec<String>,
    /// The unit axes of length, width and thickness.
    pub axes: [usize; 3],
    /// How the box in the casework's own account differs, if it does.
    pub extents: [[i64; 3]; 2],
}

impl Piece {
    /// With its exact sizes.
    pub fn exact(part: &Part) -> Piece {
        Piece::sized(part, part.length.length(), part.width.length())
    }

    /// With this length and width, about the middle of where it is; what is measured from an end or edge stays
    /// as far from it.
    pub fn sized(part: &Part, length: Length, width: Length) -> Piece {
        let axes = part.solid.axes.map(usize::from);
        let exact = [part.length.length(), part.width.length(), part.thickness.length()].map(Length::nm);
        let sizes = [length.nm(), width.nm(), exact[2]];
        let mut whole = Box3 { min: [0; 3], max: [0; 3] };
        for k in 0..3 {
            let middle = part.solid.min[axes[k]].nm() + part.solid.max[axes[k]].nm();
            whole.min[axes[k]] = (middle - sizes[k]).div_euclid(2);
            whole.max[axes[k]] = whole.min[axes[k]] + sizes[k];
        }
        let mut piece = Piece {
            role: part.role.clone(),
            name: part.name.clone(),
            hand: part.hand,
            gated: part.gate == Some(Gate::Openings),
            whole,
            gone: Vec::new(),
            holes: Vec::new(),
            left: Vec::new(),
            faults: Vec::new(),
            axes,
            extents: [part.solid.min.map(Length::nm), part.solid.max.map(Length::nm)],
        };
        for operation in &part.operations {
            piece.work(part, operation, exact, sizes);
        }
        piece.left = left_of(whole, &piece.gone);
        piece
    }

    /// From part coordinates to a box in the unit: `ranges` along length, width and down from the good face.
    fn region(&self, part: &Part, ranges: [[i64; 2]; 3]) -> Box3 {
        let mut region = self.whole;
        for (k, [a, b]) in ranges.into_iter().enumerate() {
            let axis = self.axes[k];
            // thickness is told from the good face, which is at the greater end where it runs forward
            let from_low = if k == 2 { !part.solid.forward[2] } else { part.solid.forward[k] };
            (region.min[axis], region.max[axis]) = if from_low {
                (self.whole.min[axis] + a, self.whole.min[axis] + b)
            } else {
                (self.whole.max[axis] - b, self.whole.max[axis] - a)
            };
        }
        region
    }

    fn work(&mut self, part: &Part, operation: &Operation, exact: [i64; 3], sizes: [i64; 3]) {
        let nm = |range: &[dryfit_measure::Dim; 2]| [range[0].length().nm(), range[1].length().nm()];
        // a place nearer to the far end keeps its distance from that
        let kept = |k: usize, at: i64| if 2 * at > exact[k] { sizes[k] - (exact[k] - at) } else { at };
        // what is cut inside of the part stays as wide as the cutter makes it, wherever it lies
        let placed = |k: usize, [a, b]: [i64; 2]| {
            let inside = 0 < a && b < exact[k] && operation.holes.is_none();
            if inside {
                [kept(k, i64::midpoint(a, b)) - (b - a) / 2, kept(k, i64::midpoint(a, b)) + (b - a + 1) / 2]
            } else {
                [kept(k, a), kept(k, b)]
            }
        };
        let along = placed(0, nm(&operation.along));
        let across = placed(1, nm(&operation.across));
        let depth = operation.depth.length().nm();
        let thickness = sizes[2];
        let down = match (&operation.in_thickness, operation.on_good_face) {
            (Some(range), _) => nm(range),
            (None, true) => [0, depth],
            (None, false) => [thickness - depth, thickness],
        };
        let region = self.region(part, [along, across, down]);
        let fault = |why: &str| format!("{}: {:?} {} {why}", part.role, operation.kind, operation.what);
        if !self.whole.contains(&region) {
            self.faults.push(fault("lies outside of its part"));
        }
        match operation.kind {
            OperationKind::Cope => {
                let [from, to] = down;
                self.gone.push(self.region(part, [along, across, [0, from]]));
                self.gone.push(self.region(part, [along, across, [to, thickness]]));
            }
            OperationKind::Dado
            | OperationKind::Groove
            | OperationKind::Rabbet
            | OperationKind::Notch
            | OperationKind::Stick => {
                if region.is_empty() {
                    self.faults.push(fault("takes nothing away"));
                }
                self.gone.push(region);
            }
            OperationKind::PinHoles
            | OperationKind::HingeCup
            | OperationKind::PocketHoles
            | OperationKind::PullHoles
            | OperationKind::ScrewHoles
            | OperationKind::PlateHoles
            | OperationKind::SlideHoles
            | OperationKind::HookHoles => {
                let Some(holes) = &operation.holes else {
                    self.faults.push(fault("has no holes"));
                    return;
                };
                let radius = holes.bit.length().nm() / 2;
                let wider = |[a, b]: [i64; 2]| [a - radius, b + radius];
                let round = self.region(part, [wider(along), wider(across), down]);
                if !self.whole.contains(&round) {
                    self.faults.push(fault("breaks out of its part"));
                }
                let runs = (along[1] - along[0]).max(across[1] - across[0]);
                let pitches = holes.pitch.length().nm() * (i64::from(holes.count) - 1);
                // a pitch that does not come out even is told to the nanometre
                if (runs - pitches).abs()
                    > i64::from(holes.count) + (exact[0] - sizes[0]).abs() + (exact[1] - sizes[1]).abs()
                {
                    self.faults
                        .push(fault(&format!("rows of {runs} hold {} holes {pitches} apart", holes.count)));
                }
                self.holes.push((operation.kind, round));
            }
        }
    }

    /// The gap to `other` along an axis, where they face each other: from this one's material to the other's,
    /// towards greater coordinates. `None` where they do not face each other that way.
    pub fn gap_to(&self, other: &Piece, axis: usize) -> Option<i64> {
        let faces = |a: &Box3, b: &Box3| {
            (0..3).filter(|k| *k != axis).all(|k| a.meet(b).size(k) > 0) && a.max[axis] <= b.min[axis]
        };
        let pairs = self.left.iter().flat_map(|a| other.left.iter().map(move |b| (a, b)));
        pairs.filter(|(a, b)| faces(a, b)).map(|(a, b)| b.min[axis] - a.max[axis]).min()
    }

    /// The same piece elsewhere.
    pub fn moved(&self, by: [i64; 3]) -> Piece {
        let all = |boxes: &[Box3]| boxes.iter().map(|part| part.moved(by)).collect();
        Piece {
            whole: self.whole.moved(by),
            gone: all(&self.gone),
            left: all(&self.left),
            holes: self.holes.iter().map(|(kind, hole)| (*kind, hole.moved(by))).collect(),
            ..self.clone()
        }
    }
}

/// Pairs that share material, with how deep they stand in each other.
pub fn overlaps(pieces: &[Piece]) -> Vec<String> {
    let mut found = Vec::new();
    for (i, a) in pieces.iter().enumerate() {
        for b in &pieces[i + 1..] {
            if a.whole.meet(&b.whole).is_empty() {
                continue;
            }
            for (x, y) in a.left.iter().flat_map(|x| b.left.iter().map(move |y| (x, y))) {
                let shared = x.meet(y);
                if !shared.is_empty() {
                    let [w, d, h] = [0, 1, 2].map(|k| shared.size(k) as f64 / 1e6);
                    found.push(format!("{} and {} share {w} x {d} x {h} mm", a.role, b.role));
                    break;
                }
            }
        }
    }
    found
}
