//! The start of a pattern that cuts its pieces best, searched over its critical offsets.
//!
//! What a start cuts changes only where a corner of the field passes an edge, the half or the third of a piece; and
//! the narrowest of two cuts is widest where they are alike, with a piece or a joint midway between two corners. So
//! only these offsets are tried. On straight rows what happens along x does not depend on the offset along y: each
//! axis is judged alone, and the best few of both are laid together.

use crate::field::Net;
use crate::lay::{Laid, Piece, lay};
use crate::pattern::{Pattern, Tiling};
use crate::shape::{Point, Rect, Shape, sides};

/// What the start should do beside cutting well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sight {
    /// Whole pieces begin here and go on towards more.
    From(i64),
    /// Whole pieces end here.
    UpTo(i64),
    /// A piece or a joint has its middle here.
    Middle(i64),
}

/// How well a field is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quality {
    /// The narrowest that a side of the field leaves of any piece; none where no piece is cut.
    pub least: Option<i64>,
    /// That in 96ths of the whole piece in its direction; 96 where none is cut.
    pub least_96ths: i64,
    /// Pieces from which something is cut.
    pub cut: usize,
    /// All pieces.
    pub pieces: usize,
    /// Whether every [`Sight`] is met.
    pub sighted: bool,
}

/// One start and what it comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trial {
    /// Lower left corner of the pattern's piece 0, 0.
    pub start: Point,
    /// How well it cuts.
    pub quality: Quality,
}

/// The answer of a search.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Best {
    /// The field as the best start lays it.
    pub laid: Laid,
    /// The best start.
    pub best: Trial,
    /// The next best that cuts otherwise, then the one with the fewest cuts, where they are others.
    pub others: Vec<Trial>,
    /// How many places were found where a cut changes.
    pub places: usize,
}

/// How many offsets of rows are looked at, how many offsets in the rows for each of them, and how many of all those
/// pairs are laid.
const MOST_ROWS: usize = 40;
const KEPT: usize = 4;
const MOST_LAID: usize = 10;
/// Into how many a pitch is divided where sides are oblique.
const LATTICE: i64 = 8;

/// Most corners whose distances to each other are looked at.
const MOST_CORNERS: usize = 60;

impl Quality {
    /// How well a laid field is cut, `sighted` being known.
    pub fn of(laid: &Laid, sighted: bool) -> Quality {
        let share = |piece: &Piece| {
            let size = piece.cell.size();
            let parts =
                [0, 1].map(|axis| (piece.narrowest[axis] * 96 / size[axis].max(1), piece.narrowest[axis]));
            parts[0].min(parts[1])
        };
        let least = laid.pieces.iter().map(share).filter(|(share, _)| *share < 96).min();
        Quality {
            least: least.map(|(_, length)| length),
            least_96ths: least.map_or(96, |(share, _)| share),
            cut: laid.pieces.iter().filter(|piece| !piece.whole).count(),
            pieces: laid.pieces.len(),
            sighted,
        }
    }

    /// Greater is better: no cut under half, else none under a third, else the least cut as wide as may be; then
    /// what is in sight; then fewer cuts; then the wider least cut.
    fn rank(&self) -> (i64, i64, bool, std::cmp::Reverse<usize>, i64) {
        let (class, first) = graded(self.least_96ths);
        (class, first, self.sighted, std::cmp::Reverse(self.cut), self.least_96ths)
    }
}

/// 2 from a half on, 1 from a third on, else 0; and the share where it is less than a half.
fn graded(share: i64) -> (i64, i64) {
    match share {
        48.. => (2, 0),
        32.. => (1, share),
        _ => (0, share),
    }
}

