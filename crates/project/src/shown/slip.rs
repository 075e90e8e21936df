//! A slip: the reason of a number as a column of sums, each line with what stands behind it.

use dryfit_measure::{Dim, Key, Reason, Toward};
use serde::Serialize;

use super::names;
use super::number::{Held, HeldState, Number, Run, bare, doubt, held, json, number, rich, stated_length};
use crate::open::Project;

/// The reason of one number.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Slip {
    /// What was asked: `b4.width`.
    pub of: String,
    /// The way down from it, for a line that was unfolded: "0.2".
    pub deeper: String,
    /// "b4 drawers, width".
    pub title: String,
    /// The number.
    pub number: Number,
    /// 19 times in 20 it is within so much; none where no reading moves it.
    pub doubt: Option<Number>,
    /// How the lines come to the number: "sum", "least of these", "a share of".
    pub how: String,
    /// The lines.
    pub lines: Vec<SlipLine>,
    /// What was done last: "rounded down to 1/16 in".
    pub ends: String,
    /// What moves it most.
    pub most: Vec<Run>,
    /// Where it can be given instead, if it can.
    pub give: Option<Held>,
}

/// One line of a slip.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SlipLine {
    /// What stands before it: +, −, 2 ×, or nothing.
    pub sign: String,
    /// Its number.
    pub number: Number,
    /// What it is.
    pub what: String,
    /// Where it comes from: a reading, a rule with its source.
    pub source: Vec<Run>,
    /// Where it is stated, if it is.
    pub held: Option<Held>,
    /// The way down to its own reason, if it has one.
    pub deeper: Option<String>,
}

/// The most lines of one slip.
const LINES: usize = 12;

/// The reason of `PLACE.DIMENSION`, or of a cause of it; none where there is no such number.
pub fn slip(project: &Project, of: &str, deeper: &str) -> Option<Slip> {
    let derived = &project.derived;
    let all = derived.dims();
    let (place, dimension) = of.rsplit_once('.')?;
    let found = all.iter().find(|one| one.place == place && one.dimension == dimension)?;
    let mut dim = found.dim.clone();
    for step in deeper.split('.').filter(|step| !step.is_empty()) {
        let step: usize = step.parse().ok()?;
        let inputs = causes(&dim);
        dim = inputs.get(step)?.1.clone();
    }
    let fineness = project.plan.fineness;
    let (how, lines, ends) = told(project, &dim, deeper);
    let title = if deeper.is_empty() {
        title(project, place, dimension)
    } else {
        named(&dim).unwrap_or_else(|| "what is behind it".to_owned())
    };
    Some(Slip {
        of: of.to_owned(),
        deeper: deeper.to_owned(),
        title,
        number: number(dim.length(), fineness),
        doubt: doubt(derived.survey.sigma(&dim), fineness),
        how,
        lines,
        ends,
        most: most(project, &dim),
        give: if deeper.is_empty() { give(project, place, dimension, &dim) } else { None },
    })
}

/// "b4 seed drawers, width".
fn title(project: &Project, place: &str, dimension: &str) -> String {
    let plan = &project.plan;
    let key = |known: &&Key| known.as_str() == place;
    if let Some(unit) = plan.units.keys().find(key) {
        return format!("{unit} {}, {dimension}", names::unit(plan, unit));
    }
    if let Some(wall) = plan.walls.keys().find(key) {
        return format!("{}, {dimension}", names::wall(plan, wall));
    }
    if let Some(top) = plan.tops.keys().find(key) {
        let name = plan.tops[top].name.clone().unwrap_or_else(|| "worktop".to_owned());
        return format!("{name}, {dimension}");
    }
    format!("{}, {dimension}", place.replace('/', " "))
}

/// The name of a dimension, the place before it.
fn named(dim: &Dim) -> Option<String> {
    match (dim.place(), dim.name()) {
        (Some(place), Some(name)) => Some(format!("{place} {name}")),
        (None, Some(name)) => Some(name.to_owned()),
        (Some(place), None) => Some(place.to_owned()),
        (None, None) => None,
    }
}

