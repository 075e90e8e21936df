//! Fields at random, crooked and with holes, judged by shapely: a reader of the pattern that shares no code with this
//! crate lays each of them again with floating-point polygons.
//!
//! On fields whose sides run along x and y, what becomes of the area adds up exactly; on crooked ones it does so, and
//! agrees with the judge piece by piece, within a square millimetre.
#![allow(clippy::disallowed_methods, reason = "a test asks the environment for its judge")]

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use dryfit_tiling::{
    Courses, Field, Framing, Hole, Laid, Pattern, PlankJob, Point, Rect, Side, Start, Tiling, lay, plank,
    search,
};
use serde_json::{Value, json};

const MM: i64 = 1_000_000;

/// Numbers at random, the same each time (splitmix64).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + i64::try_from(self.next() % u64::try_from(high - low + 1).expect("ascending")).expect("small")
    }

    /// So many millimetres and any nanometres.
    fn mm(&mut self, low: i64, high: i64) -> i64 {
        self.between(low * MM, high * MM)
    }
}

/// A room: an L, a U or a rectangle, each corner moved by up to `crooked`.
fn outline(random: &mut Random, crooked: i64) -> Vec<Point> {
    let (w, h) = (random.mm(1500, 4200), random.mm(1200, 3600));
    let (a, b) = (random.mm(400, 1000), random.mm(300, 800));
    let corners = match random.between(0, 2) {
        0 => vec![[0, 0], [w, 0], [w, h], [0, h]],
        1 => vec![[0, 0], [w, 0], [w, h - b], [w - a, h - b], [w - a, h], [0, h]],
        _ => vec![
            [0, 0],
            [w, 0],
            [w, h],
            [w / 2 + a / 2, h],
            [w / 2 + a / 2, h - b],
            [w / 2 - a / 2, h - b],
            [w / 2 - a / 2, h],
            [0, h],
        ],
    };
    let moved = |p: Point, random: &mut Random| p.map(|at| at + random.between(-crooked, crooked));
    corners.into_iter().map(|p| moved(p, random)).collect()
}

fn field(random: &mut Random, crooked: i64) -> Field {
    let outline = outline(random, crooked);
    // equal gaps: the judge insets by one distance
    let gap = random.mm(0, 12);
    let holes = (0..random.between(0, 3)).map(|_| {
        let low = [random.mm(50, 1000), random.mm(50, 700)];
        let ring = Rect::at(low, [random.mm(20, 300), random.mm(20, 300)]).ring();
        let ring = ring.into_iter().map(|p| p.map(|at| at + random.between(-crooked, crooked) / 4)).collect();
        Hole { ring, gap: 0, bounds: random.between(0, 1) == 0 }
    });
    Field { holes: holes.collect(), outline: outline.into_iter().map(|from| Side { from, gap }).collect() }
}

fn tiling(random: &mut Random) -> Tiling {
    let pattern = match random.between(0, 4) {
        0 => Pattern::Grid,
        1 => Pattern::Bond { part: 1, of: 2 },
        2 => Pattern::Bond { part: 1, of: 3 },
        3 => Pattern::BondUp { part: 2, of: 3 },
        _ => Pattern::Herringbone,
    };
    let (short, joint) = (random.mm(60, 300), random.mm(1, 6));
    let long = if pattern == Pattern::Herringbone { 2 * short + joint } else { random.mm(60, 400) };
    Tiling { pattern, size: [long, short], joint }
}

fn ring(points: &[Point]) -> Value {
    json!(points)
}

fn told(field: &Field, tiling: &Tiling, laid: &Laid) -> Value {
    let name = match tiling.pattern {
        Pattern::Grid => "grid",
        Pattern::Bond { .. } => "bond",
        Pattern::BondUp { .. } => "bond-up",
        Pattern::Herringbone => "herringbone",
    };
    let (part, of) = match tiling.pattern {
        Pattern::Bond { part, of } | Pattern::BondUp { part, of } => (part, of),
        _ => (0, 1),
    };
    let all = &laid.areas;
    let areas = [all.field2, all.holes2, all.gaps2, all.pieces2, all.joints2].map(|area| area.to_string());
    let points: Vec<Point> = field.outline.iter().map(|side| side.from).collect();
    json!({
        "outline": ring(&points),
        "gap": field.outline[0].gap,
        "holes": field.holes.iter().map(|hole| ring(&hole.ring)).collect::<Vec<_>>(),
        "pattern": name, "part": part, "of": of,
        "size": tiling.size, "joint": tiling.joint, "start": laid.start,
        "pieces": laid.pieces.iter().map(|piece| json!({
            "cell": [piece.cell.low, piece.cell.high],
            "outer": piece.shape.outer, "holes": piece.shape.holes, "whole": piece.whole,
        })).collect::<Vec<_>>(),
        "areas2": areas,
    })
}

