//! Runs, corners, heights and worktops with numbers worked by hand.

mod support;

use dryfit_measure::{Length, because, explain, sources};
use dryfit_plan::Plan;
use dryfit_stages::finding::Severity;
use dryfit_stages::placement::{Beside, Extent};
use support::{INCH_ROOM, Job, assert_fills, inches, job, metric_room, place};

fn corners_clear(job: &Job, run: &str, first: &str, side: usize, reveal: Length) {
    let kept = job.run(run).kept_clear[side].as_ref().expect("a corner there").length();
    let unit = job.unit(first);
    match side {
        0 => assert!(unit.along.length() + reveal >= kept, "{first} opens clear of the corner"),
        _ => assert!(unit.right().length() - reveal <= kept, "{first} opens clear of the corner"),
    }
}

// --- straight runs ---------------------------------------------------------------------------------------

#[test]
fn a_straight_run_between_two_scribes() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        f1 = { kind = "filler", recipe = "k", width = "scribe" }
        b1 = { kind = "base", recipe = "k", width = { given = "36 in" } }
        b2 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
        b3 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
        b4 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
        f2 = { kind = "filler", recipe = "k", width = "scribe" }
        [runs]
        back = { along = "BC", level = "floor", order = ["f1", "b1", "b2", "b3", "b4", "f2"], left = "wall", right = "wall" }
        "#,
    );
    assert_eq!(job.whats(), [""; 0]);
    // 144 - 1 - 36 - 1 = 106; a third is 35 1/3, at marks 35 5/16; 3/48 x 3 = 1/16 is over for the scribe
    assert_eq!(job.run("back").clear.length(), inches(144, 0));
    assert_eq!(["b2", "b3", "b4"].map(|key| job.width(key)), [inches(35, 5); 3]);
    assert_eq!((job.width("f1"), job.width("f2")), (inches(1, 0), inches(1, 1)));
    assert_eq!(job.along("b2"), inches(37, 0));
    assert_fills(&job, "back");
    assert!(job.run("back").spare.length().is_zero());
    let chain: Vec<String> =
        explain(&job.unit("b2").width, job.plan.fineness, 12).into_iter().map(|line| line.text).collect();
    assert_eq!(chain[0], "b2 width 35 5/16 in = about 35 5/16 in rounded down to 1/16 in");
    assert!(chain.iter().any(|line| line.contains("what is left 106 in")), "{chain:#?}");
    assert!(chain.iter().any(|line| line.contains("/readings/r2")), "reaches the survey: {chain:#?}");
}

#[test]
fn without_a_filler_the_marks_are_spread_one_at_a_time() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", recipe = "k", width = "left-over" }
        b2 = { kind = "base", recipe = "k", width = "left-over" }
        b3 = { kind = "base", recipe = "k", width = "left-over" }
        b4 = { kind = "base", recipe = "k", width = "left-over" }
        b5 = { kind = "base", recipe = "k", width = "left-over" }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1", "b2", "b3", "b4", "b5"], left = "wall", right = "wall" }
        "#,
    );
    // 144 in are 2304 sixteenths: four of 461 (28 13/16) and one of 460 (28 3/4)
    let widths = ["b1", "b2", "b3", "b4", "b5"].map(|key| job.width(key));
    assert_eq!(widths, [inches(28, 13), inches(28, 13), inches(28, 13), inches(28, 13), inches(28, 12)]);
    assert_fills(&job, "back");
    assert_eq!(job.run("back").to.length(), inches(144, 0));
    // no filler at the wall: the frame itself reaches past the box there
    assert_eq!(job.unit("b1").overhang.clone().map(|dim| dim.length()), [inches(0, 4), Length::ZERO]);
    assert_eq!(job.unit("b1").box_width().length(), inches(28, 9));
}

