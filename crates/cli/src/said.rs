//! What a command comes to, and how findings are said on a terminal.

use std::fmt::Write as _;
use std::io::{self, Write as _};

use dryfit_project::Report;

/// How a command ended when its input could be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// All is well.
    Fine,
    /// Something will not go together, is unsafe, or cannot be cut.
    WillNotDo,
}

impl Outcome {
    /// `Fine` unless something stops.
    pub fn unless(stops: bool) -> Outcome {
        if stops { Outcome::WillNotDo } else { Outcome::Fine }
    }
}

/// Why a command could not do its work at all.
pub type Fault = Box<dyn std::error::Error>;

/// What every command gives back.
pub type Ended = Result<Outcome, Fault>;

/// Prints to standard output; a reader that went away is no fault.
pub fn say(text: &str) -> Result<(), Fault> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(fault) if fault.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => Ok(other?),
    }
}

/// All findings of a report, and a line that counts them.
pub fn findings(report: &Report) -> String {
    let mut text = String::new();
    for finding in &report.findings {
        let left = finding.waived.as_ref().map_or("", |_| " (left as it is)");
        let _ = writeln!(text, "{}[{}]{left}: {}", finding.severity, finding.id, finding.what);
        let _ = writeln!(text, "  at: {}", finding.at);
        for because in &finding.because {
            let _ = writeln!(text, "  because: {because}");
        }
        let _ = writeln!(text, "  source: {}", finding.source);
        if let Some(reason) = &finding.waived {
            let _ = writeln!(text, "  left because: {reason}");
        }
        for (index, fix) in finding.fixes.iter().enumerate() {
            let _ = writeln!(text, "  fix {}: {}", index + 1, fix.label);
        }
        text.push('\n');
    }
    text.push_str(&count(report));
    text.push('\n');
    text
}

/// "1 stop, 2 looks, 3 notes" or "nothing to say against it".
pub fn count(report: &Report) -> String {
    let open = |severity| {
        report
            .findings
            .iter()
            .filter(|finding| finding.severity == severity && finding.waived.is_none())
            .count()
    };
    let waived = report.findings.iter().filter(|finding| finding.waived.is_some()).count();
    let words: Vec<String> = [("stop", open("stop")), ("look", open("look")), ("note", open("note"))]
        .into_iter()
        .filter(|(_, count)| *count > 0)
        .map(|(word, count)| format!("{count} {word}{}", if count == 1 { "" } else { "s" }))
        .chain((waived > 0).then(|| format!("{waived} left as it is")))
        .collect();
    if words.is_empty() { "nothing to say against it".to_owned() } else { words.join(", ") }
}
