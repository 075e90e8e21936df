//! Times of day and how long things last, as a builder writes them.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

const DAY: u32 = 24 * 60;

/// A time of day in whole minutes: `16:30`.
///
/// ```
/// use dryfit_plan::OnClock;
/// let time: OnClock = "16:30".parse()?;
/// assert_eq!(time.minutes(), 990);
/// assert_eq!("25:00".parse::<OnClock>().unwrap_err(), "expected a time of day, found `25:00`; write \"16:30\"");
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct OnClock(u32);

impl OnClock {
    /// Minutes after midnight, 1440 at the most.
    pub fn minutes(self) -> u32 {
        self.0
    }
}

impl fmt::Display for OnClock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.0 / 60, self.0 % 60)
    }
}

impl FromStr for OnClock {
    type Err = String;

    fn from_str(text: &str) -> Result<OnClock, String> {
        let digits = |part: &str| {
            let sound = (1..=2).contains(&part.len()) && part.chars().all(|c| c.is_ascii_digit());
            if sound { part.parse::<u32>().ok() } else { None }
        };
        let read = text.trim().split_once(':').and_then(|(hours, minutes)| {
            let (hours, minutes) = (digits(hours)?, digits(minutes).filter(|_| minutes.len() == 2)?);
            (minutes < 60 && hours * 60 + minutes <= DAY).then_some(OnClock(hours * 60 + minutes))
        });
        read.ok_or_else(|| format!("expected a time of day, found {}; write \"16:30\"", found(text)))
    }
}

/// From one time of day to a later one: `09:00-12:30`.
///
/// ```
/// use dryfit_plan::WorkingHours;
/// let hours: WorkingHours = "9:00-12:30".parse()?;
/// assert_eq!(hours.to_string(), "09:00-12:30");
/// assert_eq!(
///     "17:00-9:00".parse::<WorkingHours>().unwrap_err(),
///     "expected hours of a day, found `17:00-9:00`; write \"09:00-17:00\""
/// );
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WorkingHours {
    from: OnClock,
    until: OnClock,
}

impl WorkingHours {
    /// When they begin.
    pub fn from(self) -> OnClock {
        self.from
    }

    /// When they end, later than they begin.
    pub fn until(self) -> OnClock {
        self.until
    }
}

impl fmt::Display for WorkingHours {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.from, self.until)
    }
}

impl FromStr for WorkingHours {
    type Err = String;

    fn from_str(text: &str) -> Result<WorkingHours, String> {
        let read = text.split_once('-').and_then(|(from, until)| {
            let (from, until) = (from.parse().ok()?, until.parse().ok()?);
            (from < until).then_some(WorkingHours { from, until })
        });
        read.ok_or_else(|| format!("expected hours of a day, found {}; write \"09:00-17:00\"", found(text)))
    }
}

/// How long something lasts, in whole minutes: `45 min`, `3 h 30 min`, `2 days`.
///
/// ```
/// use dryfit_plan::Lasting;
/// let time: Lasting = "3.5 h".parse()?;
/// assert_eq!(time.to_string(), "3 h 30 min");
/// assert_eq!("2 days".parse::<Lasting>()?.minutes(), 2880);
/// assert_eq!(
///     "long".parse::<Lasting>().unwrap_err(),
///     "expected how long it takes, found `long`; write \"3 h 30 min\""
/// );
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Lasting(u32);

/// Ten years: nothing in a room lasts longer.
const LONGEST: u32 = 10 * 366 * DAY;

impl Lasting {
    /// So many minutes, ten years at the most.
    pub fn of_minutes(minutes: u32) -> Lasting {
        Lasting(minutes.min(LONGEST))
    }

    /// In minutes.
    pub fn minutes(self) -> u32 {
        self.0
    }
}

impl fmt::Display for Lasting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (days, hours, minutes) = (self.0 / DAY, self.0 / 60, self.0 % 60);
        match (hours, minutes) {
            _ if days > 1 && self.0.is_multiple_of(DAY) => write!(f, "{days} days"),
            (0, minutes) => write!(f, "{minutes} min"),
            (hours, 0) => write!(f, "{hours} h"),
            (hours, minutes) => write!(f, "{hours} h {minutes} min"),
        }
    }
}

impl FromStr for Lasting {
    type Err = String;