/// What a dimension is made from, with the signs: a name, a rounding or a decision that only passes it on is
/// looked through.
fn causes(dim: &Dim) -> Vec<(String, Dim)> {
    match dim.reason() {
        Reason::Sum { terms } => match &terms[..] {
            [only] if only.times == 1 => causes(&only.dim),
            terms => terms
                .iter()
                .enumerate()
                .map(|(i, term)| {
                    let times = term.times.abs();
                    let sign = match (i, term.times < 0) {
                        (0, false) => "",
                        (_, true) => "\u{2212}",
                        (_, false) => "+",
                    };
                    let sign = if times == 1 { sign.to_owned() } else { format!("{sign} {times} \u{d7}") };
                    (sign.trim().to_owned(), term.dim.clone())
                })
                .collect(),
        },
        Reason::Rounded { of, .. } | Reason::Decided { of, .. } => causes(of),
        Reason::Share { of, parts, .. } => vec![(format!("1/{parts} of"), of.clone())],
        Reason::Extreme { winner, of, .. } => {
            let mut order: Vec<usize> = (0..of.len()).collect();
            order.sort_by_key(|i| (i != winner, (of[*i].length() - of[*winner].length()).abs()));
            order
                .into_iter()
                .map(|i| (if i == *winner { "" } else { "or" }.to_owned(), of[i].clone()))
                .collect()
        }
        Reason::Scaled { of, factor, .. } => vec![(format!("{factor:.3} \u{d7}"), of.clone())],
        Reason::From { inputs, .. } => inputs.iter().map(|(dim, _)| (String::new(), dim.clone())).collect(),
        Reason::Taped { .. } | Reason::Chosen { .. } | Reason::Rule { .. } | Reason::Adjusted { .. } => {
            Vec::new()
        }
    }
}

/// How a dimension comes about: the heading, the lines, and what was done last.
fn told(project: &Project, dim: &Dim, way: &str) -> (String, Vec<SlipLine>, String) {
    let mut ends = Vec::new();
    let mut inner = dim;
    let how = loop {
        match inner.reason() {
            Reason::Rounded { of, fineness, toward } => {
                let exact = of.length() == inner.length();
                let word = match toward {
                    _ if exact => "already on",
                    Toward::Down => "rounded down to",
                    Toward::Up => "rounded up to",
                    Toward::Nearest => "rounded to the nearest",
                };
                ends.push(format!("{word} {}", fineness.text()));
                inner = of;
            }
            Reason::Decided { of, by } => {
                let places: Vec<String> = by.iter().take(3).map(|at| said(at.as_str())).collect();
                ends.push(format!("because of {}", places.join(", ")));
                inner = of;
            }
            Reason::Sum { terms } => match &terms[..] {
                [only] if only.times == 1 => inner = &only.dim,
                _ => break String::new(),
            },
            Reason::Extreme { least: true, .. } => break "the least of these".to_owned(),
            Reason::Extreme { least: false, .. } => break "the greatest of these".to_owned(),
            Reason::Share { .. } => break "an equal share".to_owned(),
            Reason::Scaled { why, .. } => break why.to_string(),
            Reason::From { how, .. } => break how.to_string(),
            Reason::Adjusted { readings } => {
                break match readings.len() {
                    1 => "adjusted from one reading".to_owned(),
                    n => format!("adjusted from {n} readings together; those that weigh most"),
                };
            }
            Reason::Taped { .. } => break "as measured".to_owned(),
            Reason::Chosen { .. } => break "as you gave it".to_owned(),
            Reason::Rule { .. } => break "a rule".to_owned(),
        }
    };
    let mut lines = if let Reason::Adjusted { readings } = inner.reason() {
        adjusted(project, readings)
    } else {
        let causes = causes(inner);
        let all = if causes.is_empty() { vec![(String::new(), inner.clone())] } else { causes };
        let leaf =
            matches!(inner.reason(), Reason::Taped { .. } | Reason::Chosen { .. } | Reason::Rule { .. });
        all.iter().enumerate().map(|(i, (sign, dim))| line(project, sign, dim, way, i, leaf)).collect()
    };
    lines.truncate(LINES);
    ends.reverse();
    (how, lines, ends.join("; "))
}

fn line(project: &Project, sign: &str, dim: &Dim, way: &str, index: usize, leaf: bool) -> SlipLine {
    let json = json(&project.plan);
    let known = held("", dim, &json);
    let given = known.at.is_some();
    let deeper = if way.is_empty() { index.to_string() } else { format!("{way}.{index}") };
    let bottom = matches!(dim.reason(), Reason::Taped { .. } | Reason::Chosen { .. } | Reason::Rule { .. });
    SlipLine {
        sign: sign.to_owned(),
        number: number(dim.length(), project.plan.fineness),
        what: named(dim).unwrap_or_else(|| source_words(dim)),
        source: rich(&source(dim)),
        held: given.then_some(known),
        deeper: (!bottom && !leaf && !given).then_some(deeper),
    }
}

/// What a nameless leaf is called: the place where it stands.
fn source_words(dim: &Dim) -> String {
    match dim.reason() {
        Reason::Taped { at } | Reason::Chosen { at } => said(at.as_str()),
        Reason::Rule { id } => id.replace(['/', '-'], " "),
        Reason::Adjusted { .. } => "from the survey".to_owned(),
        _ => "worked out".to_owned(),
    }
}

