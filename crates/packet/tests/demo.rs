//! The demo room's packet, from its plan to paper: sound, complete, and every size where a builder looks for it.

mod judges;

use std::collections::BTreeSet;
use std::sync::LazyLock;

use dryfit_packet::{Body, PacketData, PacketOptions, Page, Paper, Printed, packet, pages, print};
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::{Derived, run};
use judges::Judged;

const DEMO: &str = include_str!("../../../demos/potting-room.toml");

fn derive(text: &str) -> (Plan, Derived) {
    let plan = Plan::from_toml(text).expect("a sound plan").plan;
    let derived = run(&plan, &Answers::new(), dryfit_cutting::Budget { steps: 0, seed: 1 });
    (plan, derived)
}

/// The demo's pages and its packet, set once for all tests.
fn demo() -> &'static (PacketData, Printed) {
    static SET: LazyLock<(PacketData, Printed)> = LazyLock::new(|| {
        let (plan, derived) = derive(DEMO);
        let data = pages(&plan, &derived, &PacketOptions::default());
        let printed = print(&data).expect("a packet");
        (data, printed)
    });
    &SET
}

/// Pages whose table runs on where it is long.
fn runs_on(page: &Page) -> bool {
    matches!(page.body, Body::CutList(_) | Body::Buy(_) | Body::Findings(_) | Body::Order(_))
}

/// Pages that do without: strips need none, settings and long steps refer to the page beside them.
fn without_drawing(page: &Page) -> bool {
    page.key == "strips" || page.name.ends_with(": settings") || page.name.ends_with(": put together")
}

/// The printed page (from 1) that each page of the data begins on, by the number in its head: a page without one is
/// the rest of a table that runs on.
fn begins(data: &PacketData, printed: &Printed, judged: &Judged) -> Vec<usize> {
    let texts = judged.words();
    let heads = |page: &usize| texts[page - 1].contains(&format!("{page} of {}", printed.pages));
    let begins: Vec<usize> = (1..=printed.pages).filter(heads).collect();
    assert_eq!(begins.len(), data.pages.len(), "one head for each page");
    for (page, pair) in data.pages.iter().zip(begins.windows(2)) {
        assert!(pair[1] == pair[0] + 1 || runs_on(page), "{} runs on", page.name);
    }
    begins
}

#[test]
fn one_page_of_paper_for_each_page_of_data() {
    let (data, printed) = demo();
    let judged = Judged::new("demo", &printed.pdf);
    judged.is_sound();
    assert_eq!(judged.pages(), (printed.pages, [612.0, 792.0]));
    assert_eq!(begins(data, printed, &judged).len(), data.pages.len());
    let fonts: BTreeSet<String> = judged.fonts().into_iter().collect();
    assert!(fonts.iter().all(|font| font.starts_with("IBMPlexSans")), "{fonts:?}");
}

#[test]
fn every_part_of_every_unit_is_found_with_its_size() {
    let (data, printed) = demo();
    let judged = Judged::new("demo-sizes", &printed.pdf);
    let begins = begins(data, printed, &judged);
    let (words, letters) = (judged.words(), judged.letters());
    let mut found = 0;
    for (page, begin) in data.pages.iter().zip(&begins) {
        let wanted: Vec<&str> = match &page.body {
            Body::Unit(unit) => unit.parts.iter().map(|row| row.size.as_str()).collect(),
            Body::Door(door) => door.parts.iter().map(|row| row.size.as_str()).collect(),
            Body::Sheet(sheet) => sheet
                .settings
                .iter()
                .map(|setting| setting.fence.as_str())
                .filter(|fence| *fence != "–")
                .collect(),
            _ => continue,
        };
        // settings stand in two columns beside long words, where readers lose the spaces
        let is_sheet = matches!(page.body, Body::Sheet(_));
        let text = if is_sheet { &letters[begin - 1] } else { &words[begin - 1] };
        for size in wanted {
            // readers close up the multiplication sign where the numbers are short
            let size = if is_sheet { size.replace(' ', "") } else { size.replace(" × ", "×") };
            assert!(
                text.replace(" × ", "×").contains(&size),
                "`{size}` on page {begin}, {}:\n{text}",
                page.name
            );
            found += 1;
        }
    }
    assert!(found > 200, "{found} sizes");
}

