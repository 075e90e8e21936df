//! What a builder may wish on the page, and the edit of the plan that grants it.

use dryfit_measure::{Key, Length, Pointer, Stated, Unit as LengthUnit};
use dryfit_plan::{Draft, Edit, Plan, Width};
use serde::{Deserialize, Serialize};
use serde_json::json;

use super::change::Changed;
use super::frame::Frame;
use super::layout::OFFERS;
use super::receipt::{ReceiptWish, receipt};
use super::typed::{TypedFault, given, length};
use crate::open::Project;
use crate::remedy::RemedyFault;

/// A wish.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Wish {
    /// State what was typed at a place.
    Given {
        /// The place.
        at: String,
        /// What was typed.
        text: String,
    },
    /// Take a finding's remedy.
    Repair {
        /// The finding.
        finding: String,
        /// The remedy, from one.
        number: u32,
    },
    /// Leave a finding as it is, and say why.
    Leave {
        /// The finding.
        finding: String,
        /// Why.
        why: String,
    },
    /// Do not use a reading, and say why; or use it again.
    Aside {
        /// The reading.
        reading: String,
        /// Why; empty to use it again.
        why: String,
    },
    /// The next wall of the walk round the room.
    Walk {
        /// How long it is, as typed.
        text: String,
        /// Whether it leads back to the first corner.
        closes: bool,
    },
    /// A further reading.
    Reading(ReadingWish),
    /// Enter a receipt.
    Receipt(ReceiptWish),
    /// Put a unit somewhere.
    Place(PlaceWish),
    /// Move a unit along its run by so many places.
    Shift {
        /// The unit.
        unit: String,
        /// Places to the right.
        by: i32,
    },
    /// Make a unit wider by so many marks of the tape.
    Marks {
        /// The unit.
        unit: String,
        /// Marks.
        by: i32,
    },
    /// Let a unit take its share of what is left.
    LeftOver {
        /// The unit.
        unit: String,
    },
    /// Take a unit, or a reading, out.
    Out {
        /// Its key.
        key: String,
    },
    /// Take the last edit back.
    Undo,
    /// Do again what was taken back.
    Redo,
    /// Bring a moment of the history back.
    Back {
        /// Its number.
        moment: u32,
    },
}

/// A further reading.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ReadingWish {
    /// span, diagonal, lean, ceiling, floor.
    pub kind: String,
    /// The first corner, or the wall.
    pub from: String,
    /// The second corner; empty for what is read at a wall.
    pub to: String,
    /// How far along the wall, as typed; empty for what lies between corners.
    pub along: String,
    /// At which height, as typed; may be empty.
    pub height: String,
    /// What the instrument said, as typed.
    pub text: String,
}

/// A unit to be placed.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PlaceWish {
    /// What: an offer's kind.
    pub kind: String,
    /// The wall.
    pub wall: String,
    /// The run; empty to begin one.
    pub run: String,
    /// How many units of the run stand left of it.
    pub after: u32,
    /// How wide, as typed; empty for what is left, or its usual width.
    pub width: String,
}

/// What an edit came to: what it changed, and what is round every page now.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Done {
    /// What it changed.
    pub changed: Changed,
    /// The frame after it.
    pub frame: Frame,
}

/// What a wish would come to.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Preview {
    /// What it would change.
    pub changed: Changed,
}

