//! What holds for any room and any plan.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Length, Pointer, Stated, slopes};
use dryfit_plan::{
    Doubt, Held, Instrument, InstrumentKind, Place, Plan, Reading, Room, Sense, Subject, TapeClass, Wall,
};
use proptest::prelude::*;

use super::judged::{Random, corners};
use super::tests::demo;
use super::{Spot, Survey, survey};
use crate::finding::{Finding, Severity};

fn key(text: &str) -> Key {
    Key::new(text).expect("a key")
}

fn letter(i: usize) -> Key {
    key(&char::from(b'A' + u8::try_from(i % 26).expect("small")).to_string())
}

/// A plan with these corners, counter-clockwise, walls named by their corners, and no readings.
fn empty_room(n: usize) -> Plan {
    let mut plan = demo();
    plan.units.clear();
    plan.runs.clear();
    plan.tops.clear();
    plan.openings.clear();
    plan.readings.clear();
    plan.room = Room {
        walk: (0..n).map(letter).collect(),
        sense: Sense::CounterClockwise,
        ceiling_about: None,
        floor_buildup: None,
    };
    plan.walls = (0..n)
        .map(|i| {
            let (from, to) = (letter(i), letter((i + 1) % n));
            let wall = Wall {
                from: from.clone(),
                to: to.clone(),
                name: None,
                framing: None,
                bearing: None,
                layers: BTreeMap::new(),
            };
            (key(&format!("{from}{to}")), wall)
        })
        .collect();
    plan
}

/// A reading by the demo's tape, of a true length.
fn read(of: Subject, height: f64, length: f64) -> Reading {
    let length = Stated::inches(Length::from_mm_f64(length));
    let by = if matches!(of, Subject::Lean { .. }) { "plumb" } else { "tape25" };
    Reading {
        epoch: key("found"),
        by: key(by),
        of,
        height: Some(Stated::inches(Length::from_mm_f64(height))),
        how: Held::Hook,
        length,
        text: length.to_string(),
        doubt: Doubt::Plain,
        set_aside: None,
    }
}

fn distance(from: usize, to: usize, height: f64, length: f64) -> Reading {
    read(Subject::Diagonal { from: letter(from), to: letter(to) }, height, length)
}

fn add(plan: &mut Plan, reading: Reading) -> Key {
    let key = key(&format!("r{}", plan.readings.len() + 1));
    plan.readings.insert(key.clone(), reading);
    key
}

/// A room's corners at a height, each where its two raised walls cross: stated without the code under test.
fn raised(at: &[[f64; 2]], leans: &[f64], height: f64) -> Vec<[f64; 2]> {
    let n = at.len();
    let line = |i: usize| {
        let (p, q) = (at[i], at[(i + 1) % n]);
        let (dx, dy) = (q[0] - p[0], q[1] - p[1]);
        let l = dx.hypot(dy);
        let normal = [dy / l, -dx / l];
        (normal, normal[0] * p[0] + normal[1] * p[1] + leans[i] * height)
    };
    (0..n)
        .map(|i| {
            let ((a, ca), (b, cb)) = (line((i + n - 1) % n), line(i));
            let det = a[0] * b[1] - a[1] * b[0];
            [(ca * b[1] - cb * a[1]) / det, (a[0] * cb - b[0] * ca) / det]
        })
        .collect()
}

fn apart(p: [f64; 2], q: [f64; 2]) -> f64 {
    (p[0] - q[0]).hypot(p[1] - q[1])
}

/// Every wall and diagonal at two heights, every lean, exactly as they are.
fn well_measured(at: &[[f64; 2]], leans: &[f64]) -> Plan {
    let n = at.len();
    let mut plan = empty_room(n);
    for height in [300.0, 2000.0] {
        let corners = raised(at, leans, height);
        for from in 0..n {
            for to in from + 1..n {
                add(&mut plan, distance(from, to, height, apart(corners[from], corners[to])));
            }
        }
    }
    for (i, lean) in leans.iter().enumerate() {
        let wall = key(&format!("{}{}", letter(i), letter((i + 1) % n)));
        add(&mut plan, read(Subject::Lean { wall }, 2000.0, lean * 2000.0));
    }
    plan
}

