//! Published values of drains, boxes, ducts and studs.
#![cfg(test)]

use std::collections::BTreeMap;

use dryfit_cutting::Budget;
use dryfit_measure::{Dim, Key, Length, Stated};
use dryfit_plan::{Capacity, Code, Plan};

use super::{Rules, Services, Turn, allowed, fall_over, fill};
use crate::layouts::Answers;

fn demo() -> Plan {
    Plan::from_toml(include_str!("../../../../demos/potting-room.toml")).expect("the demo reads").plan
}

fn under(family: &str) -> Rules {
    let mut plan = demo();
    plan.code = Some(Code { family: family.into(), edition: "2021".into() });
    let (rules, said) = super::code::code(&plan);
    assert!(said.is_empty(), "{said:?}");
    rules
}

fn inches(text: &str) -> Length {
    format!("{text} in").parse::<Stated>().expect("a length").length
}

fn derive(plan: &Plan) -> Services {
    crate::run(plan, &Answers::new(), Budget { steps: 0, seed: 1 }).services
}

#[test]
fn a_drain_falls_a_quarter_inch_in_a_foot() {
    // F-fall-10, IRC P3005.3: 2 in pipe over 10 ft falls 2.5 in
    let level = Dim::rule(Length::feet(10), "a test");
    assert_eq!(fall_over(&under("IRC"), &level, inches("2")).length(), inches("2 1/2"));
    // F-slope: 3 in pipe falls half of that
    assert_eq!(fall_over(&under("IRC"), &level, inches("3")).length(), inches("1 1/4"));
    // F-arm-irc-1.5: 6 ft at 1/4 in to the foot are one diameter, 1 1/2 in
    let arm = under("IRC").plumbing().arm.at(inches("1 1/2")).expect("in the table");
    assert_eq!(
        fall_over(&under("IRC"), &Dim::rule(arm, "a test"), inches("1 1/2")).length(),
        inches("1 1/2")
    );
}

#[test]
fn what_is_in_a_box_takes_up_what_the_worked_examples_say() {
    let rules = under("IRC");
    let holds = |text: &str| text.parse::<Capacity>().expect("a capacity");
    let needed = |conductors: &[(u8, u32)], others, stamped: &str| {
        let conductors: BTreeMap<u8, u32> = conductors.iter().copied().collect();
        fill(&rules, &conductors, others, holds(stamped)).expect("gauges of the table")
    };
    // G-fill-8: two 12/2 cables, grounds, clamps, one strap: 18.0 in3
    let eight = needed(&[(12, 4)], (true, true, 1), "18 in3");
    assert_eq!((eight.needed, eight.fits()), (18_000, true));
    assert!(!needed(&[(12, 4)], (true, true, 1), "17.999 in3").fits());
    // G-fill-mix: 4 #14, 2 #12, grounds, clamps and a strap at #12: 21.5 in3, too much for 21.0
    let mixed = needed(&[(14, 4), (12, 2)], (true, true, 1), "21 in3");
    assert_eq!((mixed.capacity().to_string(), mixed.fits()), ("21.5 in3".to_owned(), false));
    // G-box-sq, NEC Table 314.16(A): a square of 21.0 in3 takes nine #12 and not ten
    let nine = |count, gauge, stamped| needed(&[(gauge, count)], (false, false, 0), stamped).fits();
    assert!(nine(9, 12, "21 in3") && !nine(10, 12, "21 in3"));
    // G-box-oct: an octagon of 15.5 in3 takes seven #14 and not eight
    assert!(nine(7, 14, "15.5 in3") && !nine(8, 14, "15.5 in3"));
    // G-vol-8, -6: gauges of the table; others are not guessed
    assert!(fill(&rules, &BTreeMap::from([(4, 1)]), (false, false, 0), holds("21 in3")).is_none());
}

#[test]
fn ducts_lose_by_their_turns_what_the_tables_say() {
    let quarter = || Turn { quarter: true, deducts: None };
    let half = || Turn { quarter: false, deducts: None };
    let smooth = || Turn { quarter: true, deducts: Some(Dim::rule(inches("21"), "a fitting of 1.75 ft")) };
    // in half feet, to stay whole
    let halves = |family: &str, turns: &[Turn]| allowed(&under(family), turns).length().fits(inches("6"));
    // IRC M1502.4.6.1: H-len-0, -2x90, -3x90, -2x90-1x45, -4x90
    assert_eq!(halves("IRC", &[]), 70);
    assert_eq!(halves("IRC", &[quarter(), quarter()]), 50);
    assert_eq!(halves("IRC", &[quarter(), quarter(), quarter()]), 40);
    assert_eq!(halves("IRC", &[quarter(), quarter(), half()]), 45);
    assert_eq!(halves("IRC", &[quarter(), quarter(), quarter(), quarter()]), 30);
    // H-len-smooth: two 6 in smooth quarter turns of 1.75 ft each
    assert_eq!(halves("IRC", &[smooth(), smooth()]), 63);
    // H-umc-3, UMC 504.3.1.2: 14 ft with two quarter turns, 12 with three
    assert_eq!(halves("UPC", &[quarter(), quarter()]), 28);
    assert_eq!(halves("UPC", &[quarter(), quarter(), quarter()]), 24);
}

