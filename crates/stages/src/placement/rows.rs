//! Runs with their keys looked up: which wall, which units, what is at each end; and what cannot be so.

use std::collections::{BTreeMap, BTreeSet};

use dryfit_measure::{Dim, Key, Pointer, Stated};
use dryfit_plan::{End, Hand, Plan, Run, Unit};

use crate::finding::{Finding, Fix, Severity};
use crate::likely::likely;
use crate::survey::Survey;

/// One run, looked up.
pub(super) struct Row<'p> {
    pub key: &'p Key,
    pub run: &'p Run,
    pub at: Pointer,
    /// Its wall: there is one in the survey.
    pub wall: &'p Key,
    /// Its units, left to right, each in no other row.
    pub units: Vec<(&'p Key, &'p Unit)>,
    /// Left and right.
    pub ends: [RowEnd; 2],
}

/// What is at the end of a run, looked up.
#[derive(Clone)]
pub(super) enum RowEnd {
    Wall,
    /// Another row in the corner, by index, and whether this one runs up to the wall.
    Corner {
        with: usize,
        owns: bool,
    },
    /// So far from the wall's corner on this side.
    Free(Dim),
    /// A unit of another row on the same wall, and that row's index.
    Unit {
        unit: Key,
        row: usize,
    },
    Open,
}

/// The sides in the order of [`Row::ends`].
pub(super) const SIDES: [Hand; 2] = [Hand::Left, Hand::Right];

/// A side's key in a run.
pub(super) fn side_name(side: usize) -> &'static str {
    ["left", "right"][side]
}

/// All runs that stand along a wall, in the plan's order.
pub(super) fn rows<'p>(plan: &'p Plan, survey: &Survey) -> (Vec<Row<'p>>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut placed: BTreeMap<&Key, &Key> = BTreeMap::new();
    let mut rows: Vec<Row<'p>> = Vec::new();
    for (key, run) in &plan.runs {
        let at = Pointer::root().child("runs").child(key);
        let mut units = Vec::new();
        for (i, unit_key) in run.order.iter().enumerate() {
            // a key that names nothing has a finding of its own
            let Some((unit_key, unit)) = plan.units.get_key_value(unit_key) else { continue };
            if let Some(first) = placed.get(unit_key) {
                findings.push(twice(&at, key, run, i, first));
            } else {
                placed.insert(unit_key, key);
                units.push((unit_key, unit));
            }
        }
        // shown along the wall that was probably meant; the key has a finding of its own
        let Some(wall) = wall_of(plan, survey, &run.along) else { continue };
        rows.push(Row { key, run, at, wall, units, ends: [RowEnd::Open, RowEnd::Open] });
    }
    for (key, unit) in &plan.units {
        if !placed.contains_key(key) {
            findings.push(nowhere(key, unit));
        }
    }
    let ends: Vec<[RowEnd; 2]> =
        (0..rows.len()).map(|i| [0, 1].map(|side| end(survey, &rows, i, side, &mut findings))).collect();
    for (row, ends) in rows.iter_mut().zip(ends) {
        row.ends = ends;
    }
    break_circles(&mut rows, &mut findings);
    (rows, findings)
}

/// The wall of this key, or the one that was probably meant, as far as the survey has it.
fn wall_of<'p>(plan: &'p Plan, survey: &Survey, along: &Key) -> Option<&'p Key> {
    let surveyed = |key: &&Key| survey.wall(key).is_some();
    let exact = plan.walls.get_key_value(along).map(|(key, _)| key);
    let near = || {
        let meant = likely(along.as_str(), plan.walls.keys().map(Key::as_str))?;
        plan.walls.keys().find(|key| key.as_str() == meant)
    };
    exact.or_else(near).filter(surveyed)
}

/// A run's order without the unit at `i`.
pub(super) fn without(order: &[Key], i: usize) -> Vec<Key> {
    order.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, key)| key.clone()).collect()
}

fn twice(at: &Pointer, key: &Key, run: &Run, i: usize, first: &Key) -> Finding {
    let unit = &run.order[i];
    let what = if first == key {
        format!("`{unit}` stands twice in run `{key}`")
    } else {
        format!("`{unit}` stands in run `{first}` already, and in `{key}` again")
    };
    let order = at.child("order");
    let out =
        Fix::replace(format!("take `{unit}` out of `{key}`"), &order, &run.order, &without(&run.order, i));
    let subjects = vec![unit.clone(), key.clone()];
    Finding {
        fixes: vec![out],
        ..Finding::unresolved("placement/unit-twice", subjects, order.index(i), what)
    }
}

fn nowhere(key: &Key, unit: &Unit) -> Finding {
    let at = Pointer::root().child("units").child(key);
    let out = Fix::remove(format!("take `{key}` out of the plan"), &at, unit);
    let what = format!("`{key}` stands in no run, and is left out");
    let finding = Finding::unresolved("placement/unit-nowhere", vec![key.clone()], at, what);
    Finding { severity: Severity::Look, fixes: vec![out], ..finding }
}

