//! A unit: taken apart, the steps that put it together, and its parts.

use std::collections::BTreeMap;

use dryfit_drawing::Drawing;
use dryfit_drawing::views::Numbered;
use dryfit_measure::Key;
use dryfit_plan::{Hand, UnitKind};
use dryfit_stages::casework::{BuiltUnit, Edge, Face, Gate, Part as BuiltPart, Step};
use dryfit_stages::release::Until;
use serde::Serialize;

use crate::data::{Blank, Body, GateNote, Page};
use crate::drawings;
use crate::fronts::front_name;
use crate::material::{Material, key};
use crate::pages::{bands, gate_number, has_page, operation_name};
use crate::words::{Span, Words};

/// A unit.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Unit {
    /// Its parts drawn apart, with balloons.
    pub drawing: Option<Drawing>,
    /// The steps, in an order that can be done.
    pub steps: Vec<Words>,
    /// Its parts.
    pub parts: Vec<PartRow>,
}

/// A row of the parts table: equal parts stand in one.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PartRow {
    /// Its number on this page.
    pub balloon: u32,
    /// What the bench calls it, with LEFT or RIGHT.
    pub name: String,
    /// Along the grain by across.
    pub size: String,
    /// Where its good face looks.
    pub good_face: String,
    /// How long its front edge is.
    pub front_edge: String,
    /// How many.
    pub count: u32,
    /// What is done to it, or what it is made of.
    pub note: Words,
}

/// Those parts of a unit that its own page shows: doors and drawers have pages of their own.
pub(crate) fn numbered_box<'a>(m: &Material<'_>, unit: &'a BuiltUnit) -> Numbered<'a> {
    let on_page = unit.parts.iter().filter(|part| part.gate != Some(Gate::Openings));
    Numbered::new(on_page, |part| m.size(&unit.key, part))
}

/// The pages of a unit: one where everything goes on it, else its parts on one and putting it together on the
/// next.
pub(crate) fn unit(m: &Material<'_>, unit: &BuiltUnit, numbered: &Numbered<'_>) -> Vec<Page> {
    let parts: Vec<PartRow> = numbered.lots.iter().map(|lot| row(m, unit, numbered, lot)).collect();
    let steps: Vec<Words> =
        steps_of(unit, None).into_iter().map(|step| told(m, unit, numbered, step)).collect();
    let blanks = blanks(m, unit);
    let held = m.unit_held(&unit.key).map(until).unwrap_or_default();
    let foot = |last: bool| drawings::unit_foot(if last { blanks.len() } else { 0 }, !held.is_empty());
    let together = drawings::Paging::of(m, &parts, &steps, foot(true));
    let name = format!("{}  {}", unit.key, m.names.what_unit(&unit.key));
    let page = |key: String, name: String, steps: Vec<Words>, parts: Vec<PartRow>| {
        let drawing = drawings::unit(m, unit, numbered, &parts, &steps, foot(!steps.is_empty()));
        let mut page = Page::new(key, name, inputs(m, unit), Body::Unit(Unit { drawing, steps, parts }));
        page.held = held.clone();
        page
    };
    let (own, after) = (key::unit(&unit.key), key::steps(&unit.key));
    let mut pages = match together {
        drawings::Paging::One => vec![page(own, name, steps, parts)],
        drawings::Paging::Two => vec![
            page(own, name.clone(), Vec::new(), parts),
            Page {
                inputs: Words::from(inputs(m, unit)).plain(" · numbers: ").pages([key::unit(&unit.key)]),
                ..page(after, format!("{name}: put together"), steps, Vec::new())
            },
        ],
    };
    if let Some(last) = pages.last_mut() {
        last.blanks = blanks;
        if unit.parts.iter().any(|part| part.gate == Some(Gate::Openings)) {
            last.gate = Some(GateNote {
                number: gate_number(Gate::Openings),
                text: "fill in the openings and type them in: then its doors and drawers are released."
                    .into(),
            });
        }
    }
    pages
}

