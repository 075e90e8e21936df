//! Boxes without a frame: fronts that lie on the edges of the box, or between its sides, with equal gaps; and the
//! upright panels that divide what is behind them.
//!
//! A front's stated height is its own here, not its opening's. Between two fronts, of one box or of two that stand
//! side by side or one on the other, there is one gap: each front stays half of it inside the outline of its box.
//! Under a worktop or a seat it stays the whole of it below.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Front, Hand, UnitKind};

use super::carcass::Carcass;
use super::front::{Bay, Leaf, Row, heights, pair_leaves, stated_fronts};
use super::job::Job;
use super::part::{Span, UPRIGHT_FACING_RIGHT, part};
use super::{OperationKind, Part, Purpose};
use crate::finding::Finding;

/// The rows of a box without a frame, from the top down; the upper faces of the shelves that are fixed between
/// them; and what there is to say about their heights.
pub(super) fn rows<'a>(job: &Job<'a>, carcass: &Carcass) -> (Vec<Row<'a>>, Vec<Dim>, Vec<Finding>) {
    let stated = stated_fronts(job);
    let gap = job.figure("front-gap");
    let [low, high] = outline(job, carcass, &gap);
    let between = &gap * i64::try_from(stated.len().saturating_sub(1)).unwrap_or(0);
    let all = (&high - &low - between).named("height of the fronts");
    let (heights, findings) = heights(job, &all, &stated);

    // from the lowest up: where each front begins and ends
    let mut faces = Vec::new();
    let mut bottom = low;
    for height in heights.iter().rev() {
        let top = &bottom + height;
        faces.push([bottom.clone(), top.clone()]);
        bottom = top + &gap;
    }
    faces.reverse();

    let half = half(&gap);
    let thick = carcass.stock.thick("fixed shelf");
    // the middle of the gap under a front is where what is behind it is parted
    let parted: Vec<Dim> =
        faces.iter().take(faces.len().saturating_sub(1)).map(|[bottom, _]| bottom - &half).collect();
    let shelved: Vec<bool> =
        stated.windows(2).map(|pair| is_shelved(job.placed.kind, pair[0].1, pair[1].1)).collect();
    let shelf = |place: &Dim| (place + thick.split(2).remove(0)).named("fixed shelf between the fronts");
    let fixed: Vec<Dim> =
        parted.iter().zip(&shelved).filter(|(_, shelved)| **shelved).map(|(place, _)| shelf(place)).collect();

    let mut rows = Vec::new();
    let last = faces.len().saturating_sub(1);
    for (i, ((path, front, at), [bottom, top])) in stated.into_iter().zip(faces).enumerate() {
        let above = |i: usize| if shelved[i] { shelf(&parted[i]) - &thick } else { parted[i].clone() };
        let below = |i: usize| if shelved[i] { shelf(&parted[i]) } else { parted[i].clone() };
        let opens_at = if i == last { carcass.floor.clone() } else { below(i) };
        let ends_at = if i == 0 { carcass.front_ceiling(job) } else { above(i - 1) };
        let height = (ends_at - &opens_at).named("opening height");
        let face = Some((bottom.clone(), (top - bottom).named("front height")));
        rows.push(Row { path, front, at, bottom: opens_at, height, bays: Vec::new(), face });
    }
    // what is divided ends under the lowest shelf that goes from side to side
    let divided_up_to = fixed.last().map(|upper| upper - &thick);
    for row in &mut rows {
        let divided = divided_up_to.as_ref().is_none_or(|up| row.bottom.length() < up.length());
        row.bays = bays(job, carcass, &row.path, if divided { job.dividers() } else { 0 });
    }
    (rows, fixed, findings)
}

/// Half of a gap: what each of two fronts stays back.
pub(super) fn half(gap: &Dim) -> Dim {
    gap.split(2).remove(0).named("half the gap")
}

/// Lowest and highest edge of the fronts.
fn outline(job: &Job<'_>, carcass: &Carcass, gap: &Dim) -> [Dim; 2] {
    let fit = job.recipe_pointer().child("fit");
    if !job.overlays() {
        let high = carcass.front_ceiling(job) - gap;
        return [&carcass.floor + gap, high].map(|dim| dim.decided_by([fit.clone()]));
    }
    let under = matches!(job.placed.kind, UnitKind::Base | UnitKind::Sink | UnitKind::Bench);
    let above = if under { gap.clone() } else { half(gap) };
    [&carcass.frame_foot + half(gap), &carcass.height - above].map(|dim| dim.decided_by([fit.clone()]))
}

/// Whether a shelf is fixed between two fronts, one below the other: where an open one meets a closed one, and
/// between the doors of tall boxes and wall units.
fn is_shelved(kind: UnitKind, above: Option<&Front>, below: Option<&Front>) -> bool {
    let open = |front: Option<&Front>| matches!(front, None | Some(Front::Open { .. }));
    let drawer = |front: Option<&Front>| matches!(front, Some(Front::Drawer { .. }));
    let stiffens = kind.is_tall() || kind == UnitKind::Wall;
    open(above) || open(below) || (stiffens && !drawer(above) && !drawer(below))
}

