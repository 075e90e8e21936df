//! The cut tree of one sheet.
//!
//! A strip is a piece that parallel cuts divide; its children lie side by side along its axis, and what they
//! leave is one rest at its end (the order of siblings is free, so all waste of a strip can be joined). Axes
//! alternate from strip to child strip. A child fills its strip across: a part that does not gets a strip of its
//! own. The stages of cuts that free a part are then the depth of its strip.

use super::problem::{Problem, Size};

pub(crate) const X: u8 = 0;
pub(crate) const Y: u8 = 1;

#[derive(Clone, Copy, Debug)]
pub(crate) struct Strip {
    /// Extent along its axis.
    pub len: i64,
    /// Extent across.
    pub cross: i64,
    /// What its children leave of `len`.
    pub rest: i64,
    /// Index of the strip it is a child of; its own for the root.
    pub parent: u16,
    /// Children: strips and parts.
    pub kids: u16,
    pub axis: u8,
    /// 1 for the root.
    pub depth: u8,
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct Leaf {
    pub strip: u16,
    pub size: u32,
    pub turned: bool,
}

/// One sheet and its cuts. `stamp` changes whenever the content does.
#[derive(Debug)]
pub(crate) struct Tree {
    /// Index into the problem's stocks.
    pub stock: u16,
    pub strips: Vec<Strip>,
    pub leaves: Vec<Leaf>,
    pub stamp: u64,
    /// Area of its parts.
    pub used: f64,
    /// Worth of its rests.
    pub worth: f64,
}

impl Clone for Tree {
    fn clone(&self) -> Tree {
        Tree { strips: self.strips.clone(), leaves: self.leaves.clone(), ..*self }
    }

    fn clone_from(&mut self, o: &Tree) {
        self.strips.clone_from(&o.strips);
        self.leaves.clone_from(&o.leaves);
        (self.stock, self.stamp, self.used, self.worth) = (o.stock, o.stamp, o.used, o.worth);
    }
}

/// How a part goes into the rest of a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Way {
    pub strip: u16,
    pub turned: bool,
    /// Cut across the strip's axis first.
    pub across: bool,
    /// For an empty sheet: the axis of its root.
    pub root: u8,
}

/// The best way into one sheet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Offer {
    /// Worth of waste that is lost by it; infinite when the part does not fit.
    pub loss: f64,
    /// Rests that would hold the part.
    pub count: u32,
    pub way: Way,
}

pub(crate) const NO_WAY: Way = Way { strip: 0, turned: false, across: false, root: X };

/// What areas are measured against.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale {
    /// One over the area of the largest sheet.
    pub unit: f64,
    /// What each rest costs: every one takes a cut of its own.
    pub per_rest: f64,
}

/// Worth of a rest: its area to a power over 1, so that one large rest is worth more than two of half its size
/// (Gardeyn & Wauters 2022, section 4, take 1.2; 1.25 needs no logarithm).
#[inline]
pub(crate) fn worth(a: i64, b: i64, s: Scale) -> f64 {
    let area = a as f64 * b as f64 * s.unit;
    if area > 0.0 { area * area.sqrt().sqrt() - s.per_rest } else { 0.0 }
}

impl Tree {
    pub fn new(p: &Problem, stock: usize) -> Tree {
        let s = &p.stocks[stock];
        let axis = s.root.unwrap_or(X);
        let (len, cross) = if axis == X { (s.w, s.h) } else { (s.h, s.w) };
        let root = Strip { len, cross, rest: len, parent: 0, kids: 0, axis, depth: 1 };
        let worth = worth(s.w, s.h, p.scale);
        Tree { stock: stock as u16, strips: vec![root], leaves: Vec::new(), stamp: 0, used: 0.0, worth }
    }

    /// Weigh the rests afresh, as the problem's scale has it.
    pub fn weigh(&mut self, p: &Problem) {
        self.worth = self.strips.iter().map(|s| worth(s.rest, s.cross, p.scale)).sum();
    }

    /// Most stages of cuts.
    pub fn stages(&self) -> u8 {
        self.leaves.iter().map(|l| self.strips[l.strip as usize].depth).max().unwrap_or(0)
    }

