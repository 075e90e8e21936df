//! Mass and density, and both as they stand in a plan.

use crate::area::Volume;
use crate::fault::TextFault;
use crate::length::{clamp, nearest_quotient};
use crate::money::plain_decimal;
use crate::text::written_as_text;
use crate::unit::Unit;
use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};
use std::str::FromStr;

/// A mass in whole milligrams.
///
/// ```
/// use dryfit_measure::{Density, Length, Mass, Unit};
/// // a 4 x 8 ft sheet, 3/4 in thick, of 45 lb/ft3 weighs 90 lb
/// let sheet = Length::feet(4) * Length::feet(8) * Length::inches(0, 3, 4);
/// let mass = sheet * Density::from_pounds_per_cubic_foot(45.0);
/// assert_eq!(mass.figure(Unit::Inch), "90 lb");
/// assert_eq!(mass.figure(Unit::Millimetre), "40.8 kg");
/// assert_eq!(Mass::from_pounds(37.5).figure(Unit::Inch), "37 1/2 lb");
/// ```
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, serde::Serialize, serde::Deserialize,
)]
#[serde(transparent)]
pub struct Mass(i64);

/// A density in whole grams per cubic metre.
///
/// ```
/// use dryfit_measure::Density;
/// let ply = Density::from_kilograms_per_cubic_metre(640.0);
/// assert_eq!(ply.grams_per_cubic_metre(), 640_000);
/// ```
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, serde::Serialize, serde::Deserialize,
)]
#[serde(transparent)]
pub struct Density(i64);

/// Milligrams of the international avoirdupois pound, 0.453 592 37 kg.
const POUND_MG: f64 = 453_592.37;
/// Grams per cubic metre of one pound per cubic foot: 453.592 37 g in 0.028 316 846 592 m3.
const POUND_PER_CUBIC_FOOT: f64 = 453.592_37 / 0.028_316_846_592;

impl Mass {
    /// No mass.
    pub const ZERO: Mass = Mass(0);

    /// So many milligrams.
    pub const fn from_milligrams(mg: i64) -> Mass {
        Mass(mg)
    }

    /// The mass in milligrams.
    pub const fn milligrams(self) -> i64 {
        self.0
    }

    /// So many kilograms, to the nearest milligram.
    pub fn from_kilograms(kg: f64) -> Mass {
        Mass((kg * 1e6).round() as i64)
    }

    /// So many pounds, to the nearest milligram.
    pub fn from_pounds(lb: f64) -> Mass {
        Mass((lb * POUND_MG).round() as i64)
    }

    /// The mass in kilograms.
    pub fn as_kilograms_f64(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The mass in pounds.
    pub fn as_pounds_f64(self) -> f64 {
        self.0 as f64 / POUND_MG
    }

    /// The mass as it is printed beside inches (pounds, to the half) or millimetres (kilograms, to the tenth).
    pub fn figure(self, beside: Unit) -> String {
        match beside {
            Unit::Inch => {
                let halves = (self.as_pounds_f64() * 2.0).round() as i64;
                let sign = if halves < 0 { "-" } else { "" };
                match (halves.abs() / 2, halves % 2 != 0) {
                    (whole, false) => format!("{sign}{whole} lb"),
                    (0, true) => format!("{sign}1/2 lb"),
                    (whole, true) => format!("{sign}{whole} 1/2 lb"),
                }
            }
            Unit::Millimetre => format!("{:.1} kg", self.as_kilograms_f64()),
        }
    }
}

impl Density {
    /// So many grams per cubic metre.
    pub const fn from_grams_per_cubic_metre(g: i64) -> Density {
        Density(g)
    }

    /// So many kilograms per cubic metre, to the nearest gram.
    pub fn from_kilograms_per_cubic_metre(kg: f64) -> Density {
        Density((kg * 1e3).round() as i64)
    }

    /// So many pounds per cubic foot, to the nearest gram per cubic metre.
    pub fn from_pounds_per_cubic_foot(lb: f64) -> Density {
        Density((lb * POUND_PER_CUBIC_FOOT).round() as i64)
    }