/// Why a wish is not granted. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum WishFault {
    /// It does not read.
    #[error("{0}")]
    Typed(#[from] TypedFault),
    /// The remedy is not there.
    #[error("{0}")]
    Repair(#[from] RemedyFault),
    /// It names what is not there.
    #[error("{0}")]
    Names(String),
}

fn nothing(what: &str, key: &str) -> WishFault {
    WishFault::Names(format!("there is no {what} `{key}`; it may have been taken out meanwhile"))
}

/// The edit that grants a wish; none for undo, redo and bringing back, which are steps of the journal.
///
/// # Errors
/// When it does not read, or names what is not there.
pub fn edit_of(project: &Project, wish: &Wish) -> Result<Option<Edit>, WishFault> {
    let plan = &project.plan;
    let root = Pointer::root();
    Ok(Some(match wish {
        Wish::Undo | Wish::Redo | Wish::Back { .. } => return Ok(None),
        Wish::Given { at, text } => {
            let at = Pointer::parse(at).map_err(|fault| WishFault::Names(fault.to_string()))?;
            given(project, &at, text)?
        }
        Wish::Repair { finding, number } => project.fix(finding, *number as usize)?.edit.clone(),
        Wish::Leave { finding, why } => leave(project, finding, why)?,
        Wish::Aside { reading, why } => {
            let key = known(plan.readings.keys(), reading).ok_or_else(|| nothing("reading", reading))?;
            let at = root.child("readings").child(key.as_str()).child("set_aside");
            if why.is_empty() {
                Edit::remove(plan, &at, format!("use reading {key} again"))
            } else {
                Edit::set(plan, &at, why, format!("set reading {key} aside"))
            }
        }
        Wish::Walk { text, closes } => walk(project, text, *closes)?,
        Wish::Reading(wish) => reading(project, wish)?,
        Wish::Receipt(wish) => receipt(plan, wish)?,
        Wish::Place(wish) => place(project, wish)?,
        Wish::Shift { unit, by } => shift(plan, unit, *by)?,
        Wish::Marks { unit, by } => marks(project, unit, *by)?,
        Wish::LeftOver { unit } => {
            let key = known(plan.units.keys(), unit).ok_or_else(|| nothing("unit", unit))?;
            let at = root.child("units").child(key.as_str()).child("width");
            Edit::set(plan, &at, "left-over", format!("let {key} take what is left"))
        }
        Wish::Out { key } => out(plan, key)?,
    }))
}

fn known<'k>(mut keys: impl Iterator<Item = &'k Key>, wanted: &str) -> Option<&'k Key> {
    keys.find(|key| key.as_str() == wanted)
}

fn leave(project: &Project, id: &str, why: &str) -> Result<Edit, WishFault> {
    let plan = &project.plan;
    if why.trim().is_empty() {
        return Err(TypedFault::whole("say why it may stay as it is").into());
    }
    let finding = project.finding(id)?;
    let key = plan.next_key("w");
    let at = Pointer::root().child("decisions").child(&key);
    let subjects: Vec<&str> = finding.subjects.iter().map(Key::as_str).collect();
    let mut decision = json!({ "rule": finding.rule, "subjects": subjects, "reason": why.trim() });
    if let Some(short) = &finding.short_by {
        let unit = plan.fineness.unit();
        decision["short_by"] = json!(Stated::new(short.length(), unit).to_string());
    }
    Ok(Edit::set(plan, &at, decision, format!("leave {id} as it is")))
}

/// The next wall, and its first reading.
fn walk(project: &Project, text: &str, closes: bool) -> Result<Edit, WishFault> {
    let plan = &project.plan;
    let stated = length(project, text)?;
    if stated.length <= Length::ZERO {
        return Err(TypedFault::whole("a wall is longer than nothing").into());
    }
    let mut corners: Vec<String> = plan.room.walk.iter().map(ToString::to_string).collect();
    if corners.is_empty() {
        corners.push("A".to_owned());
    }
    let from = corners.last().cloned().unwrap_or_default();
    if closes && corners.len() < 3 {
        return Err(TypedFault::whole("a room has three corners at least: go on to the next").into());
    }
    let to = if closes {
        corners[0].clone()
    } else {
        let letter = (b'A'..=b'Z').map(|letter| char::from(letter).to_string());
        let next = letter.into_iter().find(|letter| !corners.contains(letter));
        next.ok_or_else(|| TypedFault::whole("a room of more than 26 corners is more than this walk knows"))?
    };
    if !closes {
        corners.push(to.clone());
    }
    let wall = format!("{from}{to}");
    let mut draft = Draft::of(plan)
        .set(&Pointer::root().child("room").child("walk"), &corners)
        .set(&Pointer::root().child("walls").child(&wall), json!({ "from": from, "to": to }));
    let key = plan.next_key("r");
    let span = json!({ "span": { "from": from, "to": to } });
    draft = draft.set(
        &Pointer::root().child("readings").child(&key),
        reading_value(plan, &span, None, stated, text, false)?,
    );
    Ok(draft.edit(format!("wall {from}\u{2013}{to}, {stated}")))
}

/// The first instrument of a kind, or else the first.
fn instrument(plan: &Plan, kind: dryfit_plan::InstrumentKind) -> Result<String, WishFault> {
    let first =
        plan.instruments.iter().find(|(_, one)| one.kind == kind).or_else(|| plan.instruments.iter().next());
    first.map(|(key, _)| key.to_string()).ok_or_else(|| {
        WishFault::Names("the plan names no tape or other instrument; add one under instruments".to_owned())
    })
}

