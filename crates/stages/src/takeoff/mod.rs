//! Stage 6, takeoff: what has to be bought, why so much of it, and what it costs.

mod consumables;
mod packs;

use std::collections::BTreeMap;

use dryfit_handbook::rate;
use dryfit_measure::{Amount, Key, Money, share};
use dryfit_plan::{Category, Form, Good, Plan, UnitKind};

use crate::layouts::{Layouts, SheetStack};
use crate::need::Need;

pub use consumables::Forgotten;
pub use packs::{PackCount, held, of_line};

/// The buying list.
#[derive(Clone, Debug)]
pub struct Takeoff {
    /// Lines, by category and good.
    pub lines: Vec<BuyLine>,
    /// Sum of what has a price, without tax.
    pub total: Money,
    /// Tax on it.
    pub tax: Money,
    /// Goods that have to be bought and have no price yet.
    pub unpriced: Vec<Key>,
    /// What gets used up on such a job and no good of the plan serves.
    pub forgotten: Vec<Forgotten>,
}

/// One line of the buying list.
#[derive(Clone, Debug)]
pub struct BuyLine {
    /// The good.
    pub good: Key,
    /// Where in the shop it is found, and what it counts as.
    pub category: Category,
    /// What is needed.
    pub needed: Amount,
    /// What is bought beyond it, against breakage and loss.
    pub spare: Amount,
    /// Of both, what was there before the job.
    pub on_hand: Amount,
    /// What the receipts bring, without what went back.
    pub bought: Amount,
    /// What to buy: the cheapest mix of packs. Empty when all is on hand.
    pub packs: Vec<PackCount>,
    /// What for and why so many: "62 needed: frame to box 24, stretchers 38".
    pub why: String,
    /// What it costs, without tax; none without a price.
    pub price: Option<Money>,
    /// Its share of the tax on the whole list.
    pub tax: Money,
    /// What the whole need would cost at the prices that were asked, as if nothing of it had been bought yet,
    /// without tax.
    pub planned: Money,
    /// Working days from order to hand.
    pub lead_days: Option<u16>,
    /// Whether all of it has to be of one batch.
    pub one_batch: bool,
    /// The needs behind it, in the order of the stages.
    pub needs: Vec<Need>,
}

impl BuyLine {
    /// Whether there is anything of it to buy.
    pub fn is_bought(&self) -> bool {
        !self.missing().is_none()
    }

    /// What is missing: needed and spare, without what is on hand and what was bought.
    pub fn missing(&self) -> Amount {
        let wanted = self.wanted();
        let here = self.on_hand.plus(self.bought).unwrap_or(self.on_hand);
        wanted.less(here).unwrap_or(wanted)
    }

    /// Needed and spare together.
    pub fn wanted(&self) -> Amount {
        self.needed.plus(self.spare).unwrap_or(self.needed)
    }

    /// What was bought beyond what is needed: it may go back, or be kept.
    pub fn left_over(&self) -> Amount {
        let here = self.on_hand.plus(self.bought).unwrap_or(self.on_hand);
        here.less(self.wanted()).unwrap_or(self.bought).at_most(self.bought)
    }

    /// How many packs are bought, of all sorts together.
    pub fn count(&self) -> u32 {
        self.packs.iter().map(|pack| pack.count).sum()
    }
}

