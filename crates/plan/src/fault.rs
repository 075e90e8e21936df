//! Faults: why a text is not a plan, each with its place and a remedy.

use std::fmt;
use std::ops::Range;

use dryfit_measure::Pointer;

/// Where in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The bytes.
    pub span: Range<usize>,
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
}

impl Spot {
    /// The spot of some bytes of `text`; a span that lies outside it is drawn in to its end.
    pub fn new(text: &str, span: Range<usize>) -> Spot {
        let start = text.floor_char_boundary(span.start);
        let end = text.ceil_char_boundary(span.end).max(start);
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line = before.matches('\n').count() + 1;
        Spot { span: start..end, line, column: before[line_start..].chars().count() + 1 }
    }
}

/// One reason why a text is not a plan.
///
/// Printed plainly it is one line; [`Fault::shown`] adds the line of the text with the place marked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where in the text, if it was read from one.
    pub spot: Option<Spot>,
    /// Where in the plan, as far as there is one.
    pub at: Option<Pointer>,
    /// What was expected and what was found.
    pub what: String,
    /// What to write instead.
    pub remedy: Option<String>,
}

impl Fault {
    /// A fault of the whole text.
    pub(crate) fn whole(what: impl Into<String>, remedy: impl Into<String>) -> Fault {
        Fault { spot: None, at: None, what: what.into(), remedy: Some(remedy.into()) }
    }

    /// The fault as several lines: what, the place in the file `name` and in the plan, the line of `text` with
    /// the place marked, and the remedy.
    ///
    /// ```
    /// use dryfit_plan::Plan;
    /// let text = include_str!("../../../demos/potting-room.toml").replace("sense =", "sence =");
    /// let faults = Plan::from_toml(&text).unwrap_err();
    /// assert_eq!(
    ///     faults[0].shown("room.toml", &text),
    ///     "\
    /// fault: unknown key: `sence`
    ///    at: room.toml:21:1 /room/sence
    ///        sence = \"clockwise\"
    ///        ^^^^^
    ///   fix: did you mean `sense`?
    /// "
    /// );
    /// ```
    pub fn shown(&self, name: &str, text: &str) -> String {
        let spot = self.spot.as_ref().map(|spot| format!(":{}:{}", spot.line, spot.column));
        let at = self.place().map(|at| format!(" {at}"));
        let (spot, at) = (spot.unwrap_or_default(), at.unwrap_or_default());
        let mut lines = vec![format!("fault: {}", self.what), format!("   at: {name}{spot}{at}")];
        if let Some(spot) = &self.spot {
            let (line, marks) = excerpt(text, spot);
            if !line.trim().is_empty() {
                lines.extend([format!("       {line}"), format!("       {marks}")]);
            }
        }
        lines.extend(self.remedy.iter().map(|remedy| format!("  fix: {remedy}")));
        lines.join("\n") + "\n"
    }

    /// Where in the plan, if that is not the whole of it.
    fn place(&self) -> Option<&Pointer> {
        self.at.as_ref().filter(|at| !at.as_str().is_empty())
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(spot) = &self.spot {
            write!(f, "line {}, column {}: ", spot.line, spot.column)?;
        }
        if let Some(at) = self.place() {
            write!(f, "{at}: ")?;
        }
        f.write_str(&self.what)?;
        self.remedy.iter().try_for_each(|remedy| write!(f, "; {remedy}"))
    }
}

impl std::error::Error for Fault {}

/// Characters of a line that are shown; of a longer one, a window round the place.
const WINDOW: usize = 96;
/// Characters shown before the place where a line is cut.
const LEAD: usize = 40;

/// The spot's first line, cut to a window, and marks under the place.
fn excerpt(text: &str, spot: &Spot) -> (String, String) {
    let start = text[..spot.span.start.min(text.len())].rfind('\n').map_or(0, |at| at + 1);
    let line = text[start..].lines().next().unwrap_or_default();
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    let chars: Vec<char> = line.chars().map(plain).collect();
    let from = spot.column - 1;
    let marked = text.get(spot.span.clone()).and_then(|marked| marked.lines().next()).unwrap_or_default();
    let to = from + marked.chars().count().max(1);
    let first = if chars.len() <= WINDOW { 0 } else { from.saturating_sub(LEAD).min(chars.len() - WINDOW) };
    let last = (first + WINDOW).min(chars.len());
    let (cut, end) = (if first > 0 { ".. " } else { "" }, if last < chars.len() { " .." } else { "" });
    let shown: String = chars[first..last].iter().collect();
    let marks = to.min(last).saturating_sub(from).max(1);
    let blank = " ".repeat(cut.len() + from - first);
    (format!("{cut}{}{end}", shown.trim_end()), format!("{blank}{}", "^".repeat(marks)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        let text = "a\n\u{bd}\u{bd} x";
        let spot = Spot::new(text, 7..8);
        assert_eq!((spot.line, spot.column), (2, 4));
        assert_eq!(Spot::new(text, 3..3).span, 2..4, "a span inside a character is widened to it");
        assert_eq!(Spot::new(text, 90..99).span, 8..8);
    }

    #[test]
    fn a_long_line_is_cut_round_the_place() {
        let text = format!("{}bad{}", "x".repeat(200), "y".repeat(200));
        let (line, marks) = excerpt(&text, &Spot::new(&text, 200..203));
        assert!(line.starts_with(".. x") && line.ends_with("y .."), "{line}");
        let at = marks.find('^').expect("a mark");
        assert_eq!(&line[at..at + 3], "bad");
        assert_eq!(marks.trim_start(), "^^^");
    }

    #[test]
    fn a_place_at_the_very_end_is_marked() {
        let (line, marks) = excerpt("abc", &Spot::new("abc", 3..3));
        assert_eq!((line.as_str(), marks.as_str()), ("abc", "   ^"));
    }
}
