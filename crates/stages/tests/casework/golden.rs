//! One base unit worked by hand, from the outside in.
//!
//! 24 wide, 34 1/2 high, 24 deep; sheet 23/32, back 7/32, boards 3/4 as measured; one door, one shelf.
//! Between the sides: 24 - 2 x 23/32 = 22 9/16.

use dryfit_measure::{Fineness, Length, Toward, because};
use dryfit_plan::{Hand, UnitKind};
use dryfit_stages::casework::{BuiltUnit, Edge, Face, OperationKind};

use crate::made::{build, demo_with, part, placed};

const ONE_DOOR: &str = r#"
kind = "base"
recipe = "painted"
width = { given = "24 in" }
shelves = 1
fronts = { door = { hinge = "left" } }
"#;

fn one_door() -> BuiltUnit {
    let (unit, findings) =
        build(&demo_with(ONE_DOOR), placed(UnitKind::Base, ["24 in", "34 1/2 in", "24 in"]));
    assert!(findings.is_empty(), "{findings:?}");
    unit
}

fn shown(length: Length) -> String {
    length.figure(Fineness::In64, Toward::Nearest).bare().to_string()
}

#[test]
fn every_size_is_as_worked_by_hand() {
    let unit = one_door();
    // role, good, length, width, and how it comes about
    let table = [
        ("side.left", "ply-18", "34 1/2", "24"),
        ("side.right", "ply-18", "34 1/2", "24"),
        ("bottom", "ply-18", "23 5/16", "24"), // 22 9/16 + 2 x dado 3/8
        ("stretcher.front", "ply-18", "22 9/16", "4"),
        ("stretcher.back", "ply-18", "22 9/16", "4"),
        ("nailer.top", "ply-18", "22 9/16", "4"),
        // up: 34 1/2 - floor (toe 4 + rail 1 1/2) + groove 1/4 - play 1/32; across: 22 9/16 + 2 x (1/4 - 1/32)
        ("back", "ply-6", "29 7/32", "23"),
        // 22 9/16 - 2 x 1/16; 24 - inset 1/4 - back 7/32 - setback 1/4
        ("shelf", "ply-18", "22 7/16", "23 9/32"),
        ("frame/stile.left", "maple-6", "30 1/2", "1 1/2"), // 34 1/2 - toe 4
        ("frame/stile.right", "maple-6", "30 1/2", "1 1/2"),
        ("frame/rail.top", "maple-6", "21", "1 1/2"), // 24 - 2 x 1 1/2
        ("frame/rail.bottom", "maple-6", "21", "1 1/2"),
        ("toe", "ply-18", "24", "4"),
        // door: 21 + 2 x lap 1/2 = 22 wide, 30 1/2 - 2 x 1 1/2 + 1 = 28 1/2 high
        ("door/stile.left", "maple-6", "28 1/2", "2 1/4"),
        ("door/stile.right", "maple-6", "28 1/2", "2 1/4"),
        ("door/rail.top", "maple-6", "18 1/4", "2 1/4"), // 22 - 4 1/2 + 2 x tongue 3/8
        ("door/rail.bottom", "maple-6", "18 1/4", "2 1/4"),
        ("door/panel", "ply-6", "24 5/8", "18 1/8"), // 28 1/2 - 4 1/2 + 3/4 - 1/8; 18 1/4 - 1/8
    ];
    let made: Vec<_> = unit
        .parts
        .iter()
        .map(|p| (p.role.clone(), p.good.to_string(), shown(p.length.length()), shown(p.width.length())))
        .collect();
    let wanted: Vec<_> = table
        .iter()
        .map(|(a, b, c, d)| ((*a).to_owned(), (*b).to_owned(), (*c).to_owned(), (*d).to_owned()))
        .collect();
    assert_eq!(made, wanted);
    let opening = &unit.openings[0];
    assert_eq!(
        (shown(opening.width.length()), shown(opening.height.length())),
        ("21".into(), "27 1/2".into())
    );
}

#[test]
fn the_reasons_read_as_a_builder_writes_them() {
    let unit = one_door();
    let why = |role: &str| because(&part(&unit, role).length, Fineness::In32);
    assert_eq!(why("door/rail.top"), "rail 18 1/4 in = door 22 in - 2 x stile 2 1/4 in + 2 x tongue 3/8 in");
    assert_eq!(why("bottom"), "bottom 23 5/16 in = inside width 22 9/16 in + 2 x dado depth 3/8 in");
    assert_eq!(why("shelf"), "shelf length 22 7/16 in = inside width 22 9/16 in - 2 x shelf play 1/16 in");
}

