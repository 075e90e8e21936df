//! Steps of assembly in an order that can be done: a captured back before the last side, slides and finish while
//! the box is open, diagonals before the glue sets.

use dryfit_measure::Length;
use dryfit_plan::{BackJoint, BottomJoint, Hand, ToeBuild, UnitKind};

use super::cabinet::Cabinet;
use super::job::Job;
use super::{OperationKind, Part, Step};
use crate::placement::Beside;

/// Steps as they are written down.
struct Steps(Vec<Step>);

impl Steps {
    fn step(&mut self, text: impl Into<String>) {
        self.0.push(Step { text: text.into(), test: false, caution: None });
    }

    fn test(&mut self, text: impl Into<String>) {
        self.0.push(Step { text: text.into(), test: true, caution: None });
    }

    fn caution(&mut self, text: impl Into<String>) {
        if let Some(step) = self.0.last_mut() {
            step.caution = Some(text.into());
        }
    }
}

/// The roles of parts with one of these names, in braces: `{a}, {b}`.
fn all(parts: &[Part], names: &[&str]) -> String {
    let found = parts.iter().filter(|part| names.contains(&part.name.as_str()));
    found.map(|part| format!("{{{}}}", part.role)).collect::<Vec<_>>().join(", ")
}

/// Steps for a box.
pub(super) fn of_cabinet(job: &Job<'_>, cabinet: &Cabinet<'_>) -> Vec<Step> {
    let parts = cabinet.parts.as_slice();
    let mut steps = Steps(Vec::new());
    if !job.recipe.edges.is_empty() {
        steps.step("Band the edges that show, ends before long edges; trim flush. Drill after banding.");
        steps.caution("Iron and hot glue burn; trim away from the hand.");
    }
    carcass_steps(job, cabinet, &mut steps);
    frame_steps(job, cabinet, &mut steps);
    let dividers = all(parts, &["divider"]);
    if !dividers.is_empty() {
        steps.step(format!("Stand {dividers} between, front edges flush; screw from below and above."));
    }
    let rods = all(parts, &["rod"]);
    if !rods.is_empty() {
        steps.step(format!("Screw {rods} between the sides, through them."));
    }
    let cleats = all(parts, &["slide cleat"]);
    if !cleats.is_empty() {
        let [left, right] = cabinet.packing.map(|packing| job.show(packing));
        let packing = match cabinet.packing.map(Length::is_positive) {
            [false, false] => String::new(),
            _ if left == right => format!(", packed out by {left} each"),
            _ => format!(", packed out by {left} on the left and {right} on the right"),
        };
        steps.step(format!("Screw {cleats} to the sides, level with the lower edges of their openings{packing}, flush with the frame's inner edge."));
    }
    if cabinet.rows.iter().any(super::front::Row::is_drawer) {
        steps.step("Screw the slides on, square to the frame and level, while the box is open.");
    }
    let bare = job.recipe.edges.is_empty();
    if bare {
        steps.step("Finish the inside and let it dry.");
        steps.caution("Air the shop; lay oily rags flat outdoors to dry, they can set themselves alight.");
    }
    if job.recipe.toe == ToeBuild::Legs && cabinet.carcass.toe.is_some() {
        steps.step("Screw the legs under {bottom}, those in front behind the line of {toe}.");
    }
    if has_plates(parts) {
        steps.step("Screw the hinge plates on, in their holes behind the front edges.");
    }
    let shelves = all(parts, &["shelf"]);
    if !shelves.is_empty() {
        steps.step(format!("Pins in, then {shelves}."));
    }
    seat_steps(job, parts, &mut steps);
    steps.test("Measure every opening and type it in: then doors and drawers are released.");
    front_steps(job, cabinet, &mut steps);
    setting_steps(job, parts, &mut steps);
    steps.0
}

/// Whether hinges lie on plates that are screwed to the uprights.
fn has_plates(parts: &[Part]) -> bool {
    let plates = |part: &Part| part.operations.iter().any(|done| done.kind == OperationKind::PlateHoles);
    parts.iter().any(plates)
}

