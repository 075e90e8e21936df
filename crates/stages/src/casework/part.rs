//! One part: its size, the way it lies in its unit, and the work placed on it.
//!
//! Builders speak in the unit's axes (0 x, 1 y, 2 z); this is the one place that turns them into the part's own
//! coordinates, so that left and right parts come out as mirror images by construction.

use dryfit_measure::{Dim, Key, Length, Mass};

use super::{Face, Gate, Holes, Operation, OperationKind, Part, Purpose, Solid};

/// A good as casework uses it: one thickness, as measured.
#[derive(Clone, Debug)]
pub(super) struct Stock {
    /// The good.
    pub good: Key,
    /// Its thickness as measured.
    pub thickness: Dim,
    /// The thickness it is sold by, as joints are named after it.
    pub nominal: Dim,
    /// Whether its face has a direction.
    pub grain: bool,
    /// For solid boards: the planed width.
    pub board_width: Option<Dim>,
    /// For solid boards: the species, as the handbook names it.
    pub species: Option<String>,
}

impl Stock {
    /// Its thickness, as it is called in a part's reason.
    pub(super) fn thick(&self, name: &'static str) -> Dim {
        self.thickness.clone().named(name)
    }
}

/// How a part lies in its unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lay {
    /// The unit axis that its length runs along.
    length: usize,
    /// The unit axis across its good face, and whether the good face is at the greater coordinate.
    good: (usize, bool),
    /// What that direction is called.
    face: Face,
}

/// Length up, good face to the right (a left-hand side) or to the left.
pub(super) const UPRIGHT_FACING_RIGHT: Lay = Lay { length: 2, good: (0, true), face: Face::Inside };
/// See [`UPRIGHT_FACING_RIGHT`].
pub(super) const UPRIGHT_FACING_LEFT: Lay = Lay { length: 2, good: (0, false), face: Face::Inside };
/// Length from front to back, good face to the right.
pub(super) const DEEP_FACING_RIGHT: Lay = Lay { length: 1, good: (0, true), face: Face::Inside };
/// Length from front to back, good face to the left.
pub(super) const DEEP_FACING_LEFT: Lay = Lay { length: 1, good: (0, false), face: Face::Inside };
/// Length from left to right, good face up.
pub(super) const FLAT_UP: Lay = Lay { length: 0, good: (2, true), face: Face::Up };
/// Length from left to right, good face down.
pub(super) const FLAT_DOWN: Lay = Lay { length: 0, good: (2, false), face: Face::Down };
/// Length from front to back, good face up.
pub(super) const DEEP_UP: Lay = Lay { length: 1, good: (2, true), face: Face::Up };
/// Length from left to right, good face to the front.
pub(super) const WIDE_FRONT: Lay = Lay { length: 0, good: (1, false), face: Face::Front };
/// Length from left to right, good face to the back.
pub(super) const WIDE_BACK: Lay = Lay { length: 0, good: (1, true), face: Face::Back };
/// Length up, good face to the front.
pub(super) const UPRIGHT_FRONT: Lay = Lay { length: 2, good: (1, false), face: Face::Front };

impl Lay {
    /// The same, with the good face called inside.
    pub(super) const fn inside(self) -> Lay {
        Lay { face: Face::Inside, ..self }
    }

    /// An upright part lying down: its length from front to back.
    pub(super) const fn lengthwise(self) -> Lay {
        Lay { length: 1, ..self }
    }

    /// The same, with the good face called outside.
    pub(super) const fn outside(self) -> Lay {
        Lay { face: Face::Outside, ..self }
    }
}

/// A stretch along one unit axis of a part.
#[derive(Clone, Debug)]
pub(super) enum Span {
    /// From one side to the other.
    All,
    /// So much, from the left, front or lower side.
    Low(Dim),
    /// So much, up to the right, back or upper side.
    High(Dim),
    /// From here to there, from the left, front or lower side.
    FromLow(Dim, Dim),
    /// From here to there, from the right, back or upper side.
    FromHigh(Dim, Dim),
}

impl Span {
    /// One place, from the left, front or lower side.
    pub(super) fn at(place: Dim) -> Span {
        Span::FromLow(place.clone(), place)
    }

    /// One place, from the right, back or upper side.
    pub(super) fn at_high(place: Dim) -> Span {
        Span::FromHigh(place.clone(), place)
    }

