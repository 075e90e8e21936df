//! The two families of units, the marks a tape is read to, and rounding to them.

use crate::fault::TextFault;
use crate::length::Length;
use crate::text::written_as_text;
use std::fmt;
use std::str::FromStr;

/// The unit that a builder states lengths in: inches (with feet) or millimetres (with centimetres, metres).
///
/// ```
/// use dryfit_measure::Unit;
/// assert_eq!("in".parse(), Ok(Unit::Inch));
/// assert_eq!("px".parse::<Unit>().unwrap_err().to_string(), "expected `in` or `mm`, found `px`; write \"in\"");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Unit {
    /// Inches and fractions down to 1/64.
    #[default]
    Inch,
    /// Millimetres.
    Millimetre,
}

impl Unit {
    /// `in` or `mm`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Unit::Inch => "in",
            Unit::Millimetre => "mm",
        }
    }

    /// One inch or one millimetre.
    pub const fn length(self) -> Length {
        match self {
            Unit::Inch => Length::INCH,
            Unit::Millimetre => Length::MM,
        }
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

impl FromStr for Unit {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Unit, TextFault> {
        match text.trim() {
            "in" => Ok(Unit::Inch),
            "mm" => Ok(Unit::Millimetre),
            other => Err(TextFault::new("`in` or `mm`", other, "in")),
        }
    }
}

written_as_text!(Unit, "Unit", "the unit of lengths: `in` or `mm`", "^(in|mm)$", ["in", "mm"]);

/// The marks that lengths are shown, snapped or read to.
///
/// ```
/// use dryfit_measure::{Fineness, Length};
/// assert_eq!(Fineness::In16.step(), Length::inches(0, 1, 16));
/// assert_eq!("0.5 mm".parse(), Ok(Fineness::HalfMm));
/// assert_eq!(Fineness::In32.to_string(), "1/32 in");
/// assert_eq!(
///     "1/10 in".parse::<Fineness>().unwrap_err().to_string(),
///     "expected 1/16, 1/32 or 1/64 in, 1 or 0.5 mm, found `1/10 in`; write \"1/16 in\""
/// );
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Fineness {
    /// Sixteenths of an inch.
    #[default]
    In16,
    /// Thirty-seconds of an inch.
    In32,
    /// Sixty-fourths of an inch.
    In64,
    /// Whole millimetres.
    Mm1,
    /// Half millimetres.
    HalfMm,
}

impl Fineness {
    /// Every fineness, coarse to fine, inches first.
    pub const ALL: [Fineness; 5] =
        [Fineness::In16, Fineness::In32, Fineness::In64, Fineness::Mm1, Fineness::HalfMm];

    /// From one mark to the next.
    pub const fn step(self) -> Length {
        match self {
            Fineness::In16 => Length::inches(0, 1, 16),
            Fineness::In32 => Length::inches(0, 1, 32),
            Fineness::In64 => Length::inches(0, 1, 64),
            Fineness::Mm1 => Length::MM,
            Fineness::HalfMm => Length::um(500),
        }
    }

    /// The unit that the marks divide.
    pub const fn unit(self) -> Unit {
        match self {
            Fineness::In16 | Fineness::In32 | Fineness::In64 => Unit::Inch,
            Fineness::Mm1 | Fineness::HalfMm => Unit::Millimetre,
        }
    }

    /// The usual fineness for a unit: sixteenths, or whole millimetres.
    pub const fn usual(unit: Unit) -> Fineness {
        match unit {
            Unit::Inch => Fineness::In16,
            Unit::Millimetre => Fineness::Mm1,
        }
    }

    /// `1/16 in`, `0.5 mm`.
    pub const fn text(self) -> &'static str {
        match self {
            Fineness::In16 => "1/16 in",
            Fineness::In32 => "1/32 in",
            Fineness::In64 => "1/64 in",
            Fineness::Mm1 => "1 mm",
            Fineness::HalfMm => "0.5 mm",
        }
    }
}

impl fmt::Display for Fineness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

impl FromStr for Fineness {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Fineness, TextFault> {
        let wanted = text.trim();
        Fineness::ALL
            .into_iter()
            .find(|fineness| fineness.text() == wanted)
            .ok_or_else(|| TextFault::new("1/16, 1/32 or 1/64 in, 1 or 0.5 mm", wanted, "1/16 in"))
    }
}

written_as_text!(
    Fineness,
    "Fineness",
    "the marks that lengths are shown to",
    "^(1/16 in|1/32 in|1/64 in|1 mm|0\\.5 mm)$",
    ["1/16 in", "1/32 in", "1/64 in", "1 mm", "0.5 mm"]
);

/// Which mark a length is brought to, by purpose: what goes into a space goes down, what covers goes up.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum Toward {
    /// The next mark at or below (towards minus infinity).
    Down,
    /// The next mark at or above (towards plus infinity).
    Up,
    /// The nearest mark; halfway goes to the even one.
    Nearest,
}

/// A length brought to a mark, and by how much it moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
pub struct Rounded {
    /// The length at the mark.
    pub length: Length,
    /// Mark less true length: above zero where it was rounded up, zero where it was exact.
    pub off: Length,
}

impl Length {
    /// The length at a mark of `fineness`.
    ///
    /// ```
    /// use dryfit_measure::{Fineness, Length, Toward};
    /// let third = Length::inches(64, 5, 8).div_floor(3); // 21.541.. in
    /// assert_eq!(third.round_to(Fineness::In16, Toward::Down), Length::inches(21, 1, 2));
    /// assert_eq!(third.round_to(Fineness::In16, Toward::Up), Length::inches(21, 9, 16));
    /// assert_eq!(third.round_to(Fineness::In16, Toward::Nearest), Length::inches(21, 9, 16));
    /// // halfway: to the even mark, 2/16 and not 3/16
    /// let halfway = Length::inches(0, 5, 32);
    /// assert_eq!(halfway.round_to(Fineness::In16, Toward::Nearest), Length::inches(0, 1, 8));
    /// ```
    #[must_use]
    pub fn round_to(self, fineness: Fineness, toward: Toward) -> Length {
        let step = fineness.step().nm();
        let (mark, rest) = (self.nm().div_euclid(step), self.nm().rem_euclid(step));
        let up = match toward {
            Toward::Down => false,
            Toward::Up => rest > 0,
            Toward::Nearest => 2 * rest > step || (2 * rest == step && mark % 2 != 0),
        };
        fineness.step() * (mark + i64::from(up))
    }

    /// The length at a mark of `fineness`, with how far it moved.
    ///
    /// ```
    /// use dryfit_measure::{Fineness, Length, Toward};
    /// let r = Length::inches(1, 3, 64).rounded(Fineness::In16, Toward::Down);
    /// assert_eq!((r.length, r.off), (Length::INCH, -Length::inches(0, 3, 64)));
    /// ```
    pub fn rounded(self, fineness: Fineness, toward: Toward) -> Rounded {
        let length = self.round_to(fineness, toward);
        Rounded { length, off: length - self }
    }
}
