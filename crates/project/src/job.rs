//! An open job: the project file, the plan where the builder stands, and what follows from it.

use std::fmt;
use std::path::Path;

use dryfit_plan::{Edit, EditRefused, Plan};

use crate::answers;
use crate::file::{FileFault, Moment, Past, ProjectFile};
use crate::open::{OpenFault, Project};

/// One job, open for work. Every edit is on the disk when it is acknowledged.
#[derive(Debug)]
pub struct Job {
    file: ProjectFile,
    project: Project,
    moment: Moment,
}

/// Why a job was not opened or edited. It is as it was.
#[derive(Debug)]
pub enum JobFault {
    /// The file.
    File(FileFault),
    /// What is in it, or was to be, is no plan.
    Plan(OpenFault),
    /// The edit does not fit.
    Refused(EditRefused),
    /// There is nothing to take back, or to do again.
    Nothing(&'static str),
}

impl From<FileFault> for JobFault {
    fn from(fault: FileFault) -> JobFault {
        JobFault::File(fault)
    }
}

impl From<OpenFault> for JobFault {
    fn from(fault: OpenFault) -> JobFault {
        JobFault::Plan(fault)
    }
}

impl From<EditRefused> for JobFault {
    fn from(refused: EditRefused) -> JobFault {
        JobFault::Refused(refused)
    }
}

impl fmt::Display for JobFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            JobFault::File(fault) => fault.fmt(f),
            JobFault::Plan(fault) => fault.fmt(f),
            JobFault::Refused(refused) => refused.fmt(f),
            JobFault::Nothing(what) => f.write_str(what),
        }
    }
}

impl std::error::Error for JobFault {}

impl Job {
    /// A new file at `path` that begins with this plan; `name` is what its text is called in a fault.
    ///
    /// # Errors
    /// When the text is no plan, or the file is there already or cannot be written.
    pub fn begin(path: &Path, name: &str, text: String, at: &str) -> Result<Job, JobFault> {
        let project = Project::from_text(name, text)?;
        let label = format!("begun from {name}");
        let file = ProjectFile::create(path, &project.text, &label, at)?;
        Ok(Job { file, project, moment: 0 })
    }

    /// Opens a project file where its builder stood last.
    ///
    /// # Errors
    /// When it cannot be opened, or its plan no longer reads.
    pub fn open(path: &Path) -> Result<Job, JobFault> {
        let file = ProjectFile::open(path)?;
        let moment = file.here()?;
        let known = answers::read(file.remembered()?);
        let project = Project::knowing(&file.name(), file.text(moment)?, &known)?;
        Ok(Job { file, project, moment })
    }

    /// The plan and what follows from it.
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// Where the builder stands.
    pub fn moment(&self) -> Moment {
        self.moment
    }

    /// What tells this plan from every other: the file, and the moment. What was made for one is refused by another.
    pub fn tag(&self) -> String {
        self.tag_at(self.moment)
    }

    /// The same of another moment.
    pub fn tag_at(&self, moment: Moment) -> String {
        format!("{:016x}-{moment}", self.file.identity())
    }

    /// The file.
    pub fn file(&self) -> &ProjectFile {
        &self.file
    }

    /// The file, to attach things to.
    pub fn file_mut(&mut self) -> &mut ProjectFile {
        &mut self.file
    }

    /// Makes an edit. What stood before is given back.
    ///
    /// # Errors
    /// When it does not fit the plan, or cannot be written.
    pub fn edit(&mut self, edit: &Edit, at: &str) -> Result<Project, JobFault> {
        let (plan, inverse) = self.project.plan.apply(edit)?;
        // what changes nothing is no edit: the history would only grow longer by it
        if plan == self.project.plan {
            return Ok(self.project.clone());
        }
        let text = crate::file::forward(&self.project.text, edit)?;
        self.moment = self.file.append(edit, &inverse, &text, at)?;
        let after = self.project.with(plan, text);
        Ok(std::mem::replace(&mut self.project, after))
    }

    /// Takes the last edit back: what it was called, and what stood before this.
    ///
    /// # Errors
    /// When there is none, or it cannot be written.
    pub fn undo(&mut self, at: &str) -> Result<(String, Project), JobFault> {
        let to = self.file.undo_leads_to()?;
        self.stand(to.ok_or(JobFault::Nothing("there is nothing to take back"))?, at)
    }

    /// Does again what was taken back.
    ///
    /// # Errors
    /// When there is nothing, or it cannot be written.
    pub fn redo(&mut self, at: &str) -> Result<(String, Project), JobFault> {
        let to = self.file.redo_leads_to()?;
        self.stand(to.ok_or(JobFault::Nothing("nothing was taken back"))?, at)
    }

    fn stand(&mut self, (label, moment): (String, Moment), at: &str) -> Result<(String, Project), JobFault> {
        let text = self.file.text(moment)?;
        let plan = plan_of(&self.file, &text)?;
        self.file.stand_at(moment, at)?;
        self.moment = moment;
        let after = self.project.with(plan, text);
        Ok((label, std::mem::replace(&mut self.project, after)))
    }

    /// The project as it was at a moment, to look at.
    ///
    /// # Errors
    /// When there is no such moment.
    pub fn at(&self, moment: Moment) -> Result<Project, JobFault> {
        let text = self.file.text(moment)?;
        let plan = plan_of(&self.file, &text)?;
        Ok(self.project.with(plan, text))
    }

    /// Brings the plan of another moment back, as a new edit: nothing in between is lost.
    ///
    /// # Errors
    /// When there is no such moment, or it cannot be written.
    pub fn bring_back(&mut self, moment: Moment, at: &str) -> Result<Project, JobFault> {
        let then = plan_of(&self.file, &self.file.text(moment)?)?;
        let label = format!("bring back edit {moment}");
        self.edit(&Edit::between(&self.project.plan, &then, label), at)
    }

    /// Every moment, oldest first.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn history(&self) -> Result<Vec<Past>, JobFault> {
        Ok(self.file.history()?)
    }

    /// Remembers the solvers' answers and closes the file.
    ///
    /// # Errors
    /// When the system refuses; what was acknowledged is safe all the same.
    pub fn close(mut self) -> Result<(), JobFault> {
        // answers are a comfort: without room for them the job is closed all the same
        let _ = self.file.remember(&answers::written(&self.project.derived.answers));
        Ok(self.file.close()?)
    }
}

fn plan_of(file: &ProjectFile, text: &str) -> Result<Plan, JobFault> {
    let faults = match Plan::from_toml(text) {
        Ok(read) => return Ok(read.plan),
        Err(faults) => faults,
    };
    Err(OpenFault::Plan { name: file.name(), text: text.to_owned(), faults }.into())
}
