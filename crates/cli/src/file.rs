//! The commands about a project file: begin one, list its history, take back, do again.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use dryfit_project::{Job, ProjectFile, Standing, Unit, new_room, read_text};

use crate::said::{Ended, Outcome, count, say};

/// Begin a project: one file that keeps every edit
#[derive(Args)]
pub struct New {
    /// The file to make: potting-room.dryfit
    file: PathBuf,
    /// A text plan to begin from
    #[arg(long, value_name = "PLAN")]
    from: Option<PathBuf>,
    /// How your tape reads, where nothing says so yet
    #[arg(long, value_enum, default_value_t = Tape::In, conflicts_with = "from")]
    unit: Tape,
}

/// How a tape reads.
#[derive(Clone, Copy, ValueEnum)]
enum Tape {
    /// Inches and fractions
    In,
    /// Millimetres
    Mm,
}

/// List what was done, oldest first
#[derive(Args)]
pub struct History {
    /// The project
    file: PathBuf,
}

/// Take back the last edit
#[derive(Args)]
pub struct Undo {
    /// The project
    file: PathBuf,
}

/// Do again what was taken back
#[derive(Args)]
pub struct Redo {
    /// The project
    file: PathBuf,
}

/// The time, as the history keeps it: the one place where these commands ask the clock.
pub fn now() -> String {
    jiff::Zoned::now().strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
}

/// The name of a file without its folder.
pub fn name_of(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// "Potting room" from `potting-room.dryfit`.
fn title(path: &Path) -> String {
    let stem =
        path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().replace(['-', '_'], " "));
    let mut letters = stem.chars();
    letters
        .next()
        .map_or_else(|| "New room".to_owned(), |first| first.to_uppercase().chain(letters).collect())
}

impl New {
    /// Makes the file.
    pub fn run(self) -> Ended {
        let (name, text) = if let Some(plan) = &self.from {
            (name_of(plan), read_text(plan)?)
        } else {
            let unit = match self.unit {
                Tape::In => Unit::Inch,
                Tape::Mm => Unit::Millimetre,
            };
            ("nothing".to_owned(), new_room(&title(&self.file), unit))
        };
        let job = Job::begin(&self.file, &name, text, &now())?;
        let said = format!(
            "{}: {}\nproject: {}\nopen it: dryfit open {}\n",
            job.project().plan.name,
            count(&job.project().report()),
            self.file.display(),
            self.file.display()
        );
        job.close()?;
        say(&said)?;
        Ok(Outcome::Fine)
    }
}

impl History {
    /// Lists the moments.
    pub fn run(self) -> Ended {
        let file = ProjectFile::open(&self.file)?;
        let mut text = String::new();
        for past in file.history()? {
            let standing = match past.standing {
                Standing::Here => "  <- here",
                Standing::Behind => "",
                Standing::Ahead => "  (taken back)",
                Standing::Aside => "  (set aside)",
            };
            let _ = writeln!(text, "{:>4}  {}  {}{standing}", past.moment, past.at, past.label);
        }
        file.close()?;
        say(&text)?;
        Ok(Outcome::Fine)
    }
}

impl Undo {
    /// Takes back.
    pub fn run(self) -> Ended {
        moved(&self.file, "taken back", |job, at| job.undo(at).map(|(label, _)| label))
    }
}

impl Redo {
    /// Does again.
    pub fn run(self) -> Ended {
        moved(&self.file, "done again", |job, at| job.redo(at).map(|(label, _)| label))
    }
}

fn moved(
    path: &Path,
    what: &str,
    go: impl FnOnce(&mut Job, &str) -> Result<String, dryfit_project::JobFault>,
) -> Ended {
    let mut job = Job::open(path)?;
    let label = go(&mut job, &now())?;
    let text = format!("{what}: {label}\n{}\n", count(&job.project().report()));
    job.close()?;
    say(&text)?;
    Ok(Outcome::Fine)
}
