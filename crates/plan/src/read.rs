//! From text to a plan, or to all of the text's faults.

use crate::dom::Node;
use crate::fault::{Fault, Spot};
use crate::typed::{Found, read};
use crate::{Plan, migrate, syntax};
use dryfit_measure::Pointer;

/// The longest text that is read as a plan: a room of a thousand units takes a fifth of it.
pub const LONGEST_TEXT: usize = 4 << 20;

/// A plan as it was read from a file, with the places in the file's text.
#[derive(Clone, Debug)]
pub struct ReadPlan {
    /// The plan.
    pub plan: Plan,
    root: Node,
}

impl ReadPlan {
    /// Where in `text`, from which the plan was read, the thing at `place` is named: its key, or itself in a
    /// list. `None` where the text does not state it.
    ///
    /// ```
    /// # use dryfit_measure::Pointer;
    /// # use dryfit_plan::Plan;
    /// # let text = include_str!("../../../demos/potting-room.toml");
    /// let read = Plan::from_toml(text).unwrap();
    /// let spot = read.spot(text, &Pointer::parse("/runs/left/order/1").unwrap()).unwrap();
    /// assert_eq!(&text[spot.span], "\"b1\"");
    /// assert!(read.spot(text, &Pointer::parse("/units/b99").unwrap()).is_none());
    /// ```
    pub fn spot(&self, text: &str, place: &Pointer) -> Option<Spot> {
        Some(Spot::new(text, self.root.span_at(place)?))
    }
}

impl Plan {
    /// Reads a plan from the text of its file, or finds every fault of it, in the order of the text.
    ///
    /// A name that refers to nothing (a wall, a good, a unit that is not there) is no fault: what is wrong with
    /// a plan that can be read is for the stages to find.
    ///
    /// ```
    /// use dryfit_plan::Plan;
    /// let text = include_str!("../../../demos/potting-room.toml");
    /// let plan = Plan::from_toml(text).unwrap().plan;
    /// assert_eq!(plan.name, "Potting room");
    ///
    /// let bad = text.replace("fineness = \"1/16 in\"", "fineness = \"1/10 in\"").replace("walk =", "wakl =");
    /// let faults = Plan::from_toml(&bad).unwrap_err();
    /// assert_eq!(
    ///     faults[0].to_string(),
    ///     "line 7, column 12: /fineness: expected 1/16, 1/32 or 1/64 in, 1 or 0.5 mm, found `1/10 in`; \
    ///      write \"1/16 in\""
    /// );
    /// assert_eq!(faults.last().unwrap().remedy.as_deref(), Some("did you mean `walk`?"));
    /// ```
    pub fn from_toml(text: &str) -> Result<ReadPlan, Vec<Fault>> {
        if text.len() > LONGEST_TEXT {
            return Err(vec![too_long(text.len())]);
        }
        let parsed = syntax::parse(text);
        let root = match migrate::to_current(parsed.root.clone()) {
            Ok(root) => root,
            Err(found) => return Err(in_order([parsed.faults, vec![placed(text, found)]].concat())),
        };
        let found = match read(&root) {
            Ok(plan) if parsed.faults.is_empty() => return Ok(ReadPlan { plan, root }),
            Ok(_) => Vec::new(),
            Err(found) => found,
        };
        let stands = found.into_iter().filter(|found| {
            let key = found.at.last().filter(|_| found.is_missing);
            !key.is_some_and(|key| parsed.may_have_lost(&key))
        });
        let stands: Vec<Fault> = stands.map(|found| placed(text, found)).collect();
        Err(in_order([parsed.faults, stands].concat()))
    }

    /// As [`Plan::from_toml`], from the bytes of a file.
    ///
    /// ```
    /// use dryfit_plan::Plan;
    /// let faults = Plan::from_toml_bytes(b"format = 1\nname = \"caf\xe9\"\n").unwrap_err();
    /// assert_eq!(faults[0].to_string(), "line 2, column 12: not text in UTF-8 from here; save the file as UTF-8");
    /// ```
    pub fn from_toml_bytes(bytes: &[u8]) -> Result<ReadPlan, Vec<Fault>> {
        let wrong = match std::str::from_utf8(bytes) {
            Ok(text) => return Plan::from_toml(text),
            Err(wrong) => wrong.valid_up_to(),
        };
        let before = String::from_utf8_lossy(&bytes[..wrong]);
        let spot = Spot::new(&before, wrong..wrong);
        let fault = Fault::whole("not text in UTF-8 from here", "save the file as UTF-8");
        Err(vec![Fault { spot: Some(spot), ..fault }])
    }

    /// The plan as JSON; every address of the plan is a JSON Pointer into it.
    ///
    /// ```
    /// # use dryfit_plan::Plan;
    /// # let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).unwrap().plan;
    /// let json = plan.to_json();
    /// assert_eq!(json.pointer("/units/b1/width/given").unwrap(), "24 in");
    /// assert_eq!(Plan::from_json(&json).unwrap(), plan);
    /// ```
    pub fn to_json(&self) -> serde_json::Value {
        serde_json::to_value(self).expect("a plan has nothing that JSON cannot hold")
    }

    /// Reads a plan from JSON, or finds every fault of it, in the order of their places.
    ///
    /// ```
    /// # use dryfit_plan::Plan;
    /// # let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).unwrap().plan;
    /// let mut json = plan.to_json();
    /// json["units"]["b1"]["width"]["given"] = "24".into();
    /// assert_eq!(
    ///     Plan::from_json(&json).unwrap_err()[0].to_string(),
    ///     "/units/b1/width/given: `24` has no unit; write \"24 in\" or \"24 mm\""
    /// );
    /// ```
    pub fn from_json(json: &serde_json::Value) -> Result<Plan, Vec<Fault>> {
        let unplaced =
            |found: Found| Fault { spot: None, at: Some(found.at), what: found.what, remedy: found.remedy };
        let root = migrate::to_current(Node::of_json(json)).map_err(|found| vec![unplaced(found)])?;
        read(&root).map_err(|mut found| {
            found.sort_by(|a, b| a.at.cmp(&b.at));
            found.into_iter().map(unplaced).collect()
        })
    }

    /// As [`Plan::from_json`], from the text of the JSON.
    pub fn from_json_text(text: &str) -> Result<Plan, Vec<Fault>> {
        if text.len() > LONGEST_TEXT {
            return Err(vec![too_long(text.len())]);
        }
        let json = serde_json::from_str(text).map_err(|e| vec![syntax::json_fault(text, &e)])?;
        Plan::from_json(&json)
    }
}

fn too_long(length: usize) -> Fault {
    Fault::whole(
        format!(
            "expected a plan of at most {} MB, found {} MB",
            LONGEST_TEXT >> 20,
            length.div_ceil(1 << 20)
        ),
        "check that this is the file of a plan",
    )
}

/// A fault with its place in the text it was found in.
pub(crate) fn placed(text: &str, found: Found) -> Fault {
    let spot = found.span.map(|span| Spot::new(text, span));
    Fault { spot, at: Some(found.at), what: found.what, remedy: found.remedy }
}

/// Faults in the order of the text; first those of the whole text.
pub(crate) fn in_order(mut faults: Vec<Fault>) -> Vec<Fault> {
    faults.sort_by_key(|fault| fault.spot.as_ref().map(|spot| spot.span.start));
    faults
}
