//! Goal-driven ruin and recreate over cut trees (after Gardeyn & Wauters 2022, section 4).
//!
//! The search holds a layout under a limit of cost in which some parts may be left out. Each step takes a few
//! parts out of a few sheets and puts parts back in, the most restricted first, where the least worth of waste is
//! lost. Late acceptance (Burke & Bykov 2017) on the area left out, then on the worth of the waste. When nothing
//! is left out, a cheaper layout is found: the limit falls below it.

use super::insertion::cost;
use super::problem::Problem;
use super::tree::{NO_WAY, Offer, Tree, worth};
use crate::rng::Rng;

/// What the search may be told to do otherwise.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tuning {
    /// Length of the late-acceptance history.
    pub history: usize,
    /// Parts taken out of a step on average.
    pub removed: usize,
    /// One offer in so many is overlooked.
    pub blink: u64,
}

impl Default for Tuning {
    fn default() -> Tuning {
        Tuning { history: 150, removed: 6, blink: 20 }
    }
}

/// Area left out in billionths of the largest sheet, then what the waste is worth, the less the better.
type Score = (u64, f64);

fn no_worse(a: Score, b: Score) -> bool {
    a.0 < b.0 || (a.0 == b.0 && a.1 <= b.1)
}

/// Offers that are remembered at most, 40 bytes each; a larger job overwrites old ones.
const REMEMBERED: usize = 2_000_000;

/// The offer of a sheet, by the stamp of its content, to a size.
#[derive(Clone, Copy)]
struct Remembered {
    stamp: u64,
    size: u32,
    offer: Offer,
}

const NOTHING: Remembered = Remembered {
    stamp: u64::MAX,
    size: u32::MAX,
    offer: Offer { loss: f64::INFINITY, count: 0, way: NO_WAY },
};

/// A size that is left out, and the best place for one of it.
struct Row {
    size: usize,
    count: u32,
    loss: f64,
    slot: usize,
}

pub(crate) struct Search {
    tuning: Tuning,
    rng: Rng,
    /// Sheets in use under the limit, empty ones dropped between steps.
    trees: Vec<Tree>,
    /// Parts left out, by size.
    out: Vec<u32>,
    /// Sizes of which some are left out.
    listed: Vec<usize>,
    limit: i128,
    score: Score,
    late: Vec<Score>,
    steps: u64,
    stamp: u64,
    slots: usize,
    memory: Vec<Remembered>,
    /// Offers of an empty sheet of each kind: size x stock.
    fresh: Vec<Offer>,
    areas: Vec<u64>,
    /// Sheets in use of each kind.
    taken: Vec<usize>,
    spent: i128,
    /// Trees as they were before the step under way.
    saved: Vec<(usize, Tree)>,
    pool: Vec<Tree>,
    rows: Vec<Row>,
    until_blink: u64,
    removed: Vec<usize>,
}

impl Search {
    /// A search for layouts of `p` with at most so many sheets.
    pub fn new(p: &Problem, sheets: usize, seed: u64, tuning: Tuning) -> Search {
        let slots = sheets + 1;
        let fresh = p
            .sizes
            .iter()
            .flat_map(|z| {
                (0..p.stocks.len()).map(|k| {
                    let mut o = Tree::new(p, k).offer(z, p);
                    o.count = o.count.min(1);
                    o
                })
            })
            .collect();
        Search {
            tuning,
            rng: Rng::new(seed),
            trees: Vec::new(),
            out: vec![0; p.sizes.len()],
            listed: Vec::new(),
            limit: 0,
            score: (0, 0.0),
            late: Vec::new(),
            steps: 0,
            stamp: 0,
            slots,
            memory: vec![NOTHING; (p.sizes.len() * slots).clamp(1, REMEMBERED)],
            fresh,
            areas: p.sizes.iter().map(|z| (z.area * 1e9).ceil() as u64).collect(),
            taken: vec![0; p.stocks.len()],
            spent: 0,
            saved: Vec::new(),
            pool: Vec::new(),
            rows: Vec::new(),
            until_blink: 1,
            removed: Vec::new(),
        }
    }

    /// Start from `trees`, without the parts of sizes `out`, under a limit of cost.
    pub fn set(&mut self, p: &Problem, trees: &[Tree], out: &[usize], limit: i128) {
        self.trees.clear();
        self.trees.extend(trees.iter().filter(|t| !t.is_empty()).cloned());
        for t in &mut self.trees {
            self.stamp += 1;
            t.stamp = self.stamp;
            t.weigh(p);
        }
        self.out.iter_mut().for_each(|n| *n = 0);
        self.listed.clear();
        for &n in out {
            self.leave_out(n);
        }
        self.limit = limit;
        self.count(p);
        self.score = self.judge(p);
        self.late.clear();
        self.late.resize(self.tuning.history.max(1), self.score);
    }

