//! The keys that name things in a plan.

use crate::fault::{TextFault, quoted};
use crate::natural::natural_order;
use crate::text::written_as_text;
use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;
use std::sync::Arc;

/// The key of a thing in a plan: `b3`, `AB`, `ply-18`. It never moves and is never used again.
///
/// One to forty ASCII letters, digits, `-` and `_`, beginning with a letter or digit. Keys are ordered as a
/// person lists them, `b2` before `b10` (see [`natural_order`]); the clone is cheap.
///
/// ```
/// use dryfit_measure::Key;
/// let key: Key = "b3".parse()?;
/// assert!(key < "b10".parse()?);
/// assert_eq!(
///     Key::new("base 3").unwrap_err().to_string(),
///     "expected a key of letters, digits, `-` and `_`, found ` ` in `base 3`; write \"base-3\""
/// );
/// assert_eq!(Key::new("").unwrap_err().to_string(), "expected a key, found nothing; write \"b3\"");
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Key(Arc<str>);

/// The most characters a key may have.
const MOST: usize = 40;

impl Key {
    /// Reads a key.
    pub fn new(text: &str) -> Result<Key, TextFault> {
        let allowed = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        let what = if text.is_empty() {
            "expected a key, found nothing".to_owned()
        } else if let Some(c) = text.chars().find(|&c| !allowed(c)) {
            let (c, all) = (quoted(&c.to_string()), quoted(text));
            format!("expected a key of letters, digits, `-` and `_`, found {c} in {all}")
        } else if text.starts_with(['-', '_']) {
            format!("expected a key that begins with a letter or digit, found {}", quoted(text))
        } else if text.len() > MOST {
            format!("expected a key of at most {MOST} characters, found {}", text.len())
        } else {
            return Ok(Key(text.into()));
        };
        Err(TextFault { what, example: nearest_key(text) })
    }

    /// A key written in code.
    ///
    /// # Panics
    /// If it is not one: never give it input.
    pub fn literal(text: &'static str) -> Key {
        match Key::new(text) {
            Ok(key) => key,
            Err(fault) => panic!("{fault}"),
        }
    }

    /// The key's text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// A key like `text`: what is not allowed becomes `-`.
fn nearest_key(text: &str) -> String {
    let swapped: String =
        text.chars().map(|c| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' }).collect();
    let start = swapped.trim_start_matches(['-', '_']);
    let short: String = start.chars().take(MOST).collect();
    let kept = short.trim_end_matches('-');
    if kept.is_empty() { "b3".to_owned() } else { kept.to_owned() }
}

impl PartialOrd for Key {
    fn partial_cmp(&self, other: &Key) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Key {
    fn cmp(&self, other: &Key) -> Ordering {
        natural_order(&self.0, &other.0)
    }
}

impl PartialEq<str> for Key {
    fn eq(&self, other: &str) -> bool {
        &*self.0 == other
    }
}

impl PartialEq<&str> for Key {
    fn eq(&self, other: &&str) -> bool {
        &*self.0 == *other
    }
}

impl AsRef<str> for Key {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl fmt::Debug for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", &*self.0)
    }
}

impl FromStr for Key {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Key, TextFault> {
        Key::new(text)
    }
}

written_as_text!(
    Key,
    "Key",
    "the key of a thing in the plan",
    "^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$",
    ["b3", "AB", "ply-18"]
);
