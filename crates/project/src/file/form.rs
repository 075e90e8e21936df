//! The form of a project file: how it is recognised, begun, opened and closed.
#![expect(clippy::disallowed_methods, reason = "this is the door to the disk")]

use std::ffi::OsString;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use super::fault::FileFault;
use super::journal;
use super::rescue;

/// "DryF": what `PRAGMA application_id` says of a file of ours (`SQLite` file format, section 1.3, offset 68).
const APPLICATION: u32 = 0x4472_7946;

/// The version of the form that this program writes, in `PRAGMA user_version` (offset 60).
pub(super) const FORM: i64 = 1;

/// What is in a file. The journal only grows, which the file itself watches over.
const TABLES: &str = "
CREATE TABLE moments(
  moment INTEGER PRIMARY KEY,
  parent INTEGER REFERENCES moments(moment),
  at TEXT NOT NULL,
  label TEXT NOT NULL,
  patch TEXT NOT NULL,
  inverse TEXT NOT NULL,
  digest INTEGER NOT NULL
) STRICT;
CREATE TABLE steps(
  step INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  moment INTEGER NOT NULL REFERENCES moments(moment)
) STRICT;
CREATE TABLE snapshots(
  moment INTEGER PRIMARY KEY REFERENCES moments(moment),
  text TEXT NOT NULL,
  digest INTEGER NOT NULL
) STRICT;
CREATE TABLE attachments(
  digest TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  media TEXT NOT NULL,
  at TEXT NOT NULL,
  bytes BLOB NOT NULL
) STRICT;
CREATE TABLE answers(
  job TEXT PRIMARY KEY,
  answer TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TRIGGER moments_grow BEFORE UPDATE ON moments BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END;
CREATE TRIGGER moments_stay BEFORE DELETE ON moments BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END;
CREATE TRIGGER steps_grow BEFORE UPDATE ON steps BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END;
CREATE TRIGGER steps_stay BEFORE DELETE ON steps BEGIN SELECT RAISE(ABORT, 'the journal only grows'); END;
";

/// Begins a file beside its place and moves it there whole, so that no half of one is ever seen.
pub(super) fn create(path: &Path, text: &str, label: &str, at: &str) -> Result<(), FileFault> {
    let exists = || FileFault::Exists { path: path.to_owned() };
    if path.symlink_metadata().is_ok() {
        return Err(exists());
    }
    let beside = beside(path)?;
    let made = begin(&beside, text, label, at).map_err(|error| FileFault::of(path, &error)).and_then(|()| {
        // A hard link fails when the name was taken meanwhile, which a rename would not notice.
        fs::hard_link(&beside, path).map_err(|error| FileFault::io(path, &error))
    });
    // What stands beside is ours alone, and of no use by now.
    for left in [beside.clone(), with_suffix(&beside, "-wal"), with_suffix(&beside, "-journal")] {
        let _ = fs::remove_file(left);
    }
    made
}

fn beside(path: &Path) -> Result<PathBuf, FileFault> {
    let name = path
        .file_name()
        .ok_or_else(|| FileFault::System { path: path.to_owned(), cause: "it names no file".into() })?;
    let mut hidden = OsString::from(".");
    hidden.push(name);
    hidden.push(format!(".{}.new", std::process::id()));
    Ok(path.with_file_name(hidden))
}

fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

fn begin(path: &Path, text: &str, label: &str, at: &str) -> rusqlite::Result<()> {
    let mut connection = Connection::open(path)?;
    connection.pragma_update(None, "application_id", APPLICATION)?;
    connection.pragma_update(None, "user_version", FORM)?;
    connection.pragma_update(None, "auto_vacuum", "none")?;
    habits(&connection)?;
    connection.pragma_update(None, "journal_mode", "wal")?;
    let filling = connection.transaction()?;
    filling.execute_batch(TABLES)?;
    journal::begin(&filling, text, label, at)?;
    filling.commit()?;
    connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
    connection.close().map_err(|(_, error)| error)
}

/// How every connection behaves: each acknowledged edit is on the disk, the file's own text runs nothing, and
/// no other process comes in between.
fn habits(connection: &Connection) -> rusqlite::Result<()> {
    connection.busy_timeout(Duration::from_millis(400))?;
    connection.pragma_update(None, "locking_mode", "exclusive")?;
    connection.pragma_update(None, "synchronous", "full")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "cell_size_check", true)
}

