//! Whatever the job, what a solver places passes the verifier, and the cuts free exactly what is placed.

#![allow(clippy::cast_possible_wrap)]

use dryfit_cutting::{
    Axis, BarKind, Budget, LengthFault, LengthJob, LengthPart, Member, Part, SheetFault, SheetJob, SheetKind,
    bar_sequences, cut_sequences, solve_lengths, solve_sheets, verify_lengths, verify_sheets,
};
use proptest::prelude::*;
use std::collections::BTreeMap;

fn sheet_jobs() -> impl Strategy<Value = SheetJob> {
    let kind =
        (20i64..120, 20i64..120, prop_oneof![3 => Just(None), 1 => (0i64..4).prop_map(Some)], 0i64..50);
    let part = (1i64..90, 1i64..90, 0i64..5, any::<bool>(), any::<bool>());
    let stages = prop_oneof![2 => Just(None), 1 => (2u32..6).prop_map(Some)];
    let kinds = prop::collection::vec(kind, 1..4);
    let parts = prop::collection::vec(part, 0..12);
    (0i64..6, 0i64..6, kinds, parts, stages).prop_map(|(kerf, trim, kinds, parts, max_stages)| SheetJob {
        name: "random".into(),
        unit: "1".into(),
        kerf,
        trim,
        max_stages,
        sheets: kinds
            .into_iter()
            .enumerate()
            .map(|(i, (w, h, qty, price))| SheetKind { id: format!("s{i}"), w, h, qty, price, grain: true })
            .collect(),
        parts: parts
            .into_iter()
            .enumerate()
            .map(|(i, (w, h, qty, can_rotate, matched))| {
                if matched && h > 2 {
                    let members = vec![
                        Member { id: "one".into(), length: h / 2 },
                        Member { id: "two".into(), length: h - h / 2 },
                    ];
                    let along = if can_rotate { Axis::X } else { Axis::Y };
                    Part { qty, ..SheetJob::matched(&format!("p{i}"), w, members, along, kerf) }
                } else {
                    let (id, label) = (format!("p{i}"), String::new());
                    Part { id, label, w, h, qty, can_rotate, members: vec![], members_along: Axis::Y }
                }
            })
            .collect(),
    })
}

