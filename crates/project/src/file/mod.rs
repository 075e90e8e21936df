//! The project file: months of a builder's work in one `SQLite` file.
//!
//! The journal only grows. A *moment* is a state of the plan: the first is how the file began, each further one is
//! an edit of the moment before it, with the edit that takes it back. A *step* says at which moment the builder
//! stood from then on, so undo and redo are steps, nothing is ever taken out, and all of it survives closing.
//! The text of a moment is played forward from the nearest snapshot before it, comments and all.
//!
//! Times come from the caller and order nothing: a clock that is set back spoils no history.

mod attachments;
mod fault;
mod form;
mod history;
mod journal;
mod rescue;

#[cfg(test)]
mod tests;

use std::path::{Path, PathBuf};

use rusqlite::Connection;

use crate::files::file_name;

pub use attachments::{Attachment, LARGEST_ATTACHMENT};
pub use fault::FileFault;
pub use history::{Past, Standing};
pub(crate) use journal::forward;
pub use rescue::{Salvage, salvage};

/// A state of the plan, by its number in the journal; 0 is how the file began.
pub type Moment = i64;

/// One open project file. No other process has it open meanwhile.
#[derive(Debug)]
pub struct ProjectFile {
    connection: Connection,
    path: PathBuf,
}

impl ProjectFile {
    /// A new file that begins with this plan text. `at` is the time now, `label` what the beginning is called.
    ///
    /// # Errors
    /// When there is a file already, or it cannot be written; nothing is left behind then.
    pub fn create(path: &Path, text: &str, label: &str, at: &str) -> Result<ProjectFile, FileFault> {
        form::create(path, text, label, at)?;
        ProjectFile::open(path)
    }

    /// Opens a file, having made sure that it is whole.
    ///
    /// # Errors
    /// When it is no project file, a newer one, damaged, or open elsewhere. It is as it was then.
    pub fn open(path: &Path) -> Result<ProjectFile, FileFault> {
        let connection = form::open(path)?;
        Ok(ProjectFile { connection, path: path.to_owned() })
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its name, without the folder.
    pub fn name(&self) -> String {
        file_name(&self.path)
    }

    /// Closes it, so that the project is one file again.
    ///
    /// # Errors
    /// When the system refuses; what was acknowledged is safe all the same.
    pub fn close(self) -> Result<(), FileFault> {
        form::close(self.connection, &self.path)
    }

    fn fault(&self, error: &rusqlite::Error) -> FileFault {
        FileFault::of(&self.path, error)
    }
}
