//! The template, and setting a packet's data with it.

use std::fmt;

use dryfit_typeset::{Fault, File, covers, typeset};

use crate::data::PacketData;

/// The template's files; the first is the one that reads the data and calls the others.
const FILES: [File<'_>; 22] = [
    File { name: "packet.typ", text: include_str!("../template/packet.typ") },
    File { name: "type.typ", text: include_str!("../template/type.typ") },
    File { name: "frame.typ", text: include_str!("../template/frame.typ") },
    File { name: "drawing.typ", text: include_str!("../template/drawing.typ") },
    File { name: "cover.typ", text: include_str!("../template/cover.typ") },
    File { name: "room.typ", text: include_str!("../template/room.typ") },
    File { name: "rough-in.typ", text: include_str!("../template/rough-in.typ") },
    File { name: "wall.typ", text: include_str!("../template/wall.typ") },
    File { name: "field.typ", text: include_str!("../template/field.typ") },
    File { name: "unit.typ", text: include_str!("../template/unit.typ") },
    File { name: "part.typ", text: include_str!("../template/part.typ") },
    File { name: "sheet.typ", text: include_str!("../template/sheet.typ") },
    File { name: "board.typ", text: include_str!("../template/board.typ") },
    File { name: "door.typ", text: include_str!("../template/door.typ") },
    File { name: "cut-list.typ", text: include_str!("../template/cut-list.typ") },
    File { name: "buy.typ", text: include_str!("../template/buy.typ") },
    File { name: "worktop.typ", text: include_str!("../template/worktop.typ") },
    File { name: "lists.typ", text: include_str!("../template/lists.typ") },
    File { name: "bars.typ", text: include_str!("../template/bars.typ") },
    File { name: "costs.typ", text: include_str!("../template/costs.typ") },
    File { name: "order.typ", text: include_str!("../template/order.typ") },
    File { name: "findings.typ", text: include_str!("../template/findings.typ") },
];

/// A packet, ready for the printer.
#[derive(Clone, Debug)]
pub struct Printed {
    /// A tagged PDF that follows PDF/UA-1.
    pub pdf: Vec<u8>,
    /// How many pages it has: one for each of the data, more where a long table runs on.
    pub pages: usize,
}

/// Why a packet could not be set in type. The data come from our own stages, so this is a mistake in the
/// template or in the pages, never in a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PacketFault {
    /// What the typesetter said, one complaint a line, each with its place in the template.
    pub message: String,
}

impl fmt::Display for PacketFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the packet could not be set in type: {}", self.message)
    }
}

impl std::error::Error for PacketFault {}

impl From<Fault> for PacketFault {
    fn from(fault: Fault) -> Self {
        PacketFault { message: fault.to_string() }
    }
}

/// Sets the pages in type.
///
/// # Errors
/// Any complaint of the typesetter, warnings included: a packet that is not as it should be is not printed.
pub fn print(data: &PacketData) -> Result<Printed, PacketFault> {
    let json = serde_json::to_string(data).map_err(|e| PacketFault { message: e.to_string() })?;
    // a name may hold what the typeface does not
    let json: String = json.chars().map(|c| if c.is_ascii() || covers(c) { c } else { '?' }).collect();
    let mut files = FILES.to_vec();
    files.push(File { name: "packet.json", text: &json });
    let set = typeset(&files)?;
    if set.warnings.is_empty() {
        Ok(Printed { pdf: set.pdf, pages: set.pages })
    } else {
        let warnings: Vec<String> = set.warnings.iter().map(ToString::to_string).collect();
        Err(PacketFault { message: warnings.join("\n") })
    }
}
