//! The buying list, aisle by aisle.

use serde::Serialize;

use std::collections::BTreeMap;

use dryfit_measure::{Measure, Money};
use dryfit_plan::Category;
use dryfit_stages::takeoff::{BuyLine, PackCount, held};

use crate::data::{Blank, Body, Page};
use crate::material::Material;
use crate::names::counted;
use crate::words::{Span, Words};

/// What to buy.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Buy {
    /// By aisle of the shop.
    pub aisles: Vec<AisleRows>,
    /// Empty rows for what was forgotten.
    pub empty: u32,
    /// What is not bought yet, and what has no price.
    pub notes: Vec<Words>,
}

/// One aisle.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct AisleRows {
    /// Its name.
    pub name: String,
    /// What is bought there, in money.
    pub total: String,
    /// The lines.
    pub rows: Vec<BuyRow>,
}

/// One line.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BuyRow {
    /// How many packs.
    pub packs: u32,
    /// The good and its pack.
    pub what: String,
    /// What to look at when buying it.
    pub look_for: Option<String>,
    /// What it is for, and why so many.
    pub why: Words,
    /// What it costs, without tax.
    pub about: String,
}

/// The pages of the buying list: what is ordered and what is paid where it falls due, then a page for each trip.
pub(crate) fn buy(m: &Material<'_>) -> Vec<Page> {
    let (takeoff, order) = (&m.derived.takeoff, &m.derived.order);
    let bought: Vec<&BuyLine> = takeoff.lines.iter().filter(|line| line.is_bought()).collect();
    let mut pages: Vec<Page> = Vec::new();
    let count = order.trips.len();
    for (number, trip) in (1..).zip(&order.trips) {
        let lines: Vec<&BuyLine> =
            bought.iter().copied().filter(|line| trip.goods.contains(&line.good)).collect();
        let name = if count > 1 { format!("Buy: trip {number} of {count}") } else { "Buy".to_owned() };
        let by = format!("by {}", order.day_name(trip.day));
        pages.push(page(m, key(pages.len()), name, &by, &lines));
    }
    let carried = |line: &BuyLine| order.trips.iter().any(|trip| trip.goods.contains(&line.good));
    let ordered: Vec<&BuyLine> = bought.into_iter().filter(|line| !carried(line)).collect();
    if !ordered.is_empty() || pages.is_empty() {
        pages.push(page(
            m,
            key(pages.len()),
            "Buy: order, and pay on the way".to_owned(),
            "ordered ahead",
            &ordered,
        ));
    }
    let (first, all) = (&mut pages[0], takeoff.total + takeoff.tax);
    let tax = if takeoff.tax.is_zero() { "" } else { " with tax" };
    first.inputs = first.inputs.clone().plain(format!("; all of it {}{tax}", m.names.money(all)));
    pages
}

/// The key of a page, by how many stand before it; the first is what the cover points at.
fn key(before: usize) -> String {
    if before == 0 { "buy".to_owned() } else { format!("buy/{}", before + 1) }
}

fn page(m: &Material<'_>, key: String, name: String, by: &str, lines: &[&BuyLine]) -> Page {
    let mut by_aisle: BTreeMap<Category, Vec<&BuyLine>> = BTreeMap::new();
    for line in lines {
        by_aisle.entry(line.category).or_default().push(line);
    }
    let total: Money = lines.iter().filter_map(|line| line.price).sum();
    let things = counted(lines.len(), "thing");
    let inputs = format!("{by} · {things}, about {} without tax", m.names.money(total));
    let aisles = by_aisle.iter().map(|(aisle, lines)| aisle_rows(m, *aisle, lines)).collect();
    let body = Buy { aisles, empty: 3, notes: notes(m, lines) };
    let mut page = Page::new(key, name, inputs, Body::Buy(body));
    page.blanks = vec![Blank::empty("paid in all"), Blank::empty("receipt no.")];
    page
}

fn aisle_rows(m: &Material<'_>, aisle: Category, lines: &[&BuyLine]) -> AisleRows {
    let total: Money = lines.iter().filter_map(|line| line.price).sum();
    AisleRows {
        name: aisle.name().to_owned(),
        total: total.to_string(),
        rows: lines.iter().map(|line| row(m, line)).collect(),
    }
}

