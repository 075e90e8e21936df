//! The height stack: datum, boxes, worktops, and what hangs above them.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Fineness, Key, Pointer, Toward};
use dryfit_plan::{Height, Level, Plan, Unit, UnitKind};

use super::depth::{ApplianceSize, appliance, is_boxed, is_strip, neighbours, thickness};
use super::rows::Row;
use crate::figures::Figures;
use crate::finding::{Finding, Fix};

/// Where everything is, up from the datum.
pub(super) struct Stack<'p> {
    /// The bottoms of each row's units, by row.
    pub up: Vec<Dim>,
    /// The height of each unit.
    pub height: BTreeMap<&'p Key, Dim>,
    /// Worktops.
    pub tops: BTreeMap<&'p Key, TopStack>,
}

/// One worktop, up from the datum.
pub(super) struct TopStack {
    /// At the edge.
    pub thickness: Dim,
    /// The upper face.
    pub upper: Dim,
}

impl Stack<'_> {
    /// The top of a unit of row `i`.
    pub fn top_of(&self, i: usize, key: &Key) -> Dim {
        let (up, height) = (&self.up[i], &self.height[key]);
        // on the floor its top is its height, and is called so
        if up.length().is_zero() { up + height } else { (up + height).named("top").placed(key.as_str()) }
    }
}

/// Resolves every level and height.
pub(super) fn stack<'p>(plan: &'p Plan, rows: &[Row<'p>]) -> (Stack<'p>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut up: Vec<Option<Dim>> = vec![None; rows.len()];
    let mut height = BTreeMap::new();
    let mut tops: BTreeMap<&Key, TopStack> = BTreeMap::new();
    loop {
        for (i, row) in rows.iter().enumerate().filter(|(i, _)| up[*i].is_none()).collect::<Vec<_>>() {
            if let Some(level) = level(plan, row, &tops) {
                height.extend(heights(plan, row, &level, &mut findings));
                up[i] = Some(level);
            }
        }
        let settled = |run: &Key| rows.iter().zip(&up).all(|(row, up)| row.key != run || up.is_some());
        let next =
            plan.tops.iter().find(|(key, top)| !tops.contains_key(key) && top.over.iter().all(settled));
        if let Some((key, _)) = next {
            let box_tops = box_tops(plan, key, rows, &up, &height);
            tops.insert(key, top_stack(plan, key, box_tops));
            continue;
        }
        // what is left hangs over a worktop that lies on it: shown as if the worktop lay at the usual height
        let Some(i) = up.iter().position(Option::is_none) else { break };
        let Level::AboveTop(top) = &rows[i].run.level else { break };
        let top = plan.tops.get_key_value(top).map_or(top, |(key, _)| key);
        findings.push(circle(&rows[i], top));
        let Some((key, _)) = plan.tops.get_key_value(top) else { break };
        tops.insert(key, top_stack(plan, key, None));
    }
    let up = up.into_iter().map(Option::unwrap_or_default).collect();
    (Stack { up, height, tops }, findings)
}

/// A length at a mark of the tape; one that stands there already stays as it is.
pub(super) fn on_mark(dim: &Dim, fineness: Fineness, toward: Toward) -> Dim {
    if super::on_grid(dim.length(), fineness.step()) { dim.clone() } else { dim.rounded(fineness, toward) }
}

/// Where a row's units have their bottoms; none while its worktop is not settled.
fn level(plan: &Plan, row: &Row<'_>, tops: &BTreeMap<&Key, TopStack>) -> Option<Dim> {
    let at = row.at.child("level");
    match &row.run.level {
        Level::Floor => Some(Dim::zero()),
        Level::Up(up) => Some(
            Dim::chosen(up.length, at.child("up")).named("height of its bottoms").placed(row.key.as_str()),
        ),
        Level::AboveTop(top) => {
            let above = Figures::of_top(plan, top).dim("above-top");
            let upper = match tops.get(top) {
                Some(top) => top.upper.clone(),
                // a key that names nothing has a finding of its own; shown above a usual base unit
                None if !plan.tops.contains_key(top) => Figures::of_handbook(plan).dim("base-height"),
                None => return None,
            };
            let up = on_mark(&(upper + above), plan.fineness, Toward::Up);
            Some(up.named("height of its bottoms").placed(row.key.as_str()))
        }
    }
}

