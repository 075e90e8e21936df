//! Numbers with their parts apart, and words with numbers among them.

use dryfit_measure::{Dim, Figure, Fineness, Length, Pointer, Reason, Rounding, Stated, Toward, Unit};
use dryfit_plan::Plan;
use serde::Serialize;

/// A length at a mark of the tape.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Number {
    /// A minus before it.
    pub minus: bool,
    /// Whole feet; none where it is not in feet and inches.
    pub feet: Option<String>,
    /// The whole number; none where only a fraction is printed.
    pub whole: Option<String>,
    /// The numerator; empty where there is no fraction.
    pub top: String,
    /// The denominator.
    pub bottom: String,
    /// Which way it was rounded: "up", "down", or nothing where it is exact.
    pub rounded: String,
    /// The same in plain text, without its unit: `18 1/16`.
    pub plain: String,
    /// Its unit, for those who hear it: "inches".
    pub unit: String,
}

/// A stretch of a line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Run {
    /// Words.
    Text(String),
    /// Words that must not be missed.
    Strong(String),
    /// Words that were struck out.
    Struck(String),
    /// The number of a part in a ring.
    Ring(u32),
    /// A gate.
    Gate(u32),
    /// A number.
    Number(Number),
}

/// How a number stands that can be pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum HeldState {
    /// The builder gave it: it is typed in place.
    Given,
    /// Given, but as "about".
    About,
    /// A reading that does not fit the others.
    Wrong,
    /// It follows from others: it unfolds its reason.
    Follows,
}

/// What stands behind a number that can be pressed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Held {
    /// What to ask for its reason: `b4.width`; empty for a mere statement.
    pub of: String,
    /// Where it is stated, if it is.
    pub at: Option<String>,
    /// What it is, in words: "b4 width".
    pub what: String,
    /// How it stands.
    pub state: HeldState,
    /// What to begin with when it is typed: `24`.
    pub typed: String,
}

impl From<Figure> for Number {
    fn from(figure: Figure) -> Number {
        let digits = |whole: i64| whole.to_string();
        let tenths = if figure.tenths > 0 { format!(".{}", figure.tenths) } else { String::new() };
        let fraction = figure.numerator > 0;
        Number {
            minus: figure.negative,
            feet: figure.feet.map(digits),
            whole: figure.whole.map(|whole| format!("{whole}{tenths}")),
            top: if fraction { figure.numerator.to_string() } else { String::new() },
            bottom: if fraction { figure.denominator.to_string() } else { String::new() },
            rounded: match figure.off {
                Rounding::Exact => "",
                Rounding::Up => "up",
                Rounding::Down => "down",
            }
            .to_owned(),
            plain: figure.bare().to_string(),
            unit: match figure.unit {
                Unit::Inch => "inches",
                Unit::Millimetre => "millimetres",
            }
            .to_owned(),
        }
    }
}

/// The number of a length: to the mark it stands on, however fine; off every mark, to the nearest of the plan's.
pub(super) fn number(length: Length, fineness: Fineness) -> Number {
    figure(length, fineness).into()
}

fn figure(length: Length, fineness: Fineness) -> Figure {
    let finer: &[Fineness] = match fineness.unit() {
        Unit::Inch => &[Fineness::In16, Fineness::In32, Fineness::In64],
        Unit::Millimetre => &[Fineness::Mm1, Fineness::HalfMm],
    };
    let exact = finer.iter().find(|fineness| length.round_to(**fineness, Toward::Nearest) == length);
    length.figure(*exact.unwrap_or(&fineness), Toward::Nearest)
}

/// A doubt of so many millimetres, rounded up at the finest marks; none where it is less than a tenth of one.
pub(super) fn doubt(sigma: f64, fineness: Fineness) -> Option<Number> {
    let finest = match fineness.unit() {
        Unit::Inch => Fineness::In32,
        Unit::Millimetre => Fineness::HalfMm,
    };
    let wide = Length::from_mm_f64(sigma * 1.96);
    (wide.nm() * 10 > finest.step().nm()).then(|| wide.figure(finest, Toward::Up).into())
}

