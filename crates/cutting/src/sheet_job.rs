//! A job for sheets: the stock that can be had and the parts that are wanted.

use crate::read::{Faults, MAX_LENGTH, MAX_PIECES, MAX_PRICE, ReadFault, join, parse};
use serde::Serialize;
use serde_json::{Map, Value};

/// Most stages that a layout may have where the job sets no limit of its own.
pub const MAX_STAGES: u32 = 24;

/// What to cut from sheets, edge to edge. Lengths are whole numbers of one unit; `w` is the x extent and `h`
/// the y extent of a thing as it lies unturned. The grain runs along `h`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetJob {
    /// Name, carried into the layout; may be empty.
    pub name: String,
    /// What one unit of length is, for people ("0.1mm", "1/64in", "1"); not interpreted.
    pub unit: String,
    /// Width that each cut turns to dust.
    pub kerf: i64,
    /// Cut off every edge of every sheet before anything else, the width of that cut included.
    pub trim: i64,
    /// Kinds of sheet in stock.
    pub sheets: Vec<SheetKind>,
    /// Parts wanted.
    pub parts: Vec<Part>,
    /// Most stages of cuts, the trimming ones counted, that are allowed on a sheet. `None`: the fewest sheets
    /// come first and stages after them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_stages: Option<u32>,
}

/// One kind of sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetKind {
    /// Id, unique among the kinds.
    pub id: String,
    /// x extent.
    pub w: i64,
    /// y extent, along the grain.
    pub h: i64,
    /// How many there are; `None` is as many as it takes.
    pub qty: Option<i64>,
    /// Price of one, in whole price units.
    pub price: i64,
    /// Whether it has a grain, which then runs along `h`.
    #[serde(serialize_with = "grain_text")]
    pub grain: bool,
}

/// One part, wanted `qty` times.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Part {
    /// Id, unique among the parts.
    pub id: String,
    /// x extent unturned.
    pub w: i64,
    /// y extent unturned, along the grain.
    pub h: i64,
    /// How many are wanted.
    pub qty: i64,
    /// Whether it may be turned by a quarter.
    pub can_rotate: bool,
    /// Name for people; may be empty.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub label: String,
    /// Matched pieces that are cut out of this one part by parallel cuts and stay in this order. Empty for a
    /// plain part.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub members: Vec<Member>,
    /// The side along which the members lie: [`Axis::Y`] (along the grain) unless stated.
    #[serde(skip_serializing_if = "is_y")]
    pub members_along: Axis,
}

/// One piece of a matched group.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Member {
    /// Id, unique among the members of its part.
    pub id: String,
    /// Extent along the side on which the group is divided.
    pub length: i64,
}

/// One of the two directions of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Axis {
    /// Along `w`.
    #[serde(rename = "x")]
    X,
    /// Along `h`, the grain.
    #[serde(rename = "y")]
    Y,
}

