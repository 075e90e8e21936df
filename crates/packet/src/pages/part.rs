//! A part with what is done to it, marked from its named edges.

use dryfit_drawing::Drawing;
use dryfit_plan::Hand;
use dryfit_stages::casework::{BuiltUnit, Face, OperationKind, Part as BuiltPart};
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::drawings;
use crate::material::{Material, key};
use crate::names::counted;
use crate::pages::{handed, twin};
use crate::words::Words;

/// A part.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Part {
    /// The part, good face up.
    pub drawing: Option<Drawing>,
    /// The order of the operations, and the test of a pair.
    pub notes: Vec<Words>,
}

/// A part gets a page from so many operations on: fewer are told in the parts table.
const OPERATIONS: usize = 2;

/// Whether a part of a unit has a page: left-hand ones speak for their mirror images too.
pub(crate) fn has_page(unit: &BuiltUnit, part: &BuiltPart) -> bool {
    let own = match part.hand {
        Some(Hand::Left) => true,
        Some(Hand::Right) => twin(unit, part).is_none_or(|left| !left.mirrors(part)),
        None => part.name == "divider",
    };
    own && part.gate.is_none() && part.operations.len() >= OPERATIONS
}

/// What the bench calls an operation.
pub(crate) fn operation_name(kind: OperationKind) -> &'static str {
    match kind {
        OperationKind::Dado => "dado",
        OperationKind::Groove | OperationKind::Stick => "groove",
        OperationKind::Rabbet => "rabbet",
        OperationKind::Notch => "notch",
        OperationKind::PinHoles => "pin holes",
        OperationKind::HingeCup => "hinge cup",
        OperationKind::PocketHoles => "pocket holes",
        OperationKind::ScrewHoles => "screw holes",
        OperationKind::PlateHoles => "hinge plates",
        OperationKind::SlideHoles => "slide holes",
        OperationKind::HookHoles => "hook holes",
        OperationKind::Cope => "tongue",
        OperationKind::PullHoles => "holes",
    }
}

/// The page of a part, and of all units that have it alike; the first is drawn.
pub(crate) fn part(m: &Material<'_>, units: &[&BuiltUnit], part: &BuiltPart) -> Page {
    let unit = units[0];
    let keys: Vec<&str> = units.iter().map(|unit| unit.key.as_str()).collect();
    let name = format!("{} {}", keys.join(", "), handed(part));
    let over = if part.bands.is_empty() {
        String::new()
    } else {
        format!(" · {} over its bands", m.finished(part))
    };
    let inputs = Words::from(format!(
        "{}{over} · {} · {} · cut on ",
        m.size(&unit.key, part),
        m.names.good(&part.good),
        counted(units.len(), "piece")
    ));
    let cut_on = units.iter().flat_map(|unit| m.cut_on(&format!("{}/{}", unit.key, part.role)));
    let inputs = inputs.pages(cut_on);
    let body = Body::Part(Part {
        drawing: (!m.plain).then(|| drawings::part(m, unit, part)),
        notes: notes(m, unit, part),
    });
    let mut page = Page::new(key::part(&unit.key, &part.role), name, inputs, body);
    page.why = [&part.length, &part.width].into_iter().filter_map(|dim| m.why(dim)).collect();
    page.blanks = blanks(m, part);
    page
}

/// The order of the work, the notch last because it takes away the edge that marks are made from.
fn notes(m: &Material<'_>, unit: &BuiltUnit, part: &BuiltPart) -> Vec<Words> {
    let mut names: Vec<&str> = Vec::new();
    let (notches, others): (Vec<_>, Vec<_>) =
        part.operations.iter().partition(|operation| operation.kind == OperationKind::Notch);
    for operation in others.into_iter().chain(notches) {
        let name = operation_name(operation.kind);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let mut order = names.join(", ");
    if let Some(at) = order.rfind(", ") {
        order.replace_range(at..at + 2, ", then ");
    }
    let mut notes = vec![Words::bold(format!("{}.", crate::names::capital(&order)))];
    if let Some(bands) = bands(m, part) {
        notes.insert(
            0,
            Words::bold(format!("Band first: {bands}. ")).plain("Marks are from the banded edges."),
        );
    }
    let other = unit.parts.iter().find(|other| {
        part.hand == Some(Hand::Left)
            && other.hand == Some(Hand::Right)
            && twin(unit, other).is_some_and(|left| left.role == part.role)
    });
    if other.is_some_and(|right| !part.mirrors(right)) {
        notes.push(
            Words::bold("The right one is no mirror of it: ")
                .plain("what hangs on it is drilled as its own page says."),
        );
    } else if part.hand == Some(Hand::Left) {
        notes.push(
            Words::bold("The right one is the mirror: ")
                .plain("good faces up, front edges touching, the lines must meet."),
        );
    }
    notes
}

/// Which edges of a part are banded, in their order, and with what: "front edge, edge band, white".
pub(crate) fn bands(m: &Material<'_>, part: &BuiltPart) -> Option<String> {
    let first = part.bands.first()?;
    let mut edges: Vec<&str> = Vec::new();
    for band in &part.bands {
        let edge = match part.looks(band.edge) {
            Face::Front => "front edge",
            Face::Up => "upper edge",
            Face::Down => "lower edge",
            _ if band.edge.is_end() => "ends",
            _ => "edges at the sides",
        };
        if !edges.contains(&edge) {
            edges.push(edge);
        }
    }
    let around = part.bands.len() == 4;
    let edges = if around { "all round, short edges first".to_owned() } else { edges.join(", ") };
    Some(format!("{edges}, {}", m.names.good(&first.good)))
}

/// Test pieces of the joints that are cut to the goods' thickness.
fn blanks(m: &Material<'_>, part: &BuiltPart) -> Vec<Blank> {
    let mut blanks: Vec<Blank> = Vec::new();
    for operation in &part.operations {
        if !matches!(operation.kind, OperationKind::Dado | OperationKind::Groove | OperationKind::Rabbet) {
            continue;
        }
        // whichever way it runs on its part, it is longer than wide
        let [along, across] =
            [&operation.along, &operation.across].map(|[from, to]| to.length() - from.length());
        let width = along.min(across);
        let blank =
            Blank::planned(format!("{}, test piece", operation_name(operation.kind)), m.names.stock(width));
        if !blanks.contains(&blank) && blanks.len() < 2 {
            blanks.push(blank);
        }
    }
    blanks
}
