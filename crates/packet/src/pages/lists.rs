//! Trim by its ends, and paint by colour: pages that are tables.

use dryfit_measure::{Amount, Area};
use dryfit_plan::PaintedBy;
use dryfit_stages::surfaces::trim::{TrimEnd, TrimPiece};
use dryfit_stages::surfaces::{Mitre, Paint, Trim};
use serde::Serialize;

use crate::data::{Body, Page};
use crate::material::Material;
use crate::names::{capital, counted};
use crate::words::Words;

/// Tables, one below the other.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Lists {
    /// The tables.
    pub tables: Vec<List>,
}

/// A table with a heading and lines below it.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct List {
    /// Over it.
    pub heading: String,
    /// Heads of its columns: the first is words, the others are numbers or short words at the right.
    pub heads: Vec<String>,
    /// Its rows, each with a cell for every head.
    pub rows: Vec<Vec<Words>>,
    /// What holds for all of it.
    pub notes: Vec<Words>,
}

/// Trim, bead and sealant: a page where there is any.
pub(crate) fn trims(m: &Material<'_>) -> Option<Page> {
    let surfaces = &m.derived.surfaces;
    let mut tables: Vec<List> =
        surfaces.trims.iter().filter(|trim| !trim.pieces.is_empty()).map(|trim| of_trim(m, trim)).collect();
    if !surfaces.beads.is_empty() {
        tables.push(beads(m));
    }
    if !surfaces.beds.is_empty() {
        tables.push(beds(m));
    }
    if tables.is_empty() {
        return None;
    }
    let inputs = "corners as they were measured; the saw is set so far off square";
    Some(Page::new("trim", "Trim and joints", inputs, Body::Lists(Lists { tables })))
}

fn of_trim(m: &Material<'_>, trim: &Trim) -> List {
    let stated = m.plan.trims.get(&trim.key);
    let name = stated.and_then(|trim| trim.name.clone()).unwrap_or_else(|| trim.key.to_string());
    let rows = trim.pieces.iter().map(|piece| {
        let path = format!("{}/{}", trim.key, piece.role);
        let length = m.piece(&path).map_or(piece.length.length(), |cut| cut.length.length());
        vec![
            Words::from(place(m, piece)),
            Words::bold(m.names.length(length)),
            end(&piece.ends[0]),
            end(&piece.ends[1]),
        ]
    });
    List {
        heading: format!("{}: {}", capital(&name), m.names.good(&trim.good)),
        heads: ["where", "long points", "left end", "right end"].map(str::to_owned).to_vec(),
        rows: rows.collect(),
        notes: vec!["Cut each a little long, try it, then take off what the saw's setting is off.".into()],
    }
}

fn place(m: &Material<'_>, piece: &TrimPiece) -> String {
    match &piece.along {
        Some([from, to]) => {
            format!("{}, {} to {}", m.names.wall(&piece.wall), m.names.dim(from), m.names.dim(to))
        }
        None => piece.role.replace('.', ", "),
    }
}

fn end(end: &TrimEnd) -> Words {
    let settings = |cut: &Mitre| {
        let bevel =
            if cut.bevel.abs() < 0.05 { String::new() } else { format!(", bevel {:.1}°", cut.bevel) };
        format!("{:.1}°{bevel}", cut.mitre)
    };
    match end {
        TrimEnd::Square(at) => Words::from(format!("square, at {at}")),
        TrimEnd::Corner { corner, angle, cut } => {
            Words::bold(settings(cut)).plain(format!(", {corner} is {angle:.1}°"))
        }
        TrimEnd::Frame(cut) => Words::bold(settings(cut)),
        TrimEnd::Scarf => Words::from("scarf, 45°"),
    }
}

fn amount(m: &Material<'_>, amount: Amount) -> String {
    amount.figure(m.plan.entry_unit)
}

fn beads(m: &Material<'_>) -> List {
    let rows = m.derived.surfaces.beads.iter().map(|bead| {
        vec![
            Words::from(capital(&bead.what)),
            Words::from(m.names.good(&bead.good)),
            Words::bold(amount(m, Amount::Length(bead.length.length()))),
            Words::from(amount(m, Amount::Volume(bead.volume))),
        ]
    });
    List {
        heading: "Sealant and adhesive".to_owned(),
        heads: ["joint", "with", "long", "takes"].map(str::to_owned).to_vec(),
        rows: rows.collect(),
        notes: Vec::new(),
    }
}