    /// Both ends as seen from the low side (or, `from_high`, from the high side) of a part of this size.
    fn ends(&self, size: &Dim, from_high: bool) -> [Dim; 2] {
        let flip = |[a, b]: [Dim; 2]| [size - b, size - a];
        let (ends, high) = match self {
            Span::All => return [Dim::zero(), size.clone()],
            Span::Low(d) => ([Dim::zero(), d.clone()], false),
            Span::High(d) => ([Dim::zero(), d.clone()], true),
            Span::FromLow(a, b) => ([a.clone(), b.clone()], false),
            Span::FromHigh(a, b) => ([a.clone(), b.clone()], true),
        };
        if high == from_high { ends } else { flip(ends) }
    }

    /// Both ends as lengths from the low side.
    fn lengths(&self, size: Length) -> [Length; 2] {
        match self {
            Span::All => [Length::ZERO, size],
            Span::Low(d) => [Length::ZERO, d.length()],
            Span::High(d) => [size - d.length(), size],
            Span::FromLow(a, b) => [a.length(), b.length()],
            Span::FromHigh(a, b) => [size - b.length(), size - a.length()],
        }
    }
}

/// A part of this stock with these sizes along x, y and z, its least corner at `at`.
///
/// A part of a good without grain has its length along its longer side, however it lies.
pub(super) fn part(
    stock: &Stock,
    role: impl Into<String>,
    lay: Lay,
    sizes: [Dim; 3],
    at: [Length; 3],
) -> Part {
    let role = role.into();
    let thickness_axis = lay.good.0;
    let across = 3 - thickness_axis - lay.length;
    let turned = !stock.grain && sizes[across].length() > sizes[lay.length].length();
    let (length_axis, width_axis) = if turned { (across, lay.length) } else { (lay.length, across) };
    // Good face up, length to the right: the width then runs along good face x length.
    let cyclic = (thickness_axis + 1) % 3 == length_axis;
    let forward = [true, lay.good.1 == cyclic, lay.good.1];
    let max = [0, 1, 2].map(|k| at[k] + sizes[k].length());
    let [x, y, z] = sizes;
    let pick = |axis: usize| [&x, &y, &z][axis].clone();
    // without grain it hangs on both sides which of them is the length
    let long = pick(length_axis);
    let hangs = |how: &'static str, own: Dim, other: usize| {
        let name = own.name().map(str::to_owned);
        let both = Dim::worked(own.length(), how, [(own, 1.0), (pick(other), 0.0)]);
        match name {
            Some(name) => both.named(name),
            None => both,
        }
    };
    let (length, width) = if stock.grain {
        (long, pick(width_axis))
    } else {
        (hangs("the longer", long, width_axis), hangs("the shorter", pick(width_axis), length_axis))
    };
    Part {
        name: role.clone(),
        role,
        hand: None,
        good: stock.good.clone(),
        length,
        width,
        thickness: pick(thickness_axis),
        purpose: [Purpose::Mates; 2],
        grain: stock.grain,
        good_face: lay.face,
        front_edge: None,
        solid: Solid {
            min: at,
            max,
            axes: [length_axis as u8, width_axis as u8, thickness_axis as u8],
            forward,
            cut: Vec::new(),
        },
        operations: Vec::new(),
        bands: Vec::new(),
        mass: Mass::ZERO,
        gate: None,
    }
}

impl Part {
    /// What the bench calls it.
    pub(super) fn called(mut self, name: impl Into<String>) -> Part {
        self.name = name.into();
        self
    }

    /// What its length and its width are for.
    pub(super) fn serves(mut self, length: Purpose, width: Purpose) -> Part {
        self.purpose = [length, width];
        self
    }

    /// Not to be cut before this is measured.
    pub(super) fn after(mut self, gate: Gate) -> Part {
        self.gate = Some(gate);
        self
    }

    /// Its front edge shows: the edge at the least y.
    pub(super) fn with_front_edge(mut self) -> Part {
        use super::Edge::{Far, LeftEnd, Near, RightEnd};
        self.front_edge =
            [0, 1].into_iter().find(|&k| self.solid.axes[k] == 1).map(|k| match (k, self.solid.forward[k]) {
                (0, true) => LeftEnd,
                (0, false) => RightEnd,
                (_, true) => Near,
                (_, false) => Far,
            });
        self
    }