#[test]
fn shares_keep_within_their_limits() {
    let wishes = |limits: &str| {
        format!(
            r#"
            [units]
            f1 = {{ kind = "filler", recipe = "k", width = "scribe" }}
            b1 = {{ kind = "base", recipe = "k", width = {{ within = {{ {limits} }} }} }}
            b2 = {{ kind = "base", recipe = "k", width = "left-over" }}
            f2 = {{ kind = "filler", recipe = "k", width = "scribe" }}
            [runs]
            back = {{ along = "BC", level = "floor", order = ["f1", "b1", "b2", "f2"], left = "wall", right = "wall" }}
            "#
        )
    };
    // 142 to share: 71 each, unless a limit binds
    let job_of = |limits| job(INCH_ROOM, &wishes(limits));
    for (limits, b1) in [
        (r#"least = "15 in", most = "24 in""#, 24),
        (r#"least = "80 in", most = "90 in""#, 80),
        (r#"least = "60 in", most = "90 in""#, 71),
    ] {
        let job = job_of(limits);
        assert_eq!(job.whats(), [""; 0]);
        assert_eq!(job.width("b1"), inches(b1, 0));
        assert_eq!(job.width("b2"), inches(142 - b1, 0));
        assert_fills(&job, "back");
        // whichever binds, both limits have a say in both widths
        let most = "/units/b1/width/within/most";
        assert!(sources(&job.unit("b2").width).iter().any(|at| at.as_str() == most));
    }
    let crossed = job_of(r#"least = "24 in", most = "15 in""#);
    assert_eq!(crossed.ids(), ["placement/limits-crossed:b1"]);
    assert_eq!(crossed.whats(), ["`b1` is to be at least 24 in and at most 15 in wide"]);
}

#[test]
fn limits_that_fall_short_of_the_wall_are_found() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", recipe = "k", width = { within = { least = "15 in", most = "24 in" } } }
        b2 = { kind = "base", recipe = "k", width = { within = { least = "15 in", most = "30 in" } } }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1", "b2"], left = "wall", right = "wall" }
        "#,
    );
    // 144 - 24 - 30
    assert_eq!(job.whats(), ["run `back` leaves 90 in over: none of its units may be wider"]);
    assert_eq!(job.findings[0].severity, Severity::Look);
    assert_every_fix_clears(&job);
}

#[test]
fn scribes_give_what_is_missing_down_to_their_least() {
    let wishes = |width: &str| {
        format!(
            r#"
            [units]
            f1 = {{ kind = "filler", recipe = "k", width = "scribe" }}
            b1 = {{ kind = "base", recipe = "k", width = {{ given = "{width}" }} }}
            f2 = {{ kind = "filler", recipe = "k", width = "scribe" }}
            [runs]
            back = {{ along = "BC", level = "floor", order = ["f1", "b1", "f2"], left = "wall", right = "wall" }}
            "#
        )
    };
    // 144 - 141 = 3: half an inch more for each
    let wide = job(INCH_ROOM, &wishes("141 in"));
    assert_eq!((wide.width("f1"), wide.width("f2")), (inches(1, 8), inches(1, 8)));
    // 144 - 142 3/8 = 1 5/8: 3/8 is missing; the right-hand one gives down to 3/4, the left-hand one the rest
    let tight = job(INCH_ROOM, &wishes("142 3/8 in"));
    assert_eq!(tight.whats(), [""; 0]);
    assert_eq!((tight.width("f1"), tight.width("f2")), (inches(0, 14), inches(0, 12)));
    assert_fills(&tight, "back");
    // 144 - 142 1/2 = 1 1/2: exactly the least of both
    let limit = job(INCH_ROOM, &wishes("142 1/2 in"));
    assert_eq!(limit.whats(), [""; 0]);
    assert_eq!((limit.width("f1"), limit.width("f2")), (inches(0, 12), inches(0, 12)));
    // a mark more is too much
    let over = job(INCH_ROOM, &wishes("142 9/16 in"));
    assert_eq!(over.whats(), ["run `back` is too wide by 1/16 in: it needs 144 1/16 in and has 144 in"]);
}

#[test]
fn a_run_that_is_too_wide_stays_and_says_what_would_help() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", recipe = "k", width = { given = "80 in" } }
        b2 = { kind = "base", recipe = "k", width = { given = "70 in" } }
        b3 = { kind = "base", recipe = "k", width = "left-over" }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1", "b2", "b3"], left = "wall", right = "wall" }
        "#,
    );
    // 80 + 70 - 144
    assert_eq!(job.whats(), ["run `back` is too wide by 6 in: it needs 150 in and has 144 in"]);
    let finding = &job.findings[0];
    assert_eq!((finding.severity, finding.id().as_str()), (Severity::Stop, "fit/run-too-wide:back"));
    assert_eq!(finding.short_by.as_ref().map(dryfit_measure::Dim::length), Some(inches(6, 0)));
    let labels: Vec<&str> = finding.fixes.iter().map(|fix| fix.label.as_str()).collect();
    assert_eq!(labels, ["make `b1` 74 in wide", "make `b2` 64 in wide", "take `b2` out"]);
    assert_eq!(job.width("b3"), Length::ZERO);
    assert_eq!(job.run("back").spare.length(), -inches(6, 0));
    assert_every_fix_clears(&job);
}