fn random_room(seed: u64, n: usize) -> (Vec<[f64; 2]>, Vec<f64>) {
    let mut random = Random(seed);
    let at = corners(&mut random, n);
    let leans = (0..n).map(|_| random.between(-0.01, 0.01)).collect();
    (at, leans)
}

/// Where the line `out` before wall `i` meets the room's outline nearest to the wall's middle, left and right.
fn sampled_edges(at: &[[f64; 2]], outline: &[[f64; 2]], i: usize, out: f64) -> Option<(f64, f64)> {
    let n = at.len();
    let (right, left) = (at[i], at[(i + 1) % n]);
    let length = apart(left, right);
    let along = [(right[0] - left[0]) / length, (right[1] - left[1]) / length];
    let inward = [along[1], -along[0]];
    let seen: Vec<[f64; 2]> = outline
        .iter()
        .map(|p| {
            let d = [p[0] - left[0], p[1] - left[1]];
            [d[0] * along[0] + d[1] * along[1], d[0] * inward[0] + d[1] * inward[1] - out]
        })
        .collect();
    let (mut less, mut more) = (f64::NEG_INFINITY, f64::INFINITY);
    for k in 0..n {
        let (p, q) = (seen[k], seen[(k + 1) % n]);
        if p[1] * q[1] < 0.0 {
            let s = p[0] - p[1] * (q[0] - p[0]) / (q[1] - p[1]);
            if s < length / 2.0 { less = less.max(s) } else { more = more.min(s) }
        }
    }
    (less.is_finite() && more.is_finite()).then_some((less, more))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Exact readings give the room back.
    #[test]
    fn exact_readings_give_the_room(seed in any::<u64>(), n in 3_usize..9) {
        let (at, leans) = random_room(seed, n);
        let (survey, findings) = survey(&well_measured(&at, &leans));
        prop_assert!(survey.passes && survey.redundancy > 0);
        prop_assert!(findings.iter().all(|f| f.severity == Severity::Note), "{findings:?}");
        for (corner, at) in survey.corners.iter().zip(&at) {
            prop_assert!(apart(corner.at, *at) < 0.01, "{corner:?} for {at:?}");
        }
        for (wall, lean) in survey.walls.iter().zip(&leans) {
            prop_assert!((wall.lean - lean).abs() < 1e-5);
        }
    }

    /// No width taken at one height and one depth is less than the clear width.
    #[test]
    fn clear_width_is_below_every_sampled_width(
        seed in any::<u64>(), n in 4_usize..8, low in 0.0..900.0, tall in 1.0..1500.0, out in 50.0..700.0,
    ) {
        let (at, leans) = random_room(seed, n);
        let (survey, _) = survey(&well_measured(&at, &leans));
        let at: Vec<[f64; 2]> = survey.corners.iter().map(|corner| corner.at).collect();
        let leans: Vec<f64> = survey.walls.iter().map(|wall| wall.lean).collect();
        let up = [low, low + tall].map(Length::from_mm_f64);
        let mut random = Random(seed ^ 1);
        for i in 0..n {
            let clear = survey.clear(&survey.walls[i].key, None, up, Length::from_mm_f64(out)).expect("a wall");
            let stands = up.iter().map(|up| -leans[i] * up.as_mm_f64()).fold(f64::NEG_INFINITY, f64::max);
            for _ in 0..20 {
                let height = random.between(low, low + tall);
                let depth = stands + random.between(0.0, out);
                let outline = raised(&at, &leans, height);
                let Some((left, right)) = sampled_edges(&at, &outline, i, depth) else { continue };
                prop_assert!(clear.left.length().as_mm_f64() >= left - 1e-3, "wall {i}: left {left} {:?}", clear.left);
                prop_assert!(clear.right.length().as_mm_f64() <= right + 1e-3, "wall {i}: right {right} {:?}", clear.right);
            }
        }
    }

    /// The slopes of a derived length are how it moves when a reading moves and everything is adjusted again.
    #[test]
    fn slopes_are_those_of_the_whole_adjustment(seed in any::<u64>(), which in 0_usize..6) {
        let (at, leans) = random_room(seed, 4);
        let mut plan = well_measured(&at, &leans);
        let nudged = plan.readings.keys().nth(which).expect("a reading").clone();
        let lengths = |survey: &Survey| {
            let up = [Length::ZERO, Length::mm(900)];
            let clear = survey.clear(&key("AB"), None, up, Length::mm(600)).expect("a wall");
            let gap = survey.square_gap(&key("C"), Length::mm(600)).expect("a corner");
            [survey.walls[1].length.clone(), clear.left, gap]
        };
        let before = lengths(&survey(&plan).0);
        let step = Length::um(50);
        let reading = plan.readings.get_mut(&nudged).expect("it is there");
        reading.length.length += step;
        let after = lengths(&survey(&plan).0);
        let place = Pointer::root().child("readings").child(&nudged);
        for (before, after) in before.iter().zip(&after) {
            let moved = (after.length() - before.length()).as_mm_f64() / step.as_mm_f64();
            let slope = slopes(before).get(&place).copied().unwrap_or(0.0);
            prop_assert!((moved - slope).abs() < 2e-3, "{before:?}: moved {moved}, slope {slope}");
        }
    }

    /// The deviation of a length from its slopes is that from the covariance of the unknowns.
    #[test]
    fn deviation_is_the_same_from_readings_and_from_unknowns(seed in any::<u64>(), n in 3_usize..8, keep in 0.3..1.0) {
        let (at, leans) = random_room(seed, n);
        let mut plan = well_measured(&at, &leans);
        let mut random = Random(seed);
        plan.readings.retain(|_, _| random.unit() < keep);
        let (survey, findings) = survey(&plan);
        // a shape that too few readings settle has no deviation to speak of
        prop_assume!(findings.iter().all(|finding| finding.severity != crate::finding::Severity::Stop));
        let wall = &survey.walls[1];
        let (i, j) = (2, 4 % (2 * n));
        let d = [survey.corners[2 % n].at[0] - survey.corners[1].at[0], survey.corners[2 % n].at[1] - survey.corners[1].at[1]];
        let l = d[0].hypot(d[1]);
        let mut by = nalgebra::DVector::zeros(3 * n);
        for k in 0..2 {
            by[i + k] -= d[k] / l;
            by[j + k] += d[k] / l;
        }
        let expect = by.dot(&(&survey.covariance * &by)).max(0.0).sqrt();
        let got = survey.sigma(&wall.length);
        prop_assert!((got - expect).abs() < 1e-6 * (1.0 + expect), "{got} for {expect}");
    }
}