#[test]
fn every_drawing_is_told_in_words_with_its_numbers() {
    let (data, _) = demo();
    let mut drawings = 0;
    for page in &data.pages {
        let shown = match &page.body {
            Body::Cover(it) => it.drawing.as_ref(),
            Body::Room(it) => it.drawing.as_ref(),
            Body::Wall(it) => it.drawing.as_ref(),
            Body::RoughIn(it) => it.drawing.as_ref(),
            Body::Field(it) => it.drawing.as_ref(),
            Body::Unit(it) => it.drawing.as_ref(),
            Body::Part(it) => it.drawing.as_ref(),
            Body::Sheet(it) => it.drawing.as_ref(),
            Body::Door(it) => it.drawing.as_ref(),
            Body::Board(it) => it.bars.first().and_then(|bar| bar.drawing.as_ref()),
            Body::Worktop(it) => it.drawing.as_ref(),
            Body::Costs(it) => it.drawing.as_ref(),
            Body::Bars(it) => it.drawing.as_ref(),
            Body::CutList(_) | Body::Buy(_) | Body::Findings(_) | Body::Lists(_) | Body::Order(_) => continue,
        };
        match shown {
            Some(drawing) => {
                assert!(drawing.alt.len() > 20, "{}: {}", page.key, drawing.alt);
                drawings += 1;
            }
            None => assert!(without_drawing(page), "{} has no drawing", page.key),
        }
    }
    assert!(drawings > 40, "{drawings} drawings");
}

#[test]
fn equal_plans_give_equal_bytes() {
    let (plan, derived) = derive(DEMO);
    let again = packet(&plan, &derived, &PacketOptions::default()).expect("a packet");
    assert!(demo().1.pdf == again.pdf);
}

#[test]
fn a_metric_plan_is_printed_on_a4_in_millimetres() {
    let text = DEMO
        .replace("entry_unit = \"in\"", "entry_unit = \"mm\"")
        .replace("fineness = \"1/16 in\"", "fineness = \"1 mm\"");
    let (plan, derived) = derive(&text);
    let data = pages(&plan, &derived, &PacketOptions::default());
    assert_eq!(data.paper, Paper::A4);
    let printed = &print(&data).expect("a packet");
    let data = &data;
    let judged = Judged::new("demo-metric", &printed.pdf);
    judged.is_sound();
    let (_, size) = judged.pages();
    assert!((size[0] - 595.276).abs() < 0.01, "{size:?}");
    let texts = judged.texts();
    for (page, begin) in data.pages.iter().zip(begins(data, printed, &judged)) {
        if matches!(
            page.body,
            Body::Wall(_) | Body::Unit(_) | Body::Part(_) | Body::Sheet(_) | Body::Board(_)
        ) {
            let text = &texts[begin - 1];
            let inch =
                text.split_whitespace().any(|word| word == "in" || word == "inches" || word == "24 in");
            let fraction = text.split_whitespace().any(|word| {
                word.split_once('/')
                    .is_some_and(|(a, b)| a.parse::<u32>().is_ok() && b.parse::<u32>().is_ok())
            });
            assert!(!fraction, "a fraction on {}:\n{text}", page.name);
            assert!(!inch || !text.contains("24 in"), "inches on {}", page.name);
        }
    }
}

#[test]
fn a_plan_with_nothing_in_it_is_printed_all_the_same() {
    let head = DEMO.split("[instruments]").next().expect("a head");
    let (plan, derived) = derive(&format!("{head}\n[room]\nwalk = []\nsense = \"clockwise\"\n"));
    let printed = packet(&plan, &derived, &PacketOptions::default()).expect("a packet");
    Judged::new("demo-empty", &printed.pdf).is_sound();
}

#[test]
fn a_stop_has_its_banner_on_the_cover() {
    let text = DEMO.replace(
        "b1 = { kind = \"base\", name = \"pots\", recipe = \"painted\"",
        "b1 = { kind = \"base\", name = \"pots\", recipe = \"paimted\"",
    );
    let (plan, derived) = derive(&text);
    assert!(derived.findings.iter().any(|finding| finding.severity == dryfit_stages::Severity::Stop));
    let printed = packet(&plan, &derived, &PacketOptions::default()).expect("a packet");
    let cover = Judged::new("demo-stop", &printed.pdf).text(1);
    assert!(cover.contains("STOP") && cover.contains("paimted"), "{cover}");
}
