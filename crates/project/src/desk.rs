//! The desk: the job that is open, if one is, and what is shown of it. Doors ask it and hold nothing themselves.
#![expect(clippy::disallowed_methods, reason = "this is the door to the disk")]

use std::fs;
use std::path::{Path, PathBuf};

use dryfit_packet::{PacketData, PacketOptions, pages};
use dryfit_plan::{Edit, Plan};

use crate::demo::demo;
use crate::file::{FileFault, Moment};
use crate::files::{file_name, is_project_file, read_text};
use crate::job::{Job, JobFault};
use crate::open::{OpenFault, Project};
use crate::shown::{
    Changed, Done, LeafPage, Preview, Recent, Room, Start, Wish, WishFault, edit_of, frame, leaf_page, note,
};
use crate::start::new_room;

/// The desk.
#[derive(Debug)]
pub struct Desk {
    folder: PathBuf,
    remembers: Option<PathBuf>,
    job: Option<Job>,
    /// The printed pages of a moment.
    printed: Option<(Moment, PacketData)>,
    /// A moment of the history that is looked at.
    past: Option<(Moment, Project)>,
}

/// Why the desk did not do something. Everything is as it was.
#[derive(Debug, thiserror::Error)]
pub enum DeskFault {
    /// No job is open.
    #[error("no room is open; open one on the start page")]
    Nothing,
    /// The edit was made for another moment.
    #[error("the plan has changed meanwhile, here or in another window: look at it again")]
    Stale,
    /// The job.
    #[error("{0}")]
    Job(#[from] JobFault),
    /// The wish.
    #[error("{0}")]
    Wish(#[from] WishFault),
    /// A text plan that became a project before.
    #[error(
        "`{}` became the project `{}` before: open that one, or rename it to begin anew from the text",
        text.display(),
        made.display()
    )]
    MadeBefore {
        /// The text plan.
        text: PathBuf,
        /// The project.
        made: PathBuf,
    },
    /// There is no such demo, page or leaf.
    #[error("there is nothing called `{0}` here")]
    NoSuch(String),
}

impl From<FileFault> for DeskFault {
    fn from(fault: FileFault) -> DeskFault {
        DeskFault::Job(JobFault::File(fault))
    }
}

/// How many projects are remembered.
const REMEMBERED: usize = 8;

impl Desk {
    /// A desk with nothing on it. New rooms are kept in `folder`; which were open is remembered in a text file.
    pub fn new(folder: PathBuf, remembers: Option<PathBuf>) -> Desk {
        Desk { folder, remembers, job: None, printed: None, past: None }
    }

    /// The job that is open.
    ///
    /// # Errors
    /// When none is.
    pub fn job(&self) -> Result<&Job, DeskFault> {
        self.job.as_ref().ok_or(DeskFault::Nothing)
    }

    /// The same, to attach things to.
    ///
    /// # Errors
    /// When none is.
    pub fn job_mut(&mut self) -> Result<&mut Job, DeskFault> {
        self.job.as_mut().ok_or(DeskFault::Nothing)
    }

    /// The plan and what follows from it.
    ///
    /// # Errors
    /// When no job is open.
    pub fn project(&self) -> Result<&Project, DeskFault> {
        Ok(self.job()?.project())
    }

    fn put(&mut self, job: Job) -> Result<(), DeskFault> {
        self.close()?;
        self.remember(job.file().path());
        self.job = Some(job);
        Ok(())
    }

    /// Closes the job, if one is open.
    ///
    /// # Errors
    /// When the system refuses.
    pub fn close(&mut self) -> Result<(), DeskFault> {
        (self.printed, self.past) = (None, None);
        match self.job.take() {
            Some(job) => Ok(job.close()?),
            None => Ok(()),
        }
    }

