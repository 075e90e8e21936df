//! A length as a whole number of nanometres.

use crate::area::Area;
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length, exact to the nanometre.
///
/// One sixty-fourth of an inch is 396 875 nm and one micrometre is 1 000 nm, so both families of marks are
/// whole numbers and sums never drift. Lengths may be negative (an offset, an overlap).
///
/// A length read from a plan is at most one kilometre (see [`LONGEST`](crate::LONGEST)), a nine-millionth
/// of what the representation holds; sums and multiples saturate at the ends rather than wrap or panic.
///
/// There is no `/`: to divide exactly use [`split`](Length::split), to count use [`fits`](Length::fits).
/// In serde it is its nanometres as a whole number; what a person reads is a [`Stated`](crate::Stated) or a
/// [`Figure`](crate::Figure).
///
/// ```
/// use dryfit_measure::Length;
/// let inside = Length::inches(24, 0, 1) - Length::inches(0, 23, 32) * 2;
/// assert_eq!(inside, Length::inches(22, 9, 16));
/// assert_eq!(Length::INCH.nm(), 25_400_000);
/// assert_eq!(Length::sixty_fourths(64), Length::INCH);
/// ```
#[derive(
    Clone,
    Copy,
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
#[serde(transparent)]
#[schemars(description = "a length in whole nanometres")]
pub struct Length(i64);

impl Length {
    /// No length.
    pub const ZERO: Length = Length(0);
    /// 25.4 mm exactly (the international inch).
    pub const INCH: Length = Length(25_400_000);
    /// Twelve inches.
    pub const FOOT: Length = Length(304_800_000);
    /// One millimetre.
    pub const MM: Length = Length(1_000_000);
    /// One metre.
    pub const METRE: Length = Length(1_000_000_000);

    /// So many nanometres.
    pub const fn from_nm(nm: i64) -> Length {
        Length(nm)
    }

    /// The length in nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// So many whole millimetres.
    pub const fn mm(mm: i64) -> Length {
        Length(mm.saturating_mul(1_000_000))
    }

    /// So many whole micrometres.
    pub const fn um(um: i64) -> Length {
        Length(um.saturating_mul(1_000))
    }

    /// So many sixty-fourths of an inch.
    pub const fn sixty_fourths(n: i64) -> Length {
        Length(n.saturating_mul(396_875))
    }

    /// `whole` inches plus `num`/`den` of an inch.
    ///
    /// # Panics
    /// If `den` is not one of 1, 2, 4, 8, 16, 32, 64: this is for figures written in code, not for input.
    ///
    /// ```
    /// use dryfit_measure::Length;
    /// const SIDE: Length = Length::inches(0, 23, 32);
    /// assert_eq!(SIDE, Length::sixty_fourths(46));
    /// assert_eq!(-Length::inches(1, 1, 2), Length::inches(-1, -1, 2));
    /// ```
    pub const fn inches(whole: i64, num: i64, den: i64) -> Length {
        assert!(den > 0 && 64 % den == 0, "an inch is divided into 2, 4, 8, 16, 32 or 64");
        Length::sixty_fourths(whole.saturating_mul(64).saturating_add(num.saturating_mul(64 / den)))
    }

    /// So many whole feet.
    pub const fn feet(feet: i64) -> Length {
        Length(feet.saturating_mul(304_800_000))
    }

