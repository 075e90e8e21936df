//! Pieces out of offcuts: a cut piece is taken from what an earlier one left where that does. Offcuts are turned,
//! never flipped: the face stays up. An edge that lies against a joint is an edge the piece was made with.

use crate::lay::Piece;
use crate::shape::Rect;

/// Where one cut piece comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct From {
    /// Index of the piece among those given.
    pub piece: usize,
    /// Which of the whole pieces opened for cuts, from zero.
    pub whole: usize,
    /// Whether it is the first piece cut from it.
    pub first: bool,
    /// Where its rectangle lies on the whole piece.
    pub rect: Rect,
    /// By how many quarters it is turned, counter-clockwise, between the whole piece and its place in the field.
    pub turns: u8,
}

/// All cut pieces with where they come from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reused {
    /// How many whole pieces are opened for cuts.
    pub opened: usize,
    /// One for each cut piece, in the order in which they are cut.
    pub from: Vec<From>,
}

/// What is left of a whole piece, and which of its sides are as made: left, right, lower, upper.
#[derive(Clone, Copy, Debug)]
struct Offcut {
    whole: usize,
    rect: Rect,
    made: [bool; 4],
}

/// What a piece asks for: a rectangle, and which of its sides have to be as made.
#[derive(Clone, Copy, Debug)]
struct Wanted {
    size: [i64; 2],
    made: [bool; 4],
}

impl Wanted {
    /// As it lies on the whole piece when that is turned by so many quarters, counter-clockwise, before it is laid.
    fn before(mut self, turns: u8) -> Wanted {
        for _ in 0..turns {
            let [left, right, lower, upper] = self.made;
            // turned back by a quarter, clockwise: what was at the left comes up
            self = Wanted { size: [self.size[1], self.size[0]], made: [lower, upper, right, left] };
        }
        self
    }
}

/// Takes every piece that is not whole from a whole one or from an offcut, larger ones first. `kerf` is what a cut
/// takes; `quarters` says whether the face may be turned by a quarter too.
pub fn reuse(pieces: &[Piece], kerf: i64, quarters: bool) -> Reused {
    let mut order: Vec<usize> = (0..pieces.len()).filter(|i| !pieces[*i].whole).collect();
    let area = |i: usize| {
        let [w, h] = pieces[i].size();
        i128::from(w) * i128::from(h)
    };
    order.sort_by_key(|i| (std::cmp::Reverse(area(*i)), *i));
    let mut offcuts: Vec<Offcut> = Vec::new();
    let mut reused = Reused::default();
    for i in order {
        let piece = &pieces[i];
        let wanted = Wanted { size: piece.size(), made: piece.keeps() };
        // a piece of a turned cell lies a quarter turned to begin with
        let own = u8::from(piece.turned);
        let turns = if quarters { [0, 2, 1, 3].as_slice() } else { [0, 2].as_slice() };
        let fits = offcuts.iter().enumerate().flat_map(|(at, offcut)| {
            let place = move |turn: &u8| {
                let turn = (turn + own) % 4;
                fit(offcut, &wanted.before(turn)).map(|rect| (spare(offcut, &rect), at, turn, rect))
            };
            turns.iter().filter_map(place)
        });
        let best = fits.min_by_key(|(spare, at, turn, _)| (*spare, *at, *turn));
        let (offcut, turns, rect) = if let Some((_, at, turn, rect)) = best {
            (offcuts.remove(at), turn, rect)
        } else {
            let mut size = piece.cell.size();
            if piece.turned {
                size.reverse();
            }
            let whole = Offcut { whole: reused.opened, rect: Rect::at([0, 0], size), made: [true; 4] };
            reused.opened += 1;
            let wanted = wanted.before(own);
            let rect = fit(&whole, &wanted).unwrap_or(Rect::at([0, 0], wanted.size));
            (whole, own, rect)
        };
        let first = best.is_none();
        reused.from.push(From { piece: i, whole: offcut.whole, first, rect, turns });
        offcuts.extend(rest(&offcut, &rect, kerf));
    }
    reused
}

/// Where on an offcut a rectangle can lie so that each side that has to be as made is.
fn fit(offcut: &Offcut, wanted: &Wanted) -> Option<Rect> {
    let mut low = [0; 2];
    for (axis, at) in low.iter_mut().enumerate() {
        let (from, to) = (offcut.rect.low[axis], offcut.rect.high[axis]);
        let needs = [wanted.made[2 * axis], wanted.made[2 * axis + 1]];
        let has = [offcut.made[2 * axis], offcut.made[2 * axis + 1]];
        let room = to - from - wanted.size[axis];
        if room < 0 || (needs[0] && !has[0]) || (needs[1] && !has[1]) || (needs[0] && needs[1] && room != 0) {
            return None;
        }
        *at = if needs[1] { to - wanted.size[axis] } else { from };
    }
    Some(Rect::at(low, wanted.size))
}

/// The area of an offcut that a rectangle leaves.
fn spare(offcut: &Offcut, rect: &Rect) -> i128 {
    offcut.rect.area2() - rect.area2()
}

