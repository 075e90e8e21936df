//! Runs between two walls, free and open ends, and how widths are shared.

use dryfit_measure::{Dim, Key, Length, explain, sources};
use dryfit_stages::finding::Severity;
use dryfit_stages::placement::Beside;

use crate::room::{INCH_ROOM, assert_every_fix_clears, assert_fills, inches, job};

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
    assert_eq!(chain[0], "b2 width 35 5/16 in = part 1 of 3 of what is left 106 in, rounded down to 1/16 in");
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
    assert_eq!(finding.short_by.as_ref().map(Dim::length), Some(inches(6, 0)));
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
    assert_eq!(job.unit("e1").beside, [Beside::Free, Beside::Unit(Key::literal("b1"))]);
    // from the left wall 1 + 30; from the right wall 144 - 1 - 24 = 119
    assert_eq!((job.along("u1"), job.along("u2")), (inches(1, 0), inches(119, 0)));
    assert_eq!(job.run("up-left").spare.length(), inches(113, 0));
    // the shelf goes from the one to the other
    assert_eq!((job.along("s1"), job.width("s1")), (inches(31, 0), inches(88, 0)));
    for run in ["low", "up-left", "up-right", "shelf"] {
        assert_fills(&job, run);
    }
}

#[test]
fn a_run_of_nothing_has_no_length() {
    let wishes = r#"
        [runs]
        left = { along = "AB", level = "floor", order = [], left = { free = { from_corner = "24.01 in" } }, right = "wall" }
    "#;
    let job = job(INCH_ROOM, wishes);
    assert_eq!(job.run("left").from.length(), job.run("left").to.length());
}
