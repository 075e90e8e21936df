//! What follows from the plan as JSON, for programs: wire types, apart from the run-time ones.

use dryfit_measure::{Length, because};
use dryfit_plan::Hand;
use dryfit_stages::dims::dims;
use serde::Serialize;

use super::tables::{millimetres, unit_name};
use crate::open::Project;
use crate::wire::Report;

#[derive(Serialize)]
struct Derived<'a> {
    /// Version of this form.
    format: u32,
    name: &'a str,
    /// What `text` is in.
    unit: &'static str,
    dimensions: Vec<Dimension>,
    parts: Vec<Part<'a>>,
    buying: Vec<Buy>,
    findings: Report,
}

/// A derived dimension: what `why` takes, split at the dot.
#[derive(Serialize)]
struct Dimension {
    place: String,
    #[serde(rename = "dimension")]
    what: &'static str,
    #[serde(flatten)]
    length: Shown,
    because: String,
}

/// A length: as the tape shows it, and exactly.
#[derive(Serialize)]
struct Shown {
    text: String,
    mm: String,
}

#[derive(Serialize)]
struct Part<'a> {
    path: String,
    name: &'a str,
    hand: Option<&'static str>,
    good: &'a str,
    length: Shown,
    width: Shown,
    thickness: Shown,
}

#[derive(Serialize)]
struct Buy {
    good: String,
    needed: String,
    on_hand: String,
    packs: Vec<(String, u32)>,
    price: Option<String>,
    why: String,
}

/// All of it, indented, with a line end.
pub(super) fn derived(project: &Project) -> String {
    let (plan, derived) = (&project.plan, &project.derived);
    let shown =
        |length: Length| Shown { text: super::tables::text(length, plan.fineness), mm: millimetres(length) };
    let all = dims(&derived.survey, &derived.placement, &derived.casework);
    let dimensions = all.iter().map(|one| Dimension {
        place: one.place.clone(),
        what: one.dimension,
        length: shown(one.dim.length()),
        because: because(one.dim, plan.fineness),
    });
    let units = derived.casework.units.iter();
    let parts =
        units.flat_map(|unit| unit.parts.iter().map(move |part| (unit, part))).map(|(unit, part)| Part {
            path: format!("{}/{}", unit.key, part.role),
            name: &part.name,
            hand: part.hand.map(|hand| match hand {
                Hand::Left => "left",
                Hand::Right => "right",
            }),
            good: part.good.as_str(),
            length: shown(part.length.length()),
            width: shown(part.width.length()),
            thickness: shown(part.thickness.length()),
        });
    let buying = derived.takeoff.lines.iter().map(|line| Buy {
        good: line.good.to_string(),
        needed: line.needed.figure(plan.entry_unit),
        on_hand: line.on_hand.figure(plan.entry_unit),
        packs: line.packs.iter().map(|pack| (pack.pack.to_string(), pack.count)).collect(),
        price: line.price.map(|price| price.to_string()),
        why: line.why.clone(),
    });
    let whole = Derived {
        format: 1,
        name: &plan.name,
        unit: unit_name(plan.entry_unit),
        dimensions: dimensions.collect(),
        parts: parts.collect(),
        buying: buying.collect(),
        findings: project.report(),
    };
    // plain data: it can always be written
    let mut json = serde_json::to_string_pretty(&whole).unwrap_or_default();
    json.push('\n');
    json
}
