//! Any plan at all is placed: nothing panics, order is kept, and runs are filled.

use std::sync::LazyLock;

use dryfit_measure::{Key, Length, Stated};
use dryfit_plan::{End, Height, Level, Plan, UnitKind, Width};
use dryfit_stages::placement::{Extent, placement};
use dryfit_stages::survey::{Survey, survey};
use proptest::prelude::*;

use crate::room::demo;

static DEMO: LazyLock<(Plan, Survey)> = LazyLock::new(|| {
    let plan = demo().plan;
    let survey = survey(&plan).0;
    (plan, survey)
});

/// One statement of the demo changed to another of its kind, sensible or not.
#[derive(Clone, Debug)]
enum Change {
    Width(usize, Width),
    Height(usize, Option<Height>),
    Depth(usize, Stated),
    Kind(usize, UnitKind),
    Recipe(usize),
    Order(usize, Vec<Key>),
    Along(usize, Key),
    Level(usize, Level),
    RunHeight(usize, Option<Height>),
    End(usize, bool, End),
    Over(Vec<Key>),
    Gone(usize),
}

fn any_stated() -> impl Strategy<Value = Stated> {
    prop_oneof![
        4 => (0i64..2000).prop_map(Length::sixty_fourths),
        2 => (0i64..2_000_000_000).prop_map(Length::from_nm),
        1 => (-200_000_000i64..0).prop_map(Length::from_nm),
        1 => Just(Length::METRE * 1000),
    ]
    .prop_map(Stated::inches)
}

fn key(from: &'static [&'static str]) -> impl Strategy<Value = Key> {
    proptest::sample::select(from).prop_map(Key::literal)
}

const UNITS: &[&str] = &[
    "e1", "b1", "b2", "f1", "k1", "f5", "b3", "b4", "b5", "f6", "k2", "f2", "a1", "b6", "t1", "f3", "f4",
    "u1", "s1", "s2", "nobody",
];
const RUNS: &[&str] = &["left", "back", "right", "upper", "shelf-low", "shelf-high", "nowhere"];

fn any_width() -> impl Strategy<Value = Width> {
    prop_oneof![
        any_stated().prop_map(Width::Given),
        Just(Width::LeftOver),
        (any_stated(), any_stated()).prop_map(|(least, most)| Width::Within { least, most }),
        Just(Width::ClearsCorner),
        Just(Width::Scribe),
    ]
}

fn any_height() -> impl Strategy<Value = Option<Height>> {
    prop_oneof![
        Just(None),
        any_stated().prop_map(|height| Some(Height::Given(height))),
        key(UNITS).prop_map(|unit| Some(Height::Clears(unit))),
        any_stated().prop_map(|top| Some(Height::TopAt(top))),
    ]
}

fn any_end() -> impl Strategy<Value = End> {
    prop_oneof![
        Just(End::Wall),
        Just(End::Open),
        (key(RUNS), key(RUNS)).prop_map(|(with, owner)| End::Corner { with, owner }),
        any_stated().prop_map(|from_corner| End::Free { from_corner }),
        key(UNITS).prop_map(End::Unit),
    ]
}

fn any_level() -> impl Strategy<Value = Level> {
    prop_oneof![
        Just(Level::Floor),
        any_stated().prop_map(Level::Up),
        key(&["slate", "marble"]).prop_map(Level::AboveTop),
    ]
}

fn any_kind() -> impl Strategy<Value = UnitKind> {
    use UnitKind::{Appliance, Base, EndPanel, Filler, FloatingShelf, Gap, Sink, Tall, Wall};
    proptest::sample::select(vec![Base, Sink, Wall, Tall, FloatingShelf, Appliance, Filler, EndPanel, Gap])
}

