//! Areas and volumes as whole numbers of nanometres squared and cubed.

use crate::length::Length;
use std::fmt;
use std::iter::Sum;
use std::num::ParseIntError;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};
use std::str::FromStr;

/// An area in square nanometres, exact: the product of two [`Length`]s.
///
/// In serde it is that whole number as text, since few formats hold 128 bits.
///
/// ```
/// use dryfit_measure::Length;
/// let sheet = Length::inches(48, 0, 1) * Length::inches(96, 0, 1);
/// assert!((sheet.as_square_feet_f64() - 32.0).abs() < 1e-12);
/// assert!((sheet.as_square_metres_f64() - 2.972_897_28).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Area(i128);

/// A volume in cubic nanometres, exact: an [`Area`] by a [`Length`].
///
/// In serde it is that whole number as text, since few formats hold 128 bits.
///
/// ```
/// use dryfit_measure::Length;
/// let foot = Length::FOOT * Length::FOOT * Length::FOOT;
/// assert!((foot.as_cubic_metres_f64() - 0.028_316_846_592).abs() < 1e-15);
/// assert!((foot.as_cubic_feet_f64() - 1.0).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Volume(i128);

impl Area {
    /// No area.
    pub const ZERO: Area = Area(0);

    /// So many square nanometres.
    pub const fn from_nm2(nm2: i128) -> Area {
        Area(nm2)
    }

    /// The area in square nanometres.
    pub const fn nm2(self) -> i128 {
        self.0
    }

    /// The area in square feet.
    pub fn as_square_feet_f64(self) -> f64 {
        self.0 as f64 / (304.8e6 * 304.8e6)
    }

    /// The area in square inches.
    pub fn as_square_inches_f64(self) -> f64 {
        self.0 as f64 / (25.4e6 * 25.4e6)
    }

    /// The area in square metres.
    pub fn as_square_metres_f64(self) -> f64 {
        self.0 as f64 / 1e18
    }

    /// The nearest square nanometre to so many square metres; not-a-number gives zero.
    pub fn from_square_metres_f64(m2: f64) -> Area {
        Area((m2 * 1e18).round() as i128)
    }

    /// The area without its sign.
    #[must_use]
    pub const fn abs(self) -> Area {
        Area(self.0.saturating_abs())
    }

    /// The length that with `side` makes this area, to the next nanometre down; zero if `side` is zero.
    pub fn over(self, side: Length) -> Length {
        if side.is_zero() {
            return Length::ZERO;
        }
        Length::from_nm(crate::length::clamp(self.0.div_euclid(i128::from(side.nm()))))
    }
}

impl Volume {
    /// No volume.
    pub const ZERO: Volume = Volume(0);

    /// So many cubic nanometres.
    pub const fn from_nm3(nm3: i128) -> Volume {
        Volume(nm3)
    }

    /// The volume in cubic nanometres.
    pub const fn nm3(self) -> i128 {
        self.0
    }

    /// The volume in cubic feet.
    pub fn as_cubic_feet_f64(self) -> f64 {
        self.0 as f64 / (304.8e6 * 304.8e6 * 304.8e6)
    }

    /// The volume in cubic metres.
    pub fn as_cubic_metres_f64(self) -> f64 {
        self.0 as f64 / 1e27
    }

    /// The volume in litres.
    pub fn as_litres_f64(self) -> f64 {
        self.0 as f64 / 1e24
    }

    /// The nearest cubic nanometre to so many cubic metres; not-a-number gives zero.
    pub fn from_cubic_metres_f64(m3: f64) -> Volume {
        Volume((m3 * 1e27).round() as i128)
    }
}

impl Mul<Length> for Area {
    type Output = Volume;
    fn mul(self, length: Length) -> Volume {
        Volume(self.0.saturating_mul(i128::from(length.nm())))
    }
}

impl fmt::Debug for Area {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} m2", self.as_square_metres_f64())
    }
}

impl fmt::Debug for Volume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} m3", self.as_cubic_metres_f64())
    }
}

macro_rules! whole_number_arithmetic {
    ($type:ident, $name:literal, $about:literal) => {
        impl Add for $type {
            type Output = $type;
            fn add(self, other: $type) -> $type {
                $type(self.0.saturating_add(other.0))
            }
        }

        impl Sub for $type {
            type Output = $type;
            fn sub(self, other: $type) -> $type {
                $type(self.0.saturating_sub(other.0))
            }
        }

        impl Neg for $type {
            type Output = $type;
            fn neg(self) -> $type {
                $type(self.0.saturating_neg())
            }
        }

        impl AddAssign for $type {
            fn add_assign(&mut self, other: $type) {
                *self = *self + other;
            }
        }

        impl SubAssign for $type {
            fn sub_assign(&mut self, other: $type) {
                *self = *self - other;
            }
        }

        impl Mul<i64> for $type {
            type Output = $type;
            fn mul(self, times: i64) -> $type {
                $type(self.0.saturating_mul(i128::from(times)))
            }
        }

        impl Sum for $type {
            fn sum<I: Iterator<Item = $type>>(all: I) -> $type {
                all.fold($type(0), Add::add)
            }
        }

        impl fmt::Display for $type {
            /// The bare whole number, as serde writes it.
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }

        impl FromStr for $type {
            type Err = ParseIntError;
            fn from_str(text: &str) -> Result<$type, ParseIntError> {
                text.parse().map($type)
            }
        }

        crate::text::written_as_text!($type, $name, $about, "^-?[0-9]+$", ["1858060800000000"]);
    };
}

whole_number_arithmetic!(Area, "Area", "an area in whole square nanometres, as text");
whole_number_arithmetic!(Volume, "Volume", "a volume in whole cubic nanometres, as text");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn area_over_a_side_is_the_other_side() {
        let (a, b) = (Length::inches(23, 3, 16), Length::mm(590));
        assert_eq!((a * b).over(b), a);
        assert_eq!((a * b).over(Length::ZERO), Length::ZERO);
    }

    #[test]
    fn serde_is_text_of_the_whole_number() {
        let sheet = Length::feet(4) * Length::feet(8);
        let json = serde_json::to_string(&sheet).expect("serialises");
        assert_eq!(json, "\"2972897280000000000\"");
        assert_eq!(serde_json::from_str::<Area>(&json).expect("reads back"), sheet);
        assert!(serde_json::from_str::<Area>("\"12 ft\"").is_err());
    }
}
