//! A job for lengths: bars of several stock lengths and the pieces wanted from them.

use crate::read::{Faults, MAX_LENGTH, MAX_PIECES, MAX_PRICE, ReadFault, parse};
use serde::Serialize;
use serde_json::Value;

/// What to crosscut from bars. A bar of length L yields pieces a1..ak if their sum and `k - 1` kerfs fit in
/// `L - 2 * end_trim`: the last offcut needs no cut when the pieces end flush.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LengthJob {
    /// Name, carried into the layout; may be empty.
    pub name: String,
    /// What one unit of length is, for people; not interpreted.
    pub unit: String,
    /// Length that each cut turns to dust.
    pub kerf: i64,
    /// Cut off both ends of every bar first, the width of that cut included.
    pub end_trim: i64,
    /// Kinds of bar in stock.
    pub stocks: Vec<BarKind>,
    /// Pieces wanted.
    pub parts: Vec<LengthPart>,
}

/// One kind of bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BarKind {
    /// Id, unique among the kinds.
    pub id: String,
    /// Length of one bar.
    pub length: i64,
    /// How many there are; `None` is as many as it takes.
    pub qty: Option<i64>,
    /// Price of one bar, in whole price units.
    pub price: i64,
}

/// One length, wanted `qty` times.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LengthPart {
    /// Id, unique among the parts.
    pub id: String,
    /// Length of one.
    pub length: i64,
    /// How many are wanted.
    pub qty: i64,
}

impl LengthJob {
    /// Read a job. Fields that are not known are ignored.
    ///
    /// # Errors
    /// Every fault of the text, each with its place and remedy.
    pub fn read(text: &str) -> Result<LengthJob, Vec<ReadFault>> {
        LengthJob::from_value(&parse(text)?)
    }

    pub(crate) fn from_value(v: &Value) -> Result<LengthJob, Vec<ReadFault>> {
        let mut f = Faults::default();
        let job = read_job(v, &mut f);
        f.done(job)
    }

    /// The job as JSON, in the form that [`LengthJob::read`] takes.
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// How many pieces are wanted in all.
    pub fn pieces(&self) -> i64 {
        self.parts.iter().map(|p| p.qty).sum()
    }
}

fn read_job(v: &Value, f: &mut Faults) -> Option<LengthJob> {
    let o = f.object(v, "")?;
    let name = f.text_or(o, "", "name", "");
    let unit = f.text_or(o, "", "unit", "1");
    let kerf = f.int(o, "", "kerf", 0, MAX_LENGTH);
    let end_trim = f.int_or(o, "", "end_trim", 0, MAX_LENGTH, 0);
    let stocks: Option<Vec<BarKind>> = f.list(o, "", "stocks").and_then(|l| {
        let all: Vec<_> =
            l.iter().enumerate().map(|(i, v)| read_kind(v, &format!("/stocks/{i}"), f)).collect();
        all.into_iter().collect()
    });
    let parts: Option<Vec<LengthPart>> = f.list(o, "", "parts").and_then(|l| {
        let all: Vec<_> =
            l.iter().enumerate().map(|(i, v)| read_part(v, &format!("/parts/{i}"), f)).collect();
        all.into_iter().collect()
    });
    if let Some(l) = &stocks {
        if l.is_empty() {
            f.add("/stocks", "no stock is listed", "list at least one kind of bar");
        }
        if l.len() > 1000 {
            f.add("/stocks", format!("{} kinds, at most 1000 are read", l.len()), "list fewer kinds");
        }
        f.unique(l.iter().enumerate().map(|(i, s)| (format!("/stocks/{i}/id"), s.id.as_str())));
        if let Some(t) = end_trim {
            for (i, s) in l.iter().enumerate() {
                if s.length <= 2 * t {
                    let what =
                        format!("`{}` is {}, nothing is left after an end trim of {t}", s.id, s.length);
                    f.add(&format!("/stocks/{i}"), what, "make end_trim smaller, or leave this stock out");
                }
            }
        }
    }
    if let Some(l) = &parts {
        f.unique(l.iter().enumerate().map(|(i, p)| (format!("/parts/{i}/id"), p.id.as_str())));
        f.total_pieces("/parts", l.iter().map(|p| p.qty));
    }
    Some(LengthJob {
        name: name?,
        unit: unit?,
        kerf: kerf?,
        end_trim: end_trim?,
        stocks: stocks?,
        parts: parts?,
    })
}

fn read_kind(v: &Value, path: &str, f: &mut Faults) -> Option<BarKind> {
    let o = f.object(v, path)?;
    let id = f.text(o, path, "id");
    let length = f.int(o, path, "length", 1, MAX_LENGTH);
    let qty = f.int_opt(o, path, "qty", 0, i64::MAX);
    let price = f.int(o, path, "price", 0, MAX_PRICE);
    Some(BarKind { id: id?, length: length?, qty: qty?, price: price? })
}

fn read_part(v: &Value, path: &str, f: &mut Faults) -> Option<LengthPart> {
    let o = f.object(v, path)?;
    let id = f.text(o, path, "id");
    let length = f.int(o, path, "length", 1, MAX_LENGTH);
    let qty = f.int(o, path, "qty", 0, MAX_PIECES);
    Some(LengthPart { id: id?, length: length?, qty: qty? })
}