    /// Twice the settings of fence or stop, and once the cuts.
    pub fn effort(&self, p: &Problem) -> usize {
        let mut settings: Vec<(u8, u8, i64)> = Vec::with_capacity(self.leaves.len() + self.strips.len());
        let mut cuts = 0;
        for s in &self.strips {
            cuts += s.kids as usize - usize::from(s.rest == 0 && s.kids > 0);
        }
        for s in &self.strips[1..] {
            let parent = &self.strips[s.parent as usize];
            if parent.kids > 1 || parent.rest > 0 {
                settings.push((parent.depth, parent.axis, s.cross));
            }
        }
        for l in &self.leaves {
            let s = &self.strips[l.strip as usize];
            let size = &p.sizes[l.size as usize];
            let extent = if (s.axis == X) == l.turned { size.h } else { size.w };
            if s.kids > 1 || s.rest > 0 {
                settings.push((s.depth, s.axis, extent));
            }
        }
        settings.sort_unstable();
        settings.dedup();
        cuts + 2 * settings.len()
    }

    pub fn is_empty(&self) -> bool {
        self.leaves.is_empty()
    }

    /// The best way for one more part of a size.
    pub fn offer(&self, size: &Size, p: &Problem) -> Offer {
        let turns = p.stocks[self.stock as usize].root.is_none();
        let mut best = Offer { loss: f64::INFINITY, count: 0, way: NO_WAY };
        for (i, s) in self.strips.iter().enumerate() {
            if s.rest == 0 {
                continue;
            }
            let (along, across) = if s.axis == X { (size.w, size.h) } else { (size.h, size.w) };
            let fits = along <= s.rest && across <= s.cross;
            let fits_turned = size.turns && across <= s.rest && along <= s.cross;
            if !(fits || fits_turned) {
                continue;
            }
            best.count += 1;
            if fits {
                try_ways(s, i, along, across, false, turns, p, &mut best);
            }
            if fits_turned {
                try_ways(s, i, across, along, true, turns, p, &mut best);
            }
        }
        if best.loss.is_infinite() {
            best.count = 0;
        }
        best
    }

    /// Put one part of size number `n` in.
    pub fn insert(&mut self, n: usize, size: &Size, way: Way, scale: Scale) {
        if self.leaves.is_empty() && way.root != self.strips[0].axis {
            let r = &mut self.strips[0];
            (r.axis, r.len, r.cross) = (way.root, r.cross, r.len);
            r.rest = r.len;
        }
        let mut at = way.strip as usize;
        let (w, h) = if way.turned { (size.h, size.w) } else { (size.w, size.h) };
        let s = self.strips[at];
        let (along, across) = if s.axis == X { (w, h) } else { (h, w) };
        self.worth -= worth(s.rest, s.cross, scale);
        if way.across {
            at = self.child(at, s.rest);
            let t = self.strips[at];
            if t.cross == along {
                self.strips[at].rest -= across;
                self.strips[at].kids += 1;
            } else {
                let u = self.child(at, across);
                self.strips[u].rest -= along;
                self.strips[u].kids += 1;
                self.worth += worth(t.cross - along, across, scale);
                self.worth += worth(t.len - across, t.cross, scale);
                self.leaves.push(Leaf { strip: u as u16, size: n as u32, turned: way.turned });
                self.used += size.area;
                return;
            }
            self.worth += worth(t.len - across, t.cross, scale);
        } else if across == s.cross {
            self.strips[at].rest -= along;
            self.strips[at].kids += 1;
            self.worth += worth(s.rest - along, s.cross, scale);
        } else {
            let t = self.child(at, along);
            self.strips[t].rest -= across;
            self.strips[t].kids += 1;
            self.worth += worth(s.rest - along, s.cross, scale) + worth(s.cross - across, along, scale);
            at = t;
        }
        self.leaves.push(Leaf { strip: at as u16, size: n as u32, turned: way.turned });
        self.used += size.area;
    }

    /// A new empty child strip that takes `extent` of the rest of strip `at`.
    fn child(&mut self, at: usize, extent: i64) -> usize {
        let s = &mut self.strips[at];
        s.rest -= extent;
        s.kids += 1;
        let strip = Strip {
            len: s.cross,
            cross: extent,
            rest: s.cross,
            parent: at as u16,
            kids: 0,
            axis: 1 - s.axis,
            depth: s.depth + 1,
        };
        self.strips.push(strip);
        self.strips.len() - 1
    }

