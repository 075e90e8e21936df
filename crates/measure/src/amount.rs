//! How much of a good: pieces, or an exact length, area, volume or mass; and how that stands in a plan.

use crate::area::{Area, Volume};
use crate::fault::TextFault;
use crate::length::{Length, clamp};
use crate::mass::Mass;
use crate::money::plain_decimal;
use crate::unit::Unit;
use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use std::fmt;
use std::str::FromStr;

/// How much of a good, exact. Amounts of one measure can be added and divided into packs; others never meet.
///
/// ```
/// use dryfit_measure::{Amount, Unit};
/// let need = Amount::millilitres(1_000);
/// let bottle = Amount::millilitres(473);
/// assert_eq!(need.packs_of(bottle), Some(3));
/// assert_eq!(need.packs_of(Amount::Pieces(1)), None);
/// assert_eq!(need.figure(Unit::Millimetre), "1 l");
/// assert_eq!(need.figure(Unit::Inch), "1.1 qt");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Amount {
    /// Whole pieces of the good.
    Pieces(u32),
    /// A length of it: cable, pipe, tape, trim.
    Length(Length),
    /// An area: film, membrane, insulation.
    Area(Area),
    /// A volume: glue, paint, sealant.
    Volume(Volume),
    /// A mass: mortar, grout, nails.
    Mass(Mass),
}

/// What an amount is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// Whole pieces.
    Pieces,
    /// Length.
    Length,
    /// Area.
    Area,
    /// Volume.
    Volume,
    /// Mass.
    Mass,
}

impl Measure {
    /// The word for it in a sentence.
    pub const fn word(self) -> &'static str {
        match self {
            Measure::Pieces => "pieces",
            Measure::Length => "length",
            Measure::Area => "area",
            Measure::Volume => "volume",
            Measure::Mass => "mass",
        }
    }
}

/// Cubic nanometres of a millilitre.
const MILLILITRE: i128 = 1_000_000_000_000_000_000_000;

impl Amount {
    /// So many millilitres.
    pub const fn millilitres(ml: i128) -> Amount {
        Amount::Volume(Volume::from_nm3(ml.saturating_mul(MILLILITRE)))
    }

    /// What it is counted in.
    pub const fn measure(self) -> Measure {
        match self {
            Amount::Pieces(_) => Measure::Pieces,
            Amount::Length(_) => Measure::Length,
            Amount::Area(_) => Measure::Area,
            Amount::Volume(_) => Measure::Volume,
            Amount::Mass(_) => Measure::Mass,
        }
    }

    /// None of it, in the same measure.
    #[must_use]
    pub fn none(self) -> Amount {
        Amount::of(self.measure(), 0)
    }

    /// The whole number behind it: pieces, nanometres to the power of one, two or three, milligrams.
    pub const fn base(self) -> i128 {
        match self {
            Amount::Pieces(pieces) => pieces as i128,
            Amount::Length(length) => length.nm() as i128,
            Amount::Area(area) => area.nm2(),
            Amount::Volume(volume) => volume.nm3(),
            Amount::Mass(mass) => mass.milligrams() as i128,
        }
    }

    /// The amount of a measure with this whole number behind it, kept within what the measure can hold.
    pub fn of(measure: Measure, base: i128) -> Amount {
        match measure {
            Measure::Pieces => Amount::Pieces(u32::try_from(base.max(0)).unwrap_or(u32::MAX)),
            Measure::Length => Amount::Length(Length::from_nm(clamp(base))),
            Measure::Area => Amount::Area(Area::from_nm2(base)),
            Measure::Volume => Amount::Volume(Volume::from_nm3(base)),
            Measure::Mass => Amount::Mass(Mass::from_milligrams(clamp(base))),
        }
    }

    /// Whether there is nothing, or less than nothing, of it.
    pub const fn is_none(self) -> bool {
        self.base() <= 0
    }