/// Kind, on the good face, along, across and depth of each operation.
fn operations(unit: &BuiltUnit, role: &str) -> Vec<(OperationKind, bool, [String; 5])> {
    part(unit, role)
        .operations
        .iter()
        .map(|o| {
            let [a, b] = &o.along;
            let [c, d] = &o.across;
            (o.kind, o.on_good_face, [a, b, c, d, &o.depth].map(|dim| shown(dim.length())))
        })
        .collect()
}

#[test]
fn sides_are_worked_as_mirror_images() {
    use OperationKind::{Dado, Groove, Notch, PinHoles, PocketHoles};
    let unit = one_door();
    let text = |of: [&str; 5]| of.map(str::to_owned);
    // Left side, good face (inside) up, top to the right: its front edge is the far one.
    let left = part(&unit, "side.left");
    assert_eq!(
        (left.hand, left.good_face, left.front_edge),
        (Some(Hand::Left), Face::Inside, Some(Edge::Far))
    );
    assert_eq!(
        operations(&unit, "side.left"),
        [
            (Dado, true, text(["4 25/32", "5 1/2", "0", "24", "3/8"])), // toe 4 + rail 1 1/2 - sheet 23/32
            (Groove, true, text(["0", "34 1/2", "1/4", "15/32", "1/4"])), // from the back edge
            // floor 5 1/2 + 8; the last is 5 x 2 above, 4 in or more under the nailer (29 25/32)
            (PinHoles, true, text(["13 1/2", "25 1/2", "22", "22", "3/8"])),
            (PinHoles, true, text(["13 1/2", "25 1/2", "2", "2", "3/8"])),
            // the frame begins at 4; 3 in from both its ends
            (PocketHoles, false, text(["7", "31 1/2", "22 5/8", "22 5/8", "23/64"])),
            (Notch, true, text(["0", "4", "21", "24", "23/32"])),
        ]
    );
    let right = part(&unit, "side.right");
    assert_eq!(right.front_edge, Some(Edge::Near));
    let mirrored: Vec<_> = operations(&unit, "side.left")
        .into_iter()
        .zip(&left.operations)
        .map(|((kind, good, [a, b, _, _, depth]), o)| {
            let across = [&o.across[1], &o.across[0]].map(|dim| shown(left.width.length() - dim.length()));
            let [c, d] = across;
            (kind, good, [a, b, c, d, depth])
        })
        .collect();
    assert_eq!(operations(&unit, "side.right"), mirrored);
    assert_ne!(operations(&unit, "side.right"), operations(&unit, "side.left"));
}

#[test]
fn hardware_is_counted_from_the_joints() {
    let unit = one_door();
    let lines: Vec<_> = unit
        .hardware
        .iter()
        .map(|line| (line.good.to_string(), line.amount.pieces(), line.what_for.as_str()))
        .collect();
    let line = |good: &str, what: &str| {
        lines
            .iter()
            .find(|(key, _, for_what)| key == good && *for_what == what)
            .and_then(|(_, count, _)| *count)
    };
    assert_eq!(line("pocket-screw", "face frame"), Some(8)); // two rails, two ends, two each
    assert_eq!(line("pocket-screw", "stretchers and nailers to sides"), Some(12)); // three, two ends, two each
    // 24 1/2 between the end screws: four spaces of at most 8, five screws a side
    assert_eq!(line("pocket-screw", "frame to box"), Some(10));
    assert_eq!(line("hinge", "doors"), Some(2));
    assert_eq!(line("pull", "doors"), Some(1));
    assert_eq!(line("pin", "shelves, 4 each"), Some(4));
    // C-hang (common practice): two to a stud. Studs at 15 1/4, 31 1/4, 47 1/4; the unit stands from 24 to 48, and
    // the last is nearer to its end than 1 1/2
    assert_eq!(line("hang-screw", "nailers to studs, 2 each"), Some(2));
}

#[test]
fn a_groove_is_cut_in_passes_of_the_blade() {
    // a 1/4 in groove takes two passes of a 1/8 in blade (common practice); so does 7/32
    let unit = one_door();
    let groove = part(&unit, "side.left").operations.iter().find(|o| o.kind == OperationKind::Groove);
    assert_eq!(groove.and_then(|groove| groove.passes), Some(2));
}
