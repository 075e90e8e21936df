//! Where everything is along its wall: ends of runs, inside corners both ways, widths.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{Plan, Unit, UnitKind, Width};

use super::Beside;
use super::depth::Depth;
use super::rows::{Row, RowEnd, SIDES, waits_for};
use super::stack::{Stack, on_mark};
use super::unshared::{adrift, crossed, left_over, no_corner, nothing_to_share, too_wide};
use super::widths::{Shared, Want, natural_begin, share_out};
use crate::figures::Figures;
use crate::finding::Finding;
use crate::survey::Survey;

/// A row shared out along its wall.
pub(super) struct Spread {
    /// Room between the walls.
    pub clear: Dim,
    /// How far into each corner the other run reaches, pulls and air included.
    pub kept: [Option<Dim>; 2],
    /// Where its first unit begins.
    pub from: Dim,
    /// What is left over at its end; below zero what is missing.
    pub spare: Dim,
    pub shared: Shared,
}

/// What the rows are spread out by.
pub(super) struct Terms<'t, 'p> {
    pub plan: &'p Plan,
    pub survey: &'t Survey,
    pub rows: &'t [Row<'p>],
    pub depths: &'t BTreeMap<&'p Key, Depth>,
    pub stack: &'t Stack<'p>,
}

/// Spreads every row out, those first on whose units others end.
pub(super) fn spread(terms: &Terms<'_, '_>) -> (Vec<Spread>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut done: Vec<Option<Spread>> = terms.rows.iter().map(|_| None).collect();
    // circles were broken before, so that every pass settles a row
    while let Some(i) = (0..done.len())
        .find(|&i| done[i].is_none() && waits_for(&terms.rows[i]).all(|other| done[other].is_some()))
    {
        let spread = terms.spread_row(i, &done, &mut findings);
        done[i] = Some(spread);
    }
    (done.into_iter().map(|spread| spread.expect("no circles are left")).collect(), findings)
}

/// What the ends of the clear width are called.
const CLEAR: [&str; 2] = ["clear from", "clear to"];

impl Terms<'_, '_> {
    fn spread_row(&self, i: usize, done: &[Option<Spread>], findings: &mut Vec<Finding>) -> Spread {
        let row = &self.rows[i];
        let walls = self.wall_edges(i);
        let clear = (&walls[1] - &walls[0]).named("clear width").placed(row.wall.as_str());
        let corners = [0, 1].map(|side| self.corner(i, side));
        let kept = [0, 1].map(|side| corners[side].as_ref().map(|corner| corner.kept.clone()));
        let wants = self.wants(i, &corners, findings);
        let names: Vec<&str> = row.units.iter().map(|(key, _)| key.as_str()).collect();
        let ends = [0, 1].map(|side| self.end(i, side, &walls, corners[side].as_ref(), done));
        let fineness = self.plan.fineness;
        let asks = wants.iter().any(|want| matches!(want, Want::Share | Want::Within { .. }));
        let bounded = ends.iter().all(Option::is_some);
        let (left, right) = match ends {
            [None, None] if !asks => {
                findings.push(adrift(row));
                (walls[0].clone(), None)
            }
            [Some(left), None] if !asks => (left, None),
            [None, Some(right)] if !asks => (natural_begin(&wants, &right, fineness), Some(right)),
            [left, right] => {
                if !bounded {
                    findings.push(nothing_to_share(row, usize::from(left.is_some())));
                }
                let [begin, finish] = walls.clone();
                (left.unwrap_or(begin), Some(right.unwrap_or(finish)))
            }
        };
        let limit = right.clone().unwrap_or_else(|| walls[1].clone());
        let shared = share_out(&wants, &names, &left, right.as_ref(), fineness);
        let from = shared.edges.first().unwrap_or(&shared.end).clone();
        let beyond = &limit - &shared.end;
        let before = &from - &walls[0];
        let spare = if before.length().is_negative() { Dim::least([before, beyond]) } else { beyond };
        let spare = spare.named("left over").placed(row.key.as_str());
        if spare.length().is_negative() {
            findings.push(too_wide(self.plan, row, &spare, &shared));
        } else if bounded && spare.length() >= fineness.step() {
            findings.push(left_over(self.plan, row, &spare));
        }
        Spread { clear, kept, from, spare, shared }
    }