/// A bench's seat.
fn seat_steps(job: &Job<'_>, parts: &[Part], steps: &mut Steps) {
    if !parts.iter().any(|part| part.role == "seat") {
        return;
    }
    if job.unit.lid {
        steps.step("{seat} on: hinges at the back, then the stay.");
        steps.test("Let it fall from a hand's width: the stay has to catch it.");
        steps.caution("A lid without its stay breaks fingers.");
    } else {
        steps.step("{seat} on, level with the back; screw it from below through {stretcher.front}.");
    }
    steps.test("Sit down on the middle and at the front edge: nothing may tip or creak.");
}

fn carcass_steps(job: &Job<'_>, cabinet: &Cabinet<'_>, steps: &mut Steps) {
    let parts = cabinet.parts.as_slice();
    let carcass = &cabinet.carcass;
    steps.step("Dry fit the box. Good faces in, front edges flush.");
    steps.caution("Saw and router: guard on, push block, blade below the cut; wear a mask for the dust.");
    let flats = all(parts, &["bottom", "top", "fixed shelf", "shelf for hats"]);
    let strips = all(parts, &["stretcher", "stretcher, on edge", "nailer"]);
    if carcass.dadoed() {
        steps.step(format!(
            "Lay {{side.left}} on its outside. Glue {flats} into its dadoes; glue and screw {strips} to it."
        ));
    } else if job.recipe.joints.bottom == BottomJoint::Screw {
        steps.step(format!(
            "Clamp {flats}, {strips} to {{side.left}}, front edges flush. Drill on through its holes, then screw."
        ));
    } else {
        steps.step(format!("Lay {{side.left}} on its outside. Glue and screw {flats}, {strips} to it."));
    }
    let joint = carcass.back.as_ref().map(|back| back.joint);
    let has_back = parts.iter().any(|part| part.role == "back");
    if has_back && joint == Some(BackJoint::Groove) {
        let slide = if carcass.nailer_behind { "before the nailer, " } else { "" };
        steps.step(format!("Slide {{back}} into its groove, {slide}no glue."));
    }
    let screwed = job.recipe.joints.bottom == BottomJoint::Screw;
    steps.step(if screwed {
        "Close with {side.right}: clamp, drill on through its holes, screw."
    } else {
        "Close with {side.right}: glue, screw, clamp across front and back."
    });
    let (width, height) = (carcass.width.length(), carcass.height.length() - carcass.foot.length());
    let diagonal = job.marks(width.hypot(height));
    steps.test(if screwed {
        format!("Check the diagonals before the last screws are tight: equal, {diagonal} over all.")
    } else {
        format!("Check the diagonals before the glue sets: equal, {diagonal} over all.")
    });
    if has_back && joint == Some(BackJoint::Rabbet) {
        steps.step("Lay {back} into its rabbet; glue and nail it, box square.");
    }
    if has_back && joint == Some(BackJoint::Applied) {
        steps.step("Glue and nail {back} on from behind, box square.");
    }
    if !screwed {
        steps.step("Leave it clamped for an hour.");
    }
}

fn frame_steps(job: &Job<'_>, cabinet: &Cabinet<'_>, steps: &mut Steps) {
    let parts = cabinet.parts.as_slice();
    let rails = all(parts, &["frame rail", "mid stile"]);
    if rails.is_empty() {
        return;
    }
    steps.step(format!(
        "Frame, face down: glue and screw {rails} between {{frame/stile.left}} and {{frame/stile.right}}."
    ));
    let carcass = &cabinet.carcass;
    let height = carcass.height.length() - carcass.frame_foot.length();
    let diagonal = job.marks(carcass.over_all.length().hypot(height));
    steps.test(format!("Check the frame's diagonals: equal, {diagonal}."));
    let over = carcass
        .overhang
        .iter()
        .zip([Hand::Left, Hand::Right])
        .filter(|(over, _)| over.length().is_positive());
    let past: Vec<String> = over
        .map(|(over, hand)| {
            let side = if hand == Hand::Left { "left" } else { "right" };
            format!("{} past the box on the {side}", job.show(over.length()))
        })
        .collect();
    let sides = if past.is_empty() { "flush outside".to_owned() } else { past.join(", ") };
    steps.step(format!(
        "Frame on the box: {sides}, {{frame/rail.bottom}} flush with the upper face of {{bottom}}. Glue; screw from outside."
    ));
    let blocks = all(parts, &["block"]);
    if !blocks.is_empty() {
        steps.step(format!("Screw {blocks} between the rails, flush with the face of the frame."));
    }
}

