//! Units at random: kinds, sizes, fronts, joints, goods and figures, in both families of units.

use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Unit};
use dryfit_plan::{Plan, UnitKind};
use dryfit_stages::placement::{Beside, PlacedUnit, Placement};
use serde_json::{Map, Value, json};

/// Numbers at random from a seed: splitmix64.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From `low` to `high`, both included.
    pub fn from(&mut self, low: i64, high: i64) -> i64 {
        let span = u64::try_from(high - low + 1).expect("low is not above high");
        low + i64::try_from(self.next() % span).expect("small")
    }

    fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        let last = i64::try_from(of.len()).expect("few") - 1;
        &of[usize::try_from(self.from(0, last)).expect("an index")]
    }

    fn one_in(&mut self, n: i64) -> bool {
        self.from(1, n) == 1
    }
}

/// A family of units: what one step of a size is, and how it is written.
struct Tape {
    unit: Unit,
    /// Nanometres of a size's step.
    step: i64,
    /// Nanometres of a thickness's step.
    fine: i64,
}

impl Tape {
    fn text(&self, nm: i64) -> String {
        Stated { length: Length::from_nm(nm), unit: self.unit }.to_string()
    }

    /// A size between these, in inches, on a step.
    fn size(&self, dice: &mut Dice, low: f64, high: f64) -> i64 {
        let steps = |inches: f64| (inches * 25.4e6) as i64 / self.step;
        self.step * dice.from(steps(low), steps(high))
    }

    /// A thickness or figure between these, in inches.
    fn fine(&self, dice: &mut Dice, low: f64, high: f64) -> i64 {
        let steps = |inches: f64| (inches * 25.4e6) as i64 / self.fine;
        self.fine * dice.from(steps(low), steps(high))
    }
}

/// The unit of this seed: a plan that holds it, and where it stands.
pub fn unit(seed: u64) -> (Plan, Placement) {
    let mut dice = Dice::new(seed);
    let dice = &mut dice;
    let metric = dice.one_in(2);
    let tape = if metric {
        Tape { unit: Unit::Millimetre, step: 1_000_000, fine: 100_000 }
    } else {
        Tape { unit: Unit::Inch, step: 25_400_000 / 16, fine: 25_400_000 / 64 }
    };
    let kinds = [
        UnitKind::Base,
        UnitKind::Base,
        UnitKind::Base,
        UnitKind::Sink,
        UnitKind::Wall,
        UnitKind::Wall,
        UnitKind::Tall,
        UnitKind::Bench,
        UnitKind::Bench,
        UnitKind::Locker,
        UnitKind::Drying,
        UnitKind::HookRail,
        UnitKind::FloatingShelf,
        UnitKind::Filler,
        UnitKind::EndPanel,
    ];
    let kind = *dice.pick(&kinds);
    let text = include_str!("../../../../demos/potting-room.toml");
    let mut plan = Plan::from_toml(text).expect("the demo reads").plan.to_json();
    plan["entry_unit"] = json!(tape.unit.symbol());
    let marks: &[&str] = if metric { &["1 mm", "0.5 mm"] } else { &["1/16 in", "1/32 in"] };
    plan["fineness"] = json!(dice.pick(marks));
    goods(dice, &tape, &mut plan);

    let (heights, depths) = match kind {
        UnitKind::Wall => ((14.0, 42.0), (10.0, 15.0)),
        UnitKind::Tall | UnitKind::Locker | UnitKind::Drying => ((60.0, 96.0), (12.0, 26.0)),
        UnitKind::Bench => ((14.0, 22.0), (12.0, 20.0)),
        UnitKind::HookRail => ((3.0, 6.0), (0.7, 0.7)),
        UnitKind::FloatingShelf => ((3.0, 4.0), (7.0, 12.0)),
        _ => ((26.0, 38.0), (12.0, 26.0)),
    };
    let width = match kind {
        UnitKind::Filler => tape.size(dice, 0.75, 4.0),
        UnitKind::EndPanel => thickness(&plan, "ply-18"),
        _ => tape.size(dice, 10.0, 48.0),
    };
    let height = tape.size(dice, heights.0, heights.1);
    let depth = tape.size(dice, depths.0, depths.1);
    recipe(dice, &tape, &mut plan);
    plan["goods"]["slide-21"]["form"]["slide"]["length"] =
        json!(tape.text(tape.size(dice, 6.0, (depth as f64 / 25.4e6 - 2.5).max(7.0))));

    let mut stated = Map::new();
    stated.insert("kind".into(), serde_json::to_value(kind).expect("a kind"));
    stated.insert("recipe".into(), json!("painted"));
    stated.insert("width".into(), json!({ "given": tape.text(width) }));
    stated.insert("shelves".into(), json!(dice.from(0, 3)));
    stated.insert("dividers".into(), json!(if dice.one_in(3) { dice.from(1, 2) } else { 0 }));
    stated.insert("lid".into(), json!(dice.one_in(2)));
    if let Some(fronts) = fronts(dice, &tape, kind, height) {
        stated.insert("fronts".into(), fronts);
    }
    plan["units"] = json!({ "b1": stated });
    for (_, run) in plan["runs"].as_object_mut().expect("runs") {
        run["order"] = json!([]);
    }
    plan["runs"]["left"]["order"] = json!(["b1"]);
    if matches!(kind, UnitKind::Wall | UnitKind::FloatingShelf | UnitKind::HookRail) {
        plan["runs"]["left"]["level"] = json!({ "up": "54 in" });
    }
    let plan: Plan = serde_json::from_value(plan).unwrap_or_else(|fault| panic!("seed {seed}: {fault}"));
    let placement = placement(dice, &tape, &plan, kind, [width, height, depth]);
    (plan, placement)
}