    /// The density in grams per cubic metre.
    pub const fn grams_per_cubic_metre(self) -> i64 {
        self.0
    }
}

impl Mul<Density> for Volume {
    type Output = Mass;
    /// To the nearest milligram: nm3 x g/m3 is 1e-24 mg.
    fn mul(self, density: Density) -> Mass {
        let product = self.nm3().saturating_mul(i128::from(density.0));
        Mass(clamp(nearest_quotient(product, 1_000_000_000_000_000_000_000_000)))
    }
}

impl Add for Mass {
    type Output = Mass;
    fn add(self, other: Mass) -> Mass {
        Mass(self.0.saturating_add(other.0))
    }
}

impl Sub for Mass {
    type Output = Mass;
    fn sub(self, other: Mass) -> Mass {
        Mass(self.0.saturating_sub(other.0))
    }
}

impl AddAssign for Mass {
    fn add_assign(&mut self, other: Mass) {
        *self = *self + other;
    }
}

impl Mul<i64> for Mass {
    type Output = Mass;
    fn mul(self, times: i64) -> Mass {
        Mass(self.0.saturating_mul(times))
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Mass>>(all: I) -> Mass {
        all.fold(Mass::ZERO, Add::add)
    }
}

/// A mass as it stands in a plan, with its unit: `165 lb`, `17.2 kg`.
///
/// ```
/// use dryfit_measure::StatedMass;
/// assert_eq!("165 lb".parse::<StatedMass>()?.to_string(), "165 lb");
/// assert_eq!(
///     "165".parse::<StatedMass>().unwrap_err().to_string(),
///     "expected a mass in `lb` or `kg`, found `165`; write \"165 lb\""
/// );
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StatedMass {
    /// The mass.
    pub mass: Mass,
    /// Stated in pounds ([`Unit::Inch`]) or kilograms ([`Unit::Millimetre`]).
    pub unit: Unit,
}

/// A density as it stands in a plan, with its unit: `640 kg/m3`, `45 lb/ft3`.
///
/// ```
/// use dryfit_measure::StatedDensity;
/// assert_eq!("45 lb/ft3".parse::<StatedDensity>()?.to_string(), "45 lb/ft3");
/// assert_eq!("640 kg/m3".parse::<StatedDensity>()?.density.grams_per_cubic_metre(), 640_000);
/// assert_eq!(
///     "0.64".parse::<StatedDensity>().unwrap_err().to_string(),
///     "expected a density in `lb/ft3` or `kg/m3`, found `0.64`; write \"40 lb/ft3\""
/// );
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StatedDensity {
    /// The density.
    pub density: Density,
    /// Stated in pounds per cubic foot ([`Unit::Inch`]) or kilograms per cubic metre ([`Unit::Millimetre`]).
    pub unit: Unit,
}

/// Decimals kept of a pound, of a pound per cubic foot, and of a kilogram per cubic metre: few enough that
/// the whole milligrams or grams give back the decimal that was read.
const PLACES: u32 = 3;

/// A decimal of at most `places` places and at most a hundred thousand, and the unit written after it.
fn quantity<'t>(text: &'t str, units: [(&str, Unit); 2], places: u32) -> Option<(f64, Unit)> {
    let read = |(name, unit): &(&str, Unit)| Some((text.strip_suffix(name)?.trim_end(), *unit));
    let (number, unit): (&'t str, Unit) = units.iter().find_map(read)?;
    let number = plain_decimal(number)?.normalize();
    let fits = !number.is_sign_negative() && number <= Decimal::from(100_000) && number.scale() <= places;
    if fits { Some((number.to_f64()?, unit)) } else { None }
}

/// A float to so many places, without trailing zeros.
fn decimal(value: f64, places: u32) -> Decimal {
    let exact = Decimal::from_f64_retain(value).unwrap_or_default();
    exact.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero).normalize()
}

impl fmt::Display for StatedMass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit {
            Unit::Inch => write!(f, "{} lb", decimal(self.mass.as_pounds_f64(), PLACES)),
            Unit::Millimetre => write!(f, "{} kg", Decimal::new(self.mass.0, 6).normalize()),
        }
    }
}

impl FromStr for StatedMass {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<StatedMass, TextFault> {
        let text = text.trim();
        match quantity(text, [("lb", Unit::Inch), ("kg", Unit::Millimetre)], PLACES) {
            Some((lb, unit @ Unit::Inch)) => Ok(StatedMass { mass: Mass::from_pounds(lb), unit }),
            Some((kg, unit @ Unit::Millimetre)) => Ok(StatedMass { mass: Mass::from_kilograms(kg), unit }),
            None => {
                let bare = plain_decimal(text).filter(Decimal::is_sign_positive).unwrap_or(Decimal::from(38));
                Err(TextFault::new("a mass in `lb` or `kg`", text, format!("{} lb", bare.round_dp(PLACES))))
            }
        }
    }
}

impl fmt::Display for StatedDensity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let grams = self.density.0;
        match self.unit {
            Unit::Inch => write!(f, "{} lb/ft3", decimal(grams as f64 / POUND_PER_CUBIC_FOOT, PLACES)),
            Unit::Millimetre => write!(f, "{} kg/m3", Decimal::new(grams, 3).normalize()),
        }
    }
}

impl FromStr for StatedDensity {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<StatedDensity, TextFault> {
        let text = text.trim();
        match quantity(text, [("lb/ft3", Unit::Inch), ("kg/m3", Unit::Millimetre)], PLACES) {
            Some((lb, unit @ Unit::Inch)) => {
                Ok(StatedDensity { density: Density::from_pounds_per_cubic_foot(lb), unit })
            }
            Some((kg, unit @ Unit::Millimetre)) => {
                Ok(StatedDensity { density: Density::from_kilograms_per_cubic_metre(kg), unit })
            }
            None => Err(TextFault::new("a density in `lb/ft3` or `kg/m3`", text, "40 lb/ft3")),
        }
    }
}

written_as_text!(
    StatedMass,
    "StatedMass",
    "a mass with its unit",
    "^[0-9]+(\\.[0-9]{1,3})? ?(lb|kg)$",
    ["165 lb", "17.2 kg"]
);
written_as_text!(
    StatedDensity,
    "StatedDensity",
    "a density with its unit",
    "^[0-9]+(\\.[0-9]{1,3})? ?(lb/ft3|kg/m3)$",
    ["45 lb/ft3", "640 kg/m3"]
);
