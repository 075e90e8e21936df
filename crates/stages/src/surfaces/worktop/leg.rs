//! The true shape of a leg: its four edges in the real angles of the room, and the bays that seams part it into.
//!
//! Along and out as in placement: from the left-hand corner of the wall, and from its face.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{CornerSeam, Hand, Plan, Top};

use super::{LegEnd, WorkLeg};
use crate::figures::Figures;
use crate::placement::{PlacedTop, Plot, TopEnd, TopLeg};
use crate::survey::Survey;

const SIDES: [Hand; 2] = [Hand::Left, Hand::Right];

/// What every leg of one worktop is shaped by.
pub(super) struct Shape<'a> {
    pub plan: &'a Plan,
    pub survey: &'a Survey,
    pub placed: &'a PlacedTop,
    pub top: &'a Top,
    pub figures: Figures<'a>,
}

/// A leg between two seams, or a whole one.
pub(super) struct Bay {
    /// Its role: that of the leg, and its number where the leg has several.
    pub name: String,
    /// Along the wall: where its back edge begins and ends.
    pub back: [Dim; 2],
    /// The same of its front edge.
    pub front: [Dim; 2],
    /// What it ends at, left and right.
    pub ends: [LegEnd; 2],
}

impl Bay {
    /// Where it begins and ends along the wall, at whichever edge is longer.
    pub fn reach(&self) -> [Dim; 2] {
        let pick = |side: usize| {
            let (back, front) = (&self.back[side], &self.front[side]);
            match (back.length() == front.length(), side) {
                (true, _) => back.clone(),
                (false, 0) => Dim::least([back.clone(), front.clone()]),
                (false, _) => Dim::greatest([back.clone(), front.clone()]),
            }
        };
        [pick(0), pick(1)]
    }

    /// Its length over all, the slant of its ends included.
    pub fn length(&self) -> Dim {
        let [left, right] = self.reach();
        (right - left).named("length over all").placed(self.name.as_str())
    }

    /// How many of its ends are like this.
    pub fn count(&self, is: fn(&LegEnd) -> bool) -> i64 {
        self.ends.iter().map(|end| i64::from(is(end))).sum()
    }
}

