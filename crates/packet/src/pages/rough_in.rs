//! A wall before it is closed: where pipes, cables and boxes go, to centres, and where nothing is drilled.

use dryfit_drawing::Drawing;
use dryfit_measure::{Dim, Key, Toward};
use dryfit_plan::{BoxPurpose, Service};
use dryfit_stages::services::{CAUTION, NodeKind, PlacedBox, PlacedNode, PlacedRun, RunKind, Services, Spot};
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::drawings;
use crate::material::{Material, key};
use crate::names::capital;
use crate::words::Words;

/// A rough-in.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct RoughIn {
    /// The wall with studs, pipes, boxes and bands.
    pub drawing: Option<Drawing>,
    /// What comes out of the wall, and boxes.
    pub rows: Vec<OutletRow>,
    /// What the drawing means, and what to do.
    pub notes: Vec<Words>,
    /// What holds before and after.
    pub caution: Vec<String>,
}

/// One thing in the table.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct OutletRow {
    /// Its letter in the drawing; empty for the box's own sign.
    pub sign: String,
    /// What it is.
    pub what: String,
    /// From the corner.
    pub along: String,
    /// Up from the datum, the floor as it will be finished.
    pub up: String,
    /// Up from the floor as it is now.
    pub from_floor: String,
    /// Depth from the stud's face.
    pub deep: String,
    /// What else to know.
    pub note: String,
}

/// The pages of all walls with something in them.
pub(crate) fn rough_ins(m: &Material<'_>) -> Vec<Page> {
    m.derived.survey.walls.iter().filter_map(|wall| rough_in(m, &wall.key)).collect()
}

fn rough_in(m: &Material<'_>, wall: &Key) -> Option<Page> {
    let line = m.derived.survey.walls.iter().find(|line| line.key == *wall)?;
    let rows = rows(m, wall);
    let notes = notes(m, wall);
    if rows.is_empty() && m.derived.services.map(wall).is_none() {
        return None;
    }
    let drawing = drawings::rough_in(m, wall, rows.len(), notes.len());
    let caution = CAUTION.iter().map(|line| (*line).to_owned()).collect();
    let body = Body::RoughIn(RoughIn { drawing, rows, notes, caution });
    let inputs = format!(
        "Marks from corner {}, to centres. Heights from the datum. Depth from the stud face",
        line.left
    );
    let name = format!("Rough-in, {}", m.names.wall(wall));
    let mut page = Page::new(key::rough_in(wall), capital(&name), inputs, body);
    page.blanks = blanks(m, wall);
    Some(page)
}

fn rows(m: &Material<'_>, wall: &Key) -> Vec<OutletRow> {
    let services = &m.derived.services;
    let mut rows: Vec<((u8, RunKind), OutletRow)> = Vec::new();
    for run in &services.runs {
        for node in run.nodes.iter().filter(|node| node.spot.wall == *wall) {
            let what = match node.kind {
                NodeKind::Stub | NodeKind::Standpipe => {
                    format!("{} {}", run.kind.word(), m.names.stock(run.nominal.length()))
                }
                _ if is_upright(run, node) => {
                    format!("{} {}, upright", run.kind.word(), m.names.stock(run.nominal.length()))
                }
                _ => continue,
            };
            let stub = node.kind == NodeKind::Stub;
            let sign = if stub { run.kind.letter().to_owned() } else { String::new() };
            let order = if stub { 0 } else { 2 };
            rows.push((
                (order, run.kind),
                row(m, &node.spot, sign, what, deep(m, run, node), note(m, run, node)),
            ));
        }
    }
    for placed in services.boxes.iter().filter(|placed| placed.spot.wall == *wall) {
        rows.push(((1, RunKind::Cable), of_box(m, placed)));
    }
    rows.sort_by_key(|(order, _)| *order);
    rows.into_iter().map(|(_, row)| row).collect()
}