fn any_change() -> impl Strategy<Value = Change> {
    let unit = || 0..UNITS.len() - 1;
    let run = || 0..RUNS.len() - 1;
    prop_oneof![
        (unit(), any_width()).prop_map(|(i, width)| Change::Width(i, width)),
        (unit(), any_height()).prop_map(|(i, height)| Change::Height(i, height)),
        (unit(), any_stated()).prop_map(|(i, depth)| Change::Depth(i, depth)),
        (unit(), any_kind()).prop_map(|(i, kind)| Change::Kind(i, kind)),
        unit().prop_map(Change::Recipe),
        (run(), proptest::collection::vec(key(UNITS), 0..6)).prop_map(|(i, order)| Change::Order(i, order)),
        (run(), key(&["AB", "BC", "CD", "DA", "EF"])).prop_map(|(i, wall)| Change::Along(i, wall)),
        (run(), any_level()).prop_map(|(i, level)| Change::Level(i, level)),
        (run(), any_height()).prop_map(|(i, height)| Change::RunHeight(i, height)),
        (run(), any::<bool>(), any_end()).prop_map(|(i, left, end)| Change::End(i, left, end)),
        proptest::collection::vec(key(RUNS), 0..4).prop_map(Change::Over),
        unit().prop_map(Change::Gone),
    ]
}

fn changed(plan: &mut Plan, change: Change) {
    let unit = |i: usize| Key::literal(UNITS[i]);
    let run = |i: usize| Key::literal(RUNS[i]);
    if let Change::Gone(i) = change {
        plan.units.remove(&unit(i));
        return;
    }
    match change {
        Change::Width(i, _)
        | Change::Height(i, _)
        | Change::Depth(i, _)
        | Change::Kind(i, _)
        | Change::Recipe(i) => {
            let Some(unit) = plan.units.get_mut(&unit(i)) else { return };
            match change {
                Change::Width(_, width) => unit.width = width,
                Change::Height(_, height) => unit.height = height,
                Change::Depth(_, depth) => unit.depth = Some(depth),
                Change::Kind(_, kind) => unit.kind = kind,
                _ => unit.recipe = None,
            }
        }
        Change::Over(runs) => {
            for top in plan.tops.values_mut() {
                top.over.clone_from(&runs);
            }
        }
        Change::Order(i, order) => {
            plan.runs.entry(run(i)).and_modify(|run| run.order = order);
        }
        Change::Along(i, wall) => {
            plan.runs.entry(run(i)).and_modify(|run| run.along = wall);
        }
        Change::Level(i, level) => {
            plan.runs.entry(run(i)).and_modify(|run| run.level = level);
        }
        Change::RunHeight(i, height) => {
            plan.runs.entry(run(i)).and_modify(|run| run.height = height);
        }
        Change::End(i, left, end) => {
            plan.runs
                .entry(run(i))
                .and_modify(|run| *if left { &mut run.left } else { &mut run.right } = end);
        }
        Change::Gone(_) => {}
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_plan_is_placed(changes in proptest::collection::vec(any_change(), 1..12)) {
        let (mut plan, survey) = DEMO.clone();
        for change in changes {
            changed(&mut plan, change);
        }
        let (placed, findings) = placement(&plan, &survey);
        for (key, run) in &plan.runs {
            let Some(there) = placed.run(key) else {
                // only a run whose wall cannot even be guessed is left out
                prop_assert!(!plan.walls.contains_key(&run.along));
                continue;
            };
            let units: Vec<_> = placed.units_of(key).collect();
            // in the order that is stated: each further on than the last
            let place = |unit: &Key| run.order.iter().position(|key| key == unit);
            let places: Vec<Option<usize>> = units.iter().map(|unit| place(&unit.key)).collect();
            prop_assert!(places.is_sorted() && places.iter().all(Option::is_some), "{:?}", places);
            let mut edge = there.from.length();
            for unit in &units {
                prop_assert_eq!(unit.along.length(), edge);
                edge += unit.width.length();
                prop_assert!(unit.solid(&survey, Extent::OverAll).is_some());
            }
            prop_assert_eq!(edge, there.to.length());
            if there.spare.length() < -Length::MM {
                prop_assert!(findings.iter().any(|finding| finding.rule == "fit/run-too-wide"));
            }
        }
        // every unit that a run names is placed once
        let mut keys: Vec<&Key> = placed.units.iter().map(|unit| &unit.key).collect();
        keys.sort();
        let count = keys.len();
        keys.dedup();
        prop_assert_eq!(keys.len(), count);
        for finding in &findings {
            for fix in &finding.fixes {
                prop_assert!(plan.apply(&fix.edit).is_ok(), "{} of {}", fix.label, finding.what);
            }
        }
    }
}