/// The spaces beside each other, with the fronts before them: all as wide, their gaps before the middles of the
/// panels that divide the box.
fn bays(job: &Job<'_>, carcass: &Carcass, path: &str, dividers: u8) -> Vec<Bay> {
    let gap = job.figure("front-gap");
    let (thick, side) = (carcass.stock.thick("divider"), carcass.stock.thick("side"));
    let n = i64::from(dividers) + 1;
    let fit = job.recipe_pointer().child("fit");
    let edge = if job.overlays() { half(&gap) } else { &side + &gap }.decided_by([fit]);
    let faces = (&carcass.width - &edge * 2 - &gap * (n - 1)).named("width of the fronts");
    let face = faces.split(usize::from(dividers) + 1).remove(0).named("front width");
    let path_of = |k: i64| match (n, k) {
        (1, _) => path.to_owned(),
        (2, 0) => format!("{path}.left"),
        (2, _) => format!("{path}.right"),
        _ => format!("{path}.{}", k + 1),
    };
    (0..n)
        .map(|k| {
            let from = &edge + (&face + &gap) * k;
            let begin =
                if k == 0 { side.clone() } else { divider_left(&edge, &face, &gap, &thick, k) + &thick };
            let end = if k + 1 == n {
                &carcass.width - &side
            } else {
                divider_left(&edge, &face, &gap, &thick, k + 1)
            };
            // what does not come out even is in the last
            let width =
                if k + 1 == n { (&carcass.width - &edge - &from).named("front width") } else { face.clone() };
            Bay {
                left: begin.length(),
                width: (end - begin).named("opening width"),
                path: path_of(k),
                face: Some((from.length(), width)),
            }
        })
        .collect()
}

/// The left face of the `k`th divider, counted from one: its middle is the middle of the gap before it.
fn divider_left(edge: &Dim, face: &Dim, gap: &Dim, thick: &Dim, k: i64) -> Dim {
    edge + face * k + gap * (k - 1) + half(gap) - thick.split(2).remove(0)
}

/// What closes a row of a box without a frame.
pub(super) fn leaves(job: &Job<'_>, row: &Row<'_>, bottom: &Dim, height: &Dim) -> Vec<Leaf> {
    let (hinge, pair) = match row.front {
        Some(Front::Door { hinge, .. }) => (Some(*hinge), false),
        Some(Front::Pair { .. }) => (None, true),
        Some(Front::Drawer { .. } | Front::Fixed { .. }) => (None, false),
        _ => return Vec::new(),
    };
    let hung = hinge.is_some() || pair;
    let height = height.clone().named(if hung { "door height" } else { "front height" });
    let leaf = |path: String, hinge: Option<Hand>, left: Length, width: Dim, paired: bool| Leaf {
        path,
        hinge,
        left,
        bottom: bottom.clone(),
        width: width.named(if hung { "door" } else { "front" }),
        height: height.clone(),
        paired,
    };
    let count = row.bays.len();
    let mut leaves = Vec::new();
    for (k, bay) in row.bays.iter().enumerate() {
        let Some((left, width)) = &bay.face else { continue };
        if pair && count == 1 {
            let gap = job.figure("front-gap");
            let [a, b] = pair_leaves(width, &Dim::zero(), &gap);
            let right = *left + a.length() + gap.length();
            leaves.push(leaf(format!("{}.left", bay.path), Some(Hand::Left), *left, a, true));
            leaves.push(leaf(format!("{}.right", bay.path), Some(Hand::Right), right, b, true));
            continue;
        }
        let hand = if pair { Some(if k * 2 < count { Hand::Left } else { Hand::Right }) } else { hinge };
        leaves.push(leaf(bay.path.clone(), hand, *left, width.clone(), false));
    }
    leaves
}

/// The panels that divide a box, from its bottom up to what goes from side to side above them.
pub(super) fn dividers(job: &Job<'_>, carcass: &Carcass, rows: &[Row<'_>], fixed: &[Dim]) -> Vec<Part> {
    let divided = |row: &&Row<'_>| !job.framed() && row.bays.len() > 1;
    let Some(row) = rows.last().filter(divided) else { return Vec::new() };
    let (top, notch) = match fixed.last() {
        Some(upper) => (upper - carcass.stock.thick("fixed shelf"), None),
        None => carcass.divider_top(job),
    };
    let length = (top - &carcass.floor).named("divider length");
    let width = (&carcass.clear_depth - &carcass.behind).named("divider width");
    row.bays
        .windows(2)
        .enumerate()
        .map(|(k, pair)| {
            let x = pair[0].left + pair[0].width.length();
            let sizes = [carcass.stock.thick("divider"), width.clone(), length.clone()];
            let at = [x, carcass.behind.length(), carcass.floor.length()];
            let role = if row.bays.len() == 2 { "divider".to_owned() } else { format!("divider.{}", k + 1) };
            let divider = part(&carcass.stock, role, UPRIGHT_FACING_RIGHT, sizes, at)
                .called("divider")
                .serves(Purpose::Into, Purpose::Mates)
                .with_front_edge();
            match &notch {
                Some(high) => {
                    let deep = carcass.stock.thick("stretcher") - &carcass.behind;
                    let spans = [Span::All, Span::Low(deep), Span::High(high.clone())];
                    divider.cut(OperationKind::Notch, "for the stretcher", &spans)
                }
                None => divider,
            }
        })
        .collect()
}
