//! Small rooms: square, plumb, and consistent to the mark, so that every number can be worked by hand.

use dryfit_measure::{Key, Length};
use dryfit_plan::Plan;
use dryfit_stages::finding::Finding;
use dryfit_stages::placement::{PlacedRun, PlacedUnit, Placement, placement};
use dryfit_stages::survey::{Survey, survey};

/// A room of 12 ft by 9 ft in inches: AB 108, BC 144, CD 108, DA 144, diagonals 180 (three, four, five).
pub const INCH_ROOM: &str = r#"
format = 1
name = "Square room"
entry_unit = "in"
fineness = "1/16 in"
money = { currency = "USD" }
room = { walk = ["A", "B", "C", "D"], sense = "clockwise" }
epochs = { e = { state = "as-found" } }
instruments = { t = { name = "tape", kind = "tape", class = "II", step = "1/16 in" } }
[walls]
AB = { from = "A", to = "B" }
BC = { from = "B", to = "C" }
CD = { from = "C", to = "D" }
DA = { from = "D", to = "A" }
[readings]
r1 = { epoch = "e", by = "t", of = { span = { from = "A", to = "B" } }, height = "36 in", length = "108 in", text = "108" }
r2 = { epoch = "e", by = "t", of = { span = { from = "B", to = "C" } }, height = "36 in", length = "144 in", text = "144" }
r3 = { epoch = "e", by = "t", of = { span = { from = "C", to = "D" } }, height = "36 in", length = "108 in", text = "108" }
r4 = { epoch = "e", by = "t", of = { span = { from = "D", to = "A" } }, height = "36 in", length = "144 in", text = "144" }
r5 = { epoch = "e", by = "t", of = { diagonal = { from = "A", to = "C" } }, height = "36 in", length = "180 in", text = "180" }
r6 = { epoch = "e", by = "t", of = { diagonal = { from = "B", to = "D" } }, height = "36 in", length = "180 in", text = "180" }
"#;

/// The same in millimetres: 2700 by 3600, diagonals 4500.
pub fn metric_room() -> String {
    let room = INCH_ROOM.replace("entry_unit = \"in\"", "entry_unit = \"mm\"");
    let room = room
        .replace("fineness = \"1/16 in\"", "fineness = \"1 mm\"")
        .replace("step = \"1/16 in\"", "step = \"1 mm\"");
    let room = room
        .replace("length = \"108 in\"", "length = \"2700 mm\"")
        .replace("length = \"144 in\"", "length = \"3600 mm\"");
    room.replace("length = \"180 in\"", "length = \"4500 mm\"")
        .replace("height = \"36 in\"", "height = \"900 mm\"")
}

/// Goods and a recipe: ply 23/32 thick, frame and doors 3/4, pulls 1 1/4.
pub const GOODS: &str = r#"
[goods]
ply = { name = "ply", form = { sheet = { nominal = "3/4 in", thickness = "23/32 in", length = "96 in", width = "48 in", grain = "length", density = 640 } } }
core = { name = "core", form = { sheet = { nominal = "3/4 in", thickness = "3/4 in", length = "97 in", width = "49 in", grain = "none", density = 720 } } }
laminate = { name = "laminate", form = { sheet = { nominal = "3/64 in", thickness = "3/64 in", length = "97 in", width = "49 in", grain = "none", density = 1350 } } }
maple = { name = "maple", form = { board = { thickness = "3/4 in", width = "5 1/2 in", length = "96 in", density = 610 } } }
pull = { name = "pull", form = { pull = { projection = "1 1/4 in" } } }
slide = { name = "slide", form = { slide = { length = "21 in", each_side = "1/2 in", off_height = "1 in", behind = "1/2 in" } } }
fridge = { name = "fridge", form = { appliance = { width = "23 in", height = "34 5/8 in", depth = "23 5/8 in", handle = "1 1/2 in", feet = "1/8 in", air_side = "1/2 in", air_top = "1/2 in", air_back = "1 in" } } }
sink = { name = "sink", form = { sink = { width = "25 in", depth = "19 in", cutout_width = "24 1/4 in", cutout_depth = "18 1/4 in", bowl = "9 in" } } }
[recipes.k]
name = "face frame"
build = "face-frame"
fit = "overlay"
roles = { box = "ply", frame = "maple", door = "maple", pull = "pull" }
"#;