/// What a release waits for, in words with its gate.
pub(crate) fn until(until: &Until) -> Words {
    match until {
        Until::Readings(readings) => {
            Words::from(format!("until these readings are taken: {}", readings.join("; ")))
        }
        Until::Openings => {
            Words::new().with(Span::Gate(gate_number(Gate::Openings))).plain(" openings as built")
        }
        Until::UnitsSet => Words::new()
            .with(Span::Gate(gate_number(Gate::UnitsSet)))
            .plain(" units fixed, measured over all"),
    }
}

/// "24 wide · 34 7/8 high · 22 1/2 deep + frame 3/4".
fn inputs(m: &Material<'_>, unit: &BuiltUnit) -> String {
    let Some(placed) = m.placed(&unit.key) else { return String::new() };
    let frame = unit.parts.iter().find(|part| part.role.starts_with("frame"));
    let frame = frame.map(|part| format!(" + frame {}", m.names.stock(part.thickness.length())));
    let mass = unit.mass.figure(m.plan.fineness.unit());
    format!(
        "{} wide · {} high · {} deep{} · {mass}",
        m.names.dim(&placed.width),
        m.names.dim(&placed.height),
        m.names.dim(&placed.depth),
        frame.unwrap_or_default(),
    )
}

fn row(m: &Material<'_>, unit: &BuiltUnit, numbered: &Numbered<'_>, lot: &[&BuiltPart]) -> PartRow {
    let part = lot[0];
    PartRow {
        balloon: numbered.numbers[part.role.as_str()],
        name: handed(part),
        size: m.size(&unit.key, part),
        good_face: face(part.good_face).to_owned(),
        front_edge: front_edge(m, unit, part),
        count: u32::try_from(lot.len()).unwrap_or(u32::MAX),
        note: note(m, unit, numbered, part),
    }
}

/// "side, LEFT".
pub(crate) fn handed(part: &BuiltPart) -> String {
    match part.hand {
        Some(Hand::Left) => format!("{}, LEFT", part.name),
        Some(Hand::Right) => format!("{}, RIGHT", part.name),
        None => part.name.clone(),
    }
}

fn face(face: Face) -> &'static str {
    match face {
        Face::Inside => "inside",
        Face::Outside => "outside",
        Face::Up => "up",
        Face::Down => "down",
        Face::Front => "front",
        Face::Back => "back",
    }
}

/// The length of the edge that shows, as it is cut.
fn front_edge(m: &Material<'_>, unit: &BuiltUnit, part: &BuiltPart) -> String {
    let piece = m.piece(&format!("{}/{}", unit.key, part.role));
    let (length, width) = piece.map_or((&part.length, &part.width), |piece| (&piece.length, &piece.width));
    match part.front_edge {
        Some(Edge::Near | Edge::Far) => m.names.dim(length),
        Some(Edge::LeftEnd | Edge::RightEnd) => m.names.dim(width),
        None => "–".to_owned(),
    }
}

/// Its own page, its twin, what is done to it, and its goods where they are not those of the sides.
fn note(m: &Material<'_>, unit: &BuiltUnit, numbered: &Numbered<'_>, part: &BuiltPart) -> Words {
    if part.hand == Some(Hand::Right)
        && let Some(twin) = twin(unit, part).filter(|twin| twin.mirrors(part))
        && let Some(number) = numbered.numbers.get(twin.role.as_str())
    {
        return format!("mirror of {number}").into();
    }
    let mut words = Words::new();
    if has_page(unit, part) {
        words = words.pages([m.part_page(unit, part)]);
    } else {
        words = words.plain(work(part));
    }
    if let Some(bands) = bands(m, part) {
        let bands = format!("band {bands}");
        words = if words.is_empty() { words.plain(bands) } else { words.plain(format!("; {bands}")) };
    }
    let main = unit.parts.first().map(|first| &first.good);
    if main == Some(&part.good) {
        return words;
    }
    let goods = m.names.good_thin(&part.good);
    if words.is_empty() { words.plain(goods) } else { words.plain(format!("; {goods}")) }
}

