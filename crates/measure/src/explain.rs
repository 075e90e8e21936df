//! A dimension's reason in words, a line for each cause.

use crate::dim::Dim;
use crate::figure::Rounding;
use crate::length::Length;
use crate::pointer::Pointer;
use crate::reason::{Reason, Term};
use crate::trace::Trace;
use crate::unit::{Fineness, Toward};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// One line of an explanation.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
pub struct Line {
    /// How many steps behind the dimension that was asked about: how far to indent.
    pub depth: usize,
    /// `inside width 22 9/16 in = unit width 24 in - 2 x side 23/32 in`.
    pub text: String,
}

/// The most dimensions that one line lists; the rest is folded.
const LISTED: usize = 8;
/// The most readings of an adjustment that its line names.
const READINGS: usize = 3;
/// What a cause one step further behind counts against one that is nearer.
const NEARNESS: f64 = 0.5;

/// The chain of causes behind a dimension, figures filled in at `fineness`.
///
/// The first line is the dimension; under each stand its causes, those that weigh most first, and a shared one
/// once. There are at most `limit` lines: where there are more causes, those that weigh least and lie furthest
/// behind are folded into words ("and 14 more readings"). A figure that is not exact at `fineness` is printed
/// as "about".
///
/// ```
/// use dryfit_measure::{Dim, Fineness, Length, Pointer, explain};
/// let at = |text: &str| Pointer::parse(text).unwrap();
/// let low = Dim::taped(Length::mm(900), at("/readings/r1")).named("width at the floor");
/// let high = Dim::taped(Length::mm(903), at("/readings/r2")).named("width at the top");
/// let clear = Dim::least([high, low]).named("clear width");
/// let lines = explain(&clear, Fineness::Mm1, 10);
/// assert_eq!(lines[0].text, "clear width 900 mm = least of width at the floor 900 mm, width at the top 903 mm");
/// assert_eq!(lines[1].text, "width at the floor 900 mm: taped at /readings/r1");
/// assert_eq!(explain(&clear, Fineness::Mm1, 2)[1].text, "and 2 more readings");
/// ```
pub fn explain(dim: &Dim, fineness: Fineness, limit: usize) -> Vec<Line> {
    let trace = Trace::of(dim);
    let mut shown = pick(&trace, limit);
    let mut rest = folded(&trace, &shown);
    if rest.is_some() && shown.len() == limit && limit > 1 {
        shown.pop();
        rest = folded(&trace, &shown);
    }
    let text = |cause: &Cause| Line { depth: cause.depth, text: line(trace.dims[cause.index], fineness) };
    let mut lines: Vec<Line> = in_reading_order(&shown).into_iter().map(text).collect();
    if let Some(rest) = rest {
        if lines.len() < limit {
            lines.push(Line { depth: 1, text: format!("and {rest}") });
        } else if let Some(last) = lines.last_mut() {
            last.text = format!("{}; and {rest}", last.text);
        }
    }
    lines
}

/// The first line of [`explain`]: the dimension and its nearest causes.
pub fn because(dim: &Dim, fineness: Fineness) -> String {
    line(dim, fineness)
}

/// A dimension that gets a line of its own.
struct Cause {
    /// Its place in the trace.
    index: usize,
    /// Which of the picked causes it stands under; the first stands under none.
    under: usize,
    depth: usize,
    importance: f64,
}

/// The `limit` causes that matter most, each under the cause that it was reached from, most important first. The
/// way down to the adjusted number that weighs most comes before everything else: a size that rests on the
/// survey has to show it.
fn pick(trace: &Trace<'_>, limit: usize) -> Vec<Cause> {
    let weights = trace.weights();
    let way = way_to_the_survey(trace, &weights);
    let cause = |index: usize, under: usize, depth: usize| {
        let importance = if way.contains(&index) {
            f64::INFINITY
        } else {
            (weights[index] * trace.dims[index].length().as_mm_f64()).abs() * NEARNESS.powf(depth as f64)
        };
        Cause { index, under, depth, importance }
    };
    let mut picked: Vec<Cause> = Vec::new();
    let mut known = BTreeSet::new();
    let mut open = vec![cause(trace.dims.len() - 1, 0, 0)];
    while picked.len() < limit {
        // the first of the greatest, so that equals keep the order in which they were written
        let best = (0..open.len()).reduce(|a, b| if open[b].importance > open[a].importance { b } else { a });
        let Some(best) = best else { break };
        let next = open.remove(best);
        if !known.insert(next.index) {
            continue;
        }
        let under = picked.len();
        for &(input, _) in causes(trace, next.index) {
            if has_own_line(trace.dims[input]) {
                open.push(cause(input, under, next.depth + 1));
            }
        }
        picked.push(next);
    }
    picked
}

