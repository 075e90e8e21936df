//! A field of tile or planks: lines to snap, every piece, the rows that are cut, and how many to buy.

use dryfit_drawing::{Drawing, views};
use dryfit_measure::Length;
use dryfit_stages::surfaces::{Cover, LaidField, PlankField, TileField};
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::material::Material;
use crate::names::{capital, counted};
use crate::words::{Span, Words};

/// A field.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Field {
    /// Its pieces and lines.
    pub drawing: Option<Drawing>,
    /// How to begin.
    pub caption: Words,
    /// Heads of the columns of `rows`.
    pub heads: Vec<String>,
    /// What is cut.
    pub rows: Vec<FieldRow>,
    /// What it comes to.
    pub counts: Vec<FieldCount>,
    /// What else is to be known.
    pub notes: Vec<Words>,
}

/// A row of pieces that are cut alike.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct FieldRow {
    /// Which.
    pub name: String,
    /// How many.
    pub pieces: String,
    /// How wide, or long, at its first end.
    pub from: String,
    /// And at its last.
    pub to: String,
}

/// A line of what it comes to.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct FieldCount {
    /// What is counted.
    pub what: String,
    /// How many.
    pub count: String,
}

/// Points kept for the tables and the boxes.
const FOOT: f64 = 265.0;

/// The page of a field; none where nothing covers it.
pub(crate) fn field(m: &Material<'_>, field: &LaidField) -> Option<Page> {
    let drawing = views::field(m.plan, m.derived, &field.key, m.frame(FOOT));
    let (inputs, body, why, blanks) = match &field.cover {
        Cover::Tile(tile) => of_tile(m, field, tile, drawing),
        Cover::Planks(planks) => of_planks(m, planks, drawing),
        Cover::Nothing => return None,
    };
    let mut page = Page::new(format!("field/{}", field.key), capital(&field.name), inputs, Body::Field(body));
    page.why = why;
    page.blanks = blanks;
    Some(page)
}

type Parts = (String, Field, Vec<Words>, Vec<Blank>);

fn count(what: &str, count: &impl ToString) -> FieldCount {
    FieldCount { what: what.to_owned(), count: count.to_string() }
}

fn of_tile(m: &Material<'_>, field: &LaidField, tile: &TileField, drawing: Option<Drawing>) -> Parts {
    let [along, up, _] = &tile.tile;
    let pitch = [along, up].map(|side| m.names.stock(side.length() + tile.joint.length()));
    let inputs = format!(
        "tile came out {} × {} · joint {} · step {} × {}",
        m.names.stock(along.length()),
        m.names.stock(up.length()),
        m.names.stock(tile.joint.length()),
        pitch[0],
        pitch[1]
    );
    let rows = tile.rows.iter().map(|row| FieldRow {
        name: row.side.to_owned(),
        pieces: row.pieces.to_string(),
        from: m.names.length(row.from),
        to: m.names.length(row.to),
    });
    let begin = Words::from("Heavy lines: near edge of a tile. Start at ")
        .with(Span::Balloon(1))
        .plain(", squared by 3-4-5: ")
        .strong(m.names.dim(&tile.lines[0]))
        .plain(" along and ")
        .strong(m.names.dim(&tile.lines[1]))
        .plain(if field.wall.is_some() { " up from the datum." } else { " into the room." });
    let taken = tile.reused.from.iter().filter(|from| !from.first).count();
    let mut notes = Vec::new();
    if taken > 0 {
        notes.push(Words::from(format!(
            "{} come from offcuts, turned, never flipped.",
            counted(taken, "piece")
        )));
    }
    let holed = tile.laid.pieces.iter().filter(|piece| piece.holed).count();
    if holed > 0 {
        notes.push(Words::from(format!(
            "{} cut round holes: mark them from their place.",
            counted(holed, "tile")
        )));
    }
    let mut why = Vec::new();
    if let Some(least) = tile.quality.least {
        let least = m.names.length(Length::from_nm(least));
        let found = tile.places.map_or_else(
            || "the start is pinned".to_owned(),
            |places| format!("the best start of {places} places where a cut changes"),
        );
        let other = tile.others.first().map_or_else(String::new, |other| {
            let least = other
                .quality
                .least
                .map_or_else(|| "none".to_owned(), |least| m.names.length(Length::from_nm(least)));
            format!("; the next best: least cut {least}, {} cut", other.quality.cut)
        });
        why.push(Words::from(format!("least cut {least}: {found}{other}")));
    }
    let four = along.length() * 4 + tile.joint.length() * 3;
    let blanks = vec![
        Blank::planned("4 tiles in a row", m.names.length(four)),
        Blank::empty("batch no."),
        Blank::planned("tiles opened", tile.tiles().to_string()),
    ];
    let body = Field {
        drawing,
        caption: begin,
        heads: ["row", "cut", "from", "to"].map(str::to_owned).to_vec(),
        rows: rows.collect(),
        counts: vec![
            count("whole", &tile.whole),
            count("cut pieces", &tile.reused.from.len()),
            count("tiles cut for them", &tile.reused.opened),
            count("tiles in all", &tile.tiles()),
        ],
        notes,
    };
    (inputs, body, why, blanks)
}

/// Most lengths that a page of planks lists.
const MOST_LENGTHS: usize = 9;

fn of_planks(m: &Material<'_>, planks: &PlankField, drawing: Option<Drawing>) -> Parts {
    let inputs = format!(
        "courses of {} · planks {} long · {} courses",
        m.names.stock(planks.reveal.length()),
        m.names.stock(planks.stock.length()),
        planks.courses.courses.len()
    );
    let mut lengths: std::collections::BTreeMap<Length, (usize, Vec<usize>)> =
        std::collections::BTreeMap::new();
    for (at, course) in planks.courses.courses.iter().enumerate() {
        for plank in &course.planks {
            let row = lengths.entry(Length::from_nm(plank.length)).or_default();
            row.0 += 1;
            row.1.push(at + 1);
        }
    }
    let rows = lengths.iter().rev().take(MOST_LENGTHS).map(|(length, (pieces, courses))| {
        let (first, last) = (courses.iter().min(), courses.iter().max());
        FieldRow {
            name: m.names.length(*length),
            pieces: pieces.to_string(),
            from: first.map_or_else(String::new, ToString::to_string),
            to: last.map_or_else(String::new, ToString::to_string),
        }
    });
    let caption = Words::from("First course ")
        .strong(m.names.dim(&planks.ends[0]))
        .plain(", last ")
        .strong(m.names.dim(&planks.ends[1]))
        .plain("; hatched: ripped to width. End joints on studs.");
    let more = lengths.len().saturating_sub(MOST_LENGTHS);
    let mut notes = Vec::new();
    if more > 0 {
        notes.push(Words::from(format!(
            "and {} more, shorter: measure each in its place.",
            counted(more, "length")
        )));
    }
    let body = Field {
        drawing,
        caption,
        heads: ["length", "no.", "from course", "to"].map(str::to_owned).to_vec(),
        rows: rows.collect(),
        counts: vec![
            count("pieces", &planks.pieces()),
            count("planks", &planks.bars),
            count("never fewer than", &planks.least_bars),
        ],
        notes,
    };
    let blanks = vec![
        Blank::planned("first course", m.names.dim(&planks.ends[0])),
        Blank::planned("last course", m.names.dim(&planks.ends[1])),
        Blank::empty("planks opened"),
    ];
    (inputs, body, Vec::new(), blanks)
}