fn reading_value(
    plan: &Plan,
    of: &serde_json::Value,
    height: Option<Stated>,
    stated: Stated,
    text: &str,
    lean: bool,
) -> Result<serde_json::Value, WishFault> {
    use dryfit_plan::InstrumentKind::{Plumb, Tape};
    let epoch = plan.epochs.keys().next_back().map(ToString::to_string);
    let epoch = epoch.ok_or_else(|| WishFault::Names("the plan names no state of the room".to_owned()))?;
    let by = instrument(plan, if lean { Plumb } else { Tape })?;
    let mut value =
        json!({ "epoch": epoch, "by": by, "of": of, "length": stated.to_string(), "text": text.trim() });
    if let Some(height) = height {
        value["height"] = json!(height.to_string());
    }
    Ok(value)
}

fn reading(project: &Project, wish: &ReadingWish) -> Result<Edit, WishFault> {
    let plan = &project.plan;
    let lean = wish.kind == "lean";
    let (inward, text) = match wish.text.trim() {
        text if lean => (
            text.ends_with(" in") && !text.contains('"'),
            text.trim_end_matches(" in").trim_end_matches(" out"),
        ),
        text => (false, text),
    };
    let mut stated = length(project, text)?;
    if inward {
        stated = Stated::new(-stated.length, stated.unit);
    }
    let height = if wish.height.trim().is_empty() { None } else { Some(length(project, &wish.height)?) };
    let corner = |key: &str| {
        plan.room.walk.iter().find(|known| known.as_str() == key).ok_or_else(|| nothing("corner", key))
    };
    let of = match wish.kind.as_str() {
        "span" | "diagonal" => {
            let (from, to) = (corner(&wish.from)?, corner(&wish.to)?);
            json!({ wish.kind.clone(): { "from": from, "to": to } })
        }
        "lean" => {
            json!({ "lean": { "wall": known(plan.walls.keys(), &wish.from).ok_or_else(|| nothing("wall", &wish.from))? } })
        }
        "ceiling" | "floor" => {
            let wall = known(plan.walls.keys(), &wish.from).ok_or_else(|| nothing("wall", &wish.from))?;
            let along = if wish.along.trim().is_empty() {
                return Err(TypedFault::whole("say how far along the wall from its left-hand corner").into());
            } else {
                length(project, &wish.along)?
            };
            let out = match plan.entry_unit {
                LengthUnit::Inch => "12 in",
                LengthUnit::Millimetre => "300 mm",
            };
            json!({ wish.kind.clone(): { "at": { "wall": wall, "along": along.to_string(), "out": out } } })
        }
        other => {
            return Err(WishFault::Names(format!(
                "`{other}` is not read here; read a span, diagonal, lean, ceiling or floor"
            )));
        }
    };
    let height = if matches!(wish.kind.as_str(), "ceiling" | "floor") { None } else { height };
    let key = plan.next_key("r");
    let value = reading_value(plan, &of, height, stated, text, lean)?;
    let at = Pointer::root().child("readings").child(&key);
    Ok(Edit::set(plan, &at, value, format!("read {key}, {stated}")))
}