/// The causes of a dimension on the shortest way from the first to the adjusted one that weighs most.
fn way_to_the_survey(trace: &Trace<'_>, weights: &[f64]) -> BTreeSet<usize> {
    let first = trace.dims.len() - 1;
    let mut from: BTreeMap<usize, usize> = BTreeMap::new();
    let mut open = VecDeque::from([first]);
    while let Some(index) = open.pop_front() {
        for &(input, _) in causes(trace, index) {
            if input != first && !from.contains_key(&input) {
                from.insert(input, index);
                open.push_back(input);
            }
        }
    }
    let adjusted = |index: &usize| matches!(trace.dims[*index].reason(), Reason::Adjusted { .. });
    let heaviest = from
        .keys()
        .copied()
        .filter(adjusted)
        .reduce(|a, b| if weights[b].abs() > weights[a].abs() { b } else { a });
    std::iter::successors(heaviest, |index| from.get(index).copied()).collect()
}

/// The dimension that another one only passes on, under another name or rounded: the two share a line.
fn passed_on(dim: &Dim) -> Option<&Dim> {
    match dim.reason() {
        Reason::Sum { terms } => match &terms[..] {
            [Term { times: 1, dim }] if !dim.reason().is_leaf() => Some(dim),
            _ => None,
        },
        Reason::Rounded { of, .. } | Reason::Decided { of, .. } => {
            (of.name().is_none() && of.place().is_none() && !of.reason().is_leaf()).then_some(of)
        }
        _ => None,
    }
}

/// The causes of a dimension, those of what it passes on included.
fn causes<'t>(trace: &'t Trace<'_>, index: usize) -> &'t [(usize, f64)] {
    match (passed_on(trace.dims[index]), trace.inputs[index].as_slice()) {
        (Some(_), [(input, _)]) => causes(trace, *input),
        (_, inputs) => inputs,
    }
}

/// The causes as they are read: each followed by those under it.
fn in_reading_order(picked: &[Cause]) -> Vec<&Cause> {
    let mut under: Vec<Vec<usize>> = vec![Vec::new(); picked.len()];
    for (i, cause) in picked.iter().enumerate().skip(1) {
        under[cause.under].push(i);
    }
    let mut order = Vec::with_capacity(picked.len());
    let mut open: Vec<usize> = (0..picked.len().min(1)).collect();
    while let Some(i) = open.pop() {
        order.push(&picked[i]);
        open.extend(under[i].iter().rev());
    }
    order
}

/// A leaf without a name is told in the line of what uses it.
fn has_own_line(dim: &Dim) -> bool {
    !dim.reason().is_leaf() || dim.name().is_some() || dim.place().is_some()
}

