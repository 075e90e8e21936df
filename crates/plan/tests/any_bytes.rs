//! No bytes make the reader panic, and every fault has a place that can be shown.

use dryfit_plan::{Fault, Plan};
use proptest::prelude::*;

const POTTING_ROOM: &str = include_str!("../../../demos/potting-room.toml");

fn check(faults: &[Fault], text: &str) {
    assert!(!faults.is_empty(), "refused without a fault");
    for fault in faults {
        let shown = fault.shown("plan.toml", text);
        assert!(shown.starts_with("fault: "), "{shown}");
        assert!(!fault.what.is_empty() && !fault.what.contains('\n'), "{:?}", fault.what);
        if let Some(spot) = &fault.spot {
            assert!(text.get(spot.span.clone()).is_some(), "{spot:?}");
            assert!(spot.line >= 1 && spot.column >= 1);
        }
    }
}

fn read(text: &str) {
    if let Err(faults) = Plan::from_toml(text) {
        check(&faults, text);
    }
}

/// What is put into a sound text to break it.
fn splinter() -> impl Strategy<Value = String> {
    let marks =
        ["\"", "'", "[", "]", "{", "}", "=", ",", "#", "\n", ".", "\\", "\"\"\"", "\u{bd}", "\0", "\r"];
    prop_oneof![prop::sample::select(marks.to_vec()).prop_map(str::to_owned), Just(String::new()), ".{0,8}"]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        if let Err(faults) = Plan::from_toml_bytes(&bytes) {
            check(&faults, &String::from_utf8_lossy(&bytes));
        }
    }

    #[test]
    fn any_toml_like_text(text in "([a-z]{1,3}|[=\\[\\]{}\"'#,.\n 0-9-]){0,60}") {
        read(&text);
    }

    #[test]
    fn a_plan_with_splinters_in_it(
        cuts in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..6, splinter()), 1..5)
    ) {
        let mut text = POTTING_ROOM.to_owned();
        for (place, length, splinter) in cuts {
            let start = text.floor_char_boundary(place.index(text.len()));
            let end = text.ceil_char_boundary((start + length).min(text.len()));
            text.replace_range(start..end, &splinter);
        }
        read(&text);
    }

    #[test]
    fn any_json(text in "([a-z]{1,3}|[\\[\\]{}\":,0-9 -]){0,40}") {
        if let Err(faults) = Plan::from_json_text(&text) {
            check(&faults, &text);
        }
    }
}

#[test]
fn what_once_looked_dangerous() {
    let deep =
        |open: &str, close: &str, times: usize| format!("a = {}{}", open.repeat(times), close.repeat(times));
    for text in [
        String::new(),
        "\u{feff}".to_owned(),
        "\u{feff}format = 1".to_owned(),
        "\0".to_owned(),
        "\r".to_owned(),
        "a = \"\\".to_owned(),
        "# \u{7}\n# \u{7f}".to_owned(),
        "'".to_owned(),
        "\"\"\"\\".to_owned(),
        "= ".repeat(500),
        "[".repeat(100_000),
        "[[units]]\n".repeat(1_000),
        "a.".repeat(100_000) + "b = 1",
        format!("[{}b]", "a.".repeat(50_000)),
        "a = \"x\n".repeat(2_000),
        "é = 1\n".repeat(300),
        deep("[", "]", 50_000),
        deep("{ a = ", "}", 50_000),
    ] {
        read(&text);
    }
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    check(&Plan::from_json_text(&deep).expect_err("too deep"), &deep);
    let long = "#".repeat(dryfit_plan::LONGEST_TEXT + 1);
    let faults = Plan::from_toml(&long).expect_err("too long");
    assert_eq!(
        faults[0].to_string(),
        "expected a plan of at most 4 MB, found 5 MB; check that this is the file of a plan"
    );
}
