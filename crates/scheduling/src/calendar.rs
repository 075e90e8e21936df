//! Working time: windows of ticks in which work goes on.

/// Windows of working time in order, none touching the next.
///
/// ```
/// use dryfit_scheduling::Calendar;
/// let evenings = Calendar::new([[19, 21], [43, 45], [45, 46]]);
/// assert_eq!(evenings.windows(), [[19, 21], [43, 46]]);
/// assert_eq!(evenings.worked_before(44), 3);
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Calendar {
    windows: Vec<[i64; 2]>,
    /// Working ticks before each window, and at the end of all.
    before: Vec<i64>,
}

impl Calendar {
    /// A calendar of these windows (from, until), in any order; empty ones are dropped, touching ones joined.
    pub fn new(windows: impl IntoIterator<Item = [i64; 2]>) -> Calendar {
        let mut sorted: Vec<[i64; 2]> = windows.into_iter().filter(|[from, to]| from < to).collect();
        sorted.sort_unstable();
        let mut windows: Vec<[i64; 2]> = Vec::new();
        for window in sorted {
            match windows.last_mut() {
                Some(last) if window[0] <= last[1] => last[1] = last[1].max(window[1]),
                _ => windows.push(window),
            }
        }
        let mut before = vec![0];
        for [from, to] in &windows {
            before.push(before[before.len() - 1] + to - from);
        }
        Calendar { windows, before }
    }

    /// The windows.
    pub fn windows(&self) -> &[[i64; 2]] {
        &self.windows
    }

    /// The time that both calendars have.
    #[must_use]
    pub fn both(&self, other: &Calendar) -> Calendar {
        let mut common = Vec::new();
        for [from, to] in &self.windows {
            let first = other.windows.partition_point(|window| window[1] <= *from);
            let overlapping = other.windows[first..].iter().take_while(|window| window[0] < *to);
            common.extend(overlapping.map(|window| [window[0].max(*from), window[1].min(*to)]));
        }
        Calendar::new(common)
    }

    /// Ticks of working time before a tick.
    pub fn worked_before(&self, tick: i64) -> i64 {
        let index = self.windows.partition_point(|window| window[1] <= tick);
        let inside = self.windows.get(index).map_or(0, |window| (tick - window[0]).max(0));
        self.before[index] + inside
    }

    /// The first tick at which so much has been worked: the close of a window, not the opening of the next.
    /// `None` after the last window.
    pub(crate) fn when_worked(&self, worked: i64) -> Option<i64> {
        if worked <= 0 {
            return self.windows.first().map(|window| window[0]);
        }
        let index = self.before[1..].partition_point(|before| *before < worked);
        self.windows.get(index).map(|window| window[0] + worked - self.before[index])
    }

    /// The first tick from here on at which work can begin and go on without a break for so long.
    pub(crate) fn opening(&self, from: i64, unbroken: i64) -> Option<i64> {
        let index = self.windows.partition_point(|window| window[1] <= from);
        self.windows[index..]
            .iter()
            .map(|window| (window[0].max(from), window[1]))
            .find(|(start, close)| start + unbroken <= *close)
            .map(|(start, _)| start)
    }

    /// The last tick up to here at which work can begin and go on without a break for so long.
    pub(crate) fn last_opening(&self, until: i64, unbroken: i64) -> Option<i64> {
        let index = self.windows.partition_point(|window| window[0] <= until);
        self.windows[..index]
            .iter()
            .rev()
            .map(|window| (window[0], until.min(window[1] - unbroken)))
            .find(|(open, start)| open <= start)
            .map(|(_, start)| start)
    }

    /// The same windows as seen from `end` backwards.
    pub(crate) fn mirrored(&self, end: i64) -> Calendar {
        Calendar::new(self.windows.iter().map(|[from, to]| [end - to, end - from]))
    }
}

/// When one activity starts and finishes: its duration on its calendar, or on the clock.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Timing<'a> {
    pub duration: i64,
    /// None: the clock.
    pub calendar: Option<&'a Calendar>,
    /// Whether it may go on in the next window.
    pub breaks: bool,
}

