//! The layout as it is shown: a wall from inside and the room from above, each number with what stands behind it,
//! and what would stand where nothing does.

use std::collections::BTreeMap;

use dryfit_drawing::views::screen;
use dryfit_measure::{Key, Length};
use serde::Serialize;

use super::Room;
use super::finding::{Card, cards};
use super::names;
use super::number::{Held, Run, held, json, number, rich};
use super::picture::{Picture, picture};
use super::survey::told;
use crate::open::Project;

/// The page of the layout.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LayoutPage {
    /// One plain line.
    pub line: Vec<Run>,
    /// The walls.
    pub views: Vec<View>,
    /// The wall that is looked at.
    pub view: String,
    /// It from inside.
    pub picture: Option<Picture>,
    /// The room from above.
    pub room: Option<Picture>,
    /// Findings about what is on this wall.
    pub findings: Vec<Card>,
    /// Findings about other walls.
    pub elsewhere: u32,
    /// The runs of this wall, and what could stand in each.
    pub bare: Vec<Bare>,
}

/// One view that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct View {
    /// What it is asked for by.
    pub key: String,
    /// What it is called.
    pub name: String,
}

/// A run, or a wall without one, with what could stand there.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Bare {
    /// The run; empty where there is none yet.
    pub run: String,
    /// The wall.
    pub wall: String,
    /// "floor" or "hung".
    pub level: &'static str,
    /// What it is called.
    pub name: String,
    /// What is left: "18 1/16 left".
    pub left: Vec<Run>,
    /// Its units, left to right.
    pub order: Vec<View>,
    /// What could stand there.
    pub offers: Vec<Offer>,
}

/// Something that could stand there.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Offer {
    /// What it is asked for by.
    pub kind: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// fits, may, not.
    pub fits: &'static str,
    /// By how much.
    pub says: Vec<Run>,
}

/// What is offered: key, name, whether it stands on the floor, its usual and its least width in 64ths of an inch
/// (common practice, no source).
pub(crate) const OFFERS: &[(&str, &str, bool, i64, i64)] = &[
    ("drawers", "Drawers", true, 18, 10),
    ("cupboard", "Cupboard", true, 24, 9),
    ("open", "Open shelves", true, 24, 6),
    ("sink", "Sink unit", true, 36, 24),
    ("tall", "Tall cupboard", true, 24, 9),
    ("filler", "Filler", true, 3, 1),
    ("hung", "Wall cupboard", false, 30, 9),
    ("shelf", "Floating shelf", false, 36, 6),
];

/// The page of the layout, looking at a wall: the first where the one asked for is not there.
pub fn layout(project: &Project, view: &str, room: Room) -> LayoutPage {
    let (plan, derived) = (&project.plan, &project.derived);
    let walls: Vec<&Key> = derived.survey.walls.iter().map(|wall| &wall.key).collect();
    // in the order in which the corners were met
    let mut views: Vec<View> = plan
        .walls
        .keys()
        .filter(|key| walls.contains(key))
        .map(|key| View { key: key.to_string(), name: names::corners(plan, key) })
        .collect();
    let stands = |view: &View| derived.placement.units.iter().any(|unit| unit.wall.as_str() == view.key);
    let wanted = views.iter().find(|known| known.key == view);
    let chosen = wanted.or_else(|| views.iter().find(|view| stands(view))).or(views.first());
    let view = chosen.map(|view| view.key.clone()).unwrap_or_default();
    let key = walls.iter().find(|key| key.as_str() == view).copied();
    let held = everything_held(project);
    let elevation = key.and_then(|key| screen::layout_wall(plan, derived, key, room.frame()));
    let small = Room { width: 390.0, height: 280.0 };
    let (here, elsewhere): (Vec<Card>, Vec<Card>) = cards(project)
        .into_iter()
        .filter(|card| ["layout", "dry-fit", "casework"].contains(&card.page))
        .partition(|card| about_wall(project, card, &view));
    let name = key.map(|key| names::wall(plan, key)).unwrap_or_default();
    views.sort_by_key(|view| walk_order(project, &view.key));
    LayoutPage {
        line: if key.is_some() {
            rich(&format!("{name}, seen from the room"))
        } else {
            rich("measure the room first: walls stand where the survey puts them")
        },
        picture: elevation.map(|drawing| picture(&drawing, &held)),
        room: screen::layout_room(plan, derived, key, small.frame()).map(|drawing| picture(&drawing, &held)),
        findings: here,
        elsewhere: u32::try_from(elsewhere.iter().filter(|card| card.left.is_none()).count())
            .unwrap_or_default(),
        bare: key.map(|key| bare(project, key)).unwrap_or_default(),
        views,
        view,
    }
}

