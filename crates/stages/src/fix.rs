//! How the edits of remedies are written: JSON Patches (RFC 6902) that test what they change.

use dryfit_measure::Pointer;
use dryfit_plan::Edit;
use serde::Serialize;
use serde_json::{Value, json};

use crate::finding::Fix;

impl Fix {
    /// An edit as a remedy, under its own name.
    pub fn of(edit: Edit) -> Fix {
        Fix { label: edit.label.clone(), edit }
    }

    /// Puts `new` in the place of `old`.
    pub fn replace(
        label: impl Into<String>,
        at: &Pointer,
        old: &impl Serialize,
        new: &impl Serialize,
    ) -> Fix {
        let patch = json!([
            { "op": "test", "path": at.as_str(), "value": value(old) },
            { "op": "replace", "path": at.as_str(), "value": value(new) },
        ]);
        fix(label, patch)
    }

    /// Puts `new` where nothing stands yet.
    pub fn add(label: impl Into<String>, at: &Pointer, new: &impl Serialize) -> Fix {
        fix(label, json!([{ "op": "add", "path": at.as_str(), "value": value(new) }]))
    }

    /// Takes `old` away.
    pub fn remove(label: impl Into<String>, at: &Pointer, old: &impl Serialize) -> Fix {
        let patch = json!([
            { "op": "test", "path": at.as_str(), "value": value(old) },
            { "op": "remove", "path": at.as_str() },
        ]);
        fix(label, patch)
    }

    /// Gives what stands at `at` the key `name`, which is free.
    pub fn rename(label: impl Into<String>, at: &Pointer, name: &str, old: &impl Serialize) -> Fix {
        let to = at.parent().unwrap_or_else(Pointer::root).child(name);
        let patch = json!([
            { "op": "test", "path": at.as_str(), "value": value(old) },
            { "op": "remove", "path": at.as_str() },
            { "op": "add", "path": to.as_str(), "value": value(old) },
        ]);
        fix(label, patch)
    }

    /// Does this too, in the same edit.
    #[must_use]
    pub fn and(mut self, then: Fix) -> Fix {
        self.edit.patch.0.extend(then.edit.patch.0);
        self
    }
}

fn value(of: &impl Serialize) -> Value {
    serde_json::to_value(of).expect("the plan's own types are written as JSON")
}

fn fix(label: impl Into<String>, patch: Value) -> Fix {
    let label = label.into();
    let patch = serde_json::from_value(patch).expect("our pointers and operations make a patch");
    Fix::of(Edit { label, patch })
}
