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
