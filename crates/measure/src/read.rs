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
use crate::token::{Kind, Scale, Token, is_blank, tokens};
use crate::unit::Unit;

/// The longest length that is read: one kilometre, either way from zero.
pub const LONGEST: Length = Length::from_nm(1_000_000_000_000);

/// The most decimals that are looked at: a picometre, as a part of a metre.
const DECIMALS: usize = 12;

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
    let reader = Reader { text, tokens: tokens(text), at: 0, negative: false, default };
    reader.length()
}

/// A number as it was written: `whole + numerator / denominator`, exact.
#[derive(Clone, Copy)]
struct Mixed {
    /// The first byte of it.
    start: usize,
    /// Its value times `denominator`.
    numerator: i128,
    /// Above zero.
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
    /// The token at hand.
    at: usize,
    negative: bool,
    /// The unit of a bare number; without one the unit must be written.
    default: Option<Unit>,
}

impl<'t> Reader<'t> {
    fn length(mut self) -> Result<Stated, LengthFault> {
        if self.text.chars().all(is_blank) {
            let what = "expected a length, found nothing".to_owned();
            return Err(LengthFault { offset: self.text.len(), what, example: self.usual(), or: None });
        }
        self.skip_space();
        self.negative = self.eat(Kind::Dash);
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
        Ok(Stated { length: if self.negative { -length } else { length }, unit })
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
        self.tokens.get(at).map_or(self.text.trim_end_matches(is_blank).len(), |(_, span)| span.start)
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

    /// Whether the token `at` is a slash, or one between blanks. After a blank and before none (`23 /16`), it
    /// is one whose numerator was left out.
    fn slash_follows(&self, at: usize) -> bool {
        let slash = self.after_space(at);
        let spaced = |gap: usize| self.kind(gap) == Some(Kind::Space);
        self.kind(slash) == Some(Kind::Slash) && (!spaced(at) || spaced(slash + 1))
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
        let (blank, dash) = (self.peek() == Some(Kind::Space), self.peek() == Some(Kind::Dash));
        let at = joint + usize::from(blank || dash);
        let usual = self.example(whole.numerator * 16 + 3, 16);
        let fraction = match self.kind(at) {
            Some(Kind::Glyph(n, d)) => {
                self.at = at;
                self.glyph(whole.numerator, n, d)?
            }
            Some(Kind::Number { .. }) if at > joint && self.slash_follows(at + 1) => {
                self.at = at;
                self.fraction(whole.numerator, self.offset(at))?
            }
            Some(Kind::Number { .. }) if dash || (blank && self.family() == Unit::Inch) => {
                return Err(self.fault(at, "a fraction such as 3/16", usual));
            }
            Some(Kind::Slash) if blank => return Err(self.fault(at, "a fraction such as 3/16", usual)),
            Some(Kind::Dash) if blank => {
                // a dash between blanks would be a minus sign
                self.at = self.after_space(at + 1);
                let meant = self.fraction(whole.numerator, whole.start);
                let example = meant.map_or_else(|_| usual, |m| self.example(m.numerator, m.denominator));
                return Err(self.fault(at, "a fraction such as 3/16", example));
            }
            _ if dash => return Err(self.fault(at, "a fraction such as 3/16", usual)),
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
        let number = |digits: &str| digits.parse::<i128>().unwrap_or(0);
        let (kept, lost) = decimals.split_at(decimals.len().min(DECIMALS));
        let written = match point {
            None => Written::Whole,
            Some((',', digits)) => {
                let grouped = digits.len() == 3 && matches!(whole.len(), 1..=3) && !whole.starts_with('0');
                Written::Comma { thousands: grouped.then(|| number(whole) * 1000 + number(digits)) }
            }
            Some(_) => Written::Point,
        };
        let tens = 10_i128.pow(kept.len() as u32);
        let (numerator, denominator) = (number(significant) * tens + number(kept), tens);
        if !lost.is_empty() {
            // what is cut off counts as half a place, which no unit makes a whole nanometre: it will be refused
            let (numerator, denominator) = (2 * numerator + 1, 2 * denominator);
            return Ok(Mixed { start: self.offset(self.at), numerator, denominator, written });
        }
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
            return Err(self.fault(self.at - 1, "inches", self.text_of(sum)));
        }
        if inches.numerator >= 12 * inches.denominator {
            return Err(self.fault_at(start, "less than a foot of inches", self.text_of(sum)));
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
        let expected = match (scale, self.default) {
            (Some(_), _) => "the end",
            (None, Some(_)) => "a unit or the end",
            (None, None) => "a unit such as `in` or `mm`",
        };
        let meant = self.grouped(read).or_else(|| {
            let likely = if read.written == Written::Fraction { Unit::Inch } else { self.family() };
            let (length, unit) = self.resolve(*read, scale.or(Some(likely.into()))).ok()?;
            Some(self.text_of(Stated { length, unit }))
        });
        Err(self.fault(self.at, expected, meant.unwrap_or_else(|| self.usual())))
    }

    /// The number that was meant where its thousands are apart: `1 500`, `1,500.5`.
    fn grouped(&self, read: &Mixed) -> Option<String> {
        let scale = self.written_scale().or_else(|| self.default.map(Scale::from))?;
        match (read.written, self.peek()?) {
            (Written::Whole, Kind::Number { whole, point: None }) if whole.len() == 3 => {
                let thousands = read.numerator * 1000 + whole.parse::<i128>().ok()?;
                Some(self.example_in(thousands, 1, scale))
            }
            (Written::Comma { thousands: Some(t) }, Kind::Number { whole: "", point: Some((_, d)) }) => {
                let d = d.get(..d.len().min(3))?;
                let tens = 10_i128.pow(d.len() as u32);
                Some(self.example_in(t * tens + d.parse::<i128>().ok()?, tens, scale))
            }
            _ => None,
        }
    }

    /// The length of a number in its unit, and the unit it is stated in.
    fn resolve(&self, number: Mixed, written: Option<Scale>) -> Result<(Length, Unit), LengthFault> {
        let Some(scale) = written.or_else(|| self.default.map(Scale::from)) else {
            return Err(self.no_unit(&number));
        };
        self.refuse_comma(&number, scale)?;
        if written.is_none() && number.written == Written::Fraction && scale.unit() == Unit::Millimetre {
            let what = format!(
                "{} is a fraction, which millimetres are not written in",
                self.quoted_from(number.start)
            );
            return Err(LengthFault {
                offset: number.start,
                what,
                example: self.with_unit(Unit::Inch),
                or: None,
            });
        }
        let product = number.numerator * i128::from(scale.length().nm());
        let nm = product / number.denominator;
        if nm > i128::from(LONGEST.nm()) {
            return Err(self.too_long(number.start));
        }
        let length = Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX));
        if product % number.denominator != 0 {
            return Err(self.too_fine(number.start, length, scale.unit()));
        }
        Ok((length, scale.unit()))
    }

