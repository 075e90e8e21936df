//! Files, written whole or not at all.
#![expect(clippy::disallowed_methods, reason = "this is the door to the disk")]

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Whether a file that is there already may be replaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overwrite {
    /// Never.
    Refuse,
    /// The caller asked for it in so many words.
    Replace,
}

/// Why a file was not written. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum WriteFault {
    /// It is there already.
    #[error("`{}` is there already, and was left as it is", path.display())]
    Exists {
        /// The file.
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

/// Writes a file beside its place, makes sure it is on the disk, then moves it there in one step.
pub fn write_new(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<(), WriteFault> {
    let system = |cause| WriteFault::System { path: path.to_owned(), cause };
    if overwrite == Overwrite::Refuse && path.symlink_metadata().is_ok() {
        return Err(WriteFault::Exists { path: path.to_owned() });
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let name = path.file_name().ok_or_else(|| system(io::Error::other("it names no file")))?;
    let mut beside = std::ffi::OsString::from(".");
    beside.push(name);
    beside.push(format!(".{}.new", std::process::id()));
    let beside = folder.join(beside);
    let written = (|| {
        let mut file = fs::OpenOptions::new().write(true).create_new(true).open(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        match overwrite {
            Overwrite::Replace => fs::rename(&beside, path),
            // A hard link fails when the name was taken meanwhile, which a rename would not notice.
            Overwrite::Refuse => fs::hard_link(&beside, path).and_then(|()| fs::remove_file(&beside)),
        }
    })();
    written.map_err(|cause: io::Error| {
        let _ = fs::remove_file(&beside);
        if cause.kind() == io::ErrorKind::AlreadyExists {
            WriteFault::Exists { path: path.to_owned() }
        } else {
            system(cause)
        }
    })
}
