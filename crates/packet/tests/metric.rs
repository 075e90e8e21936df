//! The room in millimetres: no inch anywhere, neither on paper nor in what the checks say.

mod judges;

use dryfit_measure::{Pointer, because};
use dryfit_packet::{Body, PacketOptions, packet, pages};
use dryfit_plan::{Draft, Plan};
use dryfit_stages::layouts::Answers;
use dryfit_stages::{Derived, run};
use judges::Judged;

const SKI_ROOM: &str = include_str!("../../../demos/ski-room.toml");

fn plan() -> Plan {
    Plan::from_toml(SKI_ROOM).expect("the demo reads").plan
}

fn derive(plan: &Plan) -> Derived {
    run(plan, &Answers::new(), dryfit_cutting::Budget { steps: 0, seed: 1 })
}

/// Inch marks, fractions and the word itself, each with what stands round it.
fn inches(text: &str) -> Vec<String> {
    let letters: Vec<char> = text.chars().collect();
    let digit = |i: usize| letters.get(i).is_some_and(char::is_ascii_digit);
    let word = |i: usize| letters.get(i).is_some_and(|letter| letter.is_alphanumeric());
    let round = |i: usize| letters[i.saturating_sub(30)..(i + 12).min(letters.len())].iter().collect();
    let mut found: Vec<String> = Vec::new();
    for (i, letter) in letters.iter().enumerate() {
        let before = i.checked_sub(1);
        let mark = matches!(letter, '″' | '′' | '½' | '¼' | '¾' | '⅛' | '⅜' | '⅝' | '⅞' | '⁄')
            || (*letter == '"' && before.is_some_and(digit))
            || (*letter == '/' && before.is_some_and(digit) && digit(i + 1));
        let number = before.is_some_and(|b| is_number(&letters, if letters[b] == ' ' { b } else { i }));
        let unit = ["in", "inch", "inches", "ft", "feet"].iter().any(|unit| {
            let end = i + unit.len();
            text_at(&letters, i, unit) && !word(end)
        });
        if mark || (number && unit) {
            found.push(round(i));
        }
    }
    found
}

/// Whether what ends before `end` is a number, not the end of a name like `l1`.
fn is_number(letters: &[char], end: usize) -> bool {
    let begin = letters[..end].iter().rposition(|letter| !letter.is_ascii_digit()).map_or(0, |i| i + 1);
    begin < end && !(begin > 0 && letters[begin - 1].is_alphabetic())
}

fn text_at(letters: &[char], i: usize, word: &str) -> bool {
    word.chars().enumerate().all(|(k, letter)| letters.get(i + k) == Some(&letter))
}

#[test]
fn the_search_finds_what_it_looks_for() {
    for text in ["35 1/4", "3\"", "2 in wide", "10 ft", "6in", "5 ½"] {
        assert!(!inches(text).is_empty(), "{text}");
    }
    for text in ["150 mm", "1850 × 499", "page 3 of 84", "band first", "l1 in the corner", "2 doors"] {
        assert!(inches(text).is_empty(), "{text}: {:?}", inches(text));
    }
}

#[test]
fn no_inch_is_printed() {
    let plan = plan();
    let printed = packet(&plan, &derive(&plan), &PacketOptions::default()).expect("a packet");
    let judged = Judged::new("metric", &printed.pdf);
    judged.is_sound();
    let (pages, [width, height]) = judged.pages();
    assert_eq!(pages, printed.pages);
    // ISO 216: A4 is 210 x 297 mm
    assert!((width - 595.276).abs() < 0.5 && (height - 841.89).abs() < 0.5, "{width} x {height}");
    let found: Vec<String> = judged
        .texts()
        .iter()
        .zip(1..)
        .flat_map(|(text, page)| inches(text).into_iter().map(move |found| format!("page {page}: {found}")))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn no_check_speaks_of_inches() {
    let changes = [
        ("/goods/hinge/form/hinge/overlay", "8 mm"),
        ("/goods/leg/form/leg/most", "150 mm"),
        ("/goods/abs-1/form/edge-band/width", "12 mm"),
        ("/units/b2/width/given", "980 mm"),
        ("/units/d1/width/given", "700 mm"),
        ("/units/u2/width/given", "300 mm"),
        ("/recipes/frameless/figures/door-overlay", "700 mm"),
        ("/goods/slide-500/form/slide/length", "560 mm"),
        ("/goods/front-screw/form/fastener/length", "40 mm"),
    ];
    let mut said = 0;
    for (at, length) in changes {
        let plan = plan();
        let edit = Draft::of(&plan).set(&Pointer::parse(at).expect("a pointer"), length).edit("trial");
        let changed = plan.apply(&edit).expect("it still reads").0;
        let derived = derive(&changed);
        for finding in &derived.findings {
            said += 1;
            let labels = finding.fixes.iter().map(|fix| fix.label.clone());
            let reasons = finding.because.iter().map(|dim| because(dim, changed.fineness));
            let all: Vec<String> =
                std::iter::once(finding.what.clone()).chain(labels).chain(reasons).collect();
            for line in &all {
                assert!(inches(line).is_empty(), "{at}: {line}");
            }
        }
    }
    assert!(said > 8, "only {said} findings");
}

/// Words of all pages, as one text.
fn told() -> (dryfit_packet::PacketData, String) {
    let plan = plan();
    let data = pages(&plan, &derive(&plan), &PacketOptions::default());
    let text = serde_json::to_string(&data).expect("JSON");
    (data, text)
}

#[test]
fn a_test_piece_is_as_wide_as_the_groove_however_that_runs() {
    let (data, _) = told();
    let blanks = data.pages.iter().flat_map(|page| &page.blanks);
    let grooves: Vec<_> = blanks.filter(|blank| blank.label == "groove, test piece").collect();
    assert!(grooves.len() > 5);
    // the backs are 8 thick
    assert!(grooves.iter().all(|blank| blank.planned.as_deref() == Some("8")), "{grooves:?}");
}

#[test]
fn a_solid_top_hears_nothing_of_laminate() {
    let (mut data, _) = told();
    data.pages.retain(|page| page.key.starts_with("worktop/"));
    let text = serde_json::to_string(&data).expect("JSON");
    assert!(text.contains("to be scribed at walls"));
    assert!(!text.contains("laminate") && !text.contains("Contact adhesive"));
}

#[test]
fn without_a_first_day_nothing_has_a_date() {
    let (data, _) = told();
    let order = data.pages.iter().find_map(|page| match &page.body {
        Body::Order(order) => Some(order),
        _ => None,
    });
    let order = order.expect("there is work");
    assert!(!order.order_by.is_empty());
    for line in &order.order_by {
        assert!(line.text().starts_with("5 working days before day "), "{}", line.text());
    }
}

#[test]
fn gates_have_the_same_number_on_every_page() {
    let (data, _) = told();
    for page in &data.pages {
        if let Body::Order(order) = &page.body {
            let gates: Vec<(u32, String)> = order
                .rows
                .iter()
                .filter(|row| row.sort == "gate")
                .map(|row| (row.number, row.what.text()))
                .collect();
            assert!(
                gates.iter().any(|(number, what)| *number == 1 && what.starts_with("openings")),
                "{gates:?}"
            );
            assert!(
                gates.iter().any(|(number, what)| *number == 2 && what.starts_with("units fixed")),
                "{gates:?}"
            );
        }
    }
}
