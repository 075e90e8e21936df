//! Which pieces are cut from which bar.

use crate::read::{Faults, MAX_PIECES, ReadFault, join, parse};
use crate::sheet_layout::{Unplaced, read_all, read_some};
use serde::Serialize;
use serde_json::Value;

/// A layout for a [`crate::LengthJob`].
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct LengthLayout {
    /// Name of the job.
    pub job: String,
    /// The bars, equal ones gathered.
    pub bars: Vec<Bar>,
    /// Parts that no bar could take, with the reason; empty when all is placed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unplaced: Vec<Unplaced>,
    /// What the layout says of itself; checked by the verifier when present.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub claims: Option<LengthClaims>,
}

/// Equal bars of a layout.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Bar {
    /// Id of the kind of bar.
    pub stock_id: String,
    /// How many bars are cut in this way.
    pub count: i64,
    /// Ids of the pieces in the order in which they are cut, from the first end.
    pub parts: Vec<String>,
}

/// What a layout says of itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LengthClaims {
    /// How many bars it uses.
    pub bars: i64,
    /// What they cost.
    pub cost: i64,
}

impl LengthLayout {
    /// Read a layout. Fields that are not known are ignored; `count` is 1 where it is left out.
    ///
    /// # Errors
    /// Every fault of the text, each with its place and remedy.
    pub fn read(text: &str) -> Result<LengthLayout, Vec<ReadFault>> {
        let v = parse(text)?;
        let mut f = Faults::default();
        let layout = read_layout(&v, &mut f);
        f.done(layout)
    }

    /// The layout as JSON, in the form that [`LengthLayout::read`] takes.
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }
}

fn read_layout(v: &Value, f: &mut Faults) -> Option<LengthLayout> {
    let o = f.object(v, "")?;
    let job = f.text_or(o, "", "job", "");
    let bars = read_all(o, "", "bars", f, |v, path, f| {
        let o = f.object(v, path)?;
        let stock_id = f.text(o, path, "stock_id");
        let count = f.int_or(o, path, "count", 1, MAX_PIECES, 1);
        let parts = f.list(o, path, "parts").map(|l| {
            l.iter()
                .enumerate()
                .filter_map(|(i, v)| {
                    let id = v.as_str();
                    if id.is_none() {
                        f.add(
                            &format!("{}/{i}", join(path, "parts")),
                            "expected a part's id",
                            "write it in quotes",
                        );
                    }
                    id.map(String::from)
                })
                .collect()
        });
        Some(Bar { stock_id: stock_id?, count: count?, parts: parts? })
    });
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
            let bars = f.int(o, "/claims", "bars", 0, i64::MAX);
            let cost = f.int(o, "/claims", "cost", 0, i64::MAX);
            Some(LengthClaims { bars: bars?, cost: cost? })
        }),
    };
    Some(LengthLayout { job: job?, bars: bars?, unplaced: unplaced?, claims })
}