    /// Start under the cost of `best`: the emptiest sheets are dropped until the limit is met.
    pub fn lower(&mut self, p: &Problem, best: &[Tree]) {
        let mut trees = best.to_vec();
        let limit = cost(p, best) - 1;
        let mut out = Vec::new();
        while cost(p, &trees) > limit {
            let fill = |t: &Tree| t.used / p.stocks[t.stock as usize].area;
            let least = (0..trees.len())
                .filter(|&i| p.stocks[trees[i].stock as usize].price > 0)
                .min_by(|&a, &b| fill(&trees[a]).total_cmp(&fill(&trees[b])));
            let Some(i) = least else { break };
            out.extend(trees.swap_remove(i).leaves.iter().map(|l| l.size as usize));
        }
        self.set(p, &trees, &out, limit);
    }

    /// The sheets as they stand, and how the layout is judged.
    pub fn trees(&self) -> &[Tree] {
        &self.trees
    }

    /// Worth of the waste of the layout as it stands.
    pub fn worth(&self) -> f64 {
        -self.score.1
    }

    fn count(&mut self, p: &Problem) {
        self.taken.iter_mut().for_each(|n| *n = 0);
        self.spent = 0;
        for t in self.trees.iter().filter(|t| !t.is_empty()) {
            self.taken[t.stock as usize] += 1;
            self.spent += i128::from(p.stocks[t.stock as usize].price);
        }
    }

    fn leave_out(&mut self, n: usize) {
        if self.out[n] == 0 {
            self.listed.push(n);
        }
        self.out[n] += 1;
    }

    fn judge(&self, p: &Problem) -> Score {
        let out = self.listed.iter().map(|&n| self.areas[n] * u64::from(self.out[n])).sum();
        let mut value: f64 = self.trees.iter().filter(|t| !t.is_empty()).map(|t| t.worth).sum();
        // Money that is not spent is worth the whole sheets that it could still buy.
        let money = self.limit - self.spent;
        let buys = |k: usize| {
            let s = &p.stocks[k];
            if s.price == 0 || self.taken[k] >= s.qty {
                return 0.0;
            }
            money as f64 / s.price as f64 * worth(s.w, s.h, p.scale)
        };
        value += (0..p.stocks.len()).map(buys).fold(0.0, f64::max);
        (out, -value)
    }

    /// Whether one more sheet of kind `k` may be opened.
    fn affords(&self, p: &Problem, k: usize) -> bool {
        let s = &p.stocks[k];
        self.taken[k] < s.qty
            && self.spent + i128::from(s.price) <= self.limit
            && self.trees.len() < self.slots
    }

    /// One step; true when it was accepted and leaves nothing out.
    pub fn step(&mut self, p: &Problem) -> bool {
        self.steps += 1;
        debug_assert!(self.saved.is_empty());
        let whole = self.trees.len();
        let before_out: Vec<u32> = self.listed.iter().map(|&n| self.out[n]).collect();
        let before_listed = self.listed.clone();
        self.ruin(p);
        self.count(p);
        self.recreate(p);
        let score = self.judge(p);
        let at = (self.steps % self.late.len() as u64) as usize;
        let accepted = no_worse(score, self.late[at]) || no_worse(score, self.score);
        if accepted {
            self.score = score;
            self.pool.extend(self.saved.drain(..).map(|s| s.1));
            let mut i = 0;
            while i < self.trees.len() {
                if self.trees[i].is_empty() {
                    let t = self.trees.swap_remove(i);
                    self.pool.push(t);
                } else {
                    i += 1;
                }
            }
        } else {
            while self.trees.len() > whole {
                let t = self.trees.pop();
                self.pool.extend(t);
            }
            while let Some((i, t)) = self.saved.pop() {
                if i >= whole {
                    self.pool.push(t);
                    continue;
                }
                let now = std::mem::replace(&mut self.trees[i], t);
                self.pool.push(now);
            }
            for &n in &self.listed {
                self.out[n] = 0;
            }
            self.listed = before_listed;
            for (&n, &q) in self.listed.iter().zip(&before_out) {
                self.out[n] = q;
            }
        }
        self.late[at] = self.score;
        accepted && self.score.0 == 0
    }

    /// Keep a copy of tree `i` as it was before this step.
    fn save(&mut self, i: usize) {
        if self.saved.iter().any(|s| s.0 == i) {
            return;
        }
        let mut copy = self.pool.pop().unwrap_or_else(|| self.trees[i].clone());
        copy.clone_from(&self.trees[i]);
        self.saved.push((i, copy));
    }

    fn touch(&mut self, i: usize) {
        self.stamp += 1;
        self.trees[i].stamp = self.stamp;
    }