/// Adds up the needs of the earlier stages with what is cut, what stands in its place and what gets used up, and turns
/// all of it into packs. So many walls are opened and closed again.
pub fn takeoff(plan: &Plan, layouts: &Layouts, needs: Vec<Need>, opened: usize) -> Takeoff {
    let mut by_good: BTreeMap<Key, Vec<Need>> = BTreeMap::new();
    let stacks = || layouts.sheets.iter().chain(&layouts.boards);
    let all: Vec<Need> = stacks().flat_map(of_stack).chain(needs).chain(appliances(plan)).collect();
    let (used_up, forgotten) = consumables::consumables(plan, layouts, &all, opened);
    for need in all.into_iter().chain(used_up) {
        by_good.entry(need.good.clone()).or_default().push(need);
    }
    let cut = |good: &Key| stacks().find(|stack| stack.good == *good);
    let mut lines: Vec<BuyLine> =
        by_good.into_iter().flat_map(|(good, needs)| lines(plan, &good, needs, cut(&good))).collect();
    lines.sort_by(|a, b| (a.category, &a.good).cmp(&(b.category, &b.good)));
    let total: Money = lines.iter().filter_map(|line| line.price).sum();
    let unpriced =
        lines.iter().filter(|line| line.price.is_none() && line.is_bought()).map(|line| line.good.clone());
    let unpriced = unpriced.collect();
    let tax = plan.money.tax.map_or(Money::ZERO, |rate| rate.of(total));
    // the tax is one amount on the receipt; its shares add up to it
    let weights: Vec<i64> = lines.iter().map(|line| line.price.unwrap_or_default().hundredths()).collect();
    if !total.is_zero() {
        lines.iter_mut().zip(share(tax, &weights)).for_each(|(line, tax)| line.tax = tax);
    }
    Takeoff { lines, total, tax, unpriced, forgotten }
}

/// What stands in its place: appliances and sinks.
fn appliances(plan: &Plan) -> impl Iterator<Item = Need> {
    let holders =
        plan.units.iter().filter(|(_, unit)| matches!(unit.kind, UnitKind::Appliance | UnitKind::Sink));
    holders.filter_map(|(key, unit)| {
        let what_for = unit.name.clone().unwrap_or_else(|| "to stand in its place".into());
        Some(Need::pieces(unit.holds.clone()?, 1, what_for, key.as_str()))
    })
}

/// The sheets or boards of a good, each with the units that most of it is cut for.
fn of_stack(stack: &SheetStack) -> Vec<Need> {
    let users = users(stack);
    stack.sheets.iter().map(|_| Need::pieces(stack.good.clone(), 1, users.clone(), "layouts")).collect()
}

/// A line for each measure in which a good is needed: mostly one.
fn lines(plan: &Plan, good: &Key, needs: Vec<Need>, cut: Option<&SheetStack>) -> Vec<BuyLine> {
    let mut by_measure: BTreeMap<_, Vec<Need>> = BTreeMap::new();
    for need in needs {
        by_measure.entry(need.amount.measure()).or_default().push(need);
    }
    by_measure.into_values().filter_map(|needs| line(plan, good, needs, cut)).collect()
}

fn line(plan: &Plan, key: &Key, needs: Vec<Need>, cut: Option<&SheetStack>) -> Option<BuyLine> {
    let needed = needs.iter().map(|need| need.amount).reduce(|sum, more| sum.plus(more).unwrap_or(sum))?;
    let good = plan.goods.get(key);
    let spare = spare(good, needed);
    let wanted = needed.plus(spare).unwrap_or(needed);
    let on_hand = match cut {
        // of what is cut, the layouts say which lots serve
        Some(stack) if needed.pieces().is_some() => Amount::Pieces(count(own_sheets(plan, stack))),
        _ => on_hand(plan, key, wanted),
    };
    let bought = bought(plan, key, needed);
    let own = wanted.less(on_hand).unwrap_or(wanted);
    let missing = own.less(bought).unwrap_or(own);
    let choose = |missing| good.map(|good| packs::cheapest(good, missing)).unwrap_or_default();
    let packs = choose(missing);
    let planned = choose(own).iter().filter_map(|pack| pack.price).sum();
    let prices: Option<Vec<Money>> = packs.iter().map(|pack| pack.price).collect();
    Some(BuyLine {
        good: key.clone(),
        category: good.map_or(Category::Supplies, dryfit_plan::Good::category),
        needed,
        spare,
        on_hand,
        bought,
        why: why(plan, [needed, spare, on_hand, bought], &needs),
        price: prices.filter(|prices| !prices.is_empty()).map(|prices| prices.into_iter().sum()),
        tax: Money::ZERO,
        planned,
        lead_days: good.and_then(|good| good.lead_days),
        one_batch: good.is_some_and(|good| good.one_batch),
        packs,
        needs,
    })
}

