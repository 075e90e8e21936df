//! What a builder types, read as it is typed, and made into an edit of the plan.

use dryfit_measure::{Length, LengthFault, Money, Pointer, Stated, read_length};
use dryfit_plan::{Draft, Edit};
use serde::Serialize;

use super::number::{Number, Run, number, rich};
use crate::open::Project;

/// What a text reads as so far.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Echo {
    /// The number, if it reads as one.
    pub number: Option<Number>,
    /// "reads as 97 1/2 in", or why it does not and what would do.
    pub says: Vec<Run>,
    /// Where the fault begins, in characters; none where there is none.
    pub fault_at: Option<u32>,
}

/// Why a typed text is not taken. Nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}")]
pub struct TypedFault {
    /// What is wrong and what would do.
    pub what: String,
    /// Where the fault begins, in characters.
    pub at: u32,
}

impl TypedFault {
    /// A fault of the whole text.
    pub fn whole(what: impl Into<String>) -> TypedFault {
        TypedFault { what: what.into(), at: 0 }
    }

    fn of(text: &str, fault: &LengthFault) -> TypedFault {
        let before = text.get(..fault.offset).unwrap_or(text).chars().count();
        TypedFault { what: fault.to_string(), at: u32::try_from(before).unwrap_or_default() }
    }
}

/// The length that a text says, in the unit the plan is entered in where it names none.
pub(crate) fn length(project: &Project, text: &str) -> Result<Stated, TypedFault> {
    let text = text.trim();
    read_length(text, project.plan.entry_unit).map_err(|fault| TypedFault::of(text, &fault))
}

/// What a text reads as so far.
pub fn echo(project: &Project, text: &str) -> Echo {
    match length(project, text) {
        Ok(stated) => {
            let number = number(stated.length, project.plan.fineness);
            let says = rich(&format!("reads as {stated}"));
            Echo { number: Some(number), says, fault_at: None }
        }
        Err(fault) => Echo { number: None, says: rich(&fault.what), fault_at: Some(fault.at) },
    }
}

/// The edit that states what was typed at a place: a length, money, or one line of text, as what stands there is.
///
/// A reading keeps the text as it was typed. "about" before a reading marks its doubt; a minus or "in" makes a
/// lean lean in.
///
/// # Errors
/// When it does not read as what belongs there.
pub fn given(project: &Project, at: &Pointer, text: &str) -> Result<Edit, TypedFault> {
    let text = text.trim();
    let parts: Vec<String> = at.segments().map(|part| part.to_string()).collect();
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let json = project.plan.to_json();
    let stands = json.pointer(at.as_str());
    match parts.as_slice() {
        ["readings", key, "length"] => reading(project, key, at, text),
        ["units", key, "width"] | ["units", key, "width", "given"] => {
            let stated = positive(project, text)?;
            Ok(Draft::of(&project.plan)
                .set(
                    &Pointer::root().child("units").child(key).child("width"),
                    serde_json::json!({ "given": stated }),
                )
                .edit(format!("make {key} {stated} wide")))
        }
        [.., "price"] => {
            let money: Money = text
                .trim_start_matches(|c: char| !c.is_ascii_digit() && c != '-')
                .parse()
                .map_err(|fault: dryfit_measure::TextFault| TypedFault::whole(fault.to_string()))?;
            Ok(Edit::set(
                &project.plan,
                at,
                money,
                format!("price of {} {money}", parts.get(1).unwrap_or(&"")),
            ))
        }
        _ if stands.and_then(|value| value.as_str()).is_some_and(|value| value.parse::<Stated>().is_ok())
            || is_length(&parts) =>
        {
            let stated = length(project, text)?;
            Ok(Edit::set(&project.plan, at, stated, format!("{} {stated}", said(&parts))))
        }
        _ if stands.is_none_or(serde_json::Value::is_string) => {
            if text.is_empty() {
                return Err(TypedFault::whole("say something here, or leave it as it was"));
            }
            Ok(Edit::set(&project.plan, at, text, format!("{} \"{text}\"", said(&parts))))
        }
        _ => Err(TypedFault::whole("this is not stated in one line")),
    }
}

/// Places that hold a length though nothing may stand there yet.
fn is_length(parts: &[&str]) -> bool {
    matches!(parts, ["units", _, "depth"] | ["units", _, "height", "given"] | ["room", "ceiling_about"])
}

fn positive(project: &Project, text: &str) -> Result<Stated, TypedFault> {
    let stated = length(project, text)?;
    if stated.length > Length::ZERO {
        Ok(stated)
    } else {
        Err(TypedFault::whole("a width is more than nothing"))
    }
}

fn reading(project: &Project, key: &str, at: &Pointer, text: &str) -> Result<Edit, TypedFault> {
    let (about, rest) = match text.strip_prefix("about ") {
        Some(rest) => (true, rest.trim()),
        None => (false, text),
    };
    let (lean_in, rest) = match rest.strip_suffix(" in").or_else(|| rest.strip_prefix("in ")) {
        Some(stripped) if is_lean(project, key) => (true, stripped.trim()),
        _ => (false, rest.trim_end_matches(" out").trim_start_matches("out ").trim()),
    };
    let stated = length(project, rest)?;
    let stated = if lean_in && !stated.length.is_negative() {
        Stated::new(-stated.length, stated.unit)
    } else {
        stated
    };
    let here = Pointer::root().child("readings").child(key);
    let mut draft = Draft::of(&project.plan).set(at, stated).set(&here.child("text"), rest);
    draft = if about { draft.set(&here.child("doubt"), "about") } else { draft.remove(&here.child("doubt")) };
    Ok(draft.edit(format!("read {key} as {stated}")))
}

fn is_lean(project: &Project, key: &str) -> bool {
    let reading = project.plan.readings.iter().find(|(known, _)| known.as_str() == key);
    reading.is_some_and(|(_, reading)| matches!(reading.of, dryfit_plan::Subject::Lean { .. }))
}

/// An address in words: "b4 depth".
fn said(parts: &[&str]) -> String {
    let skipped: Vec<&str> = parts.iter().skip(1).copied().filter(|part| *part != "given").collect();
    if skipped.is_empty() { parts.join(" ") } else { skipped.join(" ").replace(['-', '_'], " ") }
}