#[test]
fn free_ends_and_open_ends() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        e1 = { kind = "end-panel", recipe = "k", width = { given = "23/32 in" } }
        b1 = { kind = "base", recipe = "k", width = "left-over" }
        f1 = { kind = "filler", recipe = "k", width = "scribe" }
        f2 = { kind = "filler", recipe = "k", width = "scribe" }
        u1 = { kind = "wall", recipe = "k", width = { given = "30 in" } }
        u2 = { kind = "wall", recipe = "k", width = { given = "24 in" } }
        f3 = { kind = "filler", recipe = "k", width = "scribe" }
        s1 = { kind = "floating-shelf", recipe = "k", width = "left-over" }
        [runs]
        low = { along = "BC", level = "floor", order = ["e1", "b1", "f1"], left = { free = { from_corner = "30 in" } }, right = "wall" }
        up-left = { along = "BC", level = { up = "54 in" }, order = ["f2", "u1"], left = "wall", right = "open" }
        up-right = { along = "BC", level = { up = "54 in" }, order = ["u2", "f3"], left = "open", right = "wall" }
        shelf = { along = "BC", level = { up = "60 in" }, order = ["s1"], left = { unit = "u1" }, right = { unit = "u2" } }
        "#,
    );
    assert_eq!(job.whats(), [""; 0]);
    // 144 - 30 - 23/32 - 1 = 112 9/32, at marks 112 1/4; the scribe takes the 1/32
    assert_eq!(job.along("e1"), inches(30, 0));
    assert_eq!(job.width("b1"), inches(112, 4));
    assert_eq!(job.width("f1"), Length::inches(1, 1, 32));
    assert_eq!(job.unit("e1").beside, [Beside::Free, Beside::Unit("b1".parse().unwrap())]);
    // from the left wall 1 + 30; from the right wall 144 - 1 - 24 = 119
    assert_eq!((job.along("u1"), job.along("u2")), (inches(1, 0), inches(119, 0)));
    assert_eq!(job.run("up-left").spare.length(), inches(113, 0));
    // the shelf goes from the one to the other
    assert_eq!((job.along("s1"), job.width("s1")), (inches(31, 0), inches(88, 0)));
    for run in ["low", "up-left", "up-right", "shelf"] {
        assert_fills(&job, run);
    }
}

// --- corners ---------------------------------------------------------------------------------------------

const L_ROOM: &str = r#"
[units]
f0 = { kind = "filler", recipe = "k", width = "scribe" }
b1 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
b2 = { kind = "base", recipe = "k", width = { given = "36 in" }, fronts = { pair = {} } }
f1 = { kind = "filler", recipe = "k", width = "clears-corner" }
k1 = { kind = "gap", width = "clears-corner" }
f2 = { kind = "filler", recipe = "k", width = "clears-corner" }
b3 = { kind = "base", recipe = "k", width = "left-over", fronts = { door = { hinge = "left" } } }
f3 = { kind = "filler", recipe = "k", width = "scribe" }
[runs]
back = { along = "BC", level = "floor", order = ["f0", "b1", "b2", "f1", "k1"], left = "wall", right = { corner = { with = "right", owner = "back" } } }
right = { along = "CD", level = "floor", order = ["f2", "b3", "f3"], left = { corner = { with = "back", owner = "back" } }, right = "wall" }
[tops]
t = { over = ["back", "right"], substrate = "core", layers = 2 }
"#;

#[test]
fn an_inside_corner_is_kept_clear_both_ways() {
    let job = job(INCH_ROOM, L_ROOM);
    assert_eq!(job.whats(), [""; 0]);
    // each run: box 24, frame 3/4, door 3/4, pull 1 1/4 = 26 3/4; and 1/4 of air
    for run in ["back", "right"] {
        assert_eq!(job.run(run).depth_over_all.length(), Length::inches(26, 3, 4));
    }
    assert_eq!(job.run("right").kept_clear[0].as_ref().unwrap().length(), inches(27, 0));
    assert_eq!(job.run("back").kept_clear[1].as_ref().unwrap().length(), inches(144 - 27, 0));
    // right begins before back's frames, 24 3/4; a filler of 3 is more than clears (27 - 1 1/2 + 1/2 = 26)
    assert_eq!((job.along("f2"), job.width("f2")), (inches(24, 12), inches(3, 0)));
    assert_eq!(job.along("b3"), inches(27, 12));
    // 108 - 1 - 27 3/4
    assert_eq!(job.width("b3"), inches(79, 4));
    // back goes up to the wall: a dead corner behind right's frames, then a filler of its own
    assert_eq!((job.along("k1"), job.width("k1")), (inches(144 - 25, 4), inches(24, 12)));
    assert_eq!((job.along("f1"), job.width("f1")), (inches(116, 4), inches(3, 0)));
    // 116 1/4 - 36 - 1
    assert_eq!(job.width("b1"), inches(79, 4));
    let reveal = inches(1, 0);
    corners_clear(&job, "right", "b3", 0, reveal);
    corners_clear(&job, "back", "b2", 1, reveal);
    assert_fills(&job, "back");
    assert_fills(&job, "right");
    assert_eq!(job.unit("f2").beside[0], Beside::Run("back".parse().unwrap()));
    assert_eq!(job.unit("k1").beside[1], Beside::Wall("CD".parse().unwrap()));
}