fn thickness(plan: &Value, good: &str) -> i64 {
    let text = plan["goods"][good]["form"]["sheet"]["thickness"].as_str().expect("a thickness");
    text.parse::<Stated>().expect("a length").length.nm()
}

/// Goods as they come out when measured.
fn goods(dice: &mut Dice, tape: &Tape, plan: &mut Value) {
    let mut measured = |good: &str, form: &str, low: f64, high: f64| {
        plan["goods"][good]["form"][form]["thickness"] = json!(tape.text(tape.fine(dice, low, high)));
    };
    measured("ply-18", "sheet", 0.68, 0.76);
    measured("ply-12", "sheet", 0.45, 0.52);
    measured("ply-6", "sheet", 0.19, 0.25);
    measured("maple-6", "board", 0.72, 0.82);
    measured("pine-2", "board", 1.3, 1.5);
    if dice.one_in(3) {
        plan["goods"]["ply-18"]["form"]["sheet"]["grain"] = json!("none");
    }
}

/// Joints, fit, toe kick, and figures that differ.
fn recipe(dice: &mut Dice, tape: &Tape, plan: &mut Value) {
    let recipe = &mut plan["recipes"]["painted"];
    recipe["fit"] = json!(dice.pick(&["overlay", "overlay", "inset"]));
    recipe["toe"] = json!(dice.pick(&["notched", "notched", "loose", "legs"]));
    recipe["joints"] = json!({
        "bottom": dice.pick(&["dado", "dado", "pocket-screw", "screw"]),
        "back": dice.pick(&["groove", "groove", "rabbet", "applied"]),
    });
    for (role, good) in [
        ("seat", "ply-18"),
        ("rod", "pine-2"),
        ("leg", "leg"),
        ("back-nail", "front-screw"),
        ("hook", "hook"),
        ("lid-hinge", "hook"),
        ("lid-stay", "hook"),
    ] {
        recipe["roles"][role] = json!(good);
    }
    if dice.one_in(2) {
        recipe["build"] = json!("frameless");
        if dice.one_in(4) {
            // five pieces, all the same
        } else {
            recipe["roles"].as_object_mut().expect("roles").remove("panel");
            recipe["roles"]["door"] = json!("ply-18");
        }
    }
    if dice.one_in(2) {
        for role in ["box", "shelf", "door", "seat", "skin", "drawer-box"] {
            if !dice.one_in(4) {
                recipe["edges"][role] = json!(dice.pick(&["thin-band", "thick-band"]));
            }
        }
    }
    plan["goods"]["leg"] = json!({ "name": "leg", "form": { "leg": { "least": tape.text(70_000_000), "most": tape.text(200_000_000) } } });
    plan["goods"]["hook"] = json!({ "name": "hook", "form": { "supply": {} } });
    for (band, low, high) in [("thin-band", 0.01, 0.05), ("thick-band", 0.05, 0.12)] {
        let thickness = tape.text(tape.fine(dice, low, high).max(tape.fine));
        plan["goods"][band] = json!({ "name": band, "form": { "edge-band": {
            "thickness": thickness, "width": tape.text(23_000_000),
        } } });
    }
    let up = tape.text(tape.size(dice, 0.8, 1.5));
    plan["goods"]["slide-21"]["form"]["slide"]["up"] = json!(up);
    let recipe = &mut plan["recipes"]["painted"];
    if dice.one_in(4) {
        recipe["roles"]["panel"] = json!("thin-maple");
        plan["goods"]["thin-maple"] = json!({
            "name": "thin maple",
            "form": { "board": {
                "thickness": tape.text(tape.fine(dice, 0.2, 0.27)), "width": "18 in", "length": "96 in",
                "density": 610, "species": "maple, red",
            } },
        });
    }
    let mut figures = Map::new();
    let ranges = [
        ("frame-stile", 1.25, 2.25),
        ("frame-rail", 1.25, 2.25),
        ("frame-mid-stile", 2.5, 3.5),
        ("bottom-dado-depth", 0.2, 0.4),
        ("back-groove-depth", 0.2, 0.35),
        ("back-groove-inset", 0.25, 1.0),
        ("back-play", 0.0, 0.08),
        ("back-rabbet-depth", 0.2, 0.45),
        ("shelf-side-play", 0.03, 0.15),
        ("shelf-front-setback", 0.0, 1.0),
        ("stretcher-width", 2.5, 4.5),
        ("toe-height", 3.0, 5.0),
        ("toe-depth", 1.5, 3.5),
        ("door-stile", 2.25, 3.0),
        ("door-rail", 2.0, 3.5),
        ("door-tongue", 0.3, 0.5),
        ("door-panel-gap", 0.02, 0.12),
        ("door-inset-gap", 0.06, 0.15),
        ("door-pair-gap", 0.1, 0.2),
        ("hinge-from-end", 2.5, 4.0),
        ("pin-hole-first", 2.0, 10.0),
        ("pin-hole-pitch", 1.0, 2.5),
        ("drawer-bottom-groove-up", 0.3, 0.6),
        ("drawer-bottom-play", 0.0, 0.06),
        ("ledger-play", 0.03, 0.1),
        ("front-gap", 0.06, 0.2),
        ("leg-height", 3.0, 7.0),
        ("seat-overhang", 0.2, 1.5),
        ("locker-hat", 8.0, 14.0),
        ("vent-gap", 1.0, 3.0),
        ("hinge-plate-pitch", 1.0, 1.6),
    ];
    for (id, low, high) in ranges {
        if dice.one_in(3) {
            // a length of nothing is no figure: a step at least
            figures.insert(id.into(), json!(tape.text(tape.fine(dice, low, high).max(tape.fine))));
        }
    }
    if dice.one_in(3) {
        let lap = tape.text(tape.fine(dice, 0.3, 0.6));
        figures.insert("door-overlay".into(), json!(lap));
        plan["goods"]["hinge"]["form"]["hinge"]["overlay"] = json!(lap);
    } else {
        // the handbook's lap, in the plan's own family of units
        let lap = if tape.unit == Unit::Inch { "1/2 in" } else { "13 mm" };
        plan["goods"]["hinge"]["form"]["hinge"]["overlay"] = json!(lap);
    }
    plan["recipes"]["painted"]["figures"] = Value::Object(figures);
}

