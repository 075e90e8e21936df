//! What can be wrong with a project file, said so that the builder knows what to do next.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

use super::rescue::Salvage;

/// Why a project file was not opened, read or written. It is as it was.
#[derive(Debug)]
pub enum FileFault {
    /// There is no such file.
    Missing {
        /// The path.
        path: PathBuf,
    },
    /// There is one already.
    Exists {
        /// The path.
        path: PathBuf,
    },
    /// It is something else.
    Foreign {
        /// The path.
        path: PathBuf,
        /// What it seems to be, and what to do with it.
        what: String,
    },
    /// A newer program wrote it.
    Newer {
        /// The path.
        path: PathBuf,
        /// The version of its form.
        form: i64,
        /// The newest form that this program knows.
        known: i64,
    },
    /// It is not whole.
    Damaged {
        /// The path.
        path: PathBuf,
        /// What is wrong, a line each.
        what: Vec<String>,
        /// What can be saved from it.
        salvage: Box<Salvage>,
    },
    /// Another process has it open.
    InUse {
        /// The path.
        path: PathBuf,
    },
    /// The file or its folder may not be written.
    NotWritable {
        /// The path.
        path: PathBuf,
        /// What the system said.
        cause: String,
    },
    /// There is no room on the disk.
    Full {
        /// The path.
        path: PathBuf,
    },
    /// No moment has this number.
    NoMoment {
        /// The number.
        moment: i64,
    },
    /// What was to be attached is too large.
    TooLarge {
        /// Its name.
        name: String,
        /// How many bytes it may have.
        most: usize,
    },
    /// The system refused for another reason.
    System {
        /// The path.
        path: PathBuf,
        /// What it said.
        cause: String,
    },
}

impl FileFault {
    /// What an answer of `SQLite` means for the file at `path`.
    pub(super) fn of(path: &Path, error: &rusqlite::Error) -> FileFault {
        let path = path.to_owned();
        let cause = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => FileFault::InUse { path },
            Some(ErrorCode::DiskFull) => FileFault::Full { path },
            Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                FileFault::NotWritable { path, cause }
            }
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                FileFault::Damaged { what: vec![cause], salvage: Box::default(), path }
            }
            _ => FileFault::System { path, cause },
        }
    }

    /// What a refusal of the system means for the file at `path`.
    pub(super) fn io(path: &Path, error: &io::Error) -> FileFault {
        let path = path.to_owned();
        match error.kind() {
            io::ErrorKind::NotFound => FileFault::Missing { path },
            io::ErrorKind::AlreadyExists => FileFault::Exists { path },
            io::ErrorKind::StorageFull => FileFault::Full { path },
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                FileFault::NotWritable { path, cause: error.to_string() }
            }
            _ => FileFault::System { path, cause: error.to_string() },
        }
    }
}

impl fmt::Display for FileFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FileFault::Missing { path } => {
                write!(f, "there is no file `{0}`; `dryfit new {0}` begins one", path.display())
            }
            FileFault::Exists { path } => {
                write!(f, "`{}` is there already, and was left as it is; choose another name", path.display())
            }
            FileFault::Foreign { path, what } => {
                write!(f, "`{}` is not a project of Dryfit: {what}; nothing was changed", path.display())
            }
            FileFault::Newer { path, form, known } => write!(
                f,
                "`{}` was written by a newer Dryfit (form {form}; this one knows up to {known}): open it with that \
                 one, or export its plan there as text; nothing was changed",
                path.display()
            ),
            FileFault::Damaged { path, what, salvage } => {
                writeln!(f, "`{}` is damaged:", path.display())?;
                for line in what {
                    writeln!(f, "  {line}")?;
                }
                write!(f, "{salvage}; nothing was changed")?;
                if salvage.text.is_some() {
                    write!(f, "\n`dryfit export {} -o PLAN.toml` writes what can be saved", path.display())?;
                }
                Ok(())
            }
            FileFault::InUse { path } => write!(
                f,
                "`{}` is open already, here or in another window: close it there first; nothing was changed",
                path.display()
            ),
            FileFault::NotWritable { path, cause } => write!(
                f,
                "`{}` cannot be written ({cause}): a project needs to write beside itself, so move it to a folder \
                 of your own; nothing was changed",
                path.display()
            ),
            FileFault::Full { path } => write!(
                f,
                "there is no room on the disk for `{}`: the last edit was not kept, all before it is safe; make \
                 room, then do it again",
                path.display()
            ),
            FileFault::NoMoment { moment } => {
                write!(f, "there is no moment {moment}; `dryfit history` lists them")
            }
            FileFault::TooLarge { name, most } => {
                write!(f, "`{name}` is larger than {} MB; attach a smaller picture of it", most / 1_000_000)
            }
            FileFault::System { path, cause } => {
                write!(f, "`{}`: {cause}; nothing was changed", path.display())
            }
        }
    }
}

impl std::error::Error for FileFault {}