/// Searches the start; see [`lay`] for `least` and for when there is none.
pub fn search(net: &Net, tiling: &Tiling, sight: [Option<Sight>; 2], least: i64) -> Option<Best> {
    if !tiling.is_sound() {
        return None;
    }
    // rows are placed first: where they lie decides which of them each side cuts
    let along = usize::from(matches!(tiling.pattern, Pattern::BondUp { .. }));
    let rows = Axis::of(net, tiling, 1 - along, sight[1 - along], None);
    let mut places = rows.places.len();
    let mut pairs: Vec<(Judged, Point)> = Vec::new();
    for (judged, across) in rows.best(MOST_ROWS) {
        let axis = Axis::of(net, tiling, along, sight[along], Some(across));
        places = places.max(rows.places.len() + axis.places.len());
        for (other, onwards) in axis.best(KEPT) {
            let mut start = [across; 2];
            start[along] = onwards;
            pairs.push((judged.and(&other), start));
        }
    }
    pairs.sort_by_key(|(judged, start)| (judged.key(), *start));
    let fewest =
        pairs.iter().min_by_key(|(judged, start)| (judged.cut, judged.key(), *start)).map(|pair| pair.1);
    let mut tried: Vec<Point> = pairs.iter().take(MOST_LAID).map(|pair| pair.1).collect();
    tried.extend(fewest.filter(|start| !tried.contains(start)));
    if let Some(first) = tried.first().copied().filter(|_| is_oblique(&net.bounded)) {
        tried.extend(lattice(first, tiling));
    }
    let mut best: Option<(Trial, Laid)> = None;
    let mut trials: Vec<Trial> = Vec::new();
    for start in tried {
        let laid = lay(net, tiling, start, least)?;
        let sighted = (0..2).all(|axis| sees(sight[axis], start[axis], tiling, axis));
        let trial = Trial { start, quality: Quality::of(&laid, sighted) };
        trials.push(trial);
        if best.as_ref().is_none_or(|(known, _)| trial.quality.rank() > known.quality.rank()) {
            best = Some((trial, laid));
        }
    }
    let (best, laid) = best?;
    let others = others(&best, &trials);
    Some(Best { laid, best, others, places })
}

/// Whether a side runs so far from both axes that what it cuts along one depends on the other.
fn is_oblique(shapes: &[Shape]) -> bool {
    shapes.iter().flat_map(Shape::rings).flat_map(|ring| sides(ring)).any(|[a, b]| {
        let run = [0, 1].map(|axis| (b[axis] - a[axis]).abs());
        run[0].min(run[1]) > run[0].max(run[1]) / 8
    })
}

/// Starts spread evenly over one pitch.
fn lattice(first: Point, tiling: &Tiling) -> impl Iterator<Item = Point> {
    let pitch = tiling.pitch();
    let at = move |axis: usize, k: i64| first[axis] + k * pitch[axis] / LATTICE;
    (0..LATTICE * LATTICE).skip(1).map(move |k| [at(0, k / LATTICE), at(1, k % LATTICE)])
}

/// The next best of the trials that cuts otherwise, and the one that cuts fewest pieces if those are fewer.
fn others(best: &Trial, trials: &[Trial]) -> Vec<Trial> {
    let told = |trial: &Trial| (trial.quality.least_96ths, trial.quality.cut);
    let mut others: Vec<Trial> = Vec::new();
    let ranked = trials.iter().filter(|trial| told(trial) != told(best));
    // of equals the first, so that nothing but the order of the trials decides
    others.extend(ranked.rev().max_by_key(|trial| trial.quality.rank()));
    let fewer = trials.iter().filter(|trial| trial.quality.cut < best.quality.cut);
    let fewest = fewer.rev().min_by_key(|trial| (trial.quality.cut, -trial.quality.least_96ths));
    others.extend(fewest.filter(|trial| others.iter().all(|known| told(known) != told(trial))));
    others
}

/// One axis: the corners that cut along it, and the offsets worth a look.
struct Axis {
    /// Each place where the field ends along this axis.
    ends: Vec<End>,
    size: i64,
    pitch: i64,
    low: i64,
    middle: i64,
    sight: Option<Sight>,
    places: Vec<i64>,
}