    fn ruin(&mut self, p: &Problem) {
        if self.trees.is_empty() {
            return;
        }
        let target = 1 + self.rng.below(2 * self.tuning.removed - 1);
        self.removed.clear();
        let mut tries = 0;
        while self.removed.len() < target && tries < 8 {
            tries += 1;
            let i = self.rng.below(self.trees.len());
            if self.trees[i].is_empty() {
                continue;
            }
            self.save(i);
            let here = 1 + self.rng.below((target - self.removed.len()).max(1));
            let whole = self.rng.one_in(24);
            let until = self.removed.len() + here;
            while !self.trees[i].is_empty() && (whole || self.removed.len() < until) {
                let t = &mut self.trees[i];
                let nodes = t.leaves.len() + t.strips.len() - 1;
                let n = self.rng.below(nodes);
                if n < t.leaves.len() {
                    let size = t.remove_leaf(n, p);
                    self.removed.push(size);
                } else {
                    t.remove_strip(n - t.leaves.len() + 1, p, &mut self.removed);
                }
            }
            self.touch(i);
        }
        for i in 0..self.removed.len() {
            self.leave_out(self.removed[i]);
        }
    }

    fn place(&self, size: usize, slot: usize) -> usize {
        (size * self.slots + slot) % self.memory.len()
    }

    fn offer(&mut self, p: &Problem, size: usize, slot: usize) -> Offer {
        let at = self.place(size, slot);
        let m = &mut self.memory[at];
        let t = &self.trees[slot];
        if (m.stamp, m.size) != (t.stamp, size as u32) {
            (m.stamp, m.size) = (t.stamp, size as u32);
            m.offer = t.offer(&p.sizes[size], p);
        }
        m.offer
    }

    fn blinks(&mut self) -> bool {
        self.until_blink -= 1;
        if self.until_blink > 0 {
            return false;
        }
        self.until_blink = 1 + self.rng.below(2 * self.tuning.blink as usize - 1) as u64;
        true
    }

    /// The best place for one more of a size: a slot, or beyond the slots a kind of sheet to open.
    fn scan(&mut self, p: &Problem, size: usize) -> Row {
        let mut row = Row { size, count: 0, loss: f64::INFINITY, slot: 0 };
        for slot in 0..self.trees.len() {
            if self.trees[slot].is_empty() {
                continue;
            }
            let o = self.offer(p, size, slot);
            row.count += o.count;
            if o.loss < row.loss && !self.blinks() {
                row.loss = o.loss;
                row.slot = slot;
            }
        }
        for k in 0..p.stocks.len() {
            if self.affords(p, k) {
                let o = self.fresh[size * p.stocks.len() + k];
                row.count += o.count;
                if o.loss < row.loss && (p.stocks.len() == 1 || !self.blinks()) {
                    row.loss = o.loss;
                    row.slot = self.slots + k;
                }
            }
        }
        row
    }

    fn recreate(&mut self, p: &Problem) {
        let mut rows = std::mem::take(&mut self.rows);
        rows.clear();
        for i in 0..self.listed.len() {
            let row = self.scan(p, self.listed[i]);
            rows.push(row);
        }
        loop {
            let next = rows
                .iter()
                .enumerate()
                .filter(|(_, r)| r.loss.is_finite())
                .min_by_key(|(_, r)| (r.count, u64::MAX - self.areas[r.size]));
            let Some((at, row)) = next else { break };
            let (size, mut slot) = (row.size, row.slot);
            let opened = slot >= self.slots;
            if opened {
                let k = slot - self.slots;
                slot = self.trees.len();
                let mut t = self.pool.pop().unwrap_or_else(|| Tree::new(p, k));
                t.clone_from(&Tree::new(p, k));
                self.trees.push(t);
                self.taken[k] += 1;
                self.spent += i128::from(p.stocks[k].price);
                let way = self.fresh[size * p.stocks.len() + k].way;
                self.trees[slot].insert(size, &p.sizes[size], way, p.scale);
            } else {
                self.save(slot);
                let way = self.offer(p, size, slot).way;
                self.trees[slot].insert(size, &p.sizes[size], way, p.scale);
            }
            self.out[size] -= 1;
            if self.out[size] == 0 {
                rows.swap_remove(at);
                self.listed.retain(|&n| n != size);
            }
            for row in &mut rows {
                if opened || row.slot == slot {
                    continue;
                }
                let m = &self.memory[self.place(row.size, slot)];
                if (m.stamp, m.size) == (self.trees[slot].stamp, row.size as u32) {
                    row.count -= m.offer.count.min(row.count);
                } else {
                    // Overwritten by another: this row is looked at afresh.
                    row.slot = slot;
                }
            }
            self.touch(slot);
            for row in &mut rows {
                if opened || row.slot == slot {
                    *row = self.scan(p, row.size);
                    continue;
                }
                let o = self.offer(p, row.size, slot);
                row.count += o.count;
                if o.loss < row.loss && !self.blinks() {
                    row.loss = o.loss;
                    row.slot = slot;
                }
            }
        }
        self.rows = rows;
    }
}
