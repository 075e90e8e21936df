//! What it costs: paid, still to pay and planned, by category, with what went wrong and what may go back.

use dryfit_drawing::{Drawing, views};
use dryfit_measure::Money;
use dryfit_stages::ledger::{Ledger, Row};
use dryfit_stages::order::Order as Stage;
use serde::Serialize;

use crate::data::{Body, Page};
use crate::material::Material;
use crate::names::counted;
use crate::pages::Total;
use crate::words::Words;

/// The account.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Costs {
    /// What was paid, and what is still to pay, large.
    pub head: [Total; 2],
    /// A bar for each category.
    pub drawing: Option<Drawing>,
    /// The same by category.
    pub rows: Vec<CostRow>,
    /// All materials together, and tools apart.
    pub sums: Vec<CostRow>,
    /// How far the job is.
    pub totals: Vec<Total>,
    /// Bought again, gone back and not credited yet, may go back: each under its heading.
    pub asides: Vec<Aside>,
}

/// Planned against paid against still to pay.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CostRow {
    /// Of what.
    pub name: String,
    /// What is set aside for it, else what it would cost as a whole.
    pub planned: String,
    /// What was paid.
    pub paid: String,
    /// What is still to pay.
    pub to_pay: String,
    /// By how much the forecast is over the plan; below nothing where it is under.
    pub over: String,
}

/// Some lines with their money.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Aside {
    /// What they have in common.
    pub heading: String,
    /// What, and how much.
    pub lines: Vec<(Words, String)>,
}

/// Points kept for everything but the bars.
const FOOT: f64 = 330.0;

/// The page of the account; none where nothing is to be paid.
pub(crate) fn costs(m: &Material<'_>) -> Option<Page> {
    let ledger = &m.derived.ledger;
    let all = &ledger.materials;
    if ledger.entries.is_empty() && all.planned.is_zero() && all.to_pay.is_zero() {
        return None;
    }
    let reserve = if ledger.contingency.is_zero() {
        String::new()
    } else {
        format!("; {} in reserve", m.names.money(ledger.contingency))
    };
    let head = [
        Total {
            figure: m.names.money_whole(all.paid),
            label: format!("paid of {} planned", m.names.money(all.planned)).into(),
        },
        Total { figure: m.names.money_whole(all.to_pay), label: format!("still to pay{reserve}").into() },
    ];
    let mut sums = vec![cost_row("All materials", all)];
    let tools = &ledger.tools;
    if !(tools.planned.is_zero() && tools.paid.is_zero() && tools.to_pay.is_zero()) {
        sums.push(cost_row("Tools, apart", tools));
    }
    let mut frame = m.frame(FOOT);
    frame.width = frame.width.min(540.0);
    let body = Costs {
        head,
        drawing: views::costs(ledger, m.plan.money.currency, frame),
        rows: ledger.categories.iter().map(|row| cost_row(row.of.name(), row)).collect(),
        sums,
        totals: totals(m, &m.derived.order),
        asides: asides(m, ledger),
    };
    let receipts = counted(m.plan.receipts.len(), "receipt");
    let inputs = format!("{receipts}; with tax; forecast is paid and still to pay together");
    Some(Page::new("costs", "What it costs", inputs, Body::Costs(body)))
}

fn cost_row<T>(name: &str, row: &Row<T>) -> CostRow {
    let over = row.over();
    CostRow {
        name: name.to_owned(),
        planned: row.planned.to_string(),
        paid: row.paid.to_string(),
        to_pay: row.to_pay.to_string(),
        over: if over > Money::ZERO { format!("+{over}") } else { over.to_string() },
    }
}

fn totals(m: &Material<'_>, order: &Stage) -> Vec<Total> {
    let done = order.tasks.iter().filter(|task| task.done.is_some()).count();
    let of = |count: usize, all: usize| format!("{count} of {all}");
    let mut totals = vec![
        Total { figure: of(done, order.tasks.len()), label: "tasks done".into() },
        Total { figure: format!("{} h", order.hands / 60), label: "of hands to go".into() },
        Total { figure: m.plan.receipts.len().to_string(), label: "receipts".into() },
    ];
    if let Some(stretch) = order.without_sink {
        totals.push(Total { figure: Stage::days(stretch).to_string(), label: "days without a sink".into() });
    }
    totals
}

fn asides(m: &Material<'_>, ledger: &Ledger) -> Vec<Aside> {
    let again = ledger.again.iter().map(|(why, money)| (Words::from(why.clone()), m.names.money(*money)));
    let owed = ledger.owed.iter().map(|owed| {
        let receipt = m.plan.receipts.get(&owed.receipt);
        let line = receipt.and_then(|receipt| {
            let back = receipt.returns.get(&owed.back)?;
            let line = receipt.lines.get(&back.line)?;
            line.text.clone().or_else(|| line.good.as_ref().map(|good| m.names.good(good)))
        });
        let what = line.unwrap_or_else(|| owed.back.to_string());
        (Words::from(format!("{what}, receipt {}", owed.receipt)), m.names.money(owed.money))
    });
    let unopened = ledger.unopened.iter().map(|one| {
        let packs = counted(usize::try_from(one.packs).unwrap_or(usize::MAX), "pack");
        (Words::from(format!("{}, {packs}", m.names.good(&one.good))), m.names.money(one.money))
    });
    let aside = |heading: &str, lines: Vec<(Words, String)>| Aside { heading: heading.to_owned(), lines };
    let all = [
        aside("Bought again", again.collect()),
        aside("Gone back, not credited yet", owed.collect()),
        aside("Not needed: may go back unopened", unopened.collect()),
    ];
    all.into_iter().filter(|aside| !aside.lines.is_empty()).collect()
}
