//! Reads a length as a builder writes it.
//!
//! ```text
//! length   = [ "-" ] ( feet [ "-" ] inches | mixed [ unit ] )
//! feet     = digits ( "'" | "ft" )
//! inches   = mixed [ '"' | "in" ]                      less than 12
//! mixed    = decimal | [ digits ( " " | "-" ) ] fraction
//! fraction = digits "/" ( 2 | 4 | 8 | 16 | 32 | 64 )   less than 1, or one character such as 3/4
//! unit     = "in" | '"' | "ft" | "'" | "mm" | "cm" | "m"
//! ```

use crate::fault::{LengthFault, shown, shown_end};
use crate::length::Length;
use crate::stated::Stated;
use crate::token::{Kind, Scale, Token, tokens};
use crate::unit::Unit;

/// The longest length that is read: one kilometre, either way from zero.
pub const LONGEST: Length = Length::from_nm(1_000_000_000_000);

/// Reads a length as a builder writes it; where no unit is written, it is `default`.
///
/// Read are `23 3/16`, `23-3/16"`, `5' 4 1/2"`, `5'-4 1/2`, `5 ft 4 in`, `64.5`, `3/4`, `¾`, `590`, `590mm`,
/// `59 cm`, `1.5 m`, `23,5 mm`, with primes, typed quotes and blanks of any kind, and a leading minus. The
/// result is exact. A length in feet or inches is stated in inches, one in metres or centimetres in
/// millimetres.
///
/// Refused, with the place and a text that would do: what is not a length; a fraction that no tape shows, or of
/// one and more (`135/16` is likely a lost blank); inches of a foot and more after feet; a bare fraction where
/// millimetres are the default; `1,500 mm`, which is two lengths to two readers; a decimal finer than a
/// nanometre; more than [`LONGEST`]. No text makes it panic.
///
/// ```
/// use dryfit_measure::{Length, Unit, read_length};
/// let read = |text| read_length(text, Unit::Inch).map(|stated| stated.length);
/// assert_eq!(read("5'-4 1/2")?, Length::inches(64, 1, 2));
/// assert_eq!(read("59 cm")?, Length::mm(590));
/// assert_eq!(read_length("590", Unit::Millimetre)?.to_string(), "590 mm");
/// assert_eq!(
///     read("23 1/3").unwrap_err().to_string(),
///     "expected a denominator of 2, 4, 8, 16, 32 or 64 after `23 1/`, found `3`; write \"23 21/64\""
/// );
/// # Ok::<(), dryfit_measure::LengthFault>(())
/// ```
pub fn read_length(text: &str, default: Unit) -> Result<Stated, LengthFault> {
    read_stated(text, Some(default))
}

/// Reads a length; without a `default` the text must name its unit.
pub(crate) fn read_stated(text: &str, default: Option<Unit>) -> Result<Stated, LengthFault> {
    let reader = Reader { text, tokens: tokens(text), at: 0, default };
    reader.length()
}

/// A number as it was written: `whole + numerator / denominator`, exact.
#[derive(Clone, Copy)]
struct Mixed {
    /// The first byte of it.
    start: usize,
    /// Its value times `denominator`.
    numerator: i128,
    /// A power of two or of ten, above zero.
    denominator: i128,
    written: Written,
}

/// What a number was written with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Written {
    Whole,
    Point,
    /// A decimal comma; where it could be one of thousands, the number without it.
    Comma {
        thousands: Option<i128>,
    },
    Fraction,
}

struct Reader<'t> {
    text: &'t str,
    tokens: Vec<Token<'t>>,
    at: usize,
    default: Option<Unit>,
}