fn any_key() -> impl Strategy<Value = Key> {
    prop::sample::select(vec!["A", "B", "C", "D", "E", "AB", "BC", "CD", "zz"]).prop_map(key)
}

fn any_length() -> impl Strategy<Value = Stated> {
    let nm = prop_oneof![
        Just(0_i64),
        -2_000_000_i64..2_000_000,
        500_000_000_i64..6_000_000_000,
        Just(1_000_000_000_000),
        Just(-1_000_000_000_000),
    ];
    nm.prop_map(|nm| Stated::inches(Length::from_nm(nm)))
}

fn any_subject() -> impl Strategy<Value = Subject> {
    let place = || {
        (any_key(), any_length(), prop::option::of(any_length())).prop_map(|(wall, along, out)| Place {
            wall,
            along,
            up: None,
            out,
            face: dryfit_plan::WallFace::Finish,
        })
    };
    prop_oneof![
        (any_key(), any_key()).prop_map(|(from, to)| Subject::Span { from, to }),
        (any_key(), any_key()).prop_map(|(from, to)| Subject::Diagonal { from, to }),
        any_key().prop_map(|wall| Subject::Lean { wall }),
        place().prop_map(|at| Subject::Floor { at }),
        place().prop_map(|at| Subject::Ceiling { at }),
    ]
}

