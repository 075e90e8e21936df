//! `dryfit schema`: the form of a plan, for editors.

use clap::Args;
use dryfit_project::schema;

use crate::said::{Ended, Outcome, say};

/// Print the JSON Schema of a plan, for an editor to check against while you type
#[derive(Args)]
pub struct Schema {}

impl Schema {
    /// Prints it.
    pub fn run() -> Ended {
        say(&schema())?;
        Ok(Outcome::Fine)
    }
}
