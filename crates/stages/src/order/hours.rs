//! Days and hours as ticks: minutes from the midnight before the first day.

use dryfit_plan::{Day, Plan, Week, Work};
use dryfit_scheduling::Calendar;
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// Minutes of a day.
pub(super) const DAY: i64 = 24 * 60;

/// How many days ahead the calendars reach.
const AHEAD: i64 = 1_500;

/// The working hours of a plan.
pub(super) struct Hours {
    /// The first day.
    pub origin: Date,
    builder: Calendar,
    helped: Calendar,
}

impl Hours {
    pub fn of(plan: &Plan) -> Hours {
        let calendar = &plan.calendar;
        // any Monday, where no day is stated
        let origin = calendar.start.map_or(Date::constant(2001, 1, 1), Day::date);
        let usual = usual();
        let week = if calendar.hours.is_free() { &usual } else { &calendar.hours };
        let builder = windows(origin, week, &calendar.off);
        let helped = if plan.shop.helper == Some(true) {
            builder.clone()
        } else {
            let helpers = calendar.helpers.values();
            let all = helpers.flat_map(|one| windows(origin, &one.hours, &one.off).windows().to_vec());
            Calendar::new(all).both(&builder)
        };
        Hours { origin, builder, helped }
    }

    /// The builder's, and that of both.
    pub fn calendars(&self) -> Vec<Calendar> {
        vec![self.builder.clone(), self.helped.clone()]
    }

    /// The longest stretch without a break.
    pub fn longest(&self, calendar: usize) -> i64 {
        let calendar = if calendar == 0 { &self.builder } else { &self.helped };
        calendar.windows().iter().map(|[from, to]| to - from).max().unwrap_or(0)
    }

    pub fn midnight(&self, day: Day) -> i64 {
        tick(self.origin, day.date())
    }

    /// When a task was finished: at the time that is stated, else at the end of its day's hours.
    pub fn done(&self, work: &Work) -> i64 {
        let midnight = self.midnight(work.done);
        let within = |window: &&[i64; 2]| window[0] >= midnight && window[1] <= midnight + DAY;
        let close = self.builder.windows().iter().filter(within).map(|window| window[1]).max();
        match work.at {
            Some(at) => midnight + i64::from(at.minutes()),
            None => close.unwrap_or(midnight + 12 * 60),
        }
    }
}

/// Where no hours are stated: two evenings, and the days of the weekend.
fn usual() -> Week {
    let hours = |text: &str| text.parse().into_iter().collect();
    Week {
        tuesday: hours("19:00-21:30"),
        thursday: hours("19:00-21:30"),
        saturday: hours("09:00-17:00"),
        sunday: hours("10:00-16:00"),
        ..Week::default()
    }
}

fn windows(origin: Date, week: &Week, off: &[Day]) -> Calendar {
    let first = usize::from(origin.weekday().to_monday_zero_offset().unsigned_abs());
    let days = week.days();
    let off: Vec<i64> = off.iter().map(|day| tick(origin, day.date())).collect();
    Calendar::new((0..AHEAD).zip((0..7).cycle().skip(first)).flat_map(|(day, weekday)| {
        let midnight = day * DAY;
        let free = off.contains(&midnight);
        days[weekday].iter().filter(move |_| !free).map(move |hours| {
            [midnight + i64::from(hours.from().minutes()), midnight + i64::from(hours.until().minutes())]
        })
    }))
}

/// The day of a tick.
pub(super) fn date(origin: Date, tick: i64) -> Date {
    origin.saturating_add(tick.div_euclid(DAY).days())
}

/// The tick at which a day begins.
pub(super) fn tick(origin: Date, day: Date) -> i64 {
    i64::from((day - origin).get_days()) * DAY
}

/// So many working days, Monday to Friday, after a day; before it when there are less than none.
pub(super) fn working_days(from: Date, count: i32) -> Date {
    let (mut day, mut left) = (from, count.abs());
    while left > 0 {
        day = day.saturating_add(i64::from(count.signum()).days());
        if !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) {
            left -= 1;
        }
    }
    day
}
