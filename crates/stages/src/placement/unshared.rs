//! What there is to say about runs whose widths cannot be had as stated.

use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{End, Height, Plan, Unit, Width};

use super::rows::{Row, without};
use super::widths::Shared;
use crate::finding::{Finding, Fix, Severity};

/// `22 9/16 in`, to the plan's marks.
fn figure(plan: &Plan, length: Length) -> String {
    length.figure(plan.fineness, Toward::Nearest).to_string()
}

fn width_at(key: &Key) -> Pointer {
    Pointer::root().child("units").child(key).child("width")
}

/// A run whose widths are more than there is room for.
pub(super) fn too_wide(plan: &Plan, row: &Row<'_>, spare: &Dim, shared: &Shared) -> Finding {
    let short = spare.length().abs();
    let needed = &shared.end - shared.edges.first().unwrap_or(&shared.end);
    let room = needed.length() - short;
    let what = format!(
        "run `{}` is too wide by {}: it needs {} and has {}",
        row.key,
        short.figure(plan.fineness, Toward::Up),
        figure(plan, needed.length()),
        figure(plan, room)
    );
    let mut given: Vec<(usize, &Key, Stated)> = Vec::new();
    for (i, (key, unit)) in row.units.iter().enumerate() {
        if let Width::Given(width) = unit.width {
            given.push((i, key, width));
        }
    }
    // the widest first: it is missed least
    given.sort_by_key(|(_, _, width)| std::cmp::Reverse(width.length));
    // what holds an appliance or a sink is as wide as that asks
    let free = |key: &Key| plan.units.get(key).is_none_or(|unit| unit.holds.is_none());
    let narrower = given.iter().filter(|(_, key, _)| free(key)).filter_map(|(_, key, width)| {
        let left = (width.length - short).round_to(plan.fineness, Toward::Down);
        // less than half a unit is another unit
        (left * 2 >= width.length).then(|| {
            let label = format!("make `{key}` {} wide", figure(plan, left));
            let new = Width::Given(Stated::new(left, plan.fineness.unit()));
            Fix::replace(label, &width_at(key), &Width::Given(*width), &new)
        })
    });
    let narrower: Vec<Fix> = narrower.take(3).collect();
    let out = given.iter().rev().find(|(_, _, width)| width.length >= short);
    let out = out.and_then(|(i, key, _)| take_out(plan, row, *i, key));
    let at = row.at.child("order");
    let finding = Finding::unresolved("fit/run-too-wide", vec![row.key.clone()], at, what);
    Finding {
        because: shared.edges.first().map(|begin| vec![needed, begin.clone()]).unwrap_or_default(),
        short_by: Some((-spare).named("too wide by").placed(row.key.as_str())),
        fixes: narrower.into_iter().chain(out).collect(),
        ..finding
    }
}

/// Takes a unit out of its run and out of the plan, if nothing else names it.
fn take_out(plan: &Plan, row: &Row<'_>, i: usize, key: &Key) -> Option<Fix> {
    let names = |height: Option<&Height>| matches!(height, Some(Height::Clears(unit)) if unit == key);
    let ends = |end: &End| matches!(end, End::Unit(unit) if unit == key);
    let needed = plan.units.values().any(|unit| names(unit.height.as_ref()))
        || plan.runs.values().any(|run| names(run.height.as_ref()) || ends(&run.left) || ends(&run.right));
    if needed {
        return None;
    }
    let label = format!("take `{key}` out");
    let place = row.run.order.iter().position(|other| other == key).unwrap_or(i);
    let order = without(&row.run.order, place);
    let from_run = Fix::replace(label.as_str(), &row.at.child("order"), &row.run.order, &order);
    let at = Pointer::root().child("units").child(key);
    Some(from_run.and(Fix::remove(label.as_str(), &at, plan.units.get(key)?)))
}

