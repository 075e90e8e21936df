//! What gets used up and is in no part: by the handbook's rates, from what the job holds.

use std::collections::BTreeMap;

use dryfit_handbook::{Consumable, Driver, consumables as table};
use dryfit_measure::{Amount, Key};
use dryfit_plan::{Category, Form, Good, Plan, UnitKind};

use crate::layouts::Layouts;
use crate::need::Need;

/// Something that the job uses up and that no good of the plan serves.
#[derive(Clone, Debug)]
pub struct Forgotten {
    /// Its id in the handbook.
    pub id: &'static str,
    /// What the handbook says of it.
    pub consumable: &'static Consumable,
    /// How many the job asks for.
    pub count: u32,
}

/// Needs of the goods that serve as consumables, and what the job asks for that none serves. A good that
/// another stage already counts is left to that stage.
pub(super) fn consumables(
    plan: &Plan,
    layouts: &Layouts,
    needs: &[Need],
    opened: usize,
) -> (Vec<Need>, Vec<Forgotten>) {
    let mut drivers = drivers(plan, layouts, needs);
    drivers.insert(Driver::Walls, u64::try_from(opened).unwrap_or(u64::MAX));
    let (mut used_up, mut forgotten) = (Vec::new(), Vec::new());
    for (id, consumable) in table() {
        let count = count(consumable, &drivers);
        let serving = plan.goods.iter().find(|(_, good)| good.serves.as_deref() == Some(id));
        match serving {
            _ if count == 0 => {}
            Some((key, _)) if needs.iter().any(|need| need.good == *key) => {}
            Some((key, _)) => {
                used_up.push(Need::pieces(key.clone(), count, consumable.what_for.clone(), "handbook"));
            }
            None => forgotten.push(Forgotten { id, consumable, count }),
        }
    }
    (used_up, forgotten)
}

/// How many of it: the first ones where there is any of the work, and its shares, rounded up once.
fn count(consumable: &Consumable, drivers: &BTreeMap<Driver, u64>) -> u32 {
    let asked: Vec<(u64, _)> = consumable
        .per
        .iter()
        .filter_map(|(driver, share)| Some((*drivers.get(driver)?, share)))
        .filter(|(of, _)| *of > 0)
        .collect();
    if asked.is_empty() {
        return 0;
    }
    let thousandths: u64 = asked.into_iter().map(|(of, share)| share.thousandths(of)).sum();
    // what is only shared out is at least one
    let shared = u32::try_from(thousandths.div_ceil(1_000)).unwrap_or(u32::MAX);
    consumable.first.max(shared)
}

/// A litre in cubic nanometres, and what a common tube of sealant holds.
const LITRE: i128 = 1_000_000_000_000_000_000_000_000;
const TUBE: i128 = LITRE * 3 / 10;
/// A foot in nanometres.
const FOOT: i128 = 304_800_000;

/// What the job counts.
fn drivers(plan: &Plan, layouts: &Layouts, needs: &[Need]) -> BTreeMap<Driver, u64> {
    let number = |n: usize| u64::try_from(n).unwrap_or(u64::MAX);
    let made = plan.units.values().filter(|unit| {
        !matches!(unit.kind, UnitKind::Appliance | UnitKind::Gap | UnitKind::Filler | UnitKind::EndPanel)
    });
    let sheets = layouts.sheets.iter().chain(&layouts.boards).map(|stack| stack.sheets.len()).sum();
    let of = |wanted: &dyn Fn(&Good) -> bool, unit: i128| {
        let amounts = needs.iter().filter(|need| plan.goods.get(&need.good).is_some_and(wanted));
        let base: i128 = amounts.map(|need| need.amount.base()).sum();
        u64::try_from(base.max(0) / unit + i128::from(base.max(0) % unit > 0)).unwrap_or(u64::MAX)
    };
    let tiles = needs.iter().filter(|need| is_tile(plan, &need.good));
    let tiles = tiles.filter_map(|need| need.amount.pieces()).map(u64::from).sum();
    let sinks = plan.units.values().filter(|unit| unit.kind == UnitKind::Sink).count();
    BTreeMap::from([
        (Driver::Units, number(made.count())),
        (Driver::Sheets, number(sheets)),
        (Driver::Screws, of(&|good| matches!(good.form, Form::Fastener { .. }), 1)),
        (Driver::Tiles, tiles),
        (
            Driver::Paint,
            of(
                &|good| matches!(good.form, Form::Coating { .. }) && good.category() == Category::Paint,
                LITRE,
            ),
        ),
        (Driver::Tubes, of(&|good| matches!(good.form, Form::Tube {}), TUBE)),
        (Driver::Sinks, number(sinks)),
        (Driver::Tops, number(plan.tops.values().filter(|top| top.facing.is_some()).count())),
        (Driver::Fittings, of(&|good| matches!(good.form, Form::Fitting { .. } | Form::Trap { .. }), 1)),
        (Driver::Boxes, of(&|good| matches!(good.form, Form::Box { .. }), 1)),
        (Driver::Cable, of(&|good| matches!(good.form, Form::Cable { .. }), FOOT)),
    ])
}

/// Whether a good is laid as tile: in its category, counted, and no supply.
fn is_tile(plan: &Plan, key: &Key) -> bool {
    plan.goods.get(key).is_some_and(|good| {
        good.category() == Category::Tile && !matches!(good.form, Form::Supply {} | Form::Fastener { .. })
    })
}

/// The good that would serve: a copy of what the handbook says, for the plan.
impl Forgotten {
    /// The good as the plan would hold it, without a price.
    pub fn good(&self) -> Good {
        let category = serde_json::Value::String(self.consumable.category.clone());
        let pack = dryfit_plan::Pack { holds: self.consumable.holds.into(), price: None, asked_on: None };
        Good {
            name: self.consumable.name.clone(),
            form: Form::Supply {},
            packs: Key::new(&self.consumable.pack).ok().map(|key| (key, pack)).into_iter().collect(),
            category: serde_json::from_value(category).ok(),
            spare: None,
            serves: Some(self.id.to_owned()),
            one_batch: false,
            lead_days: None,
            look_for: None,
        }
    }

    /// How many packs of the usual size.
    pub fn packs(&self) -> Option<u32> {
        Amount::Pieces(self.count).packs_of(Amount::Pieces(self.consumable.holds))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_category_of_the_handbook_is_one_of_the_plan() {
        for (id, consumable) in table() {
            let forgotten = Forgotten { id, consumable, count: 1 };
            assert_eq!(forgotten.packs(), Some(1), "{id}");
            assert!(forgotten.good().category.is_some() && forgotten.good().packs.len() == 1, "{id}");
        }
    }

    #[test]
    fn what_is_wanted_once_is_wanted_once() {
        let of = |id: &str, driver, n| count(&table()[id], &BTreeMap::from([(driver, n)]));
        assert_eq!(of("caulk-gun", Driver::Tubes, 40), 1);
        assert_eq!(of("caulk-gun", Driver::Tubes, 0), 0);
        // at the limit: one bit for 150 screws, a second for one more
        assert_eq!(of("driver-bit", Driver::Screws, 150), 1);
        assert_eq!(of("driver-bit", Driver::Screws, 151), 2);
    }
}
