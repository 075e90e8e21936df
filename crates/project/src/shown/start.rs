//! The start page: what was open last, and the demo rooms.

use dryfit_drawing::views::screen;
use serde::Serialize;

use super::Room;
use super::picture::{Picture, picture};
use crate::demo::DEMOS;
use crate::open::Project;

/// The start page.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Start {
    /// The folder where new rooms are kept.
    pub folder: String,
    /// What was open before, and other projects in the folder.
    pub recent: Vec<Recent>,
}

/// A project that can be opened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Recent {
    /// What it is opened by.
    pub path: String,
    /// Its file's name.
    pub file: String,
    /// Whether it is in the folder, or elsewhere.
    pub near: bool,
}

/// A demo room.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct DemoCard {
    /// What it is asked for by.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What it shows.
    pub about: String,
    /// It from above.
    pub picture: Option<Picture>,
}

/// The demo rooms as cards.
pub fn demos() -> Vec<DemoCard> {
    let card = |demo: &crate::demo::Demo| {
        let project = Project::sketched(demo.name, demo.plan().into_owned()).ok();
        let room = Room { width: 210.0, height: 130.0 };
        let drawn = project
            .as_ref()
            .and_then(|one| screen::layout_room(&one.plan, &one.derived, None, room.frame_small()));
        DemoCard {
            name: demo.name.to_owned(),
            title: project.as_ref().map_or_else(|| demo.name.to_owned(), |one| one.plan.name.clone()),
            about: demo.about.to_owned(),
            picture: drawn.map(|drawing| picture(&drawing, &std::collections::BTreeMap::new())),
        }
    };
    DEMOS.iter().map(card).collect()
}
