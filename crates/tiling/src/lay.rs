//! Laying: every piece of a pattern as the field cuts it, and what becomes of the area.

use crate::field::Net;
use crate::pattern::{Cell, Tiling};
use crate::shape::{Point, Rect, Shape, crosses, difference, holds, intersection, sides, total2};

/// One piece as it is laid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its row from below, from one.
    pub row: u32,
    /// Its place in the row from the left, from one.
    pub column: u32,
    /// Which of several pieces of one cell it is, from one; zero where it is the only one.
    pub part: u32,
    /// Where the whole piece would lie.
    pub cell: Rect,
    /// Whether it is turned by a quarter against the pieces that lie.
    pub turned: bool,
    /// Its exact outline.
    pub shape: Shape,
    /// Whether nothing is cut off it.
    pub whole: bool,
    /// What the sides of the field leave of the cell, small holes not taken off: narrowest along x and along y. Equal
    /// to the cell's size in a direction in which they cut nothing.
    pub narrowest: [i64; 2],
    /// Whether a small hole takes something off it.
    pub holed: bool,
}

impl Piece {
    /// Width and height of what it is cut from: the rectangle round it.
    pub fn size(&self) -> [i64; 2] {
        self.shape.bounds().size()
    }

    /// Which sides of the cell it reaches, so that it keeps the piece's own edge there: left, right, lower, upper.
    pub fn keeps(&self) -> [bool; 4] {
        [0, 1, 2, 3].map(|side| contact(&self.shape, &self.cell, side).is_some())
    }
}

/// Twice the areas of a laid field.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Areas {
    /// Of the field.
    pub field2: i128,
    /// Of the holes in it.
    pub holes2: i128,
    /// Kept open along sides and holes.
    pub gaps2: i128,
    /// Of all pieces.
    pub pieces2: i128,
    /// Between them, worked out from what they leave.
    pub joints2: i128,
}

/// A laid field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// Lower left corner of the pattern's piece 0, 0.
    pub start: Point,
    /// Pieces, row by row from below, each from the left.
    pub pieces: Vec<Piece>,
    /// What became of the area.
    pub areas: Areas,
}

/// Lays a pattern with its piece 0, 0 at `start`. None where the pattern cannot be laid (see [`Tiling::is_sound`]) or
/// would have too many pieces.
///
/// What is narrower than `least` in some direction all along is no piece: the joint takes it in.
pub fn lay(net: &Net, tiling: &Tiling, start: Point, least: i64) -> Option<Laid> {
    let points: Vec<Point> = net.open.iter().flat_map(|shape| shape.outer.iter().copied()).collect();
    let Some(bounds) = Rect::around(&points) else {
        return Some(Laid { start, pieces: Vec::new(), areas: areas(net, &[]) });
    };
    let cells = tiling.cells(start, &bounds)?;
    let edges = |shapes: &[Shape]| -> Vec<[Point; 2]> {
        shapes.iter().flat_map(Shape::rings).flat_map(|ring| sides(ring)).collect()
    };
    let (open, bounded) = (edges(&net.open), edges(&net.bounded));
    let mut pieces: Vec<Piece> = Vec::new();
    for cell in &cells {
        let cut = open.iter().any(|side| crosses(*side, &cell.rect));
        let found = clip(&net.open, cell, cut);
        let bare = if bounded.iter().any(|side| crosses(*side, &cell.rect)) {
            clip(&net.bounded, cell, true)
        } else {
            vec![cell.rect.shape()]
        };
        let real: Vec<Shape> = found
            .into_iter()
            .filter(|shape| shape.bounds().size().iter().all(|side| *side >= least))
            .collect();
        let many = real.len();
        for (i, shape) in real.into_iter().enumerate() {
            let within = bare.iter().find(|bare| holds_any(bare, &shape)).unwrap_or(&shape);
            pieces.push(Piece {
                row: 0,
                column: 0,
                part: if many > 1 { u32::try_from(i + 1).unwrap_or(u32::MAX) } else { 0 },
                cell: cell.rect,
                turned: cell.turned,
                whole: shape.area2() == cell.rect.area2(),
                narrowest: narrowest(within, &cell.rect),
                // a nanometre's rounding at a slanted side is no hole
                holed: within.area2() - shape.area2() > within.area2() / 1_000_000,
                shape,
            });
        }
        let from = pieces.len() - many;
        for piece in &mut pieces[from..] {
            number(piece, cell, &cells);
        }
    }
    let areas = areas(net, &pieces);
    Some(Laid { start, pieces, areas })
}

