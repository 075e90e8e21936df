//! The survey of whole plans: the demo room, rooms of known shape, and plans that make no sense.

use dryfit_measure::{Key, Length};
use dryfit_plan::{Hand, Plan};

use super::*;

pub(super) fn demo() -> Plan {
    toml::from_str(include_str!("../../../../demos/potting-room.toml")).expect("the demo is a plan")
}

fn key(text: &str) -> Key {
    Key::new(text).expect("a key")
}

/// The demo's readings were made from a known room with noise: its clear widths, worked by hand from that room,
/// come out within three standard deviations.
#[test]
fn demo_is_determined_and_passes() {
    let (survey, _) = survey(&demo());
    assert!(survey.passes && survey.redundancy == 11);
    let keys: Vec<&str> = survey.corners.iter().map(|corner| corner.key.as_str()).collect();
    assert_eq!(keys, ["A", "D", "C", "B"]);
    // lane wall leans out 3/16 in over 80, door wall in 5/16
    let lean = |wall: &str| survey.walls[survey.wall(&key(wall)).expect("a wall")].lean * 80.0;
    assert!((lean("AB") - 3.0 / 16.0).abs() < 0.02 && (lean("DA") + 5.0 / 16.0).abs() < 0.02);
    // the reading that was set aside is two inches off
    let aside = &survey.fits[&key("r7")];
    assert!(!aside.used && (aside.residual - Length::inches(-2, 0, 1)).abs() < Length::MM);
}

#[test]
fn clear_width_is_less_than_each_width() {
    let (survey, _) = survey(&demo());
    let up = [Length::ZERO, Length::inches(35, 0, 1)];
    let clear = survey.clear(&key("AB"), None, up, Length::inches(25, 0, 1)).expect("a wall");
    assert!(clear.width.length() < survey.wall_length(&key("AB")).expect("a wall").length());
    let depth = dryfit_measure::Dim::rule(Length::inches(24, 0, 1), "base-depth");
    let reach =
        survey.reach(&key("AB"), Hand::Right, &depth, up, Length::inches(25, 0, 1)).expect("a corner");
    let spare = clear.right.length() - reach.length();
    assert!((spare - Length::inches(24, 0, 1)).abs() < Length::mm(5), "{spare:?}");
}

/// Heights hang from the high point under the units, on the finished floor: `v6` of the demo. The ceiling loses
/// the half inch of tile.
#[test]
fn demo_levels() {
    let (survey, findings) = survey(&demo());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(survey.levels.datum, Some(key("v6")));
    let floor: Vec<i64> = survey
        .levels
        .floor
        .iter()
        .map(|point| point.height.length().nm() / Length::inches(0, 1, 16).nm())
        .collect();
    assert_eq!(floor, [-4, -3, -2, -1, -1, 0, -6]);
    // 88 1/4 in taped from the floor by v6, less the tile
    let low = &survey.levels.ceiling[1];
    assert_eq!(low.height.length(), Length::inches(87, 3, 4));
    for point in &survey.levels.ceiling {
        let over = survey.levels.ceiling_over(point.at).expect("a ceiling");
        assert!(over.length() <= point.height.length(), "{}", point.reading);
        assert!(over.length() > point.height.length() - Length::inches(1, 0, 1), "{}", point.reading);
    }
}

#[test]
fn what_was_set_aside_is_explained() {
    let (survey, _) = survey(&demo());
    let slip = survey.fits[&key("r7")].likely.clone().expect("a slip");
    assert_eq!(slip, LikelySlip { length: Length::inches(96, 5, 8), how: "6 read as 8".to_owned() });
}

/// A room that was another is no slip: the same number, taken when the walls were open, is told nothing of.
#[test]
fn what_another_state_of_the_room_gave_is_no_slip() {
    let mut plan = demo();
    let opened = dryfit_plan::Epoch { state: dryfit_plan::RoomState::OpenedUp, date: None };
    plan.epochs.insert(key("opened"), opened);
    let reading = plan.readings.get_mut(&key("r7")).expect("the demo has it");
    (reading.epoch, reading.set_aside) = (key("opened"), None);
    let (survey, _) = survey(&plan);
    let fit = &survey.fits[&key("r7")];
    assert!(!fit.used && fit.likely.is_none(), "{:?}", fit.likely);
}

/// A floor that was raised later does not move the datum of the room as it was measured.
#[test]
fn levels_are_those_of_the_room_that_is_adjusted() {
    let mut plan = demo();
    let before = survey(&plan).0.levels;
    let closed = dryfit_plan::Epoch { state: dryfit_plan::RoomState::Closed, date: None };
    plan.epochs.insert(key("closed"), closed);
    let mut raised = plan.readings[&key("v6")].clone();
    raised.epoch = key("closed");
    raised.length.length -= Length::inches(2, 0, 1);
    plan.readings.insert(key("v99"), raised);
    let after = survey(&plan).0.levels;
    assert_eq!(after.datum, before.datum);
    assert_eq!(after.floor.len(), before.floor.len());
    // where it is all there is, it is taken
    plan.readings.retain(|at, reading| {
        !matches!(reading.of, dryfit_plan::Subject::Floor { .. }) || at.as_str() == "v99"
    });
    assert_eq!(survey(&plan).0.levels.datum, Some(key("v99")));
}
