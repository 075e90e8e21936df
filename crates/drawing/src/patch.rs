//! Patches: the paper that text, balloons and flags cover. Views place words by them, tests hold them apart.

use crate::metrics::{text_width, words_height, words_width};
use crate::paper::{Anchor, Drawing, Point, Shape, Weight, Words};

/// Radius of a balloon, points.
pub const BALLOON: f64 = 10.0;
/// Height of a flag, points.
pub const FLAG: f64 = 15.5;
/// Size of the numbers in balloons and flags, points.
pub const LABEL: f64 = 13.0;
/// Paper round text that has a halo, points.
pub(crate) const HALO: f64 = 1.6;

/// How wide a flag is, points.
pub fn flag_width(number: u32) -> f64 {
    (6.0 + text_width(&number.to_string(), LABEL, Weight::Bold)).max(17.0)
}

/// A rectangle on the drawing, mm, maybe turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Its middle.
    pub centre: Point,
    /// Half its width and half its height.
    pub half: Point,
    /// Turned by so many degrees, counter-clockwise.
    pub turn: f64,
}

impl Patch {
    /// An upright one between two corners.
    pub fn between(a: Point, b: Point) -> Patch {
        Patch {
            centre: [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])],
            half: [(b[0] - a[0]).abs() / 2.0, (b[1] - a[1]).abs() / 2.0],
            turn: 0.0,
        }
    }

    /// The same with so much more round it.
    #[must_use]
    pub fn grown(self, by: f64) -> Patch {
        Patch { half: [self.half[0] + by, self.half[1] + by], ..self }
    }

    /// Its corners.
    pub fn corners(&self) -> [Point; 4] {
        let (sin, cos) = self.turn.to_radians().sin_cos();
        let [w, h] = self.half;
        [[-w, -h], [w, -h], [w, h], [-w, h]]
            .map(|[x, y]| [self.centre[0] + x * cos - y * sin, self.centre[1] + x * sin + y * cos])
    }

    /// Whether it covers paper that another covers too (separating axes).
    pub fn overlaps(&self, other: &Patch) -> bool {
        self.clash(other) > 0.0
    }

    /// How deep two patches reach into each other; not positive when they are apart.
    pub fn clash(&self, other: &Patch) -> f64 {
        let (a, b) = (self.corners(), other.corners());
        let axis = |turn: f64| turn.to_radians().sin_cos();
        let mut least = f64::MAX;
        for (sin, cos) in [axis(self.turn), axis(self.turn + 90.0), axis(other.turn), axis(other.turn + 90.0)]
        {
            let range = |corners: &[Point; 4]| {
                let along = corners.map(|[x, y]| x * cos + y * sin);
                (along.into_iter().fold(f64::MAX, f64::min), along.into_iter().fold(f64::MIN, f64::max))
            };
            let ((a1, a2), (b1, b2)) = (range(&a), range(&b));
            least = least.min(a2.min(b2) - a1.max(b1));
        }
        least
    }

    /// Whether a segment runs through it.
    pub fn is_crossed(&self, a: Point, b: Point) -> bool {
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        let thin = Patch {
            centre: [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])],
            half: [length / 2.0, 1e-9],
            turn: (b[1] - a[1]).atan2(b[0] - a[0]).to_degrees(),
        };
        self.overlaps(&thin)
    }

    /// Whether it lies wholly between two corners.
    pub fn is_inside(&self, [low, high]: [Point; 2]) -> bool {
        let slack = 1e-6;
        self.corners().iter().all(|corner| {
            (0..2).all(|axis| corner[axis] >= low[axis] - slack && corner[axis] <= high[axis] + slack)
        })
    }
}

/// The paper that a run of words covers, its anchor standing at `at`; mm, at so many points a millimetre.
pub fn words_patch(
    at: Point,
    words: &[Words],
    (size, weight): (f64, Weight),
    anchor: Anchor,
    turn: f64,
    points_per_mm: f64,
) -> Patch {
    let half = [
        words_width(words, size, weight) / 2.0 / points_per_mm,
        words_height(words, size) / 2.0 / points_per_mm,
    ];
    let shift = match anchor {
        Anchor::Left => half[0],
        Anchor::Centre => 0.0,
        Anchor::Right => -half[0],
    };
    let (sin, cos) = turn.to_radians().sin_cos();
    Patch { centre: [at[0] + shift * cos, at[1] + shift * sin], half, turn }
}

/// The paper that a mark covers, if it is one to be read.
pub fn patch(shape: &Shape, points_per_mm: f64) -> Option<Patch> {
    let square = |at: &Point, w: f64, h: f64| Patch {
        centre: *at,
        half: [w / 2.0 / points_per_mm, h / 2.0 / points_per_mm],
        turn: 0.0,
    };
    match shape {
        Shape::Text { at, words, size, weight, anchor, turn, .. } => {
            Some(words_patch(*at, words, (*size, *weight), *anchor, *turn, points_per_mm))
        }
        Shape::Balloon { at, .. } => Some(square(at, BALLOON * 2.0, BALLOON * 2.0)),
        Shape::Flag { at, number } => Some(square(at, flag_width(*number), FLAG)),
        _ => None,
    }
}

/// Everything to be read on a drawing.
pub fn patches(drawing: &Drawing) -> Vec<Patch> {
    drawing.marks.iter().filter_map(|mark| patch(&mark.shape, drawing.points_per_mm)).collect()
}

/// The best of the places offered, in order of preference: the first at which `half` touches nothing taken, else
/// that which reaches least into what is.
pub(crate) fn place(
    places: impl IntoIterator<Item = Point>,
    half: Point,
    taken: &[Patch],
) -> Option<(Point, f64)> {
    let mut best: Option<(Point, f64)> = None;
    for at in places {
        let here = Patch { centre: at, half, turn: 0.0 };
        let worst = taken.iter().map(|other| here.clash(other)).fold(0.0, f64::max);
        if best.is_none_or(|(_, least)| worst < least) {
            best = Some((at, worst));
        }
        if worst <= 0.0 {
            break;
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turned_patches_are_told_apart() {
        let a = Patch { centre: [0.0, 0.0], half: [10.0, 1.0], turn: 45.0 };
        let b = Patch { centre: [6.0, -6.0], half: [2.0, 2.0], turn: 0.0 };
        let c = Patch { centre: [6.0, 6.0], half: [2.0, 2.0], turn: 0.0 };
        assert!(!a.overlaps(&b) && a.overlaps(&c));
        assert!(c.is_crossed([0.0, 0.0], [10.0, 10.0]) && !b.is_crossed([0.0, 0.0], [10.0, 10.0]));
    }
}
