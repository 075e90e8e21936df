//! The marks a written length is made of: numbers, slashes, primes, unit words.

use std::ops::Range;
use winnow::ascii::digit1;
use winnow::combinator::{alt, opt, preceded, repeat};
use winnow::error::{ContextError, ErrMode};
use winnow::stream::LocatingSlice;
use winnow::token::{any, one_of, take_while};
use winnow::{ModalResult, Parser};

/// One mark of a written length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind<'t> {
    /// Digits, and what stands after a point or comma.
    Number { whole: &'t str, point: Option<(char, &'t str)> },
    /// A fraction in one character, such as `¾`.
    Glyph(i64, i64),
    /// `/` or the fraction slash.
    Slash,
    /// `-`, or a dash or minus sign typed for it.
    Dash,
    /// A unit, by mark or word.
    Unit(Scale),
    /// Blank of any width.
    Space,
    /// Anything else.
    Other,
}

/// A unit that lengths are written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Scale {
    Foot,
    Inch,
    Millimetre,
    Centimetre,
    Metre,
}

/// A mark and the bytes it takes.
pub(crate) type Token<'t> = (Kind<'t>, Range<usize>);

type Input<'t> = LocatingSlice<&'t str>;

/// The marks of a text, in order and without gaps.
pub(crate) fn tokens(text: &str) -> Vec<Token<'_>> {
    let all: Result<Vec<Token<'_>>, ErrMode<ContextError>> =
        repeat(0.., token.with_span()).parse_next(&mut Input::new(text));
    // every character is at least `Other`, so this always reads to the end
    all.unwrap_or_default()
}

fn token<'t>(input: &mut Input<'t>) -> ModalResult<Kind<'t>> {
    alt((number, space, any.verify_map(mark), word, any.value(Kind::Other))).parse_next(input)
}

fn number<'t>(input: &mut Input<'t>) -> ModalResult<Kind<'t>> {
    let decimals = opt((one_of(['.', ',']), digit1));
    let full = (digit1, decimals).map(|(whole, point)| Kind::Number { whole, point });
    let short = preceded('.', digit1).map(|digits| Kind::Number { whole: "", point: Some(('.', digits)) });
    alt((full, short)).parse_next(input)
}

fn space<'t>(input: &mut Input<'t>) -> ModalResult<Kind<'t>> {
    take_while(1.., is_blank).value(Kind::Space).parse_next(input)
}

fn word<'t>(input: &mut Input<'t>) -> ModalResult<Kind<'t>> {
    let doubled = alt(("''", "\u{2032}\u{2032}", "\u{2019}\u{2019}")).value(Kind::Unit(Scale::Inch));
    let single = one_of(['\'', '\u{2032}', '\u{2019}']).value(Kind::Unit(Scale::Foot));
    let letters = (take_while(1.., char::is_alphabetic), opt('.')).verify_map(|(letters, _): (&str, _)| {
        let scale = match letters.to_lowercase().as_str() {
            "ft" | "foot" | "feet" => Scale::Foot,
            "in" | "inch" | "inches" => Scale::Inch,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Scale::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Scale::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Scale::Metre,
            _ => return None,
        };
        Some(Kind::Unit(scale))
    });
    alt((doubled, single, letters)).parse_next(input)
}

/// Blank of any width, and what pasted text carries along unseen.
pub(crate) fn is_blank(c: char) -> bool {
    c.is_whitespace() || matches!(c, '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2060}' | '\u{feff}')
}

/// The marks of one character.
fn mark<'t>(c: char) -> Option<Kind<'t>> {
    Some(match c {
        '/' | '\u{2044}' | '\u{2215}' => Kind::Slash,
        '-' | '\u{2010}'..='\u{2014}' | '\u{2212}' => Kind::Dash,
        '"' | '\u{2033}' | '\u{201d}' => Kind::Unit(Scale::Inch),
        '\u{bd}' => Kind::Glyph(1, 2),
        '\u{bc}' => Kind::Glyph(1, 4),
        '\u{be}' => Kind::Glyph(3, 4),
        '\u{215b}' => Kind::Glyph(1, 8),
        '\u{215c}' => Kind::Glyph(3, 8),
        '\u{215d}' => Kind::Glyph(5, 8),
        '\u{215e}' => Kind::Glyph(7, 8),
        '\u{2150}' => Kind::Glyph(1, 7),
        '\u{2151}' => Kind::Glyph(1, 9),
        '\u{2152}' => Kind::Glyph(1, 10),
        '\u{2153}' => Kind::Glyph(1, 3),
        '\u{2154}' => Kind::Glyph(2, 3),
        '\u{2155}' => Kind::Glyph(1, 5),
        '\u{2156}' => Kind::Glyph(2, 5),
        '\u{2157}' => Kind::Glyph(3, 5),
        '\u{2158}' => Kind::Glyph(4, 5),
        '\u{2159}' => Kind::Glyph(1, 6),
        '\u{215a}' => Kind::Glyph(5, 6),
        _ => return None,
    })
}
