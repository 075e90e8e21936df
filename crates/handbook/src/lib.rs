//! What the trade and the standards say, as data.
//!
//! Every figure has an id, a value and a source. A plan carries copies of the goods and recipes it uses and may
//! override any figure by its id; here are the values that hold where it does not. There is no logic here, only
//! the reading of our own tables, which are proven readable by a test.

mod codes;
mod consumables;
mod figure;
mod hinges;
mod rate;
mod rule;
mod setting;
mod source;
mod tasks;
mod wood;

pub use codes::{
    ArmRule, CodeFamily, CounterRule, DeepRule, DuctRule, ElectricalRules, FillRule, FlushRule, FramingRule,
    OutletRule, PlainRule, RangeRule, ReachRule, SizeRow, SizedRule, UnitRow, UnitRule, VentRule, clause,
    code_families, electrical_rules, framing_rule,
};
pub use consumables::{Consumable, Driver, Share, consumables};
pub use figure::{NamedFigure, figure, figures};
pub use hinges::{HingeBand, hinge_bands, hinge_source};
pub use rate::{NamedRate, rate};
pub use rule::{NamedRule, rule, rules};
pub use setting::{
    TrowelRow, back_butter_share, grout_density, grout_source, grout_waste, mortar_bag, mortar_source,
    trowels,
};
pub use source::Source;
pub use tasks::{Before, TaskKind, TaskRecipe, TwoPeople, task_recipes, task_source};
pub use wood::{Movement, moisture_change, movement, movement_source, species};