/// What is done to a part, sort by sort: "pocket holes left end, right end; groove for the back".
fn work(part: &BuiltPart) -> String {
    let mut sorts: Vec<(&str, Vec<&str>)> = Vec::new();
    for operation in &part.operations {
        let name = operation_name(operation.kind);
        match sorts.iter_mut().find(|(known, _)| *known == name) {
            Some((_, what)) if what.contains(&operation.what.as_str()) => {}
            Some((_, what)) => what.push(&operation.what),
            None => sorts.push((name, vec![&operation.what])),
        }
    }
    let told = |(name, what): &(&str, Vec<&str>)| match what.as_slice() {
        [a, b] if a.ends_with(" end") && b.ends_with(" end") => format!("{name} both ends"),
        _ => format!("{name} {}", what.join(", ")),
    };
    sorts.iter().map(told).collect::<Vec<_>>().join("; ")
}

/// The left-hand part that a right-hand one mirrors.
pub(crate) fn twin<'a>(unit: &'a BuiltUnit, right: &BuiltPart) -> Option<&'a BuiltPart> {
    unit.parts.iter().find(|part| {
        part.hand == Some(Hand::Left)
            && part.name == right.name
            && part.role == right.role.replace("right", "left")
    })
}

/// The steps of the box and of setting it (`None`), or those of one of its fronts (`door.d2`).
///
/// A step that names a part of a front belongs to that front, and so do the steps behind it that name no part.
pub(crate) fn steps_of<'a>(unit: &'a BuiltUnit, front: Option<&str>) -> Vec<&'a Step> {
    let gated =
        |role: &str| unit.parts.iter().any(|part| part.role == role && part.gate == Some(Gate::Openings));
    let mut current: Option<&str> = None;
    let mut steps = Vec::new();
    for step in &unit.steps {
        if let Some(role) = step.text.split('{').nth(1).and_then(|rest| rest.split('}').next()) {
            current = if gated(role) { role.split('/').next() } else { None };
        }
        if current == front {
            steps.push(step);
        }
    }
    steps
}

/// A step, its parts as balloons, each once in a list; a test bold; what can hurt behind it.
pub(crate) fn told(m: &Material<'_>, unit: &BuiltUnit, numbered: &Numbered<'_>, step: &Step) -> Words {
    let say = |words: Words, text: &str| if step.test { words.strong(text) } else { words.plain(text) };
    let mut words = Words::new();
    let mut list: Vec<(Span, usize)> = Vec::new();
    let mut rest = step.text.as_str();
    while let Some((before, (role, behind))) =
        rest.split_once('{').and_then(|(before, after)| Some((before, after.split_once('}')?)))
    {
        if before != ", " || list.is_empty() {
            words = listed(words, &mut list);
            words = say(words, &m.names.tidy(before));
        }
        let span = match numbered.numbers.get(role) {
            Some(number) => Span::Balloon(*number),
            None => Span::Plain(
                unit.parts.iter().find(|part| part.role == role).map_or(role, |part| &part.name).to_owned(),
            ),
        };
        match list.iter_mut().find(|(known, _)| *known == span) {
            Some((_, count)) => *count += 1,
            None => list.push((span, 1)),
        }
        rest = behind;
    }
    words = listed(words, &mut list);
    words = say(words, &m.names.tidy(rest));
    match &step.caution {
        Some(caution) => words.plain(" ").strong(caution.clone()),
        None => words,
    }
}

/// A list of parts put behind the words: "3, 4 × 2".
fn listed(mut words: Words, list: &mut Vec<(Span, usize)>) -> Words {
    let alone = list.len() == 1;
    for (i, (span, count)) in list.drain(..).enumerate() {
        if i > 0 {
            words = words.plain(", ");
        }
        words = words.with(span);
        if alone && count > 1 {
            words = words.plain(format!(" × {count}"));
        }
    }
    words
}