fn length_jobs() -> impl Strategy<Value = LengthJob> {
    let kind = (20i64..200, prop_oneof![3 => Just(None), 1 => (0i64..4).prop_map(Some)], 0i64..50);
    let part = (1i64..150, 0i64..6);
    let kinds = prop::collection::vec(kind, 1..4);
    let parts = prop::collection::vec(part, 0..12);
    (0i64..6, 0i64..6, kinds, parts).prop_map(|(kerf, end_trim, kinds, parts)| LengthJob {
        name: "random".into(),
        unit: "1".into(),
        kerf,
        end_trim,
        stocks: kinds
            .into_iter()
            .enumerate()
            .map(|(i, (length, qty, price))| BarKind { id: format!("s{i}"), length, qty, price })
            .collect(),
        parts: parts
            .into_iter()
            .enumerate()
            .map(|(i, (length, qty))| LengthPart { id: format!("p{i}"), length, qty })
            .collect(),
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn sheets_are_valid_and_above_the_bound(job in sheet_jobs(), seed in 0u64..9) {
        for steps in [0, 300, 9000] {
            let a = solve_sheets(&job, Budget { steps, seed });
            let missing: i64 = a.layout.unplaced.iter().map(|u| u.qty).sum();
            let faults: Vec<SheetFault> = verify_sheets(&job, &a.layout)
                .into_iter()
                .filter(|f| !matches!(f, SheetFault::WrongCount { placed, wanted, .. } if placed < wanted))
                .collect();
            prop_assert_eq!(faults, vec![]);
            let placed: i64 = a.layout.sheets.iter().map(|s| s.placements.len() as i64).sum();
            prop_assert_eq!(placed + missing, job.pieces());
            prop_assert!(missing > 0 || a.report.cost >= a.bound.value);
            prop_assert_eq!(&a.layout, &solve_sheets(&job, Budget { steps, seed }).layout);
            for u in &a.layout.unplaced {
                prop_assert!(!u.why.is_empty());
            }
        }
    }

    #[test]
    fn cuts_free_what_is_placed(job in sheet_jobs()) {
        let a = solve_sheets(&job, Budget { steps: 2000, seed: 1 });
        for (sheet, q) in a.layout.sheets.iter().zip(cut_sequences(&job, &a.layout, 10)) {
            let mut placed: BTreeMap<&str, i64> = BTreeMap::new();
            for p in &sheet.placements {
                *placed.entry(&p.part_id).or_default() += 1;
            }
            let whole = job.sheets.iter().any(|k| {
                k.id == sheet.sheet_id && sheet.placements[0].w == k.w && sheet.placements[0].h == k.h
            });
            if !whole {
                prop_assert_eq!(&placed, &q.parts_freed());
            }
            for (i, c) in q.cuts.iter().enumerate() {
                prop_assert_eq!(c.number as usize, i + 1);
                prop_assert!(c.setting > 0);
            }
            let rows: Vec<u32> = q.settings.iter().flat_map(|s| s.cuts.clone()).collect();
            let numbers: Vec<u32> = q.cuts.iter().map(|c| c.number).collect();
            prop_assert_eq!(rows, numbers);
        }
    }

    #[test]
    fn lengths_are_valid_and_above_the_bound(job in length_jobs(), seed in 0u64..9) {
        for steps in [0, 200] {
            let a = solve_lengths(&job, Budget { steps, seed });
            let missing: i64 = a.layout.unplaced.iter().map(|u| u.qty).sum();
            let faults: Vec<LengthFault> = verify_lengths(&job, &a.layout)
                .into_iter()
                .filter(|f| !matches!(f, LengthFault::WrongCount { cut, wanted, .. } if *cut < i128::from(*wanted)))
                .collect();
            prop_assert_eq!(faults, vec![]);
            let cut: i64 = a.layout.bars.iter().map(|b| b.count * b.parts.len() as i64).sum();
            prop_assert_eq!(cut + missing, job.pieces());
            prop_assert!(missing > 0 || a.report.cost >= a.bound.value);
            prop_assert_eq!(&a.layout, &solve_lengths(&job, Budget { steps, seed }).layout);
            let (bars, _) = bar_sequences(&job, &a.layout, 10);
            let pieces: i64 =
                bars.iter().map(|b| b.count * b.cuts.iter().filter(|c| c.part.is_some()).count() as i64).sum();
            prop_assert_eq!(pieces, cut);
        }
    }
}

/// Hundreds of lengths, no two alike: too many for the relaxation to come to its least in the steps it is given.
#[test]
fn hundreds_of_distinct_lengths_are_bettered_too() {
    let kind = |id: &str, length, price| BarKind { id: id.into(), length, qty: None, price };
    let mut random = 20_264_u64;
    let parts = (0..300).map(|i| {
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        LengthPart { id: format!("p{i}"), length: 300_000 + (random >> 33) as i64 % 400_000, qty: 1 }
    });
    let job = LengthJob {
        name: "distinct".into(),
        unit: "um".into(),
        kerf: 3_000,
        end_trim: 0,
        stocks: vec![kind("short", 1_000_000, 10), kind("long", 1_500_000, 14)],
        parts: parts.collect(),
    };
    let quick = solve_lengths(&job, Budget { steps: 0, seed: 1 });
    let better = solve_lengths(&job, Budget { steps: 20, seed: 1 });
    assert_eq!(verify_lengths(&job, &better.layout), vec![]);
    assert!(better.report.cost < quick.report.cost, "{} and {}", better.report.cost, quick.report.cost);
}