/// Fronts that go with a kind, some of stated heights.
fn fronts(dice: &mut Dice, tape: &Tape, kind: UnitKind, height: i64) -> Option<Value> {
    let hinge = *dice.pick(&["left", "right"]);
    let door = json!({ "door": { "hinge": hinge } });
    let pair = json!({ "pair": {} });
    let drawer = json!({ "drawer": { "slide": "slide-21" } });
    let of = |dice: &mut Dice| if dice.one_in(2) { door.clone() } else { pair.clone() };
    let high = |mut front: Value, dice: &mut Dice, low: f64, most: f64| {
        let size = tape.size(dice, low, most);
        for (_, stated) in front.as_object_mut().expect("a front") {
            stated["height"] = json!(tape.text(size));
        }
        front
    };
    let down = |fronts: Vec<Value>| {
        let order: Vec<String> = (1..=fronts.len()).map(|k| format!("d{k}")).collect();
        let parts: Map<String, Value> = order.iter().cloned().zip(fronts).collect();
        json!({ "down": { "order": order, "parts": parts } })
    };
    let shape = dice.from(0, 5);
    Some(match (kind, shape) {
        (UnitKind::FloatingShelf | UnitKind::Filler | UnitKind::EndPanel | UnitKind::HookRail, _)
        | (_, 0) => return None,
        (UnitKind::Base | UnitKind::Tall, 1) => {
            let count = dice.from(2, 4);
            down(
                (0..count)
                    .map(|k| if k == 0 { high(drawer.clone(), dice, 4.0, 5.5) } else { drawer.clone() })
                    .collect(),
            )
        }
        (UnitKind::Base, 2) => down(vec![high(drawer, dice, 4.0, 6.0), of(dice)]),
        (UnitKind::Sink, _) => down(vec![high(json!({ "fixed": {} }), dice, 4.0, 6.0), of(dice)]),
        (UnitKind::Tall, 2 | 3) => {
            let most = height as f64 / 25.4e6 * 0.5;
            down(vec![of(dice), high(of(dice), dice, 20.0, most)])
        }
        (UnitKind::Tall, 4) => down(vec![of(dice), json!({ "open": {} }), of(dice)]),
        (UnitKind::Wall, 2) if height > 30 * 25_400_000 => down(vec![of(dice), of(dice)]),
        (_, 3) => json!({ "open": {} }),
        _ => of(dice),
    })
}

