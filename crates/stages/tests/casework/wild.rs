//! Plans that make no sense: nothing panics, every part that is made has a size, and every remedy applies.

use dryfit_measure::{Dim, Key, Length, Stated, Unit};
use dryfit_plan::{Front, Hand, Plan, UnitKind};
use dryfit_stages::casework::casework;
use dryfit_stages::placement::{Beside, Placement};
use proptest::prelude::*;

use crate::made::{demo_with, placed};

fn kind() -> impl Strategy<Value = UnitKind> {
    prop::sample::select(vec![
        UnitKind::Base,
        UnitKind::Sink,
        UnitKind::Wall,
        UnitKind::Tall,
        UnitKind::FloatingShelf,
        UnitKind::Filler,
        UnitKind::EndPanel,
    ])
}

/// Mostly sensible, at times nothing, tiny, huge or below nothing.
fn length() -> impl Strategy<Value = Length> {
    prop_oneof![
        6 => (0_i64..1_500_000_000).prop_map(Length::from_nm),
        1 => Just(Length::ZERO),
        1 => Just(Length::from_nm(1)),
        1 => (1_000_000_000_i64..1_000_000_000_000).prop_map(Length::from_nm),
        1 => (-1_000_000_000_i64..0).prop_map(Length::from_nm),
    ]
}

fn stated() -> impl Strategy<Value = Stated> {
    (length(), any::<bool>()).prop_map(|(length, metric)| Stated {
        length,
        unit: if metric { Unit::Millimetre } else { Unit::Inch },
    })
}

fn front() -> impl Strategy<Value = Front> {
    let height = prop::option::of(stated()).boxed();
    let slide = prop::sample::select(vec!["slide-21", "hinge", "nothing"]);
    let leaf = prop_oneof![
        (any::<bool>(), height.clone()).prop_map(|(left, height)| Front::Door {
            hinge: if left { Hand::Left } else { Hand::Right },
            height
        }),
        height.clone().prop_map(|height| Front::Pair { height }),
        (slide, height.clone())
            .prop_map(|(slide, height)| Front::Drawer { slide: Key::literal(slide), height }),
        height.clone().prop_map(|height| Front::Fixed { height }),
        height.prop_map(|height| Front::Open { height }),
    ];
    leaf.prop_recursive(2, 12, 5, |inner| {
        prop::collection::vec(inner, 0..5).prop_map(|fronts| {
            let key = |k: usize| Key::new(&format!("d{k}")).expect("a key");
            let mut order: Vec<Key> = (0..fronts.len()).map(key).collect();
            order.push(Key::literal("lost"));
            Front::Down {
                order,
                parts: fronts.into_iter().enumerate().map(|(k, front)| (key(k), front)).collect(),
            }
        })
    })
}

fn plan() -> impl Strategy<Value = Plan> {
    let ids: Vec<String> = dryfit_handbook::figures().keys().cloned().collect();
    let figures = prop::collection::btree_map(prop::sample::select(ids), stated(), 0..12);
    let choices =
        (prop::option::of(front()), any::<u8>(), 0..17_usize, any::<[bool; 4]>(), stated(), any::<bool>());
    (figures, choices).prop_map(|(figures, (front, shelves, lost, flags, thickness, swap))| {
        let mut plan = demo_with("kind = \"base\"\nrecipe = \"painted\"\nwidth = { given = \"24 in\" }\n");
        let unit = plan.units.get_mut(&Key::literal("b1")).expect("b1");
        unit.fronts = front;
        unit.shelves = shelves;
        unit.figures = figures;
        let recipe = plan.recipes.get_mut(&Key::literal("painted")).expect("painted");
        let roles: Vec<_> = recipe.roles.keys().copied().collect();
        if let Some(role) = roles.get(lost) {
            if swap {
                recipe.roles.insert(*role, Key::literal("seed-fridge"));
            } else {
                recipe.roles.remove(role);
            }
        }
        if flags[0] {
            recipe.fit = dryfit_plan::FrontFit::Inset;
        }
        if flags[1] {
            recipe.toe = dryfit_plan::ToeBuild::Loose;
        }
        if flags[2] {
            recipe.joints.back = dryfit_plan::BackJoint::Applied;
        }
        if flags[3] {
            let good = plan.goods.get_mut(&Key::literal("ply-18")).expect("ply");
            if let dryfit_plan::Form::Sheet(sheet) = &mut good.form {
                sheet.thickness = thickness;
            }
        }
        plan
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_panics(
        plan in plan(),
        kind in kind(),
        sizes in any::<bool>().prop_flat_map(|usual| if usual {
            [Just(Length::mm(600)).boxed(), Just(Length::mm(900)).boxed(), Just(Length::mm(560)).boxed()].boxed()
        } else {
            [length().boxed(), length().boxed(), length().boxed()].boxed()
        }),
        free in any::<bool>(),
    ) {
        let mut placed = placed(kind, ["24 in", "34 1/2 in", "24 in"]);
        let dim = |length: Length| Dim::rule(length, "tested").named("size");
        let [width, height, depth] = sizes;
        (placed.width, placed.height, placed.depth) = (dim(width), dim(height), dim(depth));
        if free {
            placed.beside = [Beside::Free, Beside::Free];
        }
        let placement = Placement { runs: vec![], units: vec![placed], tops: vec![], lines: vec![] };
        let (casework, findings) = casework(&plan, &placement);
        for part in casework.units.iter().flat_map(|unit| &unit.parts) {
            for dim in [&part.length, &part.width, &part.thickness] {
                prop_assert!(dim.length().is_positive(), "{}: {dim:?}", part.role);
            }
        }
        for finding in &findings {
            prop_assert!(!finding.what.is_empty() && !finding.what.ends_with('.'), "{finding:?}");
            for fix in &finding.fixes {
                prop_assert!(plan.apply(&fix.edit).is_ok(), "{} does not apply", fix.label);
            }
        }
    }
}
