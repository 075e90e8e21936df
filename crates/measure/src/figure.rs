//! A length as the page and the packet are sent it: whole number and fraction apart.

use crate::length::Length;
use crate::stated::Stated;
use crate::unit::{Fineness, Toward, Unit};
use std::fmt;

/// Which way the printed figure lies from the true length.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Default,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum Rounding {
    /// It is the true length.
    #[default]
    Exact,
    /// The figure is more than the true length.
    Up,
    /// The figure is less than the true length.
    Down,
}

/// A length at a mark of the tape, with its parts apart so that whoever sets it in type formats nothing.
///
/// ```
/// use dryfit_measure::{Fineness, Length, Rounding, Toward};
/// let figure = Length::inches(22, 37, 64).figure(Fineness::In16, Toward::Down);
/// assert_eq!(figure.to_string(), "22 9/16 in");
/// assert_eq!(figure.bare().to_string(), "22 9/16");
/// assert_eq!((figure.whole, figure.numerator, figure.denominator), (Some(22), 9, 16));
/// assert_eq!(figure.off, Rounding::Down);
/// assert_eq!(Length::um(571_500).figure(Fineness::HalfMm, Toward::Nearest).to_string(), "571.5 mm");
/// ```
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize, schemars::JsonSchema,
)]
pub struct Figure {
    /// Below zero; never so for a figure of zero.
    pub negative: bool,
    /// Whole feet where the figure is in feet and inches, else nothing.
    pub feet: Option<i64>,
    /// Whole inches or millimetres without the sign; nothing where only a fraction is printed (`3/4`).
    pub whole: Option<i64>,
    /// The numerator of the fraction in lowest terms, 0 if there is none.
    pub numerator: u32,
    /// The denominator of the fraction in lowest terms, 1 if there is none.
    pub denominator: u32,
    /// The digit after the decimal point, 0 if none is printed.
    pub tenths: u32,
    /// The unit.
    pub unit: Unit,
    /// Which way the figure was rounded.
    pub off: Rounding,
}

impl Length {
    /// The figure to print for this length at `fineness`.
    pub fn figure(self, fineness: Fineness, toward: Toward) -> Figure {
        let rounded = self.rounded(fineness, toward);
        let off = match rounded.off.nm() {
            0 => Rounding::Exact,
            up if up > 0 => Rounding::Up,
            _ => Rounding::Down,
        };
        let unit = fineness.unit();
        let (size, one) = (rounded.length.nm().saturating_abs(), unit.length().nm());
        let (whole, steps) = (size / one, size % one / fineness.step().nm());
        let (numerator, denominator) = match unit {
            Unit::Inch => lowest_terms(steps, one / fineness.step().nm()),
            Unit::Millimetre => (0, 1),
        };
        let tenths = if unit == Unit::Millimetre && steps > 0 { 5 } else { 0 };
        Figure {
            negative: rounded.length.is_negative(),
            feet: None,
            whole: (whole > 0 || numerator == 0).then_some(whole),
            numerator,
            denominator,
            tenths,
            unit,
            off,
        }
    }
}

/// A fraction below one, of parts that are a power of two and at most 64, in lowest terms.
fn lowest_terms(steps: i64, parts: i64) -> (u32, u32) {
    let common = steps.trailing_zeros().min(parts.trailing_zeros());
    let small = |n: i64| u32::try_from(n >> common).unwrap_or(0);
    (small(steps), small(parts))
}

impl Stated {
    /// The figure to print for this length, to the usual marks of its own unit or to `fineness`.
    pub fn figure(self, fineness: Option<Fineness>, toward: Toward) -> Figure {
        self.length.figure(fineness.unwrap_or_else(|| Fineness::usual(self.unit)), toward)
    }
}

impl Figure {
    /// The same figure, printed without its unit.
    pub const fn bare(self) -> Bare {
        Bare(self)
    }

    /// The same figure in feet and inches; in millimetres, or under a foot, as it was.
    ///
    /// ```
    /// use dryfit_measure::{Fineness, Length, Toward};
    /// let figure = Length::inches(64, 1, 2).figure(Fineness::In16, Toward::Nearest).in_feet();
    /// assert_eq!(figure.to_string(), "5 ft 4 1/2 in");
    /// assert_eq!(figure.bare().to_string(), "5' 4 1/2\"");
    /// ```
    #[must_use]
    pub fn in_feet(self) -> Figure {
        match (self.unit, self.feet, self.whole) {
            (Unit::Inch, None, Some(whole)) if whole >= 12 => {
                Figure { feet: Some(whole / 12), whole: Some(whole % 12), ..self }
            }
            _ => self,
        }
    }

    /// The length that is printed.
    pub fn length(self) -> Length {
        let one = self.unit.length();
        let whole = one * self.whole.unwrap_or(0) + Length::FOOT * self.feet.unwrap_or(0);
        let fraction = one.nm() * i64::from(self.numerator) / i64::from(self.denominator.max(1));
        let size = whole + Length::from_nm(fraction + one.nm() / 10 * i64::from(self.tenths));
        if self.negative { -size } else { size }
    }

    fn write(self, f: &mut fmt::Formatter<'_>, foot: &str, unit: &str) -> fmt::Result {
        f.write_str(if self.negative { "-" } else { "" })?;
        self.feet.iter().try_for_each(|feet| write!(f, "{feet}{foot} "))?;
        match (self.whole, self.numerator) {
            (whole, 0) => write!(f, "{}", whole.unwrap_or(0))?,
            (Some(whole), n) => write!(f, "{whole} {n}/{}", self.denominator)?,
            (None, n) => write!(f, "{n}/{}", self.denominator)?,
        }
        if self.tenths > 0 {
            write!(f, ".{}", self.tenths)?;
        }
        f.write_str(unit)
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(f, " ft", if self.unit == Unit::Inch { " in" } else { " mm" })
    }
}

/// A [`Figure`] that prints without its unit: `22 9/16`. Feet and inches keep their marks: `5' 4 1/2"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bare(Figure);

impl fmt::Display for Bare {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.write(f, "'", if self.0.feet.is_some() { "\"" } else { "" })
    }
}