/// Opens a file that is there, once it has been looked at without a touch.
pub(super) fn open(path: &Path) -> Result<Connection, FileFault> {
    look(path)?;
    let log = with_suffix(path, "-wal");
    let had_log = log.exists();
    let opened = open_whole(path);
    if opened.is_err() && !had_log && fs::metadata(&log).is_ok_and(|log| log.len() == 0) {
        let _ = fs::remove_file(&log);
    }
    match opened {
        Err(FileFault::Damaged { path, what, .. }) => {
            let salvage = Box::new(rescue::salvage(&path));
            Err(FileFault::Damaged { path, what, salvage })
        }
        other => other,
    }
}

fn open_whole(path: &Path) -> Result<Connection, FileFault> {
    let fault = |error| FileFault::of(path, &error);
    let connection = connect(path).map_err(fault)?;
    // takes the lock, before anything is read
    connection.execute_batch("BEGIN IMMEDIATE; COMMIT;").map_err(fault)?;
    let said = check(&connection).map_err(fault)?;
    if said.is_empty() {
        connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false).map_err(fault)?;
        return Ok(connection);
    }
    Err(FileFault::Damaged { path: path.to_owned(), what: said, salvage: Box::default() })
}

/// A connection that writes nothing back by itself when it is closed.
pub(super) fn connect(path: &Path) -> rusqlite::Result<Connection> {
    let connection = Connection::open_with_flags(
        path,
        OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX,
    )?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    habits(&connection)?;
    Ok(connection)
}

/// What the pages and the journal's own digests say against the file; empty when it is whole.
fn check(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut asked = connection.prepare("PRAGMA integrity_check(8)")?;
    let pages = asked.query_map([], |row| row.get::<_, String>(0))?;
    let mut said =
        pages.filter(|line| !matches!(line, Ok(line) if line == "ok")).collect::<Result<Vec<_>, _>>()?;
    if said.is_empty() {
        said = journal::check(connection)?;
    }
    Ok(said)
}

/// The first bytes of the file, read and nothing more: is it ours, and not too new?
fn look(path: &Path) -> Result<(), FileFault> {
    let io = |error| FileFault::io(path, &error);
    let foreign = |what: &str| FileFault::Foreign { path: path.to_owned(), what: what.to_owned() };
    let mut file = fs::File::open(path).map_err(io)?;
    if file.metadata().map_err(io)?.is_dir() {
        return Err(foreign("it is a folder"));
    }
    let mut head = Vec::new();
    file.by_ref().take(100).read_to_end(&mut head).map_err(io)?;
    if head.is_empty() {
        return Err(foreign("it is empty"));
    }
    if !head.starts_with(b"SQLite format 3\0") || head.len() < 100 {
        let text = std::str::from_utf8(&head).is_ok_and(|head| !head.contains('\0'));
        return Err(foreign(if text {
            "it is a text; if it is a plan, `dryfit open` and `dryfit new --from` take it by its name ending in .toml"
        } else {
            "its first bytes are not those of a project"
        }));
    }
    let number = |at: usize| u32::from_be_bytes([head[at], head[at + 1], head[at + 2], head[at + 3]]);
    if number(68) != APPLICATION {
        return Err(foreign("it is a database of another program"));
    }
    match i64::from(number(60)) {
        FORM => Ok(()),
        newer if newer > FORM => Err(FileFault::Newer { path: path.to_owned(), form: newer, known: FORM }),
        _ => Err(foreign("its form has no number")),
    }
}

/// Writes the log back and closes.
pub(super) fn close(connection: Connection, path: &Path) -> Result<(), FileFault> {
    let written = connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
    let closed = connection.close().map_err(|(_, error)| error);
    written.and(closed).map_err(|error| FileFault::of(path, &error))
}