/// Doors, drawers and fixed fronts, one after the other.
fn front_steps(job: &Job<'_>, cabinet: &Cabinet<'_>, steps: &mut Steps) {
    let mut fronts: Vec<&str> = Vec::new();
    for part in cabinet.parts.iter().filter(|part| part.gate.is_some()) {
        if let Some((front, _)) = part.role.split_once('/')
            && !fronts.contains(&front)
        {
            fronts.push(front);
        }
    }
    for front in fronts {
        let of = |piece: &str| {
            let role = format!("{front}/{piece}");
            cabinet.parts.iter().any(|part| part.role == role).then(|| format!("{{{role}}}"))
        };
        if let Some(left) = of("side.left") {
            let list =
                |pieces: &[&str]| pieces.iter().filter_map(|piece| of(piece)).collect::<Vec<_>>().join(", ");
            steps.step(format!(
                "Drawer box: glue and screw {} to {left}.",
                list(&["front", "back"]).replace(", ", " and ")
            ));
            steps.step(format!(
                "Slide {} into its grooves, no glue; close with {}.",
                list(&["bottom"]),
                list(&["side.right"])
            ));
            steps.test("Check the box's diagonals: equal. It must lie flat.");
        }
        if let Some(panel) = of("panel") {
            let list = ["stile.left", "stile.right", "rail.top", "rail.bottom"]
                .map(|piece| of(piece).unwrap_or_default());
            steps.step(format!("Dry fit {}, {}, {}, {} round {panel}.", list[0], list[1], list[2], list[3]));
            steps.step("Paint the panel's edges. Glue the tongues only: the panel stays free. Clamp.");
            steps.test("Check its diagonals before the glue sets: equal. It must lie flat.");
        } else if let Some(slab) = of("face") {
            let banded = cabinet
                .parts
                .iter()
                .any(|part| part.role == format!("{front}/face") && !part.bands.is_empty());
            steps.step(if banded {
                format!("Band {slab} all round, short edges first; trim, and ease the arrises.")
            } else {
                format!("Sand {slab}; ease its edges.")
            });
        }
        steps.step(match front.split('.').next() {
            Some("drawer") => {
                "Box on its slides. Front on with shims, equal gaps; screw from inside, then the pull."
            }
            Some("fixed") if job.framed() => "Front on its blocks with equal gaps; screw from behind.",
            Some("fixed") => "Front on with equal gaps; screw from behind through the stretcher.",
            _ if has_plates(&cabinet.parts) => {
                "Hinges in their cups, door on its plates; set height, side and depth until gaps are equal; then the pull."
            }
            _ => "Hinges in their cups, door on, gaps equal; then the pull.",
        });
    }
}

