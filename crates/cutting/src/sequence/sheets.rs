//! Numbered cuts of a sheet: level by level, equal settings together, offcuts named.
//!
//! Factory edges are cut off where they are first in the way: the trim along a direction is taken from the piece
//! that is next cut in that direction, so the first strips are ripped at full length and their ends cleaned
//! after. Each size is then set from the clean edge that the cut before it left.

use crate::sheet_job::{Axis, Part, SheetJob};
use crate::sheet_layout::{Becomes, Piece, Sheet, SheetLayout};
use serde::Serialize;
use std::collections::BTreeMap;

/// Along the grain's side of the sheet (`h`) or across it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CutKind {
    /// The saw runs along `h`.
    Rip,
    /// The saw runs along `w`.
    Cross,
}

/// An edge of the piece that is cut, as the sheet is drawn: x to the right, y up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Edge {
    /// The edge at least x.
    Left,
    /// The edge at greatest x.
    Right,
    /// The edge at least y.
    Bottom,
    /// The edge at greatest y.
    Top,
}

/// What a cut is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Purpose {
    /// It takes a factory edge off.
    Trim,
    /// It brings a piece to size.
    Size,
    /// It divides a matched group.
    Divide,
}

/// What a cut leaves in the hand.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Freed {
    /// A finished part, by id. A matched group comes free so before it is divided.
    Part {
        /// Id of the part.
        part: String,
    },
    /// A piece of a matched group.
    Member {
        /// Id of the part that is the group.
        part: String,
        /// Id of the member.
        member: String,
    },
    /// A piece that is cut on, by the name that later cuts call it.
    Piece {
        /// Its name: a letter or letters.
        name: String,
    },
    /// An offcut worth keeping, by its name.
    Offcut {
        /// Its name: `O` and a number.
        name: String,
    },
    /// A rest that is not kept, with its extents.
    Waste {
        /// x extent.
        w: i64,
        /// y extent.
        h: i64,
    },
}

/// One cut.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Cut {
    /// Number on this sheet, from 1.
    pub number: u32,
    /// How deep in the tree of cuts: 1 on the whole sheet.
    pub level: u32,
    /// Name of the piece it is made on; `sheet` for the whole sheet.
    pub on: String,
    /// Along or across the grain.
    pub kind: CutKind,
    /// What it is for.
    pub purpose: Purpose,
    /// Distance of the blade's near side from `from`: what the fence or stop is set to.
    pub setting: i64,
    /// The edge of the piece that lies against the fence or stop.
    pub from: Edge,
    /// What a trimming cut takes off, its own width included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub takes: Option<i64>,
    /// Both ends of the cut in sheet coordinates, on the side of the kept piece: x1, y1, x2, y2.
    pub line: [i64; 4],
    /// What comes free.
    pub frees: Vec<Freed>,
}

/// A run of consecutive cuts at one setting.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Setting {
    /// What the fence or stop is set to; `None` for trimming cuts on pieces of different sizes, which are made
    /// by what they take off.
    pub setting: Option<i64>,
    /// Along or across the grain.
    pub kind: CutKind,
    /// What the cuts are for.
    pub purpose: Purpose,
    /// What each trimming cut takes off, its own width included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub takes: Option<i64>,
    /// Numbers of the cuts, which are consecutive.
    pub cuts: Vec<u32>,
    /// What they free, in the order of the cuts.
    pub gives: Vec<Freed>,
}

/// A rest of a sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Offcut {
    /// `O` and a number for one worth keeping; empty for waste.
    pub name: String,
    /// x of its near corner.
    pub x: i64,
    /// y of its near corner.
    pub y: i64,
    /// x extent, factory edges that are still on it included.
    pub w: i64,
    /// y extent, factory edges that are still on it included.
    pub h: i64,
    /// Whether both sides reach the least side asked for.
    pub keep: bool,
}

/// All cuts of one sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct CutSequence {
    /// The cuts by number.
    pub cuts: Vec<Cut>,
    /// One row per setting, in the order of the cuts.
    pub settings: Vec<Setting>,
    /// Rests, those worth keeping and the others.
    pub offcuts: Vec<Offcut>,
}

/// The cuts of every sheet of a layout. Offcuts whose two sides are at least `least_side` are worth keeping and
/// are named through all sheets.
pub fn cut_sequences(job: &SheetJob, layout: &SheetLayout, least_side: i64) -> Vec<CutSequence> {
    let mut named = 0;
    let one = |s| {
        let q = sequence(job, s, least_side, &mut named);
        q.unwrap_or_default()
    };
    layout.sheets.iter().map(one).collect()
}

