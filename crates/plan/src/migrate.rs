//! Older file forms, brought up to the current one before they are read.
//!
//! Each version of the file form has a frozen sample in `tests/samples`, which is read by a test for ever. When
//! the form changes, [`FORMAT`](crate::FORMAT) goes up by one and the step from the version before it is added
//! at the end of [`STEPS`].

use dryfit_measure::Pointer;

use crate::FORMAT;
use crate::dom::{Node, Value};
use crate::typed::Found;

/// Turns the values of one version into those of the next. Places in the text stay with the values they are of.
type Step = fn(Node) -> Node;

/// The steps, the one from version 1 first.
const STEPS: [Step; NEWEST - 1] = [];

const NEWEST: usize = FORMAT as usize;

/// The values in the current form, or why their version cannot be read. A version that is missing or is not a
/// number is left for the types to report.
pub(crate) fn to_current(root: Node) -> Result<Node, Found> {
    let Some(entry) = root.get("format") else { return Ok(root) };
    let Value::Integer(version) = entry.node.value else { return Ok(root) };
    let (what, remedy) = match usize::try_from(version) {
        Ok(version @ 1..=NEWEST) => {
            return Ok(STEPS[version - 1..].iter().fold(root, |node, step| step(node)));
        }
        Ok(1..) => (
            format!("written by a newer Dryfit: format {version}, this one reads up to {FORMAT}"),
            "read it with a Dryfit as new as the one that wrote it".to_owned(),
        ),
        _ => (format!("no such format: `{version}`"), format!("write `format = {FORMAT}`")),
    };
    let span = entry.node.span.clone();
    Err(Found {
        at: Pointer::root().child("format"),
        span,
        what,
        remedy: Some(remedy),
        is_missing: false,
        order: 0,
    })
}