fn row(m: &Material<'_>, line: &BuyLine) -> BuyRow {
    let good = m.plan.goods.get(&line.good);
    BuyRow {
        packs: line.count().max(1),
        what: with_pack(m, line),
        look_for: look_for(good.and_then(|good| good.look_for.as_deref()), line.one_batch),
        why: line.why.as_str().into(),
        about: line.price.map_or_else(|| "ask".to_owned(), |price| price.to_string()),
    }
}

/// What is stated, and a line for the batch where all has to be of one.
fn look_for(stated: Option<&str>, one_batch: bool) -> Option<String> {
    let batch = one_batch.then_some("one batch: ________");
    let said: Vec<&str> = stated.into_iter().chain(batch).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

/// "pocket screws, box of 100": a pack is named where it holds more than one; a mix names each with its number.
fn with_pack(m: &Material<'_>, line: &BuyLine) -> String {
    let name = m.names.good_as_sold(&line.good);
    let packs: Vec<String> = match line.packs.as_slice() {
        [one] => pack(m, line, one).into_iter().collect(),
        mix => mix
            .iter()
            .map(|one| {
                format!("{} {}", one.count, pack(m, line, one).unwrap_or_else(|| one.pack.to_string()))
            })
            .collect(),
    };
    if packs.is_empty() { name } else { format!("{name}, {}", packs.join(" and ")) }
}

/// "box of 100", "pair", "50 lb bag"; nothing for a pack of one piece.
fn pack(m: &Material<'_>, line: &BuyLine, chosen: &PackCount) -> Option<String> {
    let key = chosen.pack.as_str();
    let good = m.plan.goods.get(&line.good)?;
    let holds = held(good, good.packs.get(&chosen.pack)?, line.needed.measure())?;
    match (holds.measure(), holds.base()) {
        (Measure::Pieces, _) if key == "pair" => Some("pair".to_owned()),
        (Measure::Pieces, 0 | 1) => None,
        (Measure::Pieces, pieces) => Some(format!("{key} of {pieces}")),
        // the good's own name says what a pack of it holds
        _ => Some(key.to_owned()),
    }
}

fn notes(m: &Material<'_>, lines: &[&BuyLine]) -> Vec<Words> {
    let mut notes = Vec::new();
    let here = |good: &dryfit_measure::Key| lines.iter().any(|line| line.good == *good);
    let unpriced: Vec<String> =
        m.derived.takeoff.unpriced.iter().filter(|good| here(good)).map(|key| m.names.good(key)).collect();
    if !unpriced.is_empty() {
        notes.push(Words::bold("No price yet: ").plain(unpriced.join(", ")));
    }
    let order = &m.derived.order;
    for line in lines {
        let Some(days) = line.lead_days.filter(|days| *days > 0) else { continue };
        let good = m.names.good(&line.good);
        let by = order.order_by.iter().find(|one| one.good == line.good).filter(|_| order.start.is_some());
        notes.push(match by {
            Some(by) => Words::bold(format!("Order by {}: ", order.day_name_of(by.by))).plain(good),
            None => Words::bold("Order early: ").plain(format!("{good}, {days} working days")),
        });
    }
    let backs: Vec<String> = m.derived.ledger.unopened.iter().map(|one| m.names.good(&one.good)).collect();
    if !backs.is_empty() {
        notes.push(Words::bold("Take back unopened: ").plain(backs.join(", ")));
    }
    let is_top = |top: &dryfit_plan::Top| here(&top.substrate) || top.facing.as_ref().is_some_and(here);
    let tops: Vec<String> = m
        .plan
        .tops
        .iter()
        .filter(|(_, top)| is_top(top))
        .map(|(key, _)| m.names.subject(key).text())
        .collect();
    if !tops.is_empty() {
        notes.push(
            Words::bold("Buy, but do not cut yet: ")
                .plain(format!("{} ", tops.join(", ")))
                .with(Span::Gate(2)),
        );
    }
    notes
}
