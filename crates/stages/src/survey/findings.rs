//! What there is to say about the readings.

use std::fmt::Write as _;

use dryfit_handbook::Source;
use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{Plan, Reading, Subject, UsedIn};

use super::blunder::limit;
use super::measured::Solved;
use super::network::Equation;
use super::next::{settling, words};
use super::observe::{Observed, Taken, place};
use super::suspect::{Suspect, passes_without};
use super::walk::Ring;
use super::{Spot, Survey};
use crate::finding::{Finding, Fix, Severity};

/// An error beyond which something will not go in: 1/4 in. Common practice, no source.
const GRAVE: f64 = 6.35;

/// Everything to say about an adjusted survey.
pub(crate) fn findings(
    plan: &Plan,
    ring: &Ring,
    observed: &Observed,
    solved: &Solved,
    suspects: &[Suspect],
    survey: &Survey,
) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(undetermined(plan, ring, solved, survey));
    for suspect in suspects {
        found.push(suspected(plan, ring, observed, suspect, survey));
    }
    if suspects.is_empty() && !survey.passes {
        found.push(disagree(observed, solved, survey));
    }
    if !solved.adjusted.converged {
        let what = "the readings contradict each other so far that no room fits them".to_owned();
        let at = Pointer::root().child("readings");
        found.push(Finding::unresolved("survey/no-fit", ring.corners.clone(), at, what));
    }
    for (key, reading) in &plan.readings {
        found.extend(unusable(ring, observed, key, reading));
    }
    found.extend(unused_instruments(plan));
    found
}

fn method() -> Source {
    Source::Standard {
        name: "Baarda, A testing procedure for use in geodetic networks (1968)".to_owned(),
        clause: "data snooping, alpha 0.001, power 0.80".to_owned(),
    }
}

fn undetermined(plan: &Plan, ring: &Ring, solved: &Solved, survey: &Survey) -> Option<Finding> {
    if solved.held.is_empty() {
        return None;
    }
    let needed = settling(plan, ring, survey, solved.held.len());
    let what = match needed.as_slice() {
        [] => "the readings leave the shape of the room open".to_owned(),
        [one] => format!("the readings leave the shape of the room open; one more would settle it: {one}"),
        several => format!(
            "the readings leave the shape of the room open; {} more would settle it: {}",
            several.len(),
            several.join(", ")
        ),
    };
    let at = Pointer::root().child("readings");
    Some(Finding::unresolved("survey/undetermined", ring.corners.clone(), at, what))
}

fn suspected(plan: &Plan, ring: &Ring, observed: &Observed, suspect: &Suspect, survey: &Survey) -> Finding {
    let members: Vec<&Taken> = suspect.group.iter().map(|&index| &observed.taken[index]).collect();
    let first = members[0];
    let show = |mm: f64| Length::from_mm_f64(mm).figure(plan.fineness, Toward::Nearest).to_string();
    let error = show(suspect.error.abs());
    let slips =
        |index: usize| suspect.slips.iter().find(|(member, _)| *member == index).map(|(_, slip)| slip);
    let line = |set: &Vec<usize>| {
        let names: Vec<String> = set.iter().map(|&i| format!("`{}`", observed.taken[i].key)).collect();
        format!("{} ({})", words(plan, ring, observed.taken[set[0]].equation), names.join(", "))
    };
    let together = suspect.aside.iter().any(|set| set.len() > 1);
    let mut what = if together {
        let lines: Vec<String> = suspect.aside.iter().map(line).collect();
        let apart = if lines.len() > 1 { "; the readings cannot tell which" } else { "" };
        format!("every reading of {} is off in the same way{apart}", lines.join(", or of "))
    } else if members.len() == 1 {
        let (asked, over) =
            (show(first.read - suspect.error), if suspect.error > 0.0 { "more" } else { "less" });
        format!(
            "`{}` ({}) says {}, {error} {over} than the other readings ask for: {asked}",
            first.key,
            words(plan, ring, first.equation),
            typed(plan, &first.key)
        )
    } else {
        let names: Vec<String> = members.iter().map(|t| format!("`{}`", t.key)).collect();
        format!(
            "one of {} is off, by about {error} if it is `{}`; they cannot be told apart",
            names.join(", "),
            first.key
        )
    };
    let mut fixes = Vec::new();
    for (&index, taken) in suspect.group.iter().zip(&members) {
        let Some(slip) = slips(index) else { continue };
        let unit = plan.readings[&taken.key].length.unit;
        let likely = Stated::new(slip.length, unit);
        let _ = write!(what, "; `{}` may be {likely}, {}", taken.key, slip.how);
        fixes.push(reread(plan, taken, likely, &slip.how));
    }
    for set in &suspect.aside {
        let taken = || set.iter().map(|&index| &observed.taken[index]);
        let names: Vec<String> = taken().map(|taken| format!("`{}`", taken.key)).collect();
        let again = if set.len() > 1 { "them" } else { "it" };
        let label = format!("set {} aside, and tape {again} again", names.join(" and "));
        let one = |taken: &Taken| {
            Fix::add(label.clone(), &taken.at.child("set_aside"), &"does not fit the other readings")
        };
        fixes.extend(taken().map(one).reduce(Fix::and));
    }
    let severity = if suspect.error.abs() >= GRAVE { Severity::Stop } else { Severity::Look };
    let mut because: Vec<Dim> = Vec::new();
    for taken in &members {
        because.push(
            Dim::taped(Length::from_mm_f64(taken.read), taken.at.clone())
                .named("reading")
                .placed(taken.key.as_str()),
        );
    }
    because
        .extend(adjusted(first.equation, survey).map(|dim| dim.named("adjusted").placed(first.key.as_str())));
    Finding {
        severity,
        because,
        source: method(),
        fixes,
        ..Finding::unresolved(
            "survey/suspect-reading",
            members.iter().map(|t| t.key.clone()).collect(),
            first.at.clone(),
            what,
        )
    }
}

