//! The order a person lists keys in: `b2` before `b10`.

use std::cmp::Ordering;

/// Compares two texts by their runs of digits as numbers and everything else by code point.
///
/// Equal only if the texts are: where the numbers agree (`b02`, `b2`) the plain order of the texts decides.
///
/// ```
/// use dryfit_measure::natural_order;
/// let mut keys = ["b10", "b2", "AB", "b02", "b"];
/// keys.sort_by(|a, b| natural_order(a, b));
/// assert_eq!(keys, ["AB", "b", "b02", "b2", "b10"]);
/// ```
pub fn natural_order(a: &str, b: &str) -> Ordering {
    let (mut left, mut right) = (a, b);
    loop {
        let (left_digits, right_digits) = (digits(left), digits(right));
        if left_digits > 0 && right_digits > 0 {
            let (number, rest) = left.split_at(left_digits);
            let (other_number, other_rest) = right.split_at(right_digits);
            match compare_numbers(number, other_number) {
                Ordering::Equal => (left, right) = (rest, other_rest),
                unequal => return unequal,
            }
            continue;
        }
        let (mut left_chars, mut right_chars) = (left.chars(), right.chars());
        match (left_chars.next(), right_chars.next()) {
            (None, None) => return a.cmp(b),
            (c, d) if c == d => (left, right) = (left_chars.as_str(), right_chars.as_str()),
            (c, d) => return c.cmp(&d),
        }
    }
}

/// Compares two runs of digits as the numbers they write, however long.
fn compare_numbers(a: &str, b: &str) -> Ordering {
    let (a, b) = (a.trim_start_matches('0'), b.trim_start_matches('0'));
    a.len().cmp(&b.len()).then_with(|| a.cmp(b))
}

/// How many bytes of ASCII digits a text begins with.
fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}
