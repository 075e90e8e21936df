//! Stage 7, ledger: what was planned, what was paid and what is still to pay; every view of it adds up to the
//! receipts, to the cent.
//!
//! A receipt's tax is shared over its lines by largest remainder. A return counts on the day on which it was taken
//! back, with what the shop gave back; while it has given nothing back, nothing is credited. Amounts of the ledger
//! hold their tax.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Money, share};
use dryfit_plan::{Category, Day, Plan};

use crate::takeoff::Takeoff;

/// The account of the job.
#[derive(Clone, Debug)]
pub struct Ledger {
    /// Every line of every receipt and every credit, by day: their sum is what was paid.
    pub entries: Vec<Entry>,
    /// Materials by category, in the order of a walk through a shop. Tools are not among them.
    pub categories: Vec<Row<Category>>,
    /// Tools, which outlive the job.
    pub tools: Row<Category>,
    /// By good of the plan; entries that name none are together under none. Tools are among them.
    pub goods: Vec<Row<Option<Key>>>,
    /// By month, "2026-03"; tools are among them.
    pub months: BTreeMap<String, Money>,
    /// Everything that was paid, without what the shops gave back: the sum of the entries, tools with it.
    pub paid: Money,
    /// Materials: the sum of the categories.
    pub materials: Row<()>,
    /// What is kept back for the unforeseen, of what is planned.
    pub contingency: Money,
    /// What had to be bought again, with the reason.
    pub again: Vec<(String, Money)>,
    /// What went back and was not credited yet.
    pub owed: Vec<Owed>,
    /// Packs that were bought, are not needed and may go back unopened.
    pub unopened: Vec<Unopened>,
}

/// One line of a receipt, or one credit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The day that it counts on.
    pub day: Day,
    /// The receipt.
    pub receipt: Key,
    /// Its line; none for what the receipt holds beside its lines.
    pub line: Option<Key>,
    /// The good, where the line names one of the plan.
    pub good: Option<Key>,
    /// In words, where it names none.
    pub text: String,
    /// What it counts as.
    pub category: Category,
    /// Packs, below nothing for what went back.
    pub count: i64,
    /// Without tax; below nothing for a credit.
    pub net: Money,
    /// Its share of the tax.
    pub tax: Money,
}

impl Entry {
    /// With tax.
    pub fn money(&self) -> Money {
        self.net + self.tax
    }
}

/// Planned against paid against forecast.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row<T> {
    /// Of what.
    pub of: T,
    /// What is set aside for it, else what it would cost at the prices that were asked.
    pub planned: Money,
    /// What was paid, without what was given back.
    pub paid: Money,
    /// What is still to pay.
    pub to_pay: Money,
}

impl<T> Row<T> {
    /// Paid and still to pay.
    pub fn forecast(&self) -> Money {
        self.paid + self.to_pay
    }

    /// How far the forecast is beyond the plan; below nothing where it is under.
    pub fn over(&self) -> Money {
        self.forecast() - self.planned
    }
}

/// Something that went back and was not credited yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owed {
    /// The receipt.
    pub receipt: Key,
    /// The return on it.
    pub back: Key,
    /// What it cost, tax with it: what is owed.
    pub money: Money,
    /// What its tax is of that.
    pub tax: Money,
}

/// Packs that are not needed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unopened {
    /// The good.
    pub good: Key,
    /// How many packs of the last line that brought it.
    pub packs: u32,
    /// What they cost, tax with it.
    pub money: Money,
}

/// The account of a plan's receipts against its buying list.
pub fn ledger(plan: &Plan, takeoff: &Takeoff) -> Ledger {
    let entries = entries(plan);
    let mut goods: BTreeMap<Option<Key>, Row<Option<Key>>> = BTreeMap::new();
    let mut categories: BTreeMap<Category, Row<Category>> = BTreeMap::new();
    let mut months: BTreeMap<String, Money> = BTreeMap::new();
    // one tax on all that is planned, shared as that on what is still to buy: else cents of rounding look like money
    let planned: Vec<Money> = takeoff.lines.iter().map(|line| line.planned).collect();
    let tax = plan.money.tax.map_or(Money::ZERO, |rate| rate.of(planned.iter().copied().sum()));
    let weights: Vec<i64> = planned.iter().map(|money| money.hundredths()).collect();
    let taxes = if weights.iter().all(|weight| *weight == 0) { Vec::new() } else { share(tax, &weights) };
    let planned =
        planned.into_iter().zip(taxes).map(|(net, tax)| net + tax).chain(std::iter::repeat(Money::ZERO));
    for entry in &entries {
        row(&mut goods, entry.good.clone()).paid += entry.money();
        row(&mut categories, entry.category).paid += entry.money();
        let month = entry.day.to_string().chars().take(7).collect();
        *months.entry(month).or_default() += entry.money();
    }
    for (line, planned) in takeoff.lines.iter().zip(planned) {
        let to_pay = line.price.unwrap_or_default() + line.tax;
        let good = row(&mut goods, Some(line.good.clone()));
        good.planned += planned;
        good.to_pay += to_pay;
        let category = row(&mut categories, line.category);
        category.planned += planned;
        category.to_pay += to_pay;
    }
    for (category, money) in &plan.budget {
        row(&mut categories, *category).planned = *money;
    }
    let tools = categories.remove(&Category::Tools).unwrap_or_else(|| empty(Category::Tools));
    let categories: Vec<Row<Category>> = categories.into_values().collect();
    let mut materials = empty(());
    for row in &categories {
        materials.planned += row.planned;
        materials.paid += row.paid;
        materials.to_pay += row.to_pay;
    }
    Ledger {
        paid: entries.iter().map(Entry::money).sum(),
        contingency: plan.money.contingency.map_or(Money::ZERO, |rate| rate.of(materials.planned)),
        again: again(plan, &entries),
        owed: owed(plan, &entries),
        unopened: unopened(plan, takeoff, &entries),
        entries,
        categories,
        tools,
        goods: goods.into_values().collect(),
        months,
        materials,
    }
}

