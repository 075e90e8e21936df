//! A sheet to cut: settings in order, and the sheet as it lies.

use std::collections::BTreeMap;

use dryfit_drawing::Drawing;
use dryfit_stages::layouts::{CutWay, Offcut, Setting as Fence, SheetLayout, SheetStack};
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::drawings;
use crate::material::{Material, Wait, key};
use crate::names::capital;
use crate::pages::gate_number;
use crate::words::{Span, Words};

/// A sheet.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Sheet {
    /// Settings of fence or stop, in order, each with all cuts made at it.
    pub settings: Vec<Setting>,
    /// The sheet with its cuts.
    pub drawing: Option<Drawing>,
    /// What the lines mean.
    pub legend: Words,
    /// What is kept.
    pub offcuts: Vec<Words>,
}

/// One setting.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Setting {
    /// From blade to fence or stop.
    pub fence: String,
    /// The numbers of the cuts: "2, 3".
    pub cuts: String,
    /// What they free.
    pub gives: Words,
    /// "rip" or "cross".
    pub way: String,
}

/// What the layouts call a piece that is cut further.
const STRIP: &str = "strip";

/// The pages of one sheet of a stack: settings and sheet on one where both go on it, else one after the other.
pub(crate) fn sheet(m: &Material<'_>, stack: &SheetStack, index: usize) -> Vec<Page> {
    let layout = &stack.sheets[index];
    let settings: Vec<Setting> = layout.settings.iter().map(|fence| setting(m, layout, fence)).collect();
    let (offcuts, why) = (offcuts(m, layout), least(m, stack));
    let legend = Words::from("Thick edge: first against the fence. Cuts in the order of their flags.");
    let good = m.plan.goods.get(&stack.good).map_or_else(|| stack.good.to_string(), |good| good.name.clone());
    let name = format!("{}, sheet {} of {}", capital(&good), index + 1, stack.sheets.len());
    let one = drawings::sheet_fits(m, layout.cuts.len(), &settings, [&offcuts, &why]);
    let shown: &[Setting] = if one { &settings } else { &[] };
    let drawing = drawings::sheet(m, stack, index, shown, [&offcuts, &why]);
    let (own, after) = (key::sheet(&stack.good, index), format!("{}/drawn", key::sheet(&stack.good, index)));
    let sheet =
        |settings, drawing, legend, offcuts| Body::Sheet(Sheet { settings, drawing, legend, offcuts });
    let mut pages = if one {
        vec![Page::new(own, name, inputs(m, stack, layout), sheet(settings, drawing, legend, offcuts))]
    } else {
        vec![
            Page::new(
                own,
                format!("{name}: settings"),
                inputs(m, stack, layout),
                sheet(settings, None, Words::new(), Vec::new()),
            ),
            Page::new(after, name, inputs(m, stack, layout), sheet(Vec::new(), drawing, legend, offcuts)),
        ]
    };
    if let Some(page) = pages.last_mut() {
        page.why = why;
        page.blanks = vec![Blank::planned("kerf", m.names.stock(stack.kerf))];
        if let Some(dryfit_plan::Form::Sheet(form)) = m.plan.goods.get(&stack.good).map(|good| &good.form) {
            page.blanks.push(Blank::planned("sheet thickness", m.names.stock(form.thickness.length)));
        }
    }
    pages
}

/// "birch ply 23/32, 48 × 96 · kerf 1/8 · drawn as it lies: good face down".
fn inputs(m: &Material<'_>, stack: &SheetStack, layout: &SheetLayout) -> String {
    let from = match &layout.lot {
        Some(lot) => {
            let stands = m.plan.lots.get(lot).and_then(|lot| lot.stands.clone());
            format!(" · on hand{}", stands.map(|where_| format!(", {where_}")).unwrap_or_default())
        }
        None => String::new(),
    };
    format!(
        "{}, {} × {}{from} · kerf {} · drawn as it lies: good face down",
        m.names.good(&stack.good),
        m.names.stock(layout.width),
        m.names.stock(layout.length),
        m.names.stock(stack.kerf),
    )
}

/// A setting in words: the pieces that its cuts free, then what is cut further or kept.
pub(crate) fn setting(m: &Material<'_>, layout: &SheetLayout, fence: &Fence) -> Setting {
    let freed = layout.pieces.iter().filter(|piece| fence.cuts.contains(&piece.freed_by));
    let mut labels: Vec<&str> = freed.map(|piece| piece.label.as_str()).collect();
    // labels of pieces may hold commas; everything else that is listed holds none
    let pieces =
        |listed: &&str| layout.pieces.iter().any(|piece| piece.label.split(", ").any(|part| part == *listed));
    labels.extend(fence.gives.split(", ").filter(|listed| !pieces(listed)));
    let takes = fence.takes.map(|takes| format!(", takes {} off", m.names.length(takes)));
    Setting {
        fence: fence.setting.map_or_else(|| "–".to_owned(), |setting| m.names.length(setting)),
        cuts: runs(&fence.cuts),
        gives: (gathered(m, &labels) + &takes.unwrap_or_default()).into(),
        way: match fence.way {
            CutWay::Rip => "rip",
            CutWay::Cross => "cross",
        }
        .to_owned(),
    }
}

