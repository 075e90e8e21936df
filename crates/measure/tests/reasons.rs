//! The traced dimension: what a unit's sizes name, how they move, how they are explained.

use dryfit_measure::{
    Dim, Fineness, Length, Line, Pointer, Reason, Toward, Trace, because, evaluate, explain, rules, slopes,
    sources,
};

fn at(text: &str) -> Pointer {
    Pointer::parse(text).expect("a place")
}

fn inches(whole: i64, num: i64, den: i64) -> Length {
    Length::inches(whole, num, den)
}

fn texts(lines: &[Line]) -> Vec<String> {
    lines.iter().map(|line| format!("{}{}", "  ".repeat(line.depth), line.text)).collect()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// A shelf of a unit that takes what is left of a run.
struct Shelf {
    clear: Dim,
    width: Dim,
    side: Dim,
    length: Dim,
}

fn shelf() -> Shelf {
    let adjusted = |length, wall: &str| {
        let readings = [
            (at("/readings/r3/length"), 0.91),
            (at("/readings/r4/length"), -0.05),
            (at("/readings/r9/out"), 0.3),
        ];
        let more = (10..15).map(|i| (at(&format!("/readings/r{i}/length")), 0.01));
        Dim::adjusted(length, readings.into_iter().chain(more).collect::<Vec<_>>())
            .named(format!("width at the {wall}"))
    };
    let floor = adjusted(inches(64, 5, 8), "floor");
    let waist = Dim::taped(inches(64, 11, 16), at("/readings/r20/length")).named("width at the waist");
    let clear = Dim::least([waist, floor]).named("clear width");
    let filler = Dim::rule(inches(0, 3, 4), "scribe/least").named("scribe filler");
    let open = (&clear - &filler * 2).named("width left");
    let width =
        open.split(3).swap_remove(1).rounded(Fineness::In16, Toward::Down).named("width").placed("b2");
    let side = Dim::taped(inches(0, 23, 32), at("/goods/ply-18/measured/thickness")).named("side");
    let inside = (&width - &side * 2).named("inside width").placed("b2");
    let play = Dim::chosen(inches(0, 1, 16), at("/recipes/k1/allowances/shelf")).named("free end");
    let shelf = (&inside - &play * 2).named("shelf length").placed("b2");
    Shelf { clear, width, side, length: shelf }
}

#[test]
fn a_shelf_is_computed() {
    let Shelf { clear, width, side, length } = shelf();
    assert_eq!(clear.length(), inches(64, 5, 8));
    // 63 1/8 / 3 = 21.0416.. in
    assert_eq!(width.length(), inches(21, 0, 1));
    assert_eq!(side.length() * 2, inches(1, 7, 16));
    assert_eq!(length.length(), inches(19, 7, 16));
}

#[test]
fn a_shelf_names_all_it_depends_on() {
    let shelf = shelf().length;
    let places: Vec<String> = sources(&shelf).iter().map(Pointer::to_string).collect();
    assert_eq!(
        places,
        [
            "/goods/ply-18/measured/thickness",
            "/readings/r3/length",
            "/readings/r4/length",
            "/readings/r9/out",
            "/readings/r10/length",
            "/readings/r11/length",
            "/readings/r12/length",
            "/readings/r13/length",
            "/readings/r14/length",
            "/readings/r20/length", // lost, and would win if the floor were wider
            "/recipes/k1/allowances/shelf",
        ]
    );
    assert_eq!(rules(&shelf).iter().map(|id| &**id).collect::<Vec<_>>(), ["scribe/least"]);
    let slopes = slopes(&shelf);
    assert!(near(slopes[&at("/readings/r3/length")], 0.91 / 3.0));
    assert!(near(slopes[&at("/goods/ply-18/measured/thickness")], -2.0));
    assert!(near(slopes[&at("/recipes/k1/allowances/shelf")], -2.0));
    assert!(!slopes.contains_key(&at("/readings/r20/length")));
}

#[test]
fn a_shelf_is_explained() {
    let shelf = shelf().length;
    assert_eq!(
        texts(&explain(&shelf, Fineness::In32, 20)),
        [
            "b2 shelf length 19 7/16 in = b2 inside width 19 9/16 in - 2 x free end 1/16 in",
            "  b2 inside width 19 9/16 in = b2 width 21 in - 2 x side 23/32 in",
            "    b2 width 21 in = part 2 of 3 of width left 63 1/8 in, rounded down to 1/16 in",
            "      width left 63 1/8 in = clear width 64 5/8 in - 2 x scribe filler 3/4 in",
            "        clear width 64 5/8 in = least of width at the floor 64 5/8 in, width at the waist 64 11/16 in",
            "          width at the floor 64 5/8 in = adjusted from 8 readings, most by \
             /readings/r3/length (0.91), /readings/r9/out (0.3), /readings/r4/length (-0.05)",
            "          width at the waist 64 11/16 in: taped at /readings/r20/length",
            "        scribe filler 3/4 in: rule scribe/least",
            "    side 23/32 in: taped at /goods/ply-18/measured/thickness",
            "  free end 1/16 in: chosen at /recipes/k1/allowances/shelf",
        ]
    );
    assert_eq!(
        because(&shelf, Fineness::In32),
        explain(&shelf, Fineness::In32, 1)[0].text.split("; ").next().expect("one")
    );
}

#[test]
fn what_does_not_fit_is_folded_in_words() {
    let shelf = shelf().length;
    assert_eq!(
        texts(&explain(&shelf, Fineness::In32, 4)),
        [
            "b2 shelf length 19 7/16 in = b2 inside width 19 9/16 in - 2 x free end 1/16 in",
            "  b2 inside width 19 9/16 in = b2 width 21 in - 2 x side 23/32 in",
            "    b2 width 21 in = part 2 of 3 of width left 63 1/8 in, rounded down to 1/16 in",
            "  and 10 more readings, 1 choice, 1 rule, 2 steps",
        ]
    );
    assert_eq!(
        texts(&explain(&shelf, Fineness::In32, 1)),
        ["b2 shelf length 19 7/16 in = b2 inside width 19 9/16 in - 2 x free end 1/16 in; \
          and 10 more readings, 1 choice, 1 rule, 5 steps"]
    );
    assert_eq!(explain(&shelf, Fineness::In32, 0), []);
    for limit in 1..20 {
        assert!(explain(&shelf, Fineness::In32, limit).len() <= limit);
    }
}

#[test]
fn sums_are_written_as_a_builder_would() {
    let a = Dim::chosen(inches(24, 0, 1), at("/a"));
    let b = Dim::taped(inches(1, 0, 1), at("/b"));
    let line = |dim: &Dim| because(dim, Fineness::In16);
    assert_eq!(line(&a), "24 in chosen at /a");
    assert_eq!(line(&(&a - &b)), "23 in = 24 in chosen at /a - 1 in taped at /b");
    assert_eq!(line(&((&a - &b) - &b * 2)), "21 in = 24 in chosen at /a - 3 x 1 in taped at /b");
    assert_eq!(line(&-(&a - &b)), "-23 in = -24 in chosen at /a + 1 in taped at /b");
    // what cancels is gone, and one term alone is itself
    assert!((&a + &b - &b).is_same(&a));
    assert!((&a * 1).is_same(&a));
    assert_eq!(line(&(&a - &a)), "0 in = nothing");
    assert_eq!(sources(&(&a * i64::from(false))).len(), 0);
    // the same leaf made twice is one term
    let again = Dim::taped(inches(1, 0, 1), at("/b"));
    assert_eq!(line(&(&b + &again)), "2 in = 2 x 1 in taped at /b");
    // named sums stay whole
    let named = (&a - &b).named("inside");
    assert_eq!(line(&(&named - &b)), "22 in = inside 23 in - 1 in taped at /b");
    // a second name shares the line of the first
    assert_eq!(
        line(&named.clone().named("panel width")),
        "panel width 23 in = 24 in chosen at /a - 1 in taped at /b"
    );
    assert!(named.clone().named("inside").is_same(&named));
    assert_eq!(
        line(&named.placed("b3").placed("b3/back")),
        "b3/back inside 23 in = 24 in chosen at /a - 1 in taped at /b"
    );
    let mut grown = Dim::default();
    grown += &a;
    grown -= &b;
    assert_eq!(grown.length(), inches(23, 0, 1));
    let run: Dim = (0..12)
        .map(|i| Dim::chosen(inches(12 + i, 0, 1), at(&format!("/u{i}"))).named(format!("u{i}")))
        .sum();
    assert_eq!(
        line(&run),
        "210 in = u0 12 in + u1 13 in + u2 14 in + u3 15 in + u4 16 in + u5 17 in + u6 18 in + u7 19 in + 4 more, 86 in in all"
    );
}

#[test]
fn every_kind_of_reason_has_its_words() {
    let a = Dim::chosen(inches(36, 0, 1), at("/h")).named("height");
    let b = Dim::taped(inches(48, 0, 1), at("/d")).named("depth");
    let line = |dim: &Dim| because(dim, Fineness::In16);
    assert_eq!(line(&Dim::hypot(&a, &b)), "60 in = diagonal of height 36 in, depth 48 in");
    assert!(near(slopes(&Dim::hypot(&a, &b))[&at("/d")], 0.8));
    assert_eq!(
        line(&b.scaled(0.0156, "red oak from 6 to 12 %").named("movement")),
        "movement about 3/4 in = 0.0156 x depth 48 in, red oak from 6 to 12 %"
    );
    let dado =
        Dim::rule(inches(0, 3, 8), "dado/depth").named("dado").decided_by([at("/recipes/k1/joints/bottom")]);
    assert_eq!(
        line(&dado.clone().named("let in")),
        "let in 3/8 in = dado 3/8 in, as chosen at /recipes/k1/joints/bottom"
    );
    assert!(sources(&dado).contains(&at("/recipes/k1/joints/bottom")));
    assert!(slopes(&dado).is_empty());
    assert_eq!(line(&Dim::greatest([a.clone(), b.clone()])), "48 in = greatest of depth 48 in, height 36 in");
    assert_eq!(
        line(&a.rounded(Fineness::HalfMm, Toward::Nearest)),
        "about 36 in = height 36 in rounded to the nearest 0.5 mm"
    );
    assert_eq!(line(&Dim::rule(inches(4, 0, 1), "kick/height")), "4 in by rule kick/height");
    assert_eq!(
        line(&Dim::adjusted(Length::METRE, [(at("/r1"), 1.0)])),
        "about 39 3/8 in = adjusted from /r1 (1)"
    );
    assert_eq!(line(&Dim::adjusted(Length::ZERO, [])), "0 in = adjusted from no readings");
    assert!(Dim::least_of([]).is_none() && Dim::greatest_of([]).is_none());
    assert_eq!(Dim::least_of([b.clone(), a.clone()]).expect("two").length(), a.length());
    // the first of equals wins
    let Reason::Extreme { winner, .. } = Dim::least([a.clone(), a.clone()]).reason().clone() else {
        panic!()
    };
    assert_eq!(winner, 0);
    assert_eq!(format!("{:?}", &a - &b), "-304.8 mm (sum of 2)");
    assert_eq!(format!("{a:?}"), "height 914.4 mm (chosen at /h)");
}

#[test]
fn evaluating_takes_the_loser_when_it_wins() {
    let Shelf { clear, length: shelf, .. } = shelf();
    let unmoved = evaluate(&shelf, &|_| None);
    assert_eq!(unmoved, shelf.length());
    // the floor 2 in wider: the waist, 1/16 wider than the floor was, now governs
    let wider = |place: &Pointer| (*place == at("/readings/r3/length")).then_some(inches(2, 0, 1));
    assert_eq!(evaluate(&clear, &wider), inches(64, 11, 16));
    let thicker =
        |place: &Pointer| (*place == at("/goods/ply-18/measured/thickness")).then_some(inches(0, 1, 32));
    assert_eq!(evaluate(&shelf, &thicker), shelf.length() - inches(0, 1, 16));
}

/// Forty doublings make a tree of 2^40 leaves and a graph of 41.
#[test]
fn a_shared_cause_is_visited_once() {
    let mut named = Dim::chosen(Length::from_nm(1), at("/a")).named("d0");
    let mut plain = named.clone();
    for i in 1..=40 {
        named = (&named + &named).named(format!("d{i}"));
        plain = &plain + &plain;
    }
    for dim in [&named, &plain] {
        assert_eq!(dim.length(), Length::from_nm(1 << 40));
        assert_eq!(sources(dim).len(), 1);
        assert!(near(slopes(dim)[&at("/a")], 2_f64.powi(40)));
        assert_eq!(evaluate(dim, &|_| Some(Length::from_nm(1))), Length::from_nm(2 << 40));
    }
    assert_eq!(explain(&named, Fineness::Mm1, 100).len(), 41);
    assert_eq!(explain(&plain, Fineness::Mm1, 100).len(), 2);
    // extremes do not flatten: two paths to each
    let mut either = Dim::chosen(Length::MM, at("/a"));
    for _ in 0..40 {
        either = Dim::least([&either + &either, either.clone()]);
    }
    assert_eq!(sources(&either).len(), 1);
    assert!(explain(&either, Fineness::Mm1, 12).len() <= 12);
}

/// A chain far longer than any plan makes, on a thread with the usual two megabytes of stack.
#[test]
fn a_long_chain_is_walked_and_dropped() {
    let mut dim = Dim::chosen(Length::ZERO, at("/a")).named("start");
    let step = Dim::rule(Length::MM, "step");
    for i in 0..20_000 {
        dim = (&dim + &step).named(if i % 2 == 0 { "even" } else { "odd" });
    }
    assert_eq!(dim.length(), Length::mm(20_000));
    assert_eq!(sources(&dim).len(), 1);
    assert_eq!(explain(&dim, Fineness::Mm1, 5).len(), 5);
}

mod properties {
    use super::*;
    use proptest::prelude::*;

    /// One step in building a graph: what to do with which earlier dimensions.
    #[derive(Clone, Debug)]
    enum Step {
        Leaf(i64),
        Rule(i64),
        Adjusted(i64, f64),
        Add(usize, usize),
        Sub(usize, usize),
        Times(usize, i64),
        Least(usize, usize),
        Greatest(usize, usize),
        Split(usize, usize),
        Round(usize),
        Scale(usize, f64),
        Name(usize),
    }

    fn step() -> impl Strategy<Value = Step> {
        use Step::{Add, Adjusted, Greatest, Leaf, Least, Name, Round, Rule, Scale, Split, Sub, Times};
        let i = || any::<usize>();
        prop_oneof![
            (1_000_000..4_000_000_000_i64).prop_map(Leaf),
            (1_000_000..100_000_000_i64).prop_map(Rule),
            (1_000_000..4_000_000_000_i64, -1.0..1.0).prop_map(|(nm, slope)| Adjusted(nm, slope)),
            (i(), i()).prop_map(|(a, b)| Add(a, b)),
            (i(), i()).prop_map(|(a, b)| Sub(a, b)),
            (i(), -3..4_i64).prop_map(|(a, n)| Times(a, n)),
            (i(), i()).prop_map(|(a, b)| Least(a, b)),
            (i(), i()).prop_map(|(a, b)| Greatest(a, b)),
            (i(), 1..5_usize).prop_map(|(a, n)| Split(a, n)),
            i().prop_map(Round),
            (i(), 0.1..1.5).prop_map(|(a, f)| Scale(a, f)),
            i().prop_map(Name),
        ]
    }

    /// The last of the dimensions that the steps build. `smooth` leaves out what has corners.
    fn build(steps: &[Step], smooth: bool) -> Dim {
        let mut made = vec![Dim::taped(Length::mm(600), at("/start"))];
        for (n, step) in steps.iter().enumerate() {
            let get = |i: &usize| made[made.len() - 1 - i % made.len().min(6)].clone();
            let place = at(&format!("/p{}", n % 7));
            let next = match step {
                Step::Leaf(nm) => Dim::taped(Length::from_nm(*nm), place),
                Step::Rule(nm) => Dim::rule(Length::from_nm(*nm), format!("rule/{n}")),
                Step::Adjusted(nm, slope) => {
                    Dim::adjusted(Length::from_nm(*nm), [(place, *slope), (at("/all"), 0.5)])
                }
                Step::Add(a, b) => get(a) + get(b),
                Step::Sub(a, b) => get(a) - get(b),
                Step::Times(a, n) => get(a) * *n,
                Step::Least(a, b) if !smooth => Dim::least([get(a), get(b)]),
                Step::Greatest(a, b) if !smooth => Dim::greatest([get(a), get(b)]),
                Step::Round(a) if !smooth => get(a).rounded(Fineness::In32, Toward::Nearest),
                Step::Split(a, n) => get(a).split(*n).swap_remove(0),
                Step::Scale(a, f) => get(a).scaled(*f, "a test"),
                Step::Least(a, _) | Step::Greatest(a, _) | Step::Round(a) | Step::Name(a) => {
                    get(a).named(format!("name {n}"))
                }
            };
            // a few doublings of doublings pass all bounds that a plan has
            let sane = next.length().abs() <= Length::METRE * 1000;
            made.push(if sane { next } else { Dim::taped(Length::mm(18), at("/reset")) });
        }
        made.swap_remove(made.len() - 1)
    }

    fn graph(smooth: bool) -> impl Strategy<Value = Dim> {
        prop::collection::vec(step(), 1..60).prop_map(move |steps| build(&steps, smooth))
    }

    proptest! {
        #[test]
        fn explaining_ends_within_its_lines(dim in graph(false), limit in 0_usize..30) {
            let lines = explain(&dim, Fineness::In32, limit);
            prop_assert!(lines.len() <= limit);
            prop_assert_eq!(lines.is_empty(), limit == 0);
            prop_assert!(lines.iter().all(|line| !line.text.contains('\n') && line.depth < lines.len().max(2)));
            // nothing is folded where there is room for all
            let all = explain(&dim, Fineness::In32, 1000);
            prop_assert!(all.iter().all(|line| !line.text.contains(" more reading")));
        }

        #[test]
        fn unmoved_it_is_itself(dim in graph(false)) {
            prop_assert_eq!(evaluate(&dim, &|_| None), dim.length());
        }

        /// What moves a dimension is named in its reason: by a little, and by far.
        #[test]
        fn what_moves_it_is_named(dim in graph(false), places in prop::collection::vec(0..9_usize, 1..4), by in -500_000_000_i64..500_000_000) {
            let trace = Trace::of(&dim);
            let named = trace.sources();
            for place in places.into_iter().map(|i| match i { 7 => at("/start"), 8 => at("/all"), i => at(&format!("/p{i}")) }) {
                for nm in [by, by / 1000, -by] {
                    let moved = trace.evaluate(&|p| (*p == place).then_some(Length::from_nm(nm)));
                    prop_assert!(moved == dim.length() || named.contains(&place), "{} moved it unnamed", place);
                }
            }
            prop_assert!(trace.slopes().keys().all(|place| named.contains(place)));
        }

        /// The slopes are those of the evaluation itself, where it has no corners.
        #[test]
        fn slopes_agree_with_differences(dim in graph(true)) {
            let trace = Trace::of(&dim);
            for (place, slope) in trace.slopes() {
                let step = Length::mm(10);
                let ends = [step, -step].map(|by| trace.evaluate(&|p| (*p == place).then_some(by)));
                let difference = (ends[0] - ends[1]).as_mm_f64() / 20.0;
                // every split and scaling rounds to a nanometre, and sums multiply it
                prop_assert!((difference - slope).abs() <= 1e-4 * slope.abs().max(1.0), "{} {} {}", place, difference, slope);
            }
        }
    }
}