    /// Take leaf `i` out; gives the number of its size.
    pub fn remove_leaf(&mut self, i: usize, p: &Problem) -> usize {
        let leaf = self.leaves.swap_remove(i);
        let size = &p.sizes[leaf.size as usize];
        self.used -= size.area;
        let (w, h) = if leaf.turned { (size.h, size.w) } else { (size.w, size.h) };
        let at = leaf.strip as usize;
        let along = if self.strips[at].axis == X { w } else { h };
        self.free(at, along, p.scale);
        leaf.size as usize
    }

    /// Take strip `at` (not the root) and all that is in it out; the sizes are pushed to `out`.
    pub fn remove_strip(&mut self, at: usize, p: &Problem, out: &mut Vec<usize>) {
        let inside = |strips: &[Strip], mut s: usize| loop {
            if s == at {
                return true;
            }
            if s == 0 {
                return false;
            }
            s = strips[s].parent as usize;
        };
        let mut i = 0;
        while i < self.leaves.len() {
            if inside(&self.strips, self.leaves[i].strip as usize) {
                let l = self.leaves.swap_remove(i);
                self.used -= p.sizes[l.size as usize].area;
                out.push(l.size as usize);
            } else {
                i += 1;
            }
        }
        for s in 0..self.strips.len() {
            if inside(&self.strips, s) {
                let strip = &mut self.strips[s];
                self.worth -= worth(strip.rest, strip.cross, p.scale);
                strip.rest = 0;
                strip.kids = 0;
            }
        }
        let (parent, cross) = (self.strips[at].parent as usize, self.strips[at].cross);
        self.free(parent, cross, p.scale);
        // The parent may have been dropped for want of children; the rest of the branch goes by its marks.
        let mut s = self.strips.len();
        while s > 1 {
            s -= 1;
            if self.strips[s].kids == 0 {
                self.drop_strip(s);
            }
        }
    }

    /// One child of extent `along` leaves strip `at`; strips without children go with it.
    fn free(&mut self, at: usize, along: i64, scale: Scale) {
        let s = &mut self.strips[at];
        let before = worth(s.rest, s.cross, scale);
        s.rest += along;
        s.kids -= 1;
        if s.kids > 0 || at == 0 {
            self.worth += worth(s.rest, s.cross, scale) - before;
            return;
        }
        self.worth -= before;
        s.rest = 0;
        let (parent, cross) = (s.parent as usize, s.cross);
        self.free(parent, cross, scale);
        // Freeing the parent may have moved this strip into another slot, never out of reach of its marks.
        if let Some(i) = (1..self.strips.len()).find(|&i| self.strips[i].kids == 0) {
            self.drop_strip(i);
        }
    }

    fn drop_strip(&mut self, at: usize) {
        let last = self.strips.len() - 1;
        self.strips.swap_remove(at);
        if at != last {
            for s in &mut self.strips {
                if s.parent as usize == last {
                    s.parent = at as u16;
                }
            }
            for l in &mut self.leaves {
                if l.strip as usize == last {
                    l.strip = at as u16;
                }
            }
        }
    }
}

#[allow(clippy::too_many_arguments)]
#[inline]
fn try_ways(
    s: &Strip,
    i: usize,
    along: i64,
    across: i64,
    turned: bool,
    root_turns: bool,
    p: &Problem,
    best: &mut Offer,
) {
    let (stages, scale) = (p.stages, p.scale);
    let before = worth(s.rest, s.cross, scale);
    let strip = i as u16;
    let fills = across == s.cross;
    if s.depth + u8::from(!fills) <= stages {
        let after = worth(s.rest - along, s.cross, scale) + worth(s.cross - across, along, scale);
        let loss = before - after;
        if loss < best.loss {
            best.loss = loss;
            best.way = Way { strip, turned, across: false, root: s.axis };
        }
    }
    if fills {
        return;
    }
    let after = worth(s.cross - across, s.rest, scale) + worth(s.rest - along, across, scale);
    let loss = before - after;
    if loss >= best.loss {
        return;
    }
    let ends = along == s.rest;
    if s.kids == 0 && root_turns {
        // An empty sheet: its root takes the other axis instead of one strip more.
        if s.depth + u8::from(!ends) <= stages {
            best.loss = loss;
            best.way = Way { strip, turned, across: false, root: 1 - s.axis };
        }
    } else if !ends && s.depth + 2 <= stages {
        best.loss = loss;
        best.way = Way { strip, turned, across: true, root: s.axis };
    }
}