/// "1, 4–6, 9".
pub(crate) fn runs(numbers: &[u32]) -> String {
    let mut runs: Vec<[u32; 2]> = Vec::new();
    for &n in numbers {
        match runs.last_mut() {
            Some(run) if run[1] + 1 == n => run[1] = n,
            _ => runs.push([n, n]),
        }
    }
    let told = runs.iter().map(|&[a, b]| match b - a {
        0 => a.to_string(),
        1 => format!("{a}, {b}"),
        _ => format!("{a}–{b}"),
    });
    told.collect::<Vec<_>>().join(", ")
}

/// Why so many and no fewer.
pub(crate) fn least(m: &Material<'_>, stack: &SheetStack) -> Vec<Words> {
    // that one sheet is needed at all wants no proof
    if stack.why.is_empty() || stack.least <= 1 {
        return Vec::new();
    }
    let why = Words::from(m.names.tidy(&stack.why));
    vec![if stack.proven { why.strong(". Proven.") } else { why }]
}

/// What to keep.
fn offcuts(m: &Material<'_>, layout: &SheetLayout) -> Vec<Words> {
    let mut lines = Vec::new();
    if !layout.offcuts.is_empty() {
        let named = |o: &Offcut| format!("{} {}", o.name, m.names.leftover(o.rect.length, o.rect.width));
        let kept: Vec<String> = layout.offcuts.iter().map(named).collect();
        lines.push(Words::bold("Offcuts to keep: ").plain(kept.join(", ")));
    }
    lines.extend(waiting(m, layout));
    lines
}

/// What on this sheet or board waits for a gate or for readings.
pub(crate) fn waiting(m: &Material<'_>, layout: &SheetLayout) -> Vec<Words> {
    let mut waits: BTreeMap<Wait, Vec<&str>> = BTreeMap::new();
    for piece in &layout.pieces {
        if let Some(wait) = m.waits(&piece.path) {
            waits.entry(wait).or_default().push(&piece.label);
        }
    }
    let told = |(wait, labels): (&Wait, &Vec<&str>)| {
        let which =
            if labels.len() == layout.pieces.len() { "all of it".to_owned() } else { gathered(m, labels) };
        let words = match wait {
            Wait::Gate(gate) => {
                Words::new().with(Span::Gate(gate_number(*gate))).plain(" leave until then: ")
            }
            Wait::Readings => Words::bold("HELD BACK").plain(" leave until the readings are taken: "),
        };
        words.strong(which)
    };
    waits.iter().map(told).collect()
}

/// Labels told shortly: equal ones counted, units of one part together, strips by their letters:
/// "b2 × 2, b3 drawer side; strips K, L".
fn gathered(m: &Material<'_>, labels: &[&str]) -> String {
    // what follows the unit's key, and the keys with how many of each
    let mut parts: Vec<(&str, Vec<(&str, usize)>)> = Vec::new();
    for label in labels {
        let of_unit = label
            .split_once(' ')
            .filter(|(first, _)| *first == STRIP || m.plan.units.keys().any(|unit| unit.as_str() == *first));
        let (part, who) = match of_unit {
            Some((STRIP, letter)) => (STRIP, letter),
            Some((unit, part)) => (part, unit),
            None => (*label, ""),
        };
        let place = parts.iter().position(|(known, _)| *known == part).unwrap_or_else(|| {
            parts.push((part, Vec::new()));
            parts.len() - 1
        });
        let users = &mut parts[place].1;
        match users.iter_mut().find(|(known, _)| *known == who) {
            Some((_, count)) => *count += 1,
            None => users.push((who, 1)),
        }
    }
    let counted = |(who, count): &(&str, usize)| {
        if *count > 1 { format!("{who} × {count}") } else { (*who).to_owned() }
    };
    let told = |(part, users): &(&str, Vec<(&str, usize)>)| {
        let users: Vec<String> = users.iter().map(counted).collect();
        let users = users.join(", ");
        match *part {
            STRIP if users.contains(',') => format!("strips {users}"),
            STRIP => format!("strip {users}"),
            _ if users.is_empty() || users.starts_with(' ') => format!("{part}{users}"),
            _ => format!("{users} {part}"),
        }
    };
    parts.iter().map(told).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cut_numbers_close_up_where_they_follow_each_other() {
        assert_eq!(runs(&[]), "");
        assert_eq!(runs(&[7]), "7");
        assert_eq!(runs(&[2, 3]), "2, 3");
        assert_eq!(runs(&[1, 4, 5, 6, 9]), "1, 4–6, 9");
    }

    #[test]
    fn labels_are_told_by_part_and_counted() {
        let plan = dryfit_plan::Plan::from_toml(include_str!("../../../../demos/potting-room.toml"));
        let plan = plan.expect("a sound plan").plan;
        let budget = dryfit_cutting::Budget { steps: 0, seed: 1 };
        let derived = dryfit_stages::run(&plan, &dryfit_stages::layouts::Answers::new(), budget);
        let m = Material::new(&plan, &derived, crate::Paper::Letter);
        let labels =
            ["b2 drawer side", "strip K", "b3 drawer side", "b2 drawer side", "strip L", "O1", "spare rail"];
        assert_eq!(gathered(&m, &labels), "b2 × 2, b3 drawer side; strips K, L; O1; spare rail");
        assert_eq!(gathered(&m, &["set-up stock", "set-up stock"]), "set-up stock × 2");
        assert_eq!(gathered(&m, &[]), "");
    }
}
