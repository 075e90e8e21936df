//! The survey as it is shown: the room with its readings, what does not fit, and what to measure next.

use std::collections::{BTreeMap, BTreeSet};

use dryfit_drawing::views::screen;
use dryfit_measure::Toward;
use dryfit_plan::{Held as HeldHow, InstrumentKind, Reading, RoomState};
use serde::Serialize;

use super::Room;
use super::finding::{Card, cards};
use super::frame::counted;
use super::names;
use super::number::{Held, HeldState, Number, Run, number, rich};
use super::picture::{Picture, picture};
use crate::open::Project;

/// The page of the survey.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SurveyPage {
    /// One plain line.
    pub line: Vec<Run>,
    /// The room from above; none before there are three corners.
    pub picture: Option<Picture>,
    /// What the rings mean.
    pub caption: Vec<Run>,
    /// Every reading.
    pub readings: Vec<ReadingRow>,
    /// What does not fit.
    pub findings: Vec<Card>,
    /// What to measure next: what, and why.
    pub next: Vec<[Vec<Run>; 2]>,
    /// The walk round the corners.
    pub walk: Walk,
}

/// One reading.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReadingRow {
    /// Its key.
    pub key: String,
    /// What it is of.
    pub what: Vec<Run>,
    /// As typed.
    pub number: Number,
    /// "about ", "out ", "in " before it.
    pub before: String,
    /// What stands behind the number.
    pub held: Held,
    /// How it was taken: "hook", "plumb line".
    pub how: String,
    /// How far off it is from what all of them say together.
    pub off: Vec<Run>,
    /// Why it is not used; empty where it is.
    pub aside: String,
}

/// The walk round the corners, as far as it goes.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Walk {
    /// The corners, in the order in which they were met.
    pub corners: Vec<String>,
    /// Whether it is back at the first.
    pub closed: bool,
    /// What is asked next.
    pub asks: String,
    /// Walls as choices for a further reading: key and name.
    pub walls: Vec<[String; 2]>,
}

/// What a state of the room is called.
const fn called(state: RoomState) -> &'static str {
    match state {
        RoomState::AsFound => "as found",
        RoomState::OpenedUp => "opened up",
        RoomState::Closed => "closed",
        RoomState::UnitsSet => "units set",
    }
}

/// The page of the survey.
pub fn survey(project: &Project, room: Room) -> SurveyPage {
    let (plan, derived) = (&project.plan, &project.derived);
    let rows: Vec<ReadingRow> =
        plan.readings.iter().map(|(key, one)| row(project, key.as_str(), one)).collect();
    let held: BTreeMap<String, Held> =
        rows.iter().filter_map(|row| Some((row.held.at.clone()?, row.held.clone()))).collect();
    let drawn = screen::survey_room(plan, derived, room.frame());
    let picture = drawn.map(|drawing| picture(&drawing, &held));
    let findings: Vec<Card> = cards(project).into_iter().filter(|card| card.page == "survey").collect();
    let states: BTreeSet<RoomState> = plan.epochs.values().map(|epoch| epoch.state).collect();
    let states: Vec<&str> = states.into_iter().map(called).collect();
    let readings = counted(rows.len(), "reading", "readings");
    let line = if states.is_empty() { readings } else { format!("{}, {readings}", states.join(" and ")) };
    SurveyPage {
        line: rich(&line),
        caption: if picture.is_some() {
            let times = match screen::ring_scale(derived) {
                1 => "as large as it is".to_owned(),
                times => format!("drawn {times} times too large"),
            };
            rich(&format!("Dashed rings: where each corner may really be, 19 times in 20, {times}."))
        } else {
            Vec::new()
        },
        picture,
        readings: rows,
        findings,
        next: derived.survey.next.iter().map(|next| [rich(&next.what), rich(&next.why)]).collect(),
        walk: walk(project),
    }
}

