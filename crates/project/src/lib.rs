//! One open project: its plan file, what follows from it, edits of it, and what is written out.
//!
//! This is where files are read and written; every other library is pure. Nothing is ever written over unless
//! the caller says so, and what is written appears whole or not at all.

mod demo;
mod files;

pub use demo::{DEMOS, Demo, demo};
pub use files::{Overwrite, WriteFault, write_new};