    /// Heights over which a unit at this end of a row reaches, and how far out its box and frame do.
    fn reach_of_end(&self, i: usize, side: usize) -> Option<(Dim, Dim)> {
        let units = &self.rows[i].units;
        let solid = |(_, unit): &&(&Key, &Unit)| unit.kind != UnitKind::Gap;
        let end = if side == 0 { units.iter().find(solid) } else { units.iter().rev().find(solid) };
        let (key, _) = end.or(units.first())?;
        let plane = self.depths[*key].plane().named("depth of box and frame").placed(key.as_str());
        Some((self.stack.top_of(i, key), plane))
    }

    /// Where the walls round both corners leave off, along this row's wall, each over the height and depth of what
    /// stands at that end.
    fn wall_edges(&self, i: usize) -> [Dim; 2] {
        let (wall, bottom) = (self.rows[i].wall, &self.stack.up[i]);
        let reaches = [0, 1].map(|side| self.reach_of_end(i, side).unwrap_or_default());
        let room = |(top, out): &(Dim, Dim)| {
            self.survey.clear(wall, None, [bottom.length(), top.length()], out.length())
        };
        let lengths = |(top, out): &(Dim, Dim)| (top.length(), out.length());
        let left = room(&reaches[0]);
        let right =
            if lengths(&reaches[0]) == lengths(&reaches[1]) { left.clone() } else { room(&reaches[1]) };
        let edges = [left.map(|clear| clear.left), right.map(|clear| clear.right)];
        [0, 1].map(|side| {
            let (top, out) = &reaches[side];
            let edge = edges[side].clone().unwrap_or_default();
            self.over(i, side, &edge, [bottom, top, out]).named(CLEAR[side]).placed(wall.as_str())
        })
    }

    /// An edge with the heights and the depth that it was asked over among its reasons.
    fn over(&self, i: usize, side: usize, edge: &Dim, [bottom, top, out]: [&Dim; 3]) -> Dim {
        let round =
            self.survey.beside(self.rows[i].wall, SIDES[side]).and_then(|wall| self.survey.wall(wall));
        let [lean, slant] = round.map_or([0.0; 2], |wall| {
            let line = &self.survey.walls[wall];
            let corner = if side == 0 { &line.right } else { &line.left };
            let angle = self.survey.corner_angle(corner).unwrap_or(std::f64::consts::FRAC_PI_2);
            [line.lean, angle.tan().recip()]
        });
        // what leans in takes room the higher, what leans out the lower, a shut corner the deeper
        let sign = if side == 0 { -1.0 } else { 1.0 };
        let over = [(bottom, lean.max(0.0)), (top, lean.min(0.0)), (out, -slant.max(0.0))];
        let mut inputs = vec![(edge.clone(), 1.0)];
        let over = over.into_iter().filter(|(dim, _)| !dim.length().is_zero());
        inputs.extend(over.map(|(dim, slope)| (dim.clone(), sign * slope)));
        Dim::worked(self.settled(edge.length()), "edge, over height and depth,", inputs)
    }

    /// A surveyed length; one within a micrometre of a mark is at the mark, so that what is even stays even when
    /// it is rounded. No survey is half so sure.
    fn settled(&self, length: Length) -> Length {
        let mark = length.round_to(self.plan.fineness, Toward::Nearest);
        if (length - mark).abs() <= Length::um(1) { mark } else { length }
    }

