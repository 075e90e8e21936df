//! From values to types, finding every fault.
//!
//! Serde stops at the first value that does not fit. So the values are read again and again: each round, what
//! was found wrong or missing is noted and replaced by a *stand-in*, some value of the type that is wanted there,
//! until a round comes through. The types themselves are the only description of what is allowed: a stand-in
//! learns what would do from the message of the type that refused it, which also gives the remedy its example.

mod choice;
mod kinds;
mod lists;
mod log;
mod reader;
mod refusal;
mod tables;
mod words;

use std::cell::RefCell;
use std::ops::Range;

use dryfit_measure::Pointer;
use serde::de::DeserializeOwned;

use self::log::Log;
use self::reader::Reader;
use crate::dom::Node;

/// Reads a `T` from `root`, or finds what is wrong with it, by place.
pub(crate) fn read<T: DeserializeOwned>(root: &Node) -> Result<T, Vec<Found>> {
    let log = RefCell::new(Log::default());
    loop {
        let before = log.borrow().progress();
        let read = T::deserialize(Reader::root(root, &log));
        let (clean, stuck) = (log.borrow().faults.is_empty(), log.borrow().progress() == before);
        match read {
            Ok(value) if clean => return Ok(value),
            Err(_) if !stuck && log.borrow().faults.len() < MOST => {}
            _ => break,
        }
    }
    Err(log.into_inner().finish())
}

/// The most faults that are looked for in one text.
pub(crate) const MOST: usize = 200;

/// One thing that is wrong.
#[derive(Debug)]
pub(crate) struct Found {
    pub at: Pointer,
    pub span: Option<Range<usize>>,
    pub what: String,
    pub remedy: Option<String>,
    /// Whether it is the absence of a key.
    pub is_missing: bool,
    /// How many were found before it.
    pub order: usize,
}
