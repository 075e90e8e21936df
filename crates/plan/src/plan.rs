//! The document as a whole.

use std::collections::BTreeMap;

use dryfit_measure::{Currency, Fineness, Key, Money, Rate, Unit as LengthUnit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{
    Bead, ByTask, Calendar, Category, Decision, Epoch, Field, Finish, Good, Instrument, Lot, Opening,
    Reading, Receipt, Recipe, Room, Run, Service, Setting, Shop, TaskWish, Top, Trim, Unit, Wall, Work,
};

/// Things by key: the key is the identity, the order is the key's own.
pub type Keyed<T> = BTreeMap<Key, T>;

/// The version of the file form that this program writes.
pub const FORMAT: u32 = 1;

/// Everything the builder stated about one room and one job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Version of the file form; see [`FORMAT`].
    pub format: u32,
    /// What the builder calls the job: "Potting room".
    pub name: String,
    /// The unit of a bare number when it is typed in.
    pub entry_unit: LengthUnit,
    /// The finest mark that is printed and cut to.
    pub fineness: Fineness,
    /// The building code that rules are cited from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub code: Option<Code>,
    /// Currency, tax, and the worth of an hour.
    pub money: MoneyTerms,
    /// What it is measured with.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub instruments: Keyed<Instrument>,
    /// The states of the room in which readings were taken: as found, opened up, closed, units set.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub epochs: Keyed<Epoch>,
    /// The walk round the corners.
    pub room: Room,
    /// The walls between the corners.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub walls: Keyed<Wall>,
    /// Doors, windows and plain openings.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub openings: Keyed<Opening>,
    /// What the instruments said.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub readings: Keyed<Reading>,
    /// Copies of the goods that this plan uses.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub goods: Keyed<Good>,
    /// Copies of the ways in which this plan's units are made.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub recipes: Keyed<Recipe>,
    /// What is placed: cabinets, shelves, fillers, panels, spaces for appliances.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub units: Keyed<Unit>,
    /// Units side by side along a wall.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub runs: Keyed<Run>,
    /// Worktops over runs.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub tops: Keyed<Top>,
    /// Pipes, cables, ducts and boxes.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub services: Keyed<Service>,
    /// Paint, by colour.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub finishes: Keyed<Finish>,
    /// Trim along walls and round openings.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub trims: Keyed<Trim>,
    /// Beads of sealant and adhesive.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub beads: Keyed<Bead>,
    /// Fields of tile and planks.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub fields: Keyed<Field>,
    /// What fields of tile are set in.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub settings: Keyed<Setting>,
    /// What is on hand.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub lots: Keyed<Lot>,
    /// What is set aside for a category, tax included; absent, what its goods cost at the prices that were asked.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub budget: BTreeMap<Category, Money>,
    /// What was paid.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub receipts: Keyed<Receipt>,
    /// The tools, and what they can do.
    #[serde(default, skip_serializing_if = "is_default")]
    pub shop: Shop,
    /// When work is done, who helps, what was ordered.
    #[serde(default, skip_serializing_if = "is_default")]
    pub calendar: Calendar,
    /// Tasks that were done, by their names: `set/b3`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub work: ByTask<Work>,
    /// What is wanted of single tasks, by their names, and tasks of the builder's own.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub tasks: ByTask<TaskWish>,
    /// Waivers and pinned choices, each with its reason.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub decisions: Keyed<Decision>,
}

/// Whether a value is what its absence stands for, so that a file need not state it.
pub(crate) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// The family and edition of the building code that governs, as far as the builder knows.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Code {
    /// "IRC", "UPC", ...
    pub family: String,
    /// "2021", ...
    pub edition: String,
}

/// How money is counted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MoneyTerms {
    /// ISO 4217 code.
    pub currency: Currency,
    /// Sales tax on what is bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tax: Option<Rate>,
    /// What an hour of the builder's own time is worth to them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hour: Option<Money>,
    /// What is kept back for what nobody foresaw, of what is planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub contingency: Option<Rate>,
}
