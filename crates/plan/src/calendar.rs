//! When work can be done, who helps, what was done, and what the builder wants of single tasks.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{Day, Keyed, Lasting, OnClock, WorkingHours};

/// The week's working hours, and what departs from them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Calendar {
    /// The first day on which work is done. Without it the order has no dates.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<Day>,
    /// Working hours by day of the week; a day that is not named is free.
    #[serde(skip_serializing_if = "Week::is_free")]
    pub hours: Week,
    /// Days on which no work is done, whatever the week says.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub off: Vec<Day>,
    /// Who else can help, and when; lifts and two-person tasks wait for them.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub helpers: Keyed<Helping>,
    /// Goods that were ordered or promised, by the key of the good.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub deliveries: Keyed<Delivery>,
    /// The most days that the room may be without its sink.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub without_sink: Option<u16>,
}

/// Working hours by day of the week.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Week {
    /// On Mondays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub monday: Vec<WorkingHours>,
    /// On Tuesdays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tuesday: Vec<WorkingHours>,
    /// On Wednesdays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub wednesday: Vec<WorkingHours>,
    /// On Thursdays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub thursday: Vec<WorkingHours>,
    /// On Fridays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub friday: Vec<WorkingHours>,
    /// On Saturdays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub saturday: Vec<WorkingHours>,
    /// On Sundays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sunday: Vec<WorkingHours>,
}

impl Week {
    /// The seven days, from Monday.
    pub fn days(&self) -> [&[WorkingHours]; 7] {
        [
            &self.monday,
            &self.tuesday,
            &self.wednesday,
            &self.thursday,
            &self.friday,
            &self.saturday,
            &self.sunday,
        ]
    }

    /// Whether no day has hours.
    pub fn is_free(&self) -> bool {
        self.days().iter().all(|hours| hours.is_empty())
    }
}

/// Somebody who can help.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Helping {
    /// Who: "neighbour".
    pub name: String,
    /// When in the week.
    pub hours: Week,
    /// Days on which they cannot.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub off: Vec<Day>,
}

/// When a good was ordered, and when it was promised.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Delivery {
    /// The day on which it was, or will be, ordered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ordered: Option<Day>,
    /// The day on which it comes; else the day it was ordered and its lead days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub comes: Option<Day>,
}

/// A task that was done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// The day on which it was done.
    pub done: Day,
    /// The time of day at which it was finished.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<OnClock>,
    /// How long it took.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub took: Option<Lasting>,
    /// What came out, who has seen it, what to remember.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What the builder wants of a task of the order of work, or a task of their own.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct TaskWish {
    /// What to do. It makes a task of the builder's own under a name that no recipe has.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub does: Option<String>,
    /// How long it takes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub takes: Option<Lasting>,
    /// Tasks that have to be done before, besides those of its recipe.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
    /// Tasks that have to wait for it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub before: Vec<String>,
    /// It does not begin before this day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub not_before: Option<Day>,
    /// Who has to have seen it before anything goes on: it is a hold point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hold: Option<String>,
    /// Whether two people are needed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub two_people: Option<bool>,
    /// Whether it is left out: somebody else does it, or it was done before the plan began.
    #[serde(skip_serializing_if = "crate::plan::is_default")]
    pub left_out: bool,
}

/// Things by the name of a task: `set/b3`.
pub type ByTask<T> = BTreeMap<String, T>;

impl crate::Plan {
    /// Whether a second person can help at some time.
    pub fn somebody_helps(&self) -> bool {
        self.shop.helper == Some(true) || self.calendar.helpers.values().any(|one| !one.hours.is_free())
    }
}
