//! Where each part lies on which sheet, and the tree of cuts that frees it.

use crate::read::{Faults, MAX_LENGTH, MAX_PIECES, ReadFault, join, parse};
use crate::sheet_job::Axis;
use serde::Serialize;
use serde_json::{Map, Value};

/// A layout for a [`crate::SheetJob`].
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct SheetLayout {
    /// Name of the job.
    pub job: String,
    /// The sheets used, in the order in which they are cut.
    pub sheets: Vec<Sheet>,
    /// Parts that no sheet could take, with the reason; empty when all is placed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unplaced: Vec<Unplaced>,
    /// What the layout says of itself; checked by the verifier when present.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub claims: Option<Claims>,
}

/// One sheet of a layout.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// Id of its kind.
    pub sheet_id: String,
    /// Where its parts lie.
    pub placements: Vec<Placement>,
    /// The tree of cuts over the sheet less its trim; `None` in layouts that were made without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut: Option<Piece>,
}

/// One part where it lies: `x`, `y` is its corner nearest the sheet's origin, `w`, `h` its size as it lies.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Placement {
    /// Id of the part.
    pub part_id: String,
    /// x of its near corner.
    pub x: i64,
    /// y of its near corner.
    pub y: i64,
    /// x extent as it lies.
    pub w: i64,
    /// y extent as it lies.
    pub h: i64,
    /// The pieces of a matched group, in order from the near corner; empty for a plain part.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub members: Vec<MemberPlacement>,
}

/// One piece of a matched group where it lies.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct MemberPlacement {
    /// Id of the member.
    pub id: String,
    /// x of its near corner.
    pub x: i64,
    /// y of its near corner.
    pub y: i64,
    /// x extent as it lies.
    pub w: i64,
    /// y extent as it lies.
    pub h: i64,
}

/// A piece of a sheet: what is left of it after the cuts above it in the tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// x of its near corner.
    pub x: i64,
    /// y of its near corner.
    pub y: i64,
    /// x extent.
    pub w: i64,
    /// y extent.
    pub h: i64,
    /// What becomes of it.
    pub becomes: Becomes,
}

/// What becomes of a [`Piece`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Becomes {
    /// It is a part, by id.
    Part(String),
    /// It is left over.
    Waste,
    /// Parallel cuts, each one kerf wide, divide it into pieces that lie side by side along the axis. The last
    /// piece ends flush, or a cut after it frees an end no wider than the kerf.
    Cut(Axis, Vec<Piece>),
}

/// A part that is not in the layout.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unplaced {
    /// Id of the part.
    pub part_id: String,
    /// How many of it are missing.
    pub qty: i64,
    /// Why, naming the stock and both sizes.
    pub why: String,
}

/// What a layout says of itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Claims {
    /// How many sheets it uses.
    pub sheets: i64,
    /// What they cost.
    pub cost: i64,
}

impl Serialize for Piece {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        let n = if matches!(self.becomes, Becomes::Cut(..)) { 6 } else { 5 };
        let mut o = s.serialize_struct("Piece", n)?;
        o.serialize_field("x", &self.x)?;
        o.serialize_field("y", &self.y)?;
        o.serialize_field("w", &self.w)?;
        o.serialize_field("h", &self.h)?;
        match &self.becomes {
            Becomes::Part(id) => o.serialize_field("part", id)?,
            Becomes::Waste => o.serialize_field("waste", &true)?,
            Becomes::Cut(axis, pieces) => {
                o.serialize_field("cut", axis)?;
                o.serialize_field("pieces", pieces)?;
            }
        }
        o.end()
    }
}

impl SheetLayout {
    /// Read a layout. Fields that are not known are ignored; `cut`, `members`, `unplaced` and `claims` may be
    /// left out.
    ///
    /// # Errors
    /// Every fault of the text, each with its place and remedy.
    pub fn read(text: &str) -> Result<SheetLayout, Vec<ReadFault>> {
        let v = parse(text)?;
        let mut f = Faults::default();
        let layout = read_layout(&v, &mut f);
        f.done(layout)
    }

    /// The layout as JSON, in the form that [`SheetLayout::read`] takes.
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }
}