fn walk_order(project: &Project, wall: &str) -> usize {
    let plan = &project.plan;
    let place = |corner: &Key| plan.room.walk.iter().position(|known| known == corner).unwrap_or(usize::MAX);
    let wall = plan.walls.iter().find(|(key, _)| key.as_str() == wall);
    let count = plan.room.walk.len();
    wall.map_or(usize::MAX, |(_, wall)| {
        let (a, b) = (place(&wall.from), place(&wall.to));
        if a.abs_diff(b) == count.saturating_sub(1) { a.max(b) } else { a.min(b) }
    })
}

fn about_wall(project: &Project, card: &Card, wall: &str) -> bool {
    card.about.iter().any(|key| {
        key == wall
            || project
                .derived
                .placement
                .units
                .iter()
                .any(|unit| unit.key.as_str() == key && unit.wall.as_str() == wall)
            || project
                .plan
                .runs
                .iter()
                .any(|(run, stated)| run.as_str() == key && stated.along.as_str() == wall)
            || project
                .plan
                .openings
                .iter()
                .any(|(known, one)| known.as_str() == key && one.wall.as_str() == wall)
    })
}

/// What stands behind every derived number, by its name.
pub(super) fn everything_held(project: &Project) -> BTreeMap<String, Held> {
    let derived = &project.derived;
    let plan = json(&project.plan);
    derived
        .dims()
        .iter()
        .map(|one| {
            let of = format!("{}.{}", one.place, one.dimension);
            let held = held(&of, one.dim, &plan);
            (of, held)
        })
        .collect()
}

fn bare(project: &Project, wall: &Key) -> Vec<Bare> {
    let (plan, derived) = (&project.plan, &project.derived);
    let mut all: Vec<Bare> = Vec::new();
    for run in derived.placement.runs.iter().filter(|run| run.wall == *wall) {
        let Some(stated) = plan.runs.get(&run.key) else { continue };
        let floor = matches!(stated.level, dryfit_plan::Level::Floor);
        let shares = stated.order.iter().filter_map(|key| plan.units.get(key)).any(|unit| {
            matches!(unit.width, dryfit_plan::Width::LeftOver | dryfit_plan::Width::Within { .. })
        });
        let spare = run.spare.length();
        let name = stated
            .name
            .clone()
            .unwrap_or_else(|| if floor { "on the floor".to_owned() } else { "on the wall".to_owned() });
        let left = if shares {
            rich("all of it is shared; another unit takes its share")
        } else {
            vec![told(project, spare), Run::Text(" left".into())]
        };
        all.push(Bare {
            run: run.key.to_string(),
            wall: wall.to_string(),
            level: if floor { "floor" } else { "hung" },
            name,
            left,
            order: stated
                .order
                .iter()
                .map(|key| View { key: key.to_string(), name: names::unit(plan, key) })
                .collect(),
            offers: offers(project, floor, spare, shares),
        });
    }
    for (level, floor) in [("floor", true), ("hung", false)] {
        if all.iter().any(|bare| bare.level == level) {
            continue;
        }
        let clear = derived.survey.wall_length(wall).map_or(Length::ZERO, |dim| dim.length());
        all.push(Bare {
            run: String::new(),
            wall: wall.to_string(),
            level,
            name: if floor { "on the floor".into() } else { "on the wall".into() },
            left: vec![told(project, clear), Run::Text(" of bare wall".into())],
            order: Vec::new(),
            offers: offers(project, floor, clear, false),
        });
    }
    all
}

fn offers(project: &Project, floor: bool, spare: Length, shares: bool) -> Vec<Offer> {
    let fineness = project.plan.fineness;
    let has_sink =
        project.plan.goods.values().any(|good| matches!(good.form, dryfit_plan::Form::Sink { .. }));
    OFFERS
        .iter()
        .filter(|(kind, _, on_floor, ..)| *on_floor == floor && (*kind != "sink" || has_sink))
        .map(|(kind, name, _, usual, least)| {
            let (usual, least) = (Length::inches(*usual, 0, 1), Length::inches(*least, 0, 1));
            let (fits, says) = if shares {
                ("may", rich("the others give way"))
            } else if spare >= usual {
                ("fits", vec![Run::Number(number(spare - usual, fineness)), Run::Text(" beside it".into())])
            } else if spare >= least {
                ("may", vec![Run::Text("as wide as what is left".into())])
            } else {
                ("not", vec![Run::Number(number(least - spare, fineness)), Run::Text(" short".into())])
            };
            Offer { kind, name, fits, says }
        })
        .collect()
}