impl Axis {
    /// `rows` is where the rows across this axis begin, once that is known.
    fn of(net: &Net, tiling: &Tiling, axis: usize, sight: Option<Sight>, rows: Option<i64>) -> Axis {
        let (mut size, mut pitch) = (tiling.size[axis], tiling.pitch()[axis]);
        if tiling.pattern == Pattern::Herringbone {
            // every edge of the pattern lies on a multiple of the short pitch
            size = tiling.size[0].min(tiling.size[1]);
            pitch = size + tiling.joint;
        }
        let known = rows.filter(|_| tiling.pattern != Pattern::Herringbone);
        let ends = match known {
            Some(from) => row_ends(&net.bounded, axis, tiling, from),
            None => ends(&net.bounded, axis),
        };
        let points: Vec<Point> = net.bounded.iter().flat_map(|shape| shape.outer.iter().copied()).collect();
        let bounds = Rect::around(&points).unwrap_or(Rect { low: [0, 0], high: [0, 0] });
        let (low, high) = (bounds.low[axis], bounds.high[axis]);
        let middle = low + (high - low) / 2;
        let mut found = Axis { ends, size, pitch, low, middle, sight, places: Vec::new() };
        found.places = found.critical();
        found
    }

    /// Offsets where a cut changes, in one pitch from the lower end of the field, ascending.
    fn critical(&self) -> Vec<i64> {
        let (w, p) = (self.size, self.pitch);
        let mut all: Vec<i64> = Vec::new();
        let mut add = |offset: i64| all.push(self.low + (offset - self.low).rem_euclid(p));
        for end in &self.ends {
            // a piece begins or ends here, or half or a third of it is left
            for edge in [0, w, w / 2, w - w / 2, w / 3, w - w / 3, w - w / 3 - 1, w / 3 + 1] {
                add(end.at - edge);
            }
        }
        let mut few: Vec<i64> = self.ends.iter().map(|end| end.at).collect();
        few.sort_unstable();
        few.dedup();
        few.truncate(MOST_CORNERS);
        for (i, a) in few.iter().enumerate() {
            for b in &few[i + 1..] {
                let middle = a + (b - a) / 2;
                add(middle - w / 2);
                add(middle + (p - w) / 2);
            }
        }
        add(self.middle - w / 2);
        add(self.middle + (p - w) / 2);
        match self.sight {
            Some(Sight::From(at)) => add(at),
            Some(Sight::UpTo(at)) => add(at - w),
            Some(Sight::Middle(at)) => {
                add(at - w / 2);
                add(at + (p - w) / 2);
            }
            None => {}
        }
        all.sort_unstable();
        all.dedup();
        all
    }

    /// What an offset leaves along this axis.
    fn judged(&self, offset: i64) -> Judged {
        let (mut least, mut cut) = (96, 0);
        for end in &self.ends {
            let into = (end.at - offset).rem_euclid(self.pitch);
            let left = if end.onwards { self.size - into } else { into };
            if into < self.size && left > 0 && left < self.size {
                least = least.min(left * 96 / self.size);
                cut += end.wall;
            }
        }
        let off = |wanted: i64| {
            let rest = (offset - wanted).rem_euclid(self.pitch);
            rest.min(self.pitch - rest)
        };
        let off_middle =
            off(self.middle - self.size / 2).min(off(self.middle + (self.pitch - self.size) / 2));
        let sighted = met(self.sight, offset, self.size, self.pitch);
        Judged { least, cut, sighted, off_middle }
    }