impl Timing<'_> {
    /// What of it has to lie in one window.
    fn unbroken(self) -> i64 {
        if self.breaks { 1 } else { self.duration }
    }

    /// The first start that is no earlier.
    pub fn start_from(self, tick: i64) -> Option<i64> {
        self.calendar.map_or(Some(tick), |calendar| {
            let start = calendar.opening(tick, self.unbroken())?;
            self.finish(start).map(|_| start)
        })
    }

    /// The last start that is no later.
    pub fn start_until(self, tick: i64) -> Option<i64> {
        self.calendar.map_or(Some(tick), |calendar| calendar.last_opening(tick, self.unbroken()))
    }

    /// When it is finished if it starts then. `None` when the calendar ends before.
    pub fn finish(self, start: i64) -> Option<i64> {
        match self.calendar {
            Some(calendar) if self.breaks => {
                calendar.when_worked(calendar.worked_before(start) + self.duration)
            }
            _ => Some(start + self.duration),
        }
    }

    /// The first start with which it finishes no earlier.
    pub fn start_to_finish_from(self, tick: i64) -> Option<i64> {
        match self.calendar {
            Some(calendar) if self.breaks => {
                let before = calendar.worked_before(tick - 1) + 1 - self.duration;
                calendar.opening(calendar.when_worked(before)?, 1)
            }
            _ => self.start_from(tick - self.duration),
        }
    }

    /// The last start with which it finishes no later.
    pub fn start_to_finish_by(self, tick: i64) -> Option<i64> {
        match self.calendar {
            Some(calendar) if self.breaks => {
                let before = calendar.worked_before(tick) - self.duration;
                if before < 0 { None } else { calendar.opening(calendar.when_worked(before)?, 1) }
            }
            _ => self.start_until(tick - self.duration),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two hours on two evenings, and a long day.
    fn week() -> Calendar {
        Calendar::new([[19, 21], [43, 45], [57, 65]])
    }

    fn all(timing: Timing<'_>) -> Vec<(i64, i64)> {
        let open = |start: &i64| {
            timing.calendar.is_none_or(|c| c.opening(*start, timing.unbroken()) == Some(*start))
        };
        (0..70).filter(open).filter_map(|start| Some((start, timing.finish(start)?))).collect()
    }

    #[test]
    fn work_goes_on_in_the_next_window_and_ends_at_the_close_of_one() {
        let calendar = week();
        let timing = Timing { duration: 4, calendar: Some(&calendar), breaks: true };
        assert_eq!(timing.finish(19), Some(45));
        assert_eq!(timing.finish(20), Some(58));
        assert_eq!(timing.start_from(21), Some(43));
        assert_eq!(timing.start_from(62), None, "only three are left");
        let whole = Timing { breaks: false, ..timing };
        assert_eq!(whole.start_from(0), Some(57));
        assert_eq!(whole.start_until(70), Some(61));
    }

    #[test]
    fn every_inverse_is_the_extreme_of_what_finish_allows() {
        let calendar = week();
        for duration in 1..=9 {
            for breaks in [true, false] {
                let timing = Timing { duration, calendar: Some(&calendar), breaks };
                let all = all(timing);
                for tick in 0..70 {
                    let first = all.iter().find(|(_, finish)| *finish >= tick).map(|one| one.0);
                    assert_eq!(
                        timing.start_to_finish_from(tick).filter(|s| timing.finish(*s).is_some()),
                        first
                    );
                    let last = all.iter().rev().find(|(_, finish)| *finish <= tick).map(|one| one.0);
                    assert_eq!(timing.start_to_finish_by(tick), last, "{duration} {breaks} {tick}");
                    let from = all.iter().find(|(start, _)| *start >= tick).map(|one| one.0);
                    assert_eq!(timing.start_from(tick), from);
                }
            }
        }
    }

    #[test]
    fn the_common_time_of_two() {
        let common = week().both(&Calendar::new([[20, 44], [60, 61], [64, 90]]));
        assert_eq!(common.windows(), [[20, 21], [43, 44], [60, 61], [64, 65]]);
    }
}
