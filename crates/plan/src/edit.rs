//! Edits: JSON Patches (RFC 6902) with a name, tests of what they change, and their inverse.

use std::fmt;

use dryfit_measure::Pointer;
use json_patch::jsonptr::PointerBuf;
use json_patch::{AddOperation, Patch, PatchOperation, RemoveOperation, ReplaceOperation, TestOperation};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::{Fault, Plan};

/// One named change of a plan.
///
/// Its operations are `test`, `add`, `replace` and `remove`. What replaces or removes something is preceded by a
/// test of what was there, so an edit never undoes a change that was made meanwhile. Keys do not move and lists
/// are replaced whole, so no edit holds `move`, `copy` or the index of a list.
///
/// ```
/// use dryfit_measure::Pointer;
/// use dryfit_plan::{Edit, Plan};
/// let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).unwrap().plan;
/// let width = Pointer::parse("/units/b1/width/given").unwrap();
/// let edit = Edit::set(&plan, &width, "23 1/2 in", "make b1 23 1/2 in wide");
/// assert_eq!(
///     serde_json::to_string(&edit.patch).unwrap(),
///     r#"[{"op":"test","path":"/units/b1/width/given","value":"24 in"},{"op":"replace","path":"/units/b1/width/given","value":"23 1/2 in"}]"#
/// );
///
/// let (changed, inverse) = plan.apply(&edit).unwrap();
/// assert_eq!(changed.to_json().pointer("/units/b1/width/given").unwrap(), "23 1/2 in");
/// assert_eq!(changed.apply(&inverse).unwrap().0, plan);
///
/// assert_eq!(
///     changed.apply(&edit).unwrap_err().to_string(),
///     "`/units/b1/width/given` has changed meanwhile: the edit was made for \"24 in\", now it is \"23 1/2 in\""
/// );
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edit {
    /// What it is called in the history: "make b4 23 1/2 in wide".
    pub label: String,
    /// The operations, each change of what was there preceded by a `test` of it.
    pub patch: Patch,
}

/// Why an edit was not applied. The plan is as it was.
#[derive(Clone, Debug, PartialEq)]
pub enum EditRefused {
    /// What stands at a place is not what the edit was made for.
    Changed {
        /// The place.
        at: Pointer,
        /// What the edit was made for.
        was: Box<Value>,
        /// What stands there, if anything does.
        is: Option<Box<Value>>,
    },
    /// There is nothing to change at this place.
    Absent {
        /// The place.
        at: Pointer,
    },
    /// Something stands where a thing was to be added.
    Taken {
        /// The place.
        at: Pointer,
    },
    /// It holds an operation that edits do not have.
    Foreign {
        /// The place.
        at: Pointer,
        /// What is not done.
        why: &'static str,
    },
    /// What it would leave is not a plan.
    Faults(Vec<Fault>),
    /// The file's text is laid out in a way in which it cannot be edited in place.
    Layout,
}

impl fmt::Display for EditRefused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let named = |at: &Pointer| match at.as_str() {
            "" => "the plan".to_owned(),
            place => format!("`{place}`"),
        };
        match self {
            EditRefused::Changed { at, was, is: Some(is) } => write!(
                f,
                "{} has changed meanwhile: the edit was made for {}, now it is {}",
                named(at),
                shown(was),
                shown(is)
            ),
            EditRefused::Changed { at, was, is: None } => {
                write!(f, "{} is gone: the edit was made for {}", named(at), shown(was))
            }
            EditRefused::Absent { at } => write!(f, "nothing stands at {}", named(at)),
            EditRefused::Taken { at } => write!(f, "{} is taken: a key is never used again", named(at)),
            EditRefused::Foreign { at, why } => write!(f, "{} is left as it is: {why}", named(at)),
            EditRefused::Faults(faults) => {
                f.write_str("the edit leaves no plan")?;
                faults.iter().try_for_each(|fault| write!(f, "\n{fault}"))
            }
            EditRefused::Layout => {
                f.write_str("the file cannot be edited in place as it is laid out; write it anew")
            }
        }
    }
}

impl std::error::Error for EditRefused {}

/// A value on one line, cut after eighty characters.
fn shown(value: &Value) -> String {
    const MOST: usize = 80;
    let text = value.to_string();
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}..", &text[..end]),
        None => text,
    }
}