    /// The length in millimetres.
    pub fn as_mm_f64(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// The length in inches.
    pub fn as_inches_f64(self) -> f64 {
        self.0 as f64 / 25.4e6
    }

    /// The length in metres.
    pub fn as_metres_f64(self) -> f64 {
        self.0 as f64 / 1e9
    }

    /// The nearest whole nanometre to so many millimetres; not-a-number gives zero, infinities the ends.
    pub fn from_mm_f64(mm: f64) -> Length {
        Length((mm * 1e6).round() as i64)
    }

    /// The nearest whole nanometre to so many inches; not-a-number gives zero, infinities the ends.
    pub fn from_inches_f64(inches: f64) -> Length {
        Length((inches * 25.4e6).round() as i64)
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Length {
        Length(self.0.saturating_abs())
    }

    /// The lesser of two.
    #[must_use]
    pub fn min(self, other: Length) -> Length {
        Ord::min(self, other)
    }

    /// The greater of two.
    #[must_use]
    pub fn max(self, other: Length) -> Length {
        Ord::max(self, other)
    }

    /// Below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Exactly zero.
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Above zero.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// `n` parts that differ by at most a nanometre and sum exactly to the whole, the larger ones first.
    /// No parts give no lengths.
    ///
    /// ```
    /// use dryfit_measure::Length;
    /// let parts = Length::from_nm(11).split(3);
    /// assert_eq!(parts, [4, 4, 3].map(Length::from_nm));
    /// assert_eq!(parts.into_iter().sum::<Length>(), Length::from_nm(11));
    /// ```
    pub fn split(self, n: usize) -> Vec<Length> {
        (0..n).map(|index| self.part(n, index)).collect()
    }

    /// The part `index` of [`split`](Length::split) into `n`.
    pub(crate) fn part(self, n: usize, index: usize) -> Length {
        let n = i64::try_from(n).unwrap_or(i64::MAX).max(1);
        let larger = usize::try_from(self.0.rem_euclid(n)).unwrap_or(usize::MAX);
        Length(self.0.div_euclid(n) + i64::from(index < larger))
    }

    /// The two halves: they sum exactly, and the first is the larger by at most a nanometre.
    pub fn halves(self) -> (Length, Length) {
        (self.part(2, 0), self.part(2, 1))
    }

    /// The greatest length that goes `n` times into this one (rounds towards less); zero for `n` below 1.
    #[must_use]
    pub const fn div_floor(self, n: i64) -> Length {
        if n < 1 { Length::ZERO } else { Length(self.0.div_euclid(n)) }
    }

    /// The least length that, `n` times, covers this one (rounds towards more); zero for `n` below 1.
    #[must_use]
    pub const fn div_ceil(self, n: i64) -> Length {
        if n < 1 { Length::ZERO } else { Length(-(-self.0).div_euclid(n)) }
    }

    /// How many times `pitch` goes whole into this length; none if either is not above zero.
    ///
    /// ```
    /// use dryfit_measure::Length;
    /// let strip = Length::inches(24, 0, 1) + Length::inches(0, 1, 8); // with the saw's kerf
    /// assert_eq!(Length::inches(48, 0, 1).fits(strip), 1);
    /// assert_eq!(Length::inches(48, 0, 1).fits(Length::ZERO), 0);
    /// ```
    pub const fn fits(self, pitch: Length) -> i64 {
        if pitch.0 <= 0 || self.0 <= 0 { 0 } else { self.0 / pitch.0 }
    }

    /// How many times `pitch` is needed to cover this length; none if either is not above zero.
    pub const fn needs(self, pitch: Length) -> i64 {
        if pitch.0 <= 0 || self.0 <= 0 { 0 } else { (self.0 - 1) / pitch.0 + 1 }
    }

    /// The nearest nanometre to `self * factor`; not-a-number gives zero.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Length {
        Length((self.0 as f64 * factor).round() as i64)
    }

    /// The nearest nanometre to `self * part / whole`, worked in whole numbers; zero if `whole` is zero.
    ///
    /// ```
    /// use dryfit_measure::Length;
    /// // a wall 3/8 in out of plumb over 96 in, at the top of a 34 1/2 in unit
    /// let out = Length::inches(0, 3, 8).proportion(Length::inches(34, 1, 2), Length::inches(96, 0, 1));
    /// assert!((out.as_inches_f64() - 0.134_765_625).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn proportion(self, part: Length, whole: Length) -> Length {
        if whole.0 == 0 {
            return Length::ZERO;
        }
        Length(clamp(nearest_quotient(i128::from(self.0) * i128::from(part.0), i128::from(whole.0))))
    }

    /// The diagonal of a rectangle with these sides, to the nearest nanometre.
    ///
    /// ```
    /// use dryfit_measure::Length;
    /// assert_eq!(Length::inches(36, 0, 1).hypot(Length::inches(48, 0, 1)), Length::inches(60, 0, 1));
    /// ```
    #[must_use]
    pub fn hypot(self, other: Length) -> Length {
        let square = |n: i64| u128::from(n.unsigned_abs()) * u128::from(n.unsigned_abs());
        let sum = square(self.0) + square(other.0);
        let root = sum.isqrt();
        // sum - root^2 > root is where root + 1/2 is passed
        let root = root + u128::from(sum - root * root > root);
        Length(i64::try_from(root).unwrap_or(i64::MAX))
    }
}

/// `n / d` to the nearest whole number, ties away from zero. `d` is not zero.
pub(crate) fn nearest_quotient(n: i128, d: i128) -> i128 {
    let (quotient, rest) = (n / d, n % d);
    if rest.unsigned_abs() >= d.unsigned_abs().div_ceil(2) {
        quotient + if (n < 0) == (d < 0) { 1 } else { -1 }
    } else {
        quotient
    }
}

/// The nearest `i64`.
pub(crate) fn clamp(n: i128) -> i64 {
    i64::try_from(n).unwrap_or(if n < 0 { i64::MIN } else { i64::MAX })
}

impl fmt::Debug for Length {
    /// Exact, in millimetres: `571.5 mm`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        crate::stated::write_millimetres(f, *self)
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0.saturating_sub(other.0))
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(self.0.saturating_neg())
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        *self = *self - other;
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0.saturating_mul(times))
    }
}

impl Mul<Length> for i64 {
    type Output = Length;
    fn mul(self, length: Length) -> Length {
        length * self
    }
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Length) -> Area {
        Area::from_nm2(i128::from(self.0) * i128::from(other.0))
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

impl<'a> Sum<&'a Length> for Length {
    fn sum<I: Iterator<Item = &'a Length>>(lengths: I) -> Length {
        lengths.copied().sum()
    }
}