impl Axis {
    /// The other direction.
    #[must_use]
    pub fn other(self) -> Axis {
        match self {
            Axis::X => Axis::Y,
            Axis::Y => Axis::X,
        }
    }
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_y(a: &Axis) -> bool {
    *a == Axis::Y
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn grain_text<S: serde::Serializer>(grain: &bool, s: S) -> Result<S::Ok, S::Error> {
    if *grain { s.serialize_str("h") } else { s.serialize_none() }
}

impl SheetJob {
    /// Read a job. Fields that are not known are ignored.
    ///
    /// # Errors
    /// Every fault of the text, each with its place and remedy.
    pub fn read(text: &str) -> Result<SheetJob, Vec<ReadFault>> {
        SheetJob::from_value(&parse(text)?)
    }

    pub(crate) fn from_value(v: &Value) -> Result<SheetJob, Vec<ReadFault>> {
        let mut f = Faults::default();
        let job = read_job(v, &mut f);
        f.done(job)
    }

    /// The job as JSON, in the form that [`SheetJob::read`] takes.
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// How many pieces are wanted in all.
    pub fn pieces(&self) -> i64 {
        self.parts.iter().map(|p| p.qty).sum()
    }

    /// The matched group of `kerf`-separated members along `along`, as one grain-locked part.
    /// `across` is the extent that all members share.
    pub fn matched(id: &str, across: i64, members: Vec<Member>, along: Axis, kerf: i64) -> Part {
        let gaps = kerf * (members.len() as i64 - 1).max(0);
        let length = members.iter().map(|m| m.length).sum::<i64>() + gaps;
        let (w, h) = if along == Axis::Y { (across, length) } else { (length, across) };
        Part {
            id: id.into(),
            w,
            h,
            qty: 1,
            can_rotate: false,
            label: String::new(),
            members,
            members_along: along,
        }
    }
}

fn read_job(v: &Value, f: &mut Faults) -> Option<SheetJob> {
    let o = f.object(v, "")?;
    let name = f.text_or(o, "", "name", "");
    let unit = f.text_or(o, "", "unit", "1");
    let kerf = f.int(o, "", "kerf", 0, MAX_LENGTH);
    let trim = f.int_or(o, "", "trim", 0, MAX_LENGTH, 0);
    let max_stages = f.int_opt(o, "", "max_stages", 2, i64::from(MAX_STAGES));
    let sheets: Option<Vec<SheetKind>> = f.list(o, "", "sheets").and_then(|l| {
        let all: Vec<_> =
            l.iter().enumerate().map(|(i, v)| read_kind(v, &format!("/sheets/{i}"), f)).collect();
        all.into_iter().collect()
    });
    let parts: Option<Vec<Part>> = f.list(o, "", "parts").and_then(|l| {
        let all: Vec<_> =
            l.iter().enumerate().map(|(i, v)| read_part(v, &format!("/parts/{i}"), kerf, f)).collect();
        all.into_iter().collect()
    });
    if let Some(l) = &sheets {
        if l.is_empty() {
            f.add("/sheets", "no sheet is listed", "list at least one kind of sheet");
        }
        if l.len() > 1000 {
            f.add("/sheets", format!("{} kinds, at most 1000 are read", l.len()), "list fewer kinds");
        }
        f.unique(l.iter().enumerate().map(|(i, s)| (format!("/sheets/{i}/id"), s.id.as_str())));
        if let Some(t) = trim {
            for (i, s) in l.iter().enumerate() {
                if s.w <= 2 * t || s.h <= 2 * t {
                    let what =
                        format!("`{}` is {} x {}, nothing is left after a trim of {t}", s.id, s.w, s.h);
                    f.add(&format!("/sheets/{i}"), what, "make trim smaller, or leave this sheet out");
                }
            }
        }
    }
    if let Some(l) = &parts {
        f.unique(l.iter().enumerate().map(|(i, p)| (format!("/parts/{i}/id"), p.id.as_str())));
        f.total_pieces("/parts", l.iter().map(|p| p.qty));
    }
    Some(SheetJob {
        name: name?,
        unit: unit?,
        kerf: kerf?,
        trim: trim?,
        sheets: sheets?,
        parts: parts?,
        max_stages: max_stages?.and_then(|s| u32::try_from(s).ok()),
    })
}

fn read_kind(v: &Value, path: &str, f: &mut Faults) -> Option<SheetKind> {
    let o = f.object(v, path)?;
    let id = f.text(o, path, "id");
    let w = f.int(o, path, "w", 1, MAX_LENGTH);
    let h = f.int(o, path, "h", 1, MAX_LENGTH);
    let qty = f.int_opt(o, path, "qty", 0, i64::MAX);
    let price = f.int(o, path, "price", 0, MAX_PRICE);
    let grain = read_grain(o, path, f);
    Some(SheetKind { id: id?, w: w?, h: h?, qty: qty?, price: price?, grain: grain? })
}

fn read_grain(o: &Map<String, Value>, path: &str, f: &mut Faults) -> Option<bool> {
    match o.get("grain") {
        None | Some(Value::Null) => Some(false),
        Some(Value::String(s)) if s == "h" => Some(true),
        Some(_) => {
            let remedy = "write \"h\" or null; where the grain runs along w, exchange w and h of the sheet";
            f.add(&join(path, "grain"), "the grain must run along h", remedy);
            None
        }
    }
}

fn read_part(v: &Value, path: &str, kerf: Option<i64>, f: &mut Faults) -> Option<Part> {
    let o = f.object(v, path)?;
    let id = f.text(o, path, "id");
    let w = f.int(o, path, "w", 1, MAX_LENGTH);
    let h = f.int(o, path, "h", 1, MAX_LENGTH);
    let qty = f.int(o, path, "qty", 0, MAX_PIECES);
    let can_rotate = f.flag(o, path, "can_rotate");
    let label = f.text_or(o, path, "label", "");
    let along = match o.get("members_along") {
        None | Some(Value::Null) => Some(Axis::Y),
        Some(Value::String(s)) if s == "y" => Some(Axis::Y),
        Some(Value::String(s)) if s == "x" => Some(Axis::X),
        Some(_) => {
            f.add(&join(path, "members_along"), "names no direction", "write \"x\" or \"y\"");
            None
        }
    };
    let members = read_members(o, path, f);
    let part = Part {
        id: id?,
        w: w?,
        h: h?,
        qty: qty?,
        can_rotate: can_rotate?,
        label: label?,
        members: members?,
        members_along: along?,
    };
    check_members(&part, path, kerf?, f);
    Some(part)
}

fn read_members(o: &Map<String, Value>, path: &str, f: &mut Faults) -> Option<Vec<Member>> {
    if matches!(o.get("members"), None | Some(Value::Null)) {
        return Some(Vec::new());
    }
    let list = f.list(o, path, "members")?;
    let path = join(path, "members");
    let all: Vec<Option<Member>> = list
        .iter()
        .enumerate()
        .map(|(i, v)| {
            let path = format!("{path}/{i}");
            let o = f.object(v, &path)?;
            let id = f.text(o, &path, "id");
            let length = f.int(o, &path, "length", 1, MAX_LENGTH);
            Some(Member { id: id?, length: length? })
        })
        .collect();
    let all: Option<Vec<Member>> = all.into_iter().collect();
    if let Some(l) = &all {
        f.unique(l.iter().enumerate().map(|(i, m)| (format!("{path}/{i}/id"), m.id.as_str())));
    }
    all
}

fn check_members(p: &Part, path: &str, kerf: i64, f: &mut Faults) {
    if p.members.is_empty() {
        return;
    }
    if p.can_rotate {
        f.add(
            &join(path, "can_rotate"),
            "a matched group keeps its grain and may not turn",
            "write \"can_rotate\": false",
        );
    }
    let (side, name) = if p.members_along == Axis::Y { (p.h, "h") } else { (p.w, "w") };
    let lengths = p.members.iter().map(|m| i128::from(m.length)).sum::<i128>();
    let need = lengths + i128::from(kerf) * (p.members.len() as i128 - 1);
    if need != i128::from(side) {
        let what = format!("{name} is {side}, its members with a kerf of {kerf} between them come to {need}");
        f.add(&join(path, name), what, format!("write \"{name}\": {need}"));
    }
}