/// What is not told in the lines shown, in words, if anything.
fn folded(trace: &Trace<'_>, shown: &[Cause]) -> Option<String> {
    let mut told = BTreeSet::new();
    for cause in shown {
        let mut index = cause.index;
        told.insert(index);
        while let (Some(_), [(input, _)]) = (passed_on(trace.dims[index]), trace.inputs[index].as_slice()) {
            index = *input;
            told.insert(index);
        }
        let inputs = trace.inputs[index].iter().map(|&(input, _)| input);
        told.extend(inputs.filter(|&input| !has_own_line(trace.dims[input])));
    }
    let (told, rest): (Vec<usize>, Vec<usize>) = (0..trace.dims.len()).partition(|i| told.contains(i));
    let named = |indices: &[usize]| {
        let mut names = Names::default();
        for &i in indices {
            names.add(trace.dims[i].reason());
        }
        names
    };
    let (told, rest) = (named(&told), named(&rest));
    let counts = [
        (rest.readings.difference(&told.readings).count(), "reading"),
        (rest.choices.difference(&told.choices).count(), "choice"),
        (rest.rules.difference(&told.rules).count(), "rule"),
        (rest.steps, "step"),
    ];
    let words: Vec<String> = counts
        .iter()
        .filter(|(count, _)| *count > 0)
        .enumerate()
        .map(|(i, (count, noun))| {
            format!(
                "{count}{} {noun}{}",
                if i == 0 { " more" } else { "" },
                if *count == 1 { "" } else { "s" }
            )
        })
        .collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// What reasons name, and how many are steps between.
#[derive(Default)]
struct Names<'d> {
    readings: BTreeSet<&'d Pointer>,
    choices: BTreeSet<&'d Pointer>,
    rules: BTreeSet<&'d str>,
    steps: usize,
}

impl<'d> Names<'d> {
    fn add(&mut self, reason: &'d Reason) {
        match reason {
            Reason::Taped { at } => {
                self.readings.insert(at);
            }
            Reason::Adjusted { readings } => self.readings.extend(readings.iter().map(|(at, _)| at)),
            Reason::Chosen { at } => {
                self.choices.insert(at);
            }
            Reason::Rule { id } => {
                self.rules.insert(id);
            }
            Reason::Decided { by, .. } => {
                self.choices.extend(by.iter());
                self.steps += 1;
            }
            _ => self.steps += 1,
        }
    }
}

/// `inside width 22 9/16 in = unit width 24 in - 2 x side 23/32 in`.
fn line(dim: &Dim, fineness: Fineness) -> String {
    let value = figure(dim.length(), fineness);
    match (dim.reason().is_leaf(), has_own_line(dim)) {
        (false, _) => format!("{} = {}", title(dim, &value), cause(dim, fineness)),
        (true, true) => format!("{}: {}", title(dim, &value), cause(dim, fineness)),
        (true, false) => operand(dim, fineness),
    }
}

/// What stands behind a dimension: what its line says after the number.
fn cause(dim: &Dim, fineness: Fineness) -> String {
    let inner = |of: &Dim| match passed_on(dim) {
        Some(of) => format!("{},", cause(of, fineness)),
        None => operand(of, fineness),
    };
    match dim.reason() {
        Reason::Taped { at } => format!("taped at {at}"),
        Reason::Chosen { at } => format!("chosen at {at}"),
        Reason::Rule { id } => format!("rule {id}"),
        Reason::Adjusted { readings } => adjusted(readings),
        Reason::Sum { terms } => match passed_on(dim) {
            Some(of) => cause(of, fineness),
            None => sum(terms, fineness),
        },
        Reason::Share { of, parts, index } => {
            format!("part {} of {parts} of {}", index + 1, operand(of, fineness))
        }
        Reason::Extreme { least, winner, of } => extreme(*least, *winner, of, fineness),
        Reason::Rounded { of, fineness: marks, toward } => {
            let marks = match toward {
                Toward::Down => format!("rounded down to {marks}"),
                Toward::Up => format!("rounded up to {marks}"),
                Toward::Nearest => format!("rounded to the nearest {marks}"),
            };
            format!("{} {marks}", inner(of))
        }
        Reason::Scaled { of, factor, why } => {
            format!("{} x {}, {why}", short(*factor), operand(of, fineness))
        }
        Reason::Decided { of, by } => {
            let by = list(by.iter().map(Pointer::to_string));
            match passed_on(dim) {
                Some(of) => format!("{}, as chosen at {by}", cause(of, fineness)),
                None => format!("{}, as chosen at {by}", operand(of, fineness)),
            }
        }
        Reason::From { how, inputs } => {
            let inputs = list(inputs.iter().map(|(dim, _)| operand(dim, fineness)));
            format!("{how} of {inputs}")
        }
    }
}