impl Shape<'_> {
    /// A leg in the real angles of its ends.
    pub(super) fn leg(&self, leg: &TopLeg, name: String) -> Option<WorkLeg> {
        let wall = &self.plan.runs.get(&leg.run)?.along;
        let plot = Plot::of(self.survey, wall)?;
        let behind = self.figures.dim("top-wall-gap");
        let (mut back, mut front, mut ends) = (Vec::new(), Vec::new(), Vec::new());
        for (side, edge) in [&leg.from, &leg.to].into_iter().enumerate() {
            let [at_back, at_front] = self.end(leg, wall, side, edge);
            back.push(at_back.named("back edge").placed(format!("{name} {}", side_name(side))));
            front.push(at_front.named("front edge").placed(format!("{name} {}", side_name(side))));
            ends.push(match &leg.ends[side] {
                TopEnd::Wall => LegEnd::Wall,
                TopEnd::Free => LegEnd::Free,
                TopEnd::Unit => LegEnd::Unit,
                TopEnd::Corner { with, owns } => match (self.top.corner, owns) {
                    (CornerSeam::Mitre, _) => LegEnd::Mitre(with.clone()),
                    (CornerSeam::Butt, true) => LegEnd::Wall,
                    (CornerSeam::Butt, false) => LegEnd::Butt(with.clone()),
                },
            });
        }
        let [back, front]: [[Dim; 2]; 2] = [back.try_into().ok()?, front.try_into().ok()?];
        let mm = |dim: &Dim| dim.length().as_mm_f64();
        let (near, far) = (mm(&behind), mm(&leg.depth));
        let outline = vec![
            plot.at(mm(&front[0]), far),
            plot.at(mm(&front[1]), far),
            plot.at(mm(&back[1]), near),
            plot.at(mm(&back[0]), near),
        ];
        Some(WorkLeg {
            run: leg.run.clone(),
            wall: wall.clone(),
            name,
            ends: ends.try_into().ok()?,
            back,
            front,
            behind,
            depth: leg.depth.clone(),
            outline,
            holes: Vec::new(),
            spans: Vec::new(),
            seams: self.cross_seams(&leg.run),
        })
    }

    /// Where the back and the front edge of a leg end on one side.
    fn end(&self, leg: &TopLeg, wall: &Key, side: usize, edge: &Dim) -> [Dim; 2] {
        let slanted = |edge: &Dim| self.slanted(wall, side, edge, &leg.depth);
        match (&leg.ends[side], self.top.corner) {
            (TopEnd::Free | TopEnd::Unit, _) => [edge.clone(), edge.clone()],
            (TopEnd::Corner { with, .. }, CornerSeam::Mitre) => {
                // from the outer corner, where the walls meet, to the inner one, where the front edges do
                let other = self.placed.legs.iter().find(|leg| leg.run == *with);
                let reach = other.and_then(|other| {
                    let up = [self.under(), self.placed.upper.length()];
                    self.survey.reach(wall, SIDES[side], &other.depth, up, leg.depth.length())
                });
                let outer = self.at_wall(wall, side, leg).unwrap_or_else(|| edge.clone());
                let [back, _] = slanted(&outer);
                let [_, front] = slanted(&reach.unwrap_or_else(|| edge.clone()));
                [back, front]
            }
            (TopEnd::Wall | TopEnd::Corner { .. }, _) => slanted(edge),
        }
    }

    /// The back and the front end of a line that leaves the corner as its other wall does: `edge` is where it is
    /// nearer the middle of the leg.
    fn slanted(&self, wall: &Key, side: usize, edge: &Dim, depth: &Dim) -> [Dim; 2] {
        let Some(gap) = self.gap(wall, side, depth) else { return [edge.clone(), edge.clone()] };
        let sign = if side == 0 { -1 } else { 1 };
        if gap.length().is_negative() {
            // the corner is shut: the front edge is the shorter
            [edge + &gap * -sign, edge.clone()]
        } else {
            [edge.clone(), edge + &gap * sign]
        }
    }

    /// How far a corner opens over the depth of a leg, against the square; below nothing where it shuts.
    fn gap(&self, wall: &Key, side: usize, depth: &Dim) -> Option<Dim> {
        let line = &self.survey.walls[self.survey.wall(wall)?];
        let corner = if side == 0 { &line.left } else { &line.right };
        let gap = self.survey.square_gap(corner, depth.length())?;
        let share = gap.length().as_mm_f64() / depth.length().as_mm_f64().max(1e-9);
        let length = gap.length();
        // near enough to none that no tape shows it
        if length.abs() < Length::um(100) {
            return None;
        }
        let inputs = [(gap, 1.0), (depth.clone(), share)];
        Some(Dim::worked(length, "gap of the corner over the depth", inputs).named("slant of the corner"))
    }

    fn under(&self) -> Length {
        self.placed.upper.length() - self.placed.thickness.length()
    }

    /// Where the wall round the corner leaves the leg off.
    fn at_wall(&self, wall: &Key, side: usize, leg: &TopLeg) -> Option<Dim> {
        let up = [self.under(), self.placed.upper.length()];
        let clear = self.survey.clear(wall, None, up, leg.depth.length())?;
        let gap = self.figures.dim("top-wall-gap");
        Some(if side == 0 { clear.left + gap } else { clear.right - gap })
    }

    /// Stated seams across the leg over a run, left to right.
    fn cross_seams(&self, run: &Key) -> Vec<(Key, Dim)> {
        let at = Pointer::root().child("tops").child(self.placed.key.as_str()).child("seams");
        let mut seams: Vec<(Key, Dim)> = self
            .top
            .seams
            .iter()
            .filter(|(_, seam)| seam.over == *run)
            .map(|(key, seam)| {
                let along = Dim::chosen(seam.along.length, at.child(key.as_str()).child("along"));
                (key.clone(), along.named("seam").placed(key.as_str()))
            })
            .collect();
        seams.sort_by_key(|(_, along)| along.length());
        seams
    }
}

/// The bays of a leg: one where no seam crosses it.
pub(super) fn bays(leg: &WorkLeg) -> Vec<Bay> {
    let [from, to] = [0, 1].map(|side| leg.back[side].length());
    let seams: Vec<&Dim> = leg
        .seams
        .iter()
        .map(|(_, along)| along)
        .filter(|along| along.length() > from && along.length() < to)
        .collect();
    let n = seams.len();
    (0..=n)
        .map(|i| {
            let edge = |own: &[Dim; 2], side: usize| match (side, i.checked_sub(1)) {
                (0, Some(before)) => seams[before].clone(),
                (1, _) if i < n => seams[i].clone(),
                _ => own[side].clone(),
            };
            let end = |side: usize| match side {
                0 if i > 0 => LegEnd::Seam,
                1 if i < n => LegEnd::Seam,
                _ => leg.ends[side].clone(),
            };
            Bay {
                name: if n == 0 { leg.name.clone() } else { format!("{}.{}", leg.name, i + 1) },
                back: [edge(&leg.back, 0), edge(&leg.back, 1)],
                front: [edge(&leg.front, 0), edge(&leg.front, 1)],
                ends: [end(0), end(1)],
            }
        })
        .collect()
}

/// A side in words.
pub(super) fn side_name(side: usize) -> &'static str {
    ["left", "right"][side]
}
