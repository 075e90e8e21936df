//! Cut list and buying list as CSV (RFC 4180): a header, CRLF, quotes only where they are needed.

use dryfit_measure::{Dim, Fineness, Length, Toward, Unit};
use dryfit_stages::casework::Gate;

use crate::open::Project;

/// Every piece to cut: its path, its name, its good, its sizes as the tape shows them and in millimetres.
pub(super) fn cut_list(project: &Project) -> Vec<u8> {
    let plan = &project.plan;
    let unit = unit_name(plan.entry_unit);
    let header = [
        "path",
        "name",
        "good",
        "length",
        "width",
        "thickness",
        "unit",
        "length_mm",
        "width_mm",
        "thickness_mm",
        "grain",
        "waits_for",
        "spare",
    ];
    let mut rows = vec![header.map(str::to_owned).to_vec()];
    for group in &project.derived.cut_list.groups {
        let good = plan.goods.get(&group.good);
        let thickness = good.and_then(|good| match &good.form {
            dryfit_plan::Form::Sheet(form) => Some(form.thickness.length),
            dryfit_plan::Form::Board(form) => Some(form.thickness.length),
            _ => None,
        });
        let name = good.map_or_else(|| group.good.to_string(), |good| good.name.clone());
        for piece in &group.pieces {
            let shown = |dim: &Dim| text(dim.length(), plan.fineness);
            rows.push(vec![
                piece.path.clone(),
                piece.label.clone(),
                name.clone(),
                shown(&piece.length),
                shown(&piece.width),
                thickness.map(|thick| measured(thick, plan.entry_unit)).unwrap_or_default(),
                unit.to_owned(),
                millimetres(piece.length.length()),
                millimetres(piece.width.length()),
                thickness.map(millimetres).unwrap_or_default(),
                if piece.grain { "along the length" } else { "" }.to_owned(),
                match piece.gate {
                    Some(Gate::Openings) => "openings as built",
                    Some(Gate::UnitsSet) => "units fixed, measured over all",
                    None => "",
                }
                .to_owned(),
                if piece.extra { "spare" } else { "" }.to_owned(),
            ]);
        }
    }
    written(&rows)
}

/// Every line of the buying list, with its packs and prices, and the sum.
pub(super) fn buying_list(project: &Project) -> Vec<u8> {
    let plan = &project.plan;
    let takeoff = &project.derived.takeoff;
    let header = [
        "good",
        "name",
        "category",
        "needed",
        "on_hand",
        "packs",
        "price",
        "currency",
        "lead_days",
        "trip",
        "look_for",
        "why",
    ];
    let mut rows = vec![header.map(str::to_owned).to_vec()];
    let trip = |good: &dryfit_measure::Key| {
        let trips = &project.derived.order.trips;
        trips.iter().position(|trip| trip.goods.contains(good)).map(|at| (at + 1).to_string())
    };
    let currency = plan.money.currency.to_string();
    for line in &takeoff.lines {
        let good = plan.goods.get(&line.good);
        let packs: Vec<String> =
            line.packs.iter().map(|pack| format!("{} {}", pack.count, pack.pack)).collect();
        rows.push(vec![
            line.good.to_string(),
            good.map_or_else(|| line.good.to_string(), |good| good.name.clone()),
            line.category.name().to_owned(),
            line.needed.figure(plan.entry_unit),
            line.on_hand.figure(plan.entry_unit),
            packs.join(" + "),
            line.price.map(|price| price.to_string()).unwrap_or_default(),
            currency.clone(),
            good.and_then(|good| good.lead_days).map(|days| days.to_string()).unwrap_or_default(),
            trip(&line.good).unwrap_or_default(),
            good.and_then(|good| good.look_for.clone()).unwrap_or_default(),
            line.why.clone(),
        ]);
    }
    let sum = |name: &str, money: dryfit_measure::Money| {
        let mut row = vec![String::new(); header.len()];
        (row[1], row[6], row[7]) = (name.to_owned(), money.to_string(), currency.clone());
        row
    };
    rows.push(sum("total without tax", takeoff.total));
    rows.push(sum("tax", takeoff.tax));
    written(&rows)
}

/// Every line of every receipt and every credit, by day; their sum is what was paid.
pub(super) fn receipts(project: &Project) -> Vec<u8> {
    let header = [
        "day",
        "receipt",
        "line",
        "good",
        "text",
        "category",
        "count",
        "without_tax",
        "tax",
        "money",
        "currency",
    ];
    let mut rows = vec![header.map(str::to_owned).to_vec()];
    let currency = project.plan.money.currency.to_string();
    for entry in &project.derived.ledger.entries {
        rows.push(vec![
            entry.day.to_string(),
            entry.receipt.to_string(),
            entry.line.as_ref().map(ToString::to_string).unwrap_or_default(),
            entry.good.as_ref().map(ToString::to_string).unwrap_or_default(),
            entry.text.clone(),
            entry.category.name().to_owned(),
            entry.count.to_string(),
            entry.net.to_string(),
            entry.tax.to_string(),
            entry.money().to_string(),
            currency.clone(),
        ]);
    }
    written(&rows)
}

/// Planned, paid and still to pay by category, with tax; tools apart from the materials.
pub(super) fn costs(project: &Project) -> Vec<u8> {
    let header = ["category", "planned", "paid", "to_pay", "forecast", "currency"];
    let mut rows = vec![header.map(str::to_owned).to_vec()];
    let currency = project.plan.money.currency.to_string();
    let ledger = &project.derived.ledger;
    for row in ledger.categories.iter().chain([&ledger.tools]) {
        let money = [row.planned, row.paid, row.to_pay, row.forecast()].map(|money| money.to_string());
        rows.push([&[row.of.name().to_owned()], &money[..], std::slice::from_ref(&currency)].concat());
    }
    written(&rows)
}

/// Rows as RFC 4180 has them.
fn written(rows: &[Vec<String>]) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        // rows of one length, written into memory: it does not fail
        let done = writer.write_record(row);
        debug_assert!(done.is_ok(), "{done:?}");
    }
    writer.into_inner().unwrap_or_default()
}

/// "in" or "mm".
pub(super) fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "in",
        Unit::Millimetre => "mm",
    }
}

/// A thickness as it was measured: `23/32`, `8.1`.
fn measured(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => text(length, Fineness::In64),
        Unit::Millimetre => millimetres(length),
    }
}

/// A length as the tape shows it, bare: `35 1/4`.
pub(super) fn text(length: Length, fineness: Fineness) -> String {
    length.figure(fineness, Toward::Nearest).bare().to_string()
}

/// A length in millimetres, exact: `895.35`.
pub(super) fn millimetres(length: Length) -> String {
    let nm = length.nm();
    let (whole, rest) = (nm.abs() / 1_000_000, nm.abs() % 1_000_000);
    let sign = if nm < 0 { "-" } else { "" };
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{}", format!("{rest:06}").trim_end_matches('0'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_are_exact() {
        for (nm, shown) in
            [(895_350_000, "895.35"), (18_256_250, "18.25625"), (-1_000_000, "-1"), (0, "0"), (1, "0.000001")]
        {
            assert_eq!(millimetres(Length::from_nm(nm)), shown);
        }
    }

    #[test]
    fn what_has_a_comma_or_a_quote_is_quoted() {
        let rows =
            [vec!["b1 side, left".to_owned(), "19\" wide".to_owned()], vec!["a".to_owned(), "b".to_owned()]];
        assert_eq!(
            String::from_utf8(written(&rows)).expect("text"),
            "\"b1 side, left\",\"19\"\" wide\"\r\na,b\r\n"
        );
    }
}