impl Edit {
    /// The edit that states `value` at a place of `plan`, whatever stood there.
    ///
    /// # Panics
    /// If `value` cannot be written as JSON (a map with keys that are no text).
    pub fn set(plan: &Plan, at: &Pointer, value: impl Serialize, label: impl Into<String>) -> Edit {
        Draft::of(plan).set(at, value).edit(label)
    }

    /// The edit that takes out what stands at a place of `plan`.
    pub fn remove(plan: &Plan, at: &Pointer, label: impl Into<String>) -> Edit {
        Draft::of(plan).remove(at).edit(label)
    }

    /// The edit that turns one plan into another. Tables are changed member by member, lists are replaced whole.
    ///
    /// ```
    /// use dryfit_measure::Key;
    /// # use dryfit_plan::{Edit, Plan, Width};
    /// # let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).unwrap().plan;
    /// let mut wished = plan.clone();
    /// wished.units.get_mut(&Key::literal("b1")).unwrap().width = Width::LeftOver;
    /// let edit = Edit::between(&plan, &wished, "let b1 take what is left");
    /// assert_eq!(plan.apply(&edit).unwrap().0, wished);
    /// ```
    pub fn between(before: &Plan, after: &Plan, label: impl Into<String>) -> Edit {
        edit_between(&before.to_json(), &after.to_json(), label.into())
    }

    /// Whether it changes anything.
    pub fn is_empty(&self) -> bool {
        self.patch.0.is_empty()
    }

    /// The places that it changes, in the order of its operations.
    pub fn places(&self) -> Vec<Pointer> {
        let changes = self.patch.0.iter().filter(|op| !matches!(op, PatchOperation::Test(_)));
        changes.map(place).collect()
    }
}

/// Several changes of one plan on the way to one edit.
///
/// ```
/// use dryfit_measure::Pointer;
/// use dryfit_plan::{Draft, Plan};
/// let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).unwrap().plan;
/// let at = |text: &str| Pointer::parse(text).unwrap();
/// let edit = Draft::of(&plan)
///     .set(&at("/units/b1/shelves"), 2)
///     .set(&at("/decisions/w1/rule"), "fit/tip-up")
///     .set(&at("/decisions/w1/subjects"), ["t1"])
///     .set(&at("/decisions/w1/reason"), "goes in before the ceiling")
///     .edit("two shelves in b1, and t1 as it is");
/// let (changed, _) = plan.apply(&edit).unwrap();
/// assert_eq!(changed.decisions.len(), 1);
/// ```
#[derive(Clone, Debug)]
pub struct Draft {
    before: Value,
    after: Value,
}

impl Draft {
    /// No change of `plan` yet.
    pub fn of(plan: &Plan) -> Draft {
        let before = plan.to_json();
        Draft { after: before.clone(), before }
    }

    /// States `value` at a place, whatever stood there. Tables on the way are made; what else stands on the way
    /// gives way to one.
    ///
    /// # Panics
    /// If `value` cannot be written as JSON (a map with keys that are no text).
    #[must_use]
    pub fn set(mut self, at: &Pointer, value: impl Serialize) -> Draft {
        let value = serde_json::to_value(value).expect("a value that JSON can hold");
        let mut here = &mut self.after;
        for segment in at.segments() {
            let length = here.as_array().map_or(0, Vec::len);
            let index = segment.parse::<usize>().ok().filter(|index| *index < length);
            here = if let Some(index) = index {
                &mut here[index]
            } else {
                if !here.is_object() {
                    *here = Value::Object(Map::new());
                }
                &mut here[&*segment]
            };
        }
        *here = value;
        self
    }

    /// Takes out what stands at a place, if anything does.
    #[must_use]
    pub fn remove(mut self, at: &Pointer) -> Draft {
        if let (Some(parent), Some(last)) = (at.parent(), at.last()) {
            match self.after.pointer_mut(parent.as_str()) {
                Some(Value::Object(members)) => {
                    members.shift_remove(&*last);
                }
                Some(Value::Array(items)) => {
                    if let Some(index) = last.parse().ok().filter(|&index: &usize| index < items.len()) {
                        items.remove(index);
                    }
                }
                _ => {}
            }
        }
        self
    }

    /// The edit that makes these changes.
    pub fn edit(&self, label: impl Into<String>) -> Edit {
        edit_between(&self.before, &self.after, label.into())
    }
}

