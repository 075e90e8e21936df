//! The journal: moments, the steps between them, and snapshots of their text.

use std::collections::BTreeSet;

use dryfit_plan::{Edit, EditRefused, Plan, apply_to_text};
use rusqlite::{Connection, OptionalExtension, Row, Transaction, params};

use super::fault::FileFault;
use super::{Moment, ProjectFile};

/// A snapshot at least every so many edits: an opening plays no more than these.
const EVERY: i64 = 24;

/// One row of the journal.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub moment: Moment,
    pub parent: Option<Moment>,
    pub at: String,
    pub label: String,
    pub patch: String,
    pub inverse: String,
    digest: i64,
}

impl Entry {
    pub(super) fn read(row: &Row<'_>) -> rusqlite::Result<Entry> {
        Ok(Entry {
            moment: row.get(0)?,
            parent: row.get(1)?,
            at: row.get(2)?,
            label: row.get(3)?,
            patch: row.get(4)?,
            inverse: row.get(5)?,
            digest: row.get(6)?,
        })
    }

    /// Whether it says what was written.
    pub(super) fn is_whole(&self) -> bool {
        let parent = self.parent.unwrap_or(-1).to_string();
        let said = [&self.moment.to_string(), &parent, &self.at, &self.label, &self.patch, &self.inverse];
        self.digest == digest(&said.map(String::as_str))
    }

    /// The edit that it is; none at the beginning.
    pub(super) fn edit(&self) -> Option<Edit> {
        let patch = serde_json::from_str(&self.patch).ok()?;
        Some(Edit { label: self.label.clone(), patch })
    }
}

pub(super) const ENTRIES: &str =
    "SELECT moment, parent, at, label, patch, inverse, digest FROM moments ORDER BY moment";