#[test]
fn a_corner_filler_is_as_wide_as_clears_where_the_least_is_less() {
    let wishes = L_ROOM.replace(
        r#"f2 = { kind = "filler", recipe = "k", width = "clears-corner" }"#,
        r#"f2 = { kind = "filler", recipe = "k", width = "clears-corner", figures = { corner-filler-least = "1/2 in" } }"#,
    );
    let job = job(INCH_ROOM, &wishes);
    // 27 kept clear, less the 1 from the edge of b3 to its door: 26; from 24 3/4 that is 1 1/4
    assert_eq!((job.along("f2"), job.width("f2")), (inches(24, 12), inches(1, 4)));
    assert_eq!(job.along("b3"), inches(26, 0));
    corners_clear(&job, "right", "b3", 0, inches(1, 0));
}

#[test]
fn the_other_run_may_go_up_to_the_wall_instead() {
    let wishes = L_ROOM
        .replace(r#"owner = "back""#, r#"owner = "right""#)
        .replace(r#""f1", "k1"]"#, r#""f1"]"#)
        .replace(r#"["f2", "b3""#, r#"["k1", "f2", "b3""#);
    let job = job(INCH_ROOM, &wishes);
    assert_eq!(job.whats(), [""; 0]);
    // now right has the dead corner, and the same filler after it
    assert_eq!((job.along("k1"), job.width("k1")), (Length::ZERO, inches(24, 12)));
    assert_eq!((job.along("f2"), job.width("f2")), (inches(24, 12), inches(3, 0)));
    // and back ends before right's frames
    assert_eq!(job.run("back").to.length(), inches(119, 4));
    assert_eq!((job.along("f1"), job.width("f1")), (inches(116, 4), inches(3, 0)));
    assert_fills(&job, "back");
    assert_fills(&job, "right");
}

#[test]
fn a_u_shares_its_back_between_two_corners() {
    let job = demo();
    assert_eq!(job.whats(), [""; 0]);
    for run in ["left", "back", "right", "upper", "shelf-low", "shelf-high"] {
        assert_fills(&job, run);
        assert!(!job.run(run).spare.length().is_negative(), "{run}");
    }
    // equal shares stay equal: the filler takes the odd mark
    assert_eq!(job.width("b3"), job.width("b5"));
    let on_grid = |key: &str| job.width(key).nm() % job.plan.fineness.step().nm() == 0;
    assert!(["b2", "b3", "b5", "b6", "s1", "s2"].iter().all(|key| on_grid(key)));
    let reveal = inches(1, 0);
    corners_clear(&job, "left", "b2", 1, reveal);
    corners_clear(&job, "back", "b3", 0, reveal);
    corners_clear(&job, "back", "b5", 1, reveal);
    // 24 for a fridge of 23: half an inch to its door
    corners_clear(&job, "right", "a1", 0, inches(0, 8));
    // the scribe by the tall cupboard goes as high as it does
    assert_eq!(job.unit("f3").height.length(), inches(80, 0));
}

// --- the height stack ------------------------------------------------------------------------------------

#[test]
fn usual_heights_and_depths() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = { given = "24 in" } }
        u1 = { kind = "wall", width = { given = "24 in" } }
        [runs]
        low = { along = "BC", level = "floor", order = ["b1"], left = "wall", right = "open" }
        up = { along = "BC", level = { above-top = "t" }, order = ["u1"], left = "wall", right = "open" }
        [tops]
        t = { over = ["low"], substrate = "core", layers = 2 }
        "#,
    );
    // C-base (practice pages of cabinet makers, "Dimensions of Base Cabinets"): base 34 1/2 high by 24 deep,
    // wall unit 12 deep, 18 above the worktop
    assert_eq!(job.unit("b1").height.length(), inches(34, 8));
    assert_eq!(job.unit("b1").depth.length(), inches(24, 0));
    assert_eq!(job.unit("u1").depth.length(), inches(12, 0));
    // C-stack ("How tall are kitchen cabinets with countertops"): 34 1/2 + 1 1/2 = 36
    assert_eq!(job.placement.tops[0].thickness.length(), inches(1, 8));
    assert_eq!(job.placement.tops[0].upper.length(), inches(36, 0));
    assert_eq!(job.unit("u1").up.length(), inches(36 + 18, 0));
    // E-depth (Fair Housing Act Design Manual, ch. 5: 25 1/2; rest practice): 25 to 25 1/2 over a base of 24
    let depth = job.placement.tops[0].legs[0].depth.length();
    assert!((inches(25, 0)..=inches(25, 8)).contains(&depth));
}

