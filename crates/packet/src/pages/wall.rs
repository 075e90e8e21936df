//! A wall with its units: one row of cumulative marks from one hook, and level lines.

use dryfit_drawing::Drawing;
use dryfit_measure::{Key, because};
use dryfit_plan::UnitKind;
use dryfit_stages::placement::PlacedUnit;
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::drawings;
use crate::material::{Material, key};
use crate::names::capital;
use crate::words::Words;

/// A wall.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Wall {
    /// The elevation.
    pub drawing: Option<Drawing>,
    /// What to do at the wall.
    pub steps: Vec<Words>,
}

/// The page of a wall; none where nothing stands.
pub(crate) fn wall(m: &Material<'_>, wall: &Key) -> Page {
    let line = m.derived.survey.walls.iter().find(|line| line.key == *wall);
    let inputs = match line {
        Some(line) => {
            format!("All marks from corner {}, hook on the finished wall. Heights from the datum", line.left)
        }
        None => "Heights from the datum".to_owned(),
    };
    let body = Body::Wall(Wall { drawing: drawings::wall(m, wall), steps: steps(m, wall) });
    let mut page = Page::new(key::wall(wall), capital(&m.names.wall(wall)), inputs, body);
    page.why = m
        .derived
        .placement
        .runs
        .iter()
        .filter(|run| run.wall == *wall)
        .map(|run| Words::from(m.names.tidy(&because(&run.clear, m.plan.fineness))))
        .collect();
    page.why.dedup();
    page.why.truncate(2);
    page.blanks = blanks(m, wall);
    page
}

fn steps(m: &Material<'_>, wall: &Key) -> Vec<Words> {
    let lines: Vec<_> = m.derived.placement.lines.iter().filter(|line| line.walls.contains(wall)).collect();
    let mut steps =
        vec![Words::from("High point of the floor: black triangle, ").pages(["room".to_owned()]).plain(".")];
    if let Some(first) = lines.iter().find(|line| line.is_first()).or(lines.first()) {
        steps.push(
            Words::from(format!("{} up from it is ", m.names.dim(&first.up)))
                .strong("L0")
                .plain(": right round the room, back to its start."),
        );
    }
    if lines.len() > 1 {
        steps.push(Words::from("All other lines from L0, ").strong("never from the floor").plain("."));
    }
    steps
}

/// What comes out at this wall: where its last unit ends, its fillers, the closure of the level line.
fn blanks(m: &Material<'_>, wall: &Key) -> Vec<Blank> {
    let here: Vec<&PlacedUnit> = m.derived.placement.units.iter().filter(|unit| unit.wall == *wall).collect();
    let mut blanks = Vec::new();
    if let Some(last) = here.iter().filter(|unit| made(unit.kind)).max_by_key(|unit| unit.right().length()) {
        blanks.push(Blank::planned(format!("corner to {}, right", last.key), m.names.dim(&last.right())));
    }
    if m.derived.placement.lines.iter().any(|line| line.walls.contains(wall)) {
        let mark = if m.metric() { "1" } else { "1/16" };
        blanks.push(Blank::planned("L0 closes within", mark));
    }
    for filler in here.iter().filter(|unit| unit.kind == UnitKind::Filler).take(2) {
        blanks.push(Blank::planned(format!("filler {}, wide", filler.key), m.names.dim(&filler.width)));
    }
    blanks
}

fn made(kind: UnitKind) -> bool {
    kind.is_box()
}