    /// Refuses a comma in inches, and one anywhere that may group thousands.
    fn refuse_comma(&self, number: &Mixed, scale: Scale) -> Result<(), LengthFault> {
        let Written::Comma { thousands } = number.written else { return Ok(()) };
        let decimal = self.example_in(number.numerator, number.denominator, scale);
        match thousands {
            // a thousand metres and more are not read, so there the comma can only be a decimal one
            Some(whole) if scale != Scale::Metre => {
                let example = self.example_in(whole, 1, scale);
                Err(self.two_readings(number.start, example, decimal))
            }
            _ if scale.unit() == Unit::Inch => {
                Err(self.fault_at(number.start, "a decimal point in inches", decimal))
            }
            _ => Ok(()),
        }
    }

    fn two_readings(&self, offset: usize, thousands: String, decimal: String) -> LengthFault {
        let what = format!("{} may be one length or a thousandth of it", self.quoted_from(offset));
        LengthFault { offset, what, example: thousands, or: Some(decimal) }
    }

    fn no_unit(&self, number: &Mixed) -> LengthFault {
        let text = shown(self.text.trim_matches(is_blank));
        let (example, or) = match number.written {
            Written::Whole | Written::Point => {
                (self.with_unit(Unit::Inch), Some(self.with_unit(Unit::Millimetre)))
            }
            Written::Fraction => (self.with_unit(Unit::Inch), None),
            Written::Comma { thousands: None } => (self.with_unit(Unit::Millimetre), None),
            Written::Comma { thousands: Some(whole) } => {
                let decimal = self.example_in(number.numerator, number.denominator, Scale::Millimetre);
                let whole = self.example_in(whole, 1, Scale::Millimetre);
                return self.two_readings(number.start, whole, decimal);
            }
        };
        let offset = self.text.trim_end_matches(is_blank).len();
        LengthFault { offset, what: format!("`{text}` has no unit"), example, or }
    }