fn placement(dice: &mut Dice, tape: &Tape, plan: &Plan, kind: UnitKind, sizes: [i64; 3]) -> Placement {
    let at = |name: &str| Pointer::root().child("units").child("b1").child(name);
    let dim = |nm: i64, name: &'static str| {
        Dim::chosen(Length::from_nm(nm), at(name)).named(format!("unit {name}"))
    };
    let framed = plan.recipes[&Key::literal("painted")].build == dryfit_plan::Build::FaceFrame;
    let boxed = framed && kind.is_box();
    let mut side = || match dice.from(0, 2) {
        0 => Beside::Free,
        1 => Beside::Wall(Key::literal("BC")),
        _ => Beside::Unit(Key::literal("b2")),
    };
    let beside = [side(), side()];
    let overhang = [0, 1].map(|k| {
        let over = if boxed && matches!(beside[k], Beside::Wall(_)) { tape.step * 4 } else { 0 };
        dim(over, "overhang")
    });
    let frame = match &plan.goods[&Key::literal("maple-6")].form {
        dryfit_plan::Form::Board(board) if framed && kind != UnitKind::EndPanel => {
            board.thickness.length.nm()
        }
        _ => 0,
    };
    let placed = PlacedUnit {
        key: Key::literal("b1"),
        kind,
        run: Key::literal("left"),
        wall: Key::literal("AB"),
        along: dim(0, "along"),
        width: dim(sizes[0], "width"),
        overhang,
        up: dim(0, "up"),
        height: dim(sizes[1], "height"),
        depth: dim(sizes[2], "depth"),
        frame: dim(frame, "frame"),
        front: dim(frame, "front"),
        pull: dim(0, "pull"),
        beside,
    };
    Placement { runs: vec![], units: vec![placed], tops: vec![], lines: vec![] }
}
