//! What is said when a text cannot be read: what was expected, what was found, and one that would do.

use std::fmt;

/// Why a text is not a length, where in it, and how it could be written.
///
/// Printed on one line, in lower case, without a full stop.
///
/// ```
/// use dryfit_measure::{Unit, read_length};
/// let fault = read_length("23 3/", Unit::Inch).unwrap_err();
/// assert_eq!(fault.offset, 3);
/// assert_eq!(
///     fault.to_string(),
///     "expected a fraction such as 3/16 after `23 `, found `3/`; write \"23 3/16\""
/// );
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LengthFault {
    /// Where the fault stands, in bytes from the start of the text.
    pub offset: usize,
    /// What was expected and what was found.
    pub what: String,
    /// A text that would do.
    pub example: String,
    /// Another text that would do, where two readings are as likely.
    pub or: Option<String>,
}

impl fmt::Display for LengthFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; write \"{}\"", self.what, self.example)?;
        self.or.iter().try_for_each(|or| write!(f, " or \"{or}\""))
    }
}

impl std::error::Error for LengthFault {}

/// Why a text is not the key, amount, rate, mass, angle, unit or place that it should be, and one that would
/// do. Printed on one line, in lower case, without a full stop.
///
/// ```
/// use dryfit_measure::Unit;
/// let fault = "px".parse::<Unit>().unwrap_err();
/// assert_eq!(fault.to_string(), "expected `in` or `mm`, found `px`; write \"in\"");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}; write \"{example}\"")]
pub struct TextFault {
    /// What was expected and what was found.
    pub what: String,
    /// A text that would do.
    pub example: String,
}

impl TextFault {
    /// ``expected {expected}, found `{found}` `` and the example.
    pub(crate) fn new(expected: &str, found: &str, example: impl Into<String>) -> TextFault {
        TextFault { what: format!("expected {expected}, found {}", quoted(found)), example: example.into() }
    }
}

/// The most characters of somebody's text that a message repeats.
const SHOWN: usize = 32;

/// A text as a message repeats it: between backticks, cut short, without control characters or line ends.
pub(crate) fn quoted(text: &str) -> String {
    if text.is_empty() { "nothing".to_owned() } else { format!("`{}`", shown(text)) }
}

/// The start of a text, without control characters or line ends.
pub(crate) fn shown(text: &str) -> String {
    // line ends, and the marks that turn the direction of what follows
    let unruly = |c: char| c.is_control() || matches!(c, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let clean = |c: char| if unruly(c) { ' ' } else { c };
    let mut out: String = text.chars().take(SHOWN).map(clean).collect();
    if text.chars().nth(SHOWN).is_some() {
        out.push_str("..");
    }
    out
}

/// The end of a text, without control characters or line ends.
pub(crate) fn shown_end(text: &str) -> String {
    let count = text.chars().count();
    let start = text.char_indices().nth(count.saturating_sub(SHOWN)).map_or(0, |(at, _)| at);
    let cut = if start > 0 { ".." } else { "" };
    format!("{cut}{}", shown(&text[start..]))
}
