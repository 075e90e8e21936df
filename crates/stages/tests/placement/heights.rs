//! The height stack, level lines, and a room in millimetres.

use dryfit_measure::{Length, because};

use crate::room::{INCH_ROOM, assert_fills, demo, edited, inches, job, metric_room, place};

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
    assert_eq!(job.kept_clear("right", 0), Length::um(635_850));
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