/// `b3 inside width 22 9/16 in`, as far as the dimension has a place and a name.
fn title(dim: &Dim, value: &str) -> String {
    let words = [dim.place(), dim.name(), Some(value)];
    words.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// A dimension within the line of what uses it.
fn operand(dim: &Dim, fineness: Fineness) -> String {
    let titled = title(dim, &figure(dim.length(), fineness));
    match dim.reason() {
        _ if dim.name().is_some() || dim.place().is_some() => titled,
        Reason::Taped { at } => format!("{titled} taped at {at}"),
        Reason::Chosen { at } => format!("{titled} chosen at {at}"),
        Reason::Rule { id } => format!("{titled} by rule {id}"),
        _ => titled,
    }
}

/// A length at the nearest mark, "about" if that is not exact.
fn figure(length: Length, fineness: Fineness) -> String {
    let figure = length.figure(fineness, Toward::Nearest);
    if figure.off == Rounding::Exact { figure.to_string() } else { format!("about {figure}") }
}

/// `unit width 24 in - 2 x side 23/32 in`.
fn sum(terms: &[Term], fineness: Fineness) -> String {
    if terms.is_empty() {
        return "nothing".to_owned();
    }
    let listed = if terms.len() > LISTED + 1 { LISTED } else { terms.len() };
    let mut parts: Vec<(bool, String)> = terms[..listed]
        .iter()
        .map(|Term { times, dim }| {
            let operand = operand(dim, fineness);
            let text = match times.unsigned_abs() {
                1 => operand,
                times => format!("{times} x {operand}"),
            };
            (*times < 0, text)
        })
        .collect();
    if listed < terms.len() {
        let rest: Length = terms[listed..].iter().map(|term| term.dim.length() * term.times).sum();
        let text = format!("{} more, {} in all", terms.len() - listed, figure(rest.abs(), fineness));
        parts.push((rest.is_negative(), text));
    }
    let mut text = String::new();
    for (i, (negative, part)) in parts.iter().enumerate() {
        text.push_str(match (i, negative) {
            (0, false) => "",
            (0, true) => "-",
            (_, false) => " + ",
            (_, true) => " - ",
        });
        text.push_str(part);
    }
    text
}

/// `least of width at the floor 900 mm, width at the top 903 mm`: the winner, then those that came closest.
fn extreme(least: bool, winner: usize, of: &[Dim], fineness: Fineness) -> String {
    let mut order: Vec<usize> = (0..of.len()).collect();
    order.sort_by_key(|&i| (i != winner, (of[i].length() - of[winner].length()).abs()));
    let all = list(order.into_iter().map(|i| operand(&of[i], fineness)));
    format!("{} of {all}", if least { "least" } else { "greatest" })
}

/// `adjusted from 9 readings, most by /readings/r3 (0.91) and /readings/r4 (-0.05)`.
fn adjusted(readings: &[(Pointer, f64)]) -> String {
    let mut order: Vec<&(Pointer, f64)> = readings.iter().collect();
    order.sort_by(|(_, a), (_, b)| b.abs().total_cmp(&a.abs()));
    let named = |(at, slope): &&(Pointer, f64)| format!("{at} ({})", short(*slope));
    let most: Vec<String> = order.iter().take(READINGS).map(named).collect();
    match readings.len() {
        0 => "adjusted from no readings".to_owned(),
        1 => format!("adjusted from {}", most[0]),
        n if n <= READINGS => format!("adjusted from {}", most.join(", ")),
        n => format!("adjusted from {n} readings, most by {}", most.join(", ")),
    }
}

/// Two decimals, as many as a weight is read with; a small one in more, so that it does not vanish.
fn short(factor: f64) -> String {
    let text = match factor.abs() {
        small if small < 0.000_95 => format!("{factor:.6}"),
        small if small < 0.095 => format!("{factor:.4}"),
        _ => format!("{factor:.2}"),
    };
    match text.trim_end_matches('0').trim_end_matches('.') {
        "-0" => "0".to_owned(),
        trimmed => trimmed.to_owned(),
    }
}

/// The first few, and how many more.
fn list(items: impl Iterator<Item = String>) -> String {
    let mut items: Vec<String> = items.collect();
    if items.len() > LISTED + 1 {
        let more = items.len() - LISTED;
        items.truncate(LISTED);
        items.push(format!("and {more} more"));
    }
    items.join(", ")
}