/// The heights of a row's units.
fn heights<'p>(
    plan: &'p Plan,
    row: &Row<'p>,
    up: &Dim,
    findings: &mut Vec<Finding>,
) -> BTreeMap<&'p Key, Dim> {
    let of_run = row.run.height.as_ref().and_then(|height| {
        let stated = Statement { height, at: row.at.child("height"), whose: row.key };
        stated.resolve(plan, up, findings)
    });
    let mut heights: BTreeMap<&Key, Dim> = BTreeMap::new();
    for (key, unit) in &row.units {
        let own = own_height(plan, key, unit, up, findings);
        let usual = || match unit.kind {
            // a tall unit among bases is tall all the same
            kind if kind.is_tall() && mixed(row) => None,
            // nobody sits as high as others stand
            UnitKind::Bench if !benches(row) => None,
            _ => of_run.clone(),
        };
        if let Some(height) = own {
            heights.insert(key, height);
        } else if !is_strip(unit.kind) {
            heights.insert(key, usual().unwrap_or_else(|| default_height(plan, row, key, unit)));
        }
    }
    for (i, (key, unit)) in row.units.iter().enumerate() {
        if heights.contains_key(key) {
            continue;
        }
        let beside: Vec<Dim> = neighbours(row, i, is_boxed)
            .into_iter()
            .flatten()
            .filter_map(|key| heights.get(key))
            .cloned()
            .collect();
        // a panel covers the higher side beside it; a filler closes the gap as far up as both go
        let height = match (unit.kind, beside.as_slice()) {
            (_, [one]) => Some(one.clone()),
            (_, [one, two]) if one.is_same(two) => Some(one.clone()),
            (UnitKind::EndPanel, _) => Dim::greatest_of(beside),
            _ => Dim::least_of(beside),
        };
        let height =
            height.or_else(|| of_run.clone()).unwrap_or_else(|| default_height(plan, row, key, unit));
        heights.insert(key, height);
    }
    heights
}

/// Whether a row has tall units and others.
fn mixed(row: &Row<'_>) -> bool {
    let boxed = |kind| matches!(kind, UnitKind::Base | UnitKind::Sink | UnitKind::Appliance);
    row.units.iter().any(|(_, unit)| boxed(unit.kind))
}

/// Whether a row has benches alone.
fn benches(row: &Row<'_>) -> bool {
    row.units.iter().all(|(_, unit)| unit.kind == UnitKind::Bench || !is_boxed(unit))
}

fn own_height(plan: &Plan, key: &Key, unit: &Unit, up: &Dim, findings: &mut Vec<Finding>) -> Option<Dim> {
    let height = unit.height.as_ref()?;
    let at = Pointer::root().child("units").child(key).child("height");
    Statement { height, at, whose: key }.resolve(plan, up, findings)
}

/// A stated height, the place where it stands, and whose it is.
struct Statement<'p> {
    height: &'p Height,
    at: Pointer,
    whose: &'p Key,
}

impl Statement<'_> {
    /// The height; none, with a finding, where it cannot be had.
    fn resolve(&self, plan: &Plan, up: &Dim, findings: &mut Vec<Finding>) -> Option<Dim> {
        let height = match self.height {
            Height::Given(height) => Dim::chosen(height.length, self.at.child("given")),
            Height::TopAt(top) => {
                let top =
                    Dim::chosen(top.length, self.at.child("top-at")).named("top").placed(self.whose.as_str());
                if top.length() <= up.length() {
                    findings.push(self.upside_down(plan, up));
                    return None;
                }
                top - up
            }
            Height::Clears(unit) => {
                let (key, unit) = plan.units.get_key_value(unit)?;
                let Some(needed) = clears(plan, unit) else {
                    findings.push(self.clears_nothing(plan, key));
                    return None;
                };
                on_mark(&needed, plan.fineness, Toward::Up)
            }
        };
        Some(height.named("height").placed(self.whose.as_str()))
    }

    fn upside_down(&self, plan: &Plan, up: &Dim) -> Finding {
        let at = self.at.child("top-at");
        let Height::TopAt(top) = self.height else { unreachable!("asked of a top alone") };
        let figure = |length: dryfit_measure::Length| length.figure(plan.fineness, Toward::Nearest);
        let what = format!(
            "`{}` has its top at {}, and its bottom at {}",
            self.whose,
            figure(top.length),
            figure(up.length())
        );
        let because = vec![up.clone()];
        let finding = Finding::unresolved("placement/top-below-bottom", vec![self.whose.clone()], at, what);
        Finding { because, ..finding }
    }

    fn clears_nothing(&self, plan: &Plan, unit: &Key) -> Finding {
        let at = self.at.child("clears");
        let what = format!("`{}` is to clear `{unit}`, and that holds no appliance", self.whose);
        let holds = |unit: &&Key| clears(plan, &plan.units[*unit]).is_some();
        let others = plan.units.keys().filter(holds);
        let fix = |other: &Key| Fix::replace(format!("clear `{other}` instead"), &at, unit, other);
        let fixes = others.map(fix).collect();
        let subjects = vec![self.whose.clone(), unit.clone()];
        Finding { fixes, ..Finding::unresolved("placement/clears-nothing", subjects, at, what) }
    }
}

