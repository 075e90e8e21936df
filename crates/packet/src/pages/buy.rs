//! The buying list, aisle by aisle.

use serde::Serialize;

use std::collections::BTreeMap;

use dryfit_measure::{Key, Money};
use dryfit_stages::takeoff::{Aisle, BuyLine};

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
    let mut by_aisle: BTreeMap<Aisle, Vec<&BuyLine>> = BTreeMap::new();
    for line in takeoff.lines.iter().filter(|line| line.packs > 0) {
        by_aisle.entry(line.aisle).or_default().push(line);
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

fn aisle_rows(m: &Material<'_>, aisle: Aisle, lines: &[&BuyLine]) -> AisleRows {
    let total: Money = lines.iter().filter_map(|line| line.price).sum();
    AisleRows {
        name: name(aisle).to_owned(),
        total: total.to_string(),
        rows: lines.iter().map(|line| row(m, line)).collect(),
    }
}

fn row(m: &Material<'_>, line: &BuyLine) -> BuyRow {
    let good = m.plan.goods.get(&line.good);
    BuyRow {
        packs: line.packs,
        what: with_pack(m, line),
        look_for: good.and_then(|good| good.look_for.clone()),
        why: line.why.as_str().into(),
        about: line.price.map_or_else(|| "ask".to_owned(), |price| price.to_string()),
    }
}

/// "pocket screws, box of 100": a pack is named where it holds more than one.
fn with_pack(m: &Material<'_>, line: &BuyLine) -> String {
    let name = m.names.good_as_sold(&line.good);
    let pack = line.pack.as_ref().and_then(|key| {
        let pack = m.plan.goods.get(&line.good)?.packs.get(key)?;
        (pack.holds > 1 && pack.holds < 200 && key.as_str() != "pair")
            .then(|| format!(", {key} of {}", pack.holds))
    });
    name + &pack.or_else(|| pair(line.pack.as_ref())).unwrap_or_default()
}

fn pair(pack: Option<&Key>) -> Option<String> {
    pack.filter(|key| key.as_str() == "pair").map(|_| ", pair".to_owned())
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
        .filter(|line| line.packs > 0)
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

fn name(aisle: Aisle) -> &'static str {
    match aisle {
        Aisle::SheetsAndBoards => "Sheets and boards",
        Aisle::ScrewsAndFittings => "Screws and fittings",
        Aisle::PipesAndWires => "Pipes and wires",
        Aisle::Appliances => "Appliances and sinks",
        Aisle::Supplies => "Glue and finish",
    }
}
