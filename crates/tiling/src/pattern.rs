//! Patterns: where each whole piece would lie if the field had no end.

use crate::shape::{Point, Rect};

/// How pieces lie to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pattern {
    /// Joints run through both ways.
    Grid,
    /// Rows along x, each begun further on than the one below it by `part` of `of` parts of the pitch, over again
    /// after `of` rows.
    Bond {
        /// How many parts.
        part: i64,
        /// Of how many; at least one.
        of: i64,
    },
    /// The same, rows along y.
    BondUp {
        /// How many parts.
        part: i64,
        /// Of how many; at least one.
        of: i64,
    },
    /// Pieces lying and standing by turns, steps at 45 degrees. The longer side with its joint is a whole number of
    /// times the shorter with its joint, see [`Tiling::herringbone_off`].
    Herringbone,
}

/// A pattern in its sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tiling {
    /// How pieces lie.
    pub pattern: Pattern,
    /// Along x and along y, as they lie; in a herringbone, of the pieces that lie.
    pub size: [i64; 2],
    /// Between pieces.
    pub joint: i64,
}

/// Where one whole piece would lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// Its row, counted from the one that the pattern begins with; in a herringbone its step.
    pub row: i64,
    /// Its place in the row.
    pub column: i64,
    /// Its outline.
    pub rect: Rect,
    /// Whether it is turned by a quarter against the pieces that lie.
    pub turned: bool,
}

/// Most cells that a pattern is asked for: a field of more is not laid.
pub const MOST_CELLS: i128 = 200_000;

impl Tiling {
    /// From one piece to the next, along x and y.
    pub fn pitch(&self) -> [i64; 2] {
        self.size.map(|side| side + self.joint)
    }

    /// Whether it can be laid at all: pieces have sizes, and a joint takes no more than a piece.
    pub fn is_sound(&self) -> bool {
        let [w, h] = self.size;
        let fair = |n: i64| n > 0 && n < 1 << 50;
        let bond = match self.pattern {
            Pattern::Bond { part, of } | Pattern::BondUp { part, of } => {
                (1..=64).contains(&of) && (0..of).contains(&part)
            }
            Pattern::Grid | Pattern::Herringbone => true,
        };
        fair(w) && fair(h) && (0..w.min(h)).contains(&self.joint) && bond
    }

    /// By how much the longer side with its joint misses a whole number of shorter sides with theirs: the joints of a
    /// herringbone cannot all be alike otherwise.
    pub fn herringbone_off(&self) -> i64 {
        let [long, short] = self.long_and_short();
        let rest = long % short;
        if rest * 2 > short { rest - short } else { rest }
    }

    fn long_and_short(&self) -> [i64; 2] {
        let [w, h] = self.pitch();
        [w.max(h), w.min(h)]
    }

    /// How far each row, or each column, is shifted: the shifts of one round, ascending by row.
    pub(crate) fn shifts(&self) -> Vec<i64> {
        let [w, h] = self.pitch();
        let round =
            |pitch: i64, part: i64, of: i64| (0..of).map(|k| (pitch * (k * part % of)) / of).collect();
        match self.pattern {
            Pattern::Grid | Pattern::Herringbone => vec![0],
            Pattern::Bond { part, of } => round(w, part, of),
            Pattern::BondUp { part, of } => round(h, part, of),
        }
    }

    /// Every cell that may reach into a rectangle, rows upwards, each from left to right. The pattern has the lower
    /// left corner of its piece 0, 0 at `start`. None where there would be more than [`MOST_CELLS`].
    pub fn cells(&self, start: Point, over: &Rect) -> Option<Vec<Cell>> {
        if !self.is_sound() {
            return None;
        }
        let [pw, ph] = self.pitch();
        let [w, h] = over.size();
        let many = (i128::from(w) / i128::from(pw) + 3) * (i128::from(h) / i128::from(ph) + 3);
        if many > MOST_CELLS {
            return None;
        }
        let mut cells = match self.pattern {
            Pattern::Grid | Pattern::Bond { .. } => self.rows(start, over, 0),
            Pattern::BondUp { .. } => self.rows(start, over, 1),
            Pattern::Herringbone => self.steps(start, over),
        };
        cells.retain(|cell| {
            (0..2).all(|axis| cell.rect.low[axis] < over.high[axis] && cell.rect.high[axis] > over.low[axis])
        });
        cells.sort_by_key(|cell| (cell.row, cell.column, cell.turned));
        Some(cells)
    }

