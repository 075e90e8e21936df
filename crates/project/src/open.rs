//! Opening a plan, and what follows from it.

use std::fmt;
use std::path::Path;

use dryfit_cutting::Budget;
use dryfit_packet::{PacketFault, PacketOptions, packet};
use dryfit_plan::{Fault, Plan};
use dryfit_stages::layouts::Answers;
use dryfit_stages::{Derived, Severity, run};

use crate::answers;
use crate::file::{FileFault, ProjectFile};
use crate::files::{ReadFault, file_name, is_project_file, read_text};

/// Steps of search for the sheets of one good: an answer within the blink of an eye, near the best there is.
const BUDGET: Budget = Budget { steps: 20_000, seed: 1 };

/// One open project.
#[derive(Clone, Debug)]
pub struct Project {
    /// The plan file as it stands, comments and all.
    pub text: String,
    /// What is stated.
    pub plan: Plan,
    /// What follows.
    pub derived: Derived,
}

/// Why a plan could not be opened.
#[derive(Debug)]
pub enum OpenFault {
    /// The file could not be read.
    File(ReadFault),
    /// The project file could not be opened.
    Project(FileFault),
    /// It is not a plan: every fault of it, and the text they are in.
    Plan {
        /// What the file is called.
        name: String,
        /// Its text.
        text: String,
        /// Its faults.
        faults: Vec<Fault>,
    },
}

impl Project {
    /// Opens a plan file, or the plan of a project file where its builder stood last.
    pub fn open(path: &Path) -> Result<Project, OpenFault> {
        if is_project_file(path) {
            let file = ProjectFile::open(path).map_err(OpenFault::Project)?;
            let text = file.here().and_then(|here| file.text(here)).map_err(OpenFault::Project)?;
            let known = file.remembered().map(answers::read).unwrap_or_default();
            let name = file_name(path);
            return Project::knowing(&name, text, &known);
        }
        let text = read_text(path).map_err(OpenFault::File)?;
        let name = file_name(path);
        Project::from_text(&name, text)
    }

    /// Opens a plan from its text; `name` is what the text is called in a fault.
    pub fn from_text(name: &str, text: String) -> Result<Project, OpenFault> {
        Project::knowing(name, text, &Answers::new())
    }

    /// The same without any search for better layouts: enough to draw the room.
    pub(crate) fn sketched(name: &str, text: String) -> Result<Project, OpenFault> {
        match Plan::from_toml(&text) {
            Ok(read) => {
                let derived = run(&read.plan, &Answers::new(), Budget { steps: 0, seed: 1 });
                Ok(Project { text, plan: read.plan, derived })
            }
            Err(faults) => Err(OpenFault::Plan { name: name.to_owned(), text, faults }),
        }
    }

    /// The same, with the solvers' answers of an earlier time.
    pub(crate) fn knowing(name: &str, text: String, known: &Answers) -> Result<Project, OpenFault> {
        match Plan::from_toml(&text) {
            Ok(read) => {
                let derived = run(&read.plan, known, BUDGET);
                Ok(Project { text, plan: read.plan, derived })
            }
            Err(faults) => Err(OpenFault::Plan { name: name.to_owned(), text, faults }),
        }
    }

    /// The same project with another plan; layouts whose numbers did not change are remembered.
    #[must_use]
    pub fn with(&self, plan: Plan, text: String) -> Project {
        let derived = run(&plan, &self.derived.answers, BUDGET);
        Project { text, plan, derived }
    }

    /// The shop packet as a PDF; `date` is what it bears.
    ///
    /// # Errors
    /// When it cannot be set in type, which no plan can bring about.
    pub fn packet(&self, date: Option<String>) -> Result<Vec<u8>, PacketFault> {
        let options = PacketOptions { date, ..PacketOptions::default() };
        Ok(packet(&self.plan, &self.derived, &options)?.pdf)
    }

    /// Whether something will not go together or is unsafe.
    pub fn stops(&self) -> bool {
        self.derived
            .findings
            .iter()
            .any(|finding| finding.severity == Severity::Stop && finding.waived.is_none())
    }
}

impl fmt::Display for OpenFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OpenFault::File(fault) => fault.fmt(f),
            OpenFault::Project(fault) => fault.fmt(f),
            OpenFault::Plan { name, text, faults } => {
                for fault in faults {
                    writeln!(f, "{}", fault.shown(name, text))?;
                }
                let count = faults.len();
                write!(
                    f,
                    "{count} fault{} in `{name}`; nothing was changed",
                    if count == 1 { "" } else { "s" }
                )
            }
        }
    }
}

impl std::error::Error for OpenFault {}
