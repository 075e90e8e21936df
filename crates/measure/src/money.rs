//! Amounts of money, in decimals to the hundredth.

use crate::currency::Currency;
use crate::fault::TextFault;
use crate::text::written_as_text;
use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};
use std::str::FromStr;

/// An amount of money, a whole number of hundredths. It does not know its currency: a plan has one.
///
/// Written with two decimals, `68.50`, which is the serde form too (as text). Amounts read are at most a
/// billion, so sums stay far from the ends of the representation, where they would saturate.
///
/// ```
/// use dryfit_measure::{Currency, Money};
/// let price: Money = "68.5".parse()?;
/// assert_eq!((price * 3).to_string(), "205.50");
/// assert_eq!((-price).with(Currency::Usd).to_string(), "-$68.50");
/// assert_eq!(
///     "68.505".parse::<Money>().unwrap_err().to_string(),
///     "expected an amount in hundredths, found `68.505`; write \"68.51\""
/// );
/// assert_eq!(
///     "$68".parse::<Money>().unwrap_err().to_string(),
///     "expected an amount without a sign of currency, found `$68`; write \"68.00\""
/// );
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(Decimal);

/// The greatest amount that is read.
const MOST: i64 = 1_000_000_000;

impl Money {
    /// Nothing.
    pub const ZERO: Money = Money(Decimal::from_parts(0, 0, 0, false, 2));

    /// The amount to the nearest hundredth, half away from zero.
    pub fn new(amount: Decimal) -> Money {
        let mut rounded = amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
        rounded.rescale(2);
        Money(if rounded.is_zero() { Decimal::new(0, 2) } else { rounded })
    }

    /// So many hundredths.
    pub fn from_hundredths(hundredths: i64) -> Money {
        Money(Decimal::new(hundredths, 2))
    }

    /// The amount in hundredths.
    pub fn hundredths(self) -> i64 {
        let end = if self.0.is_sign_negative() { i64::MIN } else { i64::MAX };
        self.0.saturating_mul(Decimal::ONE_HUNDRED).to_i64().unwrap_or(end)
    }

    /// The amount as a decimal.
    pub const fn decimal(self) -> Decimal {
        self.0
    }

    /// Exactly nothing.
    pub const fn is_zero(self) -> bool {
        self.0.is_zero()
    }

    /// Below zero: owed back.
    pub fn is_negative(self) -> bool {
        self < Money::ZERO
    }

    /// The amount times `factor`, to the nearest hundredth, half away from zero.
    ///
    /// ```
    /// use dryfit_measure::Money;
    /// use rust_decimal::Decimal;
    /// let hour = Money::from_hundredths(25_00);
    /// assert_eq!(hour.times(Decimal::new(15, 1)), Money::from_hundredths(37_50));
    /// ```
    #[must_use]
    pub fn times(self, factor: Decimal) -> Money {
        Money::new(self.0.saturating_mul(factor))
    }

    /// The amount as it is printed with the sign of `currency`: `$1,234.50`, `-$3.00`, `CHF 12.00`.
    pub const fn with(self, currency: Currency) -> Priced {
        Priced { money: self, currency }
    }
}

impl Default for Money {
    fn default() -> Money {
        Money::ZERO
    }
}

/// Shares `total` by `weights` so that the shares sum to it exactly, by largest remainder.
///
/// Each share is the proportional one rounded towards zero; the hundredths left over go one each to the
/// shares that lost most, the earlier first. A weight below zero counts as none; if all are none, the shares
/// are equal. No weights give no shares.
///
/// ```
/// use dryfit_measure::{Money, share};
/// let tax = Money::from_hundredths(10_00);
/// let shares = share(tax, &[1, 1, 1]);
/// assert_eq!(shares.iter().map(|s| s.to_string()).collect::<Vec<_>>(), ["3.34", "3.33", "3.33"]);
/// assert_eq!(shares.into_iter().sum::<Money>(), tax);
/// ```
pub fn share(total: Money, weights: &[i64]) -> Vec<Money> {
    let known = weights.iter().any(|&w| w > 0);
    let weight = |w: i64| if known { i128::from(w.max(0)) } else { 1 };
    let all: i128 = weights.iter().map(|&w| weight(w)).sum();
    let size = i128::from(total.hundredths().saturating_abs());
    let mut shares: Vec<i128> = weights.iter().map(|&w| size * weight(w) / all).collect();
    let mut order: Vec<usize> = (0..weights.len()).collect();
    // sort is stable: equal remainders keep their order
    order.sort_by_key(|&i| std::cmp::Reverse(size * weight(weights[i]) % all));
    let left = usize::try_from(size - shares.iter().sum::<i128>()).unwrap_or(0);
    for &i in order.iter().take(left) {
        shares[i] += 1;
    }
    let sign = if total.is_negative() { -1 } else { 1 };
    shares.into_iter().map(|s| Money::from_hundredths(crate::length::clamp(s * sign))).collect()
}