/// The first node of an upright leg that nothing else in the table tells of: drains and vents, which have to go
/// between studs.
fn is_upright(run: &PlacedRun, node: &PlacedNode) -> bool {
    let from = run.legs().find(|[a, _]| a.key == node.key);
    let large = matches!(run.kind, RunKind::Drain | RunKind::Vent);
    large
        && node.kind == NodeKind::At
        && from.is_some_and(|[a, b]| {
            let rise = (a.spot.up.length() - b.spot.up.length()).abs();
            a.spot.along.length() == b.spot.along.length() && rise > run.outside.length()
        })
}

fn row(m: &Material<'_>, spot: &Spot, sign: String, what: String, deep: String, note: String) -> OutletRow {
    OutletRow {
        sign,
        what,
        along: m.names.dim(&spot.along),
        up: m.names.dim(&spot.up),
        from_floor: m.names.dim(&Services::from_subfloor(m.plan, &m.derived.survey, spot)),
        deep,
        note,
    }
}

fn of_box(m: &Material<'_>, placed: &PlacedBox) -> OutletRow {
    let (sign, what) = match placed.purpose {
        BoxPurpose::Receptacle => ("", "receptacle"),
        BoxPurpose::Switch => ("S", "switch"),
        BoxPurpose::Light => ("L", "lamp box"),
        BoxPurpose::Junction => ("J", "junction box"),
    };
    let called = m.plan.services.get(&placed.key).and_then(Service::name);
    let what = called.map_or_else(|| what.to_owned(), |name| format!("{what}, {name}"));
    if !placed.is_in_wall() {
        let note = format!("in the ceiling, {} out", m.names.dim(&(&placed.spot.deep - &placed.flush)));
        return row(m, &placed.spot, sign.to_owned(), what, "flush".into(), note);
    }
    let past = m.names.stock(placed.flush.length());
    let note = match (placed.behind.first(), through(m, placed)) {
        (_, Some(unit)) => {
            format!("hole through the back of {unit}; {past} past the stud")
        }
        (Some(unit), None) => format!("behind {unit}; {past} past the stud"),
        (None, None) => format!("front {past} past the stud"),
    };
    row(m, &placed.spot, sign.to_owned(), what, "flush".into(), note)
}

fn through(m: &Material<'_>, placed: &PlacedBox) -> Option<String> {
    let Service::Box(stated) = m.plan.services.get(&placed.key)? else { return None };
    stated.through.as_ref().map(Key::to_string)
}

/// How deep a pipe lies: of what comes out, the turn behind it.
fn deep(m: &Material<'_>, run: &PlacedRun, node: &PlacedNode) -> String {
    let beside = run.legs().find_map(|[a, b]| match (a.key == node.key, b.key == node.key) {
        (true, _) => Some(b),
        (_, true) => Some(a),
        _ => None,
    });
    let lies = match beside {
        Some(other) if node.kind == NodeKind::Stub && other.spot.wall == node.spot.wall => &other.spot.deep,
        _ => &node.spot.deep,
    };
    if lies.length().is_positive() { "out".into() } else { m.names.dim(&-lies) }
}

fn note(m: &Material<'_>, run: &PlacedRun, node: &PlacedNode) -> String {
    if run.found {
        return "there already, stays".into();
    }
    let past = dryfit_stages::figures::Figures::of_handbook(m.plan).dim("stub-past-finish");
    let past = m.names.dim(&past);
    match (node.kind, run.kind) {
        (NodeKind::Stub, RunKind::Drain) => {
            let window = m.derived.services.windows.iter().find(|w| w.drain.as_ref() == Some(&run.key));
            window.map_or(format!("stub out {past} past the finish"), |window| {
                format!(
                    "stub out {past} past the finish; {} to {} up will do",
                    rounded(m, &window.lowest, Toward::Up),
                    rounded(m, &window.highest, Toward::Down)
                )
            })
        }
        (NodeKind::Stub, RunKind::Hot) => "stop valve, left".into(),
        (NodeKind::Stub, RunKind::Cold) => "stop valve, right".into(),
        (NodeKind::Standpipe, _) => "open end".into(),
        (_, RunKind::Drain) => "down through the floor".into(),
        (_, RunKind::Vent) => "up to the open air".into(),
        _ => String::new(),
    }
}

