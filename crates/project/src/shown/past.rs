//! The history as it is shown.

use serde::Serialize;

use super::number::{Run, rich};
use crate::file::Standing;
use crate::job::{Job, JobFault};

/// The page of the history.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct HistoryPage {
    /// One plain line.
    pub line: Vec<Run>,
    /// The moments, newest first.
    pub rows: Vec<PastRow>,
}

/// One moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PastRow {
    /// Its number.
    pub moment: u32,
    /// When.
    pub at: String,
    /// What it is called.
    pub label: Vec<Run>,
    /// here, behind, ahead, aside.
    pub standing: &'static str,
    /// The same in words; nothing where it simply counts.
    pub says: &'static str,
}

/// The page of the history.
///
/// # Errors
/// When the file cannot be read.
pub fn history(job: &Job) -> Result<HistoryPage, JobFault> {
    let past = job.history()?;
    let edits = past.len().saturating_sub(1);
    let line = format!(
        "{}, kept in this one file; nothing is ever taken out",
        super::frame::counted(edits, "edit", "edits")
    );
    let rows = past
        .into_iter()
        .rev()
        .map(|past| {
            let (standing, says) = match past.standing {
                Standing::Here => ("here", "you are here"),
                Standing::Behind => ("behind", ""),
                Standing::Ahead => ("ahead", "taken back"),
                Standing::Aside => ("aside", "set aside"),
            };
            PastRow {
                moment: u32::try_from(past.moment).unwrap_or_default(),
                at: when(&past.at),
                label: rich(&past.label.replace('`', "")),
                standing,
                says,
            }
        })
        .collect();
    Ok(HistoryPage { line: rich(&line), rows })
}

/// "24 Nov 21:40" from `2026-11-24T21:40:09+01:00`; what is no such time is shown as it is.
///
/// ```
/// use dryfit_project::shown::when;
/// assert_eq!(when("2026-11-24T21:40:09+01:00"), "24 Nov 21:40");
/// assert_eq!(when("yesterday"), "yesterday");
/// ```
pub fn when(at: &str) -> String {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let told = || {
        let (date, time) = at.split_once('T')?;
        let mut parts = date.split('-').skip(1);
        let month: usize = parts.next()?.parse().ok()?;
        let day: u32 = parts.next()?.parse().ok()?;
        Some(format!("{day} {} {}", MONTHS.get(month.checked_sub(1)?)?, time.get(..5)?))
    };
    told().unwrap_or_else(|| at.to_owned())
}
