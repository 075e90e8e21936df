//! The history as a list, and where undo and redo lead.

use super::fault::FileFault;
use super::journal::{ENTRIES, Entry};
use super::{Moment, ProjectFile};

/// One moment as it stands in the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Past {
    /// Its number.
    pub moment: Moment,
    /// The moment it is an edit of; none at the beginning.
    pub parent: Option<Moment>,
    /// When, as the caller's clock had it.
    pub at: String,
    /// What it is called.
    pub label: String,
    /// Whether it counts.
    pub standing: Standing,
}

/// How a moment lies to where the builder stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The builder stands here.
    Here,
    /// On the way here.
    Behind,
    /// Taken back, and what redo leads to.
    Ahead,
    /// Taken back, and something else was done instead.
    Aside,
}

impl ProjectFile {
    /// Every moment, oldest first.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn history(&self) -> Result<Vec<Past>, FileFault> {
        let entries = self.entries()?;
        let here = self.here()?;
        let parent = |moment: Moment| entries.iter().find(|e| e.moment == moment).and_then(|e| e.parent);
        let behind: Vec<Moment> = std::iter::successors(parent(here), |at| parent(*at)).collect();
        let after = |at: &Moment| entries.iter().rev().find(|e| e.parent == Some(*at)).map(|e| e.moment);
        let ahead: Vec<Moment> = std::iter::successors(after(&here), after).collect();
        let standing = |moment: Moment| {
            if moment == here {
                Standing::Here
            } else if behind.contains(&moment) {
                Standing::Behind
            } else if ahead.contains(&moment) {
                Standing::Ahead
            } else {
                Standing::Aside
            }
        };
        Ok(entries
            .iter()
            .map(|entry| Past {
                moment: entry.moment,
                parent: entry.parent,
                at: entry.at.clone(),
                label: entry.label.clone(),
                standing: standing(entry.moment),
            })
            .collect())
    }

    fn entries(&self) -> Result<Vec<Entry>, FileFault> {
        let read = || {
            let mut asked = self.connection.prepare(ENTRIES)?;
            let rows = asked.query_map([], Entry::read)?;
            rows.collect::<rusqlite::Result<Vec<_>>>()
        };
        read().map_err(|error| self.fault(&error))
    }

    /// What undo takes back, and the moment it leads to; none at the beginning.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn undo_leads_to(&self) -> Result<Option<(String, Moment)>, FileFault> {
        let entry = self.entry(self.here()?)?;
        Ok(entry.parent.map(|parent| (entry.label, parent)))
    }

    /// What redo does again, and the moment it leads to; none when nothing was taken back.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn redo_leads_to(&self) -> Result<Option<(String, Moment)>, FileFault> {
        let here = self.here()?;
        let next = self.entries()?.into_iter().rev().find(|entry| entry.parent == Some(here));
        Ok(next.map(|entry| (entry.label, entry.moment)))
    }
}
