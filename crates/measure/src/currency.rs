//! The currencies that prices may stand in, by their ISO 4217 codes.

use crate::fault::TextFault;
use crate::text::written_as_text;
use std::fmt;
use std::str::FromStr;

/// A currency, by its ISO 4217 code. Every one here is divided into hundredths, as [`Money`](crate::Money) is.
///
/// ```
/// use dryfit_measure::Currency;
/// assert_eq!("EUR".parse(), Ok(Currency::Eur));
/// assert_eq!(
///     "usd".parse::<Currency>().unwrap_err().to_string(),
///     "expected a currency code, found `usd`; write \"USD\""
/// );
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Currency {
    /// United States dollar.
    #[default]
    Usd,
    /// Euro.
    Eur,
    /// Pound sterling.
    Gbp,
    /// Canadian dollar.
    Cad,
    /// Australian dollar.
    Aud,
    /// New Zealand dollar.
    Nzd,
    /// Swiss franc.
    Chf,
    /// Swedish krona.
    Sek,
    /// Norwegian krone.
    Nok,
    /// Danish krone.
    Dkk,
    /// Polish zloty.
    Pln,
    /// Czech koruna.
    Czk,
    /// South African rand.
    Zar,
    /// Indian rupee.
    Inr,
    /// Brazilian real.
    Brl,
    /// Mexican peso.
    Mxn,
}

impl Currency {
    /// Every currency.
    pub const ALL: [Currency; 16] = [
        Currency::Usd,
        Currency::Eur,
        Currency::Gbp,
        Currency::Cad,
        Currency::Aud,
        Currency::Nzd,
        Currency::Chf,
        Currency::Sek,
        Currency::Nok,
        Currency::Dkk,
        Currency::Pln,
        Currency::Czk,
        Currency::Zar,
        Currency::Inr,
        Currency::Brl,
        Currency::Mxn,
    ];

    /// The ISO 4217 code.
    pub const fn code(self) -> &'static str {
        match self {
            Currency::Usd => "USD",
            Currency::Eur => "EUR",
            Currency::Gbp => "GBP",
            Currency::Cad => "CAD",
            Currency::Aud => "AUD",
            Currency::Nzd => "NZD",
            Currency::Chf => "CHF",
            Currency::Sek => "SEK",
            Currency::Nok => "NOK",
            Currency::Dkk => "DKK",
            Currency::Pln => "PLN",
            Currency::Czk => "CZK",
            Currency::Zar => "ZAR",
            Currency::Inr => "INR",
            Currency::Brl => "BRL",
            Currency::Mxn => "MXN",
        }
    }

    /// What is printed before an amount: the sign where it can mean only this currency to those who pay in
    /// it, else the code and a space.
    pub const fn sign(self) -> &'static str {
        match self {
            Currency::Usd | Currency::Cad | Currency::Aud | Currency::Nzd => "$",
            Currency::Eur => "\u{20ac}",
            Currency::Gbp => "\u{a3}",
            Currency::Inr => "\u{20b9}",
            Currency::Chf => "CHF ",
            Currency::Sek => "SEK ",
            Currency::Nok => "NOK ",
            Currency::Dkk => "DKK ",
            Currency::Pln => "PLN ",
            Currency::Czk => "CZK ",
            Currency::Zar => "ZAR ",
            Currency::Brl => "BRL ",
            Currency::Mxn => "MXN ",
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl FromStr for Currency {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Currency, TextFault> {
        let code = text.trim();
        let found = |wanted: &str| Currency::ALL.into_iter().find(|currency| currency.code() == wanted);
        found(code).ok_or_else(|| {
            let near = found(&code.to_uppercase()).unwrap_or_default();
            TextFault::new("a currency code", code, near.code())
        })
    }
}

written_as_text!(
    Currency,
    "Currency",
    "a currency, by its ISO 4217 code",
    "^(USD|EUR|GBP|CAD|AUD|NZD|CHF|SEK|NOK|DKK|PLN|CZK|ZAR|INR|BRL|MXN)$",
    ["USD", "EUR"]
);