/// Row and column from one, from the least row and the least column of the row.
fn number(piece: &mut Piece, cell: &Cell, cells: &[Cell]) {
    let small = |n: i64| u32::try_from(n).unwrap_or(u32::MAX);
    let lowest = cells.first().map_or(cell.row, |first| first.row);
    let begin = cells.partition_point(|other| other.row < cell.row);
    let place = cells[begin..].iter().take_while(|other| *other != cell).count();
    piece.row = small(cell.row - lowest + 1);
    piece.column = small(i64::try_from(place).unwrap_or(i64::MAX) + 1);
}

fn clip(shapes: &[Shape], cell: &Cell, cut: bool) -> Vec<Shape> {
    if cut {
        return intersection(shapes, &[cell.rect.shape()]);
    }
    let [w, h] = cell.rect.size();
    let middle = [cell.rect.low[0] + w / 2, cell.rect.low[1] + h / 2];
    if holds(shapes, middle) { vec![cell.rect.shape()] } else { Vec::new() }
}

/// Whether a shape lies in another: they share area.
fn holds_any(outer: &Shape, inner: &Shape) -> bool {
    outer.bounds() == inner.bounds()
        || !intersection(std::slice::from_ref(outer), std::slice::from_ref(inner)).is_empty()
}

fn areas(net: &Net, pieces: &[Piece]) -> Areas {
    let shapes: Vec<Shape> = pieces.iter().map(|piece| piece.shape.clone()).collect();
    Areas {
        field2: net.field2,
        holes2: net.holes2,
        gaps2: net.gaps2,
        pieces2: total2(&shapes),
        joints2: total2(&difference(&net.open, &shapes)),
    }
}

/// The shortest stretch of a side of the cell (left, right, lower, upper) that the shape lies against; none where it
/// does not reach that side.
fn contact(shape: &Shape, cell: &Rect, side: usize) -> Option<i64> {
    let (axis, line) = [(0, cell.low[0]), (0, cell.high[0]), (1, cell.low[1]), (1, cell.high[1])][side];
    let lies = |[a, b]: &[Point; 2]| a[axis] == line && b[axis] == line;
    let found = shape.rings().flat_map(|ring| sides(ring)).filter(lies);
    found.map(|[a, b]| (a[1 - axis] - b[1 - axis]).abs()).filter(|length| *length > 0).min()
}

