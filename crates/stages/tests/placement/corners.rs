//! Inside corners, kept clear both ways.

use dryfit_measure::{Key, Length};
use dryfit_stages::placement::Beside;

use crate::room::{INCH_ROOM, L_ROOM, assert_fills, corners_clear, demo, inches, job};

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
