//! Published values that a whole unit has to reproduce.

use dryfit_measure::{Length, Unit};
use dryfit_plan::UnitKind;

use crate::made::{build, demo_with, part, placed};

const INCH: fn(i64, i64, i64) -> Length = Length::inches;

#[test]
fn reveal_is_stile_less_overlay() {
    // C-reveal: frame 1 1/2, overlay 1 1/4, reveal 1/4 (an article on stile-and-rail building)
    let plan = demo_with(
        r#"
kind = "wall"
recipe = "painted"
width = { given = "24 in" }
fronts = { door = { hinge = "left" } }
figures = { door-overlay = "1 1/4 in" }
"#,
    );
    let (unit, _) = build(&plan, placed(UnitKind::Wall, ["24 in", "30 in", "12 in"]));
    let [frame, door] = ["frame/stile.left", "door/stile.left"].map(|role| part(&unit, role).solid.min[0]);
    assert_eq!(door - frame, INCH(0, 1, 4));
    let [frame, door] = ["frame/stile.right", "door/stile.right"].map(|role| part(&unit, role).solid.max[0]);
    assert_eq!(frame - door, INCH(0, 1, 4));
}

#[test]
fn toe_door_and_drawer_stack_up_to_the_base() {
    // C-stack2: toe 4 1/2 + door 24 + drawer 6 = 34 1/2; C-stack: + top 1 1/2 = 36 (cabinet dimension pages).
    // With a lap of half the rail the fronts of neighbours meet on it, so openings and rails tile the height.
    let plan = demo_with(
        r#"
kind = "base"
recipe = "painted"
width = { given = "24 in" }
fronts = { down = { order = ["d1", "d2"], parts = { d1 = { drawer = { slide = "slide-21", height = "4 1/2 in" } }, d2 = { door = { hinge = "left" } } } } }
figures = { toe-height = "4 1/2 in" }
"#,
    );
    let (unit, _) = build(&plan, placed(UnitKind::Base, ["24 in", "34 1/2 in", "24 in"]));
    let heights: Vec<Length> = unit.openings.iter().map(|opening| opening.height.length()).collect();
    let rails = INCH(1, 1, 2);
    assert_eq!(heights[0] + rails, INCH(6, 0, 1)); // a drawer's module
    assert_eq!(heights[1] + rails, INCH(24, 0, 1) - rails); // the door's, less the third rail
    assert_eq!(INCH(4, 1, 2) + heights[0] + heights[1] + rails * 3, INCH(34, 1, 2));
    let (lowest, top) = (part(&unit, "side.left").solid.min[2], part(&unit, "side.left").solid.max[2]);
    assert_eq!(top - lowest + INCH(1, 1, 2), INCH(36, 0, 1));
}

#[test]
fn usual_figures_are_the_published_ones() {
    let usual = |id: &str| dryfit_handbook::figure(id).expect(id).value.length;
    let metric = |id: &str| dryfit_handbook::figure(id).expect(id).metric.length;
    // C-base (cabinet dimension pages): base 34 1/2 high, 24 deep; wall 12 deep; 18 clear
    assert_eq!(usual("base-height"), INCH(34, 1, 2));
    assert_eq!(usual("base-depth"), INCH(24, 0, 1));
    assert_eq!(usual("wall-depth"), INCH(12, 0, 1));
    assert_eq!(usual("above-top"), INCH(18, 0, 1));
    // C-toe: 3 to 4 1/2 high
    assert!(usual("toe-height") >= INCH(3, 0, 1) && usual("toe-height") <= INCH(4, 1, 2));
    // C-ff (articles on face frames): stiles and rails 1 1/2, 3 between two doors; door frames 2 to 2 1/2; groove
    // 3/8 to 1/2; panel 1/8 under in all
    assert_eq!((usual("frame-stile"), usual("frame-rail")), (INCH(1, 1, 2), INCH(1, 1, 2)));
    assert_eq!(usual("frame-mid-stile"), INCH(3, 0, 1));
    assert!(usual("door-stile") >= INCH(2, 0, 1) && usual("door-stile") <= INCH(2, 1, 2));
    assert!(usual("door-tongue") >= INCH(0, 3, 8) && usual("door-tongue") <= INCH(0, 1, 2));
    assert_eq!(usual("door-panel-gap") * 2, INCH(0, 1, 8));
    // C-hinge-n: end hinges 3 to 4 in from the ends
    assert!(usual("hinge-from-end") >= INCH(3, 0, 1) && usual("hinge-from-end") <= INCH(4, 0, 1));
    // C-hinge: cups 11.5 to 13 mm deep
    assert!(metric("hinge-cup-depth") >= Length::um(11_500) && usual("hinge-cup-depth") <= Length::mm(13));
    // C-dado: 1/4 to 3/8, at most half of 3/4 stock (common practice, no source)
    assert!(usual("bottom-dado-depth") >= INCH(0, 1, 4) && usual("bottom-dado-depth") <= INCH(0, 3, 8));
    // C-32 (the 32 mm system): 5 mm holes, 32 mm apart, 37 mm from the front edge
    assert_eq!(metric("pin-hole-bit"), Length::mm(5));
    assert_eq!(metric("pin-hole-pitch"), Length::mm(32));
    assert_eq!(metric("pin-hole-in"), Length::mm(37));
}

#[test]
fn a_unit_weighs_what_its_parts_weigh() {
    // by hand: one side, 34 1/2 x 24 x 23/32 in less notch, dado and groove, of 640 kg/m3
    // 34.5 x 24 x .71875 = 595.125; notch 4 x 3 x .71875 = 8.625; dado 24 x .71875 x .375 = 6.46875;
    // groove 34.5 x .21875 x .25 = 1.88671875, of which .71875 x .21875 x .25 = .03930664 is dado already
    let cubic_inches = 595.125 - 8.625 - 6.468_75 - 1.886_718_75 + 0.039_306_64;
    let kilograms = cubic_inches * 0.0254_f64.powi(3) * 640.0;
    let plan = demo_with("kind = \"base\"\nrecipe = \"painted\"\nwidth = { given = \"24 in\" }\n");
    let (unit, _) = build(&plan, placed(UnitKind::Base, ["24 in", "34 1/2 in", "24 in"]));
    assert!((part(&unit, "side.left").mass.as_kilograms_f64() - kilograms).abs() < 1e-4);
    assert_eq!(unit.mass, unit.parts.iter().map(|part| part.mass).sum());
    assert!(!unit.mass.figure(Unit::Inch).is_empty());
}