fn any_reading() -> impl Strategy<Value = Reading> {
    let by = prop::sample::select(vec!["tape25", "plumb", "level", "odd", "laser"]);
    let how = prop::sample::select(vec![Held::Hook, Held::BurntInch, Held::Inside]);
    let doubt = prop::sample::select(vec![Doubt::Plain, Doubt::About, Doubt::Given]);
    (any_subject(), any_length(), prop::option::of(any_length()), by, how, doubt, ".{0,8}").prop_map(
        |(of, length, height, by, how, doubt, text)| Reading {
            epoch: key("found"),
            by: key(by),
            of,
            height,
            how,
            length,
            text,
            doubt,
            set_aside: None,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    /// No plan, however senseless, stops the program, and nothing comes out that is no number.
    #[test]
    fn senseless_plans_give_findings(
        walk in prop::collection::vec(any_key(), 0..7),
        ends in prop::collection::vec((any_key(), any_key()), 0..6),
        readings in prop::collection::vec(any_reading(), 0..14),
        clockwise in any::<bool>(),
        step in any_length(),
    ) {
        let mut plan = empty_room(4);
        if !walk.is_empty() {
            plan.room.walk = walk;
        }
        plan.room.sense = if clockwise { Sense::Clockwise } else { Sense::CounterClockwise };
        for (i, (from, to)) in ends.into_iter().enumerate() {
            let wall = Wall { from, to, name: None, framing: None, bearing: None, layers: BTreeMap::new() };
            plan.walls.insert(key(&format!("w{i}")), wall);
        }
        for kind in [InstrumentKind::Laser, InstrumentKind::Tape] {
            let instrument = Instrument {
                name: "odd".to_owned(), kind, class: Some(TapeClass::I), step, body: Some(step), used_in: vec![],
            };
            plan.instruments.insert(key(if kind == InstrumentKind::Laser { "laser" } else { "odd" }), instrument);
        }
        for reading in readings {
            add(&mut plan, reading);
        }
        let (survey, findings) = survey(&plan);
        prop_assert!(survey.corners.iter().all(|c| c.at.iter().chain(&c.ellipse).all(|v| v.is_finite())));
        prop_assert!(survey.fits.values().all(|f| f.w.is_finite() && f.sigma > 0.0));
        prop_assert!(findings.iter().all(|f| !f.what.is_empty()));
        if survey.corners.is_empty() {
            prop_assert!(findings.iter().any(|f| f.severity == Severity::Stop));
        }
    }
}

fn found<'f>(findings: &'f [Finding], rule: &str) -> Option<&'f Finding> {
    findings.iter().find(|finding| finding.rule == rule)
}

/// The plan after the edit of a finding's remedy.
fn mended(plan: &Plan, finding: &Finding, fix: usize) -> Plan {
    let mut document = serde_json::to_value(plan).expect("a plan is JSON");
    json_patch::patch(&mut document, &finding.fixes[fix].edit.patch).expect("the edit applies");
    serde_json::from_value(document).expect("still a plan")
}

/// Taped walls and diagonals of a rectangle; the second diagonal only where it is given.
fn rectangle(second: Option<f64>) -> Plan {
    let mut plan = empty_room(4);
    let long = 3000.0_f64.hypot(2400.0);
    for (from, to, length) in [(0, 1, 3000.0), (1, 2, 2400.0), (2, 3, 3000.0), (3, 0, 2400.0), (0, 2, long)] {
        add(&mut plan, distance(from, to, 900.0, length));
    }
    if let Some(second) = second {
        add(&mut plan, distance(1, 3, 900.0, second));
    }
    plan
}

#[test]
fn too_few_readings_name_the_one_that_settles_the_shape() {
    let mut plan = rectangle(None);
    plan.readings.remove(&key("r5"));
    let (survey, findings) = survey(&plan);
    let finding = found(&findings, "survey/undetermined").expect("a finding");
    assert!(
        finding.severity == Severity::Stop && finding.what.contains("one more would settle it: diagonal"),
        "{}",
        finding.what
    );
    // as good as can be: the square corner that closes
    assert!(apart(survey.corners[2].at, [3000.0, 2400.0]) < 5.0, "{:?}", survey.corners[2]);
    // and sure that it is not sure
    assert!(survey.corners[2].ellipse[0] > 20.0);
}

