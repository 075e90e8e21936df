//! At no further cost: one large offcut, few stages, few cuts and settings.
//!
//! The same search as for the cost, with other goals. *Stages*: sheets with too many are taken apart and laid out
//! again under the limit. *Offcut*: one sheet is shortened, and when everything fits it is shortened again.
//! *Effort*: each rest is charged for its cut, and the layout that takes least work is kept.

use super::insertion::cost;
use super::problem::{Problem, Stock};
use super::search::{Search, Tuning};
use super::tree::{Tree, X, Y};

/// Stages of cuts, trimming ones counted, over which a sheet is a nuisance to cut.
const EASY: u8 = 4;
/// What a rest costs, in sheets to the power of its worth: about a part's own.
const PER_REST: f64 = 0.02;

/// What the goals after the cost come to, in their order; the less the better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Grade {
    /// Sheets above [`EASY`] stages.
    hard: usize,
    /// Whole percents of the largest sheet that the offcut lacks.
    lacking: i64,
    /// Twice the settings and once the cuts.
    effort: usize,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Goal {
    Stages,
    Offcut(u8),
    Effort,
}

/// An attempt at one goal.
struct Attempt {
    goal: Goal,
    p: Problem,
    search: Search,
    /// How much the sheet with the offcut, of the shortened kind, is shortened along its root's axis.
    cut_off: i64,
    steps_left: u64,
    best_worth: f64,
}

pub(crate) struct Polish {
    seed: u64,
    pub trees: Vec<Tree>,
    grade: Grade,
    attempt: Option<Attempt>,
    next: Goal,
    patience: u64,
    /// Percents by which the next offcut is to be larger.
    stride: i64,
    /// Attempts at an offcut that failed since the last that did not.
    failed: u32,
}

impl Polish {
    pub fn new(p: &Problem, trees: &[Tree], seed: u64) -> Polish {
        let trees = trees.to_vec();
        let grade = grade(p, &trees);
        Polish { seed, trees, grade, attempt: None, next: Goal::Stages, patience: 6000, stride: 8, failed: 0 }
    }

    /// One step; true when the layout got better.
    pub fn step(&mut self, p: &Problem) -> bool {
        if self.attempt.is_none() {
            self.attempt = self.begin(p);
        }
        let Some(a) = &mut self.attempt else {
            self.advance(false);
            return false;
        };
        a.steps_left = a.steps_left.saturating_sub(1);
        let over = a.steps_left == 0;
        let found = a.search.step(&a.p);
        let mut better = false;
        if found && (a.goal != Goal::Effort || a.search.worth() > a.best_worth + 1e-12) {
            a.best_worth = a.search.worth();
            let trees = lengthen(&a.p, p, a.search.trees(), a.cut_off);
            let g = grade(p, &trees);
            if cost(p, &trees) <= cost(p, &self.trees) && g < self.grade {
                (self.trees, self.grade) = (trees, g);
                better = true;
            }
            if a.goal != Goal::Effort {
                self.attempt = None;
                self.advance(true);
                return better;
            }
        }
        if over {
            self.attempt = None;
            self.advance(false);
        }
        better
    }

    /// Choose what to try after an attempt.
    fn advance(&mut self, reached: bool) {
        self.next = match (self.next, reached) {
            (Goal::Stages | Goal::Effort, _) => Goal::Offcut(Y),
            (Goal::Offcut(axis), true) => {
                self.failed = 0;
                Goal::Offcut(axis)
            }
            (Goal::Offcut(axis), false) => {
                self.failed += 1;
                if self.failed % 2 == 1 {
                    Goal::Offcut(1 - axis)
                } else if self.stride > 1 {
                    self.stride /= 2;
                    Goal::Offcut(1 - axis)
                } else {
                    self.stride = 4;
                    self.patience = (self.patience * 3 / 2).min(200_000);
                    Goal::Effort
                }
            }
        };
    }

    fn begin(&mut self, p: &Problem) -> Option<Attempt> {
        self.seed = self.seed.wrapping_add(1);
        let mut q = p.clone();
        let mut steps_left = self.patience;
        if self.grade.hard == 0 || self.next == Goal::Stages {
            q.stages = q.stages.min(EASY);
        }
        let mut used = vec![0usize; p.stocks.len()];
        for t in &self.trees {
            used[t.stock as usize] += 1;
        }
        for (s, &n) in q.stocks.iter_mut().zip(&used) {
            s.qty = n;
        }
        q.scale.per_rest = if self.next == Goal::Effort { PER_REST } else { 0.0 };
        let mut trees = self.trees.clone();
        let mut out: Vec<usize> = Vec::new();
        let mut cut_off = 0;
        match self.next {
            Goal::Stages => {
                if self.grade.hard == 0 {
                    return None;
                }
                steps_left *= 6;
                trees.retain(|t| {
                    let easy = t.stages() <= EASY;
                    if !easy {
                        out.extend(t.leaves.iter().map(|l| l.size as usize));
                    }
                    easy
                });
            }
            Goal::Offcut(axis) => {
                let i = self.offcut_sheet(p, axis)?;
                let s = &p.stocks[trees[i].stock as usize];
                let (len, cross) = if axis == X { (s.w, s.h) } else { (s.h, s.w) };
                let have = 100 - self.grade.lacking;
                let want = (have + self.stride) as f64 / 100.0 / p.scale.unit / cross as f64;
                cut_off = want.ceil() as i64;
                if cut_off >= len || !self.room_for(p, cut_off, cross) {
                    return None;
                }
                shorten(&mut q, &mut trees, &mut out, i, axis, cut_off);
            }
            Goal::Effort => {
                if let Some((i, axis, rest)) = largest_offcut(&self.trees)
                    && rest < self.trees[i].strips[0].len
                {
                    cut_off = rest;
                    shorten(&mut q, &mut trees, &mut out, i, axis, cut_off);
                }
            }
        }
        let limit = cost(&q, &trees).max(cost(p, &self.trees));
        let mut search =
            Search::new(&q, self.trees.len() + 1, self.seed, Tuning { history: 60, ..Tuning::default() });
        search.set(&q, &trees, &out, limit);
        Some(Attempt { goal: self.next, p: q, search, cut_off, steps_left, best_worth: f64::NEG_INFINITY })
    }