impl Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0.saturating_add(other.0))
    }
}

impl Sub for Money {
    type Output = Money;
    fn sub(self, other: Money) -> Money {
        Money(self.0.saturating_sub(other.0))
    }
}

impl Neg for Money {
    type Output = Money;
    fn neg(self) -> Money {
        Money::ZERO - self
    }
}

impl AddAssign for Money {
    fn add_assign(&mut self, other: Money) {
        *self = *self + other;
    }
}

impl SubAssign for Money {
    fn sub_assign(&mut self, other: Money) {
        *self = *self - other;
    }
}

impl Mul<i64> for Money {
    type Output = Money;
    fn mul(self, times: i64) -> Money {
        Money(self.0.saturating_mul(Decimal::from(times)))
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Money>>(amounts: I) -> Money {
        amounts.fold(Money::ZERO, Add::add)
    }
}

impl<'a> Sum<&'a Money> for Money {
    fn sum<I: Iterator<Item = &'a Money>>(amounts: I) -> Money {
        amounts.copied().sum()
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.2}", self.0)
    }
}

impl fmt::Debug for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for Money {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Money, TextFault> {
        let trimmed = text.trim();
        let Some(amount) = amount(trimmed) else {
            let (expected, meant) = misread(trimmed);
            let example = meant.map_or("68.50".to_owned(), |amount| Money::new(amount).to_string());
            return Err(TextFault::new(expected, trimmed, example));
        };
        let money = Money::new(amount);
        if money.0 == amount {
            Ok(money)
        } else {
            Err(TextFault::new("an amount in hundredths", trimmed, money.to_string()))
        }
    }
}

/// A plain decimal of at most a billion.
fn amount(text: &str) -> Option<Decimal> {
    plain_decimal(text).filter(|amount| amount.abs() <= Decimal::from(MOST))
}

/// What was expected where a text is no amount, and the amount that was likely meant.
fn misread(text: &str) -> (&'static str, Option<Decimal>) {
    if plain_decimal(text).is_some() {
        return ("an amount of at most a billion", None);
    }
    let sign = if text.starts_with('-') { "-" } else { "" };
    let core = text.trim_matches(|c: char| !c.is_ascii_digit());
    let plain = match core.rsplit_once(',') {
        // 68,50 and 1.234,50; but 1,234 and 1,234.50
        Some((whole, decimals)) if decimals.len() < 3 => {
            format!("{}.{decimals}", whole.replace([',', '.'], ""))
        }
        _ => core.replace(',', ""),
    };
    let expected = match (core.contains(','), plain_decimal(&plain)) {
        (_, None) => "an amount",
        (true, _) => "an amount with a decimal point and no comma",
        (false, _) => "an amount without a sign of currency",
    };
    (expected, amount(&format!("{sign}{plain}")))
}

/// Digits with at most one point and a leading minus; nothing else that decimals are sometimes written with.
pub(crate) fn plain_decimal(text: &str) -> Option<Decimal> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let plain = digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let ended =
        digits.starts_with(|c: char| c.is_ascii_digit()) && digits.ends_with(|c: char| c.is_ascii_digit());
    if plain && ended && digits.len() <= 24 { Decimal::from_str_exact(text).ok() } else { None }
}

written_as_text!(
    Money,
    "Money",
    "an amount of money in hundredths",
    "^-?[0-9]+(\\.[0-9]{1,2})?$",
    ["68.50", "120"]
);

/// An amount with its currency, as it is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Priced {
    money: Money,
    currency: Currency,
}

impl fmt::Display for Priced {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.money.0.abs().to_string();
        let (whole, hundredths) = text.split_once('.').unwrap_or((&text, "00"));
        f.write_str(if self.money.is_negative() { "-" } else { "" })?;
        f.write_str(self.currency.sign())?;
        for (i, digit) in whole.chars().enumerate() {
            if i > 0 && (whole.len() - i) % 3 == 0 {
                f.write_str(",")?;
            }
            write!(f, "{digit}")?;
        }
        write!(f, ".{hundredths}")
    }
}