/// The cuts of one sheet; `None` when its layout has no tree of cuts or its kind is not in the job.
pub fn cut_sequence(job: &SheetJob, sheet: &Sheet, least_side: i64) -> Option<CutSequence> {
    sequence(job, sheet, least_side, &mut 0)
}

/// A span of a piece along both axes, as it is in the hand: factory edges still on.
#[derive(Clone, Copy)]
struct Raw {
    x: (i64, i64),
    y: (i64, i64),
}

impl Raw {
    fn along(&self, axis: Axis) -> (i64, i64) {
        if axis == Axis::X { self.x } else { self.y }
    }

    fn with(mut self, axis: Axis, span: (i64, i64)) -> Raw {
        if axis == Axis::X {
            self.x = span;
        } else {
            self.y = span;
        }
        self
    }
}

/// A piece in the hand that is still to be cut.
struct Work<'a> {
    name: String,
    raw: Raw,
    to_do: ToDo<'a>,
}

enum ToDo<'a> {
    Cut(&'a Piece),
    Trim(&'a Piece),
    Divide(&'a Part, &'a Piece),
}

/// A cut that waits for its number.
struct Step<'a> {
    axis: Axis,
    purpose: Purpose,
    setting: i64,
    far: bool,
    takes: Option<i64>,
    at: i64,
    raw: Raw,
    frees: Vec<Free<'a>>,
}

enum Free<'a> {
    Piece(&'a Piece, Raw),
    Member(&'a str, &'a str),
    Rest(Raw),
}

struct Sequencer<'a> {
    job: &'a SheetJob,
    least_side: i64,
    named: &'a mut u32,
    pieces: u32,
    out: CutSequence,
}

fn sequence(job: &SheetJob, sheet: &Sheet, least_side: i64, named: &mut u32) -> Option<CutSequence> {
    let kind = job.sheets.iter().find(|k| k.id == sheet.sheet_id)?;
    let root = sheet.cut.as_ref()?;
    let mut s = Sequencer { job, least_side, named, pieces: 0, out: CutSequence::default() };
    let raw = Raw { x: (0, kind.w), y: (0, kind.h) };
    let mut level = Vec::new();
    s.take("sheet".into(), root, raw, &mut level);
    let mut depth = 0;
    while !level.is_empty() {
        depth += 1;
        level = s.level(level, depth);
    }
    s.out.settings = settings(&s.out.cuts);
    Some(s.out)
}

