//! Tile: every piece of a field, the lines to snap, and how many have to be bought, counted from pieces.

use dryfit_measure::{Amount, Area, Dim, Key, Length};
use dryfit_plan::{Form, Plan, TileForm, TileLaying, TilePattern, TileSight};
use dryfit_tiling::{
    Laid, Net, Pattern, Piece, Point, Quality, Rect, Reused, Sight, Tiling, Trial, lay, reuse, search,
};

use super::field::field_at;
use super::setting::SetField;
use crate::figures::Figures;
use crate::need::Need;
use crate::survey::Survey;

/// A field of tile.
#[derive(Clone, Debug)]
pub struct TileField {
    /// The tile.
    pub good: Key,
    /// Along, up and through, as it is laid.
    pub tile: [Dim; 3],
    /// Between two tiles.
    pub joint: Dim,
    /// The pattern in its sizes.
    pub tiling: Tiling,
    /// Every piece, and what becomes of the area.
    pub laid: Laid,
    /// How well the start cuts.
    pub quality: Quality,
    /// Other starts worth a look: the runner-up, and the one with the fewest cuts.
    pub others: Vec<Trial>,
    /// Over how many places where a cut changes the start was found; none where it is pinned.
    pub places: Option<usize>,
    /// From which tile each cut piece comes.
    pub reused: Reused,
    /// Whole tiles.
    pub whole: u32,
    /// The two lines to snap first: an upright (or first) one along, and a level one up. Each is the near edge of a
    /// tile.
    pub lines: [Dim; 2],
    /// The rows that a side of the field cuts, by side.
    pub rows: Vec<CutRow>,
}

/// A row of tiles that one side of the field cuts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutRow {
    /// Which side: left, right, lower or upper.
    pub side: &'static str,
    /// How many tiles are cut along it.
    pub pieces: usize,
    /// How wide the first is there, from the left or from below.
    pub from: Length,
    /// How wide the last is.
    pub to: Length,
}

/// Sides, in the order of [`Piece::keeps`].
const SIDES: [&str; 4] = ["left", "right", "lower", "upper"];

impl TileField {
    /// Tiles that have to be opened: whole ones and those that cut pieces come from.
    pub fn tiles(&self) -> u32 {
        self.whole.saturating_add(u32::try_from(self.reused.opened).unwrap_or(u32::MAX))
    }

    /// Tiles and joints together.
    pub fn area(&self) -> Area {
        Area::from_nm2(i128::midpoint(self.laid.areas.pieces2, self.laid.areas.joints2))
    }

    /// The joints alone.
    pub fn joint_area(&self) -> Area {
        Area::from_nm2(self.laid.areas.joints2 / 2)
    }

    /// The role path of a piece: row from below and place in it from the left.
    pub fn path(&self, key: &Key, piece: &Piece) -> String {
        let part = if piece.part == 0 { String::new() } else { format!(".{}", piece.part) };
        format!("{key}/r{}.c{}{part}", piece.row, piece.column)
    }

    /// The field, as far as setting it goes.
    pub(super) fn set(&self, key: &Key) -> SetField {
        let [along, up, thick] = self.tile.clone();
        let [long, wide] = if along.length() < up.length() { [up, along] } else { [along, up] };
        SetField {
            key: key.clone(),
            tile: [long, wide, thick],
            joint: self.joint.clone(),
            joint_at: field_at(key).child("with").child("tile").child("joint"),
            area: self.area(),
            joint_area: Some(self.joint_area()),
            tiles: u32::try_from(self.laid.pieces.len()).unwrap_or(u32::MAX),
        }
    }

    pub(super) fn needs(&self, key: &Key) -> Vec<Need> {
        let words = format!(
            "{key}: {} whole, {} cut from {}",
            self.whole,
            self.reused.from.len(),
            self.reused.opened
        );
        let need = Need::of(self.good.clone(), Amount::Pieces(self.tiles()), words, format!("/fields/{key}"));
        vec![need.because(vec![self.tile[0].clone(), self.tile[1].clone(), self.joint.clone()])]
    }
}

/// The tile of a field in the plan's own dimensions.
fn sizes(form: &TileForm, good: &Key, turned: bool) -> [Dim; 3] {
    let at = dryfit_measure::Pointer::root().child("goods").child(good.as_str()).child("form").child("tile");
    let taped = |name: &str, what: &'static str, length: Length| {
        Dim::taped(length, at.child(name)).named(what).placed(good.as_str())
    };
    let width = taped("width", "tile width", form.width.length);
    let height = taped("height", "tile height", form.height.length);
    let thick = taped("thickness", "tile thickness", form.thickness.length);
    if turned { [height, width, thick] } else { [width, height, thick] }
}

