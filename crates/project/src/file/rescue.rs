//! What can be saved from a damaged file. It works on a copy, row by row, and takes what can still be read.

use std::collections::BTreeMap;
use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;

use super::Moment;
use super::form;
use super::journal::{ENTRIES, Entry, forward, is_whole};

/// What can be saved.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Salvage {
    /// The plan's text at the latest moment that can be reached.
    pub text: Option<String>,
    /// That moment.
    pub moment: Moment,
    /// The latest moment that is known of.
    pub last: Moment,
    /// Attachments that can still be read.
    pub attachments: usize,
}

/// Looks for what can be saved from the file at `path`, which stays as it is.
pub fn salvage(path: &Path) -> Salvage {
    let Some(copy) = Copy::of(path) else { return Salvage::default() };
    form::connect(&copy.file).map(|connection| from(&connection)).unwrap_or_default()
}

fn from(connection: &Connection) -> Salvage {
    let entries: BTreeMap<Moment, Entry> =
        rows(connection, ENTRIES, Entry::read).into_iter().map(|entry| (entry.moment, entry)).collect();
    let snapshots: BTreeMap<Moment, String> =
        rows(connection, "SELECT moment, text, digest FROM snapshots", |row| {
            Ok((row.get::<_, Moment>(0)?, row.get::<_, String>(1)?, row.get::<_, i64>(2)?))
        })
        .into_iter()
        .filter(|(_, text, digest)| is_whole(text, *digest))
        .map(|(moment, text, _)| (moment, text))
        .collect();
    let steps: Vec<Moment> =
        rows(connection, "SELECT moment FROM steps ORDER BY step DESC", |row| row.get(0));
    let attachments = rows(connection, "SELECT digest FROM attachments", |row| row.get::<_, String>(0)).len();
    let last = entries.keys().chain(snapshots.keys()).chain(&steps).max().copied().unwrap_or_default();
    let wanted = steps.iter().chain(entries.keys().rev()).chain(snapshots.keys().rev());
    let reached = wanted.copied().find_map(|moment| Some((moment, reach(moment, &entries, &snapshots)?)));
    let (moment, text) = reached.map_or((0, None), |(moment, text)| (moment, Some(text)));
    Salvage { text, moment, last, attachments }
}

/// The text at a moment, played forward from the nearest snapshot that is whole.
fn reach(
    moment: Moment,
    entries: &BTreeMap<Moment, Entry>,
    snapshots: &BTreeMap<Moment, String>,
) -> Option<String> {
    let mut edits = Vec::new();
    let mut at = moment;
    let mut text = loop {
        if let Some(text) = snapshots.get(&at) {
            break text.clone();
        }
        let entry = entries.get(&at).filter(|entry| entry.is_whole())?;
        edits.push(entry.edit()?);
        // parents come before their children: this ends
        at = entry.parent.filter(|parent| *parent < at)?;
    };
    for edit in edits.iter().rev() {
        text = forward(&text, edit).ok()?;
    }
    Some(text)
}

/// Every row that can be read, up to the first that cannot.
fn rows<T>(
    connection: &Connection,
    asked: &str,
    each: impl FnMut(&rusqlite::Row<'_>) -> rusqlite::Result<T>,
) -> Vec<T> {
    let Ok(mut asked) = connection.prepare(asked) else { return Vec::new() };
    asked.query_map([], each).map(|rows| rows.map_while(Result::ok).collect()).unwrap_or_default()
}

/// A copy of a file and its log in a folder of its own, gone when it is let go.
struct Copy {
    folder: PathBuf,
    file: PathBuf,
}

impl Copy {
    fn of(path: &Path) -> Option<Copy> {
        let stem = path.file_name()?.to_string_lossy().into_owned();
        let folder = std::env::temp_dir().join(format!("dryfit-rescue-{}-{stem}", std::process::id()));
        fs::create_dir_all(&folder).ok()?;
        let copy = Copy { file: folder.join("copy"), folder };
        fs::copy(path, &copy.file).ok()?;
        let mut log = path.as_os_str().to_owned();
        log.push("-wal");
        let _ = fs::copy(PathBuf::from(log), copy.folder.join("copy-wal"));
        Some(copy)
    }
}

impl Drop for Copy {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

impl fmt::Display for Salvage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.text, self.last - self.moment) {
            (None, _) => write!(f, "no plan can be saved from it; look for an older copy of the file")?,
            (Some(_), 0) => write!(f, "the plan can be saved as it stood last (edit {})", self.moment)?,
            (Some(_), lost) => {
                write!(f, "the plan can be saved as of edit {}; {lost} later are lost", self.moment)?;
            }
        }
        match self.attachments {
            0 => Ok(()),
            1 => write!(f, ", and 1 attachment can be read"),
            n => write!(f, ", and {n} attachments can be read"),
        }
    }
}