/// Along x: the shortest that is left of the lower and the upper edge; along y of the left and right ones. Where
/// neither edge is left at all, the extent.
fn narrowest(shape: &Shape, cell: &Rect) -> [i64; 2] {
    let size = shape.bounds().size();
    let edges = [[2, 3], [0, 1]];
    [0, 1].map(|axis| {
        let left = edges[axis].into_iter().filter_map(|side| contact(shape, cell, side));
        left.min().unwrap_or(size[axis])
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::{Field, Hole, Side};
    use crate::pattern::Pattern;

    const GRID: Tiling = Tiling { pattern: Pattern::Grid, size: [300, 200], joint: 10 };

    fn conserves(laid: &Laid) {
        let a = laid.areas;
        assert_eq!(a.field2, a.holes2 + a.gaps2 + a.pieces2 + a.joints2);
    }

    #[test]
    fn whole_and_cut_pieces_of_a_rectangle() {
        // 950 x 520 net: columns 300, 300, 300 and 20; rows 200, 200 and 100
        let laid = lay(&Field::rectangle([970, 540], 10).net(), &GRID, [10, 10], 1).expect("laid");
        conserves(&laid);
        assert_eq!(laid.pieces.len(), 4 * 3);
        assert_eq!(laid.pieces.iter().filter(|piece| piece.whole).count(), 6);
        let corner = laid.pieces.last().expect("twelve pieces");
        assert_eq!((corner.row, corner.column, corner.size()), (3, 4, [20, 100]));
        assert_eq!(corner.narrowest, [20, 100]);
        assert_eq!(corner.keeps(), [true, false, true, false]);
        assert_eq!(laid.areas.pieces2, 2 * (920 * 500));
    }

    #[test]
    fn a_slanted_wall_cuts_pieces_narrower_at_one_end() {
        let corners = [[0, 0], [970, 0], [930, 410], [0, 410]];
        let outline = corners.map(|from| Side { from, gap: 0 }).to_vec();
        let laid = lay(&Field { outline, holes: vec![] }.net(), &GRID, [0, 0], 1).expect("laid");
        let last = laid.pieces.iter().find(|piece| (piece.row, piece.column) == (1, 4)).expect("a sliver");
        // 970 - 930 at the floor; the wall is 19 or 20 further in 200 up
        assert_eq!(last.size(), [40, 200]);
        assert!((20..=21).contains(&last.narrowest[0]), "{:?}", last.narrowest);
        assert_eq!(last.narrowest[1], 200);
        let a = laid.areas;
        let off = a.field2 - a.holes2 - a.gaps2 - a.pieces2 - a.joints2;
        assert!(off.abs() < 2 * 2000, "{off}");
    }

    #[test]
    fn a_hole_notches_pieces_and_leaves_their_strips_out_of_account() {
        let mut field = Field::rectangle([920, 410], 0);
        let hole = |low, size, bounds| Hole { ring: Rect::at(low, size).ring(), gap: 0, bounds };
        field.holes = vec![hole([100, 100], [350, 50], false), hole([700, 20], [20, 20], false)];
        let laid = lay(&field.net(), &GRID, [0, 0], 1).expect("laid");
        conserves(&laid);
        let at = |row, column| {
            laid.pieces.iter().find(|piece| (piece.row, piece.column) == (row, column)).expect("there")
        };
        assert_eq!((at(1, 1).holed, at(1, 1).whole, at(1, 1).narrowest), (true, false, [300, 200]));
        assert_eq!(at(1, 1).shape.outer.len(), 8, "a notch in its right edge");
        assert_eq!(at(1, 3).shape.holes.len(), 1);
        field.holes[0].bounds = true;
        let laid = lay(&field.net(), &GRID, [0, 0], 1).expect("laid");
        let first = laid.pieces.iter().find(|piece| (piece.row, piece.column) == (1, 1)).expect("there");
        assert_eq!((first.holed, first.narrowest), (false, [300, 50]), "the lips beside the notch count");
    }

    #[test]
    fn one_cell_may_give_two_pieces() {
        let mut field = Field::rectangle([300, 200], 0);
        field.holes = vec![Hole { ring: Rect::at([100, -10], [50, 300]).ring(), gap: 0, bounds: true }];
        let laid = lay(&field.net(), &GRID, [0, 0], 1).expect("laid");
        conserves(&laid);
        let parts: Vec<(u32, [i64; 2])> =
            laid.pieces.iter().map(|piece| (piece.part, piece.size())).collect();
        assert_eq!(parts, [(1, [100, 200]), (2, [150, 200])]);
    }

    #[test]
    fn what_is_too_narrow_to_be_a_piece_goes_to_the_joint() {
        let laid = lay(&Field::rectangle([311, 200], 0).net(), &GRID, [0, 0], 5).expect("laid");
        conserves(&laid);
        assert_eq!(laid.pieces.len(), 1);
        assert_eq!(laid.areas.joints2, 2 * 11 * 200);
    }
}
