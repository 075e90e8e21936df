//! Every view of the ledger adds up to the receipts, to the cent, whatever the receipts say.

use dryfit_cutting::Budget;
use dryfit_measure::{Key, Money, Pointer};
use dryfit_plan::{Category, Draft, Plan, Receipt};
use dryfit_stages::layouts::Answers;
use dryfit_stages::ledger::{Entry, Ledger, ledger};
use dryfit_stages::{Derived, run};
use proptest::prelude::*;

fn demo() -> Plan {
    Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("the demo reads").plan
}

fn derive(plan: &Plan) -> Derived {
    run(plan, &Answers::new(), Budget { steps: 0, seed: 1 })
}

/// What was paid, straight from the receipts: tills and credits.
fn of_receipts(plan: &Plan) -> Money {
    plan.receipts.values().map(|receipt| receipt.paid() - receipt.credited()).sum()
}

fn adds_up(plan: &Plan, ledger: &Ledger) {
    let paid = of_receipts(plan);
    assert_eq!(ledger.paid, paid, "in all");
    assert_eq!(ledger.entries.iter().map(Entry::money).sum::<Money>(), paid, "by entry");
    assert_eq!(ledger.goods.iter().map(|row| row.paid).sum::<Money>(), paid, "by good");
    assert_eq!(ledger.months.values().copied().sum::<Money>(), paid, "by month");
    let materials: Money = ledger.categories.iter().map(|row| row.paid).sum();
    assert_eq!(materials, ledger.materials.paid, "materials");
    assert_eq!(materials + ledger.tools.paid, paid, "by category, tools apart");
    for (key, receipt) in &plan.receipts {
        let of = ledger.entries.iter().filter(|entry| entry.receipt == *key);
        let (net, tax): (Vec<Money>, Vec<Money>) = of.map(|entry| (entry.net, entry.tax)).unzip();
        let back: Money = receipt.returns.values().filter_map(|back| back.credit).sum();
        let tax_back: Money =
            receipt.returns.values().filter(|back| back.credit.is_some()).map(|back| back.tax).sum();
        assert_eq!(net.into_iter().sum::<Money>(), receipt.net() - back, "{key}");
        assert_eq!(tax.into_iter().sum::<Money>(), receipt.tax - tax_back, "{key}");
    }
    let by_category: Money =
        ledger.categories.iter().map(|row| row.to_pay).sum::<Money>() + ledger.tools.to_pay;
    assert_eq!(by_category, ledger.goods.iter().map(|row| row.to_pay).sum(), "still to pay");
}

/// Receipts of any amounts, of goods of the demo and of things it does not name.
fn receipts() -> impl Strategy<Value = Vec<Receipt>> {
    let good = prop::sample::select(vec!["ply-18", "hinge", "glue", "seed-fridge", "", "no-such-good"]);
    let category = prop::option::of(prop::sample::select(Category::ALL.to_vec()));
    let line = (good, 0_u32..9, -9_999_i64..999_999, category, "[a-e]").prop_map(
        |(good, count, money, category, key)| {
            let mut line = serde_json::json!({
                "count": count, "money": Money::from_hundredths(money), "text": "as the till calls it"
            });
            if !good.is_empty() {
                line["good"] = good.into();
            }
            if let Some(category) = category {
                line["category"] = serde_json::to_value(category).expect("a word");
            }
            (key, line)
        },
    );
    let back = ("[a-f]", 0_u32..4, 1..=9_u32, prop::option::of(0_i64..99_999), -99_i64..999).prop_map(
        |(line, count, month, credit, tax)| {
            let mut back = serde_json::json!({
                "line": line, "count": count, "on": format!("2026-0{month}-14"), "tax": Money::from_hundredths(tax)
            });
            if let Some(credit) = credit {
                back["credit"] = serde_json::to_value(Money::from_hundredths(credit)).expect("money");
            }
            back
        },
    );
    let lines = prop::collection::vec(line, 0..6);
    let receipt = (1..=9_u32, lines, -999_i64..99_999, prop::collection::vec(back, 0..3)).prop_map(
        |(month, lines, tax, returns)| {
            let lines: serde_json::Map<_, _> = lines.into_iter().collect();
            let returns: serde_json::Map<_, _> =
                returns.into_iter().enumerate().map(|(n, back)| (format!("t{n}"), back)).collect();
            let json = serde_json::json!({
                "date": format!("2026-0{month}-02"), "lines": lines, "returns": returns,
                "tax": Money::from_hundredths(tax)
            });
            serde_json::from_value(json).expect("a receipt")
        },
    );
    prop::collection::vec(receipt, 0..6)
}

#[test]
fn every_view_adds_up_to_the_receipts() {
    let plan = demo();
    let takeoff = derive(&plan).takeoff;
    proptest!(ProptestConfig::with_cases(256), |(receipts in receipts())| {
        let mut plan = plan.clone();
        plan.receipts = receipts
            .into_iter()
            .enumerate()
            .map(|(n, receipt)| (Key::new(&format!("c{n}")).expect("a key"), receipt))
            .collect();
        adds_up(&plan, &ledger(&plan, &takeoff));
    });
}

#[test]
fn the_demo_adds_up() {
    let plan = demo();
    let derived = derive(&plan);
    adds_up(&plan, &derived.ledger);
    let to_pay = derived.ledger.materials.to_pay + derived.ledger.tools.to_pay;
    assert_eq!(to_pay, derived.takeoff.total + derived.takeoff.tax, "the buying list, tax with it");
}

#[test]
fn what_was_bought_is_not_bought_again_and_what_went_back_is() {
    let plan = demo();
    let set = |plan: &Plan, at: &str, value: serde_json::Value| {
        let at = Pointer::parse(at).expect("a pointer");
        plan.apply(&Draft::of(plan).set(&at, value).edit("trial")).expect("it still reads").0
    };
    let pulls = |plan: &Plan| {
        let derived = derive(plan);
        let line = derived.takeoff.lines.iter().find(|line| line.good.as_str() == "pull").expect("pulls");
        line.missing().pieces().expect("pieces")
    };
    let before = pulls(&plan);
    assert!(before >= 4);
    let receipt = serde_json::json!({
        "date": "2026-05-02", "lines": { "a": { "good": "pull", "count": 4, "money": "20.80" } }
    });
    let bought = set(&plan, "/receipts/x1", receipt);
    assert_eq!(pulls(&bought), before - 4);
    let back = serde_json::json!({ "line": "a", "count": 1, "on": "2026-05-03" });
    let returned = set(&bought, "/receipts/x1/returns", serde_json::json!({ "t": back }));
    assert_eq!(pulls(&returned), before - 3);
    // a quarter of 20.80 is owed until the shop gives it back
    let owed = derive(&returned).ledger.owed;
    assert_eq!(
        owed.iter().find(|owed| owed.receipt.as_str() == "x1").map(|owed| owed.money.to_string()),
        Some("5.20".into())
    );
}

/// Before anything is bought, what is still to pay is what is planned, to the cent, whatever the tax rounds to.
#[test]
fn nothing_is_over_the_plan_before_it_begins() {
    let mut plan = demo();
    plan.receipts.clear();
    plan.lots.clear();
    plan.budget.clear();
    let ledger = derive(&plan).ledger;
    assert!(ledger.materials.planned > Money::ZERO);
    for row in ledger.categories.iter().chain([&ledger.tools]) {
        assert_eq!(row.over(), Money::ZERO, "{:?}", row.of);
    }
}
