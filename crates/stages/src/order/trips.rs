//! Trips to the shops: as few as can be, each good there before the task that takes it, and none for weeks in the way.

use std::collections::BTreeMap;

use dryfit_measure::Key;
use dryfit_plan::Category;

use super::hours::DAY;
use crate::takeoff::{BuyLine, Takeoff};

/// How many days before it is needed a good may stand about. Common practice, no source.
const AHEAD: i64 = 21;

/// One trip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trip {
    /// The midnight before the day by which it is made.
    pub day: i64,
    /// What is brought, in the order of the buying list.
    pub goods: Vec<Key>,
}

/// A task that takes goods: the categories, its subject where that is a good, and when it begins.
#[derive(Clone, Copy, Debug)]
pub(super) struct Taker<'a> {
    pub categories: &'a [String],
    pub good: Option<&'a str>,
    pub begins: i64,
}

/// The fewest trips that bring everything in time: goods by the day on which they are needed, and for the first one
/// that no trip brings yet, a trip as late as it allows. What has a lead time is ordered, and comes by itself.
pub(super) fn trips(takeoff: &Takeoff, takers: &[Taker<'_>], first: i64) -> Vec<Trip> {
    let carried = takeoff.lines.iter().filter(|line| is_carried(line));
    let mut needed: Vec<(i64, usize, &BuyLine)> = carried
        .enumerate()
        .map(|(at, line)| (needed(line, takers).unwrap_or(first).div_euclid(DAY), at, line))
        .collect();
    needed.sort_by_key(|(day, at, _)| (*day, *at));
    let mut trips: BTreeMap<i64, Vec<(usize, Key)>> = BTreeMap::new();
    let mut last: Option<i64> = None;
    for (day, at, line) in needed {
        let before = day - 1;
        let on = last.filter(|on| day - on <= AHEAD).unwrap_or(before);
        last = Some(on);
        trips.entry(on).or_default().push((at, line.good.clone()));
    }
    let in_order = |(day, mut goods): (i64, Vec<(usize, Key)>)| {
        goods.sort();
        Trip { day: day * DAY, goods: goods.into_iter().map(|(_, good)| good).collect() }
    };
    trips.into_iter().map(in_order).collect()
}

/// Whether somebody goes and gets it: fees are paid where they fall due.
fn is_carried(line: &BuyLine) -> bool {
    line.is_bought() && line.category != Category::Fees && line.lead_days.is_none_or(|days| days == 0)
}

/// When the first task begins that takes a good; none where no task does.
fn needed(line: &BuyLine, takers: &[Taker<'_>]) -> Option<i64> {
    let takes = |taker: &&Taker<'_>| {
        taker.categories.iter().any(|category| *category == id(line.category))
            && taker.good.is_none_or(|good| good == line.good.as_str())
    };
    takers.iter().filter(takes).map(|taker| taker.begins).min()
}

/// A category as the plan writes it.
fn id(category: Category) -> String {
    serde_json::to_value(category).ok().and_then(|it| it.as_str().map(str::to_owned)).unwrap_or_default()
}
