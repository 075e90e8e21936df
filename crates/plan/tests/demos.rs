//! The demo's plan reads, from TOML and from JSON.

use dryfit_measure::{Key, Length};
use dryfit_plan::{Plan, Width};

const POTTING_ROOM: &str = include_str!("../../../demos/potting-room.toml");

#[test]
fn the_potting_room_reads_as_it_is_written() {
    let read = Plan::from_toml(POTTING_ROOM).expect("the demo reads");
    let plan = read.plan;
    assert_eq!(plan.room.walk, ["A", "B", "C", "D"]);
    let b1 = &plan.units[&Key::literal("b1")];
    let Width::Given(width) = b1.width else { panic!("{:?}", b1.width) };
    assert_eq!(width.length, Length::inches(24, 0, 1));
    assert_eq!(plan.readings[&Key::literal("r18")].length.length, -Length::inches(0, 5, 16));
    assert_eq!(Plan::from_json(&plan.to_json()), Ok(plan));
}
