//! `dryfit check`: what there is to say about a plan.

use std::path::PathBuf;

use clap::Args;
use dryfit_project::Project;

use crate::progress::Doing;
use crate::said::{Ended, Outcome, findings, say};

/// Say what will not fit, what may not, and what would mend it
#[derive(Args)]
pub struct Check {
    /// The plan
    plan: PathBuf,
    /// Say it as JSON
    #[arg(long)]
    json: bool,
}

impl Check {
    /// Prints the findings.
    pub fn run(self) -> Ended {
        let project = {
            let _doing = Doing::now("working out the plan");
            Project::open(&self.plan)?
        };
        let report = project.report();
        say(&if self.json { report.to_json() } else { findings(&report) })?;
        Ok(Outcome::unless(project.stops()))
    }
}