    /// The other run in a corner: where its frames stand, how far everything of it reaches, pulls and air too.
    fn corner(&self, i: usize, side: usize) -> Option<Corner> {
        let row = &self.rows[i];
        let RowEnd::Corner { with, owns } = row.ends[side] else { return None };
        let other = self.rows[with].key;
        let (top, out) = self.reach_of_end(i, side).unwrap_or_default();
        let up = [self.stack.up[i].length(), top.length()];
        let reach = |depth: Dim, name: String| {
            let reach = self.survey.reach(row.wall, SIDES[side], &depth, up, out.length());
            let reach =
                reach.map_or(depth, |reach| self.over(i, side, &reach, [&self.stack.up[i], &top, &out]));
            reach.named(name).placed(row.key.as_str())
        };
        let plane = self.row_plane(with).named("depth of boxes and frames").placed(other.as_str());
        let figures = match self.first_front(i, side) {
            Some(key) => Figures::of_unit(self.plan, key),
            None => Figures::of_handbook(self.plan),
        };
        let overall = self.row_depth(with) + figures.dim("corner-clear");
        let overall = overall.named("depth with pulls and air").placed(other.as_str());
        Some(Corner {
            plane: reach(plane, format!("meets the frames of {other}")),
            kept: reach(overall, format!("keeps clear of {other}")),
            owns,
        })
    }

    /// How far the boxes and frames of a row stand out from its wall at most.
    fn row_plane(&self, i: usize) -> Dim {
        self.greatest(i, |unit| unit.kind != UnitKind::Appliance, Depth::plane)
    }

    /// How far anything of a row stands out from its wall at most.
    pub fn row_depth(&self, i: usize) -> Dim {
        let depth = self.greatest(i, |_| true, Depth::overall);
        depth.named("depth over all").placed(self.rows[i].key.as_str())
    }

    fn greatest(&self, i: usize, counts: fn(&Unit) -> bool, depth: fn(&Depth) -> Dim) -> Dim {
        let solid = self.rows[i].units.iter().filter(|(_, unit)| unit.kind != UnitKind::Gap && counts(unit));
        let mut all: Vec<Dim> = Vec::new();
        for dim in solid.map(|(key, _)| depth(&self.depths[*key])) {
            // units of one recipe are one cause
            if !all.iter().any(|known| same_sum(known, &dim)) {
                all.push(dim);
            }
        }
        match all.as_slice() {
            [one] => one.clone(),
            _ => Dim::greatest_of(all).unwrap_or_default(),
        }
    }

    /// The unit whose front opens first, seen from one end of a row.
    fn first_front(&self, i: usize, side: usize) -> Option<&Key> {
        let opens = |key: &&Key| self.depths[*key].reveal.is_some();
        let keys: Vec<&Key> = self.rows[i].units.iter().map(|(key, _)| *key).collect();
        if side == 0 { keys.into_iter().find(opens) } else { keys.into_iter().rev().find(opens) }
    }

    /// What is beside unit `k` of row `i` on one side.
    pub fn beside(&self, i: usize, k: usize, side: usize) -> Beside {
        let row = &self.rows[i];
        let next = if side == 0 { k.checked_sub(1) } else { Some(k + 1) };
        if let Some((key, _)) = next.and_then(|k| row.units.get(k)) {
            return Beside::Unit((*key).clone());
        }
        match &row.ends[side] {
            RowEnd::Corner { with, owns: false } => Beside::Run(self.rows[*with].key.clone()),
            RowEnd::Wall | RowEnd::Corner { .. } => match self.survey.beside(row.wall, SIDES[side]) {
                Some(wall) => Beside::Wall(wall.clone()),
                None => Beside::Free,
            },
            RowEnd::Unit { unit, .. } => Beside::Unit(unit.clone()),
            RowEnd::Free(_) | RowEnd::Open => Beside::Free,
        }
    }

    /// Where a wall leaves a worktop off: at its height and over its depth.
    pub fn top_edge(&self, i: usize, side: usize, top: &Key, depth: Option<&Dim>) -> Dim {
        let (upper, out) = (&self.stack.tops[top].upper, depth.cloned().unwrap_or_default());
        let under = upper - &self.stack.tops[top].thickness;
        let row = &self.rows[i];
        let up = [under.length(), upper.length()];
        let Some(clear) = self.survey.clear(row.wall, None, up, out.length()) else { return Dim::zero() };
        let edge = [&clear.left, &clear.right][side];
        self.over(i, side, edge, [&under, upper, &out]).named(CLEAR[side]).placed(row.wall.as_str())
    }

