//! From the search's trees to a layout: real coordinates, part ids, siblings in the order in which they are cut.

use super::problem::Problem;
use super::tree::{Tree, X};
use crate::sheet_job::{Axis, SheetJob};
use crate::sheet_layout::{Becomes, Claims, MemberPlacement, Piece, Placement, Sheet, SheetLayout, Unplaced};

struct Export<'a> {
    job: &'a SheetJob,
    p: &'a Problem,
    /// Parts of each size that are not handed out yet: index of the part and quantity, last first.
    stock: Vec<Vec<(usize, usize)>>,
}

/// The layout of `trees`; `left` lists sizes that found no sheet.
pub(crate) fn layout(job: &SheetJob, p: &Problem, trees: &[Tree], left: &[usize]) -> SheetLayout {
    let stock = p.sizes.iter().map(|s| s.parts.iter().rev().copied().collect()).collect();
    let mut e = Export { job, p, stock };
    let mut sheets: Vec<Sheet> = Vec::with_capacity(trees.len());
    let mut order: Vec<&Tree> = trees.iter().filter(|t| !t.is_empty()).collect();
    // Fullest first, so that the sheet with the large offcut is the last to be cut.
    order.sort_by(|a, b| {
        let fill = |t: &Tree| t.used / p.stocks[t.stock as usize].area;
        fill(b).total_cmp(&fill(a)).then(a.stock.cmp(&b.stock))
    });
    for t in order {
        sheets.push(e.sheet(t));
    }
    let mut unplaced = p.misfits.clone();
    let mut missing = vec![0i64; job.parts.len()];
    for &n in left {
        missing[e.next_part(n)] += 1;
    }
    for (i, &qty) in missing.iter().enumerate() {
        if qty > 0 {
            let part_id = job.parts[i].id.clone();
            unplaced.push(Unplaced { part_id, qty, why: used_up(job) });
        }
    }
    unplaced.sort_by(|a, b| a.part_id.cmp(&b.part_id));
    let price = |s: &Sheet| job.sheets.iter().find(|k| k.id == s.sheet_id).map_or(0, |k| k.price);
    let cost = sheets.iter().map(price).fold(0i64, i64::saturating_add);
    let claims = Some(Claims { sheets: sheets.len() as i64, cost });
    SheetLayout { job: job.name.clone(), sheets, unplaced, claims }
}

fn used_up(job: &SheetJob) -> String {
    let stock: Vec<String> = job
        .sheets
        .iter()
        .map(|s| match s.qty {
            Some(q) => format!("{q} of `{}`", s.id),
            None => format!("`{}` cannot hold it", s.id),
        })
        .collect();
    format!("the stock is used up: {}", stock.join(", "))
}

impl Export<'_> {
    fn next_part(&mut self, n: usize) -> usize {
        let stock = &mut self.stock[n];
        let Some(last) = stock.last_mut() else { return self.p.sizes[n].parts[0].0 };
        let part = last.0;
        last.1 -= 1;
        if last.1 == 0 {
            stock.pop();
        }
        part
    }

    fn sheet(&mut self, t: &Tree) -> Sheet {
        let kind = &self.job.sheets[self.p.stocks[t.stock as usize].kind];
        let mut placements = Vec::with_capacity(t.leaves.len());
        let at = (self.job.trim, self.job.trim);
        let cut = self.strip(t, 0, at, &mut placements);
        Sheet { sheet_id: kind.id.clone(), placements, cut: Some(cut) }
    }

    fn strip(&mut self, t: &Tree, i: usize, at: (i64, i64), out: &mut Vec<Placement>) -> Piece {
        enum Child {
            Strip(usize),
            Leaf(usize),
        }
        let s = t.strips[i];
        let k = self.job.kerf;
        let (w, h) = if s.axis == X { (s.len, s.cross) } else { (s.cross, s.len) };
        let extent = |l: usize| {
            let l = &t.leaves[l];
            let size = &self.p.sizes[l.size as usize];
            if (s.axis == X) == l.turned { size.h } else { size.w }
        };
        let mut kids: Vec<(i64, u32, Child)> = Vec::new();
        for (n, l) in t.leaves.iter().enumerate() {
            if l.strip as usize == i {
                kids.push((extent(n), l.size, Child::Leaf(n)));
            }
        }
        for (n, c) in t.strips.iter().enumerate().skip(1) {
            if c.parent as usize == i {
                kids.push((c.cross, u32::MAX, Child::Strip(n)));
            }
        }
        kids.sort_by_key(|k| (std::cmp::Reverse(k.0), k.1));
        let alone = kids.len() == 1 && s.rest == 0;
        let mut pieces = Vec::with_capacity(kids.len() + 1);
        let (mut x, mut y) = at;
        for (extent, _, kid) in kids {
            match kid {
                Child::Strip(n) => pieces.push(self.strip(t, n, (x, y), out)),
                Child::Leaf(n) => {
                    let l = t.leaves[n];
                    let (w, h) = if s.axis == X { (extent - k, h - k) } else { (w - k, extent - k) };
                    let part = self.next_part(l.size as usize);
                    out.push(self.placement(part, x, y, w, h));
                    let id = self.job.parts[part].id.clone();
                    pieces.push(Piece { x, y, w, h, becomes: Becomes::Part(id) });
                }
            }
            if s.axis == X { x += extent } else { y += extent }
        }
        if s.rest > k {
            let (w, h) = if s.axis == X { (s.rest - k, h - k) } else { (w - k, s.rest - k) };
            pieces.push(Piece { x, y, w, h, becomes: Becomes::Waste });
        }
        if alone && let Some(only) = pieces.pop() {
            return only;
        }
        let axis = if s.axis == X { Axis::X } else { Axis::Y };
        Piece { x: at.0, y: at.1, w: w - k, h: h - k, becomes: Becomes::Cut(axis, pieces) }
    }

    fn placement(&self, part: usize, x: i64, y: i64, w: i64, h: i64) -> Placement {
        let part = &self.job.parts[part];
        let (mut mx, mut my) = (x, y);
        let members = part
            .members
            .iter()
            .map(|m| {
                let along_y = part.members_along == Axis::Y;
                let (mw, mh) = if along_y { (w, m.length) } else { (m.length, h) };
                let placed = MemberPlacement { id: m.id.clone(), x: mx, y: my, w: mw, h: mh };
                let step = m.length + self.job.kerf;
                if along_y {
                    my += step;
                } else {
                    mx += step;
                }
                placed
            })
            .collect();
        Placement { part_id: part.id.clone(), x, y, w, h, members }
    }
}
