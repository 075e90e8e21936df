//! A job of either kind, told apart by what it lists.

use crate::length_job::LengthJob;
use crate::read::{ReadFault, parse};
use crate::sheet_job::SheetJob;

/// A cutting job as read from JSON.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Job {
    /// It lists `sheets`.
    Sheets(SheetJob),
    /// It lists `stocks`.
    Lengths(LengthJob),
}

impl Job {
    /// Read a job of either kind. Fields that are not known are ignored.
    ///
    /// # Errors
    /// Every fault of the text, each with its place and remedy.
    pub fn read(text: &str) -> Result<Job, Vec<ReadFault>> {
        let v = parse(text)?;
        let fault = |what: &str, remedy: &str| {
            vec![ReadFault { path: String::new(), what: what.into(), remedy: remedy.into() }]
        };
        let Some(o) = v.as_object() else {
            return Err(fault("expected an object", "write { ... } with `sheets` or `stocks`, and `parts`"));
        };
        match (o.contains_key("sheets"), o.contains_key("stocks")) {
            (true, false) => SheetJob::from_value(&v).map(Job::Sheets),
            (false, true) => LengthJob::from_value(&v).map(Job::Lengths),
            (true, true) => Err(fault("both `sheets` and `stocks` are listed", "make two jobs of it")),
            (false, false) => Err(fault(
                "neither `sheets` nor `stocks` is listed",
                "list `sheets` to cut from sheets, `stocks` to cut from bars",
            )),
        }
    }
}
