//! Why a dimension has its value.

use crate::dim::Dim;
use crate::pointer::Pointer;
use crate::unit::{Fineness, Toward};
use std::fmt;
use std::sync::Arc;

/// Why a dimension has its value: a leaf that names a place or a rule, or what was done to other dimensions.
///
/// Reasons form a shared graph. A clone is cheap, and nothing here walks it as a tree. Read one to see the last
/// step; to follow it, use [`Trace`](crate::Trace) or [`explain`](crate::explain()).
///
/// ```
/// use dryfit_measure::{Dim, Length, Pointer, Reason};
/// let side = Dim::taped(Length::mm(18), Pointer::parse("/goods/ply/measured/thickness").unwrap());
/// let both = &side * 2;
/// let Reason::Sum { terms } = both.reason() else { panic!("a sum") };
/// assert_eq!((terms[0].times, terms[0].dim.length()), (2, Length::mm(18)));
/// ```
#[derive(Clone)]
pub enum Reason {
    /// Measured: the reading, or the measured size of a good, at this place in the plan.
    Taped {
        /// The place.
        at: Pointer,
    },
    /// A stated wish at this place in the plan.
    Chosen {
        /// The place.
        at: Pointer,
    },
    /// A rule of the handbook.
    Rule {
        /// The rule's id.
        id: Arc<str>,
    },
    /// Adjusted from all these readings together, each with the change of the length per change of the reading.
    Adjusted {
        /// The readings and their derivatives.
        readings: Arc<[(Pointer, f64)]>,
    },
    /// A linear combination. One unnamed single term under a name is that term by another name.
    Sum {
        /// What is summed, each so many times; never zero times.
        terms: Arc<[Term]>,
    },
    /// One of the parts of an exact split, as [`Length::split`](crate::Length::split) makes them.
    Share {
        /// What is split.
        of: Dim,
        /// Into how many parts.
        parts: usize,
        /// Which of them this is, from 0.
        index: usize,
    },
    /// The least or the greatest of several; the losers are named too.
    Extreme {
        /// The least, or else the greatest.
        least: bool,
        /// Which of them it is.
        winner: usize,
        /// All that were compared.
        of: Arc<[Dim]>,
    },
    /// Brought to a mark.
    Rounded {
        /// What was rounded.
        of: Dim,
        /// The marks.
        fineness: Fineness,
        /// Which way.
        toward: Toward,
    },
    /// A dimension times a factor.
    Scaled {
        /// What was scaled.
        of: Dim,
        /// The factor.
        factor: f64,
        /// Where the factor comes from, in a few words.
        why: Arc<str>,
    },
    /// Taken rather than another because of a stated choice that is no length: a joint, a hand, a count.
    Decided {
        /// What was taken.
        of: Dim,
        /// The places of the choices.
        by: Arc<[Pointer]>,
    },
    /// Worked out in another way: a short phrase, and the dimensions that went in, each with the change of the
    /// result per change of it.
    From {
        /// What was done, as a noun that `of` can follow: "diagonal".
        how: Arc<str>,
        /// What went in, with the derivatives.
        inputs: Arc<[(Dim, f64)]>,
    },
}

/// A dimension taken so many times in a sum.
#[derive(Clone, Debug)]
pub struct Term {
    /// How many times; below zero it is taken away.
    pub times: i64,
    /// The dimension.
    pub dim: Dim,
}

impl Reason {
    /// The dimensions that this one is made from, each with the change of this per change of it.
    ///
    /// A rounding passes changes on as they are; of a least or greatest only the winner moves the result.
    pub fn inputs(&self) -> Vec<(&Dim, f64)> {
        match self {
            Reason::Taped { .. } | Reason::Chosen { .. } | Reason::Rule { .. } | Reason::Adjusted { .. } => {
                vec![]
            }
            Reason::Sum { terms } => terms.iter().map(|term| (&term.dim, term.times as f64)).collect(),
            Reason::Share { of, parts, .. } => vec![(of, 1.0 / *parts as f64)],
            Reason::Extreme { winner, of, .. } => {
                of.iter().enumerate().map(|(i, dim)| (dim, if i == *winner { 1.0 } else { 0.0 })).collect()
            }
            Reason::Rounded { of, .. } | Reason::Decided { of, .. } => vec![(of, 1.0)],
            Reason::Scaled { of, factor, .. } => vec![(of, *factor)],
            Reason::From { inputs, .. } => inputs.iter().map(|(dim, slope)| (dim, *slope)).collect(),
        }
    }

    /// Taped, chosen or a rule: nothing further stands behind it but the place or id it names.
    pub(crate) const fn is_leaf(&self) -> bool {
        matches!(self, Reason::Taped { .. } | Reason::Chosen { .. } | Reason::Rule { .. })
    }
}

impl fmt::Debug for Reason {
    /// One step, never the graph behind it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::Taped { at } => write!(f, "taped at {at}"),
            Reason::Chosen { at } => write!(f, "chosen at {at}"),
            Reason::Rule { id } => write!(f, "rule {id}"),
            Reason::Adjusted { readings } => write!(f, "adjusted from {} readings", readings.len()),
            Reason::Sum { terms } => write!(f, "sum of {}", terms.len()),
            Reason::Share { parts, index, .. } => write!(f, "part {} of {parts}", index + 1),
            Reason::Extreme { least: true, of, .. } => write!(f, "least of {}", of.len()),
            Reason::Extreme { least: false, of, .. } => write!(f, "greatest of {}", of.len()),
            Reason::Rounded { fineness, toward, .. } => write!(f, "rounded {toward:?} to {fineness}"),
            Reason::Scaled { factor, why, .. } => write!(f, "{factor} times, {why}"),
            Reason::Decided { by, .. } => write!(f, "decided at {} places", by.len()),
            Reason::From { how, .. } => write!(f, "{how}"),
        }
    }
}

/// A reason and what it is called. Dimensions that share it share one of these.
pub(crate) struct Node {
    pub(crate) name: Option<Arc<str>>,
    pub(crate) place: Option<Arc<str>>,
    pub(crate) reason: Reason,
}

impl Drop for Node {
    /// Lets go of what is behind it one by one: a chain of causes may be longer than the stack.
    fn drop(&mut self) {
        let mut open = self.release();
        while let Some(dim) = open.pop() {
            if let Some(mut last) = dim.into_last_node() {
                open.extend(last.release());
            }
        }
    }
}

impl Node {
    /// Takes the reason away, and gives what it was made from.
    fn release(&mut self) -> Vec<Dim> {
        if self.reason.is_leaf() {
            return Vec::new();
        }
        let nothing = Reason::Sum { terms: Arc::default() };
        let reason = std::mem::replace(&mut self.reason, nothing);
        reason.inputs().into_iter().map(|(dim, _)| dim.clone()).collect()
    }
}