    fn from_str(text: &str) -> Result<Lasting, String> {
        let fault = || format!("expected how long it takes, found {}; write \"3 h 30 min\"", found(text));
        let mut rest = text.trim();
        let mut total: u64 = 0;
        if rest.is_empty() {
            return Err(fault());
        }
        while !rest.is_empty() {
            let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').ok_or_else(fault)?;
            let thousandths = thousandths(&rest[..end]).ok_or_else(fault)?;
            rest = rest[end..].trim_start();
            let end = rest.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(rest.len());
            let unit: u64 = match &rest[..end] {
                "min" => 1,
                "h" => 60,
                "day" | "days" => u64::from(DAY),
                _ => return Err(fault()),
            };
            total += thousandths * unit;
            rest = rest[end..].trim_start();
        }
        // to the nearest minute
        let minutes = (total + 500) / 1000;
        u32::try_from(minutes).ok().filter(|minutes| *minutes <= LONGEST).map(Lasting).ok_or_else(fault)
    }
}

/// A decimal number in thousandths, of at most six digits before and three after the point.
fn thousandths(text: &str) -> Option<u64> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = |text: &str, most: usize| text.len() <= most && text.chars().all(|c| c.is_ascii_digit());
    if whole.is_empty() || !digits(whole, 6) || !digits(part, 3) {
        return None;
    }
    format!("{whole}{part:0<3}").parse().ok()
}

fn found(text: &str) -> String {
    if text.is_empty() { "nothing".to_owned() } else { format!("`{}`", crate::dom::shortened(text)) }
}

/// Texts in quotes that are read by `FromStr` and written by `Display`.
macro_rules! as_text {
    ($type:ty, $name:literal, $what:literal, $pattern:literal, $example:literal) => {
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<$type, D::Error> {
                struct Text;
                impl de::Visitor<'_> for Text {
                    type Value = $type;
                    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                        f.write_str(concat!($what, " in quotes"))
                    }
                    fn visit_str<E: de::Error>(self, text: &str) -> Result<$type, E> {
                        text.parse().map_err(E::custom)
                    }
                }
                deserializer.deserialize_str(Text)
            }
        }

        impl JsonSchema for $type {
            fn schema_name() -> Cow<'static, str> {
                $name.into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({
                    "type": "string",
                    "description": $what,
                    "pattern": $pattern,
                    "examples": [$example],
                })
            }
        }
    };
}

as_text!(OnClock, "OnClock", "a time of day", "^[0-9]{1,2}:[0-9]{2}$", "16:30");
as_text!(
    WorkingHours,
    "WorkingHours",
    "hours of a day",
    "^[0-9]{1,2}:[0-9]{2}-[0-9]{1,2}:[0-9]{2}$",
    "09:00-17:00"
);
as_text!(Lasting, "Lasting", "how long it takes", "^([0-9.]+ ?(min|h|days?) ?)+$", "3 h 30 min");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back() {
        for minutes in [0, 1, 59, 60, 90, 1440, 1500, 2880, 2881, 10_080] {
            let time = Lasting(minutes);
            assert_eq!(time.to_string().parse::<Lasting>(), Ok(time), "{time}");
        }
    }

    #[test]
    fn how_long_reads_as_builders_write_it() {
        for (text, minutes) in [
            ("90 min", 90),
            ("1.5 h", 90),
            ("1h30min", 90),
            ("1 day", 1440),
            ("1 day 2 h", 1560),
            ("0.25 h", 15),
        ] {
            assert_eq!(text.parse::<Lasting>().map(Lasting::minutes), Ok(minutes), "{text}");
        }
        for text in
            ["", "3", "h", "3 weeks", "1..5 h", ".5 h", "-1 h", "9999999 h", "999999 days", "1 h,", "1.5.5 h"]
        {
            assert!(text.parse::<Lasting>().is_err(), "{text}");
        }
    }

    #[test]
    fn hours_end_after_they_begin_and_may_end_at_midnight() {
        assert!("22:00-24:00".parse::<WorkingHours>().is_ok());
        for text in
            ["", "9-17", "09:00", "9:00-9:00", "24:01-24:02", "9:0-10:00", "09:00 to 10:00", "009:00-10:00"]
        {
            assert!(text.parse::<WorkingHours>().is_err(), "{text}");
        }
    }
}