    /// The few offsets that are worth more work, the best first, none that cuts just as another; last the one that
    /// cuts along least wall.
    fn best(&self, most: usize) -> Vec<(Judged, i64)> {
        let mut ranked: Vec<(Judged, i64)> = self.places.iter().map(|at| (self.judged(*at), *at)).collect();
        ranked.sort_by_key(|(judged, at)| (judged.key(), *at));
        let fewest = ranked.iter().min_by_key(|(judged, at)| (judged.cut, judged.key(), *at)).copied();
        let mut told: Vec<(i64, i64, bool)> = Vec::new();
        let mut kept: Vec<(Judged, i64)> = Vec::new();
        for (judged, at) in ranked {
            let tells = (judged.least, judged.cut, judged.sighted);
            if kept.len() < most && !told.contains(&tells) {
                told.push(tells);
                kept.push((judged, at));
            }
        }
        kept.extend(fewest.filter(|(_, at)| kept.iter().all(|(_, known)| known != at)));
        kept
    }
}

/// Whether a sight is met by pieces so large that begin at an offset and come again after a pitch.
fn met(sight: Option<Sight>, offset: i64, size: i64, pitch: i64) -> bool {
    let off = |wanted: i64| (offset - wanted).rem_euclid(pitch);
    match sight {
        None => true,
        Some(Sight::From(at)) => off(at) == 0,
        Some(Sight::UpTo(at)) => off(at - size) == 0,
        Some(Sight::Middle(at)) => off(at - size / 2) == 0 || off(at + (pitch - size) / 2) == 0,
    }
}

fn sees(sight: Option<Sight>, offset: i64, tiling: &Tiling, axis: usize) -> bool {
    met(sight, offset, tiling.size[axis], tiling.pitch()[axis])
}

/// What an offset, or two, would come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Judged {
    /// The least share of a piece, in 96ths.
    least: i64,
    /// How much wall is cut along.
    cut: i64,
    /// Whether what is in sight is met.
    sighted: bool,
    /// How far the nearest piece or joint is from the middle.
    off_middle: i64,
}

impl Judged {
    /// Less is better.
    fn key(&self) -> (i64, i64, bool, i64, i64, i64) {
        let (class, first) = graded(self.least);
        (-class, -first, !self.sighted, self.cut, -self.least, self.off_middle)
    }

    fn and(&self, other: &Judged) -> Judged {
        Judged {
            least: self.least.min(other.least),
            cut: self.cut + other.cut,
            sighted: self.sighted && other.sighted,
            off_middle: self.off_middle + other.off_middle,
        }
    }
}

/// A place where the field ends along an axis.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct End {
    /// Where, the shift of its row taken off.
    at: i64,
    /// Whether the field goes on from here towards more.
    onwards: bool,
    /// How much wall ends there.
    wall: i64,
}

/// The sides of shapes that run more across an axis than along it, each with whether the field goes on from it
/// towards more.
fn across(shapes: &[Shape], axis: usize) -> impl Iterator<Item = ([Point; 2], bool)> {
    shapes.iter().flat_map(Shape::rings).flat_map(|ring| sides(ring)).filter_map(move |[a, b]| {
        let across = b[1 - axis] - a[1 - axis];
        let steep = across != 0 && across.abs() >= (b[axis] - a[axis]).abs();
        // the inside is to the left of a side
        steep.then_some(([a, b], (across < 0) == (axis == 0)))
    })
}

/// Both ends of every such side.
fn ends(shapes: &[Shape], axis: usize) -> Vec<End> {
    let both = across(shapes, axis).flat_map(|([a, b], onwards)| {
        let wall = (b[1 - axis] - a[1 - axis]).abs();
        [a, b].map(|p| End { at: p[axis], onwards, wall })
    });
    sorted(both.collect())
}

