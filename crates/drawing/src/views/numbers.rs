//! The numbers that parts carry in a drawing and in the table beside it: local to their page, equal parts together.

use std::collections::BTreeMap;

use dryfit_stages::casework::Part;

/// Parts under their numbers.
#[derive(Clone, Debug)]
pub struct Numbered<'a> {
    /// Equal parts together, in the order of the page.
    pub lots: Vec<Vec<&'a Part>>,
    /// The number of each role; the first lot has number one unless told otherwise.
    pub numbers: BTreeMap<&'a str, u32>,
}

impl<'a> Numbered<'a> {
    /// Numbers these parts; `size` says what they are cut to. Left and right parts are never one lot.
    pub fn new<S: PartialEq>(parts: impl Iterator<Item = &'a Part>, size: impl Fn(&Part) -> S) -> Self {
        let mut lots: Vec<Vec<&Part>> = Vec::new();
        let alike = |a: &Part, b: &Part| {
            a.name == b.name
                && a.good == b.good
                && a.hand == b.hand
                && a.good_face == b.good_face
                && a.front_edge.is_some() == b.front_edge.is_some()
                && size(a) == size(b)
        };
        for part in parts {
            match lots.iter_mut().find(|lot| alike(lot[0], part)) {
                Some(lot) => lot.push(part),
                None => lots.push(vec![part]),
            }
        }
        Numbered { numbers: BTreeMap::new(), lots }.from(1)
    }

    /// Every part under a number of its own.
    pub fn single(parts: &[&'a Part]) -> Self {
        Numbered { numbers: BTreeMap::new(), lots: parts.iter().map(|part| vec![*part]).collect() }.from(1)
    }

    /// The same, numbered from another number on.
    #[must_use]
    pub fn from(mut self, first: u32) -> Self {
        let lots = &self.lots;
        let numbers =
            (first..).zip(lots).flat_map(|(n, lot)| lot.iter().map(move |part| (part.role.as_str(), n)));
        self.numbers = numbers.collect();
        self
    }
}
