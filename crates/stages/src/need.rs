//! What a stage needs of a good: the one form in which every stage tells it, and which the takeoff adds up.

use dryfit_measure::{Amount, Dim, Key};

/// So much of a good, and what it is for.
#[derive(Clone, Debug)]
pub struct Need {
    /// The good, by its key in the plan; a key that names none is still bought, and said.
    pub good: Key,
    /// How much: exact, without waste or spares, which the takeoff adds by the good's own rule.
    pub amount: Amount,
    /// What it is for, as few words as will do: "frame to box", "grout, 3/16 in joints".
    pub what_for: String,
    /// What needs it: a role path ("b3/side.left"), a unit's key, or an address of the plan ("/fields/f1").
    pub at: String,
    /// The dimensions that say why so much, if it was not counted.
    pub because: Vec<Dim>,
}

impl Need {
    /// So many pieces, counted.
    pub fn pieces(good: Key, pieces: u32, what_for: impl Into<String>, at: impl Into<String>) -> Need {
        Need::of(good, Amount::Pieces(pieces), what_for, at)
    }

    /// So much, with nothing behind it but the amount.
    pub fn of(good: Key, amount: Amount, what_for: impl Into<String>, at: impl Into<String>) -> Need {
        Need { good, amount, what_for: what_for.into(), at: at.into(), because: Vec::new() }
    }

    /// The same, with the dimensions that say why so much.
    #[must_use]
    pub fn because(self, because: Vec<Dim>) -> Need {
        Need { because, ..self }
    }
}