    /// The pieces, where it is counted.
    pub const fn pieces(self) -> Option<u32> {
        match self {
            Amount::Pieces(pieces) => Some(pieces),
            _ => None,
        }
    }

    /// Both together; none where they are of different measures.
    pub fn plus(self, other: Amount) -> Option<Amount> {
        if self.measure() != other.measure() {
            return None;
        }
        Some(Amount::of(self.measure(), self.base().saturating_add(other.base())))
    }

    /// What is left of it after `other`, at least nothing; none where they are of different measures.
    pub fn less(self, other: Amount) -> Option<Amount> {
        if self.measure() != other.measure() {
            return None;
        }
        Some(Amount::of(self.measure(), self.base().saturating_sub(other.base()).max(0)))
    }

    /// The lesser of two amounts of one measure; of different measures, this one.
    #[must_use]
    pub fn at_most(self, other: Amount) -> Amount {
        if self.measure() == other.measure() && other.base() < self.base() { other } else { self }
    }

    /// So many times as much.
    #[must_use]
    pub fn times(self, times: u32) -> Amount {
        Amount::of(self.measure(), self.base().saturating_mul(i128::from(times)))
    }

    /// This amount and so many percent more, rounded up.
    #[must_use]
    pub fn with_spare(self, rate: crate::Rate) -> Amount {
        let per_million = (rate.as_percent() * Decimal::from(10_000)).ceil().to_i128().unwrap_or(0);
        let spare = self.base().saturating_mul(per_million);
        // towards more: what is bought rounds up
        Amount::of(
            self.measure(),
            self.base()
                .saturating_add(spare.div_euclid(1_000_000) + i128::from(spare.rem_euclid(1_000_000) > 0)),
        )
    }

    /// How many packs of `pack` cover it; none where the measures differ or the pack holds nothing.
    pub fn packs_of(self, pack: Amount) -> Option<u32> {
        if self.measure() != pack.measure() || pack.is_none() {
            return None;
        }
        let (need, holds) = (self.base().max(0), pack.base());
        u32::try_from(need / holds + i128::from(need % holds > 0)).ok()
    }

    /// As it is printed beside inches or millimetres, rounded up: what is bought must be enough.
    ///
    /// ```
    /// use dryfit_measure::{Amount, Length, Mass, Unit};
    /// assert_eq!(Amount::Pieces(62).figure(Unit::Inch), "62");
    /// assert_eq!(Amount::Length(Length::feet(31)).figure(Unit::Inch), "31 ft");
    /// assert_eq!(Amount::Length(Length::mm(9_420)).figure(Unit::Millimetre), "9.5 m");
    /// assert_eq!(Amount::Area(Length::feet(4) * Length::feet(8)).figure(Unit::Inch), "32 sq ft");
    /// assert_eq!(Amount::Mass(Mass::from_pounds(90.24)).figure(Unit::Inch), "90.3 lb");
    /// ```
    pub fn figure(self, beside: Unit) -> String {
        let written = match (self.measure(), beside) {
            (Measure::Pieces, _) => return self.base().to_string(),
            (Measure::Length, Unit::Inch) => AmountUnit::Foot,
            (Measure::Length, Unit::Millimetre) => AmountUnit::Metre,
            (Measure::Area, Unit::Inch) => AmountUnit::SquareFoot,
            (Measure::Area, Unit::Millimetre) => AmountUnit::SquareMetre,
            (Measure::Mass, Unit::Inch) => AmountUnit::Pound,
            (Measure::Mass, Unit::Millimetre) => AmountUnit::Kilogram,
            (Measure::Volume, Unit::Inch) => {
                self.largest([AmountUnit::Gallon, AmountUnit::Quart, AmountUnit::FluidOunce])
            }
            (Measure::Volume, Unit::Millimetre) => {
                self.largest([AmountUnit::Litre, AmountUnit::Millilitre, AmountUnit::Millilitre])
            }
        };
        let exact = decimal_of(self.base()) / written.base();
        let places = u32::from(!matches!(written, AmountUnit::FluidOunce | AmountUnit::Millilitre));
        let shown = exact.round_dp_with_strategy(places, RoundingStrategy::AwayFromZero).normalize();
        format!("{shown} {}", written.name())
    }