#[test]
fn one_of_six_is_wrong_and_nobody_knows_which() {
    let plan = rectangle(Some(3000.0_f64.hypot(2400.0) + 25.4));
    let (survey, findings) = survey(&plan);
    let finding = found(&findings, "survey/suspect-reading").expect("a finding");
    assert_eq!(finding.subjects.len(), 6);
    assert_eq!(finding.severity, Severity::Stop);
    assert!(survey.fits.values().all(|fit| fit.ties.len() == 5));
    for fix in 0..finding.fixes.len() {
        let (_, after) = super::survey(&mended(&plan, finding, fix));
        assert!(found(&after, "survey/suspect-reading").is_none(), "{}", finding.fixes[fix].label);
        assert!(found(&after, "survey/undetermined").is_none(), "{}", finding.fixes[fix].label);
    }
}

#[test]
fn a_slip_is_named_and_mended() {
    let mut plan = demo();
    let reading = plan.readings.get_mut(&key("r4")).expect("the demo has it");
    // 136 3/8 typed for 139 3/8
    reading.length = Stated::inches(Length::inches(139, 3, 8));
    reading.text = "139 3/8".to_owned();
    let (survey, findings) = survey(&plan);
    assert!(!survey.passes);
    let finding = found(&findings, "survey/suspect-reading").expect("a finding");
    assert_eq!(finding.subjects, [key("r4")], "{}", finding.what);
    assert!(finding.what.contains("`r4` may be 136 3/8 in, 6 read as 9"), "{}", finding.what);
    let slip = survey.fits[&key("r4")].likely.clone().expect("a slip");
    assert_eq!(slip.length, Length::inches(136, 3, 8));
    assert!(found(&super::survey(&mended(&plan, finding, 0)).1, "survey/suspect-reading").is_none());
    assert!(found(&super::survey(&mended(&plan, finding, 1)).1, "survey/suspect-reading").is_none());
}

#[test]
fn keys_that_name_nothing_are_told_with_what_was_meant() {
    let mut plan = demo();
    plan.readings.get_mut(&key("r18")).expect("the demo has it").of = Subject::Lean { wall: key("DAA") };
    plan.readings.get_mut(&key("r1")).expect("the demo has it").by = key("tape52");
    plan.readings.get_mut(&key("r2")).expect("the demo has it").of =
        Subject::Span { from: key("A"), to: key("BB") };
    plan.walls.remove(&key("CD"));
    let (_, findings) = survey(&plan);
    let what: Vec<&str> = findings.iter().map(|finding| finding.what.as_str()).collect();
    for expect in [
        "`r18` names `DAA`, and there is no wall of that key; did you mean `DA`?",
        "`r1` names `tape52`, and there is no instrument of that key; did you mean `tape25`?",
        "`r2` names `BB`, and there is no corner of that key; did you mean `B`?",
        "the walk goes from `D` to `C`, and no wall joins them",
    ] {
        assert!(what.contains(&expect), "{expect} is not among {what:#?}");
    }
    for finding in &findings {
        for fix in 0..finding.fixes.len() {
            let (_, after) = survey(&mended(&plan, finding, fix));
            assert!(after.iter().all(|f| f.id() != finding.id()), "{}", finding.id());
        }
    }
}

#[test]
fn a_wall_in_two_pieces_is_a_room_like_any_other() {
    // a rectangle whose long wall has a corner of the walk in it
    let at = [[0.0, 0.0], [1400.0, 0.0], [3000.0, 0.0], [3000.0, 2400.0], [0.0, 2400.0]];
    let mut plan = empty_room(5);
    for from in 0..5 {
        for to in from + 1..5 {
            add(&mut plan, distance(from, to, 900.0, apart(at[from], at[to])));
        }
    }
    let (survey, findings) = survey(&plan);
    assert!(findings.iter().all(|f| f.severity == Severity::Note), "{findings:?}");
    for (corner, at) in survey.corners.iter().zip(at) {
        assert!(apart(corner.at, at) < 2.0, "{corner:?}");
    }
    let clear =
        survey.clear(&key("BC"), None, [Length::ZERO, Length::mm(870)], Length::mm(600)).expect("a wall");
    // from the end of its own piece to the room's corner
    assert!((clear.right.length() - clear.left.length()).as_mm_f64() > 1590.0, "{clear:?}");
}