/// A unit of a kind that is offered, at its place in a run, which is begun where there is none.
fn place(project: &Project, wish: &PlaceWish) -> Result<Edit, WishFault> {
    let plan = &project.plan;
    let offer = OFFERS.iter().find(|(kind, ..)| *kind == wish.kind);
    let (kind, name, floor, usual, _) = *offer.ok_or_else(|| nothing("kind of unit", &wish.kind))?;
    let wall = known(plan.walls.keys(), &wish.wall).ok_or_else(|| nothing("wall", &wish.wall))?;
    let recipe = plan.recipes.keys().next();
    let width = if wish.width.trim().is_empty() {
        let usual = Length::inches(usual, 0, 1);
        let spare = project
            .derived
            .placement
            .runs
            .iter()
            .find(|run| run.key.as_str() == wish.run)
            .map(|run| run.spare.length());
        match spare {
            Some(spare) if spare < usual => json!("left-over"),
            _ => json!({ "given": usual_width(plan, usual).to_string() }),
        }
    } else {
        json!({ "given": length(project, &wish.width)?.to_string() })
    };
    let letter = match kind {
        "tall" => "t",
        "filler" => "f",
        "hung" => "u",
        "shelf" => "s",
        _ => "b",
    };
    let key = plan.next_key(letter);
    let slide = plan
        .goods
        .iter()
        .find(|(_, good)| matches!(good.form, dryfit_plan::Form::Slide(_)))
        .map(|(key, _)| key.to_string());
    let drawers = slide.map(|slide| {
        let drawer = || json!({ "drawer": { "slide": slide } });
        json!({ "down": { "order": ["d1", "d2", "d3"], "parts": { "d1": drawer(), "d2": drawer(), "d3": drawer() } } })
    });
    let wide = width.get("given").and_then(|w| w.as_str()).and_then(|w| w.parse::<Stated>().ok());
    let doors = if wide.is_some_and(|wide| wide.length >= Length::inches(24, 0, 1)) {
        json!({ "pair": {} })
    } else {
        json!({ "door": { "hinge": "left" } })
    };
    let mut unit = json!({ "kind": "base", "width": width });
    let mut set = |field: &str, value: serde_json::Value| unit[field] = value;
    if let Some(recipe) = recipe {
        set("recipe", json!(recipe));
    }
    match kind {
        "drawers" => set("fronts", drawers.unwrap_or(doors)),
        "cupboard" => {
            set("fronts", doors);
            set("shelves", json!(1));
        }
        "open" => set("shelves", json!(2)),
        "sink" => {
            let sink =
                plan.goods.iter().find(|(_, good)| matches!(good.form, dryfit_plan::Form::Sink { .. }));
            set("kind", json!("sink"));
            set("fronts", json!({ "pair": {} }));
            if let Some((key, _)) = sink {
                set("holds", json!(key));
            }
        }
        "tall" => {
            set("kind", json!("tall"));
            set("height", json!({ "given": usual_width(plan, Length::inches(80, 0, 1)).to_string() }));
            set("fronts", json!({ "pair": {} }));
            set("shelves", json!(3));
        }
        "filler" => set("kind", json!("filler")),
        "hung" => {
            set("kind", json!("wall"));
            set("height", json!({ "given": usual_width(plan, Length::inches(30, 0, 1)).to_string() }));
            set("fronts", doors);
            set("shelves", json!(2));
        }
        _ => {
            set("kind", json!("floating-shelf"));
            set("depth", json!(usual_width(plan, Length::inches(10, 0, 1)).to_string()));
        }
    }
    let root = Pointer::root();
    let mut draft = Draft::of(plan).set(&root.child("units").child(&key), unit);
    if wish.run.is_empty() {
        let run = plan.next_key("q");
        draft = draft.set(&root.child("runs").child(&run), new_run(plan, wall, floor, &key));
        draft = corner_partners(draft, plan, wall, floor, &run);
    } else {
        let run = known(plan.runs.keys(), &wish.run).ok_or_else(|| nothing("run", &wish.run))?;
        let mut order: Vec<String> = plan.runs[run].order.iter().map(ToString::to_string).collect();
        order.insert((wish.after as usize).min(order.len()), key.clone());
        draft = draft.set(&root.child("runs").child(run.as_str()).child("order"), order);
    }
    Ok(draft.edit(format!("{} {key} at {}", name.to_lowercase(), super::names::wall(plan, wall))))
}

/// An inch figure as the plan's unit has it: whole centimetres where it is metric.
fn usual_width(plan: &Plan, inches: Length) -> Stated {
    match plan.entry_unit {
        LengthUnit::Inch => Stated::inches(inches),
        LengthUnit::Millimetre => {
            let centimetres = (inches.as_mm_f64() / 10.0).round() as i64;
            Stated::millimetres(Length::mm(centimetres * 10))
        }
    }
}

/// The wall that meets another in its left or right corner, seen from inside.
fn beside(plan: &Plan, wall: &Key, left: bool) -> Option<Key> {
    let here = plan.walls.get(wall)?;
    let clockwise = plan.room.sense == dryfit_plan::Sense::Clockwise;
    // walked clockwise, a wall's first corner is at its left as seen from inside
    let corner = if left == clockwise { &here.from } else { &here.to };
    plan.walls
        .iter()
        .find(|(key, other)| *key != wall && (other.from == *corner || other.to == *corner))
        .map(|(key, _)| key.clone())
}