#[test]
fn a_run_clears_an_appliance() {
    let job = demo();
    // 34 5/8 with its feet in + 1/8 of feet + 1/2 of air = 35 1/4, for all three runs
    for key in ["b1", "b3", "a1", "b6", "f1", "e1"] {
        assert_eq!(job.unit(key).height.length(), inches(35, 4), "{key}");
    }
    let said = because(&job.unit("b3").height, job.plan.fineness);
    assert_eq!(
        said,
        "back height 35 1/4 in = seed fridge height, feet screwed in 34 5/8 in + seed fridge feet screwed out 1/8 in + seed fridge air above 1/2 in"
    );
    // two layers of 3/4 and 3/64 of laminate
    let top = &job.placement.tops[0];
    assert_eq!(top.thickness.length(), Length::inches(1, 35, 64));
    assert_eq!(top.upper.length(), Length::inches(36, 51, 64));
    // 36 51/64 + 18, at the next mark: chosen sizes stand on the tape's marks
    assert_eq!(job.unit("u1").up.length(), inches(54, 13));
}

#[test]
fn tops_at_and_figures_of_the_worktop() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = { given = "24 in" } }
        t1 = { kind = "tall", width = { given = "24 in" } }
        t2 = { kind = "tall", width = { given = "24 in" }, height = { top-at = "90 in" } }
        u1 = { kind = "wall", width = { given = "24 in" }, height = { top-at = "84 in" } }
        [runs]
        low = { along = "BC", level = "floor", order = ["b1", "t1", "t2"], height = { given = "30 in" }, left = "wall", right = "open" }
        up = { along = "BC", level = { above-top = "t" }, order = ["u1"], left = "wall", right = "open" }
        [tops]
        t = { over = ["low"], substrate = "core", layers = 2, figures = { above-top = "20 in" } }
        "#,
    );
    assert_eq!(job.unit("b1").height.length(), inches(30, 0));
    // a tall unit among bases is as tall as tall units are, not as the run
    assert_eq!(job.unit("t1").height.length(), inches(84, 0));
    assert_eq!(job.unit("t2").height.length(), inches(90, 0));
    // 30 + 1 1/2 + 20 = 51 1/2; 84 - 51 1/2
    assert_eq!(job.unit("u1").up.length(), inches(51, 8));
    assert_eq!(job.unit("u1").height.length(), inches(32, 8));
    let upside = place(edited(&job.plan, "/units/u1/height/top-at", "40 in"));
    assert_eq!(upside.whats(), ["`u1` has its top at 40 in, and its bottom at 51 1/2 in"]);
}

#[test]
fn level_lines_from_a_round_height() {
    let job = demo();
    let lines: Vec<(String, Length)> =
        job.placement.lines.iter().map(|line| (line.what.clone(), line.up.length())).collect();
    let expected = [
        ("box tops", inches(35, 4)),
        ("first line", inches(40, 0)),
        ("under s1, u1", inches(54, 13)),
        ("under s2", inches(70, 0)),
        ("top of t1", inches(80, 0)),
    ];
    assert_eq!(lines, expected.map(|(what, up)| (what.to_owned(), up)));
    let walls = |i: usize| job.placement.lines[i].walls.len();
    assert_eq!((walls(0), walls(1), walls(4)), (3, 3, 1));
}

// --- worktops --------------------------------------------------------------------------------------------

fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
}

#[test]
fn an_l_of_worktop() {
    let job = job(INCH_ROOM, L_ROOM);
    let top = &job.placement.tops[0];
    let [back, right] = top.legs.as_slice() else { panic!("two legs") };
    // 24 + 3/4 + 1 over the front, 1/8 free of every wall
    assert_eq!(back.depth.length(), inches(25, 12));
    assert_eq!((back.from.length(), back.to.length()), (inches(0, 2), Length::inches(143, 7, 8)));
    assert_eq!((right.from.length(), right.to.length()), (inches(25, 12), Length::inches(107, 7, 8)));
    // counter-clockwise: (143 3/4 x 25 5/8 + 25 5/8 x 82 1/8) sq in, worked by hand
    let square_inches = area(&top.outline) / 25.4 / 25.4;
    assert!((square_inches - (143.75 * 25.625 + 25.625 * 82.125)).abs() < 1e-6, "{square_inches}");
    assert_eq!(top.outline.len(), 6);
}