/// What is bought beyond what is needed: by the good's own rate, and of screws what is dropped and stripped.
fn spare(good: Option<&Good>, needed: Amount) -> Amount {
    let usual = good.filter(|good| matches!(good.form, Form::Fastener { .. })).and(rate("spare-fasteners"));
    let rate = good.and_then(|good| good.spare).or(usual.map(|rate| rate.value));
    rate.and_then(|rate| needed.with_spare(rate).less(needed)).unwrap_or(needed.none())
}

/// Sheets of a stack that come from lots that were there before the job.
fn own_sheets(plan: &Plan, stack: &SheetStack) -> usize {
    let own = |lot: &Key| plan.lots.get(lot).is_some_and(|lot| lot.receipt.is_none());
    stack.sheets.iter().filter(|sheet| sheet.lot.as_ref().is_some_and(own)).count()
}

/// What the receipts bring of a good, in the measure of what is needed, without what went back.
fn bought(plan: &Plan, key: &Key, needed: Amount) -> Amount {
    let mut sum = needed.none();
    for receipt in plan.receipts.values() {
        for (line_key, line) in &receipt.lines {
            if line.good.as_ref() == Some(key)
                && let Some(each) = packs::of_line(plan, line, needed.measure())
            {
                let back = receipt.returns.values().filter(|back| back.line == *line_key);
                let back = back.fold(0_u32, |sum, back| sum.saturating_add(back.count));
                sum = sum.plus(each.times(line.count.saturating_sub(back))).unwrap_or(sum);
            }
        }
    }
    sum
}

/// What the lots that were there before the job hold of a good, at most what is needed of it.
fn on_hand(plan: &Plan, key: &Key, needed: Amount) -> Amount {
    let lots = plan.lots.values().filter(|lot| lot.good == *key && lot.receipt.is_none());
    let amounts = lots.filter_map(|lot| match (lot.count.amount(), needed) {
        // as with packs: a bare number of what is poured is millilitres
        (Amount::Pieces(bare), Amount::Volume(_)) => Some(Amount::millilitres(i128::from(bare))),
        (amount, _) => Some(amount).filter(|amount| amount.measure() == needed.measure()),
    });
    amounts.fold(needed.none(), |sum, lot| sum.plus(lot).unwrap_or(sum)).at_most(needed)
}

/// "9 needed, 1 spare, 2 on hand: hinges of b1 4, hinges of b3 5"; the uses that weigh most come first.
fn why(plan: &Plan, [needed, spare, on_hand, bought]: [Amount; 4], needs: &[Need]) -> String {
    let shown = |amount: Amount| amount.figure(plan.entry_unit);
    let mut uses: BTreeMap<&str, Amount> = BTreeMap::new();
    for need in needs {
        let sum = uses.entry(&need.what_for).or_insert(need.amount.none());
        *sum = sum.plus(need.amount).unwrap_or(*sum);
    }
    let mut uses: Vec<(&str, Amount)> = uses.into_iter().collect();
    uses.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
    let words: Vec<String> = match uses.as_slice() {
        [(only, _)] => vec![(*only).to_owned()],
        uses => uses.iter().map(|(what, amount)| format!("{what} {}", shown(*amount))).collect(),
    };
    let mut text = format!("{} needed", shown(needed));
    for (amount, word) in [(spare, "spare"), (on_hand, "on hand"), (bought, "bought")] {
        if !amount.is_none() {
            text = format!("{text}, {} {word}", shown(amount));
        }
    }
    format!("{text}: {}", words.join(", "))
}

/// Which units are cut from a stack, and how many pieces of each: "b1 9, b2 6".
fn users(stack: &SheetStack) -> String {
    let mut users: BTreeMap<&str, u32> = BTreeMap::new();
    for piece in stack.sheets.iter().flat_map(|sheet| &sheet.pieces) {
        let unit = piece.path.split('/').next().unwrap_or_default();
        *users.entry(unit).or_default() += 1;
    }
    let mut users: Vec<(&str, u32)> = users.into_iter().collect();
    users.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
    let words: Vec<String> = match users.as_slice() {
        [(only, _)] => vec![(*only).to_owned()],
        users => users.iter().map(|(unit, pieces)| format!("{unit} {pieces}")).collect(),
    };
    words.join(", ")
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