/// What an appliance needs under a worktop: its height, its feet screwed out, and air.
fn clears(plan: &Plan, unit: &Unit) -> Option<Dim> {
    let size = |size| appliance(plan, unit, size);
    let (height, air) = (size(ApplianceSize::Height)?, size(ApplianceSize::AirTop)?);
    Some(height + size(ApplianceSize::Feet).unwrap_or_default() + air)
}

fn default_height(plan: &Plan, row: &Row<'_>, key: &Key, unit: &Unit) -> Dim {
    let figures = Figures::of_unit(plan, key);
    let on_floor = matches!(row.run.level, Level::Floor);
    let usual = if on_floor { "base-height" } else { "wall-height" };
    figures.dim(match unit.kind {
        UnitKind::Base | UnitKind::Sink => "base-height",
        UnitKind::Wall => "wall-height",
        UnitKind::Tall | UnitKind::Drying => "tall-height",
        UnitKind::Bench => "bench-height",
        UnitKind::Locker => "locker-height",
        UnitKind::HookRail => "hook-rail-width",
        UnitKind::FloatingShelf => "shelf-thick",
        UnitKind::Appliance => return clears(plan, unit).unwrap_or_else(|| figures.dim(usual)),
        UnitKind::Filler | UnitKind::EndPanel | UnitKind::Gap => usual,
    })
}

/// The tops of the boxes that a worktop lies on.
fn box_tops(
    plan: &Plan,
    key: &Key,
    rows: &[Row<'_>],
    up: &[Option<Dim>],
    height: &BTreeMap<&Key, Dim>,
) -> Option<Dim> {
    let mut tops: Vec<Dim> = Vec::new();
    for (row, up) in rows.iter().zip(up).filter(|(row, _)| plan.tops[key].over.contains(row.key)) {
        let Some(up) = up else { continue };
        for (unit_key, unit) in &row.units {
            if is_under_top(unit.kind) {
                let top = up + &height[unit_key];
                // boxes of one height are one cause
                if !tops.iter().any(|known| known.is_same(&top)) {
                    tops.push(top);
                }
            }
        }
    }
    match tops.as_slice() {
        [one] => Some(one.clone()),
        _ => Dim::greatest_of(tops),
    }
}

/// The kinds that carry a worktop.
pub(super) fn is_under_top(kind: UnitKind) -> bool {
    matches!(kind, UnitKind::Base | UnitKind::Sink)
}

fn top_stack(plan: &Plan, key: &Key, box_tops: Option<Dim>) -> TopStack {
    let top = &plan.tops[key];
    let at = Pointer::root().child("tops").child(key);
    let layers = thickness(plan, &top.substrate).unwrap_or_default() * i64::from(top.layers);
    let layers = layers.decided_by([at.child("layers")]);
    let facing = top.facing.as_ref().and_then(|good| thickness(plan, good)).unwrap_or_default();
    let thickness = (layers + facing).named("thickness").placed(key.as_str());
    let under = box_tops.unwrap_or_else(|| Figures::of_handbook(plan).dim("base-height"));
    let under = if under.name().is_some() { under } else { under.named("box tops").placed(key.as_str()) };
    let upper = (under + &thickness).named("upper face").placed(key.as_str());
    TopStack { thickness, upper }
}

fn circle(row: &Row<'_>, top: &Key) -> Finding {
    let at = row.at.child("level");
    let what = format!("run `{}` hangs above worktop `{top}`, which lies on it", row.key);
    let floor = Fix::replace(format!("stand `{}` on the floor", row.key), &at, &row.run.level, &Level::Floor);
    let subjects = vec![row.key.clone(), top.clone()];
    Finding { fixes: vec![floor], ..Finding::unresolved("placement/circle", subjects, at, what) }
}
