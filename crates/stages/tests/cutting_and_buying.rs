//! From parts to sheets, money and releases, on the demo: nothing lost, nothing twice, nothing solved twice.

use std::collections::BTreeSet;

use dryfit_cutting::Budget;
use dryfit_measure::{Amount, Key, Money, Pointer};
use dryfit_plan::{Draft, Plan};
use dryfit_stages::layouts::{Answers, Rect};
use dryfit_stages::release::Until;
use dryfit_stages::takeoff::{PackCount, held};
use dryfit_stages::{Derived, run};
use serde::Serialize;

const QUICK: Budget = Budget { steps: 0, seed: 1 };

fn demo() -> Plan {
    Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("the demo reads").plan
}

fn with(plan: &Plan, at: &str, value: impl Serialize) -> Plan {
    let at = Pointer::parse(at).expect("a pointer");
    plan.apply(&Draft::of(plan).set(&at, value).edit("trial")).expect("it still reads").0
}

fn derive(plan: &Plan) -> Derived {
    run(plan, &Answers::new(), QUICK)
}

fn apart(a: &Rect, b: &Rect, kerf: dryfit_measure::Length) -> bool {
    a.x + a.length + kerf <= b.x
        || b.x + b.length + kerf <= a.x
        || a.y + a.width + kerf <= b.y
        || b.y + b.width + kerf <= a.y
}

#[test]
fn every_piece_is_cut_once_a_kerf_from_its_neighbours() {
    let derived = derive(&demo());
    let stacks = || derived.layouts.sheets.iter().chain(&derived.layouts.boards);
    let mut cut: Vec<&str> = stacks()
        .flat_map(|stack| &stack.sheets)
        .flat_map(|sheet| sheet.pieces.iter().map(|piece| piece.path.as_str()))
        .collect();
    let mut asked: Vec<&str> = derived
        .cut_list
        .groups
        .iter()
        .flat_map(|group| group.pieces.iter().map(|piece| piece.path.as_str()))
        .collect();
    cut.sort_unstable();
    asked.sort_unstable();
    assert_eq!(cut, asked);
    for stack in stacks() {
        for sheet in &stack.sheets {
            for (index, a) in sheet.pieces.iter().enumerate() {
                assert!(a.rect.x + a.rect.length <= sheet.length && a.rect.y + a.rect.width <= sheet.width);
                assert!(
                    sheet.pieces[..index].iter().all(|b| apart(&a.rect, &b.rect, stack.kerf)),
                    "{}",
                    a.path
                );
                assert!(a.freed_by > 0, "{} comes free by a cut", a.path);
            }
        }
    }
}

#[test]
fn sizes_stand_on_the_marks_and_every_profile_has_its_spares() {
    let plan = demo();
    let derived = derive(&plan);
    let paths: BTreeSet<&str> = derived
        .cut_list
        .groups
        .iter()
        .flat_map(|group| &group.pieces)
        .inspect(|piece| {
            for size in [&piece.length, &piece.width] {
                assert_eq!(size.length().nm() % plan.fineness.step().nm(), 0, "{}", piece.path);
            }
        })
        .map(|piece| piece.path.as_str())
        .collect();
    for extra in ["spare/maple-6/stile", "spare/maple-6/rail", "set-up/maple-6"] {
        assert!(paths.contains(extra), "{extra}");
    }
}

#[test]
fn a_reading_that_alters_no_cut_size_asks_the_solver_nothing() {
    let plan = demo();
    let first = derive(&plan);
    // the ceiling over the lane wall hangs over nothing that is cut to it
    let again = run(&with(&plan, "/readings/c4/length", "96 in"), &first.answers, QUICK);
    assert_eq!(first.answers.keys().collect::<Vec<_>>(), again.answers.keys().collect::<Vec<_>>());
}

#[test]
fn the_buying_list_adds_up_and_takes_what_is_on_hand_first() {
    let plan = demo();
    let derived = derive(&plan);
    let takeoff = &derived.takeoff;
    let sum: Money = takeoff.lines.iter().filter_map(|line| line.price).sum();
    assert_eq!(sum, takeoff.total);
    assert!(takeoff.unpriced.is_empty(), "{:?}", takeoff.unpriced);
    for line in &takeoff.lines {
        let missing = line.missing().base();
        let holds = |pack: &PackCount| {
            let good = &plan.goods[&line.good];
            held(good, &good.packs[&pack.pack], line.needed.measure()).expect("it says how much").base()
        };
        let got: i128 = line.packs.iter().map(|pack| holds(pack) * i128::from(pack.count)).sum();
        assert!(got >= missing, "{}", line.good);
        assert!(line.packs.iter().all(|pack| got - holds(pack) < missing), "{}: no pack too many", line.good);
    }
    let pins = Key::literal("pin");
    let line = |derived: &Derived| {
        let line = derived.takeoff.lines.iter().find(|line| line.good == pins).expect("pins");
        (line.needed, line.on_hand, line.count())
    };
    let (needed, _, packs) = line(&derived);
    let stocked = with(&plan, "/lots/l1", serde_json::json!({ "good": "pin", "count": 20 }));
    let (same, on_hand, fewer) = line(&derive(&stocked));
    assert_eq!((same, on_hand), (needed, Amount::Pieces(20)));
    assert!(fewer < packs);
}

#[test]
fn a_box_is_held_exactly_while_a_wall_beside_it_is_not_known_up_there() {
    let plan = demo();
    let jars = Key::literal("u1");
    let held = |derived: &Derived| {
        let waits = |held: &&dryfit_stages::release::Held| held.subject == jars;
        derived.release.held.iter().find(waits).map(|held| matches!(held.until, Until::Readings(_)))
    };
    assert_eq!(held(&derive(&plan)), Some(true));
    let read = serde_json::json!({
        "epoch": "found", "by": "plumb", "of": { "lean": { "wall": "BC" } },
        "height": "90 in", "length": "1/16 in", "text": "1/16 out"
    });
    let derived = derive(&with(&plan, "/readings/r20", read));
    assert_eq!(held(&derived), Some(false), "its doors still wait for their openings");
    assert!(derived.release.cut_today.iter().any(|ready| ready.unit == jars));
}