#[test]
fn the_demos_worktop_has_one_free_end_and_a_sink() {
    let job = demo();
    let [top] = job.placement.tops.as_slice() else { panic!("one worktop") };
    assert_eq!(top.legs.iter().map(|leg| leg.run.as_str()).collect::<Vec<_>>(), ["left", "back", "right"]);
    // an inch past the end panel, which stands 24 from the corner
    assert_eq!(top.legs[0].from.length(), inches(23, 0));
    // against the side of the tall cupboard
    assert_eq!(top.legs[2].to.length(), job.along("t1"));
    let [cutout] = top.legs[1].cutouts.as_slice() else { panic!("one sink") };
    // centred in b4, 4 behind the front edge: 25 - 4 - 18 1/4 = 2 3/4 behind it
    assert_eq!(cutout.left.length() - job.along("b4"), Length::inches(5, 7, 8));
    assert_eq!(cutout.back.length(), inches(2, 12));
    // E-setback (common practice, no source): 2 in or more before the cut-out, 1 1/2 or more behind it
    assert!(cutout.back.length() >= inches(1, 8));
    assert!(area(&top.outline) > 0.0);
}

#[test]
fn a_tall_unit_parts_a_worktop() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = { given = "24 in" } }
        t1 = { kind = "tall", width = { given = "24 in" } }
        b2 = { kind = "base", width = { given = "36 in" } }
        [runs]
        low = { along = "BC", level = "floor", order = ["b1", "t1", "b2"], left = "wall", right = "open" }
        [tops]
        t = { over = ["low"], substrate = "core", layers = 1 }
        "#,
    );
    let ends: Vec<(Length, Length)> =
        job.placement.tops.iter().map(|top| (top.legs[0].from.length(), top.legs[0].to.length())).collect();
    assert_eq!(ends, [(inches(0, 2), inches(24, 0)), (inches(48, 0), inches(85, 0))]);
}

// --- boxes in the room -----------------------------------------------------------------------------------

#[test]
fn units_stand_where_they_are_said_to() {
    let job = job(INCH_ROOM, L_ROOM);
    let solid = job.unit("b3").solid(&job.survey, Extent::Frame).expect("a box in the room");
    // the walk is clockwise, so the room lies with A at the origin, x along A-D, y along A-B; b3 stands on C-D
    // with its left edge 27 3/4 from C, so at y = 108 - 27 3/4, and its frame 24 3/4 out from x = 144
    let inch = 25.4;
    let near = |a: f64, b: f64| (a - b).abs() < 1e-5;
    let [back_right, back_left, front_left, _] = solid.plan;
    assert!(near(back_left[0], 144.0 * inch) && near(back_left[1], (108.0 - 27.75) * inch), "{back_left:?}");
    assert!(
        near(front_left[0], (144.0 - 24.75) * inch) && near(front_left[1], back_left[1]),
        "{front_left:?}"
    );
    assert!(near(back_right[1], inch), "the scribe is an inch from D: {back_right:?}");
    assert!(near(solid.up[0], 0.0) && near(solid.up[1], 34.5 * inch));
    assert!(area(&solid.plan) > 0.0, "counter-clockwise");
}

#[test]
fn nothing_in_the_demo_stands_in_anything_else() {
    let job = demo();
    let solids: Vec<_> = job
        .placement
        .units
        .iter()
        .filter(|unit| unit.kind != dryfit_plan::UnitKind::Gap)
        .map(|unit| (unit.key.as_str(), unit.solid(&job.survey, Extent::Frame).expect("a box")))
        .collect();
    for (i, (key, a)) in solids.iter().enumerate() {
        for (other, b) in &solids[i + 1..] {
            let apart_in_height = a.up[1] <= b.up[0] + 0.1 || b.up[1] <= a.up[0] + 0.1;
            assert!(apart_in_height || apart(&a.plan, &b.plan), "{key} stands in {other}");
        }
    }
}

/// Whether an edge of one of two convex quadrilaterals has all of the other beyond it, but for 0.1 mm.
fn apart(a: &[[f64; 2]; 4], b: &[[f64; 2]; 4]) -> bool {
    let beyond = |a: &[[f64; 2]; 4], b: &[[f64; 2]; 4]| {
        (0..4).any(|i| {
            let (p, q) = (a[i], a[(i + 1) % 4]);
            let (dx, dy) = (q[0] - p[0], q[1] - p[1]);
            let length = dx.hypot(dy).max(1e-9);
            b.iter().all(|r| ((r[0] - p[0]) * dy - (r[1] - p[1]) * dx) / length >= -0.1)
        })
    };
    beyond(a, b) || beyond(b, a)
}

