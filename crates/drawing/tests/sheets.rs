//! Sheets as they are laid out, drawn: nothing over a flag, everything on the paper.

mod paper_checks;

use dryfit_cutting::Budget;
use dryfit_drawing::{Drawing, Frame, views};
use dryfit_measure::{Dim, Length, Pointer};
use dryfit_plan::Plan;
use dryfit_stages::cutlist::{CutGroup, CutList, CutPiece};
use dryfit_stages::layouts::{Answers, layouts};
use proptest::prelude::*;

fn plan() -> Plan {
    Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("the demo reads").plan
}

/// Sheets of a good for pieces of these sizes in sixteenths of an inch.
fn drawn(good: &str, sizes: &[(i64, i64)], frame: Frame) -> Vec<Drawing> {
    let plan = plan();
    let dim = |sixteenths: i64| Dim::chosen(Length::inches(0, sixteenths, 16), Pointer::root());
    let pieces = sizes.iter().enumerate().map(|(index, (length, width))| CutPiece {
        finished: None,
        path: format!("b{index}/side"),
        label: format!("b{index} side, left"),
        length: dim(*length),
        width: dim(*width),
        grain: true,
        gate: None,
        extra: false,
    });
    let group = CutGroup { good: good.parse().expect("a key"), pieces: pieces.collect() };
    let list = CutList { groups: vec![group] };
    let (layouts, _) = layouts(&plan, &list, &Answers::new(), Budget { steps: 0, seed: 1 });
    let stack = layouts.sheets.iter().chain(&layouts.boards).next().expect("a stack");
    (0..stack.sheets.len()).filter_map(|index| views::sheet(&plan, stack, index, frame)).collect()
}

const FRAME: Frame = Frame { width: 540.0, height: 330.0 };

#[test]
fn a_day_of_base_units_is_legible() {
    let side = (35 * 16 + 4, 22 * 16 + 4);
    let strip = (22 * 16 + 6, 4 * 16);
    let sizes =
        [side, side, side, side, (21 * 16 + 14, 22 * 16 + 4), (80 * 16, 22 * 16 + 4), strip, strip, strip];
    for drawing in drawn("ply-18", &sizes, FRAME) {
        paper_checks::sound(&drawing);
        paper_checks::nothing_overlaps(&drawing);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn no_words_lie_under_a_flag(
        sizes in proptest::collection::vec((12 * 16_i64..90 * 16, 5 * 16_i64..40 * 16), 1..14),
    ) {
        for drawing in drawn("ply-18", &sizes, FRAME) {
            paper_checks::sound(&drawing);
            paper_checks::nothing_overlaps(&drawing);
        }
    }
}

/// A piece without a name on its sheet cannot be told from its neighbours at the saw.
#[test]
fn every_piece_of_every_demo_sheet_is_named() {
    let plan = plan();
    let derived = dryfit_stages::run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 });
    let sheets = derived.layouts.sheets.iter().map(|stack| (stack, false));
    for (stack, board) in sheets.chain(derived.layouts.boards.iter().map(|stack| (stack, true))) {
        for (index, sheet) in stack.sheets.iter().enumerate() {
            let drawing = if board {
                views::board(&plan, stack, index, Frame { height: 210.0, ..FRAME })
            } else {
                views::sheet(&plan, stack, index, Frame { height: 560.0, ..FRAME })
            };
            let drawing = drawing.expect("it is drawn");
            paper_checks::sound(&drawing);
            let named: std::collections::BTreeSet<&str> = drawing
                .marks
                .iter()
                .filter(|mark| {
                    mark.layer == "words" && matches!(mark.shape, dryfit_drawing::Shape::Text { .. })
                })
                .filter_map(|mark| mark.about.as_deref())
                .collect();
            let nameless: Vec<&str> = sheet
                .pieces
                .iter()
                .map(|piece| piece.path.as_str())
                .filter(|path| !named.contains(path))
                .collect();
            assert!(nameless.is_empty(), "{} sheet {}: {nameless:?}", stack.good, index + 1);
            // whatever is read standing is not set smaller than this, letters on slivers apart
            for mark in drawing.marks.iter().filter(|mark| mark.layer == "words") {
                if let dryfit_drawing::Shape::Text { words, size, .. } = &mark.shape {
                    let letter =
                        matches!(words.as_slice(), [dryfit_drawing::Words::Plain(word)] if word.len() < 3);
                    assert!(
                        letter || *size >= 10.0,
                        "{} at {size} pt",
                        mark.about.as_deref().unwrap_or_default()
                    );
                }
            }
        }
    }
}
