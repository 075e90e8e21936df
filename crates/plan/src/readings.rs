//! Instruments, epochs, and what the instruments said.

use dryfit_measure::{Key, Stated};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plan::is_default;
use crate::{Day, Place};

/// Something to measure with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// What it is called: "25 ft tape".
    pub name: String,
    /// What sort of thing it is.
    pub kind: InstrumentKind,
    /// Accuracy class of a tape (OIML R 35-1); plain tapes are mostly class II.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<TapeClass>,
    /// The finest mark that is read off.
    pub step: Stated,
    /// The length of its body, added when a reading is taken wall to wall over the case.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub body: Option<Stated>,
    /// Where it is used: parts cut with the tape that measured the room share its scale.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used_in: Vec<UsedIn>,
}

/// Sorts of instrument.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum InstrumentKind {
    /// A steel tape.
    Tape,
    /// A laser distance meter.
    Laser,
    /// A level: heights against a level line.
    Level,
    /// A plumb line: leans.
    Plumb,
}

/// Accuracy classes of material measures of length, OIML R 35-1:2007, clause 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum TapeClass {
    /// 0.1 mm + 0.1 mm a metre.
    I,
    /// 0.3 mm + 0.2 mm a metre.
    II,
    /// 0.6 mm + 0.4 mm a metre.
    III,
}

/// Where an instrument is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum UsedIn {
    /// To measure the room.
    Survey,
    /// To cut the parts.
    Shop,
}

/// A state of the room.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Epoch {
    /// Which state.
    pub state: RoomState,
    /// When.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Day>,
}

/// The states that a room goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RoomState {
    /// Before anything was touched.
    AsFound,
    /// Walls open.
    OpenedUp,
    /// Walls closed and finished.
    Closed,
    /// Units fixed.
    UnitsSet,
}

/// One number that an instrument gave.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// The state of the room when it was taken.
    pub epoch: Key,
    /// The instrument.
    pub by: Key,
    /// What was measured.
    pub of: Subject,
    /// The height above the floor at which it was taken; for a lean, the height of the upper point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height: Option<Stated>,
    /// How the instrument was held.
    #[serde(default, skip_serializing_if = "is_default")]
    pub how: Held,
    /// What it said, resolved when it came in.
    pub length: Stated,
    /// The same as typed.
    pub text: String,
    /// How sure the builder was.
    #[serde(default, skip_serializing_if = "is_default")]
    pub doubt: Doubt,
    /// Why it is not used, when it is not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_aside: Option<String>,
}

/// What a reading is of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Subject {
    /// The distance between two corners along the wall that joins them.
    Span {
        /// One corner.
        from: Key,
        /// The next.
        to: Key,
    },
    /// The distance between two corners across the room.
    Diagonal {
        /// One corner.
        from: Key,
        /// The other.
        to: Key,
    },
    /// How far a wall stands away from a plumb line at `height`, compared with the floor; positive when
    /// its top leans away from the room.
    Lean {
        /// The wall.
        wall: Key,
    },
    /// Floor below the level line, at a place; a larger number is a lower floor.
    Floor {
        /// Where.
        at: Place,
    },
    /// Ceiling above the floor, at a place.
    Ceiling {
        /// Where.
        at: Place,
    },
}

/// How an instrument was held.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Held {
    /// The tape's hook over, or against, the far end.
    #[default]
    Hook,
    /// From the one inch mark, the inch taken off already.
    BurntInch,
    /// Inside, with the body's length added already.
    Inside,
}

/// How sure the builder was of a number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Doubt {
    /// Read off plainly.
    #[default]
    Plain,
    /// "About": good to half an inch or a centimetre.
    About,
    /// Given by somebody else, a drawing or a data sheet.
    Given,
}
