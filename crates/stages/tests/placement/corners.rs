//! Inside corners, kept clear both ways.

use dryfit_measure::{Key, Length};
use dryfit_stages::placement::Beside;

use crate::room::{
    INCH_ROOM, L_ROOM, assert_every_fix_clears, assert_fills, corners_clear, demo, inches, job,
};

#[test]
fn an_inside_corner_is_kept_clear_both_ways() {
    let job = job(INCH_ROOM, L_ROOM);
    assert_eq!(job.whats(), [""; 0]);
    // each run: box 24, frame 3/4, door 3/4, pull 1 1/4 = 26 3/4; and 1/4 of air
    for run in ["back", "right"] {
        assert_eq!(job.run(run).depth_over_all.length(), Length::inches(26, 3, 4));
    }
    assert_eq!(job.kept_clear("right", 0), inches(27, 0));
    assert_eq!(job.kept_clear("back", 1), inches(144 - 27, 0));
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
    assert_eq!(job.unit("f2").beside[0], Beside::Run(Key::literal("back")));
    assert_eq!(job.unit("k1").beside[1], Beside::Wall(Key::literal("CD")));
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

/// The room with corner C shut: D moved 45 in towards A, so that CD is 117 long (45, 108, 117) and the angle at C
/// has the cosine 5/13 and the sine 12/13.
fn shut_room() -> String {
    let shut = |line: &str| match line.get(..3) {
        Some("r3 ") => line.replace("108", "117"),
        Some("r4 ") => line.replace("144", "99"),
        _ => line.to_owned(),
    };
    // without the diagonal BD, which is no whole number
    let lines: Vec<String> = INCH_ROOM.lines().filter(|line| !line.starts_with("r6 ")).map(shut).collect();
    lines.join("\n")
}

#[test]
fn a_shut_corner_takes_room_the_deeper_a_unit_is() {
    let wishes = r#"
        [units]
        b1 = { kind = "base", recipe = "k", width = "left-over" }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1"], left = "wall", right = "wall" }
    "#;
    // 24 3/4 out from BC, the wall CD has come in by 24 3/4 x 5/12 = 10 5/16
    let job = job(&shut_room(), wishes);
    assert_eq!(job.run("back").clear.length(), inches(133, 11));
    assert_eq!(job.width("b1"), inches(133, 11));
}

#[test]
fn runs_meet_in_a_shut_corner() {
    let job = job(
        &shut_room(),
        &L_ROOM.replace(r#""f2", "b3", "f3"]"#, r#""f2", "b3"]"#).replace(
            r#"owner = "back" } }, right = "wall" }"#,
            r#"owner = "back" } }, right = { free = { from_corner = "10 in" } } }"#,
        ),
    );
    // The frames of right stand 24 3/4 out from CD. Along BC, at 24 3/4 out, that is
    // 144 - 24 3/4 x 13/12 - 24 3/4 x 5/12 = 144 - 26 13/16 - 10 5/16 = 106 7/8; less a filler of 3: 103 7/8
    assert_eq!(job.along("f1"), inches(103, 14));
    assert_eq!(job.width("f1"), inches(3, 0));
    // Pulls and air reach 27 out: 144 - 27 x 13/12 - 10 5/16 = 104 7/16
    assert_eq!(job.kept_clear("back", 1), inches(104, 7));
    assert_fills(&job, "back");
    assert_fills(&job, "right");
}

/// A room with an outside corner E: A (0, 0), B (0, 150), C (200, 150), D (200, 60), E (80, 60), F (80, 0). Its
/// diagonals are whole: AC 250, CE 150 and AE 100 (three, four, five), BF 170 (eight, fifteen, seventeen).
const BENT_ROOM: &str = r#"
format = 1
name = "Bent room"
entry_unit = "in"
fineness = "1/16 in"
money = { currency = "USD" }
room = { walk = ["A", "B", "C", "D", "E", "F"], sense = "clockwise" }
epochs = { e = { state = "as-found" } }
instruments = { t = { name = "tape", kind = "tape", class = "II", step = "1/16 in" } }
[walls]
AB = { from = "A", to = "B" }
BC = { from = "B", to = "C" }
CD = { from = "C", to = "D" }
DE = { from = "D", to = "E" }
EF = { from = "E", to = "F" }
FA = { from = "F", to = "A" }
[readings]
r1 = { epoch = "e", by = "t", of = { span = { from = "A", to = "B" } }, height = "36 in", length = "150 in", text = "150" }
r2 = { epoch = "e", by = "t", of = { span = { from = "B", to = "C" } }, height = "36 in", length = "200 in", text = "200" }
r3 = { epoch = "e", by = "t", of = { span = { from = "C", to = "D" } }, height = "36 in", length = "90 in", text = "90" }
r4 = { epoch = "e", by = "t", of = { span = { from = "D", to = "E" } }, height = "36 in", length = "120 in", text = "120" }
r5 = { epoch = "e", by = "t", of = { span = { from = "E", to = "F" } }, height = "36 in", length = "60 in", text = "60" }
r6 = { epoch = "e", by = "t", of = { span = { from = "F", to = "A" } }, height = "36 in", length = "80 in", text = "80" }
r7 = { epoch = "e", by = "t", of = { diagonal = { from = "A", to = "C" } }, height = "36 in", length = "250 in", text = "250" }
r8 = { epoch = "e", by = "t", of = { diagonal = { from = "C", to = "E" } }, height = "36 in", length = "150 in", text = "150" }
r9 = { epoch = "e", by = "t", of = { diagonal = { from = "A", to = "E" } }, height = "36 in", length = "100 in", text = "100" }
r10 = { epoch = "e", by = "t", of = { diagonal = { from = "B", to = "F" } }, height = "36 in", length = "170 in", text = "170" }
"#;

#[test]
fn no_wall_stands_before_an_outside_corner() {
    let wishes = |left: &str| {
        format!(
            r#"
            [units]
            b1 = {{ kind = "base", recipe = "k", width = "left-over" }}
            f1 = {{ kind = "filler", recipe = "k", width = "scribe" }}
            [runs]
            short = {{ along = "EF", level = "floor", order = ["b1", "f1"], left = {left}, right = "wall" }}
            "#
        )
    };
    let there = job(BENT_ROOM, &wishes(r#""wall""#));
    assert_eq!(
        there.whats(),
        [
            "run `short` ends at an outside corner on its left, where no wall and no other run stands before it"
        ]
    );
    assert_every_fix_clears(&there);
    let free = job(BENT_ROOM, &wishes(r#"{ free = { from_corner = "2 in" } }"#));
    assert_eq!(free.whats(), [""; 0]);
    // 60 - 2 - 1
    assert_eq!((free.along("b1"), free.width("b1")), (inches(2, 0), inches(57, 0)));
    assert_eq!(free.unit("b1").beside[0], Beside::Free);
}