    /// The first of these units of which there is at least one, else the last.
    fn largest(self, units: [AmountUnit; 3]) -> AmountUnit {
        let fits = |unit: &AmountUnit| decimal_of(self.base()) >= unit.base();
        units.into_iter().find(fits).unwrap_or(units[2])
    }
}

/// The units in which an amount may be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum AmountUnit {
    Piece,
    Inch,
    Foot,
    Millimetre,
    Metre,
    SquareFoot,
    SquareMetre,
    FluidOunce,
    Quart,
    Gallon,
    CubicFoot,
    CubicYard,
    Millilitre,
    Litre,
    Ounce,
    Pound,
    Gram,
    Kilogram,
}

impl AmountUnit {
    const ALL: [AmountUnit; 18] = [
        AmountUnit::FluidOunce,
        AmountUnit::SquareFoot,
        AmountUnit::CubicFoot,
        AmountUnit::CubicYard,
        AmountUnit::Inch,
        AmountUnit::Foot,
        AmountUnit::Millimetre,
        AmountUnit::SquareMetre,
        AmountUnit::Millilitre,
        AmountUnit::Quart,
        AmountUnit::Gallon,
        AmountUnit::Ounce,
        AmountUnit::Pound,
        AmountUnit::Kilogram,
        AmountUnit::Gram,
        AmountUnit::Metre,
        AmountUnit::Litre,
        AmountUnit::Piece,
    ];

    const fn name(self) -> &'static str {
        match self {
            AmountUnit::Piece => "",
            AmountUnit::Inch => "in",
            AmountUnit::Foot => "ft",
            AmountUnit::Millimetre => "mm",
            AmountUnit::Metre => "m",
            AmountUnit::SquareFoot => "sq ft",
            AmountUnit::SquareMetre => "m2",
            AmountUnit::FluidOunce => "fl oz",
            AmountUnit::Quart => "qt",
            AmountUnit::Gallon => "gal",
            AmountUnit::CubicFoot => "cu ft",
            AmountUnit::CubicYard => "cu yd",
            AmountUnit::Millilitre => "ml",
            AmountUnit::Litre => "l",
            AmountUnit::Ounce => "oz",
            AmountUnit::Pound => "lb",
            AmountUnit::Gram => "g",
            AmountUnit::Kilogram => "kg",
        }
    }

    const fn measure(self) -> Measure {
        match self {
            AmountUnit::Piece => Measure::Pieces,
            AmountUnit::Inch | AmountUnit::Foot | AmountUnit::Millimetre | AmountUnit::Metre => {
                Measure::Length
            }
            AmountUnit::SquareFoot | AmountUnit::SquareMetre => Measure::Area,
            AmountUnit::Ounce | AmountUnit::Pound | AmountUnit::Gram | AmountUnit::Kilogram => Measure::Mass,
            AmountUnit::FluidOunce
            | AmountUnit::Quart
            | AmountUnit::Gallon
            | AmountUnit::CubicFoot
            | AmountUnit::CubicYard
            | AmountUnit::Millilitre
            | AmountUnit::Litre => Measure::Volume,
        }
    }

    /// What one of it is in the whole numbers of its measure. The inch is 25.4 mm, the US gallon 231 cubic
    /// inches, the avoirdupois pound 453.592 37 g: all exact by definition.
    fn base(self) -> Decimal {
        const INCH: i128 = 25_400_000;
        const CUBIC_INCH: i128 = INCH * INCH * INCH;
        const GRAM: i128 = 1_000;
        match self {
            AmountUnit::Piece => Decimal::ONE,
            AmountUnit::Inch => decimal_of(INCH),
            AmountUnit::Foot => decimal_of(INCH * 12),
            AmountUnit::Millimetre => decimal_of(1_000_000),
            AmountUnit::Metre => decimal_of(1_000_000_000),
            AmountUnit::SquareFoot => decimal_of(INCH * INCH * 144),
            AmountUnit::SquareMetre => decimal_of(1_000_000_000_000_000_000),
            AmountUnit::FluidOunce => decimal_of(CUBIC_INCH * 231 / 128),
            AmountUnit::Quart => decimal_of(CUBIC_INCH * 231 / 4),
            AmountUnit::Gallon => decimal_of(CUBIC_INCH * 231),
            AmountUnit::CubicFoot => decimal_of(CUBIC_INCH * 1_728),
            AmountUnit::CubicYard => decimal_of(CUBIC_INCH * 46_656),
            AmountUnit::Millilitre => decimal_of(MILLILITRE),
            AmountUnit::Litre => decimal_of(MILLILITRE * 1_000),
            AmountUnit::Ounce => Decimal::new(28_349_523_125, 6),
            AmountUnit::Pound => Decimal::new(45_359_237, 2),
            AmountUnit::Gram => decimal_of(GRAM),
            AmountUnit::Kilogram => decimal_of(1_000 * GRAM),
        }
    }
}

