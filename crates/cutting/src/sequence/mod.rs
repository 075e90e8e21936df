//! The order of cuts for a person at the saw.

mod lengths;
mod sheets;

pub use lengths::{BarCut, BarSequence, Stop, bar_sequences};
pub use sheets::{
    Cut, CutKind, CutSequence, Edge, Freed, Offcut, Purpose, Setting, cut_sequence, cut_sequences,
};
