//! A worktop: its legs from above with the boxes to fill when the units are set, and what it is cut from.

use dryfit_drawing::Drawing;
use dryfit_measure::Length;
use dryfit_stages::casework::Gate;
use dryfit_stages::figures::Figures;
use dryfit_stages::surfaces::worktop::{Seam, SeamCut, TopPart, TopPiece, Worktop};
use serde::Serialize;

use crate::data::{Blank, Body, GateNote, Page};
use crate::drawings;
use crate::material::Material;
use crate::names::{capital, counted};
use crate::pages::{List, Lists, gate_number};
use crate::words::{Span, Words};

/// A worktop.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Top {
    /// From above.
    pub drawing: Option<Drawing>,
    /// Its seams and cut-outs, a line each.
    pub notes: Vec<Words>,
}

/// The pages of all worktops.
pub(crate) fn worktops(m: &Material<'_>) -> Vec<Page> {
    let tops = m.derived.surfaces.worktops.iter().enumerate();
    let made = tops.filter(|(_, top)| !top.pieces.is_empty());
    made.flat_map(|(i, top)| [page(m, i, top), pieces(m, i, top)]).collect()
}

fn page(m: &Material<'_>, index: usize, top: &Worktop) -> Page {
    let stated = m.plan.tops.get(&top.key);
    let name = stated.and_then(|top| top.name.clone()).unwrap_or_else(|| top.key.to_string());
    let notes = notes(m, top);
    let drawing = drawings::worktop(m, top, &notes, top.legs.len() * 2);
    let mut page = Page::new(
        format!("worktop/{}/{index}", top.key),
        format!("Worktop: {name}"),
        inputs(m, top),
        Body::Worktop(Top { drawing, notes }),
    );
    page.blanks = top
        .legs
        .iter()
        .flat_map(|leg| {
            let long = |edge: &[dryfit_measure::Dim; 2]| m.names.length(edge[1].length() - edge[0].length());
            [
                Blank::planned(format!("{}, at the wall", leg.name), long(&leg.back)),
                Blank::planned(format!("{}, at the front", leg.name), long(&leg.front)),
            ]
        })
        .collect();
    page.gate = Some(GateNote {
        number: gate_number(Gate::UnitsSet),
        text: "Buy the sheets now. Measure when the units are set; nothing of it is cut before the boxes are filled.".into(),
    });
    page
}

fn inputs(m: &Material<'_>, top: &Worktop) -> String {
    let Some(stated) = m.plan.tops.get(&top.key) else { return String::new() };
    let facing =
        stated.facing.as_ref().map(|facing| format!("{} on ", m.names.good(facing))).unwrap_or_default();
    let layers = if stated.layers > 1 { format!("{} layers of ", stated.layers) } else { String::new() };
    format!("{facing}{layers}{}; {} thick", m.names.good(&stated.substrate), m.names.dim(&top.thickness))
}

/// What a piece is, for a row.
fn called(piece: &TopPiece) -> String {
    let leg = piece.role.split('.').find(|part| *part == piece.run.as_str());
    let of = leg.map(|leg| format!(", {leg}")).unwrap_or_default();
    match piece.what {
        TopPart::Substrate => format!("layer {}{of}", piece.layer),
        TopPart::Strip => "build-up strip".to_owned(),
        TopPart::Facing if piece.role.starts_with("splash") => format!("splash, laminate{of}"),
        TopPart::Facing => format!("laminate{of}"),
        TopPart::Edge => format!("edge strip{of}"),
        TopPart::Splash => format!("splash{of}"),
        TopPart::Cleat => "cleat on the wall".to_owned(),
    }
}