// --- millimetres -----------------------------------------------------------------------------------------

#[test]
fn a_metric_room_has_metric_marks_and_figures() {
    let wishes = r#"
        [units]
        f1 = { kind = "filler", recipe = "k", width = "scribe" }
        b1 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
        b2 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
        b3 = { kind = "base", recipe = "k", width = "left-over", fronts = { pair = {} } }
        f2 = { kind = "filler", recipe = "k", width = "clears-corner" }
        k1 = { kind = "gap", width = "clears-corner" }
        f3 = { kind = "filler", recipe = "k", width = "clears-corner" }
        b4 = { kind = "base", recipe = "k", width = { given = "600 mm" }, fronts = { pair = {} } }
        [runs]
        back = { along = "BC", level = "floor", order = ["f1", "b1", "b2", "b3", "f2", "k1"], left = "wall", right = { corner = { with = "right", owner = "back" } } }
        right = { along = "CD", level = "floor", order = ["f3", "b4"], left = { corner = { with = "back", owner = "back" } }, right = "open" }
    "#;
    let job = job(&metric_room(), wishes);
    assert_eq!(job.whats(), [""; 0]);
    // 560 + 19.05 of maple: frames at 579.05; doors 19.05, pulls 31.75, air 6: kept clear 635.85
    assert_eq!(job.run("right").kept_clear[0].as_ref().unwrap().length(), Length::um(635_850));
    // 579.05 + 75 = 654.05, at the next millimetre 655; what clears is 635.85 - (38 - 13) = 610.85
    assert_eq!(job.along("b4"), Length::mm(655));
    assert_eq!(job.width("f3"), Length::um(75_950));
    // on the other side 3600 - 654.05 = 2945.95, at the mark before 2945; less 25 is 2920: 973 1/3 each
    assert_eq!(["b1", "b2", "b3"].map(|key| job.width(key)), [Length::mm(973); 3]);
    assert_eq!(job.width("f1"), Length::mm(26));
    assert_eq!(job.unit("b1").height.length(), Length::mm(870));
    assert_fills(&job, "back");
    assert_fills(&job, "right");
}

// --- statements that cannot be -----------------------------------------------------------------------------

#[test]
fn keys_that_name_nothing() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", recipe = "kk", width = { given = "24 in" }, holds = "fridg" }
        b2 = { kind = "base", recipe = "k", width = { given = "24 in" }, fronts = { drawer = { slide = "slid" } } }
        [runs]
        back = { along = "CB", level = { above-top = "s" }, order = ["b1", "c7"], height = { clears = "b3" }, left = { corner = { with = "bakc", owner = "back" } }, right = { unit = "zzz" } }
        [tops]
        t = { over = ["bach"], substrate = "cor", layers = 2, facing = "laminat" }
        "#,
    );
    assert_eq!(
        job.whats(),
        [
            "`b1` names `kk`, and there is no recipe of that key; did you mean `k`?",
            "`b1` names `fridg`, and there is no good of that key; did you mean `fridge`?",
            "`b2` names `slid`, and there is no good of that key; did you mean `slide`?",
            "`back` names `CB`, and there is no wall of that key; did you mean `AB`?",
            "`back` names `c7`, and there is no unit of that key",
            "`back` names `b3`, and there is no unit of that key; did you mean `b1`?",
            "`back` names `s`, and there is no worktop of that key; did you mean `t`?",
            "`back` names `bakc`, and there is no run of that key; did you mean `back`?",
            "`back` names `zzz`, and there is no unit of that key",
            "`t` names `bach`, and there is no run of that key; did you mean `back`?",
            "`t` names `cor`, and there is no good of that key; did you mean `core`?",
            "`t` names `laminat`, and there is no good of that key; did you mean `laminate`?",
            "`b2` stands in no run, and is left out",
        ]
    );
    assert_every_fix_clears(&job);
}

#[test]
fn units_placed_twice() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = { given = "24 in" } }
        b2 = { kind = "base", width = { given = "24 in" } }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1", "b2", "b1"], left = "wall", right = "open" }
        left = { along = "AB", level = "floor", order = ["b2"], left = "wall", right = "open" }
        "#,
    );
    assert_eq!(
        job.whats(),
        ["`b1` stands twice in run `back`", "`b2` stands in run `back` already, and in `left` again"]
    );
    assert_every_fix_clears(&job);
}