/// A whole number as a decimal; one that is greater than a decimal holds is the greatest.
fn decimal_of(base: i128) -> Decimal {
    Decimal::try_from_i128_with_scale(base, 0).unwrap_or(if base < 0 { Decimal::MIN } else { Decimal::MAX })
}

/// An amount as it stands in a plan, with its unit: `473 ml`, `50 lb`, `25 sq ft`, `150 ft`; pieces are a bare
/// whole number. What is written is kept, so that it reads the same when it is written again.
///
/// ```
/// use dryfit_measure::{Amount, StatedAmount};
/// assert_eq!("16 fl oz".parse::<StatedAmount>()?.to_string(), "16 fl oz");
/// assert_eq!("1/2 gal".parse::<StatedAmount>()?.to_string(), "0.5 gal");
/// assert_eq!("100".parse::<StatedAmount>()?.amount(), Amount::Pieces(100));
/// assert_eq!(
///     "2 pints".parse::<StatedAmount>().unwrap_err().to_string(),
///     "expected a number of pieces or an amount in `ft`, `m`, `sq ft`, `m2`, `fl oz`, `gal`, `ml`, `l`, `lb` or \
///      `kg`, found `2 pints`; write \"2 gal\""
/// );
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StatedAmount {
    number: Decimal,
    unit: AmountUnit,
}

/// The greatest number that is read.
const MOST: i64 = 10_000_000;
/// The most decimals that are read: 1/64 has six.
const PLACES: u32 = 6;

impl StatedAmount {
    /// So many pieces.
    pub fn pieces(pieces: u32) -> StatedAmount {
        StatedAmount { number: Decimal::from(pieces), unit: AmountUnit::Piece }
    }

    /// So many millilitres.
    pub fn millilitres(ml: u32) -> StatedAmount {
        StatedAmount { number: Decimal::from(ml), unit: AmountUnit::Millilitre }
    }

    /// The amount, to the nearest whole number of its measure's base.
    pub fn amount(self) -> Amount {
        let base = self.number.saturating_mul(self.unit.base());
        Amount::of(self.unit.measure(), base.round().to_i128().unwrap_or(i128::MAX))
    }
}

impl From<u32> for StatedAmount {
    fn from(pieces: u32) -> StatedAmount {
        StatedAmount::pieces(pieces)
    }
}

impl fmt::Display for StatedAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit {
            AmountUnit::Piece => write!(f, "{}", self.number),
            unit => write!(f, "{} {}", self.number, unit.name()),
        }
    }
}

