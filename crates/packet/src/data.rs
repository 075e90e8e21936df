//! What the template is given: the whole packet as data, one [`Page`] a printed page (long tables run on).

use serde::Serialize;

use crate::pages::{
    Bars, Board, Buy, Costs, Cover, CutList, Door, Field, Findings, Lists, Order, Part, Room, RoughIn, Sheet,
    Top, Unit, Wall,
};
use crate::paper::Paper;
use crate::words::Words;

/// Everything that is printed, in order.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PacketData {
    /// The title of the document: "Potting room, release 1".
    pub title: String,
    /// The builder's name of the job.
    pub project: String,
    /// The number of the release.
    pub release: u32,
    /// The day it was made, as the builder wants it printed; none, and the bytes depend on the plan alone.
    pub date: Option<String>,
    /// The unit and the measured goods, for every footer.
    pub footing: String,
    /// What it is printed on.
    pub paper: Paper,
    /// The pages.
    pub pages: Vec<Page>,
}

/// One page.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Page {
    /// What other pages refer to it by; never printed.
    pub key: String,
    /// The name of the thing, large at its head.
    pub name: String,
    /// The inputs that the page stands on, in one line.
    pub inputs: Words,
    /// What everything on it waits for, when it may not be cut yet: a dashed band under the head.
    pub held: Words,
    /// What is on it.
    pub body: Body,
    /// Why a size is what it is; two at the most.
    pub why: Vec<Words>,
    /// Boxes to write in what came out.
    pub blanks: Vec<Blank>,
    /// The gate that filling the boxes opens.
    pub gate: Option<GateNote>,
}

impl Page {
    /// A page without reasons, boxes or gate.
    pub fn new(
        key: impl Into<String>,
        name: impl Into<String>,
        inputs: impl Into<Words>,
        body: Body,
    ) -> Self {
        let (key, name) = (key.into(), name.into());
        Page {
            // a heading has to say something
            name: if name.trim().is_empty() { key.clone() } else { name },
            key,
            inputs: inputs.into(),
            held: Words::new(),
            body,
            why: Vec::new(),
            blanks: Vec::new(),
            gate: None,
        }
    }
}

/// The kinds of page, each with its own data.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Body {
    /// What to do today, and what not yet.
    Cover(Cover),
    /// The room with its readings.
    Room(Room),
    /// A wall with its units.
    Wall(Wall),
    /// A wall before it is closed.
    RoughIn(RoughIn),
    /// A field of tile or planks.
    Field(Field),
    /// A unit, taken apart.
    Unit(Unit),
    /// A part with its operations.
    Part(Part),
    /// A sheet to cut.
    Sheet(Sheet),
    /// Boards of one good to cut.
    Board(Board),
    /// A door, or drawer.
    Door(Door),
    /// Every piece.
    CutList(CutList),
    /// What to buy.
    Buy(Buy),
    /// A worktop.
    Worktop(Top),
    /// Tables: trim, paint.
    Lists(Lists),
    /// Which task when.
    Order(Order),
    /// The same as bars.
    Bars(Bars),
    /// What it costs.
    Costs(Costs),
    /// What the checks found.
    Findings(Findings),
}

/// An empty box with what is to be written in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Blank {
    /// What is to be measured.
    pub label: String,
    /// What is planned, small.
    pub planned: Option<String>,
}

impl Blank {
    /// A box with the size that is planned.
    pub fn planned(label: impl Into<String>, size: impl Into<String>) -> Self {
        Blank { label: label.into(), planned: Some(size.into()) }
    }

    /// A box with nothing in it.
    pub fn empty(label: impl Into<String>) -> Self {
        Blank { label: label.into(), planned: None }
    }
}

/// What filling a page's boxes lets go on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct GateNote {
    /// The number of the gate.
    pub number: u32,
    /// What happens then.
    pub text: Words,
}
