//! Words of the messages.

pub(super) const TEXT: &str = "text in quotes";
pub(super) const TABLE: &str = "a table";
pub(super) const LIST: &str = "a list";
pub(super) const TRUTH: &str = "`true` or `false`";
pub(super) const WHOLE: &str = "a whole number";

/// `what; write "x"` in its two halves.
pub(super) fn split_remedy(said: &str) -> (String, Option<String>) {
    match said.rsplit_once("; write ") {
        Some((what, remedy)) => (what.to_owned(), Some(format!("write {remedy}"))),
        None => (said.to_owned(), None),
    }
}

/// The text in the first quotes of a remedy: `write "24 in" or "24 mm"`.
pub(super) fn example(said: &str) -> Option<&str> {
    let (_, rest) = said.rsplit_once("; write \"")?;
    rest.split('"').next()
}

/// `` `a`, `b` and `c` ``
pub(super) fn listed(words: &[&str], last: &str) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.as_slice() {
        [rest @ .., end] if !rest.is_empty() => format!("{} {last} {end}", rest.join(", ")),
        all => all.concat(),
    }
}
