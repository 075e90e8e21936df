//! Files: read whole within a limit, written whole or not at all.
#![expect(clippy::disallowed_methods, reason = "this is the door to the disk")]

use std::ffi::OsString;
use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// Whether a file that is there already may be replaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overwrite {
    /// Never.
    Refuse,
    /// The caller asked for it in so many words.
    Replace,
}

/// Why a file was not read.
#[derive(Debug, thiserror::Error)]
pub enum ReadFault {
    /// The system refused.
    #[error("`{}` could not be read: {cause}", path.display())]
    System {
        /// The file.
        path: PathBuf,
        /// What it said.
        cause: io::Error,
    },
    /// It is far larger than such a file ever is.
    #[error("`{}` is larger than {} MB; is it the right file?", path.display(), LONGEST_FILE / 1_000_000)]
    TooLong {
        /// The file.
        path: PathBuf,
    },
    /// It is not text.
    #[error("`{}` is not text in UTF-8; is it the right file?", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
    },
}

/// Why a file was not written. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum WriteFault {
    /// It is there already.
    #[error("`{}` is there already, and was left as it is; choose another name", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// The folder has something in it already.
    #[error("the folder `{}` is not empty, and was left as it is; choose another with -o", path.display())]
    NotEmpty {
        /// The folder.
        path: PathBuf,
    },
    /// The system refused.
    #[error("`{}` could not be written: {cause}; nothing was changed", path.display())]
    System {
        /// The file.
        path: PathBuf,
        /// What it said.
        cause: io::Error,
    },
}

/// The largest file that is read.
const LONGEST_FILE: u64 = 64_000_000;

/// Whether a file begins as a project file does.
pub fn is_project_file(path: &Path) -> bool {
    let mut head = [0; 16];
    fs::File::open(path).and_then(|mut file| file.read_exact(&mut head)).is_ok()
        && head == *b"SQLite format 3\0"
}

/// Reads a text file whole.
pub fn read_text(path: &Path) -> Result<String, ReadFault> {
    let system = |cause| ReadFault::System { path: path.to_owned(), cause };
    let mut bytes = Vec::new();
    let file = fs::File::open(path).map_err(system)?;
    file.take(LONGEST_FILE + 1).read_to_end(&mut bytes).map_err(system)?;
    if bytes.len() as u64 > LONGEST_FILE {
        return Err(ReadFault::TooLong { path: path.to_owned() });
    }
    String::from_utf8(bytes).map_err(|_| ReadFault::NotText { path: path.to_owned() })
}

/// The name of a file without its folder; empty for a path that ends in none.
pub(crate) fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// Makes a folder, or takes one that is empty.
pub fn new_folder(path: &Path) -> Result<(), WriteFault> {
    let system = |cause| WriteFault::System { path: path.to_owned(), cause };
    fs::create_dir_all(path).map_err(system)?;
    if fs::read_dir(path).map_err(system)?.next().is_some() {
        return Err(WriteFault::NotEmpty { path: path.to_owned() });
    }
    Ok(())
}

/// Writes a file beside its place, makes sure that it is on the disk, then moves it there in one step.
pub fn write(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<(), WriteFault> {
    let system = |cause| WriteFault::System { path: path.to_owned(), cause };
    if overwrite == Overwrite::Refuse && path.symlink_metadata().is_ok() {
        return Err(WriteFault::Exists { path: path.to_owned() });
    }
    let name = path.file_name().ok_or_else(|| system(io::Error::other("it names no file")))?;
    let mut beside = OsString::from(".");
    beside.push(name);
    beside.push(format!(".{}.new", std::process::id()));
    let beside = path.with_file_name(beside);
    let written = || -> io::Result<()> {
        let mut file = fs::OpenOptions::new().write(true).create_new(true).open(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        match overwrite {
            Overwrite::Replace => {
                if let Ok(was) = fs::metadata(path) {
                    fs::set_permissions(&beside, was.permissions())?;
                }
                fs::rename(&beside, path)
            }
            // A hard link fails when the name was taken meanwhile, which a rename would not notice.
            Overwrite::Refuse => fs::hard_link(&beside, path).and_then(|()| fs::remove_file(&beside)),
        }
    };
    written().map_err(|cause| {
        // What stands beside is ours alone, and useless by now.
        let _ = fs::remove_file(&beside);
        if cause.kind() == io::ErrorKind::AlreadyExists {
            WriteFault::Exists { path: path.to_owned() }
        } else {
            system(cause)
        }
    })
}