/// A run with two ends that its units do not reach.
pub(super) fn left_over(plan: &Plan, row: &Row<'_>, spare: &Dim) -> Finding {
    let what = format!(
        "run `{}` leaves {} over: none of its units may be wider",
        row.key,
        spare.length().figure(plan.fineness, Toward::Down)
    );
    let widen = |(key, unit): &(&Key, &Unit)| {
        let fixed = matches!(unit.width, Width::Within { .. });
        let label = format!("let `{key}` be as wide as is left");
        fixed.then(|| Fix::replace(label, &width_at(key), &unit.width, &Width::LeftOver))
    };
    let label = format!("let `{}` end where its last unit ends", row.key);
    let open = Fix::replace(label, &row.at.child("right"), &row.run.right, &End::Open);
    let meets = matches!(row.run.right, End::Corner { .. });
    let fixes = row.units.iter().filter_map(widen).chain((!meets).then_some(open)).collect();
    let at = row.at.child("order");
    let finding = Finding::unresolved("placement/left-over", vec![row.key.clone()], at, what);
    let short_by = Some(spare.clone());
    Finding { severity: Severity::Look, because: vec![spare.clone()], short_by, fixes, ..finding }
}

/// Limits of which the least is more than the most.
pub(super) fn crossed(plan: &Plan, key: &Key, unit: &Unit, least: Stated, most: Stated) -> Finding {
    let what = format!(
        "`{key}` is to be at least {} and at most {} wide",
        figure(plan, least.length),
        figure(plan, most.length)
    );
    let swapped = Width::Within { least: most, most: least };
    let swap = Fix::replace(format!("swap the limits of `{key}`"), &width_at(key), &unit.width, &swapped);
    let finding = Finding::unresolved("placement/limits-crossed", vec![key.clone()], width_at(key), what);
    Finding { fixes: vec![swap], ..finding }
}

/// A unit that is to clear a corner where there is none.
pub(super) fn no_corner(plan: &Plan, row: &Row<'_>, key: &Key, unit: &Unit, least: Length) -> Finding {
    let what = format!("`{key}` is to clear a corner, and run `{}` meets no other run there", row.key);
    let given = Width::Given(Stated::new(least, plan.fineness.unit()));
    let label = format!("make `{key}` {} wide", figure(plan, least));
    let give = Fix::replace(label, &width_at(key), &unit.width, &given);
    let subjects = vec![key.clone(), row.key.clone()];
    let finding = Finding::unresolved("placement/no-corner", subjects, width_at(key), what);
    Finding { fixes: vec![give], ..finding }
}

/// Units that share what is left in a run that ends where they end.
pub(super) fn nothing_to_share(row: &Row<'_>, side: usize) -> Finding {
    let what = format!(
        "units of run `{}` share what is left, but its {} end is where its last unit ends: shown up to the wall",
        row.key,
        super::rows::side_name(side)
    );
    Finding { fixes: vec![to_the_wall(row, side)], ..open_end("placement/nothing-to-share", row, side, what) }
}

/// A run with no end that stands anywhere.
pub(super) fn adrift(row: &Row<'_>) -> Finding {
    let what =
        format!("neither end of run `{}` says where it stands: shown from the wall on its left", row.key);
    let fixes = vec![to_the_wall(row, 0), to_the_wall(row, 1)];
    Finding { fixes, ..open_end("placement/adrift", row, 0, what) }
}

fn open_end(rule: &'static str, row: &Row<'_>, side: usize, what: String) -> Finding {
    Finding::unresolved(rule, vec![row.key.clone()], row.at.child(super::rows::side_name(side)), what)
}

fn to_the_wall(row: &Row<'_>, side: usize) -> Fix {
    let name = super::rows::side_name(side);
    let stated = [&row.run.left, &row.run.right][side];
    let label = format!("let `{}` end at the wall on its {name}", row.key);
    Fix::replace(label, &row.at.child(name), stated, &End::Wall)
}