/// The number as typed, and the unit it was read in.
fn typed(plan: &Plan, key: &Key) -> String {
    plan.readings.get(key).map_or_else(String::new, |reading| reading.length.to_string())
}

/// Puts the likely number in the place of a reading's.
fn reread(plan: &Plan, taken: &Taken, likely: Stated, how: &str) -> Fix {
    let reading = &plan.readings[&taken.key];
    let label = format!("make `{}` {likely} ({how})", taken.key);
    let length = Fix::replace(label, &taken.at.child("length"), &reading.length, &likely);
    length.and(Fix::replace("", &taken.at.child("text"), &reading.text, &likely.to_string()))
}

/// What the adjusted room gives for a distance.
fn adjusted(equation: Equation, survey: &Survey) -> Option<Dim> {
    let Equation::Distance { from, to, height, .. } = equation else { return None };
    let spot = |corner: usize| Spot::Corner {
        corner: survey.corners[corner].key.clone(),
        up: Length::from_mm_f64(height) - survey.rise,
    };
    survey.distance(&spot(from), &spot(to))
}

fn disagree(observed: &Observed, solved: &Solved, survey: &Survey) -> Finding {
    let what = format!(
        "the readings disagree by more than the tape explains (weighted squares {:.1}, and chance allows {:.1}), \
         and no single one stands out",
        solved.adjusted.ssq,
        limit(survey.redundancy)
    );
    let mut used: Vec<&Taken> = observed.taken.iter().filter(|t| t.observation.is_some()).collect();
    let size = |t: &Taken| t.observation.map_or(0.0, |o| solved.checks.each[o].w.abs());
    used.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let subjects = used.iter().take(3).map(|t| t.key.clone()).collect();
    let set_aside = |taken: &&Taken| {
        let label = format!("set `{}` aside, and tape it again", taken.key);
        Fix::add(label, &taken.at.child("set_aside"), &"disagrees most with the other readings")
    };
    let cures = |taken: &&&Taken| {
        taken.observation.is_some_and(|o| passes_without(&solved.network, &solved.adjusted, o))
    };
    let fixes = used.iter().take(3).filter(cures).map(set_aside).collect();
    let at = Pointer::root().child("readings");
    let finding = Finding::unresolved("survey/readings-disagree", subjects, at, what);
    Finding { severity: Severity::Look, source: method(), fixes, ..finding }
}

/// A reading that takes no part though nobody set it aside, or that lacks something.
fn unusable(ring: &Ring, observed: &Observed, key: &Key, reading: &Reading) -> Option<Finding> {
    if reading.set_aside.is_some() {
        return None;
    }
    let at = place(key);
    let subjects = vec![key.clone()];
    let taken = observed.taken.iter().find(|t| t.key == *key);
    match (&reading.of, taken) {
        (Subject::Span { from, to } | Subject::Diagonal { from, to }, None) if from == to => {
            let what = format!("`{key}` goes from `{from}` to itself");
            Some(Finding::unresolved("survey/reading-of-nothing", subjects, at, what))
        }
        (Subject::Lean { wall }, None) if ring.wall(wall).is_some() => {
            let what = format!("`{key}` is a lean without the height of its upper point");
            Some(Finding::unresolved("survey/no-height", subjects, at, what))
        }
        (Subject::Span { .. } | Subject::Diagonal { .. }, Some(taken)) if taken.read <= 0.0 => {
            let what = format!("`{key}` says {}, and a distance is more than nothing", reading.length);
            let aside = Fix::add(format!("set `{key}` aside"), &at.child("set_aside"), &"no distance");
            let finding = Finding::unresolved("survey/reading-of-nothing", subjects, at, what);
            Some(Finding { fixes: vec![aside], ..finding })
        }
        (_, Some(taken)) if taken.observation.is_none() => {
            let what = format!(
                "`{key}` was taken in epoch `{}`, when the room was another; the room is adjusted in the epoch with \
                 the most readings",
                reading.epoch
            );
            let finding = Finding::unresolved("survey/other-epoch", subjects, at, what);
            Some(Finding { severity: Severity::Note, ..finding })
        }
        (Subject::Span { .. } | Subject::Diagonal { .. }, Some(_)) if reading.height.is_none() => {
            let what = format!("`{key}` has no height; it is taken as read at the floor");
            let finding = Finding::unresolved("survey/height-not-stated", subjects, at, what);
            Some(Finding { severity: Severity::Note, ..finding })
        }
        _ => None,
    }
}

fn unused_instruments(plan: &Plan) -> Vec<Finding> {
    let unused = plan.instruments.iter().filter(|(key, instrument)| {
        instrument.used_in == [UsedIn::Survey] && !plan.readings.values().any(|reading| reading.by == **key)
    });
    let note = |(key, _): (&Key, _)| {
        let at = Pointer::root().child("instruments").child(key);
        let what = format!("no reading was taken with `{key}`");
        let finding = Finding::unresolved("survey/unused-instrument", vec![key.clone()], at, what);
        Finding { severity: Severity::Note, ..finding }
    };
    unused.map(note).collect()
}