#[test]
fn an_l_shaped_room_has_its_outside_corner() {
    let at = [[0.0, 0.0], [4000.0, 0.0], [4000.0, 1800.0], [2200.0, 1800.0], [2200.0, 3000.0], [0.0, 3000.0]];
    let mut plan = empty_room(6);
    for (from, to) in
        [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (0, 2), (0, 3), (0, 4), (1, 3), (1, 5), (3, 5)]
    {
        add(&mut plan, distance(from, to, 900.0, apart(at[from], at[to])));
    }
    let (survey, findings) = survey(&plan);
    assert!(findings.iter().all(|f| f.severity == Severity::Note), "{findings:?}");
    for (corner, at) in survey.corners.iter().zip(at) {
        assert!(apart(corner.at, at) < 1.0, "{corner:?} for {at:?}");
    }
    let angle = survey.corner_angle(&key("D")).expect("a corner").to_degrees();
    assert!((angle - 270.0).abs() < 0.1, "{angle}");
    // wall CD ends at the outside corner D and at C against BC
    let clear =
        survey.clear(&key("CD"), None, [Length::ZERO, Length::mm(870)], Length::mm(600)).expect("a wall");
    assert!((clear.width.length().as_mm_f64() - 1800.0).abs() < 8.0, "{clear:?}");
}

/// Both readings of a diagonal a foot short: with two diagonals, either may be the wrong one, and single readings
/// are not to be blamed.
#[test]
fn a_line_read_wrong_twice_is_named_as_a_line() {
    let mut plan = demo();
    for name in ["r14", "r15"] {
        let reading = plan.readings.get_mut(&key(name)).expect("the demo has it");
        reading.length.length -= Length::FOOT;
    }
    let (_, findings) = survey(&plan);
    let finding = found(&findings, "survey/suspect-reading").expect("a finding");
    assert!(finding.what.starts_with("every reading of diagonal "), "{}", finding.what);
    assert!(["r14", "r15"].iter().all(|name| finding.subjects.contains(&key(name))));
    for fix in 0..finding.fixes.len() {
        let (_, after) = super::survey(&mended(&plan, finding, fix));
        assert!(after.is_empty(), "{after:?}");
    }
}

#[test]
fn nothing_read_is_undetermined_and_no_contradiction() {
    let (_, findings) = survey(&empty_room(4));
    let stops: Vec<&str> =
        findings.iter().filter(|f| f.severity == Severity::Stop).map(|finding| finding.rule).collect();
    assert_eq!(stops, ["survey/undetermined"]);
    assert!(found(&findings, "survey/undetermined").is_some_and(|f| f.what.contains("5 more")));
}

/// Every place in the document that holds a length, with that length.
fn lengths(document: &serde_json::Value, at: &Pointer, found: &mut Vec<(Pointer, Stated)>) {
    match document {
        serde_json::Value::Object(map) => {
            map.iter().for_each(|(key, value)| lengths(value, &at.child(key), found));
        }
        serde_json::Value::Array(list) => {
            list.iter().enumerate().for_each(|(i, value)| lengths(value, &at.index(i), found));
        }
        serde_json::Value::String(text) if at.last().is_none_or(|name| name != "text") => {
            found.extend(text.parse::<Stated>().ok().map(|length| (at.clone(), length)));
        }
        _ => {}
    }
}