    /// The size along a unit axis.
    pub(super) fn size(&self, axis: u8) -> &Dim {
        let k = self.solid.axes.iter().position(|&a| a == axis).unwrap_or(2);
        [&self.length, &self.width, &self.thickness][k]
    }

    /// Takes away what lies in these stretches of x, y and z.
    pub(super) fn cut(mut self, kind: OperationKind, what: impl Into<String>, spans: &[Span; 3]) -> Part {
        let operation = self.operation(kind, what.into(), spans);
        let gone = self.region(spans);
        self.operations.push(operation);
        self.solid.cut.push(gone);
        self
    }

    /// Like [`Part::cut`], for what the blade makes in several passes side by side.
    pub(super) fn grooved(self, what: impl Into<String>, spans: &[Span; 3], passes: u32) -> Part {
        let mut part = self.cut(OperationKind::Groove, what, spans);
        if let Some(operation) = part.operations.last_mut() {
            operation.passes = Some(passes);
        }
        part
    }

    /// Leaves only this stretch of the thickness as a tongue, on the end or edge that the other two name.
    pub(super) fn tongue(mut self, what: impl Into<String>, spans: &[Span; 3]) -> Part {
        let operation = self.operation(OperationKind::Cope, what.into(), spans);
        let stays = self.region(spans);
        let axis = usize::from(self.solid.axes[2]);
        let (mut before, mut behind) = (stays, stays);
        (before[0][axis], before[1][axis]) = (self.solid.min[axis], stays[0][axis]);
        (behind[0][axis], behind[1][axis]) = (stays[1][axis], self.solid.max[axis]);
        self.operations.push(operation);
        self.solid.cut.extend([before, behind]);
        self
    }

    /// Drills holes: a row along the axis whose stretch is longer than nothing, or one hole.
    pub(super) fn drill(
        mut self,
        kind: OperationKind,
        what: impl Into<String>,
        spans: &[Span; 3],
        holes: Holes,
    ) -> Part {
        let mut operation = self.operation(kind, what.into(), spans);
        operation.holes = Some(holes);
        self.operations.push(operation);
        self
    }

    fn operation(&self, kind: OperationKind, what: String, spans: &[Span; 3]) -> Operation {
        let ends = |k: usize| {
            let axis = self.solid.axes[k];
            spans[usize::from(axis)].ends(self.size(axis), !self.solid.forward[k])
        };
        // Depth is told from the good face, which is at the greater coordinate where the thickness is forward.
        let good_is_high = self.solid.forward[2];
        let (on_good_face, depth, in_thickness) = match &spans[usize::from(self.solid.axes[2])] {
            Span::All => (true, self.thickness.clone(), None),
            Span::Low(d) => (!good_is_high, d.clone(), None),
            Span::High(d) => (good_is_high, d.clone(), None),
            span @ (Span::FromLow(..) | Span::FromHigh(..)) => {
                let between = span.ends(&self.thickness, good_is_high);
                (true, edge_depth(&self.solid, spans), Some(between))
            }
        };
        Operation {
            kind,
            what,
            on_good_face,
            along: ends(0),
            across: ends(1),
            depth,
            in_thickness,
            passes: None,
            holes: None,
        }
    }

    fn region(&self, spans: &[Span; 3]) -> [[Length; 3]; 2] {
        let ends = [0, 1, 2].map(|k| {
            let [a, b] = spans[k].lengths(self.solid.max[k] - self.solid.min[k]);
            [self.solid.min[k] + a, self.solid.min[k] + b]
        });
        [[0, 1, 2].map(|k| ends[k][0]), [0, 1, 2].map(|k| ends[k][1])]
    }
}

/// How far work on an end or edge reaches in from it.
fn edge_depth(solid: &Solid, spans: &[Span; 3]) -> Dim {
    let reach = |k: usize| match &spans[usize::from(solid.axes[k])] {
        Span::Low(d) | Span::High(d) => Some(d.clone()),
        _ => None,
    };
    reach(0).or_else(|| reach(1)).unwrap_or_default()
}

/// How deep a pocket hole goes into this stock.
pub(super) fn pocket_depth(stock: &Stock) -> Dim {
    stock.thickness.split(2).remove(0).named("pocket depth")
}

/// How many equal spaces a run is divided into so that none is wider than `most`: at least one, and never more
/// than anyone would drill or nail.
pub(super) fn spaces(run: Length, most: Length) -> u8 {
    u8::try_from(run.needs(most).clamp(1, 60)).unwrap_or(60)
}
