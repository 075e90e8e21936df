//! The bounded knapsack that prices patterns: the most valuable way to fill a bar.

/// One kind of item: its length, how many may be taken, its value.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Item {
    pub length: i64,
    pub most: i64,
    pub value: f64,
}

/// A filling: how many of each item, and its value.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Filling {
    pub counts: Vec<i64>,
    pub value: f64,
    /// No filling is worth more than this; equal to `value` when the search was exhausted.
    pub at_most: f64,
}

/// Rooms up to this are tabled, longer ones are searched.
const TABLED: i64 = 4096;
/// Nodes of one search; a hard one is cut off there and only `at_most` is proven.
const NODES: u32 = 200_000;

/// The best filling for each of `rooms`.
pub(crate) fn fill(items: &[Item], rooms: &[i64]) -> Vec<Filling> {
    let most = rooms.iter().copied().max().unwrap_or(0);
    if most <= TABLED { table(items, rooms, most) } else { rooms.iter().map(|&r| search(items, r)).collect() }
}

/// Dynamic program over every room at once, items split into powers of two.
fn table(items: &[Item], rooms: &[i64], most: i64) -> Vec<Filling> {
    let n = most.max(0) as usize + 1;
    let mut best = vec![0.0f64; n];
    let mut lots: Vec<(usize, i64)> = Vec::new();
    let mut taken: Vec<Vec<bool>> = Vec::new();
    for (i, item) in items.iter().enumerate() {
        if item.value <= 0.0 || item.length > most {
            continue;
        }
        let mut left = item.most.min(most / item.length.max(1));
        let mut lot = 1;
        while left > 0 {
            let q = lot.min(left);
            left -= q;
            lot *= 2;
            let (length, value) = ((item.length * q) as usize, item.value * q as f64);
            let mut take = vec![false; n];
            for c in (length..n).rev() {
                let v = best[c - length] + value;
                if v > best[c] + 1e-12 {
                    best[c] = v;
                    take[c] = true;
                }
            }
            lots.push((i, q));
            taken.push(take);
        }
    }
    rooms
        .iter()
        .map(|&room| {
            let mut c = room.max(0) as usize;
            let value = best[c];
            let mut counts = vec![0; items.len()];
            for (&(i, q), take) in lots.iter().zip(&taken).rev() {
                if take[c] {
                    counts[i] += q;
                    c -= (items[i].length * q) as usize;
                }
            }
            // Ties within the tolerance may have been passed over, once for each lot.
            let at_most = value + 1e-12 * lots.len() as f64;
            Filling { counts, value, at_most }
        })
        .collect()
}

/// Depth first, most value for its length first, cut off where the best filling of what is left by fractions is
/// not better.
fn search(items: &[Item], room: i64) -> Filling {
    let mut order: Vec<usize> =
        (0..items.len()).filter(|&i| items[i].value > 1e-12 && items[i].length <= room).collect();
    order.sort_by(|&a, &b| {
        let rate = |i: usize| items[i].value / items[i].length as f64;
        rate(b).total_cmp(&rate(a)).then(items[b].length.cmp(&items[a].length))
    });
    let mut s = Search {
        items: order.iter().map(|&i| items[i]).collect(),
        counts: vec![0; order.len()],
        best: vec![0; order.len()],
        best_value: 0.0,
        nodes: NODES,
        shortest: Vec::new(),
    };
    let mut least = i64::MAX;
    s.shortest = s
        .items
        .iter()
        .rev()
        .map(|i| {
            least = least.min(i.length);
            least
        })
        .collect();
    s.shortest.reverse();
    let whole = s.relaxed(0, room);
    s.go(0, room, 0.0);
    let mut counts = vec![0; items.len()];
    for (&i, &q) in order.iter().zip(&s.best) {
        counts[i] = q;
    }
    let at_most = if s.nodes > 0 { s.best_value + 1e-9 } else { whole };
    Filling { counts, value: s.best_value, at_most }
}

struct Search {
    items: Vec<Item>,
    counts: Vec<i64>,
    best: Vec<i64>,
    best_value: f64,
    nodes: u32,
    /// The shortest item from each index on.
    shortest: Vec<i64>,
}

impl Search {
    /// Value of what is left by fractions.
    fn relaxed(&self, from: usize, mut room: i64) -> f64 {
        let mut value = 0.0;
        for i in &self.items[from..] {
            let q = (room / i.length).min(i.most);
            value += q as f64 * i.value;
            room -= q * i.length;
            if q < i.most {
                return value + room as f64 * i.value / i.length as f64;
            }
        }
        value
    }

    fn go(&mut self, from: usize, room: i64, value: f64) {
        if value > self.best_value + 1e-12 {
            self.best_value = value;
            self.best.copy_from_slice(&self.counts);
        }
        if from == self.items.len() || self.nodes == 0 || room < self.shortest[from] {
            return;
        }
        self.nodes -= 1;
        if value + self.relaxed(from, room) <= self.best_value + 1e-9 {
            return;
        }
        let i = self.items[from];
        let most = (room / i.length).min(i.most);
        for q in (0..=most).rev() {
            self.counts[from] = q;
            self.go(from + 1, room - q * i.length, value + q as f64 * i.value);
            if self.nodes == 0 {
                break;
            }
        }
        self.counts[from] = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// The two methods agree, and both keep what they claim.
        #[test]
        fn table_and_search_agree(
            items in prop::collection::vec((1i64..60, 1i64..4, 0u32..50), 0..9),
            room in 0i64..200,
        ) {
            let items: Vec<Item> = items
                .into_iter()
                .map(|(length, most, v)| Item { length, most, value: f64::from(v) })
                .collect();
            let a = &table(&items, &[room], room)[0];
            let b = search(&items, room);
            prop_assert!((a.value - b.value).abs() < 1e-6);
            for f in [a, &b] {
                let length: i64 = f.counts.iter().zip(&items).map(|(q, i)| q * i.length).sum();
                let value: f64 = f.counts.iter().zip(&items).map(|(&q, i)| q as f64 * i.value).sum();
                prop_assert!(length <= room);
                prop_assert!((value - f.value).abs() < 1e-6);
                prop_assert!(f.counts.iter().zip(&items).all(|(&q, i)| q <= i.most));
            }
        }
    }
}