/// Lays a field of tile. None where the good is no tile, or the pattern cannot be laid with it.
pub(crate) fn tile(
    plan: &Plan,
    survey: &Survey,
    key: &Key,
    laying: &TileLaying,
    net: &Net,
) -> Option<TileField> {
    let Form::Tile(form) = &plan.goods.get(&laying.good)?.form else { return None };
    let figures = Figures::of_field(plan, key);
    let tile = sizes(form, &laying.good, laying.turned);
    let at = field_at(key).child("with").child("tile");
    let joint = Dim::chosen(laying.joint.length, at.child("joint")).named("joint").placed(key.as_str());
    let pattern = match laying.pattern {
        TilePattern::Grid => Pattern::Grid,
        TilePattern::BondHalf => Pattern::Bond { part: 1, of: 2 },
        TilePattern::BondThird => Pattern::Bond { part: 1, of: 3 },
        TilePattern::Herringbone => Pattern::Herringbone,
    };
    let size = [0, 1].map(|axis| tile[axis].length().nm());
    let tiling = Tiling { pattern, size, joint: joint.length().nm() };
    // a mark's worth: the joints of a herringbone may differ by so much and nobody sees it
    if pattern == Pattern::Herringbone && tiling.is_sound() && tiling.herringbone_off().abs() > 1_600_000 {
        return None;
    }
    let bounds = bounds(net);
    let sight = laying.sight.map(|sight| match sight {
        TileSight::Middle(at) => Sight::Middle(at.length.nm()),
        TileSight::Left => Sight::From(bounds.low[0]),
        TileSight::Right => Sight::UpTo(bounds.high[0]),
    });
    // what is narrower than a joint is no piece
    let least = joint.length().nm().max(1_000_000);
    let (laid, quality, others, places) = if let Some(start) = laying.start {
        let laid = lay(net, &tiling, [start.along.length.nm(), start.up.length.nm()], least)?;
        let quality = Quality::of(&laid, true);
        (laid, quality, Vec::new(), None)
    } else {
        let found = search(net, &tiling, [sight, None], least)?;
        (found.laid, found.best.quality, found.others, Some(found.places))
    };
    let kerf = figures.dim("tile-kerf").length().nm();
    let square = size[0] == size[1];
    let reused = reuse(&laid.pieces, kerf, square);
    let whole = u32::try_from(laid.pieces.iter().filter(|piece| piece.whole).count()).unwrap_or(u32::MAX);
    let gap = figures.dim("tile-gap");
    let lines = [0, 1].map(|axis| {
        let middle = bounds.low[axis] + (bounds.high[axis] - bounds.low[axis]) / 2;
        let near = laid.pieces.iter().map(|piece| piece.cell.low[axis]);
        let line = near.min_by_key(|at| ((at - middle).abs(), *at)).unwrap_or(middle);
        let pinned = laying.start.map(|start| {
            let (name, stated) = [("along", start.along), ("up", start.up)][axis];
            Dim::chosen(stated.length, at.child("start").child(name)).named("start that is pinned")
        });
        let mut inputs = vec![(tile[axis].clone(), 0.0), (joint.clone(), 0.0), (gap.clone(), 0.0)];
        inputs.push((survey.levels.places.clone(), 0.0));
        inputs.extend(pinned.map(|pinned| (pinned, 1.0)));
        let name = ["first line along", "first line up"][axis];
        Dim::worked(Length::from_nm(line), "tile edge nearest the middle", inputs)
            .named(name)
            .placed(key.as_str())
    });
    let rows = rows(&laid.pieces);
    Some(TileField {
        good: laying.good.clone(),
        tile,
        joint,
        tiling,
        laid,
        quality,
        others,
        places,
        reused,
        whole,
        lines,
        rows,
    })
}

/// The least rectangle round what is covered.
pub(super) fn bounds(net: &Net) -> Rect {
    let points: Vec<Point> = net.open.iter().flat_map(|shape| shape.outer.iter().copied()).collect();
    Rect::around(&points).unwrap_or(Rect { low: [0, 0], high: [0, 0] })
}

/// The rows that the sides cut: pieces that reach neither end of their cell there, first and last of the row.
fn rows(pieces: &[Piece]) -> Vec<CutRow> {
    let mut rows = Vec::new();
    for (side, name) in SIDES.into_iter().enumerate() {
        let axis = side / 2;
        let edge = |piece: &&Piece| !piece.keeps()[side] && piece.keeps()[side ^ 1];
        let Some(end) = pieces.iter().filter(edge).map(|piece| line(piece, side)).min() else { continue };
        // the row at the outermost side alone: cuts at openings are told piece by piece
        let mut row: Vec<&Piece> = pieces
            .iter()
            .filter(edge)
            .filter(|piece| line(piece, side) - end < piece.cell.size()[axis])
            .collect();
        row.sort_by_key(|piece| piece.cell.low[1 - axis]);
        if let (Some(first), Some(last)) = (row.first(), row.last()) {
            let [from, to] = [first, last].map(|piece| Length::from_nm(piece.narrowest[axis]));
            rows.push(CutRow { side: name, pieces: row.len(), from, to });
        }
    }
    rows
}

/// How far out a cell lies on a side: less is further out.
fn line(piece: &Piece, side: usize) -> i64 {
    let (low, high) = (piece.cell.low[side / 2], piece.cell.high[side / 2]);
    if side.is_multiple_of(2) { low } else { -high }
}