/// What it is cut from; equal pieces stand in one row.
fn pieces(m: &Material<'_>, index: usize, top: &Worktop) -> Page {
    let mut rows: Vec<(String, [Length; 2], u32, Vec<String>)> = Vec::new();
    for piece in &top.pieces {
        let path = format!("{}/{}", top.key, piece.role);
        let Some(cut) = m.piece(&path) else { continue };
        let size = [cut.length.length(), cut.width.length()];
        let what = called(piece);
        let pages = m.cut_on(&path);
        match rows.iter_mut().find(|(known, at, ..)| *known == what && *at == size) {
            Some((_, _, count, on)) => {
                *count += 1;
                on.extend(pages);
            }
            None => rows.push((what, size, 1, pages)),
        }
    }
    let row = |(what, size, count, mut on): (String, [Length; 2], u32, Vec<String>)| {
        on.sort();
        on.dedup();
        let size = m.names.size(size[0], size[1]);
        vec![Words::from(what), Words::bold(count.to_string()), Words::bold(size), Words::new().pages(on)]
    };
    let stated = m.plan.tops.get(&top.key);
    let faced = stated.is_some_and(|top| top.facing.is_some());
    let list = List {
        heading: "Cut from sheets, allowances included".to_owned(),
        heads: ["piece", "no.", "cut to", "cut on"].map(str::to_owned).to_vec(),
        rows: rows.into_iter().map(row).collect(),
        notes: if faced {
            vec![
                "Sheets, laminate and adhesive lie in the room for two days before anything is glued.".into(),
                Words::bold("Contact adhesive").plain(
                    ": both faces; about 20 minutes until it is dry to touch, then within two hours; it does not \
                     shift once it touches. Open the windows, no flame, no spark.",
                ),
            ]
        } else {
            vec!["It lies in the room for two days before it is cut.".into()]
        },
    };
    let name = stated.and_then(|top| top.name.clone()).unwrap_or_else(|| top.key.to_string());
    let body = Body::Lists(Lists { tables: vec![list] });
    Page::new(
        format!("worktop/{}/{index}/pieces", top.key),
        format!("{}: pieces", capital(&name)),
        inputs(m, top),
        body,
    )
}

fn notes(m: &Material<'_>, top: &Worktop) -> Vec<Words> {
    let mut notes: Vec<Words> = Vec::new();
    for (i, seam) in top.seams.iter().enumerate() {
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        notes.push(Words::new().with(Span::Balloon(number)).plain(" ").and(of_seam(m, seam)));
    }
    for hole in top.legs.iter().flat_map(|leg| &leg.holes) {
        let words = Words::bold(format!("Cut-out over {}", hole.unit)).plain(format!(
            ": drill the four corners first, {}, then saw. Support the waste so that it does not tear out.",
            m.names.dim(&hole.bit)
        ));
        notes.push(words);
    }
    let spans: Vec<String> = top
        .legs
        .iter()
        .flat_map(|leg| &leg.spans)
        .filter(|span| span.cleat.is_some())
        .map(|span| format!("{} over {}", m.names.dim(&span.width), span.units[0]))
        .collect();
    if !spans.is_empty() {
        notes.push(Words::bold("Cleats on the wall").plain(format!(": {}", spans.join(", "))));
    }
    let figures = Figures::of_top(m.plan, &top.key);
    let scribe = format!("Cut sizes hold {} to be scribed at walls", m.names.dim(&figures.dim("top-scribe")));
    let faced = m.plan.tops.get(&top.key).is_some_and(|top| top.facing.is_some());
    notes.push(Words::from(if faced {
        format!(
            "{scribe}, and {} of laminate all round to be trimmed off.",
            m.names.dim(&figures.dim("laminate-trim"))
        )
    } else {
        format!("{scribe}.")
    }));
    notes
}

fn of_seam(m: &Material<'_>, seam: &Seam) -> Words {
    let angle = |off: f64| format!("{off:.1}°");
    let words = match seam.cut {
        SeamCut::Butt => Words::bold(capital(&seam.name)).plain(format!(
            ", butted: {} is cut {} off square",
            seam.run,
            angle(seam.off_square[0])
        )),
        SeamCut::Mitre => Words::bold(capital(&seam.name)).plain(format!(
            ", mitred: cut {} and {} off square",
            angle(seam.off_square[0]),
            angle(seam.off_square[1])
        )),
        SeamCut::Across => Words::bold(format!("Seam {}", seam.name)).plain(", square across"),
    };
    let far = seam.cutout.as_ref().map(|(_, far)| format!(", {} from the cut-out", m.names.dim(far)));
    let bolts = counted(usize::try_from(seam.bolts).unwrap_or(usize::MAX), "bolt");
    words.plain(format!("; {bolts}{}", far.unwrap_or_default()))
}
