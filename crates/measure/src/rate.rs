//! A rate in percent: tax, waste, contingency.

use crate::fault::TextFault;
use crate::money::{Money, plain_decimal};
use crate::text::written_as_text;
use rust_decimal::Decimal;
use std::fmt;
use std::str::FromStr;

/// A rate in percent, from 0 to 1000, exact: `6.5 %`.
///
/// ```
/// use dryfit_measure::{Money, Rate};
/// let tax: Rate = "6.5 %".parse()?;
/// assert_eq!(tax.of(Money::from_hundredths(1_00)).to_string(), "0.07"); // 6.5 hundredths, half up
/// assert_eq!(tax.to_string(), "6.5 %");
/// assert_eq!(
///     "6.5".parse::<Rate>().unwrap_err().to_string(),
///     "expected a rate in percent from 0 to 1000, found `6.5`; write \"6.5 %\""
/// );
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Rate(Decimal);

impl Rate {
    /// No rate.
    pub const ZERO: Rate = Rate(Decimal::ZERO);

    /// So many percent; below 0 it is 0, above 1000 it is 1000.
    pub fn percent(percent: Decimal) -> Rate {
        Rate(percent.clamp(Decimal::ZERO, Decimal::ONE_THOUSAND).normalize())
    }

    /// The rate in percent.
    pub const fn as_percent(self) -> Decimal {
        self.0
    }

    /// The rate as a fraction of one.
    pub fn fraction(self) -> Decimal {
        self.0 / Decimal::ONE_HUNDRED
    }

    /// This rate of an amount, to the nearest hundredth, half away from zero.
    pub fn of(self, amount: Money) -> Money {
        amount.times(self.fraction())
    }

    /// The part of `amount` that this rate makes up where the amount already contains it.
    ///
    /// ```
    /// use dryfit_measure::{Money, Rate};
    /// let vat: Rate = "20 %".parse()?;
    /// assert_eq!(vat.within(Money::from_hundredths(120_00)), Money::from_hundredths(20_00));
    /// # Ok::<(), dryfit_measure::TextFault>(())
    /// ```
    pub fn within(self, amount: Money) -> Money {
        amount.times(self.0 / (Decimal::ONE_HUNDRED + self.0))
    }
}

impl fmt::Display for Rate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", self.0.normalize())
    }
}

impl FromStr for Rate {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Rate, TextFault> {
        let trimmed = text.trim();
        let allowed = |n: &Decimal| !n.is_sign_negative() && *n <= Decimal::ONE_THOUSAND;
        let read = |number: &str| plain_decimal(number.trim_end()).filter(allowed);
        trimmed.strip_suffix('%').and_then(read).map(Rate::percent).ok_or_else(|| {
            let example = read(trimmed).map_or("6.5 %".to_owned(), |n| Rate::percent(n).to_string());
            TextFault::new("a rate in percent from 0 to 1000", trimmed, example)
        })
    }
}

written_as_text!(Rate, "Rate", "a rate in percent", "^[0-9]+(\\.[0-9]+)? ?%$", ["6.5 %", "10 %"]);
