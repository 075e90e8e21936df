//! Calendar days.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use jiff::civil::Date;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A day of the calendar, as ISO 8601 writes it: `2026-03-01`.
///
/// ```
/// use dryfit_plan::Day;
/// let asked: Day = "2026-03-02".parse()?;
/// assert!(asked < "2026-10-01".parse()?);
/// assert_eq!(asked.to_string(), "2026-03-02");
/// assert_eq!(
///     "2026-02-30".parse::<Day>().unwrap_err(),
///     "expected a day as year, month and day, found `2026-02-30`; write \"2026-03-01\""
/// );
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(Date);

impl Day {
    /// The day as a date of the calendar.
    pub fn date(self) -> Date {
        self.0
    }
}

impl From<Date> for Day {
    fn from(date: Date) -> Day {
        Day(date)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

impl FromStr for Day {
    type Err = String;

    fn from_str(text: &str) -> Result<Day, String> {
        let date = text.trim().parse::<Date>().ok();
        // only the one way of writing it, of the several that ISO 8601 has
        date.filter(|date| date.to_string() == text.trim()).map(Day).ok_or_else(|| {
            let found = if text.is_empty() {
                "nothing".to_owned()
            } else {
                format!("`{}`", crate::dom::shortened(text))
            };
            format!("expected a day as year, month and day, found {found}; write \"2026-03-01\"")
        })
    }
}

impl Serialize for Day {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Day, D::Error> {
        struct Text;
        impl de::Visitor<'_> for Text {
            type Value = Day;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a day in quotes")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Day, E> {
                text.parse().map_err(E::custom)
            }
        }
        deserializer.deserialize_str(Text)
    }
}

impl JsonSchema for Day {
    fn schema_name() -> Cow<'static, str> {
        "Day".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "a day of the calendar (ISO 8601)",
            "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
            "examples": ["2026-03-01"],
        })
    }
}
