//! The room: its plan as adjusted, and every reading with how it fits.

use dryfit_drawing::Drawing;
use dryfit_measure::{Figure, Length, Toward};
use dryfit_plan::{Reading, Subject};
use dryfit_stages::survey::Fit;
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::drawings;
use crate::material::Material;
use crate::names::counted;
use crate::words::Words;

/// The room and its readings.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Room {
    /// The plan, with spans, corners and floor heights.
    pub drawing: Option<Drawing>,
    /// What the marks on it mean.
    pub caption: Words,
    /// Every reading of the walls.
    pub readings: Vec<ReadingRow>,
}

/// One reading.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReadingRow {
    /// Its number on this page.
    pub number: u32,
    /// What was measured, and how high up.
    pub what: String,
    /// As typed.
    pub taped: String,
    /// Adjusted less read, or what a reading that was set aside probably was.
    pub off: Words,
    /// Struck out.
    pub set_aside: bool,
}

/// Half axes of an ellipse at one sigma times this hold 95 % of a normal distribution in the plane.
const ELLIPSE_95: f64 = 2.447_7;

/// The page of the room.
pub(crate) fn room(m: &Material<'_>) -> Page {
    let survey = &m.derived.survey;
    let mut rows: Vec<ReadingRow> = Vec::new();
    let mut seen: Vec<String> = Vec::new();
    for (key, reading) in &m.plan.readings {
        if let Some(fit) = survey.fits.get(key) {
            let number = u32::try_from(rows.len() + 1).unwrap_or(u32::MAX);
            rows.push(row(m, number, reading, fit, &mut seen));
        }
    }
    let body =
        Body::Room(Room { drawing: drawings::room(m, rows.len()), caption: caption(m), readings: rows });
    let mut page = Page::new("room", "The room", inputs(m), body);
    page.blanks = survey.next.iter().take(2).map(|next| Blank::empty(next.what.clone())).collect();
    page
}

fn inputs(m: &Material<'_>) -> String {
    let survey = &m.derived.survey;
    let used = survey.fits.values().filter(|fit| fit.used).count();
    let aside = survey.fits.len() - used;
    let together = if survey.passes { "hold together" } else { "do not hold together" };
    let aside = if aside > 0 { format!(", {aside} set aside") } else { String::new() };
    let worst = survey.corners.iter().map(|corner| corner.ellipse[0]).fold(0.0, f64::max) * ELLIPSE_95;
    let doubt = Length::from_mm_f64(worst).figure(m.plan.fineness, Toward::Up).bare().to_string();
    format!("{} {together}{aside}. Corners within {doubt}, 19 times in 20", counted(used, "reading"))
}

fn caption(m: &Material<'_>) -> Words {
    let mut words = Words::from("Corners: gap at the end of a ")
        .plain(if m.metric() { "600" } else { "24" })
        .plain(" blade. Dots: finished floor under the datum. Black triangle: the datum, the high point");
    if let Some(point) = m.derived.survey.levels.datum.as_ref()
        && let Some(reading) = m.plan.readings.get(point)
        && let Subject::Floor { at } = &reading.of
    {
        words = words.plain(format!(
            ", {} along the {}",
            m.names.length(at.along.length),
            m.names.wall(&at.wall)
        ));
    }
    words.plain(".")
}

fn row(m: &Material<'_>, number: u32, reading: &Reading, fit: &Fit, seen: &mut Vec<String>) -> ReadingRow {
    let named = m.names.between(&reading.of, reading.height.map(|height| height.length));
    let again = seen.contains(&named);
    let what = if again { format!("{}, again", m.names.between(&reading.of, None)) } else { named.clone() };
    seen.push(named);
    let off = match (&fit.likely, fit.used) {
        (Some(slip), _) => Words::bold(format!("{}?", slip.how)),
        (None, true) => signed(m, fit.residual).into(),
        (None, false) => "set aside".into(),
    };
    ReadingRow { number, what, taped: reading.text.clone(), off, set_aside: !fit.used }
}

/// A residual with its sign, to half the plan's mark.
fn signed(m: &Material<'_>, residual: Length) -> String {
    let figure: Figure = residual.figure(m.names.half_mark(), Toward::Nearest);
    let zero = figure.length().is_zero();
    let sign = if zero || figure.negative { "" } else { "+" };
    format!("{sign}{}", figure.bare()).replace('-', "−")
}
