//! Does it all go together? The room from above, and everything there is to say about it.

use dryfit_drawing::views::screen;
use serde::Serialize;

use super::Room;
use super::finding::{Card, cards};
use super::frame::counted;
use super::layout::everything_held;
use super::number::{Run, rich};
use super::picture::{Picture, picture};
use crate::open::Project;

/// The page of the dry fit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct DryFitPage {
    /// One plain line.
    pub line: Vec<Run>,
    /// The room from above.
    pub picture: Option<Picture>,
    /// Every finding, gravest first.
    pub findings: Vec<Card>,
}

/// The page of the dry fit.
pub fn dry_fit(project: &Project, room: Room) -> DryFitPage {
    let findings = cards(project);
    let open = findings.iter().filter(|card| card.left.is_none()).count();
    let line = if open == 0 {
        "everything goes together, as far as it is stated".to_owned()
    } else {
        format!("{} to look at, gravest first; each with what mends it", counted(open, "thing", "things"))
    };
    let drawn = screen::layout_room(&project.plan, &project.derived, None, room.frame());
    DryFitPage {
        line: rich(&line),
        picture: drawn.map(|drawing| picture(&drawing, &everything_held(project))),
        findings,
    }
}
