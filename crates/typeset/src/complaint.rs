//! What the engine has to say, with the place in the template where it says so.

use std::fmt;

use typst::World as _;
use typst::WorldExt as _;
use typst::diag::SourceDiagnostic;

use crate::world::Desk;

/// One remark of the engine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Complaint {
    /// File and line (from 1), where it is known.
    pub at: Option<(String, usize)>,
    /// The remark, with the engine's hints behind it.
    pub message: String,
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some((file, line)) = &self.at {
            write!(f, "{file}:{line}: ")?;
        }
        f.write_str(&self.message)
    }
}

impl Complaint {
    pub(crate) fn locate(said: &SourceDiagnostic, desk: &Desk) -> Self {
        let at = said.span.id().and_then(|id| {
            let name = id.get().vpath().get_without_slash().to_owned();
            let start = desk.range(said.span)?.start;
            let line = desk.source(id).ok()?.lines().byte_to_line(start)?;
            Some((name, line + 1))
        });
        let mut message = said.message.to_string();
        for hint in &said.hints {
            message.push_str("; ");
            message.push_str(&hint.v);
        }
        Complaint { at, message }
    }
}

/// Why nothing could be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Everything that is wrong, in the order in which it was met.
    pub complaints: Vec<Complaint>,
}

impl Fault {
    pub(crate) fn plain(message: String) -> Self {
        Fault { complaints: vec![Complaint { at: None, message }] }
    }

    pub(crate) fn locate(said: &[SourceDiagnostic], desk: &Desk) -> Self {
        Fault { complaints: said.iter().map(|d| Complaint::locate(d, desk)).collect() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, complaint) in self.complaints.iter().enumerate() {
            if i > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{complaint}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Fault {}