impl<'a> Sequencer<'a> {
    fn part(&self, id: &str) -> Option<&'a Part> {
        self.job.parts.iter().find(|p| p.id == id)
    }

    /// Note what a piece in the hand still needs, if anything.
    fn take(&mut self, name: String, piece: &'a Piece, raw: Raw, next: &mut Vec<Work<'a>>) {
        match &piece.becomes {
            // A division into one piece that fills it is no cut.
            Becomes::Cut(_, pieces) if matches!(pieces.as_slice(), [p] if p.w == piece.w && p.h == piece.h) =>
            {
                self.take(name, &pieces[0], raw, next);
            }
            Becomes::Cut(..) => next.push(Work { name, raw, to_do: ToDo::Cut(piece) }),
            Becomes::Waste => {}
            Becomes::Part(id) => {
                let exact = raw.x == (piece.x, piece.x + piece.w) && raw.y == (piece.y, piece.y + piece.h);
                if !exact {
                    next.push(Work { name, raw, to_do: ToDo::Trim(piece) });
                } else if let Some(part) = self.part(id)
                    && part.members.len() > 1
                {
                    next.push(Work { name: id.clone(), raw, to_do: ToDo::Divide(part, piece) });
                }
            }
        }
    }

    /// Number all cuts of one level and give the pieces of the next.
    fn level(&mut self, works: Vec<Work<'a>>, depth: u32) -> Vec<Work<'a>> {
        let mut queues: Vec<(String, std::vec::IntoIter<Step<'a>>, Option<Step<'a>>)> = works
            .into_iter()
            .map(|w| {
                let mut steps = self.steps(&w).into_iter();
                let first = steps.next();
                (w.name, steps, first)
            })
            .collect();
        let mut next = Vec::new();
        // Greatest setting first among the cuts that can be made now, trimming cuts before all.
        let rank = |s: &Step| (s.purpose != Purpose::Trim, s.axis, -s.setting, s.far);
        while let Some(key) = queues.iter().filter_map(|q| q.2.as_ref()).map(rank).min() {
            for (name, steps, first) in &mut queues {
                while let Some(step) = first.take() {
                    if rank(&step) != key {
                        *first = Some(step);
                        break;
                    }
                    *first = steps.next();
                    self.number(name, step, depth, &mut next);
                }
            }
        }
        next
    }

    fn number(&mut self, on: &str, s: Step<'a>, level: u32, next: &mut Vec<Work<'a>>) {
        let number = self.out.cuts.len() as u32 + 1;
        let from = match (s.axis, s.far) {
            (Axis::X, false) => Edge::Left,
            (Axis::X, true) => Edge::Right,
            (Axis::Y, false) => Edge::Bottom,
            (Axis::Y, true) => Edge::Top,
        };
        let across = s.raw.along(s.axis.other());
        let line = match s.axis {
            Axis::X => [s.at, across.0, s.at, across.1],
            Axis::Y => [across.0, s.at, across.1, s.at],
        };
        let mut frees = Vec::new();
        for f in s.frees {
            frees.push(match f {
                Free::Member(part, member) => Freed::Member { part: part.into(), member: member.into() },
                Free::Rest(raw) => self.rest(raw),
                Free::Piece(piece, raw) => self.free(piece, raw, next),
            });
        }
        self.out.cuts.push(Cut {
            number,
            level,
            on: on.into(),
            kind: if s.axis == Axis::X { CutKind::Rip } else { CutKind::Cross },
            purpose: s.purpose,
            setting: s.setting,
            from,
            takes: s.takes,
            line,
            frees,
        });
    }

    fn free(&mut self, piece: &'a Piece, raw: Raw, next: &mut Vec<Work<'a>>) -> Freed {
        let before = next.len();
        match &piece.becomes {
            Becomes::Waste => return self.rest(raw),
            Becomes::Part(id) => {
                self.take(String::new(), piece, raw, next);
                if !matches!(next.get(before), Some(Work { to_do: ToDo::Trim(_), .. })) {
                    return Freed::Part { part: id.clone() };
                }
            }
            Becomes::Cut(..) => self.take(String::new(), piece, raw, next),
        }
        self.pieces += 1;
        let name = letters(self.pieces);
        next[before].name.clone_from(&name);
        Freed::Piece { name }
    }

    fn rest(&mut self, raw: Raw) -> Freed {
        let (w, h) = (raw.x.1 - raw.x.0, raw.y.1 - raw.y.0);
        let keep = w.min(h) >= self.least_side;
        let mut name = String::new();
        if keep {
            *self.named += 1;
            name = format!("O{}", self.named);
        }
        let freed = if keep { Freed::Offcut { name: name.clone() } } else { Freed::Waste { w, h } };
        self.out.offcuts.push(Offcut { name, x: raw.x.0, y: raw.y.0, w, h, keep });
        freed
    }

    fn steps(&self, w: &Work<'a>) -> Vec<Step<'a>> {
        match &w.to_do {
            ToDo::Cut(piece) => {
                let Becomes::Cut(axis, pieces) = &piece.becomes else { return Vec::new() };
                self.cut_steps(w.raw, piece, *axis, pieces)
            }
            ToDo::Trim(piece) => self.trim_steps(w.raw, piece),
            ToDo::Divide(part, piece) => self.divide_steps(w.raw, part, piece),
        }
    }

    /// Take the factory edge off the near end of `raw`, if one is there.
    fn near_trim(raw: &mut Raw, axis: Axis, start: i64, out: &mut Vec<Step<'a>>) {
        let (lo, hi) = raw.along(axis);
        if lo < start {
            let setting = hi - start;
            let takes = Some(start - lo);
            *raw = raw.with(axis, (start, hi));
            out.push(Step {
                axis,
                purpose: Purpose::Trim,
                setting,
                far: true,
                takes,
                at: start,
                raw: *raw,
                frees: vec![],
            });
        }
    }

    fn cut_steps(&self, mut raw: Raw, piece: &Piece, axis: Axis, pieces: &'a [Piece]) -> Vec<Step<'a>> {
        let mut out = Vec::new();
        let start = if axis == Axis::X { piece.x } else { piece.y };
        Self::near_trim(&mut raw, axis, start, &mut out);
        let end = raw.along(axis).1;
        let mut waiting: Vec<Free<'a>> = Vec::new();
        for (i, p) in pieces.iter().enumerate() {
            let (at, size) = if axis == Axis::X { (p.x, p.w) } else { (p.y, p.h) };
            let last = i + 1 == pieces.len();
            if last && (p.becomes == Becomes::Waste || at + size == end) {
                // It comes free by the cut before it, factory edge and all.
                let free = Free::Piece(p, raw.with(axis, (at, end)));
                match out.last_mut() {
                    Some(step) => step.frees.push(free),
                    None => waiting.push(free),
                }
                continue;
            }
            let hand = raw.with(axis, (at, end));
            let mut frees = std::mem::take(&mut waiting);
            frees.push(Free::Piece(p, raw.with(axis, (at, at + size))));
            let rest = end - at - size - self.job.kerf;
            if last && rest > 0 {
                frees.push(Free::Rest(raw.with(axis, (end - rest, end))));
            }
            out.push(Step {
                axis,
                purpose: Purpose::Size,
                setting: size,
                far: false,
                takes: None,
                at: at + size,
                raw: hand,
                frees,
            });
        }
        out
    }

    /// A part that still has factory edges on.
    fn trim_steps(&self, mut raw: Raw, piece: &'a Piece) -> Vec<Step<'a>> {
        let mut out = Vec::new();
        for (axis, at, size) in [(Axis::X, piece.x, piece.w), (Axis::Y, piece.y, piece.h)] {
            Self::near_trim(&mut raw, axis, at, &mut out);
            let end = raw.along(axis).1;
            if at + size < end {
                let rest = end - at - size - self.job.kerf;
                let frees =
                    if rest > 0 { vec![Free::Rest(raw.with(axis, (end - rest, end)))] } else { vec![] };
                out.push(Step {
                    axis,
                    purpose: Purpose::Size,
                    setting: size,
                    far: false,
                    takes: None,
                    at: at + size,
                    raw,
                    frees,
                });
                raw = raw.with(axis, (at, at + size));
            }
        }
        if let Some(step) = out.last_mut() {
            step.frees.insert(0, Free::Piece(piece, raw));
        }
        out
    }

    fn divide_steps(&self, raw: Raw, part: &'a Part, piece: &Piece) -> Vec<Step<'a>> {
        let axis = part.members_along;
        let mut at = if axis == Axis::X { piece.x } else { piece.y };
        let end = raw.along(axis).1;
        let mut out: Vec<Step<'a>> = Vec::new();
        for (i, m) in part.members.iter().enumerate() {
            let free = Free::Member(&part.id, &m.id);
            if i + 1 == part.members.len() {
                if let Some(step) = out.last_mut() {
                    step.frees.push(free);
                }
                break;
            }
            out.push(Step {
                axis,
                purpose: Purpose::Divide,
                setting: m.length,
                far: false,
                takes: None,
                at: at + m.length,
                raw: raw.with(axis, (at, end)),
                frees: vec![free],
            });
            at += m.length + self.job.kerf;
        }
        out
    }
}

/// Gather consecutive cuts at one setting into rows.
fn settings(cuts: &[Cut]) -> Vec<Setting> {
    let mut rows: Vec<Setting> = Vec::new();
    let mut level = 0;
    for c in cuts {
        let trim = c.purpose == Purpose::Trim;
        if let Some(row) = rows.last_mut()
            && row.kind == c.kind
            && row.purpose == c.purpose
            && level == c.level
            && row.takes == c.takes
            && (trim || row.setting == Some(c.setting))
        {
            row.cuts.push(c.number);
            row.gives.extend(c.frees.iter().cloned());
            if row.setting != Some(c.setting) {
                row.setting = None;
            }
            continue;
        }
        level = c.level;
        rows.push(Setting {
            setting: Some(c.setting),
            kind: c.kind,
            purpose: c.purpose,
            takes: c.takes,
            cuts: vec![c.number],
            gives: c.frees.clone(),
        });
    }
    rows
}

/// A, B, .. Z, AA, AB, ..
fn letters(mut n: u32) -> String {
    let mut name = Vec::new();
    while n > 0 {
        n -= 1;
        name.push(b'A' + (n % 26) as u8);
        n /= 26;
    }
    name.iter().rev().map(|&b| char::from(b)).collect()
}

impl CutSequence {
    /// How often each part comes free, by id: for a check against the layout.
    pub fn parts_freed(&self) -> BTreeMap<&str, i64> {
        let mut n: BTreeMap<&str, i64> = BTreeMap::new();
        for f in self.cuts.iter().flat_map(|c| &c.frees) {
            if let Freed::Part { part } = f {
                *n.entry(part).or_default() += 1;
            }
        }
        n
    }
}