#[test]
fn studs_take_the_holes_and_notches_of_the_tables() {
    // IRC R602.6: F-bore40-2x4 1.4, F-bore60-2x4 2.1, F-notch25-2x4 0.875, F-notch40-2x4 1.4; F-bore40-2x6 2.2,
    // F-bore60-2x6 3.3, F-notch25-2x6 1.375, F-notch40-2x6 2.2
    let most = |deep: &str, bears: bool, out: &str| {
        let mut plan = demo();
        let wall = plan.walls.get_mut(&Key::literal("BC")).expect("the garden wall");
        wall.bearing = Some(bears);
        let framing = wall.framing.as_mut().expect("its studs");
        framing.deep = Some(Stated::inches(inches(deep)));
        let dryfit_plan::Service::Pipe(run) =
            plan.services.get_mut(&Key::literal("waste")).expect("the drain")
        else {
            panic!("a pipe")
        };
        for node in run.nodes.values_mut() {
            if let dryfit_plan::Node::At(place) = node {
                place.face = dryfit_plan::WallFace::Frame;
                place.out = Some(Stated::inches(inches(out)));
            }
        }
        let services = derive(&plan);
        let crossing = services.crossings.iter().find(|crossing| crossing.run.as_str() == "waste");
        let crossing = crossing.expect("it goes through a stud");
        assert_eq!(crossing.notch.is_some(), out == "-1/2");
        crossing.most.length().as_inches_f64()
    };
    for (deep, out, bears, expected) in [
        ("3 1/2", "-1 3/4", true, 1.4),
        ("3 1/2", "-1 3/4", false, 2.1),
        ("3 1/2", "-1/2", true, 0.875),
        ("3 1/2", "-1/2", false, 1.4),
        ("5 1/2", "-2 3/4", true, 2.2),
        ("5 1/2", "-2 3/4", false, 3.3),
        ("5 1/2", "-1/2", true, 1.375),
        ("5 1/2", "-1/2", false, 2.2),
    ] {
        assert!((most(deep, bears, out) - expected).abs() < 1e-4, "{deep} {out} {bears}");
    }
    // F-bore-edge: 5/8 in left on both sides of a centred hole in a 2x4 leaves 2.25 in
    assert_eq!(inches("3 1/2") - super::Crossing::edge_least() * 2, inches("2 1/4"));
}

#[test]
fn the_stub_of_the_demo_hangs_between_its_bowl_and_its_box() {
    let services = derive(&demo());
    let window = &services.windows[0];
    // worktop 36 3/4 + 3/64, bowl 9, strainer 2 1/2: 25 19/64; tailpiece 1 1/2 and trap 2 below: 21 51/64
    assert_eq!(window.outlet.up.length(), inches("25 19/64"));
    let fall = window.across.length().as_inches_f64() / 48.0;
    let highest = window.outlet.up.length().as_inches_f64() - 3.5 - fall;
    assert!((window.highest.length().as_inches_f64() - highest).abs() < 1e-6);
    // toe kick 4, bottom 23/32, room 1, trap 3/4 + 2 + 1 1/2 under its outlet; 25 19/64 - 12 - 2 binds
    let lowest = window.outlet.up.length().as_inches_f64() - 14.0 - fall;
    assert!((window.lowest.length().as_inches_f64() - lowest).abs() < 1e-6);
    // F-trap: never more than 24 in below the outlet
    assert!(window.outlet.up.length() - window.lowest.length() <= inches("24"));
}

#[test]
fn a_code_that_is_not_known_is_said_and_its_remedy_mends_it() {
    for (family, edition, said) in [
        ("IRCC", "2021", "the rules of `IRCC` are not known here, only IPC, IRC, UPC; did you mean IRC?"),
        ("UPC", "1997", "the clauses of UPC 1997 are not known here, only those of 2018, 2021, 2024"),
    ] {
        let mut plan = demo();
        plan.code = Some(Code { family: family.into(), edition: edition.into() });
        let (_, found) = super::code::code(&plan);
        assert!(found[0].what.starts_with(said), "{}", found[0].what);
        let (mended, _) = plan.apply(&found[0].fixes[0].edit).expect("it applies");
        assert!(super::code::code(&mended).1.is_empty());
    }
    let mut plan = demo();
    plan.code = None;
    let (rules, found) = super::code::code(&plan);
    assert_eq!((rules.family.as_str(), found.len()), ("IRC", 1));
    let (mended, _) = plan.apply(&found[0].fixes[0].edit).expect("it applies");
    assert!(super::code::code(&mended).1.is_empty());
    // who has no services is not asked
    plan.services.clear();
    assert!(super::code::code(&plan).1.is_empty());
}
