//! A receipt as it is typed on the page, and the edit that enters it.

use dryfit_measure::{Money, Pointer};
use dryfit_plan::{Day, Edit, Plan};
use serde::Deserialize;
use serde_json::{Value, json};

use super::typed::TypedFault;

/// A receipt, as typed.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReceiptWish {
    /// The day on it: 2026-03-05.
    pub date: String,
    /// Where it was bought; may be empty.
    pub shop: String,
    /// The tax on it; may be empty.
    pub tax: String,
    /// What was paid at the till; may be empty.
    pub total: String,
    /// Its lines; those of which nothing is typed are passed over.
    pub lines: Vec<ReceiptLineWish>,
}

/// A line of it.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReceiptLineWish {
    /// The good that it is; empty for something else.
    pub good: String,
    /// What it is, in words; may be empty where it is a good.
    pub text: String,
    /// How many packs; empty for one.
    pub count: String,
    /// What they cost together, without tax.
    pub money: String,
}

/// The edit that enters it.
pub(super) fn receipt(plan: &Plan, wish: &ReceiptWish) -> Result<Edit, TypedFault> {
    let date: Day = wish
        .date
        .trim()
        .parse()
        .map_err(|_| TypedFault::whole("say the day on the receipt, as in 2026-03-05"))?;
    let typed = wish
        .lines
        .iter()
        .filter(|line| [&line.good, &line.text, &line.money].iter().any(|text| !text.trim().is_empty()));
    let mut lines = serde_json::Map::new();
    for (number, typed) in (1..).zip(typed) {
        lines.insert(format!("l{number}"), line(plan, number, typed)?);
    }
    if lines.is_empty() {
        return Err(TypedFault::whole("a receipt has a line at least: what was bought, and what it cost"));
    }
    let mut value = json!({ "date": date, "lines": lines });
    if !wish.shop.trim().is_empty() {
        value["shop"] = json!(wish.shop.trim());
    }
    for (what, text) in [("tax", &wish.tax), ("total", &wish.total)] {
        if !text.trim().is_empty() {
            value[what] = json!(money(what, text)?);
        }
    }
    let key = plan.next_key("c");
    let at = Pointer::root().child("receipts").child(&key);
    let shop = if wish.shop.trim().is_empty() { String::new() } else { format!(", {}", wish.shop.trim()) };
    Ok(Edit::set(plan, &at, value, format!("receipt {key} of {date}{shop}")))
}

fn line(plan: &Plan, number: usize, typed: &ReceiptLineWish) -> Result<Value, TypedFault> {
    let what = format!("line {number}");
    let mut value = json!({ "money": money(&what, &typed.money)? });
    let (good, text, count) = (typed.good.trim(), typed.text.trim(), typed.count.trim());
    if !good.is_empty() {
        value["good"] = json!(plan.goods.keys().find(|key| key.as_str() == good).ok_or_else(|| {
            TypedFault::whole(format!(
                "{what}: there is no good `{good}`; choose one of the list, or say what it is"
            ))
        })?);
    } else if text.is_empty() {
        return Err(TypedFault::whole(format!("{what}: say what was bought, or choose one of the goods")));
    }
    if !text.is_empty() {
        value["text"] = json!(text);
    }
    if !count.is_empty() {
        let count: u32 = count.parse().ok().filter(|count| *count > 0).ok_or_else(|| {
            TypedFault::whole(format!(
                "{what}: `{count}` is no number of packs; write a whole number, as in 2"
            ))
        })?;
        value["count"] = json!(count);
    }
    Ok(value)
}

fn money(what: &str, text: &str) -> Result<Money, TypedFault> {
    text.trim().parse().map_err(|fault| TypedFault::whole(format!("{what}: {fault}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Plan {
        Plan::from_toml(&crate::demo::DEMOS[0].plan()).expect("the demo reads").plan
    }

    fn bought(good: &str, text: &str, count: &str, money: &str) -> ReceiptLineWish {
        let [good, text, count, money] = [good, text, count, money].map(str::to_owned);
        ReceiptLineWish { good, text, count, money }
    }

    fn wish(lines: Vec<ReceiptLineWish>) -> ReceiptWish {
        ReceiptWish {
            date: "2026-03-20".into(),
            shop: "corner shop".into(),
            tax: "2.10".into(),
            total: "34.50".into(),
            lines,
        }
    }

    #[test]
    fn what_was_typed_is_what_was_paid() {
        let plan = demo();
        let lines =
            vec![bought("glue", "", "2", "15.00"), bought("", "parking", "", "17.4"), bought("", "", "", "")];
        let edit = receipt(&plan, &wish(lines)).expect("it reads");
        let (plan, _) = plan.apply(&edit).expect("it is a plan still");
        let entered = plan.receipts.values().find(|it| it.shop.as_deref() == Some("corner shop"));
        let entered = entered.expect("it is there");
        assert_eq!(entered.lines.len(), 2);
        assert_eq!(Some(entered.paid()), entered.total);
        assert!(edit.label.ends_with(" of 2026-03-20, corner shop"), "{}", edit.label);
    }

    #[test]
    fn what_does_not_read_says_where_and_what_would_do() {
        let plan = demo();
        let says = |wish: ReceiptWish| receipt(&plan, &wish).expect_err("it does not read").to_string();
        let sound = || vec![bought("glue", "", "", "7.50")];
        assert!(says(wish(Vec::new())).starts_with("a receipt has a line at least"));
        assert!(says(ReceiptWish { date: "20 March".into(), ..wish(sound()) }).contains("2026-03-05"));
        assert!(says(wish(vec![bought("glue", "", "two", "7.50")])).contains("line 1: `two`"));
        assert!(says(wish(vec![bought("", "", "", "7.50")])).contains("line 1: say what was bought"));
        assert!(says(wish(vec![bought("glue", "", "", "a lot")])).starts_with("line 1: "));
        assert!(says(wish(vec![bought("glew", "", "", "7.50")])).contains("no good `glew`"));
        assert!(says(ReceiptWish { tax: "x".into(), ..wish(sound()) }).starts_with("tax: "));
    }
}