/// Into the room: on the floor or on the wall, and fixed.
fn setting_steps(job: &Job<'_>, parts: &[Part], steps: &mut Steps) {
    let base = all(parts, &["base, long piece", "base, cross piece"]);
    if job.recipe.toe == ToeBuild::Loose && !base.is_empty() {
        steps.step(format!("Base: glue and screw {base}. Level it on the datum with shims; box on."));
    }
    if job.placed.beside.iter().any(|beside| matches!(beside, Beside::Unit(_))) {
        let stiles = all(parts, &["stile"]);
        steps.step(if job.framed() {
            format!("Clamp {stiles} flush with the frame beside it; pilot holes, then screw stile to stile.")
        } else {
            "Clamp {side.left} or {side.right} to the box beside it, front edges and tops flush; screw side to side, clear of the holes."
                .to_owned()
        });
    }
    let nailers = all(parts, &["nailer"]);
    match job.placed.kind {
        UnitKind::Wall => {
            steps.step(format!("Hang it on its level line: screw {nailers} to every stud, two screws each."));
            steps.caution(
                "Two people, or a ledger screwed on below. Know what is in the wall before you drill: pipes, cables.",
            );
        }
        kind if kind.is_tall() => {
            steps.step(format!("Shim it plumb; screw {nailers} to every stud, two screws each."));
            steps.caution("It can tip over: load nothing and open nothing before it is screwed to the wall.");
        }
        _ if job.recipe.toe == ToeBuild::Legs => {
            steps.step(format!(
                "Turn the legs until it is level on the datum; screw {nailers} to every stud, two screws each."
            ));
        }
        _ => {
            steps
                .step(format!("Shim it level on the datum; screw {nailers} to every stud, two screws each."));
        }
    }
    if job.placed.kind != UnitKind::Wall && !job.placed.kind.is_tall() {
        steps.caution("Know what is in the wall before you drill: pipes, cables.");
    }
    let toe = all(parts, &["toe board"]);
    if !toe.is_empty() {
        steps.step(if job.recipe.toe == ToeBuild::Legs {
            format!("Scribe {toe} to the floor; clip it to the legs last.")
        } else {
            format!("Scribe {toe} to the floor and pin it on last.")
        });
    }
}

/// Steps for a floating shelf.
pub(super) fn of_floating(parts: &[Part]) -> Vec<Step> {
    let mut steps = Steps(Vec::new());
    steps.step(format!("Screw {} to {{ledger}}, square, flush above.", all(parts, &["arm"])));
    let ends = all(parts, &["end"]);
    let ends = if ends.is_empty() { String::new() } else { format!(", {ends}") };
    steps.step(format!(
        "Shelf: glue {{skin.bottom}}{ends} and {{skin.top}} to {{front}}, open at the back. Clamp."
    ));
    steps.test("Slide the ledger frame in and out before the glue sets.");
    steps.step("Screw the ledger to every stud on its level line, two screws each.");
    steps.caution(
        "Know what is in the wall before you drill: pipes, cables. Studs only: board alone holds no shelf.",
    );
    steps.test("Press down hard on every arm: nothing may move.");
    steps.step("Scribe the shelf to the wall, slide it on, and screw it to the arms from below.");
    steps.0
}

/// Steps for a board with hooks.
pub(super) fn of_hook_rail(parts: &[Part]) -> Vec<Step> {
    let mut steps = Steps(Vec::new());
    let banded = parts.iter().any(|part| !part.bands.is_empty());
    steps.step(if banded { "Band {rail} all round, ends first." } else { "Sand {rail}; ease its edges." });
    steps.step("Drill it for its hooks.");
    steps.step("Screw {rail} to every stud on its level line, two screws each; then the hooks.");
    steps.caution("Know what is in the wall before you drill: pipes, cables.");
    steps.test("Hang your weight on it, a hook at a time: nothing may move.");
    steps.0
}

/// Steps for a filler or an end panel.
pub(super) fn of_panel(job: &Job<'_>, parts: &[Part]) -> Vec<Step> {
    let mut steps = Steps(Vec::new());
    if job.placed.kind == UnitKind::EndPanel {
        steps.step("Clamp {panel} to the side beside it: top and front flush. Screw from inside the box.");
    } else {
        steps.step("Scribe {filler} to what it meets; plane to the line.");
        if parts.iter().any(|part| part.role == "cleat") {
            steps.step(
                "Screw {cleat} to the side of the box beside it, so far back that {filler} lies flush with the doors; screw {filler} on from behind.",
            );
            return finished(steps, parts);
        }
        steps
            .step("Clamp it to the stile beside it, faces flush; pilot holes, then screw through the stile.");
    }
    finished(steps, parts)
}

/// The toe board of a strip goes on last.
fn finished(mut steps: Steps, parts: &[Part]) -> Vec<Step> {
    let toe = all(parts, &["toe board"]);
    if !toe.is_empty() {
        steps.step(format!("{toe} goes on last, with those beside it."));
    }
    steps.0
}