/// Two runs that meet in corner C: the back run goes up to the wall.
pub const L_ROOM: &str = r#"
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

/// One job in one of the rooms, derived.
pub struct Job {
    pub plan: Plan,
    pub survey: Survey,
    pub placement: Placement,
    pub findings: Vec<Finding>,
}

/// Reads and places a plan made of a room, the goods, and what is wished for.
pub fn job(room: &str, wishes: &str) -> Job {
    let text = format!("{room}{GOODS}{wishes}");
    let plan = match Plan::from_toml(&text) {
        Ok(read) => read.plan,
        Err(faults) => panic!("{faults:#?}"),
    };
    place(plan)
}

/// Derives a plan as far as placement.
pub fn place(plan: Plan) -> Job {
    let (survey, _) = survey(&plan);
    let (placement, findings) = placement(&plan, &survey);
    Job { plan, survey, placement, findings }
}

impl Job {
    pub fn unit(&self, key: &str) -> &PlacedUnit {
        self.placement.unit(&key.parse().expect("a key")).unwrap_or_else(|| panic!("{key} is placed"))
    }

    pub fn run(&self, key: &str) -> &PlacedRun {
        self.placement.run(&key.parse().expect("a key")).unwrap_or_else(|| panic!("{key} is placed"))
    }

    /// How far the other run reaches into the corner on a side.
    pub fn kept_clear(&self, run: &str, side: usize) -> Length {
        self.run(run).kept_clear[side].as_ref().expect("a corner there").length()
    }

    pub fn width(&self, key: &str) -> Length {
        self.unit(key).width.length()
    }

    pub fn along(&self, key: &str) -> Length {
        self.unit(key).along.length()
    }

    /// Ids of the findings.
    pub fn ids(&self) -> Vec<String> {
        self.findings.iter().map(Finding::id).collect()
    }

    /// The texts of the findings.
    pub fn whats(&self) -> Vec<&str> {
        self.findings.iter().map(|finding| finding.what.as_str()).collect()
    }
}

/// So many whole inches and sixteenths.
pub fn inches(whole: i64, sixteenths: i64) -> Length {
    Length::inches(whole, sixteenths, 16)
}

/// The units of a run fill it: the first begins where the run does, each next where the last ends, the last ends
/// where the run does.
pub fn assert_fills(job: &Job, run: &str) {
    let placed = job.run(run);
    let key: Key = run.parse().expect("a key");
    let mut edge = placed.from.length();
    for unit in job.placement.units_of(&key) {
        assert_eq!(unit.along.length(), edge, "{} begins where its neighbour ends", unit.key);
        edge += unit.width.length();
    }
    assert_eq!(edge, placed.to.length(), "{run} ends where its last unit does");
}

/// The demo, placed.
pub fn demo() -> Job {
    let text = include_str!("../../../../demos/potting-room.toml");
    place(Plan::from_toml(text).expect("the demo reads").plan)
}

/// Every remedy of every finding applies as it stands, and the finding is gone after it.
pub fn assert_every_fix_clears(job: &Job) {
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

/// The plan with a text at a place.
pub fn edited(plan: &Plan, at: &str, value: &str) -> Plan {
    let at = dryfit_measure::Pointer::parse(at).expect("a pointer");
    let edit = dryfit_plan::Edit::set(plan, &at, value, "test");
    plan.apply(&edit).expect("the edit applies").0
}

/// A run's first front, so far in from its unit's edge, opens clear of the corner.
pub fn corners_clear(job: &Job, run: &str, first: &str, side: usize, reveal: Length) {
    let kept = job.kept_clear(run, side);
    let unit = job.unit(first);
    match side {
        0 => assert!(unit.along.length() + reveal >= kept, "{first} opens clear of the corner"),
        _ => assert!(unit.right().length() - reveal <= kept, "{first} opens clear of the corner"),
    }
}