/// What is left of an offcut once a rectangle and the kerfs round it are off: strips, the longer way first whichever
/// leaves the larger piece.
fn rest(offcut: &Offcut, taken: &Rect, kerf: i64) -> Vec<Offcut> {
    let split = |first: usize| -> Vec<Offcut> {
        let mut left = Vec::new();
        let mut middle = *offcut;
        for axis in [first, 1 - first] {
            let (mut low, mut high) = (middle, middle);
            low.rect.high[axis] = taken.low[axis] - kerf;
            low.made[2 * axis + 1] = false;
            high.rect.low[axis] = taken.high[axis] + kerf;
            high.made[2 * axis] = false;
            left.extend([low, high]);
            middle.made[2 * axis] &= middle.rect.low[axis] == taken.low[axis];
            middle.made[2 * axis + 1] &= middle.rect.high[axis] == taken.high[axis];
            middle.rect.low[axis] = taken.low[axis];
            middle.rect.high[axis] = taken.high[axis];
        }
        left.retain(|offcut| offcut.rect.size().iter().all(|side| *side > 0));
        left
    };
    let largest = |all: &[Offcut]| all.iter().map(|offcut| offcut.rect.area2()).max().unwrap_or(0);
    let (upright, level) = (split(0), split(1));
    if largest(&level) > largest(&upright) { level } else { upright }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::Field;
    use crate::lay::lay;
    use crate::pattern::{Pattern, Tiling};

    const KERF: i64 = 3;

    fn laid(size: [i64; 2], start: [i64; 2], tile: [i64; 2], pattern: Pattern) -> Vec<Piece> {
        let tiling = Tiling { pattern, size: tile, joint: 10 };
        lay(&Field::rectangle(size, 0).net(), &tiling, start, 1).expect("laid").pieces
    }

    /// Every cut piece is cut once, inside its whole piece, clear of the others by the kerf, and with made edges
    /// where the field shows them.
    fn holds_up(pieces: &[Piece], reused: &Reused, quarters: bool) {
        let mut cut: Vec<usize> = reused.from.iter().map(|from| from.piece).collect();
        cut.sort_unstable();
        let expected: Vec<usize> = (0..pieces.len()).filter(|i| !pieces[*i].whole).collect();
        assert_eq!(cut, expected);
        for (k, from) in reused.from.iter().enumerate() {
            let piece = &pieces[from.piece];
            let mut tile = piece.cell.size();
            if piece.turned {
                tile.reverse();
            }
            let turned = (from.turns + 4 - u8::from(piece.turned)) % 4;
            assert!(quarters || turned % 2 == 0);
            let [w, h] = piece.size();
            assert_eq!(from.rect.size(), if from.turns % 2 == 0 { [w, h] } else { [h, w] });
            assert!((0..2).all(|axis| from.rect.low[axis] >= 0 && from.rect.high[axis] <= tile[axis]));
            // the made sides, told by turning the whole piece: left goes down, down goes right, ...
            let edge = [
                from.rect.low[0] == 0,
                from.rect.high[0] == tile[0],
                from.rect.low[1] == 0,
                from.rect.high[1] == tile[1],
            ];
            let mut made = edge;
            for _ in 0..from.turns {
                let [left, right, lower, upper] = made;
                made = [upper, lower, left, right];
            }
            for (keeps, made) in piece.keeps().iter().zip(made) {
                assert!(!keeps || made, "{piece:?} {from:?}");
            }
            for other in &reused.from[..k] {
                let apart = (0..2).any(|axis| {
                    other.rect.high[axis] + KERF <= from.rect.low[axis]
                        || from.rect.high[axis] + KERF <= other.rect.low[axis]
                });
                assert!(other.whole != from.whole || apart, "{other:?} {from:?}");
            }
        }
        let opened: std::collections::BTreeSet<usize> = reused.from.iter().map(|from| from.whole).collect();
        assert_eq!(opened.len(), reused.opened);
    }

    #[test]
    fn two_halves_come_from_one_tile() {
        // half a tile at either wall: what the left one leaves is turned and goes to the right
        let pieces = laid([140 + 10 + 300 + 10 + 140, 200], [-160, 0], [300, 200], Pattern::Grid);
        let reused = reuse(&pieces, KERF, false);
        assert_eq!((pieces.len(), reused.opened), (3, 1));
        holds_up(&pieces, &reused, false);
    }

    #[test]
    fn more_than_half_leaves_nothing_of_use() {
        let pieces = laid([160 + 10 + 300 + 10 + 160, 200], [-140, 0], [300, 200], Pattern::Grid);
        assert_eq!(reuse(&pieces, KERF, false).opened, 2);
    }

    #[test]
    fn every_pattern_holds_up() {
        for (k, pattern) in [
            Pattern::Grid,
            Pattern::Bond { part: 1, of: 2 },
            Pattern::BondUp { part: 1, of: 3 },
            Pattern::Herringbone,
        ]
        .into_iter()
        .enumerate()
        {
            for step in 0..30_i64 {
                let tile = if pattern == Pattern::Herringbone { [210, 100] } else { [300, 200] };
                let pieces = laid([1400 + 37 * step, 900 + 23 * step], [step * 11, -step * 7], tile, pattern);
                for quarters in [false, true] {
                    let reused = reuse(&pieces, KERF, quarters);
                    holds_up(&pieces, &reused, quarters);
                    let cut = reused.from.len();
                    assert!(reused.opened <= cut && reused.opened > 0, "{k} {step}");
                }
            }
        }
    }
}
