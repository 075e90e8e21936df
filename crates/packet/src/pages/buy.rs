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

/// The page of the buying list.
pub(crate) fn buy(m: &Material<'_>) -> Page {
    let takeoff = &m.derived.takeoff;
    let mut by_aisle: BTreeMap<Category, Vec<&BuyLine>> = BTreeMap::new();
    for line in takeoff.lines.iter().filter(|line| line.is_bought()) {
        by_aisle.entry(line.category).or_default().push(line);
    }
    let things: usize = by_aisle.values().map(Vec::len).sum();
    let aisles = by_aisle.iter().map(|(aisle, lines)| aisle_rows(m, *aisle, lines)).collect();
    let mut inputs =
        format!("{}, about {} without tax", counted(things, "thing"), m.names.money(takeoff.total));
    if !takeoff.tax.is_zero() {
        inputs = format!("{inputs}, {} with it", m.names.money(takeoff.total + takeoff.tax));
    }
    let mut page = Page::new("buy", "Buy", inputs, Body::Buy(Buy { aisles, empty: 3, notes: notes(m) }));
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

fn notes(m: &Material<'_>) -> Vec<Words> {
    let mut notes = Vec::new();
    let unpriced = &m.derived.takeoff.unpriced;
    if !unpriced.is_empty() {
        let names: Vec<String> = unpriced.iter().map(|key| m.names.good(key)).collect();
        notes.push(Words::bold("No price yet: ").plain(names.join(", ")));
    }
    let late: Vec<String> = m
        .derived
        .takeoff
        .lines
        .iter()
        .filter(|line| line.is_bought())
        .filter_map(|line| {
            let days = m.plan.goods.get(&line.good)?.lead_days.filter(|days| *days > 0)?;
            Some(format!("{}, {days} days", m.names.good(&line.good)))
        })
        .collect();
    if !late.is_empty() {
        notes.push(Words::bold("Order early: ").plain(late.join("; ")));
    }
    let tops: Vec<String> = m.plan.tops.keys().map(|key| m.names.subject(key).text()).collect();
    if !tops.is_empty() {
        notes.push(Words::bold("Not yet: ").plain(format!("{} ", tops.join(", "))).with(Span::Gate(2)));
    }
    notes
}
