//! `dryfit export`: a plan or project in forms that other programs open.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use dryfit_project::{FileFault, Form, Overwrite, Project, ProjectFile, lay_down, write};

use crate::progress::Doing;
use crate::said::{Ended, Fault, Outcome, say};

/// Write drawings, lists, calendar, 3-D scene or data in open forms; without --as, a project's plan as text
#[derive(Args)]
#[command(after_help = AFTER_HELP)]
pub struct Export {
    /// The plan, or the project
    file: PathBuf,
    /// In which form; may be given several times, or as a list: --as svg,csv
    #[arg(long = "as", value_enum, value_name = "FORM", value_delimiter = ',')]
    forms: Vec<As>,
    /// The folder to write into; without --as, the text plan to write
    #[arg(short, long, value_name = "DIR")]
    output: PathBuf,
    /// A project as it was at this edit of its history
    #[arg(long, value_name = "EDIT", conflicts_with = "forms")]
    at: Option<i64>,
}

const AFTER_HELP: &str = "\
What is written below DIR:
  svg   svg/KEY.svg, every drawing: svg/wall/BC.svg, svg/part/b1/side.left.svg
  dxf   dxf/KEY.dxf, the same in real-world units, a layer for each pen
  csv   cut-list.csv and buying-list.csv
  ics   calendar.ics, what to order and what to do
  glb   room.glb, the room in 3-D, its nodes named by role path
  json  plan.json and derived.json
  toml  plan.toml, comments and all
The same plan gives the same bytes. Nothing is ever written over.
Without --as, a project's plan is written as text to the file named by -o, now or --at an edit; from a damaged
project, what can be saved.";

/// A form.
#[derive(Clone, Copy, ValueEnum)]
enum As {
    /// Drawings for a browser or a printer
    Svg,
    /// Drawings for a drafting program
    Dxf,
    /// Cut list and buying list for a spreadsheet
    Csv,
    /// What to order and to do for a calendar
    Ics,
    /// The room in 3-D
    Glb,
    /// Plan and results for programs
    Json,
    /// The plan as text
    Toml,
}

/// So many files are named one by one.
const FEW: usize = 10;

impl As {
    fn form(self) -> Form {
        match self {
            As::Svg => Form::Svg,
            As::Dxf => Form::Dxf,
            As::Csv => Form::Csv,
            As::Ics => Form::Ics,
            As::Glb => Form::Glb,
            As::Json => Form::Json,
            As::Toml => Form::Toml,
        }
    }
}

impl Export {
    /// Writes the files and names them.
    pub fn run(self) -> Ended {
        if self.forms.is_empty() {
            return text(&self.file, &self.output, self.at);
        }
        let project = {
            let _doing = Doing::now("working out the plan");
            Project::open(&self.file)?
        };
        let mut forms: Vec<Form> = self.forms.iter().map(|form| form.form()).collect();
        forms.sort_unstable();
        forms.dedup();
        let files: Vec<_> = {
            let _doing = Doing::now("drawing and writing");
            forms.into_iter().flat_map(|form| project.export(form)).collect()
        };
        let paths = lay_down(&self.output, &files)?;
        let said = if paths.len() <= FEW {
            let lines: Vec<String> =
                paths.iter().map(|path| format!("written: {}\n", path.display())).collect();
            lines.concat()
        } else {
            format!("written: {} files below {}\n", paths.len(), self.output.display())
        };
        say(&said)?;
        Ok(Outcome::Fine)
    }
}

/// Writes a project's plan as text, now or as it was; from a damaged file, what can be saved.
fn text(file: &Path, output: &Path, at: Option<i64>) -> Ended {
    let text = match ProjectFile::open(file) {
        Ok(file) => {
            let text = file.text(at.map_or_else(|| file.here(), Ok)?)?;
            file.close()?;
            text
        }
        Err(FileFault::Damaged { salvage, .. }) => {
            let said = salvage.to_string();
            let text = salvage.text.ok_or_else(|| Fault::from(said.clone()))?;
            say(&format!("{} is damaged: {said}\n", file.display()))?;
            text
        }
        Err(fault) => return Err(fault.into()),
    };
    write(output, text.as_bytes(), Overwrite::Refuse)?;
    say(&format!("plan: {}\n", output.display()))?;
    Ok(Outcome::Fine)
}