    /// Where the front edge of the leg round the corner crosses a leg's own wall, over its depth.
    pub fn top_reach(&self, i: usize, side: usize, top: &Key, depths: [&Dim; 2]) -> Dim {
        let [other, own] = depths;
        let upper = &self.stack.tops[top].upper;
        let under = upper - &self.stack.tops[top].thickness;
        let row = &self.rows[i];
        let up = [under.length(), upper.length()];
        match self.survey.reach(row.wall, SIDES[side], other, up, own.length()) {
            Some(reach) => self.over(i, side, &reach, [&under, upper, own]),
            None => other.clone(),
        }
    }

    /// Where a row begins or ends; none where its units alone say so.
    fn end(
        &self,
        i: usize,
        side: usize,
        walls: &[Dim; 2],
        corner: Option<&Corner>,
        done: &[Option<Spread>],
    ) -> Option<Dim> {
        let row = &self.rows[i];
        match &row.ends[side] {
            RowEnd::Wall => Some(walls[side].clone()),
            RowEnd::Corner { .. } => match corner {
                Some(corner) if !corner.owns => Some(corner.plane.clone()),
                _ => Some(walls[side].clone()),
            },
            RowEnd::Free(from_corner) if side == 0 => Some(from_corner.clone()),
            RowEnd::Free(from_corner) => {
                let wall = self.survey.wall_length(row.wall)?;
                let wall = Dim::worked(self.settled(wall.length()), "length", [(wall, 1.0)]);
                Some((wall - from_corner).named("free end").placed(row.key.as_str()))
            }
            RowEnd::Unit { unit, row: other } => {
                let spread = done[*other].as_ref()?;
                let k = self.rows[*other].units.iter().position(|(key, _)| *key == unit)?;
                let left = &spread.shared.edges[k];
                let edge = if side == 1 {
                    left.clone().named("left edge").placed(unit.as_str())
                } else {
                    (left + &spread.shared.widths[k]).named("right edge").placed(unit.as_str())
                };
                Some(edge)
            }
            RowEnd::Open => None,
        }
    }

    /// What each unit of a row wants.
    fn wants(&self, i: usize, corners: &[Option<Corner>; 2], findings: &mut Vec<Finding>) -> Vec<Want> {
        let row = &self.rows[i];
        let n = row.units.len();
        let clears = |(_, unit): &&(&Key, &Unit)| matches!(unit.width, Width::ClearsCorner);
        let lead = if corners[0].is_some() { row.units.iter().take_while(clears).count() } else { 0 };
        let tail =
            if corners[1].is_some() { row.units[lead..].iter().rev().take_while(clears).count() } else { 0 };
        let mut wants: Vec<Want> = Vec::with_capacity(n);
        for (k, (key, unit)) in row.units.iter().enumerate() {
            wants.push(match (&corners[0], &corners[1]) {
                (Some(corner), _) if k < lead => Want::UpTo(self.corner_edge(i, 0, corner, k, lead)),
                (_, Some(corner)) if k >= n - tail => {
                    Want::UpTo(self.corner_edge(i, 1, corner, n - 1 - k, tail))
                }
                _ => self.want(row, key, unit, findings),
            });
        }
        wants
    }