fn python() -> PathBuf {
    let asked = std::env::var_os("DRYFIT_JUDGES").map(PathBuf::from).filter(|p| p.is_file());
    asked.unwrap_or_else(|| "python3".into())
}

/// What the judge has to say, one line a complaint.
fn judged(cases: &[Value]) -> String {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judged/judge.py");
    let mut child = Command::new(python())
        .arg("-B")
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python runs");
    let mut into = child.stdin.take().expect("a pipe was asked for");
    let text = serde_json::to_string(cases).expect("JSON");
    let writer = std::thread::spawn(move || into.write_all(text.as_bytes()));
    let out = child.wait_with_output().expect("the judge ends");
    writer.join().expect("no panic").expect("the judge reads all");
    assert!(out.status.success(), "the judge failed");
    String::from_utf8(out.stdout).expect("UTF-8")
}

fn left_over(laid: &Laid) -> i128 {
    let a = laid.areas;
    a.field2 - a.holes2 - a.gaps2 - a.pieces2 - a.joints2
}

#[test]
fn straight_fields_add_up_exactly() {
    let mut random = Random(7);
    for k in 0..300 {
        let (field, tiling) = (field(&mut random, 0), tiling(&mut random));
        let net = field.net();
        let start = [random.mm(-300, 300), random.mm(-300, 300)];
        let laid = lay(&net, &tiling, start, MM).expect("laid");
        assert_eq!(left_over(&laid), 0, "{k}");
    }
}

#[test]
fn crooked_fields_agree_with_the_judge() {
    let mut random = Random(11);
    let mut cases = Vec::new();
    for k in 0..120 {
        let (field, tiling) = (field(&mut random, 25 * MM), tiling(&mut random));
        let net = field.net();
        let start = [random.mm(-300, 300), random.mm(-300, 300)];
        let laid = if k % 4 == 0 {
            search(&net, &tiling, [None, None], MM).expect("found").laid
        } else {
            lay(&net, &tiling, start, MM).expect("laid")
        };
        // one square millimetre, twice
        assert!(left_over(&laid).abs() <= 2 * 1_000_000_000_000, "{k}: {}", left_over(&laid));
        cases.push(told(&field, &tiling, &laid));
    }
    assert_eq!(judged(&cases), "");
}

/// A judge that never complains is none.
#[test]
fn the_judge_sees_a_piece_that_is_missing_or_too_large() {
    let mut random = Random(3);
    let (field, tiling) = (field(&mut random, 25 * MM), tiling(&mut random));
    let laid = lay(&field.net(), &tiling, [0, 0], MM).expect("laid");
    let mut missing = laid.clone();
    missing.pieces.pop();
    let mut large = laid.clone();
    large.pieces[0].shape.outer[0][0] -= 3 * MM;
    let said = judged(&[told(&field, &tiling, &missing), told(&field, &tiling, &large)]);
    assert!(said.contains("0: ") && said.contains("1: "), "{said}");
}

fn planks_add_up(courses: &Courses, open2: i128) -> i128 {
    let planks = courses.courses.iter().flat_map(|course| &course.planks);
    open2 - planks.map(|plank| plank.shape.area2()).sum::<i128>()
}

#[test]
fn planks_cover_their_field_with_none_too_long() {
    let mut random = Random(23);
    for k in 0..120 {
        let crooked = if k % 2 == 0 { 0 } else { 20 * MM };
        let net = field(&mut random, crooked).net();
        let open2: i128 = net.open.iter().map(dryfit_tiling::Shape::area2).sum();
        let framing = (k % 3 == 0).then(|| Framing { first: random.mm(0, 400), apart: random.mm(300, 600) });
        let job = PlankJob {
            along: usize::try_from(k % 2).expect("0 or 1"),
            reveal: random.mm(60, 180),
            longest: random.mm(1800, 3000),
            shortest: random.mm(200, 400),
            stagger: random.mm(200, 400),
            framing,
            start: if k % 4 == 0 { Start::Whole } else { Start::Balanced },
        };
        let laid = plank(&net, &job).expect("laid");
        let off = planks_add_up(&laid, open2);
        assert!(if crooked == 0 { off == 0 } else { off.abs() <= 2 * 1_000_000_000_000 }, "{k}: {off}");
        for course in &laid.courses {
            if laid.unjointed == 0 {
                assert!(course.planks.iter().all(|plank| plank.length <= job.longest), "{k}");
            }
            assert!(course.planks.iter().all(|plank| plank.width <= job.reveal), "{k}");
            if let Some(framing) = framing {
                assert!(course.joints.iter().all(|at| (at - framing.first) % framing.apart == 0), "{k}");
            }
        }
    }
}
