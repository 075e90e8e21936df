//! A length as it stands in a plan: exact, with the unit it was stated in.

use crate::fault::LengthFault;
use crate::length::Length;
use crate::read::read_stated;
use crate::text::described_as_text;
use crate::unit::Unit;
use std::fmt;
use std::str::FromStr;

/// A length as a plan file holds it: the exact length and the unit that it was stated in.
///
/// The text form always names the unit and loses nothing: `23 3/16 in`, `590 mm`, `0.794 mm`, `-1/2 in`. It is
/// the serde form too. Inches are written in fractions down to 1/64, else in decimals; a length that inches
/// cannot write exactly (a nanometre is not a finite decimal of an inch) is written in millimetres.
///
/// ```
/// use dryfit_measure::{Length, Stated, Unit};
/// let stated: Stated = "23 3/16 in".parse()?;
/// assert_eq!(stated, Stated { length: Length::inches(23, 3, 16), unit: Unit::Inch });
/// assert_eq!(stated.to_string(), "23 3/16 in");
/// assert_eq!("59 cm".parse::<Stated>()?.to_string(), "590 mm");
/// assert_eq!("0.1 in".parse::<Stated>()?.to_string(), "0.1 in");
/// assert_eq!(
///     "24".parse::<Stated>().unwrap_err().to_string(),
///     "`24` has no unit; write \"24 in\" or \"24 mm\""
/// );
/// # Ok::<(), dryfit_measure::LengthFault>(())
/// ```
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Stated {
    /// The length, exact.
    pub length: Length,
    /// The unit that it was stated in.
    pub unit: Unit,
}

impl Stated {
    /// A length with the unit it is stated in.
    pub const fn new(length: Length, unit: Unit) -> Stated {
        Stated { length, unit }
    }

    /// A length stated in inches.
    pub const fn inches(length: Length) -> Stated {
        Stated { length, unit: Unit::Inch }
    }

    /// A length stated in millimetres.
    pub const fn millimetres(length: Length) -> Stated {
        Stated { length, unit: Unit::Millimetre }
    }
}

/// Nanometres of which every decimal of an inch is a multiple: 25 400 000 = 2^6 x 5^5 x 127.
const INCH_DECIMAL: i64 = 127;

impl fmt::Display for Stated {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let nm = self.length.nm();
        match self.unit {
            Unit::Inch if nm % Length::sixty_fourths(1).nm() == 0 => write_sixty_fourths(f, self.length),
            Unit::Inch if nm % INCH_DECIMAL == 0 => {
                // six decimals are enough: 10^6 / (2^6 x 5^5) is whole
                write_decimal(f, nm / INCH_DECIMAL * 5, 6)?;
                f.write_str(" in")
            }
            _ => write_millimetres(f, self.length),
        }
    }
}

impl fmt::Debug for Stated {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// `23 3/16 in`: a whole number of sixty-fourths in lowest terms.
fn write_sixty_fourths(f: &mut fmt::Formatter<'_>, length: Length) -> fmt::Result {
    let sign = if length.is_negative() { "-" } else { "" };
    let parts = length.nm().unsigned_abs() / Length::sixty_fourths(1).nm().unsigned_abs();
    let (whole, rest) = (parts / 64, parts % 64);
    let common = 1 << rest.trailing_zeros().min(6);
    match (whole, rest) {
        (whole, 0) => write!(f, "{sign}{whole} in"),
        (0, rest) => write!(f, "{sign}{}/{} in", rest / common, 64 / common),
        (whole, rest) => write!(f, "{sign}{whole} {}/{} in", rest / common, 64 / common),
    }
}

/// `0.794 mm`: exact.
pub(crate) fn write_millimetres(f: &mut fmt::Formatter<'_>, length: Length) -> fmt::Result {
    write_decimal(f, length.nm(), 6)?;
    f.write_str(" mm")
}

/// `units / 10^places` without trailing zeros.
fn write_decimal(f: &mut fmt::Formatter<'_>, units: i64, places: u32) -> fmt::Result {
    let scale = 10_u64.pow(places);
    let (whole, rest) = (units.unsigned_abs() / scale, units.unsigned_abs() % scale);
    let sign = if units < 0 { "-" } else { "" };
    write!(f, "{sign}{whole}")?;
    if rest > 0 {
        let decimals = format!("{rest:0width$}", width = places as usize);
        write!(f, ".{}", decimals.trim_end_matches('0'))?;
    }
    Ok(())
}

impl FromStr for Stated {
    type Err = LengthFault;
    fn from_str(text: &str) -> Result<Stated, LengthFault> {
        read_stated(text, None)
    }
}

impl serde::Serialize for Stated {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Stated {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Stated, D::Error> {
        deserializer.deserialize_any(LengthText)
    }
}

/// Reads the text, and says what is missing where a bare number stands.
struct LengthText;

impl serde::de::Visitor<'_> for LengthText {
    type Value = Stated;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a length with its unit, such as \"23 3/16 in\" or \"590 mm\"")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Stated, E> {
        text.parse().map_err(E::custom)
    }

    fn visit_i64<E: serde::de::Error>(self, number: i64) -> Result<Stated, E> {
        self.visit_str(&number.to_string())
    }

    fn visit_u64<E: serde::de::Error>(self, number: u64) -> Result<Stated, E> {
        self.visit_str(&number.to_string())
    }

    fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Stated, E> {
        self.visit_str(&number.to_string())
    }
}

described_as_text!(
    Stated,
    "Stated",
    "a length with its unit",
    "^\\s*[-\u{2212}]?\\s*[0-9.\u{bc}-\u{be}\u{215b}-\u{215e}].*([iI][nN]|[fF][eEoO]*[tT]|[mM]|['\"\u{2019}\u{201d}\u{2032}\u{2033}])",
    ["23 3/16 in", "590 mm", "5 ft 4 1/2 in", "-1/2 in"]
);
