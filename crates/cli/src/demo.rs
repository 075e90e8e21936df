//! `dryfit demo`: a project to look at.

use std::io::IsTerminal as _;
use std::path::{Path, PathBuf};

use clap::Args;
use dryfit_project::{DEMOS, Overwrite, Project, demo, new_folder, write};

use crate::open::Open;
use crate::packet::set;
use crate::progress::Doing;
use crate::said::{Ended, Outcome, count, say};

/// Write a demo project and its shop packet into a folder that is new or empty, and open the page on it
#[derive(Args)]
#[command(after_help = after_help())]
pub struct Demo {
    /// Which demo
    #[arg(default_value = DEMOS[0].name)]
    name: String,
    /// The folder; `dryfit-NAME` beside you unless you say otherwise
    #[arg(short, long, value_name = "DIR")]
    output: Option<PathBuf>,
    /// Date to print on the packet, instead of today's
    #[arg(long)]
    date: Option<String>,
    /// Write and end: no page. So it is too where the output is no terminal
    #[arg(long = "no-open")]
    only_write: bool,
}

fn after_help() -> String {
    let lines: Vec<String> = DEMOS.iter().map(|demo| format!("  {:<14}{}", demo.name, demo.about)).collect();
    format!("Demos:\n{}", lines.join("\n"))
}

impl Demo {
    /// Writes the plan and its packet.
    pub fn run(self) -> Ended {
        let Some(demo) = demo(&self.name) else {
            let names: Vec<&str> = DEMOS.iter().map(|demo| demo.name).collect();
            return Err(format!("no demo is called `{}`; there is {}", self.name, names.join(", ")).into());
        };
        let folder = self.output.unwrap_or_else(|| PathBuf::from(format!("dryfit-{}", demo.name)));
        let plan = demo.plan();
        let plan_name = format!("{}.toml", demo.name);
        let shows = !self.only_write && std::io::stdout().is_terminal();
        let job = folder.join(&plan_name).with_extension("dryfit");
        if shows && job.exists() {
            say(&format!("it is there already, and is opened as you left it: {}\n", job.display()))?;
            return open(&job);
        }
        let project = {
            let _doing = Doing::now("working out the room, its units, parts and sheets");
            Project::from_text(&plan_name, plan.to_string())?
        };
        let pdf = set(&project, self.date)?;
        new_folder(&folder)?;
        let (plan_path, pdf_path) = (folder.join(plan_name), folder.join(format!("{}.pdf", demo.name)));
        write(&plan_path, plan.as_bytes(), Overwrite::Refuse)?;
        write(&pdf_path, &pdf, Overwrite::Refuse)?;
        say(&format!(
            "{}: {}\nplan:   {}\npacket: {}\ntry:    dryfit why {} b1/side.left.length\n",
            project.plan.name,
            count(&project.report()),
            plan_path.display(),
            pdf_path.display(),
            plan_path.display(),
        ))?;
        if shows {
            return open(&plan_path);
        }
        Ok(Outcome::unless(project.stops()))
    }
}

/// The page on a plan, of which a project is made beside it, or on that project.
fn open(file: &Path) -> Ended {
    Open::of(file).run()
}
