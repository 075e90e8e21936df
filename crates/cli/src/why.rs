//! `dryfit why`: where a number comes from.

use std::path::PathBuf;

use clap::Args;
use dryfit_project::Project;

use crate::said::{Ended, Outcome, say};

/// Explain a dimension down to the readings and wishes that it follows from
#[derive(Args)]
#[command(
    after_help = "Examples:\n  dryfit why room.toml b1.width\n  dryfit why room.toml b3/door.d2/rail.top.length\n  dryfit why room.toml AB.length"
)]
pub struct Why {
    /// The plan
    plan: PathBuf,
    /// The place and the dimension, split at the last dot
    #[arg(value_name = "PLACE.DIMENSION")]
    asked: String,
}

impl Why {
    /// Prints the reason.
    pub fn run(self) -> Ended {
        let project = Project::open(&self.plan)?;
        let why = project.why(&self.asked)?;
        let mut text = String::new();
        for line in &why.lines {
            text.push_str(&"  ".repeat(line.depth));
            text.push_str(&line.text);
            text.push('\n');
        }
        say(&text)?;
        Ok(Outcome::Fine)
    }
}