impl<'t> Reader<'t> {
    fn length(mut self) -> Result<Stated, LengthFault> {
        if self.text.trim().is_empty() {
            let what = "expected a length, found nothing".to_owned();
            return Err(LengthFault { offset: self.text.len(), what, example: self.usual(), or: None });
        }
        self.skip_space();
        let negative = self.eat(Kind::Dash);
        self.skip_space();
        let first = self.mixed()?;
        let scale = self.scale();
        self.skip_space();
        let (length, unit) = if scale == Some(Scale::Foot) && self.at < self.tokens.len() {
            (self.feet_and_inches(first)?, Unit::Inch)
        } else {
            self.expect_end(&first, scale)?;
            self.resolve(first, scale)?
        };
        Ok(Stated { length: if negative { -length } else { length }, unit })
    }

    fn kind(&self, at: usize) -> Option<Kind<'t>> {
        self.tokens.get(at).map(|(kind, _)| *kind)
    }

    fn peek(&self) -> Option<Kind<'t>> {
        self.kind(self.at)
    }

    fn eat(&mut self, kind: Kind<'t>) -> bool {
        let found = self.peek() == Some(kind);
        self.at += usize::from(found);
        found
    }

    fn skip_space(&mut self) {
        self.eat(Kind::Space);
    }

    /// The first byte of the token `at`.
    fn offset(&self, at: usize) -> usize {
        self.tokens.get(at).map_or(self.text.trim_end().len(), |(_, span)| span.start)
    }

    /// The index of the first token from `at` on that is not blank.
    fn after_space(&self, at: usize) -> usize {
        at + usize::from(self.kind(at) == Some(Kind::Space))
    }

    /// The unit written next, if one is.
    fn scale(&mut self) -> Option<Scale> {
        let at = self.after_space(self.at);
        let Some(Kind::Unit(scale)) = self.kind(at) else { return None };
        self.at = at + 1;
        Some(scale)
    }

    /// Whether a fraction with a slash begins at the token `at`.
    fn slash_follows(&self, at: usize) -> bool {
        self.kind(self.after_space(at)) == Some(Kind::Slash)
    }

    fn mixed(&mut self) -> Result<Mixed, LengthFault> {
        let start = self.offset(self.at);
        match self.peek() {
            Some(Kind::Glyph(n, d)) => self.glyph(0, n, d),
            Some(Kind::Number { .. }) if self.slash_follows(self.at + 1) => self.fraction(0, start),
            Some(Kind::Number { whole, point }) => {
                let number = self.decimal(whole, point)?;
                self.at += 1;
                if number.written == Written::Whole { self.rest_of_mixed(number) } else { Ok(number) }
            }
            _ => Err(self.fault(self.at, "a length", self.usual())),
        }
    }

    /// The fraction after a whole number, if one follows.
    fn rest_of_mixed(&mut self, whole: Mixed) -> Result<Mixed, LengthFault> {
        let joint = self.at;
        let at = match self.peek() {
            Some(Kind::Space | Kind::Dash) => joint + 1,
            _ => joint,
        };
        let dash = self.peek() == Some(Kind::Dash);
        let fraction = match self.kind(at) {
            Some(Kind::Glyph(n, d)) => {
                self.at = at;
                self.glyph(whole.numerator, n, d)?
            }
            Some(Kind::Number { .. }) if at > joint && self.slash_follows(at + 1) => {
                self.at = at;
                self.fraction(whole.numerator, self.offset(at))?
            }
            Some(Kind::Number { .. }) if at > joint && (dash || self.family(None) == Unit::Inch) => {
                let example = self.example(whole.numerator * 16 + 3, 16);
                return Err(self.fault(at, "a fraction such as 3/16", example));
            }
            _ => return Ok(whole),
        };
        Ok(Mixed { start: whole.start, ..fraction })
    }

    /// A fraction with a slash, whose numerator is the token at hand.
    fn fraction(&mut self, whole: i128, start: usize) -> Result<Mixed, LengthFault> {
        let begin = self.at;
        let over = self.after_space(begin + 1);
        let under = self.after_space(over + 1);
        let digits = |kind| match kind {
            Some(Kind::Number { whole, point: None }) if whole.len() <= 9 => whole.parse::<i64>().ok(),
            _ => None,
        };
        let (Some(n), Some(d)) = (digits(self.kind(begin)), digits(self.kind(under))) else {
            let example = self.example(whole * 16 + 3, 16);
            return Err(self.fault(begin, "a fraction such as 3/16", example));
        };
        if !matches!(d, 2 | 4 | 8 | 16 | 32 | 64) {
            let example = self.nearest(whole, n, d);
            return Err(self.fault(under, "a denominator of 2, 4, 8, 16, 32 or 64", example));
        }
        if n >= d {
            let (n, d) = (i128::from(n), i128::from(d));
            let example = self.example(whole * d + n, d);
            return Err(self.fault(begin, "a fraction below one", example));
        }
        self.at = under + 1;
        Ok(part(start, whole, n, d))
    }

    /// A fraction in one character, which is the token at hand.
    fn glyph(&mut self, whole: i128, n: i64, d: i64) -> Result<Mixed, LengthFault> {
        let start = self.offset(self.at);
        if !matches!(d, 2 | 4 | 8) {
            let example = self.nearest(whole, n, d);
            return Err(self.fault(self.at, "a fraction in halves, quarters or eighths", example));
        }
        self.at += 1;
        Ok(part(start, whole, n, d))
    }

    /// The token at hand, a number, as digits over a power of ten.
    fn decimal(&self, whole: &str, point: Option<(char, &str)>) -> Result<Mixed, LengthFault> {
        let decimals = point.map_or("", |(_, digits)| digits.trim_end_matches('0'));
        let significant = whole.trim_start_matches('0');
        if significant.len() > 15 {
            return Err(self.too_long(self.offset(self.at)));
        }
        if decimals.len() > 12 {
            return Err(self.too_fine(self.offset(self.at), significant, decimals));
        }
        let number = |digits: &str| digits.parse::<i128>().unwrap_or(0);
        let denominator = 10_i128.pow(decimals.len() as u32);
        let written = match point {
            None => Written::Whole,
            Some((',', digits)) => {
                let grouped = digits.len() == 3 && matches!(whole.len(), 1..=3) && !whole.starts_with('0');
                Written::Comma { thousands: grouped.then(|| number(whole) * 1000 + number(digits)) }
            }
            Some(_) => Written::Point,
        };
        let numerator = number(significant) * denominator + number(decimals);
        Ok(Mixed { start: self.offset(self.at), numerator, denominator, written })
    }

    /// Inches after a whole number of feet; the token at hand is the first of them.
    fn feet_and_inches(&mut self, feet: Mixed) -> Result<Length, LengthFault> {
        let begin = self.at;
        if self.eat(Kind::Dash) {
            self.skip_space();
        }
        let (start, first) = (self.offset(self.at), self.at);
        if !matches!(self.peek(), Some(Kind::Number { .. } | Kind::Glyph(..))) {
            let example = self.example(feet.numerator * 12 * 2 + 9 * feet.denominator, 2 * feet.denominator);
            return Err(self.fault(begin, "inches", example));
        }
        let inches = self.mixed()?;
        let scale = self.scale();
        self.skip_space();
        let total = self.resolve(feet, Some(Scale::Foot))?.0 + self.resolve(inches, Some(Scale::Inch))?.0;
        let sum = Stated::inches(total);
        if feet.written != Written::Whole {
            return Err(self.fault_at(feet.start, "whole feet before inches", self.text_of(sum)));
        }
        if matches!(scale, Some(scale) if scale != Scale::Inch) {
            return Err(self.fault(self.at - 1, "inches after feet", self.text_of(sum)));
        }
        if inches.numerator >= 12 * inches.denominator {
            return Err(self.fault_at(start, "less than 12 inches after feet", self.text_of(sum)));
        }
        if self.at < self.tokens.len() {
            return Err(self.fault(self.at.max(first), "the end", self.text_of(sum)));
        }
        Ok(total)
    }

    /// Refuses what is left over after a number and its unit.
    fn expect_end(&self, read: &Mixed, scale: Option<Scale>) -> Result<(), LengthFault> {
        if self.at >= self.tokens.len() {
            return Ok(());
        }
        let good = self.resolve(*read, scale.or(Some(self.family(None).into())));
        let example =
            good.map_or_else(|_| self.usual(), |(length, unit)| self.text_of(Stated { length, unit }));
        let expected = if scale.is_some() { "the end" } else { "a unit such as `in` or `mm`" };
        Err(self.fault(self.at, expected, example))
    }

    /// The length of a number in its unit, and the unit it is stated in.
    fn resolve(&self, number: Mixed, scale: Option<Scale>) -> Result<(Length, Unit), LengthFault> {
        let Some(scale) = scale.or_else(|| self.default.map(Scale::from)) else {
            return Err(self.no_unit(&number));
        };
        let unit = scale.unit();
        self.refuse_comma(&number, scale)?;
        if self.tokens.iter().all(|(kind, _)| !matches!(kind, Kind::Unit(_)))
            && number.written == Written::Fraction
            && unit == Unit::Millimetre
        {
            let example = format!("{} in", self.text.trim());
            let end = self.text.trim_end().len();
            return Err(self.fault_at(end, "`in`, since millimetres have no fractions", example));
        }
        let product = number.numerator * i128::from(scale.length().nm());
        let nm = product / number.denominator;
        if nm > i128::from(LONGEST.nm()) {
            return Err(self.too_long(number.start));
        }
        if product % number.denominator != 0 {
            let length = Length::from_nm(i64::try_from(nm).unwrap_or(0));
            let example =
                self.text_of(Stated { length: length.round_to_micrometre(), unit: Unit::Millimetre });
            let what = format!("{} is finer than a nanometre", self.quoted_from(number.start));
            return Err(LengthFault { offset: number.start, what, example, or: None });
        }
        Ok((Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX)), unit))
    }

    /// Refuses a comma in inches, and one in millimetres that may group thousands.
    fn refuse_comma(&self, number: &Mixed, scale: Scale) -> Result<(), LengthFault> {
        let Written::Comma { thousands } = number.written else { return Ok(()) };
        let decimal = |n: i128| self.example_in(n, number.denominator, scale);
        if scale.unit() == Unit::Inch {
            let example = decimal(number.numerator);
            return Err(self.fault_at(number.start, "a decimal point in inches", example));
        }
        match thousands {
            Some(whole) if scale != Scale::Metre => {
                let what =
                    format!("{} may be one length or a thousandth of it", self.quoted_from(number.start));
                let example = self.example_in(whole, 1, scale);
                let or = Some(decimal(number.numerator));
                Err(LengthFault { offset: number.start, what, example, or })
            }
            _ => Ok(()),
        }
    }

    fn no_unit(&self, number: &Mixed) -> LengthFault {
        let written = self.text.trim();
        let what = format!("`{}` has no unit", shown(written));
        let offset = self.text.trim_end().len();
        let inches = format!("{} in", shown(written));
        match number.written {
            Written::Whole | Written::Point => {
                LengthFault { offset, what, example: inches, or: Some(format!("{} mm", shown(written))) }
            }
            Written::Comma { .. } => {
                LengthFault { offset, what, example: format!("{} mm", shown(written)), or: None }
            }
            Written::Fraction => LengthFault { offset, what, example: inches, or: None },
        }
    }

    fn too_long(&self, offset: usize) -> LengthFault {
        self.fault_at(offset, "a length of at most 1 km", self.usual())
    }

    fn too_fine(&self, offset: usize, whole: &str, decimals: &str) -> LengthFault {
        let what = format!("{} is finer than a nanometre", self.quoted_from(offset));
        let whole = if whole.is_empty() { "0" } else { whole };
        let unit = if self.default.is_some() { "" } else { " mm" };
        LengthFault { offset, what, example: format!("{whole}.{}{unit}", &decimals[..3]), or: None }
    }

    fn quoted_from(&self, offset: usize) -> String {
        format!("`{}`", shown(self.text[offset..].trim_end()))
    }

    /// ``expected {what} after `{read so far}`, found `{the rest}` `` at the token `at`.
    fn fault(&self, at: usize, expected: &str, example: String) -> LengthFault {
        self.fault_at(self.offset(at), expected, example)
    }

    fn fault_at(&self, offset: usize, expected: &str, example: String) -> LengthFault {
        let before = self.text[..offset].trim_start();
        let found = self.text[offset..].trim_end();
        let after = if before.is_empty() { String::new() } else { format!(" after `{}`", shown_end(before)) };
        let found = if found.is_empty() { "the end".to_owned() } else { format!("`{}`", shown(found)) };
        let what = format!("expected {expected}{after}, found {found}");
        LengthFault { offset, what, example, or: None }
    }

    /// The family of a bare number: inches unless millimetres are the default or written.
    fn family(&self, scale: Option<Scale>) -> Unit {
        let written = self.tokens.iter().find_map(|(kind, _)| match kind {
            Kind::Unit(scale) => Some(scale.unit()),
            _ => None,
        });
        scale.map(Scale::unit).or(written).or(self.default).unwrap_or(Unit::Inch)
    }

    /// A length that could be meant by anything.
    fn usual(&self) -> String {
        match self.default {
            Some(Unit::Inch) => "23 3/16".to_owned(),
            Some(Unit::Millimetre) => "590".to_owned(),
            None => "23 3/16 in".to_owned(),
        }
    }

    /// `n / d` inches, or millimetres where they are the family, as an example.
    fn example(&self, n: i128, d: i128) -> String {
        self.example_in(n, d, Scale::Inch)
    }

    fn example_in(&self, n: i128, d: i128, scale: Scale) -> String {
        let nm = n.saturating_mul(i128::from(scale.length().nm())) / d.max(1);
        if nm > i128::from(LONGEST.nm()) {
            return self.usual();
        }
        self.text_of(Stated { length: Length::from_nm(i64::try_from(nm).unwrap_or(0)), unit: scale.unit() })
    }

    /// The nearest sixty-fourth to `whole + n / d`.
    fn nearest(&self, whole: i128, n: i64, d: i64) -> String {
        if d == 0 {
            return self.example(whole * 16 + 3, 16);
        }
        let sixty_fourths = (i128::from(n) * 128 + i128::from(d)) / (i128::from(d) * 2);
        self.example(whole * 64 + sixty_fourths.max(1), 64)
    }

    /// A length as an example: without its unit where that is the default.
    fn text_of(&self, stated: Stated) -> String {
        let text = stated.to_string();
        match self.default {
            Some(unit) => {
                text.strip_suffix(unit.symbol()).map_or(text.clone(), |bare| bare.trim_end().to_owned())
            }
            None => text,
        }
    }
}

/// A fraction below one after a whole number.
fn part(start: usize, whole: i128, n: i64, d: i64) -> Mixed {
    let (n, d) = (i128::from(n), i128::from(d));
    Mixed { start, numerator: whole * d + n, denominator: d, written: Written::Fraction }
}

impl Scale {
    fn unit(self) -> Unit {
        match self {
            Scale::Foot | Scale::Inch => Unit::Inch,
            Scale::Millimetre | Scale::Centimetre | Scale::Metre => Unit::Millimetre,
        }
    }

    fn length(self) -> Length {
        match self {
            Scale::Foot => Length::FOOT,
            Scale::Inch => Length::INCH,
            Scale::Millimetre => Length::MM,
            Scale::Centimetre => Length::mm(10),
            Scale::Metre => Length::METRE,
        }
    }
}

impl From<Unit> for Scale {
    fn from(unit: Unit) -> Scale {
        match unit {
            Unit::Inch => Scale::Inch,
            Unit::Millimetre => Scale::Millimetre,
        }
    }
}

impl Length {
    /// Towards zero to whole micrometres.
    fn round_to_micrometre(self) -> Length {
        Length::from_nm(self.nm() / 1000 * 1000)
    }
}
