//! A cutting job of bare numbers, of either kind, searched in steps and always verified.

use std::fmt;

use dryfit_cutting::{
    Job, LengthFault, LengthJob, LengthSearch, ReadFault, SheetFault, SheetJob, SheetSearch, Unplaced,
    verify_lengths, verify_sheets,
};

/// A job under way.
pub enum CutSearch {
    /// Out of sheets.
    Sheets(SheetJob, Box<SheetSearch>),
    /// Out of lengths.
    Lengths(LengthJob, Box<LengthSearch>),
}

/// Every fault of a job that could not be read.
#[derive(Debug)]
pub struct JobFaults(Vec<ReadFault>);

/// What came out.
#[derive(Clone, Debug)]
pub struct CutAnswer {
    /// The layout in its JSON form.
    pub layout: String,
    /// "7 sheets, cost 51800; at least 7: ..." in a line.
    pub summary: String,
    /// Why parts are missing, one line each; empty when all is placed.
    pub cannot: Vec<String>,
    /// What the independent verifier says against it: empty, or this program is mistaken.
    pub refused: Vec<String>,
}

impl CutSearch {
    /// Reads a job and finds a first layout.
    pub fn begin(text: &str, seed: u64) -> Result<CutSearch, JobFaults> {
        Ok(match Job::read(text).map_err(JobFaults)? {
            Job::Sheets(job) => {
                let search = Box::new(SheetSearch::new(&job, seed));
                CutSearch::Sheets(job, search)
            }
            Job::Lengths(job) => {
                let search = Box::new(LengthSearch::new(&job, seed));
                CutSearch::Lengths(job, search)
            }
        })
    }

    /// Steps between two looks at a clock: a step on sheets is a blink, one on lengths a whole relaxation.
    pub fn stride(&self) -> u64 {
        match self {
            CutSearch::Sheets(..) => 500,
            CutSearch::Lengths(..) => 1,
        }
    }

    /// Steps that are usually worth their while.
    pub fn usual_steps(&self) -> u64 {
        match self {
            CutSearch::Sheets(..) => 20_000,
            CutSearch::Lengths(..) => 40,
        }
    }

    /// Searches so many steps further; whether there is nothing left to gain.
    pub fn run(&mut self, steps: u64) -> bool {
        match self {
            CutSearch::Sheets(_, search) => search.run(steps),
            CutSearch::Lengths(_, search) => search.run(steps),
        }
    }

    /// The best layout so far.
    pub fn answer(&self) -> CutAnswer {
        match self {
            CutSearch::Sheets(job, search) => {
                let answer = search.answer();
                let (report, bound) = (&answer.report, &answer.bound);
                CutAnswer {
                    summary: summary(report.sheets, "sheet", report.cost, answer.proven, bound),
                    cannot: answer.layout.unplaced.iter().map(missing).collect(),
                    refused: verify_sheets(job, &answer.layout)
                        .iter()
                        .filter(|fault| {
                            !matches!(fault, SheetFault::WrongCount { id, placed, wanted }
                            if placed + declared(&answer.layout.unplaced, id) == *wanted)
                        })
                        .map(ToString::to_string)
                        .collect(),
                    layout: answer.layout.to_json(),
                }
            }
            CutSearch::Lengths(job, search) => {
                let answer = search.answer();
                let (report, bound) = (&answer.report, &answer.bound);
                CutAnswer {
                    summary: summary(report.bars, "length", report.cost, answer.proven, bound),
                    cannot: answer.layout.unplaced.iter().map(missing).collect(),
                    refused: verify_lengths(job, &answer.layout)
                        .iter()
                        .filter(|fault| {
                            !matches!(fault, LengthFault::WrongCount { id, cut, wanted }
                            if cut + i128::from(declared(&answer.layout.unplaced, id)) == i128::from(*wanted))
                        })
                        .map(ToString::to_string)
                        .collect(),
                    layout: answer.layout.to_json(),
                }
            }
        }
    }
}

/// "4 of `side`: it is 1500 x 9000; ..."
fn missing(one: &Unplaced) -> String {
    format!("{} of `{}`: {}", one.qty, one.part_id, one.why)
}

/// How many of a part the layout itself says are missing: that is no mistake of the layout.
fn declared(unplaced: &[Unplaced], id: &str) -> i64 {
    unplaced.iter().filter(|one| one.part_id == id).map(|one| one.qty).sum()
}

fn summary(count: i64, what: &str, cost: i64, proven: bool, bound: &dryfit_cutting::Bound) -> String {
    let plural = if count == 1 { "" } else { "s" };
    let proof = if proven { "proven, never less".to_owned() } else { format!("at least {}", bound.value) };
    format!("{count} {what}{plural}, cost {cost} ({proof}): {}", bound.why)
}

impl fmt::Display for JobFaults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for fault in &self.0 {
            writeln!(f, "fault: {fault}")?;
        }
        let count = self.0.len();
        write!(f, "{count} fault{} in the job; nothing was written", if count == 1 { "" } else { "s" })
    }
}

impl std::error::Error for JobFaults {}