#[test]
fn corners_that_are_not_agreed_on() {
    let two = |left: &str, right: &str| {
        format!(
            r#"
            [units]
            b1 = {{ kind = "base", recipe = "k", width = {{ given = "24 in" }} }}
            b2 = {{ kind = "base", recipe = "k", width = {{ given = "24 in" }} }}
            [runs]
            back = {{ along = "BC", level = "floor", order = ["b1"], left = "open", right = {left} }}
            right = {{ along = "CD", level = "floor", order = ["b2"], left = {right}, right = "open" }}
            "#
        )
    };
    let corner =
        |with: &str, owner: &str| format!(r#"{{ corner = {{ with = "{with}", owner = "{owner}" }} }}"#);
    for (left, right, said) in [
        (
            corner("right", "back"),
            corner("back", "right"),
            "run `back` says that `back` goes up to the wall in their corner, run `right` says `right`",
        ),
        (
            corner("right", "back"),
            "\"wall\"".to_owned(),
            "run `back` meets `right` in a corner, but the left end of `right` does not say so",
        ),
    ] {
        let job = job(INCH_ROOM, &two(&left, &right));
        assert_eq!(job.whats(), [said]);
        assert_every_fix_clears(&job);
    }
    let apart =
        job(INCH_ROOM, &two("\"wall\"", &corner("back", "back")).replace("along = \"BC\"", "along = \"AB\""));
    assert_eq!(
        apart.whats(),
        [
            "run `right` meets `back` in the corner on its left, but wall `BC` is round that corner, and `back` stands on `AB`"
        ]
    );
    assert_every_fix_clears(&apart);
}

#[test]
fn ends_that_hang_on_each_other() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        s1 = { kind = "floating-shelf", width = { given = "24 in" } }
        s2 = { kind = "floating-shelf", width = { given = "24 in" } }
        s3 = { kind = "floating-shelf", width = { given = "24 in" } }
        [runs]
        one = { along = "BC", level = { up = "60 in" }, order = ["s1"], left = { unit = "s2" }, right = "open" }
        two = { along = "BC", level = { up = "60 in" }, order = ["s2"], left = "wall", right = { unit = "s1" } }
        three = { along = "CD", level = { up = "60 in" }, order = ["s3"], left = { unit = "s1" }, right = "open" }
        four = { along = "AB", level = { above-top = "t" }, order = [], left = "wall", right = "open" }
        [tops]
        t = { over = ["four"], substrate = "core", layers = 1 }
        "#,
    );
    assert_eq!(
        job.whats(),
        [
            "run `three` on wall `CD` ends against `s1`, which stands on wall `BC`",
            "run `one` ends against `s2`, whose own run hangs on where `one` ends",
            "run `four` hangs above worktop `t`, which lies on it",
            "neither end of run `one` says where it stands: shown from the wall on its left",
            "neither end of run `three` says where it stands: shown from the wall on its left",
            "run `two` is too wide by 24 in: it needs 24 in and has 0 in",
        ]
    );
}

#[test]
fn wishes_that_have_no_place() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = "left-over" }
        f1 = { kind = "filler", width = "clears-corner" }
        b2 = { kind = "base", width = { given = "24 in" } }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1"], left = "wall", right = "open" }
        left = { along = "AB", level = "floor", order = ["f1", "b2"], height = { clears = "b2" }, left = "wall", right = "open" }
        "#,
    );
    assert_eq!(
        job.whats(),
        [
            "`left` is to clear `b2`, and that holds no appliance",
            "units of run `back` share what is left, but its right end is where its last unit ends: shown up to the wall",
            "`f1` is to clear a corner, and run `left` meets no other run there",
        ]
    );
    assert_every_fix_clears(&job);
}

// --- helpers ---------------------------------------------------------------------------------------------

fn demo() -> Job {
    let text = include_str!("../../../demos/potting-room.toml");
    place(Plan::from_toml(text).expect("the demo reads").plan)
}

/// Every remedy of every finding applies as it stands, and the finding is gone after it.
fn assert_every_fix_clears(job: &Job) {
    for finding in &job.findings {
        for fix in &finding.fixes {
            let (plan, _) = job.plan.apply(&fix.edit).unwrap_or_else(|why| panic!("{}: {why}", fix.label));
            let after = place(plan);
            assert!(
                !after.findings.iter().any(|left| left.what == finding.what),
                "{} clears: {}",
                fix.label,
                finding.what
            );
        }
    }
}

fn edited(plan: &Plan, at: &str, value: &str) -> Plan {
    let at = dryfit_measure::Pointer::parse(at).expect("a pointer");
    let edit = dryfit_plan::Edit::set(plan, &at, value, "test");
    plan.apply(&edit).expect("the edit applies").0
}