    /// Up to where the `k`th of `count` units in a corner reaches, counted from the corner.
    ///
    /// The last of them reaches as far as makes the next front clear the other run; of those before it a gap ends
    /// where the other run's frames do, and a filler is as wide as the handbook begins with.
    fn corner_edge(&self, i: usize, side: usize, corner: &Corner, k: usize, count: usize) -> Dim {
        let row = &self.rows[i];
        let nth = |k: usize| if side == 0 { &row.units[k] } else { &row.units[row.units.len() - 1 - k] };
        let sign = if side == 0 { 1 } else { -1 };
        let key = nth(k).0;
        let toward = if side == 0 { Toward::Up } else { Toward::Down };
        let figures = Figures::of_unit(self.plan, key);
        // as much as the fillers among the first so many ask for, away from the corner
        let fillers = |first: usize| -> Dim {
            let those = (0..first).filter(|&k| nth(k).1.kind == UnitKind::Filler);
            those.map(|_| figures.dim("corner-filler-least")).sum::<Dim>() * sign
        };
        let further = |a: Dim, b: Dim| if side == 0 { Dim::greatest([a, b]) } else { Dim::least([a, b]) };
        let name = if side == 0 { "right edge" } else { "left edge" };
        let sensible = &corner.plane + fillers(k + 1);
        if k + 1 < count {
            return on_mark(&sensible, self.plan.fineness, toward).named(name).placed(key.as_str());
        }
        let edge = match self.reveal_after(i, side, count) {
            Some(reveal) => {
                let clears = (&corner.kept - reveal * sign).named("where its front clears");
                further(clears.placed(key.as_str()), sensible.named("least filler").placed(key.as_str()))
            }
            None => sensible,
        };
        on_mark(&edge, self.plan.fineness, toward).named(name).placed(key.as_str())
    }

    /// From the inner edge of what stands in a corner to the first front beyond it that opens; none where none
    /// does.
    fn reveal_after(&self, i: usize, side: usize, count: usize) -> Option<Dim> {
        let row = &self.rows[i];
        let n = row.units.len();
        let mut reveal = Dim::zero();
        for k in count..n {
            let (key, unit) = row.units[if side == 0 { k } else { n - 1 - k }];
            if let Some(own) = &self.depths[key].reveal {
                return Some(reveal + own);
            }
            // a width that is not settled yet is not counted on
            if let Width::Given(width) = &unit.width {
                reveal = reveal + given_width(key, *width);
            }
        }
        None
    }

    fn want(&self, row: &Row<'_>, key: &Key, unit: &Unit, findings: &mut Vec<Finding>) -> Want {
        let at = Pointer::root().child("units").child(key).child("width");
        match &unit.width {
            Width::Given(width) => Want::Given(given_width(key, *width)),
            Width::LeftOver => Want::Share,
            Width::Within { least, most } => {
                let limit = |name: &str, stated: &Stated| {
                    let at = at.child("within").child(name);
                    Dim::chosen(stated.length, at).named(format!("{name} width")).placed(key.as_str())
                };
                let (low, high) = (limit("least", least), limit("most", most));
                if low.length() > high.length() {
                    findings.push(crossed(self.plan, key, unit, *least, *most));
                    return Want::Within { least: low.clone(), most: low };
                }
                Want::Within { least: low, most: high }
            }
            Width::Scribe => {
                let figures = Figures::of_unit(self.plan, key);
                Want::Scribe { wanted: figures.dim("wall-scribe"), least: figures.dim("wall-scribe-least") }
            }
            Width::ClearsCorner => {
                let least = Figures::of_unit(self.plan, key).dim("corner-filler-least");
                findings.push(no_corner(self.plan, row, key, unit, least.length()));
                Want::Given(least.named("width").placed(key.as_str()))
            }
        }
    }
}

/// The other run in a corner, along this run's wall.
struct Corner {
    /// Where the other run's boxes and frames end.
    plane: Dim,
    /// Where its pulls end, and the air before them.
    kept: Dim,
    /// Whether this run goes up to the wall.
    owns: bool,
}

/// Whether two sums say the same of the same places, and so are one cause.
pub(super) fn same_sum(a: &Dim, b: &Dim) -> bool {
    a.length() == b.length() && dryfit_measure::sources(a) == dryfit_measure::sources(b)
}

fn given_width(key: &Key, width: Stated) -> Dim {
    let at = Pointer::root().child("units").child(key).child("width").child("given");
    Dim::chosen(width.length, at).named("width").placed(key.as_str())
}
