//! What is round every page: the register, the totals, and what can be taken back.

use serde::Serialize;

use super::finding::cards;
use super::names;
use super::number::{Run, rich};
use crate::job::{Job, JobFault};
use crate::open::Project;

/// What is round every page.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Frame {
    /// The job's name.
    pub name: String,
    /// The file's name.
    pub file: String,
    /// The edit it stands at.
    pub moment: u32,
    /// What an edit made for it has to name.
    pub tag: String,
    /// When that was, as the history has it.
    pub at: String,
    /// The pages, in the order of the job.
    pub pages: Vec<PageMark>,
    /// Open findings: stops, looks, notes.
    pub counts: [u32; 3],
    /// The bottom line.
    pub sums: Vec<Sum>,
    /// What undo takes back.
    pub undo: Option<String>,
    /// What redo does again.
    pub redo: Option<String>,
    /// The finest mark, for the corner: `1/16 in`.
    pub fineness: Vec<Run>,
}

/// One page in the register.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PageMark {
    /// What it is asked for by.
    pub key: &'static str,
    /// Its number.
    pub number: u32,
    /// Its name.
    pub name: &'static str,
    /// Open findings on it: stops, looks, notes.
    pub counts: [u32; 3],
    /// Whether a line stands above it in the register.
    pub ruled: bool,
}

/// One box of the bottom line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Sum {
    /// What it says.
    pub says: Vec<Run>,
    /// The page it leads to.
    pub page: &'static str,
}

/// The pages, in the order of the job, and whether a new group begins.
const PAGES: &[(&str, &str, bool)] = &[
    ("survey", "Survey", false),
    ("layout", "Layout", false),
    ("dry-fit", "Dry fit", false),
    ("casework", "Casework", true),
    ("cut-list", "Cut list", false),
    ("surfaces", "Surfaces", false),
    ("rough-in", "Rough-in", false),
    ("buying", "Buying", true),
    ("order", "Order of work", false),
    ("costs", "Costs", false),
    ("packet", "Packet", true),
    ("history", "History", false),
];

/// The frame of a job.
///
/// # Errors
/// When the file cannot be read.
pub fn frame(job: &Job) -> Result<Frame, JobFault> {
    let project = job.project();
    let cards = cards(project);
    let counts = |on: &dyn Fn(&str) -> bool| {
        ["stop", "look", "note"].map(|severity| {
            let open =
                cards.iter().filter(|card| card.left.is_none() && card.severity == severity && on(card.page));
            u32::try_from(open.count()).unwrap_or(u32::MAX)
        })
    };
    let here = job.history()?.into_iter().find(|past| past.moment == job.moment());
    Ok(Frame {
        name: project.plan.name.clone(),
        file: job.file().name(),
        moment: u32::try_from(job.moment()).unwrap_or_default(),
        tag: job.tag(),
        at: here.map(|past| super::when(&past.at)).unwrap_or_default(),
        pages: PAGES
            .iter()
            .zip(1..)
            .map(|((key, name, ruled), number)| PageMark {
                key,
                number,
                name,
                // what will not go together is dry-fitted too
                counts: counts(&|page| page == *key),
                ruled: *ruled,
            })
            .collect(),
        counts: counts(&|_| true),
        sums: sums(project),
        undo: job.file().undo_leads_to()?.map(|(label, _)| label.replace('`', "")),
        redo: job.file().redo_leads_to()?.map(|(label, _)| label.replace('`', "")),
        fineness: rich(project.plan.fineness.text()),
    })
}

/// Sheets and boards to buy.
pub(super) fn sheets(project: &Project) -> [usize; 2] {
    let layouts = &project.derived.layouts;
    [&layouts.sheets, &layouts.boards]
        .map(|stacks| stacks.iter().map(dryfit_stages::layouts::SheetStack::bought).sum())
}

pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

/// The bottom line: of readings before anything is placed, then of what is bought and what it costs.
fn sums(project: &Project) -> Vec<Sum> {
    let (plan, derived) = (&project.plan, &project.derived);
    let sum = |says: String, page| Sum { says: rich(&says), page };
    if plan.units.is_empty() {
        let readings = counted(plan.readings.len(), "reading", "readings");
        let walls = counted(derived.survey.walls.len(), "wall", "walls");
        return vec![
            sum(readings, "survey"),
            sum(walls, "survey"),
            sum("nothing placed yet".to_owned(), "layout"),
        ];
    }
    let [sheets, boards] = sheets(project);
    let total = derived.takeoff.total + derived.takeoff.tax;
    let mut sums = vec![
        sum(counted(sheets, "sheet", "sheets"), "cut-list"),
        sum(counted(boards, "board", "boards"), "cut-list"),
        sum(format!("{} to buy", names::money(plan, total)), "buying"),
    ];
    let ready = derived.release.cut_today.len();
    sums.push(sum(format!("{} may be cut today", counted(ready, "unit", "units")), "packet"));
    sums
}