fn beds(m: &Material<'_>) -> List {
    let rows = m.derived.surfaces.beds.iter().map(|bed| {
        let backs = if bed.back_buttered { ", and backs" } else { "" };
        let kind = match bed.sanded {
            Some(true) => "sanded",
            Some(false) => "without sand",
            None => "",
        };
        vec![
            Words::from(format!(
                "{}: {} tile, joint {}",
                capital(bed.field.key.as_str()),
                m.names.size(bed.field.tile[0].length(), bed.field.tile[1].length()),
                m.names.stock(bed.field.joint.length())
            )),
            Words::from(format!(
                "{} × {}{backs}",
                m.names.stock(bed.trowel[0]),
                m.names.stock(bed.trowel[1])
            )),
            Words::bold(amount(m, Amount::Mass(bed.mortar))),
            Words::bold(amount(m, Amount::Mass(bed.grout))).plain(format!(" {kind}")),
        ]
    });
    List {
        heading: "Mortar and grout".to_owned(),
        heads: ["field", "trowel", "mortar", "grout"].map(str::to_owned).to_vec(),
        rows: rows.collect(),
        notes: vec![
            "Lift a tile now and then: its back is covered. Wipe the haze after 15 to 30 minutes.".into(),
        ],
    }
}

/// Paint by colour: a page where there is any.
pub(crate) fn paints(m: &Material<'_>) -> Option<Page> {
    let paints: Vec<&Paint> =
        m.derived.surfaces.paints.iter().filter(|paint| !paint.rows.is_empty()).collect();
    if paints.is_empty() {
        return None;
    }
    let inputs =
        "areas from the room as measured and the parts as cut, less openings and what stands before them";
    let tables = paints.into_iter().map(|paint| of_paint(m, paint)).collect();
    Some(Page::new("paint", "Paint", inputs, Body::Lists(Lists { tables })))
}

fn of_paint(m: &Material<'_>, paint: &Paint) -> List {
    let stated = m.plan.finishes.get(&paint.key);
    let name = stated.and_then(|finish| finish.name.clone()).unwrap_or_else(|| paint.key.to_string());
    let area = |area: Area| amount(m, Amount::Area(area));
    let mut rows: Vec<Vec<Words>> = paint
        .rows
        .iter()
        .map(|row| {
            let less: Vec<String> =
                row.less.iter().map(|(what, gone)| format!("{what} {}", area(*gone))).collect();
            let less = if less.is_empty() { String::new() } else { format!("less {}", less.join(", ")) };
            vec![Words::from(capital(&row.what)), Words::from(less), Words::bold(area(row.net))]
        })
        .collect();
    rows.push(vec![Words::bold("All of it"), Words::new(), Words::bold(area(paint.area))]);
    let by = match paint.by {
        PaintedBy::Roller => "with a roller, edges with a brush",
        PaintedBy::Brush => "with a brush",
        PaintedBy::Spray => "sprayed",
    };
    let coats = usize::from(paint.coats);
    let mut notes = Vec::new();
    if let Some((primer, coats)) = &paint.primer {
        notes.push(Words::from(format!(
            "{}: {}",
            capital(&m.names.good(primer)),
            counted(usize::from(*coats), "coat")
        )));
    }
    let each = amount(m, Amount::Volume(paint.one_coat));
    notes.push(
        Words::from(format!("{}: {}, {by}; ", capital(&m.names.good(&paint.good)), counted(coats, "coat")))
            .strong(format!("{each} a coat")),
    );
    if let Some(thinner) = paint.thinner {
        let words = format!(
            "Thin all of it with {} of water, measured, for spraying.",
            amount(m, Amount::Volume(thinner))
        );
        notes.push(words.into());
    }
    if let Some((pieces, flat)) = paint.flat {
        let words =
            format!("To dry flat: {}, {} of rack a side.", counted(pieces as usize, "front"), area(flat));
        notes.push(words.into());
    }
    if paint.by == PaintedBy::Spray {
        notes.push(
            Words::bold("Mask, goggles, air")
                .plain(": a respirator for what the paint's sheet names, and no flame in the room."),
        );
    }
    List {
        heading: capital(&name),
        heads: ["surface", "", "to paint"].map(str::to_owned).to_vec(),
        rows,
        notes,
    }
}