/// Words as runs, every fraction of an inch in them as a number.
///
/// ```
/// use dryfit_project::shown::{Run, rich};
/// let runs = rich("b4 hits the handle by 1 5/16 in");
/// assert_eq!(runs[0], Run::Text("b4 hits the handle by ".into()));
/// let Run::Number(number) = &runs[1] else { panic!("a number") };
/// assert_eq!((number.whole.as_deref(), number.top.as_str(), number.plain.as_str()), (Some("1"), "5", "1 5/16"));
/// assert_eq!(runs[2], Run::Text(" in".into()));
/// assert_eq!(rich("on 1/3 and a/1/2").len(), 1);
/// ```
pub fn rich(text: &str) -> Vec<Run> {
    let mut runs = Vec::new();
    let mut plain = String::new();
    let mut rest = text;
    let mut before = ' ';
    while let Some(letter) = rest.chars().next() {
        let bounded = !before.is_alphanumeric() && !matches!(before, '/' | '.' | ',');
        if let (true, Some((number, length))) = (bounded && letter.is_ascii_digit(), fraction(rest)) {
            if !plain.is_empty() {
                runs.push(Run::Text(std::mem::take(&mut plain)));
            }
            runs.push(Run::Number(number));
            before = '0';
            rest = &rest[length..];
            continue;
        }
        plain.push(letter);
        before = letter;
        rest = &rest[letter.len_utf8()..];
    }
    if !plain.is_empty() {
        runs.push(Run::Text(plain));
    }
    runs
}

/// `1 5/16` or `5/16` at the start of a text, with how many bytes it takes.
fn fraction(text: &str) -> Option<(Number, usize)> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let first = digits(text);
    let (whole, at) = match text[first..].strip_prefix(' ') {
        Some(next) if digits(next) > 0 && next[digits(next)..].starts_with('/') => {
            (Some(&text[..first]), first + 1)
        }
        _ => (None, 0),
    };
    let top = digits(&text[at..]);
    let bottom_at = at + top + 1;
    if !text[at + top..].starts_with('/') {
        return None;
    }
    let bottom = digits(&text[bottom_at..]);
    let denominator = &text[bottom_at..bottom_at + bottom];
    let length = bottom_at + bottom;
    let ends = !text[length..].starts_with(|c: char| c.is_alphanumeric() || c == '/');
    (ends && ["2", "4", "8", "16", "32", "64"].contains(&denominator)).then(|| {
        let number = Number {
            minus: false,
            feet: None,
            whole: whole.map(str::to_owned),
            top: text[at..at + top].to_owned(),
            bottom: denominator.to_owned(),
            rounded: String::new(),
            plain: text[..length].to_owned(),
            unit: "inches".to_owned(),
        };
        (number, length)
    })
}

/// Where a dimension is stated, when it is nothing but a statement under another name.
pub(super) fn stated_at(dim: &Dim) -> Option<&Pointer> {
    match dim.reason() {
        Reason::Taped { at } | Reason::Chosen { at } => Some(at),
        Reason::Sum { terms } => match &terms[..] {
            [only] if only.times == 1 => stated_at(&only.dim),
            _ => None,
        },
        Reason::Rounded { of, .. } | Reason::Decided { of, .. } => stated_at(of),
        _ => None,
    }
}

/// The length that is stated at a place, if what stands there is one.
pub(super) fn stated_length(plan: &serde_json::Value, at: &str) -> Option<Stated> {
    plan.pointer(at)?.as_str()?.parse().ok()
}

/// What stands behind a derived dimension: its statement, or its reason.
pub(super) fn held(of: &str, dim: &Dim, plan: &serde_json::Value) -> Held {
    let stated = stated_at(dim).and_then(|at| Some((at, stated_length(plan, at.as_str())?)));
    // a good's measured size is given for all that is made of it: it is changed with the goods, not here
    let stated = stated.filter(|(at, _)| !at.as_str().starts_with("/goods/"));
    Held {
        of: of.to_owned(),
        at: stated.map(|(at, _)| at.to_string()),
        what: of.replace(['.', '/'], " "),
        state: if stated.is_some() { HeldState::Given } else { HeldState::Follows },
        typed: stated.map_or_else(String::new, |(_, stated)| bare(stated)),
    }
}

/// A statement as it is typed: without the unit.
pub(super) fn bare(stated: Stated) -> String {
    let text = stated.to_string();
    text.trim_end_matches(" in").trim_end_matches(" mm").to_owned()
}

/// A plan as the JSON that its addresses point into.
pub(super) fn json(plan: &Plan) -> serde_json::Value {
    plan.to_json()
}
