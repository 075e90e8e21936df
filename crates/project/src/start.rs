//! A new room: nothing measured yet, with goods, recipe and tools to start from.

use dryfit_measure::{Pointer, Unit};
use dryfit_plan::{Edit, Plan};

use crate::file::forward;

const INCHES: &str = include_str!("starts/inches.toml");
const MILLIMETRES: &str = include_str!("starts/millimetres.toml");

/// The plan of a new room of this name, read in this unit, as the text of a file.
pub fn new_room(name: &str, unit: Unit) -> String {
    let text = match unit {
        Unit::Inch => INCHES,
        Unit::Millimetre => MILLIMETRES,
    };
    let named = |text: &str| {
        let plan = Plan::from_toml(text).ok()?.plan;
        let at = Pointer::root().child("name");
        forward(text, &Edit::set(&plan, &at, name, "name the room")).ok()
    };
    named(text).unwrap_or_else(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_room_asks_for_its_corners_and_nothing_breaks() {
        for unit in [Unit::Inch, Unit::Millimetre] {
            let project = crate::Project::from_text("new", new_room("Back \"porch\"", unit)).expect("a plan");
            assert_eq!(project.plan.name, "Back \"porch\"");
            assert_eq!(project.plan.entry_unit, unit);
            assert!(project.derived.survey.corners.is_empty());
            project.packet(None).expect("even an empty packet is set");
        }
    }
}