    /// Opens a project file; a text plan becomes one beside itself.
    ///
    /// # Errors
    /// When it cannot be read, or is open already.
    pub fn open(&mut self, path: &Path, at: &str) -> Result<(), DeskFault> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        if self.job.as_ref().is_some_and(|job| job.file().path() == path) {
            return Ok(());
        }
        let is_text = path.extension().is_some_and(|end| end.eq_ignore_ascii_case("toml"));
        if is_text && !is_project_file(&path) {
            let made = path.with_extension("dryfit");
            if made.exists() {
                return Err(DeskFault::MadeBefore { text: path, made });
            }
            let text = read_text(&path).map_err(|fault| JobFault::Plan(OpenFault::File(fault)))?;
            let name = file_name(&path);
            return self.begin(&made, &name, text, at);
        }
        // one file is open at a time, so that a second opening of the same is told by the file alone
        let job = Job::open(&path)?;
        self.put(job)
    }

    /// Begins a room of this name in the desk's folder.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn new_room(&mut self, name: &str, unit: dryfit_measure::Unit, at: &str) -> Result<(), DeskFault> {
        let name = if name.trim().is_empty() { "New room" } else { name.trim() };
        let path = self.free_file(&slug(name));
        self.begin(&path, "nothing", new_room(name, unit), at)
    }

    /// Opens a demo as a copy of one's own.
    ///
    /// # Errors
    /// When there is none of that name, or it cannot be written.
    pub fn demo(&mut self, name: &str, at: &str) -> Result<(), DeskFault> {
        let demo = demo(name).ok_or_else(|| DeskFault::NoSuch(name.to_owned()))?;
        let path = self.free_file(demo.name);
        self.begin(&path, &format!("the demo {name}"), demo.plan().into_owned(), at)
    }

    fn begin(&mut self, path: &Path, name: &str, text: String, at: &str) -> Result<(), DeskFault> {
        let job = Job::begin(path, name, text, at)?;
        self.put(job)
    }

    /// A name that no file in the folder has.
    fn free_file(&self, stem: &str) -> PathBuf {
        let named = |n: usize| if n == 1 { format!("{stem}.dryfit") } else { format!("{stem}-{n}.dryfit") };
        let mut paths = (1..10_000).map(|n| self.folder.join(named(n)));
        paths.find(|path| !path.exists()).unwrap_or_else(|| self.folder.join(named(1)))
    }

    /// The start page.
    pub fn start(&self) -> Start {
        let mut paths = self.remembered();
        let mut here: Vec<PathBuf> = fs::read_dir(&self.folder)
            .into_iter()
            .flatten()
            .flatten()
            .map(|entry| entry.path())
            .filter(|path| path.extension().is_some_and(|end| end == "dryfit") && !paths.contains(path))
            .collect();
        here.sort();
        paths.extend(here);
        let recent = paths
            .into_iter()
            .filter(|path| path.is_file())
            .map(|path| Recent {
                file: file_name(&path),
                near: path.parent() == Some(&self.folder),
                path: path.display().to_string(),
            })
            .collect();
        Start { folder: self.folder.display().to_string(), recent }
    }

    /// The project that was open last, if it is still there.
    pub fn last(&self) -> Option<PathBuf> {
        self.remembered().into_iter().find(|path| path.is_file())
    }

    fn remembered(&self) -> Vec<PathBuf> {
        let text = self.remembers.as_ref().and_then(|path| fs::read_to_string(path).ok());
        text.unwrap_or_default().lines().map(PathBuf::from).collect()
    }

    /// Which were open is a comfort: where it cannot be written nothing is lost.
    fn remember(&self, path: &Path) {
        let Some(file) = &self.remembers else { return };
        let mut paths = self.remembered();
        paths.retain(|known| known != path);
        paths.insert(0, path.to_owned());
        paths.truncate(REMEMBERED);
        let lines: Vec<String> = paths.iter().map(|path| format!("{}\n", path.display())).collect();
        let _ = file.parent().map(fs::create_dir_all);
        let _ = fs::write(file, lines.concat());
    }

    /// Grants a wish that was made for the plan that `made_for` names: the tag of its frame.
    ///
    /// # Errors
    /// When the plan stands elsewhere by now, or the wish cannot be granted.
    pub fn grant(&mut self, wish: &Wish, made_for: &str, at: &str) -> Result<Done, DeskFault> {
        let job = self.job.as_mut().ok_or(DeskFault::Nothing)?;
        if job.tag() != made_for {
            return Err(DeskFault::Stale);
        }
        let (label, before) = match wish {
            Wish::Undo => {
                let (label, before) = job.undo(at)?;
                (format!("taken back: {label}"), before)
            }
            Wish::Redo => {
                let (label, before) = job.redo(at)?;
                (format!("done again: {label}"), before)
            }
            Wish::Back { moment } => {
                let before = job.bring_back(Moment::from(*moment), at)?;
                (format!("edit {moment} brought back"), before)
            }
            _ => {
                let edit = edit_of(job.project(), wish)?.ok_or(DeskFault::Stale)?;
                let before = job.edit(&edit, at)?;
                (edit.label, before)
            }
        };
        let changed = note(&label, &before, job.project());
        Ok(Done { changed, frame: frame(job)? })
    }

    /// Makes an edit that was made for the plan that `made_for` names: the tag of its frame.
    ///
    /// # Errors
    /// When the plan stands elsewhere by now, or the edit does not fit.
    pub fn edit(&mut self, edit: &Edit, made_for: &str, at: &str) -> Result<Done, DeskFault> {
        let job = self.job.as_mut().ok_or(DeskFault::Nothing)?;
        if job.tag() != made_for {
            return Err(DeskFault::Stale);
        }
        let before = job.edit(edit, at)?;
        let changed = note(&edit.label, &before, job.project());
        Ok(Done { changed, frame: frame(job)? })
    }

    /// What a wish would change. Nothing is changed.
    ///
    /// # Errors
    /// When it cannot be granted.
    pub fn preview(&self, wish: &Wish) -> Result<Preview, DeskFault> {
        let project = self.project()?;
        let edit =
            edit_of(project, wish)?.ok_or_else(|| DeskFault::NoSuch("a preview of that".to_owned()))?;
        let (plan, _) = project.plan.apply(&edit).map_err(JobFault::Refused)?;
        let after = project.with(plan, project.text.clone());
        let changed: Changed = note(&edit.label, project, &after);
        Ok(Preview { changed })
    }

    /// Brings a text plan in as one edit.
    ///
    /// # Errors
    /// When it is no plan, or the plan here stands elsewhere by now.
    pub fn bring_in(&mut self, text: &str, made_for: &str, at: &str) -> Result<Done, DeskFault> {
        let project = self.project()?;
        let read = Plan::from_toml(text).map_err(|faults| {
            let name = "the text".to_owned();
            JobFault::Plan(OpenFault::Plan { name, text: text.to_owned(), faults })
        })?;
        let edit = Edit::between(&project.plan, &read.plan, "bring a text plan in");
        self.edit(&edit, made_for, at)
    }

    /// The tag of the plan where the builder stands, or of a moment.
    ///
    /// # Errors
    /// When no job is open.
    pub fn tag(&self, at: Option<Moment>) -> Result<String, DeskFault> {
        let job = self.job()?;
        Ok(job.tag_at(at.unwrap_or(job.moment())))
    }

    /// The project where the builder stands, or as it was at a moment of the history, and which moment that is.
    ///
    /// # Errors
    /// When no job is open, or there is no such moment.
    pub fn seen(&mut self, at: Option<Moment>) -> Result<(&Project, Moment), DeskFault> {
        let job = self.job.as_ref().ok_or(DeskFault::Nothing)?;
        let wanted = at.unwrap_or(job.moment());
        if wanted == job.moment() {
            return Ok((job.project(), wanted));
        }
        if self.past.as_ref().is_none_or(|(moment, _)| *moment != wanted) {
            self.past = Some((wanted, job.at(wanted)?));
        }
        let (moment, project) = self.past.as_ref().ok_or(DeskFault::Nothing)?;
        Ok((project, *moment))
    }

    /// A page of leaves, now or at a moment of the history.
    ///
    /// # Errors
    /// When no job is open.
    pub fn leaves(
        &mut self,
        page: &str,
        view: &str,
        at: Option<Moment>,
        room: Room,
    ) -> Result<LeafPage, DeskFault> {
        let printed = self.printed.take();
        let (project, moment) = self.seen(at)?;
        let packet = match printed {
            Some((known, packet)) if known == moment => packet,
            _ => pages(
                &project.plan,
                &project.derived,
                &PacketOptions { plain: true, ..PacketOptions::default() },
            ),
        };
        let page = leaf_page(project, &packet, page, view, room);
        self.printed = Some((moment, packet));
        Ok(page)
    }

    /// The room as a 3-D scene (glTF), now or at a moment of the history.
    ///
    /// # Errors
    /// When no job is open.
    pub fn scene(&mut self, at: Option<Moment>) -> Result<Vec<u8>, DeskFault> {
        let (project, _) = self.seen(at)?;
        Ok(dryfit_drawing::glb(&dryfit_drawing::solid::scene(&project.plan, &project.derived)))
    }
}

/// "back-porch" from "Back porch".
fn slug(name: &str) -> String {
    let letters: String =
        name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let parts: Vec<&str> = letters.split('-').filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "room".to_owned() } else { parts.join("-") }
}