fn rounded(m: &Material<'_>, dim: &Dim, toward: Toward) -> String {
    dim.length().figure(m.plan.fineness, toward).bare().to_string()
}

fn notes(m: &Material<'_>, wall: &Key) -> Vec<Words> {
    let services = &m.derived.services;
    let mut notes = Vec::new();
    if let Some(band) = services.map(wall).and_then(|map| map.bands.first()) {
        notes.push(
            Words::bold("Bands")
                .plain(format!(": {} to each side of pipe and cable.", m.names.dim(&band.half))),
        );
    }
    if services.screws.iter().any(|screw| screw.wall == *wall) {
        notes.push(Words::bold("Crosses").plain(": screws of the units, into studs."));
    }
    let here = |crossing: &&dryfit_stages::services::Crossing| crossing.wall == *wall;
    let plates: Vec<String> =
        services.crossings.iter().filter(here).filter(|c| c.plate).map(|c| m.names.dim(&c.along)).collect();
    if !plates.is_empty() {
        let least = m.names.stock(services.rules.wiring().plate.deep.length);
        notes.push(
            Words::bold("Steel plate")
                .plain(format!(" on the studs at {}: hole under {least} from a face.", plates.join(", "))),
        );
    }
    let drains = services.runs.iter().filter(|run| run.kind == RunKind::Drain);
    for drain in drains.filter(|run| run.nodes.iter().any(|node| node.spot.wall == *wall)) {
        if let Some(fall) = services.rules.plumbing().fall.at(drain.nominal.length()) {
            let foot = if m.metric() {
                format!("{} in a metre", m.names.length(fall.scaled(1000.0 / 304.8)))
            } else {
                format!("{} in a foot", m.names.stock(fall))
            };
            notes.push(Words::bold("Drain").plain(format!(" falls {foot}.")));
        }
        let arm = services.arms.iter().find(|arm| arm.drain == drain.key);
        if let Some((arm, most)) = arm.and_then(|arm| Some((arm, arm.most.as_ref()?))) {
            notes.push(Words::from(format!(
                "Trap to vent {}, at most {}.",
                m.names.dim(&arm.length),
                m.names.dim(most)
            )));
        }
    }
    let rules = &services.rules;
    notes.push(Words::from(format!(
        "Held against {} {} and NEC {}.",
        rules.family, rules.edition, rules.electrical
    )));
    notes
}

/// What comes out: the drain, else the first things on the wall, its fall, and who looked at it.
fn blanks(m: &Material<'_>, wall: &Key) -> Vec<Blank> {
    let services = &m.derived.services;
    let mut blanks = Vec::new();
    let stub = services.runs.iter().filter(|run| run.kind == RunKind::Drain && !run.found);
    let stub = stub.filter_map(|run| Some((run, run.stub()?))).find(|(_, stub)| stub.spot.wall == *wall);
    if let Some((run, stub)) = stub {
        blanks.push(Blank::planned("D along", m.names.dim(&stub.spot.along)));
        blanks.push(Blank::planned("D up", m.names.dim(&stub.spot.up)));
        blanks.push(Blank::planned("D deep", deep(m, run, stub)));
        if let Some(fall) = services.rules.plumbing().fall.at(run.nominal.length()) {
            let (label, fall) = if m.metric() {
                ("fall in 600", fall.scaled(600.0 / 304.8))
            } else {
                ("fall in 24", fall * 2)
            };
            blanks.push(Blank::planned(label, m.names.length(fall)));
        }
    } else {
        let here = services.boxes.iter().filter(|placed| placed.spot.wall == *wall && placed.is_in_wall());
        for placed in here.take(2) {
            blanks.push(Blank::planned(format!("{} along", placed.key), m.names.dim(&placed.spot.along)));
            blanks.push(Blank::planned(format!("{} up", placed.key), m.names.dim(&placed.spot.up)));
        }
    }
    blanks.push(Blank::empty("seen by, on"));
    blanks
}