/// The same where rows are known: each side where the lower and the upper edge of each row meet it.
fn row_ends(shapes: &[Shape], axis: usize, tiling: &Tiling, from: i64) -> Vec<End> {
    let (pitch, size) = (tiling.pitch()[1 - axis], tiling.size[1 - axis]);
    let shifts = tiling.shifts();
    let mut found = Vec::new();
    for ([a, b], onwards) in across(shapes, axis) {
        let (low, high) = if a[1 - axis] < b[1 - axis] { (a, b) } else { (b, a) };
        let span = i128::from(high[1 - axis] - low[1 - axis]);
        let at = |line: i64| {
            let part = i128::from(line - low[1 - axis]) * i128::from(high[axis] - low[axis]) / span;
            low[axis] + i64::try_from(part).unwrap_or(0)
        };
        let rows = (low[1 - axis] - from).div_euclid(pitch)..=(high[1 - axis] - from).div_euclid(pitch);
        for row in rows {
            let begin = (from + row * pitch).max(low[1 - axis]);
            let end = (from + row * pitch + size).min(high[1 - axis]);
            if begin >= end {
                continue;
            }
            let round = row.rem_euclid(i64::try_from(shifts.len()).unwrap_or(1));
            let shift = shifts[usize::try_from(round).unwrap_or(0)];
            found.extend([begin, end].map(|line| End { at: at(line) - shift, onwards, wall: end - begin }));
        }
    }
    sorted(found)
}

