//! Capacities as they are stamped on boxes.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use dryfit_measure::{Length, Volume};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// What a box holds, in thousandths of the unit it is stamped in: `21 in3`, `344 cm3`.
///
/// ```
/// use dryfit_plan::Capacity;
/// let square: Capacity = "21.0 in3".parse()?;
/// assert_eq!(square.to_string(), "21 in3");
/// assert!((square.volume().as_litres_f64() - 0.344_128).abs() < 1e-6);
/// assert_eq!(
///     "21".parse::<Capacity>().unwrap_err(),
///     "expected a capacity with its unit, found `21`; write \"21 in3\""
/// );
/// # Ok::<(), String>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Capacity {
    thousandths: u32,
    unit: CapacityUnit,
}

/// The units that capacities are stamped in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CapacityUnit {
    CubicInch,
    CubicCentimetre,
}

impl CapacityUnit {
    fn symbol(self) -> &'static str {
        match self {
            CapacityUnit::CubicInch => "in3",
            CapacityUnit::CubicCentimetre => "cm3",
        }
    }

    fn side(self) -> Length {
        match self {
            CapacityUnit::CubicInch => Length::INCH,
            CapacityUnit::CubicCentimetre => Length::mm(10),
        }
    }
}

impl Capacity {
    /// So many thousandths of a cubic inch.
    pub const fn cubic_inches(thousandths: u32) -> Capacity {
        Capacity { thousandths, unit: CapacityUnit::CubicInch }
    }

    /// So many thousandths of a cubic centimetre.
    pub const fn cubic_centimetres(thousandths: u32) -> Capacity {
        Capacity { thousandths, unit: CapacityUnit::CubicCentimetre }
    }

    /// The volume, exact to a thousandth of its unit.
    pub fn volume(self) -> Volume {
        let side = self.unit.side();
        let whole = side * side * side;
        Volume::from_nm3(whole.nm3() * i128::from(self.thousandths) / 1_000)
    }
}

impl fmt::Display for Capacity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, rest) = (self.thousandths / 1_000, self.thousandths % 1_000);
        write!(f, "{whole}")?;
        if rest > 0 {
            write!(f, ".{}", format!("{rest:03}").trim_end_matches('0'))?;
        }
        write!(f, " {}", self.unit.symbol())
    }
}

impl FromStr for Capacity {
    type Err = String;

    fn from_str(text: &str) -> Result<Capacity, String> {
        read(text.trim()).ok_or_else(|| {
            let found = if text.is_empty() {
                "nothing".to_owned()
            } else {
                format!("`{}`", crate::dom::shortened(text))
            };
            format!("expected a capacity with its unit, found {found}; write \"21 in3\"")
        })
    }
}

fn read(text: &str) -> Option<Capacity> {
    let (number, unit) = text.split_once(' ')?;
    let unit = match unit.trim() {
        "in3" => CapacityUnit::CubicInch,
        "cm3" => CapacityUnit::CubicCentimetre,
        _ => return None,
    };
    let (whole, decimals) = number.split_once('.').unwrap_or((number, ""));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(decimals) || decimals.len() > 3 || number.ends_with('.')
    {
        return None;
    }
    let whole = whole.parse::<u32>().ok()?.checked_mul(1_000)?;
    let rest = format!("{decimals:0<3}").parse::<u32>().ok()?;
    Some(Capacity { thousandths: whole.checked_add(rest)?, unit })
}

impl Serialize for Capacity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Capacity {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Capacity, D::Error> {
        struct Text;
        impl de::Visitor<'_> for Text {
            type Value = Capacity;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a capacity in quotes")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Capacity, E> {
                text.parse().map_err(E::custom)
            }
        }
        deserializer.deserialize_str(Text)
    }
}

impl JsonSchema for Capacity {
    fn schema_name() -> Cow<'static, str> {
        "Capacity".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "what a box holds, with its unit",
            "pattern": "^[0-9]+(\\.[0-9]{1,3})? (in3|cm3)$",
            "examples": ["21 in3", "344 cm3"],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_it_writes_and_refuses_the_rest() {
        for text in ["21 in3", "15.5 in3", "0.125 in3", "344 cm3", "0 in3"] {
            assert_eq!(text.parse::<Capacity>().expect("a capacity").to_string(), text);
        }
        for text in ["", "in3", "-1 in3", "1e3 in3", "21in3", "21 in", "5000000 in3", "1.2345 in3", "1. in3"]
        {
            assert!(text.parse::<Capacity>().is_err(), "{text}");
        }
    }
}
