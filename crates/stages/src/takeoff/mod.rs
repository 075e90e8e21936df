//! Stage 6, takeoff: what has to be bought, why so much of it, and what it costs.

mod packs;

use std::collections::BTreeMap;

use dryfit_measure::{Key, Money};
use dryfit_plan::{Form, Plan, UnitKind};

use crate::casework::Casework;
use crate::layouts::{Layouts, SheetStack};

/// The buying list.
#[derive(Clone, Debug)]
pub struct Takeoff {
    /// Lines, by aisle and good.
    pub lines: Vec<BuyLine>,
    /// Sum of what has a price, without tax.
    pub total: Money,
    /// Tax on it.
    pub tax: Money,
    /// Goods that have to be bought and have no price yet.
    pub unpriced: Vec<Key>,
}

/// One line of the buying list.
#[derive(Clone, Debug)]
pub struct BuyLine {
    /// The good.
    pub good: Key,
    /// Where in the shop it is found.
    pub aisle: Aisle,
    /// What is needed, in pieces of the good (for what is poured, in millilitres).
    pub needed: u32,
    /// Of which on hand.
    pub on_hand: u32,
    /// Packs to buy.
    pub packs: u32,
    /// Which pack; none when the good says nothing of how it is sold.
    pub pack: Option<Key>,
    /// What for and why so many: "62 needed: frame to box 24, stretchers 38".
    pub why: String,
    /// What it costs, without tax; none without a price.
    pub price: Option<Money>,
}

/// Where in the shop it is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aisle {
    /// Sheets and boards.
    SheetsAndBoards,
    /// Screws and fittings.
    ScrewsAndFittings,
    /// Pipes, cables, boxes and what goes on them.
    PipesAndWires,
    /// Appliances and sinks.
    Appliances,
    /// Glue, finish, tape.
    Supplies,
}

/// What is needed of one good, before anything is taken off for what is on hand.
#[derive(Default)]
struct Need {
    count: u32,
    on_hand: u32,
    reasons: BTreeMap<String, u32>,
}

/// Adds up every need and turns it into packs.
pub fn takeoff(plan: &Plan, casework: &Casework, layouts: &Layouts) -> Takeoff {
    let mut needs: BTreeMap<&Key, Need> = BTreeMap::new();
    let mut add = |good, count, reason: String| {
        let need = needs.entry(good).or_default();
        need.count += count;
        *need.reasons.entry(reason).or_default() += count;
    };
    for hardware in casework.units.iter().flat_map(|unit| &unit.hardware) {
        add(&hardware.good, hardware.count, hardware.what_for.clone());
    }
    for unit in plan.units.values().filter(|unit| matches!(unit.kind, UnitKind::Appliance | UnitKind::Sink)) {
        if let Some(good) = &unit.holds {
            add(good, 1, unit.name.clone().unwrap_or_else(|| "to stand in its place".into()));
        }
    }
    for stack in layouts.sheets.iter().chain(&layouts.boards) {
        let need = needs.entry(&stack.good).or_default();
        need.count = count(stack.sheets.len());
        need.on_hand = count(stack.sheets.len() - stack.bought());
        need.reasons = users(stack);
    }
    for (key, need) in &mut needs {
        let sheet = layouts.sheets.iter().chain(&layouts.boards).any(|stack| stack.good == **key);
        if !sheet {
            let lots = plan.lots.values().filter(|lot| lot.good == **key).map(|lot| lot.count).sum::<u32>();
            need.on_hand = lots.min(need.count);
        }
    }

    let mut lines: Vec<BuyLine> = needs.into_iter().map(|(key, need)| line(plan, key, &need)).collect();
    lines.sort_by(|a, b| (a.aisle, &a.good).cmp(&(b.aisle, &b.good)));
    let total: Money = lines.iter().filter_map(|line| line.price).sum();
    let unpriced = lines
        .iter()
        .filter(|line| line.price.is_none() && line.needed > line.on_hand)
        .map(|line| line.good.clone())
        .collect();
    let tax = plan.money.tax.map_or(Money::ZERO, |rate| rate.of(total));
    Takeoff { lines, total, tax, unpriced }
}

fn line(plan: &Plan, key: &Key, need: &Need) -> BuyLine {
    let good = plan.goods.get(key);
    let missing = need.count - need.on_hand;
    let choice = good.and_then(|good| packs::cheapest(good, missing));
    BuyLine {
        good: key.clone(),
        aisle: good.map_or(Aisle::Supplies, |good| aisle(&good.form)),
        needed: need.count,
        on_hand: need.on_hand,
        packs: choice.as_ref().map_or(missing, |choice| choice.packs),
        pack: choice.as_ref().map(|choice| choice.pack.clone()),
        why: why(need),
        price: choice.and_then(|choice| choice.price),
    }
}

/// "9 needed, 2 on hand: hinges of b1 4, hinges of b3 5"; the uses that weigh most come first.
fn why(need: &Need) -> String {
    let mut uses: Vec<(&String, &u32)> = need.reasons.iter().collect();
    uses.sort_by(|a, b| b.1.cmp(a.1).then(a.0.cmp(b.0)));
    let words: Vec<String> = match uses.as_slice() {
        [(only, _)] => vec![(*only).clone()],
        uses => uses.iter().map(|(what, count)| format!("{what} {count}")).collect(),
    };
    let on_hand = if need.on_hand > 0 { format!(", {} on hand", need.on_hand) } else { String::new() };
    format!("{} needed{on_hand}: {}", need.count, words.join(", "))
}

/// Which units are cut from a stack, and how many pieces of each.
fn users(stack: &SheetStack) -> BTreeMap<String, u32> {
    let mut users = BTreeMap::new();
    for piece in stack.sheets.iter().flat_map(|sheet| &sheet.pieces) {
        let unit = piece.path.split('/').next().unwrap_or_default();
        *users.entry(unit.to_owned()).or_default() += 1;
    }
    users
}

fn aisle(form: &Form) -> Aisle {
    match form {
        Form::Sheet(_) | Form::Board(_) => Aisle::SheetsAndBoards,
        Form::Hinge { .. } | Form::Slide(_) | Form::Pull { .. } | Form::Fastener { .. } => {
            Aisle::ScrewsAndFittings
        }
        Form::Appliance(_) | Form::Sink { .. } => Aisle::Appliances,
        Form::Pipe { .. }
        | Form::Fitting { .. }
        | Form::Trap { .. }
        | Form::Cable { .. }
        | Form::Duct { .. }
        | Form::Box { .. }
        | Form::Device { .. } => Aisle::PipesAndWires,
        Form::Supply {} => Aisle::Supplies,
    }
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