const fn empty<T>(of: T) -> Row<T> {
    Row { of, planned: Money::ZERO, paid: Money::ZERO, to_pay: Money::ZERO }
}

fn row<T: Clone + Ord>(rows: &mut BTreeMap<T, Row<T>>, of: T) -> &mut Row<T> {
    rows.entry(of.clone()).or_insert_with(|| empty(of))
}

/// Every line and credit, by day, receipt and line.
fn entries(plan: &Plan) -> Vec<Entry> {
    let mut entries = Vec::new();
    for (key, receipt) in &plan.receipts {
        let weights: Vec<i64> = receipt.lines.values().map(|line| line.money.hundredths()).collect();
        let shares = share(receipt.tax, &weights);
        for ((line_key, line), tax) in receipt.lines.iter().zip(shares) {
            let good = line.good.clone().filter(|good| plan.goods.contains_key(good));
            let named = line.good.as_ref().and_then(|good| plan.goods.get(good));
            let text = line.text.clone().or_else(|| named.map(|good| good.name.clone()));
            entries.push(Entry {
                day: receipt.date,
                receipt: key.clone(),
                line: Some(line_key.clone()),
                text: text.unwrap_or_else(|| line.good.as_ref().map_or(String::new(), ToString::to_string)),
                category: line
                    .category
                    .or_else(|| named.map(dryfit_plan::Good::category))
                    .unwrap_or(Category::Supplies),
                good,
                count: i64::from(line.count),
                net: line.money,
                tax,
            });
        }
        if receipt.lines.is_empty() && !receipt.tax.is_zero() {
            entries.push(Entry {
                day: receipt.date,
                receipt: key.clone(),
                line: None,
                good: None,
                text: "tax".into(),
                category: Category::Fees,
                count: 0,
                net: Money::ZERO,
                tax: receipt.tax,
            });
        }
        for back in receipt.returns.values() {
            let Some(credit) = back.credit else { continue };
            let of =
                entries.iter().find(|entry| entry.receipt == *key && entry.line.as_ref() == Some(&back.line));
            entries.push(Entry {
                day: back.on,
                receipt: key.clone(),
                line: Some(back.line.clone()),
                good: of.and_then(|of| of.good.clone()),
                text: of.map_or_else(|| back.line.to_string(), |of| of.text.clone()),
                category: of.map_or(Category::Supplies, |of| of.category),
                count: -i64::from(back.count),
                net: -credit,
                tax: -back.tax,
            });
        }
    }
    entries.sort_by(|a, b| (a.day, &a.receipt, &a.line).cmp(&(b.day, &b.receipt, &b.line)));
    entries
}

/// The entry that a line of a receipt makes.
fn bought<'a>(entries: &'a [Entry], receipt: &Key, line: &Key) -> Option<&'a Entry> {
    let is =
        |entry: &&Entry| entry.receipt == *receipt && entry.line.as_ref() == Some(line) && entry.count >= 0;
    entries.iter().find(is)
}

fn again(plan: &Plan, entries: &[Entry]) -> Vec<(String, Money)> {
    let lines = plan.receipts.iter().flat_map(|(key, receipt)| {
        receipt.lines.iter().filter_map(move |(line, stated)| Some((key, line, stated.again.clone()?)))
    });
    lines.filter_map(|(key, line, why)| Some((why, bought(entries, key, line)?.money()))).collect()
}

/// What each return that was not credited is worth: its share of what its line cost.
fn owed(plan: &Plan, entries: &[Entry]) -> Vec<Owed> {
    let backs = plan.receipts.iter().flat_map(|(key, receipt)| {
        receipt.returns.iter().filter(|(_, back)| back.credit.is_none()).map(move |back| (key, back))
    });
    backs
        .filter_map(|(receipt, (key, back))| {
            let of = bought(entries, receipt, &back.line)?;
            let part = |money: Money| {
                let kept = of.count.saturating_sub(i64::from(back.count)).max(0);
                share(money, &[i64::from(back.count), kept])[0]
            };
            let tax = part(of.tax);
            Some(Owed { receipt: receipt.clone(), back: key.clone(), money: part(of.net) + tax, tax })
        })
        .collect()
}

/// Whole packs of the last line that brought a good, as many as what is left over holds.
fn unopened(plan: &Plan, takeoff: &Takeoff, entries: &[Entry]) -> Vec<Unopened> {
    let whole = |line: &crate::takeoff::BuyLine| {
        let last =
            entries.iter().rev().find(|entry| entry.good.as_ref() == Some(&line.good) && entry.count > 0)?;
        let stated = plan.receipts.get(&last.receipt)?.lines.get(last.line.as_ref()?)?;
        let holds = crate::takeoff::of_line(plan, stated, line.needed.measure())?;
        let packs = u32::try_from(line.left_over().base().max(0) / holds.base()).ok()?.min(stated.count);
        let kept = stated.count - packs;
        let money = share(last.money(), &[i64::from(packs), i64::from(kept)])[0];
        (packs > 0).then(|| Unopened { good: line.good.clone(), packs, money })
    };
    takeoff.lines.iter().filter_map(whole).collect()
}
