//! One open project: its plan file, what follows from it, edits of it, and what is written out.
//!
//! This is where files are read and written; every other library is pure. Nothing is ever written over unless
//! the caller says so, and what is written appears whole or not at all.

mod cut;
mod demo;
mod files;
mod open;
mod remedy;
mod why;
mod wire;

pub use cut::{CutAnswer, CutSearch, JobFaults};
pub use demo::{DEMOS, Demo, Mistake, demo};
pub use dryfit_packet::PacketFault;
pub use files::{Overwrite, ReadFault, WriteFault, new_folder, read_text, write};
pub use open::{OpenFault, Project};
pub use remedy::{Change, Remedied, RemedyFault};
pub use why::{NoSuchDimension, Why};
pub use wire::Report;

/// The JSON Schema of a plan, indented.
pub fn schema() -> String {
    format!("{:#}\n", dryfit_plan::schema())
}