    /// Rows along one axis, each shifted.
    fn rows(&self, start: Point, over: &Rect, along: usize) -> Vec<Cell> {
        let across = 1 - along;
        let (pitch, shifts) = (self.pitch(), self.shifts());
        let first = (over.low[across] - start[across]).div_euclid(pitch[across]);
        let last = (over.high[across] - start[across]).div_euclid(pitch[across]);
        let mut cells = Vec::new();
        for row in first..=last {
            let round = row.rem_euclid(i64::try_from(shifts.len()).unwrap_or(1));
            let from = start[along] + shifts[usize::try_from(round).unwrap_or(0)];
            let begin = (over.low[along] - from).div_euclid(pitch[along]);
            let end = (over.high[along] - from).div_euclid(pitch[along]);
            for column in begin..=end {
                let mut low = [0; 2];
                low[along] = from + column * pitch[along];
                low[across] = start[across] + row * pitch[across];
                let rect = Rect::at(low, self.size);
                cells.push(Cell { row, column, rect, turned: false });
            }
        }
        cells
    }

    /// A herringbone: lying pieces step up along the diagonal by the short pitch, standing ones end each step, and
    /// all of it comes again after two long pitches.
    fn steps(&self, start: Point, over: &Rect) -> Vec<Cell> {
        let [long, step] = self.long_and_short();
        let lies = if self.size[0] >= self.size[1] { self.size } else { [self.size[1], self.size[0]] };
        let stands = [lies[1], lies[0]];
        let again = 2 * long;
        let low = (over.low[1] - start[1] - long).div_euclid(step) - 1;
        let high = (over.high[1] - start[1] + long).div_euclid(step) + 1;
        let mut cells = Vec::new();
        for row in low..=high {
            let x = start[0] + row * step;
            let y = start[1] + row * step;
            let first = (over.low[0] - x).div_euclid(again) - 1;
            let last = (over.high[0] - x).div_euclid(again) + 1;
            for column in first..=last {
                let x = x + column * again;
                let lying = Rect::at([x, y], lies);
                let standing = Rect::at([x + long, y + lies[1] - lies[0]], stands);
                cells.push(Cell { row, column, rect: lying, turned: false });
                cells.push(Cell { row, column, rect: standing, turned: true });
            }
        }
        cells
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const OVER: Rect = Rect { low: [0, 0], high: [1200, 900] };

    fn tiling(pattern: Pattern, size: [i64; 2]) -> Tiling {
        Tiling { pattern, size, joint: 5 }
    }

    /// All cells as far as they lie in a window, joints included, fill it: no two overlap, none is missing.
    fn fills(tiling: Tiling) {
        let cells = tiling.cells([-37, 113], &OVER).expect("it can be laid");
        let grown = |rect: &Rect| Rect { low: rect.low, high: [rect.high[0] + 5, rect.high[1] + 5] };
        for y in (0..900).step_by(7) {
            for x in (0..1200).step_by(7) {
                let inside = |cell: &&Cell| {
                    let rect = grown(&cell.rect);
                    (rect.low[0]..rect.high[0]).contains(&x) && (rect.low[1]..rect.high[1]).contains(&y)
                };
                let found = cells.iter().filter(inside).count();
                // at the upper right a joint's own piece may lie outside the window
                assert!(found == 1 || (found == 0 && (x < 5 || y < 5)), "{tiling:?}: {found} at {x}, {y}");
            }
        }
    }

    #[test]
    fn every_pattern_fills_the_plane() {
        fills(tiling(Pattern::Grid, [300, 200]));
        fills(tiling(Pattern::Bond { part: 1, of: 2 }, [300, 200]));
        fills(tiling(Pattern::Bond { part: 1, of: 3 }, [300, 200]));
        fills(tiling(Pattern::BondUp { part: 2, of: 3 }, [200, 300]));
        fills(tiling(Pattern::Herringbone, [205, 100]));
        fills(tiling(Pattern::Herringbone, [310, 100]));
        fills(tiling(Pattern::Herringbone, [100, 205]));
    }

    #[test]
    fn a_herringbone_wants_sides_that_go_into_each_other() {
        assert_eq!(tiling(Pattern::Herringbone, [205, 100]).herringbone_off(), 0);
        assert_eq!(tiling(Pattern::Herringbone, [200, 100]).herringbone_off(), -5);
        assert_eq!(tiling(Pattern::Herringbone, [207, 100]).herringbone_off(), 2);
    }

    #[test]
    fn what_cannot_be_laid_is_not() {
        assert!(tiling(Pattern::Grid, [0, 100]).cells([0, 0], &OVER).is_none());
        assert!(tiling(Pattern::Bond { part: 2, of: 2 }, [100, 100]).cells([0, 0], &OVER).is_none());
        let wide = Rect { low: [0, 0], high: [1 << 40, 1 << 40] };
        assert!(tiling(Pattern::Grid, [100, 100]).cells([0, 0], &wide).is_none());
    }
}