    /// Whether all parts could still lie in what is left, by area.
    fn room_for(&self, p: &Problem, cut_off: i64, cross: i64) -> bool {
        let room: f64 = self.trees.iter().map(|t| p.stocks[t.stock as usize].area - t.used).sum();
        cut_off as f64 * cross as f64 * p.scale.unit <= room
    }

    /// The sheet to shorten along `axis`: the one with the largest offcut there, else the emptiest.
    fn offcut_sheet(&self, p: &Problem, axis: u8) -> Option<usize> {
        if let Some((i, a, _)) = largest_offcut(&self.trees)
            && a == axis
        {
            return Some(i);
        }
        let left = |t: &Tree| p.stocks[t.stock as usize].area - t.used;
        (0..self.trees.len()).max_by(|&a, &b| left(&self.trees[a]).total_cmp(&left(&self.trees[b])))
    }
}

/// The sheet with the largest rest of its root, the root's axis and the rest.
fn largest_offcut(trees: &[Tree]) -> Option<(usize, u8, i64)> {
    let area = |t: &Tree| t.strips[0].rest as f64 * t.strips[0].cross as f64;
    let i = (0..trees.len()).max_by(|&a, &b| area(&trees[a]).total_cmp(&area(&trees[b])))?;
    let root = trees[i].strips[0];
    Some((i, root.axis, root.rest))
}

/// Make sheet `i` one of a new kind that is shorter by `cut_off` along `axis`; parts that no longer fit go out.
fn shorten(q: &mut Problem, trees: &mut Vec<Tree>, out: &mut Vec<usize>, i: usize, axis: u8, cut_off: i64) {
    let k = trees[i].stock as usize;
    let mut s = Stock { qty: 1, root: Some(axis), ..q.stocks[k].clone() };
    if axis == X {
        s.w -= cut_off;
    } else {
        s.h -= cut_off;
    }
    s.area = s.w as f64 * s.h as f64 * q.scale.unit;
    q.stocks[k].qty -= 1;
    q.stocks.push(s);
    let t = &mut trees[i];
    if t.strips[0].axis == axis {
        while t.strips[0].rest < cut_off && !t.is_empty() {
            // The child of the root that takes most goes first: it frees most at once.
            let strip =
                (1..t.strips.len()).filter(|&n| t.strips[n].parent == 0).max_by_key(|&n| t.strips[n].cross);
            if let Some(n) = strip {
                t.remove_strip(n, q, out);
            } else {
                let n = t.leaves.iter().position(|l| l.strip == 0).unwrap_or(0);
                let size = t.remove_leaf(n, q);
                out.push(size);
            }
        }
    }
    if t.strips[0].axis == axis && !t.is_empty() {
        t.stock = (q.stocks.len() - 1) as u16;
        t.strips[0].len -= cut_off;
        t.strips[0].rest -= cut_off;
    } else {
        let t = trees.swap_remove(i);
        out.extend(t.leaves.iter().map(|l| l.size as usize));
    }
}

/// The trees of a problem with a shortened sheet as trees of the whole one.
fn lengthen(q: &Problem, p: &Problem, trees: &[Tree], cut_off: i64) -> Vec<Tree> {
    let mut trees = trees.to_vec();
    for t in &mut trees {
        let s = &q.stocks[t.stock as usize];
        if s.root.is_some()
            && let Some(k) = p.stocks.iter().position(|o| o.kind == s.kind)
        {
            t.stock = k as u16;
            t.strips[0].len += cut_off;
            t.strips[0].rest += cut_off;
        }
        t.weigh(p);
    }
    trees
}

fn grade(p: &Problem, trees: &[Tree]) -> Grade {
    let hard = trees.iter().filter(|t| t.stages() > EASY).count();
    let offcut = trees
        .iter()
        .map(|t| t.strips[0].rest as f64 * t.strips[0].cross as f64 * p.scale.unit)
        .fold(0.0, f64::max);
    let effort = trees.iter().map(|t| t.effort(p)).sum();
    Grade { hard, lacking: 100 - (offcut * 100.0 + 1e-9).floor() as i64, effort }
}