fn edit_between(before: &Value, after: &Value, label: String) -> Edit {
    let mut operations = Vec::new();
    difference(&Pointer::root(), before, after, &mut operations);
    Edit { label, patch: Patch(operations) }
}

/// The operations that turn one value into another.
fn difference(at: &Pointer, before: &Value, after: &Value, out: &mut Vec<PatchOperation>) {
    if before == after {
        return;
    }
    match (before, after) {
        (Value::Object(old), Value::Object(new)) if at.as_str().is_empty() || share_a_key(old, new) => {
            for (key, value) in old {
                if let Some(wanted) = new.get(key) {
                    difference(&at.child(key), value, wanted, out);
                } else {
                    let path = path(&at.child(key));
                    out.push(test(&path, value));
                    out.push(PatchOperation::Remove(RemoveOperation { path }));
                }
            }
            for (key, value) in new.iter().filter(|(key, _)| !old.contains_key(*key)) {
                let (path, value) = (path(&at.child(key)), value.clone());
                out.push(PatchOperation::Add(AddOperation { path, value }));
            }
        }
        _ => {
            let path = path(at);
            out.push(test(&path, before));
            out.push(PatchOperation::Replace(ReplaceOperation { path, value: after.clone() }));
        }
    }
}

/// Tables without a key in common are two choices of one kind, `given` and `within`, say.
fn share_a_key(old: &Map<String, Value>, new: &Map<String, Value>) -> bool {
    old.keys().any(|key| new.contains_key(key))
}

fn test(path: &PointerBuf, value: &Value) -> PatchOperation {
    PatchOperation::Test(TestOperation { path: path.clone(), value: value.clone() })
}

fn path(at: &Pointer) -> PointerBuf {
    PointerBuf::parse(at.as_str()).expect("both follow RFC 6901")
}

fn place(operation: &PatchOperation) -> Pointer {
    Pointer::parse(operation.path().as_str()).expect("both follow RFC 6901")
}

impl Plan {
    /// The plan with an edit applied, and the edit that takes it back.
    pub fn apply(&self, edit: &Edit) -> Result<(Plan, Edit), EditRefused> {
        let mut json = self.to_json();
        edit.patch.0.iter().try_for_each(|operation| step(&mut json, operation))?;
        let changed = Plan::from_json(&json).map_err(EditRefused::Faults)?;
        let inverse = Edit::between(&changed, self, edit.label.clone());
        Ok((changed, inverse))
    }
}

/// One operation, or why it is not done.
fn step(json: &mut Value, operation: &PatchOperation) -> Result<(), EditRefused> {
    let at = place(operation);
    let stands = json.pointer(at.as_str());
    match operation {
        PatchOperation::Move(_) | PatchOperation::Copy(_) => {
            return Err(EditRefused::Foreign { at, why: "keys do not move; add and remove instead" });
        }
        PatchOperation::Remove(_) if at.as_str().is_empty() => {
            return Err(EditRefused::Foreign { at, why: "a plan can be replaced, not taken out" });
        }
        PatchOperation::Test(test) if stands == Some(&test.value) => return Ok(()),
        PatchOperation::Test(test) => {
            return Err(EditRefused::Changed {
                at,
                was: Box::new(test.value.clone()),
                is: stands.cloned().map(Box::new),
            });
        }
        PatchOperation::Add(_) | PatchOperation::Replace(_) | PatchOperation::Remove(_) => {}
    }
    let parent = at.parent();
    let holder = parent.as_ref().and_then(|parent| json.pointer(parent.as_str()));
    if let Some(Value::Array(_)) = holder {
        return Err(EditRefused::Foreign { at, why: "a list is replaced whole" });
    }
    match operation {
        PatchOperation::Add(_) if stands.is_some() => return Err(EditRefused::Taken { at }),
        PatchOperation::Add(_) if !matches!(holder, Some(Value::Object(_))) => {
            return Err(EditRefused::Absent { at: parent.unwrap_or(at) });
        }
        PatchOperation::Replace(_) | PatchOperation::Remove(_) if stands.is_none() => {
            return Err(EditRefused::Absent { at });
        }
        _ => {}
    }
    json_patch::patch(json, std::slice::from_ref(operation)).map_err(|_| EditRefused::Absent { at })
}