/// What moves a dimension is named in its reason.
#[test]
fn what_moves_is_named() {
    let dims = |survey: &Survey| {
        let mut dims: Vec<dryfit_measure::Dim> =
            survey.walls.iter().map(|wall| wall.length.clone()).collect();
        let up = [Length::ZERO, Length::inches(80, 0, 1)];
        let out = Length::inches(25, 0, 1);
        for wall in &survey.walls {
            dims.push(survey.clear(&wall.key, None, up, out).expect("a wall").width);
        }
        dims.push(survey.square_gap(&key("C"), Length::mm(600)).expect("a corner"));
        let levels = &survey.levels;
        dims.extend(levels.floor.iter().chain(&levels.ceiling).map(|point| point.height.clone()));
        dims.extend(levels.ceiling_over([600.0, 600.0]));
        dims
    };
    let plan = demo();
    let document = serde_json::to_value(&plan).expect("a plan is JSON");
    let mut found = Vec::new();
    lengths(&document, &Pointer::root(), &mut found);
    let room =
        ["/readings", "/instruments", "/room", "/walls"].map(|text| Pointer::parse(text).expect("a place"));
    let before = dims(&survey(&plan).0);
    let named: Vec<_> = before.iter().map(dryfit_measure::sources).collect();
    let mut moved = 0;
    for (at, length) in found.iter().filter(|(at, _)| room.iter().any(|room| at.is_within(room))) {
        for step in [Length::inches(0, 1, 16), Length::inches(0, -1, 16), Length::INCH] {
            let mut nudged = document.clone();
            let new = Stated::new(length.length + step, length.unit).to_string();
            *nudged.pointer_mut(at.as_str()).expect("it is there") = new.into();
            let nudged: Plan = serde_json::from_value(nudged).expect("still a plan");
            for ((after, before), named) in dims(&survey(&nudged).0).iter().zip(&before).zip(&named) {
                if after.length() != before.length() {
                    moved += 1;
                    assert!(
                        named.iter().any(|source| at.is_within(source)),
                        "{at} moves {before:?}, unnamed"
                    );
                }
            }
        }
    }
    assert!(moved > 1000, "{moved}");
}

/// Geometry of the trade through the whole survey (A-345-sens, A-diag-skew, A-deg-gap, A-plumb; inches).
#[test]
fn squares_diagonals_and_plumb() {
    let room = |at: &[[f64; 2]], leans: [f64; 4]| {
        let at: Vec<[f64; 2]> = at.iter().map(|p| p.map(|inches| inches * 25.4)).collect();
        survey(&well_measured(&at, &leans)).0
    };
    let blade = Length::inches(24, 0, 1);
    let gap =
        |survey: &Survey| survey.square_gap(&key("A"), blade).expect("a corner").length().as_inches_f64();
    let plumb = [0.0; 4];
    // one degree open: 0.41892 in at the end of the blade
    let (sine, cosine) = 91.0_f64.to_radians().sin_cos();
    let open = room(
        &[[0.0, 0.0], [96.0, 0.0], [96.0 + 72.0 * cosine, 72.0 * sine], [72.0 * cosine, 72.0 * sine]],
        plumb,
    );
    assert!((gap(&open) - 0.418_921_558).abs() < 1e-5, "{}", gap(&open));
    // three, four, five with an eighth too much across: a quarter of a degree, a tenth of an inch at the blade
    let cosine = (36.0_f64.powi(2) + 48.0_f64.powi(2) - 60.125_f64.powi(2)) / (2.0 * 36.0 * 48.0);
    let sine = (1.0 - cosine * cosine).sqrt();
    let off = room(
        &[[0.0, 0.0], [48.0, 0.0], [48.0 + 36.0 * cosine, 36.0 * sine], [36.0 * cosine, 36.0 * sine]],
        plumb,
    );
    let angle = off.corner_angle(&key("A")).expect("a corner").to_degrees() - 90.0;
    assert!((angle - 0.248_679_6).abs() < 1e-3, "{angle}");
    assert!((gap(&off) - 0.104).abs() < 1e-3, "{}", gap(&off));
    // a rectangle sheared by half an inch
    let sheared = room(&[[0.0, 0.0], [96.0, 0.0], [96.5, 120.0], [0.5, 120.0]], plumb);
    let corner = |name: &str| Spot::Corner { corner: key(name), up: Length::ZERO };
    let across = |a: &str, b: &str| {
        sheared.distance(&corner(a), &corner(b)).expect("corners").length().as_inches_f64()
    };
    assert!((across("A", "C") - across("B", "D") - 0.624_693_031).abs() < 1e-5);
    // 3/8 in out of plumb over 96 in: 0.134765625 in at the top of a 34 1/2 in unit
    let leaning =
        room(&[[0.0, 0.0], [120.0, 0.0], [120.0, 96.0], [0.0, 96.0]], [0.375 / 96.0, 0.0, 0.0, 0.0]);
    let wall = leaning.walls[0].key.clone();
    let y =
        |up: Length| leaning.point_on_wall(&wall, Length::FOOT, up, Length::ZERO).expect("a wall")[1] / 25.4;
    assert!((y(Length::ZERO) - y(Length::inches(34, 1, 2)) - 0.134_765_625).abs() < 1e-6);
}
