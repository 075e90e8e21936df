//! The demo projects that travel with the program.

use std::borrow::Cow;
use std::collections::BTreeMap;

use dryfit_measure::Pointer;
use dryfit_plan::{Draft, Plan, apply_to_text};
use serde::Deserialize;

/// One demo.
#[derive(Clone, Copy, Debug)]
pub struct Demo {
    /// Its name on the command line.
    pub name: &'static str,
    /// What it shows, in a line.
    pub about: &'static str,
    source: Source,
}

/// Where its plan comes from.
#[derive(Clone, Copy, Debug)]
enum Source {
    /// A plan, as a file.
    Plan(&'static str),
    /// Mistakes that are made in a plan. Kept apart from it, so that they stay mistakes when it grows.
    Mistakes { of: &'static str, made: &'static str },
}

/// One mistake of a demo that is there to be found out.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mistake {
    /// What went wrong, in the builder's words.
    pub what: String,
    /// The finding that must tell of it: rule and subjects.
    pub found_by: String,
    /// What the plan states by mistake, by address.
    set: BTreeMap<String, serde_json::Value>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Mistakes {
    name: String,
    mistakes: Vec<Mistake>,
}

const POTTING_ROOM: &str = include_str!("../../../demos/potting-room.toml");

/// All demos; the first is shown when no name is given.
pub const DEMOS: &[Demo] = &[
    Demo {
        name: "potting-room",
        about: "a crooked lean-to: a U of laminate worktop with a sink and a seed fridge under it (inches)",
        source: Source::Plan(POTTING_ROOM),
    },
    Demo {
        name: "troubled-room",
        about: "the same room with the mistakes that cost most, each of them found and mended (inches)",
        source: Source::Mistakes {
            of: POTTING_ROOM,
            made: include_str!("../../../demos/troubled-room.toml"),
        },
    },
    Demo {
        name: "ski-room",
        about: "a hut's back room: boxes without frames, banded edges, lockers, benches, a place to wax (millimetres)",
        source: Source::Plan(include_str!("../../../demos/ski-room.toml")),
    },
];

/// The demo of that name.
pub fn demo(name: &str) -> Option<&'static Demo> {
    DEMOS.iter().find(|demo| demo.name == name)
}

impl Demo {
    /// Its plan, as a file.
    ///
    /// # Panics
    /// Never: a demo that cannot be read is a fault of this program, and the tests read them all.
    pub fn plan(&self) -> Cow<'static, str> {
        match self.source {
            Source::Plan(text) => Cow::Borrowed(text),
            Source::Mistakes { of, made } => {
                let Mistakes { name, mistakes } = read(made);
                let named = put(of, &BTreeMap::from([("/name".to_owned(), name.into())]));
                Cow::Owned(mistakes.iter().fold(named, |text, mistake| mistake.made_in(&text)))
            }
        }
    }

    /// The plan before its mistakes, and the mistakes; none for a demo that makes none.
    pub fn mistakes(&self) -> Option<(&'static str, Vec<Mistake>)> {
        match self.source {
            Source::Plan(_) => None,
            Source::Mistakes { of, made } => Some((of, read(made).mistakes)),
        }
    }
}

impl Mistake {
    /// The text of a plan with this mistake made in it; its comments stay.
    ///
    /// # Panics
    /// If the plan has no place for it, which is a fault of the demo.
    pub fn made_in(&self, text: &str) -> String {
        put(text, &self.set)
    }
}

fn read(made: &str) -> Mistakes {
    toml::from_str(made).expect("the mistakes of a demo can be read")
}

fn address(text: &str) -> Pointer {
    Pointer::parse(text).expect("the address of a mistake can be read")
}

fn put(text: &str, set: &BTreeMap<String, serde_json::Value>) -> String {
    let plan = Plan::from_toml(text).expect("the plan of a demo can be read").plan;
    let draft = set.iter().fold(Draft::of(&plan), |draft, (at, value)| draft.set(&address(at), value));
    apply_to_text(text, &draft.edit("a mistake")).expect("a mistake fits its plan")
}
