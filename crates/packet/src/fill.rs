//! All pages of a packet, in the order in which they are used.

use dryfit_plan::{Form, Plan};
use dryfit_stages::Derived;
use dryfit_stages::casework::BuiltUnit;
use dryfit_stages::layouts::SheetStack;

use crate::PacketOptions;
use crate::data::{PacketData, Page};
use crate::material::Material;
use crate::pages;
use crate::paper::Paper;

pub(crate) fn fill(plan: &Plan, derived: &Derived, options: &PacketOptions) -> PacketData {
    let paper = options.paper.unwrap_or_else(|| Paper::usual(plan.fineness.unit()));
    let mut m = Material::new(plan, derived, paper);
    m.plain = options.plain;
    let mut all = vec![pages::room(&m)];
    let walls = derived.survey.walls.iter().filter(|wall| stands_something(&m, &wall.key));
    all.extend(walls.map(|wall| pages::wall(&m, &wall.key)));
    all.extend(pages::rough_ins(&m));
    all.extend(derived.surfaces.fields.iter().filter_map(|field| pages::field(&m, field)));
    for unit in &derived.casework.units {
        all.extend(unit_pages(&m, unit));
    }
    all.extend(pages::strips(&m));
    for stack in &derived.layouts.sheets {
        all.extend((0..stack.sheets.len()).flat_map(|index| pages::sheet(&m, stack, index)));
    }
    for stack in &derived.layouts.boards {
        let spreads = pages::spreads(&m, stack).into_iter().enumerate();
        all.extend(spreads.map(|(page, spread)| pages::board(&m, stack, page, spread)));
    }
    for unit in &derived.casework.units {
        all.extend(pages::leaves(&m, unit).iter().map(|leaf| pages::door(&m, leaf)));
    }
    all.extend(pages::worktops(&m));
    all.extend(pages::trims(&m));
    all.extend(pages::paints(&m));
    all.push(pages::cut_list(&m));
    all.extend(pages::buy(&m));
    all.extend(pages::order(&m));
    all.extend(pages::bars(&m));
    all.extend(pages::costs(&m));
    all.extend(pages::findings(&m));
    all.insert(0, pages::cover(&m, &all));
    PacketData {
        title: format!("{}, release {}", plan.name, derived.release.number),
        project: plan.name.clone(),
        release: derived.release.number,
        date: options.date.clone(),
        footing: footing(&m),
        paper,
        pages: all,
    }
}

fn stands_something(m: &Material<'_>, wall: &dryfit_measure::Key) -> bool {
    m.derived.placement.units.iter().any(|unit| unit.wall == *wall)
}

/// A unit's pages and those of its parts that have one of their own, unless an earlier unit's shows the same.
fn unit_pages(m: &Material<'_>, unit: &BuiltUnit) -> Vec<Page> {
    let numbered = pages::numbered_box(m, unit);
    if numbered.lots.is_empty() || pages::is_strip(m, unit) {
        return Vec::new();
    }
    let mut own = pages::unit(m, unit, &numbered);
    for part in unit.parts.iter().filter(|part| pages::has_page(unit, part)) {
        let alike = m.units_with(unit, part);
        if alike.first().is_some_and(|first| first.key == unit.key) {
            own.push(pages::part(m, &alike, part));
        }
    }
    own
}

/// "inches; birch ply measured 23/32": the unit, and the sheet that most is cut from.
fn footing(m: &Material<'_>) -> String {
    let most = |stack: &&SheetStack| stack.sheets.iter().map(|sheet| sheet.pieces.len()).sum::<usize>();
    let sheet = m.derived.layouts.sheets.iter().max_by_key(most);
    let measured = sheet.and_then(|stack| match &m.plan.goods.get(&stack.good)?.form {
        Form::Sheet(form) => Some(format!("; sheet measured {}", m.names.stock(form.thickness.length))),
        _ => None,
    });
    format!("{}{}", m.names.unit_of_length(), measured.unwrap_or_default())
}