fn source(dim: &Dim) -> String {
    let mut dim = dim;
    loop {
        match dim.reason() {
            Reason::Sum { terms } => match &terms[..] {
                [only] if only.times == 1 => dim = &only.dim,
                _ => return String::new(),
            },
            Reason::Rounded { of, .. } | Reason::Decided { of, .. } => dim = of,
            Reason::Taped { at } if at.as_str().starts_with("/goods/") => {
                return format!("{}, as measured", said(at.as_str()));
            }
            Reason::Taped { .. } => return "as measured".to_owned(),
            Reason::Chosen { .. } => return "given".to_owned(),
            Reason::Rule { id } => {
                let known = dryfit_handbook::rule(id).map(|rule| rule.source.to_string());
                let figure = dryfit_handbook::figure(id).map(|figure| figure.source.to_string());
                return known.or(figure).unwrap_or_else(|| format!("rule {id}"));
            }
            Reason::Adjusted { readings } => return format!("from {} readings", readings.len()),
            _ => return String::new(),
        }
    }
}

/// An address in words: `/units/b4/width` is "b4 width".
fn said(pointer: &str) -> String {
    let parts: Vec<&str> = pointer.split('/').skip(2).filter(|part| *part != "given").collect();
    if parts.is_empty() { pointer.replace('/', " ") } else { parts.join(" ").replace(['-', '_'], " ") }
}

/// The readings behind an adjusted length, those that weigh most first.
fn adjusted(project: &Project, readings: &[(dryfit_measure::Pointer, f64)]) -> Vec<SlipLine> {
    let plan = &project.plan;
    let mut order: Vec<&(dryfit_measure::Pointer, f64)> = readings.iter().collect();
    order.sort_by(|(_, a), (_, b)| b.abs().total_cmp(&a.abs()));
    let json = json(plan);
    let line = |(at, weight): &(dryfit_measure::Pointer, f64)| {
        let key = at.segments().nth(1)?.to_string();
        let (_, reading) = plan.readings.iter().find(|(known, _)| known.as_str() == key)?;
        let place = format!("/readings/{key}/length");
        let stated = stated_length(&json, &place)?;
        let mut source = names::reading(plan, &reading.of, reading.height.map(|height| height.length));
        source.push(Run::Text(format!("; moves it by {weight:.2}")));
        Some(SlipLine {
            sign: String::new(),
            number: number(stated.length, plan.fineness),
            what: key.clone(),
            source,
            held: Some(Held {
                of: String::new(),
                at: Some(place),
                what: format!("reading {key}"),
                state: HeldState::Given,
                typed: bare(stated),
            }),
            deeper: None,
        })
    };
    order.into_iter().filter_map(line).take(5).collect()
}

/// The reading that moves a dimension most.
fn most(project: &Project, dim: &Dim) -> Vec<Run> {
    let slopes = dryfit_measure::slopes(dim);
    let readings =
        slopes.iter().filter(|(at, slope)| at.as_str().starts_with("/readings/") && slope.abs() > 0.05);
    let Some((at, _)) = readings.max_by(|(_, a), (_, b)| a.abs().total_cmp(&b.abs())) else {
        return Vec::new();
    };
    let Some(key) = at.segments().nth(1) else { return Vec::new() };
    let Some((known, reading)) = project.plan.readings.iter().find(|(known, _)| known.as_str() == key) else {
        return Vec::new();
    };
    let mut runs = vec![Run::Text(format!("{known}, "))];
    runs.extend(names::reading(&project.plan, &reading.of, reading.height.map(|height| height.length)));
    runs.push(Run::Text(", moves it most".into()));
    runs
}

/// Where a number that follows can be given instead: the width of a unit.
fn give(project: &Project, place: &str, dimension: &str, dim: &Dim) -> Option<Held> {
    let unit = project.plan.units.iter().find(|(key, _)| key.as_str() == place)?.1;
    let at = match dimension {
        "width" if !matches!(unit.width, dryfit_plan::Width::Given(_)) => format!("/units/{place}/width"),
        "height" if unit.height.is_none() => format!("/units/{place}/height/given"),
        "depth" if unit.depth.is_none() => format!("/units/{place}/depth"),
        _ => return None,
    };
    let typed = number(dim.length(), project.plan.fineness).plain;
    let what = format!("{place} {dimension}");
    Some(Held { of: format!("{place}.{dimension}"), at: Some(at), what, state: HeldState::Follows, typed })
}