/// The run at a level along a wall.
fn run_along(plan: &Plan, wall: &Key, floor: bool) -> Option<Key> {
    plan.runs
        .iter()
        .find(|(_, run)| run.along == *wall && matches!(run.level, dryfit_plan::Level::Floor) == floor)
        .map(|(key, _)| key.clone())
}

fn new_run(plan: &Plan, wall: &Key, floor: bool, first: &str) -> serde_json::Value {
    let end = |left: bool| match beside(plan, wall, left).and_then(|wall| run_along(plan, &wall, floor)) {
        Some(other) => json!({ "corner": { "with": other, "owner": other } }),
        None => json!("wall"),
    };
    let level = if floor {
        json!("floor")
    } else if let Some(top) = plan.tops.keys().next() {
        json!({ "above-top": top })
    } else {
        json!({ "up": usual_width(plan, Length::inches(54, 0, 1)).to_string() })
    };
    json!({ "along": wall, "level": level, "order": [first], "left": end(true), "right": end(false) })
}

/// A run that was there and now meets the new one in a corner says so too.
fn corner_partners(mut draft: Draft, plan: &Plan, wall: &Key, floor: bool, run: &str) -> Draft {
    for left in [true, false] {
        let Some(other) = beside(plan, wall, left).and_then(|wall| run_along(plan, &wall, floor)) else {
            continue;
        };
        // what is this wall's left corner is the other's right one
        let side = if left { "right" } else { "left" };
        let at = Pointer::root().child("runs").child(other.as_str()).child(side);
        draft = draft.set(&at, json!({ "corner": { "with": run, "owner": other } }));
    }
    draft
}

fn shift(plan: &Plan, unit: &str, by: i32) -> Result<Edit, WishFault> {
    let run = plan.runs.iter().find(|(_, run)| run.order.iter().any(|key| key.as_str() == unit));
    let (run, stated) = run.ok_or_else(|| nothing("unit", unit))?;
    let mut order: Vec<String> = stated.order.iter().map(ToString::to_string).collect();
    let here = order.iter().position(|key| key == unit).unwrap_or_default();
    let to = (i64::try_from(here).unwrap_or_default() + i64::from(by))
        .clamp(0, i64::try_from(order.len()).unwrap_or(1) - 1);
    let moved = order.remove(here);
    order.insert(usize::try_from(to).unwrap_or_default(), moved);
    let at = Pointer::root().child("runs").child(run.as_str()).child("order");
    let way = if by < 0 { "left" } else { "right" };
    Ok(Edit::set(plan, &at, order, format!("move {unit} to the {way}")))
}

fn marks(project: &Project, unit: &str, by: i32) -> Result<Edit, WishFault> {
    let plan = &project.plan;
    let key = known(plan.units.keys(), unit).ok_or_else(|| nothing("unit", unit))?;
    let step = plan.fineness.step();
    let now = if let Width::Given(stated) = plan.units[key].width {
        stated
    } else {
        // what follows is given from where it stands
        let placed = project.derived.placement.unit(key).ok_or_else(|| nothing("unit", unit))?;
        Stated::new(placed.width.length(), plan.fineness.unit())
    };
    let wide = Stated::new(now.length + step * i64::from(by), now.unit);
    if wide.length <= Length::ZERO {
        return Err(TypedFault::whole("a width is more than nothing").into());
    }
    let at = Pointer::root().child("units").child(unit).child("width");
    Ok(Edit::set(plan, &at, json!({ "given": wide.to_string() }), format!("make {unit} {wide} wide")))
}

/// Takes a unit out of its run and of the plan, or a reading out.
fn out(plan: &Plan, key: &str) -> Result<Edit, WishFault> {
    let root = Pointer::root();
    if let Some(reading) = known(plan.readings.keys(), key) {
        let at = root.child("readings").child(reading.as_str());
        return Ok(Edit::remove(plan, &at, format!("take reading {key} out")));
    }
    let unit = known(plan.units.keys(), key).ok_or_else(|| nothing("unit", key))?;
    let mut draft = Draft::of(plan).remove(&root.child("units").child(unit.as_str()));
    for (run, stated) in plan.runs.iter().filter(|(_, run)| run.order.contains(unit)) {
        let order: Vec<&str> = stated.order.iter().filter(|known| *known != unit).map(Key::as_str).collect();
        let at = root.child("runs").child(run.as_str());
        draft = if order.is_empty() { draft.remove(&at) } else { draft.set(&at.child("order"), order) };
    }
    Ok(draft.edit(format!("take {key} out")))
}
