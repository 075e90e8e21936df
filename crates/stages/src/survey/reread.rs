//! Re-reading a number as it was typed: what it may have been, had the builder misread the tape or mistyped.

use std::collections::BTreeSet;

use dryfit_measure::{Length, Stated, Unit, read_length};
use dryfit_plan::{Held, Reading};

use super::LikelySlip;

/// Digits that are taken for each other on a worn tape or in a hasty hand.
const ALIKE: [(char, char); 7] =
    [('6', '8'), ('6', '9'), ('8', '9'), ('3', '8'), ('3', '9'), ('3', '6'), ('1', '7')];

/// The lengths that a reading may have been meant to be, the likeliest kinds of slip first, each once.
///
/// `body` is the length of the tape's case. A lean keeps its sign.
pub(crate) fn misreadings(reading: &Reading, body: Option<Length>) -> Vec<LikelySlip> {
    let stated = reading.length;
    let text = typed(reading);
    let sign = if stated.length.is_negative() { -1 } else { 1 };
    let mut known = BTreeSet::from([stated.length]);
    let mut found = Vec::new();
    let mut offer = |length: Length, how: String| {
        if (length * sign).is_positive() && known.insert(length) {
            found.push(LikelySlip { length, how });
        }
    };
    for (text, how) in retyped(&text) {
        if let Ok(other) = read_length(&text, stated.unit) {
            offer(other.length.abs() * sign, how);
        }
    }
    let shifted = |by: Length| stated.length + by * sign;
    if let Some(body) = body {
        offer(shifted(body), "the tape's body not added".to_owned());
        offer(shifted(-body), "the tape's body added twice".to_owned());
    }
    let units: &[(Length, &str)] = match stated.unit {
        Unit::Inch => &[(Length::INCH, "an inch"), (Length::FOOT, "a foot")],
        Unit::Millimetre => &[
            (Length::mm(10), "a centimetre"),
            (Length::mm(100), "ten centimetres"),
            (Length::METRE, "a metre"),
        ],
    };
    if reading.how == Held::BurntInch {
        let (burnt, _) = units[0];
        offer(shifted(-burnt), "the burnt inch not taken off".to_owned());
        offer(shifted(burnt), "the burnt inch taken off twice".to_owned());
    }
    for (unit, name) in units {
        offer(shifted(*unit), format!("{name} too little"));
        offer(shifted(-*unit), format!("{name} too much"));
    }
    found
}

/// The number as typed, without words that follow it; the resolved length where the text does not read as it.
fn typed(reading: &Reading) -> String {
    let stated = reading.length;
    let end = reading.text.rfind(|c: char| c.is_ascii_digit()).map_or(0, |i| i + 1);
    let text = reading.text[..end].trim().trim_start_matches(['-', '+']).to_owned();
    let reads = read_length(&text, stated.unit).is_ok_and(|read| read.length == stated.length.abs());
    if reads { text } else { Stated::new(stated.length.abs(), stated.unit).to_string() }
}

/// The text with one slip undone, and what the slip was.
fn retyped(text: &str) -> Vec<(String, String)> {
    let letters: Vec<char> = text.chars().collect();
    let put = |changes: &[(usize, char)]| {
        let mut letters = letters.clone();
        for &(i, c) in changes {
            letters[i] = c;
        }
        letters.into_iter().collect::<String>()
    };
    let mut found = Vec::new();
    for i in 0..letters.len().saturating_sub(1) {
        let (a, b) = (letters[i], letters[i + 1]);
        if a.is_ascii_digit() && b.is_ascii_digit() && a != b {
            found.push((put(&[(i, b), (i + 1, a)]), format!("{b}{a} read as {a}{b}")));
        }
    }
    for (i, &digit) in letters.iter().enumerate() {
        for (a, b) in ALIKE {
            let other = if digit == a {
                b
            } else if digit == b {
                a
            } else {
                continue;
            };
            found.push((put(&[(i, other)]), format!("{other} read as {digit}")));
        }
    }
    found.extend(fractions(text));
    found
}

/// The ten of a fraction's numerator read or left out: 3/16 for 13/16.
fn fractions(text: &str) -> Vec<(String, String)> {
    let Some(slash) = text.find('/') else { return vec![] };
    let start = text[..slash].rfind(|c: char| !c.is_ascii_digit()).map_or(0, |i| i + 1);
    let end = text[slash + 1..].find(|c: char| !c.is_ascii_digit()).map_or(text.len(), |i| slash + 1 + i);
    let (Ok(n), Ok(d)) = (text[start..slash].parse::<u32>(), text[slash + 1..end].parse::<u32>()) else {
        return vec![];
    };
    let other = if n > 10 { n - 10 } else { n.saturating_add(10) };
    if other >= d {
        return vec![];
    }
    let put = format!("{}{other}/{d}{}", &text[..start], &text[end..]);
    vec![(put, format!("{other}/{d} read as {n}/{d}"))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use dryfit_measure::Key;
    use dryfit_plan::{Doubt, Subject};

    fn reading(text: &str, unit: Unit, how: Held) -> Reading {
        let key = |text| Key::new(text).expect("a key");
        Reading {
            epoch: key("e"),
            by: key("t"),
            of: Subject::Span { from: key("A"), to: key("B") },
            height: None,
            how,
            length: read_length(text, unit).expect("a length"),
            text: text.to_owned(),
            doubt: Doubt::Plain,
            set_aside: None,
        }
    }

    fn how(reading: &Reading, meant: Length) -> Option<String> {
        let body = Some(Length::inches(3, 0, 1));
        misreadings(reading, body).into_iter().find(|slip| slip.length == meant).map(|slip| slip.how)
    }

    #[test]
    fn slips_are_undone() {
        for (text, meant, expect) in [
            ("98 5/8", Length::inches(96, 5, 8), "6 read as 8"),
            ("135 7/8", Length::inches(153, 7, 8), "53 read as 35"),
            ("118 3/16", Length::inches(118, 13, 16), "13/16 read as 3/16"),
            ("118 13/16\"", Length::inches(118, 3, 16), "3/16 read as 13/16"),
            ("96", Length::inches(99, 0, 1), "9 read as 6"),
            ("97 1/2", Length::inches(98, 1, 2), "an inch too little"),
            ("97 1/2", Length::inches(85, 1, 2), "a foot too much"),
            ("97 1/2", Length::inches(100, 1, 2), "the tape's body not added"),
            ("5' 4 1/2", Length::inches(76, 1, 2), "a foot too little"),
        ] {
            assert_eq!(how(&reading(text, Unit::Inch, Held::Hook), meant).as_deref(), Some(expect), "{text}");
        }
        let burnt = reading("97 1/2", Unit::Inch, Held::BurntInch);
        let meant = Length::inches(96, 1, 2);
        assert_eq!(how(&burnt, meant).as_deref(), Some("the burnt inch not taken off"));
        let metric = reading("2438", Unit::Millimetre, Held::Hook);
        assert_eq!(how(&metric, Length::mm(2348)).as_deref(), Some("34 read as 43"));
        assert_eq!(how(&metric, Length::mm(2448)).as_deref(), Some("a centimetre too little"));
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_taken(text in ".{0,24}", nm in -3_000_000_000_i64..9_000_000_000) {
            let mut odd = reading("97 1/2", Unit::Inch, Held::Hook);
            odd.text = text;
            odd.length.length = Length::from_nm(nm);
            for slip in misreadings(&odd, Some(Length::INCH)) {
                proptest::prop_assert!(slip.length != odd.length.length);
            }
        }
    }
}
