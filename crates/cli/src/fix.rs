//! `dryfit fix`: take a finding's remedy.

use std::fmt::Write as _;
use std::path::PathBuf;

use clap::{ArgGroup, Args};
use dryfit_project::{Job, Overwrite, Project, Remedied, is_project_file, write};

use crate::file::now;

use crate::said::{Ended, Outcome, say};

/// Take a remedy that a finding offers: show the edit and write the plan after it
#[derive(Args)]
#[command(group = ArgGroup::new("where").required(true))]
pub struct Fix {
    /// The plan
    plan: PathBuf,
    /// The finding, as `check` names it: RULE:SUBJECTS, or RULE where only one has it
    finding: String,
    /// Which of its remedies
    #[arg(long, default_value_t = 1, value_name = "N")]
    remedy: usize,
    /// The plan to write
    #[arg(short, long, group = "where", value_name = "NEW")]
    output: Option<PathBuf>,
    /// Write over the plan itself
    #[arg(long, group = "where")]
    in_place: bool,
    /// Only show the edit
    #[arg(long, group = "where")]
    dry_run: bool,
}

impl Fix {
    /// Shows the edit, then writes.
    pub fn run(self) -> Ended {
        if self.in_place && is_project_file(&self.plan) {
            return self.journalled();
        }
        let project = Project::open(&self.plan)?;
        let remedied = project.remedied(&self.finding, self.remedy)?;
        if let Some(output) = &self.output {
            write(output, remedied.project.text.as_bytes(), Overwrite::Refuse)?;
        } else if self.in_place {
            write(&self.plan, remedied.project.text.as_bytes(), Overwrite::Replace)?;
        }
        let mut text = shown(&remedied);
        if let Some(path) = self.output.as_ref().or(self.in_place.then_some(&self.plan)) {
            let _ = writeln!(text, "written: {}", path.display());
        }
        say(&text)?;
        Ok(Outcome::Fine)
    }
}

impl Fix {
    /// In a project file the remedy is an edit like any other: `undo` takes it back.
    fn journalled(self) -> Ended {
        let mut job = Job::open(&self.plan)?;
        let remedied = job.project().remedied(&self.finding, self.remedy)?;
        job.edit(&remedied.edit, &now())?;
        job.close()?;
        say(&format!("{}kept in: {}\n", shown(&remedied), self.plan.display()))?;
        Ok(Outcome::Fine)
    }
}

fn shown(remedied: &Remedied) -> String {
    let mut text = format!("{}\n", remedied.label);
    for change in &remedied.changes {
        let value = |value: &Option<String>| value.clone().unwrap_or_else(|| "nothing".to_owned());
        let _ = writeln!(text, "  {}: {} -> {}", change.at, value(&change.was), value(&change.is));
    }
    for id in &remedied.cleared {
        let _ = writeln!(text, "clears: {id}");
    }
    for id in &remedied.raised {
        let _ = writeln!(text, "brings: {id}");
    }
    text
}