fn row(project: &Project, key: &str, reading: &Reading) -> ReadingRow {
    let plan = &project.plan;
    let fit = derived_fit(project, key);
    let wrong = fit.is_some_and(|fit| fit.used && fit.w.abs() > 3.29);
    let figure = reading.length.figure(Some(finest(project)), Toward::Nearest);
    let about = reading.doubt == dryfit_plan::Doubt::About;
    let lean = matches!(reading.of, dryfit_plan::Subject::Lean { .. });
    let mut number: Number = figure.into();
    let mut before = if about { "about ".to_owned() } else { String::new() };
    if lean {
        before.push_str(if number.minus { "in " } else { "out " });
        number.minus = false;
    }
    let off = fit.filter(|fit| fit.used).map_or_else(Vec::new, |fit| {
        let far = super::number::number(fit.residual.abs(), finest(project));
        if far.plain == "0" {
            Vec::new()
        } else {
            vec![
                Run::Text(if fit.residual.is_negative() { "\u{2212}" } else { "+" }.into()),
                Run::Number(far),
            ]
        }
    });
    let typed = if reading.text.is_empty() { number.plain.clone() } else { reading.text.clone() };
    ReadingRow {
        key: key.to_owned(),
        what: names::reading(plan, &reading.of, reading.height.map(|height| height.length)),
        number,
        before,
        held: Held {
            of: String::new(),
            at: Some(format!("/readings/{key}/length")),
            what: format!("reading {key}"),
            state: match (wrong, about) {
                (true, _) => HeldState::Wrong,
                (_, true) => HeldState::About,
                _ => HeldState::Given,
            },
            typed,
        },
        how: how(project, reading),
        off,
        aside: reading.set_aside.clone().unwrap_or_default(),
    }
}

fn derived_fit<'p>(project: &'p Project, key: &str) -> Option<&'p dryfit_stages::survey::Fit> {
    project.derived.survey.fits.iter().find(|(known, _)| known.as_str() == key).map(|(_, fit)| fit)
}

fn finest(project: &Project) -> dryfit_measure::Fineness {
    match project.plan.fineness.unit() {
        dryfit_measure::Unit::Inch => dryfit_measure::Fineness::In64,
        dryfit_measure::Unit::Millimetre => dryfit_measure::Fineness::HalfMm,
    }
}

fn how(project: &Project, reading: &Reading) -> String {
    let kind = project.plan.instruments.get(&reading.by).map(|instrument| instrument.kind);
    match (kind, reading.how) {
        (Some(InstrumentKind::Laser), _) => "laser",
        (Some(InstrumentKind::Level), _) => "level",
        (Some(InstrumentKind::Plumb), _) => "plumb line",
        (_, HeldHow::Hook) => "hook",
        (_, HeldHow::BurntInch) => "from the inch",
        (_, HeldHow::Inside) => "inside",
    }
    .to_owned()
}

fn walk(project: &Project) -> Walk {
    let plan = &project.plan;
    let corners: Vec<String> = plan.room.walk.iter().map(ToString::to_string).collect();
    let closed = plan.walls.len() >= corners.len() && corners.len() > 2;
    let asks = match (corners.last(), closed) {
        (None, _) => "Stand in any corner and call it A. How long is the wall at your right?".to_owned(),
        (Some(last), false) => format!("You are at {last}. How long is the next wall?"),
        (Some(_), true) => "A further reading, of what?".to_owned(),
    };
    let walls = plan
        .walls
        .keys()
        .map(|key| {
            [
                key.to_string(),
                format!("{} {}", names::corners(plan, key), plan.walls[key].name.clone().unwrap_or_default()),
            ]
        })
        .map(|[key, name]| [key, name.trim().to_owned()])
        .collect();
    Walk { corners, closed, asks, walls }
}

/// A length to be told among words.
pub(super) fn told(project: &Project, length: dryfit_measure::Length) -> Run {
    Run::Number(number(length, project.plan.fineness))
}
