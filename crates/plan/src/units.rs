//! Units, the runs they stand in, and the worktops over them.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::plan::is_default;
use crate::recipes::goods_by_role;
use crate::{Figures, Hand, Keyed, Role};

/// Something that is placed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Unit {
    /// What it is.
    pub kind: UnitKind,
    /// What a builder calls it: "seed drawers". Pages show it beside the key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// How it is made; none for appliances and gaps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<Key>,
    /// The appliance or sink that it holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds: Option<Key>,
    /// How wide.
    pub width: Width,
    /// How high, where it is not the run's height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height: Option<Height>,
    /// How deep the box is, where it is not the handbook's depth for its kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth: Option<Stated>,
    /// What closes the front.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fronts: Option<Front>,
    /// Adjustable shelves, by opening where there are several: a count for each. In a drying cupboard, rods.
    #[serde(default, skip_serializing_if = "is_default")]
    pub shelves: u8,
    /// Upright panels that divide a box without a frame into equal spaces.
    #[serde(default, skip_serializing_if = "is_default")]
    pub dividers: u8,
    /// Whether a bench's seat lifts, on hinges at its back.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lid: bool,
    /// Goods that differ from the recipe's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(schema_with = "goods_by_role")]
    pub roles: BTreeMap<Role, Key>,
    /// Figures that differ from the recipe's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub figures: Figures,
}

/// What a unit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum UnitKind {
    /// A cupboard or drawers under a worktop.
    Base,
    /// A base without drawer or top stretchers in the way of a bowl.
    Sink,
    /// A unit hung on the wall.
    Wall,
    /// From floor to over head.
    Tall,
    /// A box to sit on, open in front or with fronts like any other; its height is that of the seat.
    Bench,
    /// A tall box for clothes: a shelf for hats above a rail with hooks.
    Locker,
    /// A tall box for wet things: rods across it, and air in below and out above behind its short back.
    Drying,
    /// A board with hooks, screwed to the studs.
    HookRail,
    /// A shelf on a hidden ledger.
    FloatingShelf,
    /// A space that an appliance stands in.
    Appliance,
    /// A strip that is scribed to a wall or keeps an inside corner clear.
    Filler,
    /// A finished panel at a free end.
    EndPanel,
    /// Nothing: knee room, a bin.
    Gap,
}

impl UnitKind {
    /// A box with sides, bottom and back, framed or not.
    pub fn is_box(self) -> bool {
        use UnitKind::{Base, Bench, Drying, Locker, Sink, Tall, Wall};
        matches!(self, Base | Sink | Wall | Tall | Bench | Locker | Drying)
    }

    /// A box that goes over head: it has a top of its own, has to be tipped up, and can tip over.
    pub fn is_tall(self) -> bool {
        matches!(self, UnitKind::Tall | UnitKind::Locker | UnitKind::Drying)
    }

    /// It does not stand: it is hung on the wall.
    pub fn hangs(self) -> bool {
        matches!(self, UnitKind::Wall | UnitKind::FloatingShelf | UnitKind::HookRail)
    }
}

/// How a width is stated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Width {
    /// So wide.
    Given(Stated),
    /// An equal share of what is left in its run.
    LeftOver,
    /// A share of what is left, but never outside these limits.
    Within {
        /// The least width that will do.
        least: Stated,
        /// The greatest.
        most: Stated,
    },
    /// So wide that the next unit's first front clears the run in this corner, its pulls included.
    ClearsCorner,
    /// The figure `wall-scribe` and whatever is left once the chosen sizes stand on the tape's marks.
    Scribe,
}

/// How a height is stated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Height {
    /// So high, from the unit's own bottom.
    Given(Stated),
    /// High enough that this unit's appliance goes under the worktop with its feet out and its air.
    Clears(Key),
    /// Up to this far above the datum.
    TopAt(Stated),
}

/// What closes a front, or a part of it: a keyed tree.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Front {
    /// One door.
    Door {
        /// The side of its hinges.
        hinge: Hand,
        /// Height of its opening (without a frame, of the front itself), where it is stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height: Option<Stated>,
    },
    /// Two doors that meet in the middle.
    Pair {
        /// Height of their opening (without a frame, of the doors themselves), where it is stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height: Option<Stated>,
    },
    /// A drawer.
    Drawer {
        /// Its slides, a good.
        slide: Key,
        /// Height of its opening (without a frame, of the front itself), where it is stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height: Option<Stated>,
    },
    /// A front that does not open: before a sink's bowl.
    Fixed {
        /// Height of its opening (without a frame, of the front itself), where it is stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height: Option<Stated>,
    },
    /// Open shelves.
    Open {
        /// Height of the opening, where it is stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height: Option<Stated>,
    },
    /// Several, one below the other, from the top.
    Down {
        /// Keys of the parts, from the top.
        order: Vec<Key>,
        /// The parts.
        parts: Keyed<Front>,
    },
}

impl Front {
    /// The front at a path of keys joined by dots, as the parts of its doors and drawers are named by it: `d2`. A
    /// last `left` or `right` is a leaf of a pair, whose front is the pair.
    pub fn at_path(&self, path: &str) -> Option<&Front> {
        let Front::Down { parts, .. } = self else { return Some(self) };
        let (key, rest) = path.split_once('.').unwrap_or((path, ""));
        parts.iter().find(|(known, _)| known.as_str() == key)?.1.at_path(rest)
    }
}

/// Units side by side along one wall, left to right as seen from the front.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// What a builder calls it: "window side".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The wall.
    pub along: Key,
    /// Where its units have their bottoms.
    pub level: Level,
    /// Keys of its units, left to right.
    pub order: Vec<Key>,
    /// How high its units are, where they do not say otherwise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height: Option<Height>,
    /// What is at its left end.
    pub left: End,
    /// What is at its right end.
    pub right: End,
}

/// Where the bottoms of a run's units are.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Level {
    /// On the floor, shimmed up to the datum.
    Floor,
    /// So far above the datum.
    Up(Stated),
    /// So far above the worktop that the handbook keeps clear, or as stated in the figures.
    AboveTop(Key),
}

/// What is at the end of a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum End {
    /// It ends against the wall round the corner; what meets the wall is scribed.
    Wall,
    /// It meets another run in the corner.
    Corner {
        /// The other run.
        with: Key,
        /// Which of the two runs up to the wall. The other begins in front of it.
        owner: Key,
    },
    /// It ends free, this far from the wall's corner on that side.
    Free {
        /// From the corner to the end of the last unit.
        from_corner: Stated,
    },
    /// It ends against this unit of another run.
    Unit(Key),
    /// It ends where its last unit ends.
    Open,
}