    fn too_long(&self, offset: usize) -> LengthFault {
        self.fault_at(offset, "a length of at most 1 km", self.usual())
    }

    /// Refuses a decimal that no whole number of nanometres gives; `length` is the one just below.
    fn too_fine(&self, offset: usize, length: Length, unit: Unit) -> LengthFault {
        let step = match unit {
            Unit::Inch => Length::sixty_fourths(1),
            Unit::Millimetre => Length::um(1),
        };
        let length = step * length.fits(step).max(1);
        let what = format!("{} is finer than a nanometre", self.quoted_from(offset));
        LengthFault { offset, what, example: self.text_of(Stated { length, unit }), or: None }
    }

    fn quoted_from(&self, offset: usize) -> String {
        format!("`{}`", shown(self.text[offset..].trim_end_matches(is_blank)))
    }

    /// ``expected {what} after `{read so far}`, found `{the rest}` `` at the token `at`.
    fn fault(&self, at: usize, expected: &str, example: String) -> LengthFault {
        self.fault_at(self.offset(at), expected, example)
    }

    fn fault_at(&self, offset: usize, expected: &str, example: String) -> LengthFault {
        let before = self.text[..offset].trim_start_matches(is_blank);
        let found = self.text[offset..].trim_end_matches(is_blank);
        let after = if before.is_empty() { String::new() } else { format!(" after `{}`", shown_end(before)) };
        let found = if found.is_empty() { "the end".to_owned() } else { format!("`{}`", shown(found)) };
        let what = format!("expected {expected}{after}, found {found}");
        LengthFault { offset, what, example, or: None }
    }

    /// The first unit that is written anywhere.
    fn written_scale(&self) -> Option<Scale> {
        self.tokens.iter().find_map(|(kind, _)| match kind {
            Kind::Unit(scale) => Some(*scale),
            _ => None,
        })
    }

    /// The family of a bare number: the written one, else the default, else inches.
    fn family(&self) -> Unit {
        self.written_scale().map(Scale::unit).or(self.default).unwrap_or(Unit::Inch)
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

    /// A length as an example: with the sign that was written, without its unit where that is the default.
    fn text_of(&self, stated: Stated) -> String {
        let length = if self.negative { -stated.length } else { stated.length };
        let text = Stated { length, ..stated }.to_string();
        let bare = self.default.and_then(|unit| text.strip_suffix(unit.symbol()));
        bare.map_or(text.clone(), |bare| bare.trim_end().to_owned())
    }

    /// The text as it was written, with a unit after it; or what would do, if that is too fine or too long.
    fn with_unit(&self, unit: Unit) -> String {
        let text = format!("{} {unit}", self.text.trim_matches(is_blank));
        match read_stated(&text, None) {
            Ok(_) => text,
            Err(fault) => fault.example,
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