fn read_layout(v: &Value, f: &mut Faults) -> Option<SheetLayout> {
    let o = f.object(v, "")?;
    let job = f.text_or(o, "", "job", "");
    let sheets = read_all(o, "", "sheets", f, read_sheet);
    let unplaced = read_some(o, "", "unplaced", f, |v, path, f| {
        let o = f.object(v, path)?;
        let part_id = f.text(o, path, "part_id");
        let qty = f.int(o, path, "qty", 1, MAX_PIECES);
        let why = f.text_or(o, path, "why", "");
        Some(Unplaced { part_id: part_id?, qty: qty?, why: why? })
    });
    let claims = match o.get("claims") {
        None | Some(Value::Null) => None,
        Some(v) => f.object(v, "/claims").and_then(|o| {
            let sheets = f.int(o, "/claims", "sheets", 0, i64::MAX);
            let cost = f.int(o, "/claims", "cost", 0, i64::MAX);
            Some(Claims { sheets: sheets?, cost: cost? })
        }),
    };
    Some(SheetLayout { job: job?, sheets: sheets?, unplaced: unplaced?, claims })
}

fn read_sheet(v: &Value, path: &str, f: &mut Faults) -> Option<Sheet> {
    let o = f.object(v, path)?;
    let sheet_id = f.text(o, path, "sheet_id");
    let placements = read_all(o, path, "placements", f, |v, path, f| {
        let o = f.object(v, path)?;
        let part_id = f.text(o, path, "part_id");
        let r = read_rect(o, path, f);
        let members = read_some(o, path, "members", f, |v, path, f| {
            let o = f.object(v, path)?;
            let id = f.text(o, path, "id");
            let [x, y, w, h] = read_rect(o, path, f)?;
            Some(MemberPlacement { id: id?, x, y, w, h })
        });
        let [x, y, w, h] = r?;
        Some(Placement { part_id: part_id?, x, y, w, h, members: members? })
    });
    let cut = match o.get("cut") {
        None | Some(Value::Null) => None,
        Some(v) => Some(read_piece(v, &join(path, "cut"), f)?),
    };
    Some(Sheet { sheet_id: sheet_id?, placements: placements?, cut })
}

fn read_piece(v: &Value, path: &str, f: &mut Faults) -> Option<Piece> {
    let o = f.object(v, path)?;
    let r = read_rect(o, path, f);
    let becomes = match (o.get("part"), o.get("waste"), o.get("cut")) {
        (Some(Value::String(id)), None, None) => Becomes::Part(id.clone()),
        (None, Some(Value::Bool(true)), None) => Becomes::Waste,
        (None, None, Some(Value::String(a))) if a == "x" || a == "y" => {
            let axis = if a == "x" { Axis::X } else { Axis::Y };
            Becomes::Cut(axis, read_all(o, path, "pieces", f, read_piece)?)
        }
        _ => {
            f.add(
                path,
                "says neither part, waste nor cut",
                "write one of \"part\": id, \"waste\": true, \"cut\": \"x\" or \"y\" with its pieces",
            );
            return None;
        }
    };
    let [x, y, w, h] = r?;
    Some(Piece { x, y, w, h, becomes })
}

fn read_rect(o: &Map<String, Value>, path: &str, f: &mut Faults) -> Option<[i64; 4]> {
    let x = f.int(o, path, "x", -MAX_LENGTH, MAX_LENGTH);
    let y = f.int(o, path, "y", -MAX_LENGTH, MAX_LENGTH);
    let w = f.int(o, path, "w", 0, MAX_LENGTH);
    let h = f.int(o, path, "h", 0, MAX_LENGTH);
    Some([x?, y?, w?, h?])
}

/// Read each entry of a list that must be there; all faults are collected before any is given up on.
pub(crate) fn read_all<T>(
    o: &Map<String, Value>,
    path: &str,
    key: &str,
    f: &mut Faults,
    one: impl Fn(&Value, &str, &mut Faults) -> Option<T>,
) -> Option<Vec<T>> {
    let list = f.list(o, path, key)?;
    let path = join(path, key);
    let all: Vec<Option<T>> =
        list.iter().enumerate().map(|(i, v)| one(v, &format!("{path}/{i}"), f)).collect();
    all.into_iter().collect()
}

/// As [`read_all`], for a list that may be absent.
pub(crate) fn read_some<T>(
    o: &Map<String, Value>,
    path: &str,
    key: &str,
    f: &mut Faults,
    one: impl Fn(&Value, &str, &mut Faults) -> Option<T>,
) -> Option<Vec<T>> {
    if matches!(o.get(key), None | Some(Value::Null)) {
        return Some(Vec::new());
    }
    read_all(o, path, key, f, one)
}
