//! Proven lower bounds for sheets.
//!
//! A dual-feasible function f maps sizes so that whatever fits side by side in C still fits in f(C); for two of
//! them, no sheet holds parts whose products f(w) g(h) sum to more than f(W) g(H) (Fekete & Schepers 2001). The
//! families are u (Fekete & Schepers 2001), f0, f1 and f2 (Carlier, Clautiaux & Moukrim 2007). A part that may
//! turn counts with the lesser of its two products.

use super::problem::Problem;
use crate::answer::Bound;
use crate::sheet_job::SheetJob;
use std::collections::BTreeSet;

/// Thresholds tried on each side; the proof is the same with fewer, only weaker.
const THRESHOLDS: usize = 60;

/// The lower bound on what the stock for `job` costs.
pub(crate) fn bound(job: &SheetJob, p: &Problem) -> Bound {
    if p.sizes.is_empty() {
        return Bound { value: 0, count: Some(0), why: "nothing is to be cut".into() };
    }
    if p.stocks.len() == 1 { one_kind(job, p) } else { several_kinds(job, p) }
}

fn one_kind(job: &SheetJob, p: &Problem) -> Bound {
    let s = &p.stocks[0];
    let kind = &job.sheets[s.kind];
    let need: i128 = p.sizes.iter().map(|z| i128::from(z.w) * i128::from(z.h) * z.qty as i128).sum();
    let room = i128::from(s.w) * i128::from(s.h);
    let by_area = div_up(need, room);
    let by_dual = dual_feasible(p);
    let count = by_area.max(by_dual);
    let ratio = hundredths(need, room);
    let why = if by_dual > by_area {
        format!(
            "the parts and their kerfs come to {ratio} sheets of area, and by their sides (dual-feasible functions) no layout uses fewer than {count}"
        )
    } else {
        format!("the parts and their kerfs come to {ratio} sheets of area, so {} cannot hold them", count - 1)
    };
    let count = i64::try_from(count).unwrap_or(i64::MAX);
    Bound { value: count.saturating_mul(kind.price), count: Some(count), why }
}

/// `need / room` with two decimals, rounded down, so that the words never claim more than is proven.
fn hundredths(need: i128, room: i128) -> String {
    let h = need * 100 / room;
    format!("{}.{:02}", h / 100, h % 100)
}

/// With several kinds, the area that is wanted is bought at the best rates that the stock allows.
fn several_kinds(job: &SheetJob, p: &Problem) -> Bound {
    let mut need: i128 = p.sizes.iter().map(|z| i128::from(z.w) * i128::from(z.h) * z.qty as i128).sum();
    let area = |i: usize| i128::from(p.stocks[i].w) * i128::from(p.stocks[i].h);
    let price = |i: usize| i128::from(job.sheets[p.stocks[i].kind].price);
    let mut order: Vec<usize> = (0..p.stocks.len()).collect();
    order.sort_by(|&a, &b| (price(a) * area(b)).cmp(&(price(b) * area(a))).then(a.cmp(&b)));
    let mut cost: i128 = 0;
    for i in order {
        let most = p.stocks[i].qty as i128;
        let whole = (need / area(i)).min(most);
        cost += whole * price(i);
        need -= whole * area(i);
        if whole < most && need > 0 {
            cost += div_up(need * price(i), area(i));
            need = 0;
        }
        if need == 0 {
            break;
        }
    }
    let value = i64::try_from(cost).unwrap_or(i64::MAX);
    let why = format!(
        "the area of the parts and their kerfs, bought at the best rates by area that the stock allows, costs {value}"
    );
    Bound { value, count: None, why }
}

fn div_up(a: i128, b: i128) -> i128 {
    if a <= 0 { 0 } else { (a - 1) / b + 1 }
}

/// One dual-feasible function as a table: its value for each asked extent, and for the whole.
struct Dual {
    of: Vec<i128>,
    whole: i128,
}