/// One end, looked up; where it cannot be so, what comes nearest, and a finding.
fn end(survey: &Survey, rows: &[Row<'_>], i: usize, side: usize, findings: &mut Vec<Finding>) -> RowEnd {
    let row = &rows[i];
    let at = row.at.child(side_name(side));
    let stated = end_of(row.run, side);
    if matches!(stated, End::Wall | End::Corner { .. }) && is_outside(survey, row.wall, side) {
        findings.push(outside(row, side));
        let name = format!("free end from the {} corner", side_name(side));
        return RowEnd::Free(Dim::zero().named(name).placed(row.key.as_str()));
    }
    match stated {
        End::Wall => RowEnd::Wall,
        End::Open => RowEnd::Open,
        End::Free { from_corner } => {
            let at = at.child("free").child("from_corner");
            let name = format!("free end from the {} corner", side_name(side));
            RowEnd::Free(Dim::chosen(from_corner.length, at).named(name).placed(row.key.as_str()))
        }
        End::Unit(unit) => {
            let Some(other) = rows.iter().position(|row| row.units.iter().any(|(key, _)| *key == unit))
            else {
                return RowEnd::Open;
            };
            let what = if other == i {
                format!("run `{}` ends against its own unit `{unit}`", row.key)
            } else if rows[other].wall != row.wall {
                let (here, there) = (row.wall, rows[other].wall);
                format!(
                    "run `{}` on wall `{here}` ends against `{unit}`, which stands on wall `{there}`",
                    row.key
                )
            } else {
                return RowEnd::Unit { unit: unit.clone(), row: other };
            };
            let subjects = vec![row.key.clone(), unit.clone()];
            let open = Fix::replace(
                format!("let `{}` end where its last unit ends", row.key),
                &at,
                stated,
                &End::Open,
            );
            let finding = Finding::unresolved("placement/unit-elsewhere", subjects, at, what);
            findings.push(Finding { fixes: vec![open], ..finding });
            RowEnd::Open
        }
        End::Corner { with, owner } => {
            let Some(other) = rows.iter().position(|row| row.key == with) else { return RowEnd::Wall };
            if let Some(finding) = apart(survey, row, &rows[other], side) {
                findings.push(finding);
                return RowEnd::Wall;
            }
            let theirs = end_of(rows[other].run, 1 - side);
            let first = i.min(other);
            let agreed = match theirs {
                End::Corner { with: back, owner: said } if back == row.key => {
                    if said != owner && first == i {
                        findings.push(disagree(row, &rows[other], side, [owner, said]));
                    }
                    // the first of the two has the say until they agree
                    if first == i { owner } else { said }
                }
                _ => {
                    findings.push(one_sided(row, &rows[other], side));
                    owner
                }
            };
            let owns = match agreed {
                owner if owner == row.key => true,
                owner if owner == with => false,
                owner => {
                    if first == i || theirs != &(End::Corner { with: row.key.clone(), owner: owner.clone() })
                    {
                        findings.push(third_owner(row, with, side, owner));
                    }
                    first == i
                }
            };
            RowEnd::Corner { with: other, owns }
        }
    }
}

fn end_of(run: &Run, side: usize) -> &End {
    [&run.left, &run.right][side]
}

/// Whether no wall stands before the end of a wall on this side: the room turns away from it there.
fn is_outside(survey: &Survey, wall: &Key, side: usize) -> bool {
    let line = survey.wall(wall).map(|wall| &survey.walls[wall]);
    let corner = line.map(|line| if side == 0 { &line.left } else { &line.right });
    let angle = corner.and_then(|corner| survey.corner_angle(corner));
    angle.is_some_and(|angle| angle > std::f64::consts::PI)
}

fn outside(row: &Row<'_>, side: usize) -> Finding {
    let at = row.at.child(side_name(side));
    let what = format!(
        "run `{}` ends at an outside corner on its {}, where no wall and no other run stands before it",
        row.key,
        side_name(side)
    );
    let free = End::Free { from_corner: Stated::default() };
    let label = format!("let `{}` end free at that corner", row.key);
    let fix = Fix::replace(label, &at, end_of(row.run, side), &free);
    let finding = Finding::unresolved("placement/outside-corner", vec![row.key.clone()], at, what);
    Finding { fixes: vec![fix], ..finding }
}

/// A finding if two runs that are said to meet in a corner are not on the walls that meet there.
fn apart(survey: &Survey, row: &Row<'_>, other: &Row<'_>, side: usize) -> Option<Finding> {
    let round = survey.beside(row.wall, SIDES[side])?;
    if round == other.wall {
        return None;
    }
    let at = row.at.child(side_name(side));
    let what = format!(
        "run `{}` meets `{}` in the corner on its {}, but wall `{round}` is round that corner, and `{}` stands on `{}`",
        row.key,
        other.key,
        side_name(side),
        other.key,
        other.wall
    );
    let subjects = vec![row.key.clone(), other.key.clone()];
    let wall =
        Fix::replace(format!("let `{}` end at the wall", row.key), &at, end_of(row.run, side), &End::Wall);
    Some(Finding { fixes: vec![wall], ..Finding::unresolved("placement/corner-apart", subjects, at, what) })
}

fn disagree(row: &Row<'_>, other: &Row<'_>, side: usize, owners: [&Key; 2]) -> Finding {
    let at = row.at.child(side_name(side)).child("corner").child("owner");
    let there = other.at.child(side_name(1 - side)).child("corner").child("owner");
    let what = format!(
        "run `{}` says that `{}` goes up to the wall in their corner, run `{}` says `{}`",
        row.key, owners[0], other.key, owners[1]
    );
    let let_own = |owner: &Key, at: &Pointer, old: &Key| {
        Fix::replace(format!("let `{owner}` go up to the wall"), at, old, owner)
    };
    let fixes = vec![let_own(owners[0], &there, owners[1]), let_own(owners[1], &at, owners[0])];
    let subjects = vec![row.key.clone(), other.key.clone()];
    Finding { fixes, ..Finding::unresolved("placement/corner-owner", subjects, at, what) }
}

fn one_sided(row: &Row<'_>, other: &Row<'_>, side: usize) -> Finding {
    let at = row.at.child(side_name(side)).child("corner").child("with");
    let there = other.at.child(side_name(1 - side));
    let theirs = end_of(other.run, 1 - side);
    let End::Corner { owner, .. } = end_of(row.run, side) else { unreachable!("asked of a corner alone") };
    let what = format!(
        "run `{}` meets `{}` in a corner, but the {} end of `{}` does not say so",
        row.key,
        other.key,
        side_name(1 - side),
        other.key
    );
    let corner = End::Corner { with: row.key.clone(), owner: owner.clone() };
    let meet = Fix::replace(format!("let `{}` meet `{}` there", other.key, row.key), &there, theirs, &corner);
    let subjects = vec![row.key.clone(), other.key.clone()];
    Finding { fixes: vec![meet], ..Finding::unresolved("placement/corner-one-sided", subjects, at, what) }
}

fn third_owner(row: &Row<'_>, with: &Key, side: usize, owner: &Key) -> Finding {
    let at = row.at.child(side_name(side)).child("corner").child("owner");
    let what = format!("`{owner}` cannot go up to the wall in the corner of `{}` and `{with}`", row.key);
    let let_own = |key: &Key| Fix::replace(format!("let `{key}` go up to the wall"), &at, owner, key);
    let fixes = vec![let_own(row.key), let_own(with)];
    let subjects = vec![row.key.clone(), with.clone()];
    Finding { fixes, ..Finding::unresolved("placement/corner-owner", subjects, at, what) }
}

/// The rows whose place must be known before row `i`'s.
pub(super) fn waits_for<'r>(row: &'r Row<'_>) -> impl Iterator<Item = usize> + 'r {
    row.ends.iter().filter_map(|end| match end {
        RowEnd::Unit { row, .. } => Some(*row),
        _ => None,
    })
}

/// Opens an end of every circle of runs that end against each other's units.
fn break_circles(rows: &mut [Row<'_>], findings: &mut Vec<Finding>) {
    for i in 0..rows.len() {
        for side in 0..2 {
            let RowEnd::Unit { unit, row: other } = &rows[i].ends[side] else { continue };
            if !leads_to(rows, *other, i) {
                continue;
            }
            let row = &rows[i];
            let at = row.at.child(side_name(side));
            let what = format!(
                "run `{}` ends against `{unit}`, whose own run hangs on where `{}` ends",
                row.key, row.key
            );
            let open = Fix::replace(
                format!("let `{}` end where its last unit ends", row.key),
                &at,
                end_of(row.run, side),
                &End::Open,
            );
            let subjects = vec![row.key.clone(), unit.clone()];
            let finding = Finding::unresolved("placement/circle", subjects, at, what);
            findings.push(Finding { fixes: vec![open], ..finding });
            rows[i].ends[side] = RowEnd::Open;
        }
    }
}

/// Whether the place of row `from` hangs on that of row `to`.
fn leads_to(rows: &[Row<'_>], from: usize, to: usize) -> bool {
    let (mut open, mut seen) = (vec![from], BTreeSet::new());
    while let Some(i) = open.pop() {
        if i == to {
            return true;
        }
        if seen.insert(i) {
            open.extend(waits_for(&rows[i]));
        }
    }
    false
}