/// FNV-1a (64 bits) over texts with their lengths: tells a flipped bit, guards against nobody.
fn digest(texts: &[&str]) -> i64 {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    let mut add = |bytes: &[u8]| {
        for byte in bytes {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
    };
    for text in texts {
        add(&text.len().to_le_bytes());
        add(text.as_bytes());
    }
    hash.cast_signed()
}

/// Whether a snapshot says what was written.
pub(super) fn is_whole(text: &str, stored: i64) -> bool {
    digest(&[text]) == stored
}

/// The first moment.
pub(super) fn begin(filling: &Transaction<'_>, text: &str, label: &str, at: &str) -> rusqlite::Result<()> {
    add(filling, 0, None, at, label, ["", ""])?;
    snapshot(filling, 0, text)?;
    step(filling, 0, at)
}

fn add(
    filling: &Transaction<'_>,
    moment: Moment,
    parent: Option<Moment>,
    at: &str,
    label: &str,
    [patch, inverse]: [&str; 2],
) -> rusqlite::Result<()> {
    let before = parent.unwrap_or(-1).to_string();
    let sum = digest(&[&moment.to_string(), &before, at, label, patch, inverse]);
    filling.execute(
        "INSERT INTO moments VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        params![moment, parent, at, label, patch, inverse, sum],
    )?;
    Ok(())
}

fn snapshot(filling: &Transaction<'_>, moment: Moment, text: &str) -> rusqlite::Result<()> {
    filling.execute("INSERT INTO snapshots VALUES (?1, ?2, ?3)", params![moment, text, digest(&[text])])?;
    Ok(())
}

fn step(filling: &Transaction<'_>, moment: Moment, at: &str) -> rusqlite::Result<()> {
    filling.execute("INSERT INTO steps(at, moment) VALUES (?1, ?2)", params![at, moment])?;
    Ok(())
}

/// What the journal's digests say against it.
pub(super) fn check(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut said = Vec::new();
    let mut known = BTreeSet::new();
    let mut entries = connection.prepare(ENTRIES)?;
    for entry in entries.query_map([], Entry::read)? {
        let entry = entry?;
        if !entry.is_whole() {
            said.push(format!("edit {} does not say what was written", entry.moment));
        }
        if entry.parent.is_none() != (entry.moment == 0) || entry.parent.is_some_and(|p| !known.contains(&p))
        {
            said.push(format!("edit {} hangs on nothing", entry.moment));
        }
        known.insert(entry.moment);
    }
    let mut snapshots = connection.prepare("SELECT moment, text, digest FROM snapshots")?;
    let each =
        |row: &Row<'_>| Ok((row.get::<_, Moment>(0)?, row.get::<_, String>(1)?, row.get::<_, i64>(2)?));
    let mut any = false;
    for snapshot in snapshots.query_map([], each)? {
        let (moment, text, stored) = snapshot?;
        any = true;
        if !is_whole(&text, stored) {
            said.push(format!("the copy of the plan at edit {moment} does not say what was written"));
        }
    }
    let here: Option<Moment> = connection
        .query_row("SELECT moment FROM steps ORDER BY step DESC LIMIT 1", [], |row| row.get(0))
        .optional()?;
    if !any || !here.is_some_and(|here| known.contains(&here)) {
        said.push("the journal has no beginning or no end".to_owned());
    }
    Ok(said)
}

/// The text after an edit of it: in place where its layout allows, else written anew.
pub(crate) fn forward(text: &str, edit: &Edit) -> Result<String, EditRefused> {
    match apply_to_text(text, edit) {
        Err(EditRefused::Layout) => {
            let plan = Plan::from_toml(text).map_err(EditRefused::Faults)?.plan;
            Ok(plan.apply(edit)?.0.to_toml())
        }
        other => other,
    }
}

impl ProjectFile {
    /// The moment at which the builder stands.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn here(&self) -> Result<Moment, FileFault> {
        self.connection
            .query_row("SELECT moment FROM steps ORDER BY step DESC LIMIT 1", [], |row| row.get(0))
            .map_err(|error| self.fault(&error))
    }

    /// A number that tells this file from others: of its path, and of when and from what it was begun.
    pub fn identity(&self) -> i64 {
        let begun = self.entry(0).map(|entry| entry.at + &entry.label).unwrap_or_default();
        digest(&[&self.path.to_string_lossy(), &begun])
    }

    /// The number of the last moment there is.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn last(&self) -> Result<Moment, FileFault> {
        self.connection
            .query_row("SELECT max(moment) FROM moments", [], |row| row.get(0))
            .map_err(|error| self.fault(&error))
    }

    pub(super) fn entry(&self, moment: Moment) -> Result<Entry, FileFault> {
        let asked = ENTRIES.replace("ORDER BY moment", "WHERE moment = ?1");
        self.connection
            .query_row(&asked, [moment], Entry::read)
            .optional()
            .map_err(|error| self.fault(&error))?
            .ok_or(FileFault::NoMoment { moment })
    }

    /// The plan's text at a moment.
    ///
    /// # Errors
    /// When there is no such moment, or what the journal says of it leads to no plan.
    pub fn text(&self, moment: Moment) -> Result<String, FileFault> {
        let mut edits = Vec::new();
        let mut at = moment;
        let mut text = loop {
            let found: Option<String> = self
                .connection
                .query_row("SELECT text FROM snapshots WHERE moment = ?1", [at], |row| row.get(0))
                .optional()
                .map_err(|error| self.fault(&error))?;
            if let Some(text) = found {
                break text;
            }
            let entry = self.entry(at)?;
            at = entry.parent.ok_or(FileFault::NoMoment { moment })?;
            edits.push(entry);
        };
        for entry in edits.iter().rev() {
            let after = entry.edit().and_then(|edit| forward(&text, &edit).ok());
            text = after.ok_or_else(|| FileFault::Damaged {
                path: self.path.clone(),
                what: vec![format!(
                    "edit {} (\"{}\") no longer fits the plan before it",
                    entry.moment, entry.label
                )],
                salvage: Box::default(),
            })?;
        }
        Ok(text)
    }

    /// Writes an edit behind the moment where the builder stands, and stands there. `after` is the text it leaves.
    /// When this returns, the edit is on the disk.
    ///
    /// # Errors
    /// When it cannot be written; the file is as it was then.
    pub fn append(
        &mut self,
        edit: &Edit,
        inverse: &Edit,
        after: &str,
        at: &str,
    ) -> Result<Moment, FileFault> {
        let (here, last) = (self.here()?, self.last()?);
        let due = self.edits_since_snapshot(here)? + 1 >= EVERY;
        let patch = |edit: &Edit| serde_json::to_string(&edit.patch).unwrap_or_default();
        let writing = |connection: &mut Connection| -> rusqlite::Result<()> {
            let filling = connection.transaction()?;
            add(&filling, last + 1, Some(here), at, &edit.label, [&patch(edit), &patch(inverse)])?;
            if due {
                snapshot(&filling, last + 1, after)?;
            }
            step(&filling, last + 1, at)?;
            filling.commit()
        };
        writing(&mut self.connection).map_err(|error| self.fault(&error))?;
        Ok(last + 1)
    }

    fn edits_since_snapshot(&self, moment: Moment) -> Result<i64, FileFault> {
        self.connection
            .query_row(
                "WITH RECURSIVE back(moment, steps) AS (
                   SELECT ?1, 0 UNION ALL
                   SELECT moments.parent, steps + 1 FROM back JOIN moments USING (moment)
                   WHERE NOT EXISTS (SELECT 1 FROM snapshots WHERE snapshots.moment = back.moment)
                 ) SELECT max(steps) FROM back",
                [moment],
                |row| row.get(0),
            )
            .map_err(|error| self.fault(&error))
    }

    /// Stands at another moment from now on: what undo and redo do.
    ///
    /// # Errors
    /// When there is no such moment, or it cannot be written.
    pub fn stand_at(&mut self, moment: Moment, at: &str) -> Result<(), FileFault> {
        self.entry(moment)?;
        let writing = |connection: &mut Connection| -> rusqlite::Result<()> {
            let filling = connection.transaction()?;
            step(&filling, moment, at)?;
            filling.commit()
        };
        writing(&mut self.connection).map_err(|error| self.fault(&error))
    }
}
