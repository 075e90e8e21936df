//! One open project: its plan file, what follows from it, edits of it, and what is written out.
//!
//! This is where files are read and written; every other library is pure. Nothing is ever written over unless
//! the caller says so, and what is written appears whole or not at all.

mod answers;
mod cut;
mod demo;
mod desk;
mod export;
mod file;
mod files;
mod job;
mod open;
mod remedy;
pub mod shown;
mod start;
mod why;
mod wire;

pub use cut::{CutAnswer, CutSearch, JobFaults};
pub use demo::{DEMOS, Demo, Mistake, demo};
pub use desk::{Desk, DeskFault};
pub use dryfit_measure::{Pointer, Unit};
pub use dryfit_packet::PacketFault;
pub use dryfit_plan::{Edit, EditRefused};
pub use export::{Exported, Form, lay_down};
pub use file::{
    Attachment, FileFault, LARGEST_ATTACHMENT, Moment, Past, ProjectFile, Salvage, Standing, salvage,
};
pub use files::{Overwrite, ReadFault, WriteFault, is_project_file, new_folder, read_text, write};
pub use job::{Job, JobFault};
pub use open::{OpenFault, Project};
pub use remedy::{Change, Remedied, RemedyFault};
pub use start::new_room;
pub use why::{NoSuchDimension, Why};
pub use wire::Report;

/// The JSON Schema of a plan, indented.
pub fn schema() -> String {
    format!("{:#}\n", dryfit_plan::schema())
}
