//! An address in a plan: a JSON Pointer (RFC 6901).

use crate::fault::{TextFault, shown};
use crate::natural::natural_order;
use crate::text::written_as_text;
use std::borrow::Cow;
use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;
use std::sync::Arc;

/// A place in a plan, as RFC 6901 writes it: `/units/b3/width`. The root is the empty text.
///
/// Within a segment `~` is written `~0` and `/` is written `~1`. Places are ordered segment by segment as a
/// person lists them, so `/units/b2` comes before `/units/b10`; the clone is cheap.
///
/// ```
/// use dryfit_measure::Pointer;
/// let width = Pointer::root().child("units").child("b3").child("width");
/// assert_eq!(width.to_string(), "/units/b3/width");
/// assert_eq!(Pointer::root().child("1/2 ply~a").to_string(), "/1~12 ply~0a");
/// assert_eq!(
///     Pointer::parse("units/b3").unwrap_err().to_string(),
///     "expected `/` at the start of a place, found `units/b3`; write \"/units/b3\""
/// );
/// ```
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Pointer(Arc<str>);

impl Pointer {
    /// The whole plan.
    pub fn root() -> Pointer {
        Pointer("".into())
    }

    /// Reads a pointer.
    pub fn parse(text: &str) -> Result<Pointer, TextFault> {
        if !text.is_empty() && !text.starts_with('/') {
            return Err(TextFault::new("`/` at the start of a place", text, format!("/{}", shown(text))));
        }
        let bad = text
            .match_indices('~')
            .find(|&(at, _)| !matches!(text.as_bytes().get(at + 1), Some(b'0' | b'1')));
        match bad {
            Some((at, _)) => {
                let example = format!("{}~0{}", shown(&text[..at]), shown(&text[at + 1..]));
                Err(TextFault::new("`0` or `1` after `~` in a place", &text[at..], example))
            }
            None => Ok(Pointer(text.into())),
        }
    }

    /// The place under `key` of this one.
    #[must_use]
    pub fn child(&self, key: impl AsRef<str>) -> Pointer {
        let key = key.as_ref();
        let mut text = String::with_capacity(self.0.len() + 1 + key.len());
        text.push_str(&self.0);
        text.push('/');
        for c in key.chars() {
            match c {
                '~' => text.push_str("~0"),
                '/' => text.push_str("~1"),
                c => text.push(c),
            }
        }
        Pointer(text.into())
    }

    /// The place at `index` of this list.
    #[must_use]
    pub fn index(&self, index: usize) -> Pointer {
        self.child(index.to_string())
    }

    /// The place that holds this one, if it is not the root.
    pub fn parent(&self) -> Option<Pointer> {
        self.0.rfind('/').map(|at| Pointer(self.0[..at].into()))
    }

    /// The keys on the way, unescaped.
    pub fn segments(&self) -> impl DoubleEndedIterator<Item = Cow<'_, str>> {
        // the root has no segments, and every other pointer begins with an empty one that is none
        self.raw().map(unescape)
    }

    /// The last key, unescaped.
    pub fn last(&self) -> Option<Cow<'_, str>> {
        self.segments().next_back()
    }

    /// Whether this place is `other` or within it.
    ///
    /// ```
    /// use dryfit_measure::Pointer;
    /// let b1 = Pointer::root().child("units").child("b1");
    /// assert!(b1.child("width").is_within(&b1));
    /// assert!(!Pointer::root().child("units").child("b10").is_within(&b1));
    /// ```
    pub fn is_within(&self, other: &Pointer) -> bool {
        self.0.strip_prefix(&*other.0).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
    }

    /// The pointer's text, escaped.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    fn raw(&self) -> impl DoubleEndedIterator<Item = &str> {
        let rest = self.0.strip_prefix('/');
        rest.into_iter().flat_map(|rest| rest.split('/'))
    }
}

/// One segment as the key it stands for.
fn unescape(segment: &str) -> Cow<'_, str> {
    if segment.contains('~') { segment.replace("~1", "/").replace("~0", "~").into() } else { segment.into() }
}

impl Ord for Pointer {
    fn cmp(&self, other: &Pointer) -> Ordering {
        let (mut left, mut right) = (self.segments(), other.segments());
        loop {
            match (left.next(), right.next()) {
                (Some(a), Some(b)) => match natural_order(&a, &b) {
                    Ordering::Equal => {}
                    unequal => return unequal,
                },
                (a, b) => return a.is_some().cmp(&b.is_some()),
            }
        }
    }
}

impl PartialOrd for Pointer {
    fn partial_cmp(&self, other: &Pointer) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl fmt::Display for Pointer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl fmt::Debug for Pointer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", &*self.0)
    }
}

impl FromStr for Pointer {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Pointer, TextFault> {
        Pointer::parse(text)
    }
}

written_as_text!(
    Pointer,
    "Pointer",
    "a place in the plan, as a JSON Pointer (RFC 6901)",
    "^(/([^/~]|~[01])*)*$",
    ["", "/units/b3/width"]
);

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The examples of RFC 6901 section 5, with the keys they stand for.
    #[test]
    fn rfc_6901_examples() {
        for (text, keys) in [
            ("", &[][..]),
            ("/foo", &["foo"]),
            ("/foo/0", &["foo", "0"]),
            ("/", &[""]),
            ("/a~1b", &["a/b"]),
            ("/c%d", &["c%d"]),
            ("/e^f", &["e^f"]),
            ("/g|h", &["g|h"]),
            ("/i\\j", &["i\\j"]),
            ("/k\"l", &["k\"l"]),
            ("/ ", &[" "]),
            ("/m~0n", &["m~n"]),
            ("/~01", &["~1"]),
        ] {
            let pointer = Pointer::parse(text).expect(text);
            assert_eq!(pointer.segments().collect::<Vec<_>>(), keys, "{text}");
            assert_eq!(keys.iter().fold(Pointer::root(), |p, key| p.child(key)), pointer);
        }
    }

    #[test]
    fn faults_name_the_place() {
        assert_eq!(
            Pointer::parse("/a/b~2").expect_err("no such escape").to_string(),
            "expected `0` or `1` after `~` in a place, found `~2`; write \"/a/b~02\""
        );
        assert!(Pointer::parse("/a~").is_err());
    }

    #[test]
    fn order_is_by_segment_and_natural() {
        let mut places: Vec<Pointer> =
            ["/units/b10", "/units/b2/width", "/units-x", "/units/b2", "", "/units"]
                .map(|text| Pointer::parse(text).expect(text))
                .into();
        places.sort();
        let sorted: Vec<&str> = places.iter().map(Pointer::as_str).collect();
        assert_eq!(sorted, ["", "/units", "/units/b2", "/units/b2/width", "/units/b10", "/units-x"]);
    }

    proptest! {
        #[test]
        fn segments_round_trip(keys in prop::collection::vec(".*", 0..5)) {
            let pointer = keys.iter().fold(Pointer::root(), |p, key| p.child(key));
            let read = Pointer::parse(pointer.as_str()).expect("own text reads");
            prop_assert_eq!(&read, &pointer);
            prop_assert_eq!(read.segments().map(Cow::into_owned).collect::<Vec<_>>(), keys.clone());
            prop_assert_eq!(pointer.parent().is_some(), !keys.is_empty());
        }

        #[test]
        fn reading_never_panics(text in ".*") {
            let _ = Pointer::parse(&text);
        }
    }
}
