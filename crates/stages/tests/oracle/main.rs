//! The geometric oracle: every unit put together again from its parts' sizes and operations alone.
//!
//! It knows the trade and the plan, and shares no code with casework: where a dado, a groove or a tongue takes
//! material away is worked out here once more, in whole nanometres. Set `ORACLE_UNITS=1000` for more units at
//! random than the two hundred of a usual run.

mod boxes;
mod exact;
mod facts;
mod frameless;
mod piece;
mod random;
mod rounded;

use dryfit_measure::Toward;
use dryfit_plan::{Plan, UnitKind};
use dryfit_stages::Severity;
use dryfit_stages::casework::casework;
use dryfit_stages::placement::{Placement, placement};
use dryfit_stages::survey::survey;

use facts::Facts;
use piece::Piece;

/// Puts every unit of this placement together, both ways. Gives back how many could be made, and what is wrong.
fn put_together(plan: &Plan, placement: &Placement, what: &str) -> (usize, Vec<String>) {
    let (casework, findings) = casework(plan, placement);
    let (mut made, mut all) = (0, Vec::new());
    for unit in &casework.units {
        let placed = placement.units.iter().find(|placed| placed.key == unit.key).expect("it was placed");
        if findings.iter().any(|f| f.severity == Severity::Stop && f.subjects.contains(&unit.key)) {
            continue;
        }
        let facts = Facts::of(plan, placed);
        let pieces: Vec<Piece> = unit.parts.iter().map(Piece::exact).collect();
        let mut faults = exact::faults(&facts, unit, &pieces);
        let rounded: Vec<Piece> = unit
            .parts
            .iter()
            .map(|part| {
                // what is cut is brought to the tape's marks, and its bands go on as thick as they are
                let [cut, whole] = [part.cut_size(), [part.length.clone(), part.width.clone()]];
                let mark = |k: usize| {
                    let rounded = cut[k].length().round_to(plan.fineness, part.purpose[k].toward());
                    rounded + (whole[k].length() - cut[k].length())
                };
                Piece::sized(part, mark(0), mark(1))
            })
            .collect();
        faults.extend(rounded::faults(&pieces, &rounded, plan.fineness.step().nm()));
        made += 1;
        if !faults.is_empty() {
            let width = placed.width.length().figure(plan.fineness, Toward::Nearest);
            all.push(format!(
                "{what}, `{}` ({:?}, {width} wide):\n{}",
                unit.key,
                placed.kind,
                faults.join("\n")
            ));
        }
    }
    (made, all)
}

#[test]
fn the_demos_units_go_together() {
    all_go_together(include_str!("../../../../demos/potting-room.toml"));
}

#[test]
fn the_units_of_the_room_without_frames_go_together() {
    all_go_together(include_str!("../../../../demos/ski-room.toml"));
}

fn all_go_together(text: &str) {
    let plan = Plan::from_toml(text).expect("the demo reads").plan;
    let (survey, _) = survey(&plan);
    let (placement, _) = placement(&plan, &survey);
    let (made, faults) = put_together(&plan, &placement, "the demo");
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
    let wished = plan.units.values().filter(|unit| !matches!(unit.kind, UnitKind::Appliance | UnitKind::Gap));
    assert_eq!(made, wished.count());
}

#[test]
fn units_at_random_go_together() {
    #[expect(clippy::disallowed_methods, reason = "a test's own switch: how many units are tried")]
    let stated = std::env::var("ORACLE_UNITS");
    let wanted = stated.ok().and_then(|text| text.parse().ok()).unwrap_or(200_u64);
    let mut made = std::collections::BTreeMap::<UnitKind, u64>::new();
    let mut faults = Vec::new();
    for seed in 0..wanted {
        let (plan, placement) = random::unit(seed);
        let (count, more) = put_together(&plan, &placement, &format!("seed {seed}"));
        *made.entry(placement.units[0].kind).or_default() += count as u64;
        faults.extend(more);
    }
    let shown: Vec<&str> = faults.iter().take(8).map(String::as_str).collect();
    assert!(faults.is_empty(), "{} units do not go together\n{}", faults.len(), shown.join("\n\n"));
    let sum: u64 = made.values().sum();
    assert!(sum * 10 >= wanted * 6, "too many units at random could not be made: {made:?} of {wanted}");
    assert_eq!(made.len(), 11, "a kind was never made: {made:?}");
}