/// The best bound over all pairs of functions, as a number of sheets of the one kind.
fn dual_feasible(p: &Problem) -> i128 {
    let s = &p.stocks[0];
    let turning = p.sizes.iter().any(|z| z.turns);
    // Extents asked of each function: every width, then every height.
    let ws: Vec<i64> = p.sizes.iter().map(|z| z.w).collect();
    let hs: Vec<i64> = p.sizes.iter().map(|z| z.h).collect();
    let asked: Vec<i64> = ws.iter().chain(&hs).copied().collect();
    let n = ws.len();
    let side = |own: fn(&super::problem::Size) -> i64, other: fn(&super::problem::Size) -> i64| {
        let mut v = Vec::new();
        for z in &p.sizes {
            v.extend(std::iter::repeat_n(own(z), z.qty));
            if z.turns {
                v.extend(std::iter::repeat_n(other(z), z.qty));
            }
        }
        v
    };
    let along_w = families(s.w, &side(|z| z.w, |z| z.h), &asked, !turning);
    let along_h = families(s.h, &side(|z| z.h, |z| z.w), &asked, !turning);
    let mut best = 0;
    for f in &along_w {
        for g in &along_h {
            let mut sum: i128 = 0;
            for (i, z) in p.sizes.iter().enumerate() {
                let up = f.of[i] * g.of[n + i];
                let c = if z.turns { up.min(f.of[n + i] * g.of[i]) } else { up };
                sum += c * z.qty as i128;
            }
            best = best.max(div_up(sum, f.whole * g.whole));
        }
    }
    best
}

/// The functions on [0, `whole`] whose thresholds come from `sizes`, tabled for the extents `asked`.
fn families(whole: i64, sizes: &[i64], asked: &[i64], with_f1: bool) -> Vec<Dual> {
    let mut at: BTreeSet<i64> = BTreeSet::new();
    for &x in sizes {
        if 2 * x <= whole {
            at.insert(x);
        } else {
            at.extend([whole - x, whole - x + 1]);
        }
    }
    let mut at: Vec<i64> = at.into_iter().filter(|&k| k >= 1 && k <= whole / 2).collect();
    if at.len() > THRESHOLDS {
        at = (0..THRESHOLDS).map(|i| at[i * at.len() / THRESHOLDS]).collect();
    }
    let mut found: Vec<Dual> = Vec::new();
    let mut seen: BTreeSet<Vec<(i128, i128)>> = BTreeSet::new();
    let mut push = |f: &dyn Fn(i128) -> i128, total: i128| {
        if total <= 0 {
            return;
        }
        // An extent over the whole is asked only of a part that cannot lie that way; it counts as the whole.
        let of: Vec<i128> = asked.iter().map(|&x| f(i128::from(x.min(whole)))).collect();
        let key = of
            .iter()
            .map(|&v| {
                let g = gcd(v, total);
                (v / g, total / g)
            })
            .collect();
        if seen.insert(key) {
            found.push(Dual { of, whole: total });
        }
    };
    let c = i128::from(whole);
    let f0 = |k: i128| {
        move |x: i128| {
            if x > c - k {
                c
            } else if x < k {
                0
            } else {
                x
            }
        }
    };
    push(&|x| x, c);
    for &k in &at {
        let k = i128::from(k);
        push(&f0(k), c);
        push(
            &|x| match (2 * x).cmp(&c) {
                std::cmp::Ordering::Greater => 2 * (c / k - (c - x) / k),
                std::cmp::Ordering::Equal => c / k,
                std::cmp::Ordering::Less => 2 * (x / k),
            },
            2 * (c / k),
        );
        if with_f1 {
            let mut small: Vec<i128> =
                sizes.iter().map(|&x| i128::from(x)).filter(|&x| x >= k && 2 * x <= c).collect();
            small.sort_unstable();
            let mut sum = 0;
            let sums: Vec<i128> = small
                .iter()
                .map(|x| {
                    sum += x;
                    sum
                })
                .collect();
            let most = |room: i128| sums.partition_point(|&s| s <= room) as i128;
            let all = most(c);
            push(&|x| if 2 * x > c { all - most(c - x) } else { i128::from(x >= k) }, all);
        }
    }
    push(&f0(c / 2), c);
    for k in 1..8 {
        push(&|x| if ((k + 1) * x) % c == 0 { k * x } else { ((k + 1) * x / c) * c }, k * c);
    }
    found
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a.max(1) } else { gcd(b, a % b) }
}
