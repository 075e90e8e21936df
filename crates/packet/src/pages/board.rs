//! Boards of one good: each as a bar with its cuts, and the settings they are made with.

use std::ops::Range;

use dryfit_drawing::Drawing;
use dryfit_stages::layouts::SheetStack;
use serde::Serialize;

use crate::data::{Body, Page};
use crate::drawings;
use crate::material::{Material, key};
use crate::names::{capital, counted};
use crate::pages::{Setting, least, setting, waiting};
use crate::words::Words;

/// Boards.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Board {
    /// The boards of this page.
    pub bars: Vec<Bar>,
}

/// One board.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Bar {
    /// "Board 3".
    pub name: String,
    /// The board with its cuts.
    pub drawing: Option<Drawing>,
    /// Settings of fence or stop, in order, each with all cuts made at it.
    pub settings: Vec<Setting>,
    /// What is kept, and what waits.
    pub notes: Vec<Words>,
}

/// Points that a page of boards has below its head.
const ROOM: f64 = 560.0;
/// Points that a bar takes besides its settings.
const BAR: f64 = 195.0;

/// Which boards stand on which page: as many as go on one.
pub(crate) fn spreads(m: &Material<'_>, stack: &SheetStack) -> Vec<Range<usize>> {
    let height = |index: usize| {
        let settings: Vec<Setting> = stack.sheets[index]
            .settings
            .iter()
            .map(|fence| setting(m, &stack.sheets[index], fence))
            .collect();
        BAR + drawings::settings_height(&settings)
    };
    let mut spreads: Vec<Range<usize>> = Vec::new();
    let mut used = 0.0;
    for index in 0..stack.sheets.len() {
        match spreads.last_mut() {
            Some(spread) if used + height(index) <= ROOM => spread.end = index + 1,
            _ => {
                spreads.push(index..index + 1);
                used = 0.0;
            }
        }
        used += height(index);
    }
    spreads
}

/// The page that a board stands on.
pub(crate) fn board_page(m: &Material<'_>, stack: &SheetStack, index: usize) -> String {
    let page = spreads(m, stack).iter().position(|spread| spread.contains(&index)).unwrap_or_default();
    key::boards(&stack.good, page)
}

/// The page of these boards.
pub(crate) fn board(m: &Material<'_>, stack: &SheetStack, page: usize, spread: Range<usize>) -> Page {
    let good = m.plan.goods.get(&stack.good).map_or_else(|| stack.good.to_string(), |good| good.name.clone());
    let all = stack.sheets.len();
    let shown = match (spread.len(), all) {
        (_, 1) => String::new(),
        (1, _) => format!(", {} of {all}", spread.start + 1),
        _ => format!(", {}–{} of {all}", spread.start + 1, spread.end),
    };
    let inputs = format!(
        "{} · {} · kerf {}",
        m.names.good_as_sold(&stack.good),
        counted(all, "board"),
        m.names.stock(stack.kerf)
    );
    let alone = spread.len() == 1;
    let bars = spread.map(|index| Bar {
        name: format!("Board {}, drawn too wide so that names find room", index + 1),
        drawing: drawings::bar(m, stack, index, alone),
        settings: stack.sheets[index]
            .settings
            .iter()
            .map(|fence| setting(m, &stack.sheets[index], fence))
            .collect(),
        notes: waiting(m, &stack.sheets[index]),
    });
    let body = Body::Board(Board { bars: bars.collect() });
    let mut page = Page::new(key::boards(&stack.good, page), capital(&good) + &shown, inputs, body);
    page.why = least(m, stack);
    page
}