/// The openings as planned, to be measured as built.
fn blanks(m: &Material<'_>, unit: &BuiltUnit) -> Vec<Blank> {
    let stated = m.plan.units.get(&unit.key);
    let mut blanks = Vec::new();
    for opening in &unit.openings {
        let name = match stated {
            Some(stated) if unit.openings.len() > 1 => {
                front_name(stated, &format!("opening.{}", opening.front))
            }
            _ => "opening".to_owned(),
        };
        let name = if name == "opening" && unit.openings.len() > 1 { opening.front.clone() } else { name };
        blanks.push(Blank::planned(format!("{name}, wide"), m.names.dim(&opening.width)));
        blanks.push(Blank::planned(format!("{name}, high"), m.names.dim(&opening.height)));
    }
    if let (Some(placed), false) = (m.placed(&unit.key), blanks.is_empty()) {
        blanks.push(Blank::planned("over all, wide", m.names.dim(&placed.width)));
    }
    blanks
}

/// Whether a unit is a mere strip or panel: these share a page.
pub(crate) fn is_strip(m: &Material<'_>, unit: &BuiltUnit) -> bool {
    m.placed(&unit.key).is_some_and(|placed| matches!(placed.kind, UnitKind::Filler | UnitKind::EndPanel))
}

/// The page of all fillers and end panels; none when there are none.
pub(crate) fn strips(m: &Material<'_>) -> Option<Page> {
    let units: Vec<&BuiltUnit> = m.derived.casework.units.iter().filter(|unit| is_strip(m, unit)).collect();
    let mut rows: Vec<PartRow> = Vec::new();
    let mut numbers: BTreeMap<(Key, &str), u32> = BTreeMap::new();
    for unit in &units {
        let before = u32::try_from(rows.len()).unwrap_or(u32::MAX);
        let numbered = numbered_box(m, unit).from(before + 1);
        for lot in &numbered.lots {
            let mut row = row(m, unit, &numbered, lot);
            row.name = format!("{} {}", unit.key, row.name);
            rows.push(row);
        }
        numbers.extend(numbered.numbers.iter().map(|(role, n)| ((unit.key.clone(), *role), *n)));
    }
    let steps = shared_steps(&units, &numbers);
    let until = units.iter().find_map(|unit| m.unit_held(&unit.key)).map(until).unwrap_or_default();
    let body = Body::Unit(Unit { drawing: None, steps, parts: rows });
    let inputs = "Fillers are cut long and wide enough to be scribed";
    let mut page = Page::new("strips", "Fillers and panels", inputs, body);
    page.held = until;
    page.blanks = units
        .iter()
        .filter_map(|unit| m.placed(&unit.key))
        .take(8)
        .map(|placed| Blank::planned(format!("{}, wide", placed.key), m.names.dim(&placed.width)))
        .collect();
    (!units.is_empty()).then_some(page)
}

/// The steps of several units, one that several have told once, with the numbers of all.
fn shared_steps(units: &[&BuiltUnit], numbers: &BTreeMap<(Key, &str), u32>) -> Vec<Words> {
    let mut shared: Vec<(&Step, Vec<&BuiltUnit>)> = Vec::new();
    for unit in units {
        for step in &unit.steps {
            match shared.iter_mut().find(|(known, _)| known.text == step.text) {
                Some((_, users)) => users.push(unit),
                None => shared.push((step, vec![unit])),
            }
        }
    }
    shared.iter().map(|(step, users)| shared_step(step, users, numbers)).collect()
}

fn shared_step(step: &Step, users: &[&BuiltUnit], numbers: &BTreeMap<(Key, &str), u32>) -> Words {
    let mut words = Words::new();
    let mut rest = step.text.as_str();
    while let Some((before, (role, behind))) =
        rest.split_once('{').and_then(|(before, after)| Some((before, after.split_once('}')?)))
    {
        words = words.plain(before);
        let all = users.iter().filter_map(|unit| numbers.get(&(unit.key.clone(), role)));
        for (i, number) in all.enumerate() {
            words = if i > 0 { words.plain(", ") } else { words }.with(Span::Balloon(*number));
        }
        rest = behind;
    }
    words = words.plain(rest);
    match &step.caution {
        Some(caution) => words.plain(" ").strong(caution.clone()),
        None => words,
    }
}
