//! Worktops and boxes as they lie in the room.

use dryfit_measure::Length;
use dryfit_plan::Hand;
use dryfit_stages::placement::Extent;

use crate::room::{INCH_ROOM, L_ROOM, demo, inches, job};

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

#[test]
fn sides_show_where_nothing_covers_them() {
    let job = demo();
    let shows =
        |key: &str| [Hand::Left, Hand::Right].map(|side| job.placement.side_shows(job.unit(key), side));
    assert_eq!(shows("e1"), [true, false], "the free end");
    assert_eq!(shows("b1"), [false, false], "behind the end panel, beside its like");
    assert_eq!(shows("b3"), [false, false], "beside the filler of a dead corner");
    assert_eq!(shows("t1"), [true, false], "above the worktop, and the scribe goes as high");
    assert_eq!(shows("b6"), [false, false], "between the fridge and the tall cupboard");
    assert_eq!(shows("u1"), [false, true], "where its run ends open");
}