/// `12`, `0.5`, `1/2`, `2 1/2`: at most six decimals, not below nothing.
fn number(text: &str) -> Option<Decimal> {
    let part = |text: &str| {
        let Some((over, under)) = text.split_once('/') else { return plain_decimal(text) };
        let (over, under) = (plain_decimal(over)?, plain_decimal(under)?);
        let whole = over.scale() == 0 && under.scale() == 0 && !under.is_zero();
        whole.then(|| over / under)
    };
    let mut parts = text.split_whitespace();
    let first = parts.next()?;
    let sum = match parts.next() {
        None => part(first)?,
        Some(second) if second.contains('/') && !first.contains(['/', '.']) => part(first)? + part(second)?,
        Some(_) => return None,
    };
    let sum = sum.normalize();
    let fits = !sum.is_sign_negative() && sum <= Decimal::from(MOST) && sum.scale() <= PLACES;
    (fits && parts.next().is_none()).then_some(sum)
}

impl FromStr for StatedAmount {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<StatedAmount, TextFault> {
        let text = text.trim();
        let named = AmountUnit::ALL.into_iter().find_map(|unit| {
            let rest = text.strip_suffix(unit.name())?;
            // "3 m" must not be taken from "3 mm", nor pieces from a unit that is not known
            let number = number(rest.trim_end())?;
            Some(StatedAmount { number, unit })
        });
        let known = named.filter(|stated| {
            stated.unit != AmountUnit::Piece
                || (stated.number.scale() == 0 && stated.number <= Decimal::from(u32::MAX))
        });
        known.ok_or_else(|| {
            let digits: String = text.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
            let example = number(&digits).map_or("1".to_owned(), |shown| format!("{shown} gal"));
            let expected = "a number of pieces or an amount in `ft`, `m`, `sq ft`, `m2`, `fl oz`, `gal`, `ml`, \
                            `l`, `lb` or `kg`";
            TextFault::new(expected, text, example)
        })
    }
}

impl serde::Serialize for StatedAmount {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match (self.unit, self.number.to_u32()) {
            (AmountUnit::Piece, Some(pieces)) => serializer.serialize_u32(pieces),
            _ => serializer.collect_str(self),
        }
    }
}

impl<'de> serde::Deserialize<'de> for StatedAmount {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<StatedAmount, D::Error> {
        deserializer.deserialize_any(AmountText)
    }
}

/// Reads a whole number of pieces, or the text of an amount with its unit.
struct AmountText;

impl serde::de::Visitor<'_> for AmountText {
    type Value = StatedAmount;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number of pieces or an amount with its unit, such as 100 or \"473 ml\"")
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<StatedAmount, E> {
        text.parse().map_err(E::custom)
    }

    fn visit_i64<E: serde::de::Error>(self, pieces: i64) -> Result<StatedAmount, E> {
        u32::try_from(pieces).map(StatedAmount::pieces).map_err(|_| out_of_range(pieces))
    }

    fn visit_u64<E: serde::de::Error>(self, pieces: u64) -> Result<StatedAmount, E> {
        u32::try_from(pieces).map(StatedAmount::pieces).map_err(|_| out_of_range(pieces))
    }
}

fn out_of_range<E: serde::de::Error>(found: impl fmt::Display) -> E {
    E::custom(format!("expected a whole number from 0 to {}, found `{found}`", u32::MAX))
}

impl schemars::JsonSchema for StatedAmount {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "StatedAmount".into()
    }
    fn schema_id() -> std::borrow::Cow<'static, str> {
        concat!(module_path!(), "::StatedAmount").into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "a number of pieces, or an amount with its unit",
            "anyOf": [
                { "type": "integer", "minimum": 0, "maximum": u32::MAX },
                {
                    "type": "string",
                    "pattern": "^[0-9][0-9./ ]*(in|ft|mm|m|sq ft|m2|fl oz|qt|gal|cu ft|cu yd|ml|l|oz|lb|g|kg)?$",
                },
            ],
            "examples": [100, "473 ml", "50 lb", "25 sq ft", "150 ft"],
        })
    }
}
