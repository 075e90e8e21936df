//! `dryfit packet`: the shop packet of a plan.

use std::path::PathBuf;

use clap::Args;
use dryfit_project::{Overwrite, Project, write};

use crate::progress::Doing;
use crate::said::{Ended, Fault, Outcome, count, say};

/// Print the shop packet: what may be cut today, page by page, as a PDF
#[derive(Args)]
pub struct Packet {
    /// The plan
    plan: PathBuf,
    /// The PDF to write
    #[arg(short, long, value_name = "PDF")]
    output: PathBuf,
    /// Write over a PDF that is there already
    #[arg(long)]
    replace: bool,
    /// Date to print on it, instead of today's
    #[arg(long)]
    date: Option<String>,
}

impl Packet {
    /// Writes the packet, even when something stops: its cover then says so.
    pub fn run(self) -> Ended {
        let project = {
            let _doing = Doing::now("working out the plan");
            Project::open(&self.plan)?
        };
        let pdf = set(&project, self.date)?;
        let overwrite = if self.replace { Overwrite::Replace } else { Overwrite::Refuse };
        write(&self.output, &pdf, overwrite)?;
        say(&format!("packet: {} ({})\n", self.output.display(), count(&project.report())))?;
        Ok(Outcome::unless(project.stops()))
    }
}

/// The packet with a date on it: the one place where the calendar is asked.
pub fn set(project: &Project, date: Option<String>) -> Result<Vec<u8>, Fault> {
    let _doing = Doing::now("setting the packet in type");
    let date = date.unwrap_or_else(|| jiff::Zoned::now().strftime("%-d %B %Y").to_string());
    Ok(project.packet(Some(date))?)
}
