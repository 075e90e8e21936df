//! Stage 7, release: what is known well enough to be cut today, and what is held back for which reading.

use dryfit_measure::Key;

/// What this release holds.
#[derive(Clone, Debug)]
pub struct Release {
    /// Its number, from one.
    pub number: u32,
    /// What may be cut today: unit, and which of its parts ("box, frame").
    pub cut_today: Vec<Ready>,
    /// What may not, and what would release it.
    pub held: Vec<Held>,
}

/// Something that may be cut today.
#[derive(Clone, Debug)]
pub struct Ready {
    /// The unit.
    pub unit: Key,
    /// Which of its parts.
    pub what: String,
}

/// Something that may not be cut yet.
#[derive(Clone, Debug)]
pub struct Held {
    /// The unit or worktop.
    pub subject: Key,
    /// Which of its parts: "doors".
    pub what: String,
    /// What would release it: a reading, or a gate.
    pub until: Until,
}

/// What something waits for.
#[derive(Clone, Debug)]
pub enum Until {
    /// Readings to take, in words.
    Readings(Vec<String>),
    /// Openings measured as built.
    Openings,
    /// Units fixed, measured over all.
    UnitsSet,
}