/// One for all that end alike.
fn sorted(mut ends: Vec<End>) -> Vec<End> {
    ends.sort_unstable();
    let mut merged: Vec<End> = Vec::new();
    for end in ends {
        match merged.last_mut() {
            Some(last) if (last.at, last.onwards) == (end.at, end.onwards) => last.wall += end.wall,
            _ => merged.push(end),
        }
    }
    merged
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::{Field, Hole, Side};

    const INCH: i64 = 25_400_000;

    fn grid(w: i64, h: i64, joint: i64) -> Tiling {
        Tiling { pattern: Pattern::Grid, size: [w, h], joint }
    }

    /// Published check values: a floor 100 1/2 in wide, 12 in tile, 1/8 in joints, 1/4 in gap. A joint on the
    /// centre line leaves 1 7/16 in at the walls, a tile on it 7 1/2 in (geometry). The search takes the second.
    #[test]
    fn of_two_centred_starts_the_one_without_slivers() {
        let eighth = INCH / 8;
        let (width, gap) = (100 * INCH + INCH / 2, INCH / 4);
        let net = Field::rectangle([width, 100 * INCH], gap).net();
        let tiling = grid(12 * INCH, 12 * INCH, eighth);
        let least = |start: i64| {
            let laid = lay(&net, &tiling, [start, gap], INCH / 16).expect("laid");
            let row = laid.pieces.iter().filter(|piece| piece.row == 1).map(|piece| piece.narrowest[0]);
            row.min().expect("pieces")
        };
        assert_eq!(least(width / 2 + eighth / 2), INCH + INCH * 7 / 16);
        assert_eq!(least(width / 2 - 6 * INCH), 7 * INCH + INCH / 2);
        let found = search(&net, &tiling, [None, None], INCH / 16).expect("found");
        assert!(found.best.quality.least_96ths >= 48, "{:?}", found.best);
        assert_eq!(found.best.quality.cut, found.laid.pieces.iter().filter(|piece| !piece.whole).count());
        assert!(!found.others.is_empty());
    }

    #[test]
    fn a_field_of_whole_pieces_is_cut_nowhere() {
        let net = Field::rectangle([4 * 310 - 10, 3 * 210 - 10], 0).net();
        let found = search(&net, &grid(300, 200, 10), [None, None], 1).expect("found");
        assert_eq!((found.best.quality.cut, found.best.quality.least), (0, None));
        assert_eq!(found.best.start, [0, 0]);
    }

    #[test]
    fn what_is_in_sight_decides_between_equals() {
        let net = Field::rectangle([1100, 900], 0).net();
        let tiling = grid(300, 200, 10);
        let whole = |sight| search(&net, &tiling, [sight, None], 1).expect("found").best;
        let right = whole(Some(Sight::UpTo(1100)));
        assert_eq!((right.start[0] + 300 - 1100).rem_euclid(310), 0, "{right:?}");
        assert!(right.quality.sighted);
        let middle = whole(Some(Sight::Middle(400)));
        assert_eq!(middle.quality.sighted, (middle.start[0] + 150 - 400).rem_euclid(155) == 0);
    }

    /// No offset on a fine lattice does better than the critical ones, on crooked fields with a bay.
    #[test]
    fn no_other_offset_is_better() {
        for k in 0..40_i64 {
            let w = 9_000 + 137 * k;
            let (a, b, c) = (k * 29 % 120, k * 53 % 90, 2_000 + k * 211 % 4_000);
            let corners = [
                [0, 0],
                [w, a],
                [w - b, 5_000],
                [c, 5_000 + b],
                [c, 4_200],
                [c - 1_500, 4_200],
                [c - 1_500, 5_000],
                [a, 5_000 - a],
            ];
            let outline = corners.map(|from| Side { from, gap: 20 }).to_vec();
            let net = Field { outline, holes: Vec::new() }.net();
            let pattern = if k % 2 == 0 { Pattern::Grid } else { Pattern::Bond { part: 1, of: 2 } };
            let tiling = Tiling { pattern, size: [1_000, 700], joint: 30 };
            let found = search(&net, &tiling, [None, None], 1).expect("found").best;
            let axes = [
                Axis::of(&net, &tiling, 0, None, Some(found.start[1])),
                Axis::of(&net, &tiling, 1, None, None),
            ];
            for axis in &axes {
                let key = |offset: i64| {
                    let judged = axis.judged(offset);
                    (graded(judged.least), -judged.cut)
                };
                let critical = axis.places.iter().map(|at| key(*at)).max().expect("places");
                let any = (0..axis.pitch).map(|k| key(axis.low + k)).max().expect("offsets");
                assert!(critical >= any, "{k}: {critical:?} {any:?}");
            }
            for step in 0..12 {
                let start = [found.start[0] + step * 83, found.start[1] + step * 59];
                let laid = lay(&net, &tiling, start, 1).expect("laid");
                let other = Quality::of(&laid, true);
                assert!(
                    graded(other.least_96ths).0 <= graded(found.quality.least_96ths).0,
                    "{k}: {start:?} {other:?} {found:?}"
                );
            }
        }
    }

    #[test]
    fn an_oblique_wall_is_searched_more_widely() {
        let corners = [[0, 0], [9_500, 0], [9_500, 5_000], [2_900, 5_000], [0, 3_400]];
        let net =
            Field { outline: corners.map(|from| Side { from, gap: 20 }).to_vec(), holes: Vec::new() }.net();
        assert!(is_oblique(&net.bounded));
        let tiling = grid(1_000, 700, 30);
        let found = search(&net, &tiling, [None, None], 1).expect("found").best.quality;
        for start in lattice([0, 0], &tiling) {
            let other = Quality::of(&lay(&net, &tiling, start, 1).expect("laid"), true);
            assert!(other.least_96ths <= found.least_96ths + 8, "{start:?} {other:?} {found:?}");
        }
    }

    #[test]
    fn a_big_hole_counts_as_a_side_and_a_small_one_does_not() {
        let mut field = Field::rectangle([930, 830], 0);
        let hole = |bounds| Hole { ring: Rect::at([415, 0], [515, 410]).ring(), gap: 0, bounds };
        field.holes = vec![hole(true)];
        let tiling = grid(300, 200, 10);
        let kept = search(&field.net(), &tiling, [None, None], 1).expect("found").best;
        field.holes = vec![hole(false)];
        let blind = search(&field.net(), &tiling, [None, None], 1).expect("found").best;
        assert!(kept.quality.least_96ths >= 32, "{kept:?}");
        assert!(blind.quality.least_96ths >= 48, "{blind:?}");
    }

    #[test]
    fn the_same_field_gives_the_same_start_and_a_bad_pattern_none() {
        let net = Field::rectangle([931, 777], 3).net();
        let find = || search(&net, &grid(300, 200, 10), [None, None], 1);
        assert_eq!(find(), find());
        assert!(search(&net, &grid(0, 200, 10), [None, None], 1).is_none());
    }
}
