//! What was found so far, and what stands in for it.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use dryfit_measure::Pointer;

use super::Found;
use super::words::listed;

/// What was found so far, and what stands in for it.
#[derive(Default)]
pub(super) struct Log {
    pub faults: BTreeMap<Pointer, (Found, Remedy)>,
    /// Members of tables that were read without a fault: once there is a fault, they need not be read again.
    pub sound: BTreeSet<Pointer>,
    /// Places that are not read but stood in for, with a text that will do once it is known.
    pub stand_ins: BTreeMap<Pointer, Option<String>>,
    /// How a stand-in is written.
    pub written: BTreeMap<Pointer, String>,
    /// The words that would do as well as the one that stands in.
    pub others: BTreeMap<Pointer, &'static [&'static str]>,
}

/// A remedy as far as it is known when its fault is found.
pub(super) enum Remedy {
    Said(Option<String>),
    /// Write the value that stands in at this place, under this key.
    Add(Pointer, String),
    /// Write this text, with the value that stands in at this place in the middle.
    Around(Pointer, String, String),
}

impl Log {
    pub(super) fn progress(&self) -> usize {
        self.faults.len() + self.stand_ins.len() + self.stand_ins.values().flatten().count()
    }

    /// Notes a fault of a value, unless it has one already.
    pub(super) fn note(&mut self, at: &Pointer, span: Option<&Range<usize>>, what: String, remedy: Remedy) {
        self.note_as(at.clone(), at, span, what, remedy);
    }

    /// Notes a fault of a key itself, apart from those of its value.
    pub(super) fn note_key(
        &mut self,
        at: &Pointer,
        span: Option<&Range<usize>>,
        what: String,
        remedy: Option<String>,
    ) {
        self.note_as(key_place(at), at, span, what, Remedy::Said(remedy));
    }

    fn note_as(
        &mut self,
        kept: Pointer,
        at: &Pointer,
        span: Option<&Range<usize>>,
        what: String,
        remedy: Remedy,
    ) {
        let order = self.faults.len();
        let is_missing = matches!(remedy, Remedy::Add(..));
        let found = Found { at: at.clone(), span: span.cloned(), what, remedy: None, is_missing, order };
        self.faults.entry(kept).or_insert((found, remedy));
    }

    pub(super) fn stand_in(&mut self, at: &Pointer) {
        self.stand_ins.entry(at.clone()).or_insert(None);
    }

    pub(super) fn is_stood_in(&self, at: &Pointer) -> bool {
        self.stand_ins.contains_key(at)
    }

    pub(super) fn finish(self) -> Vec<Found> {
        let Log { faults, written, others, .. } = self;
        let example = |at: &Pointer| written.get(at).map_or("..", String::as_str);
        let resolved = faults.into_values().map(|(found, remedy)| {
            let remedy = match remedy {
                Remedy::Said(said) => said,
                Remedy::Add(at, key) => {
                    let or = others.get(&at).map(|words| format!(" (or {})", listed(words, "or")));
                    Some(format!("add `{key} = {}`{}", example(&at), or.unwrap_or_default()))
                }
                Remedy::Around(at, before, after) => Some(format!("write `{before}{}{after}`", example(&at))),
            };
            Found { remedy, ..found }
        });
        let mut all: Vec<Found> = resolved.collect();
        all.sort_by_key(|found| found.order);
        all
    }
}

/// Where the log keeps what it knows of a key itself, apart from the key's value.
pub(super) fn key_place(at: &Pointer) -> Pointer {
    at.child("(key)")
}
