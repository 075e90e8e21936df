//! Statements that cannot be carried out, each found with what would help.

use crate::room::{INCH_ROOM, assert_every_fix_clears, job};

#[test]
fn keys_that_name_nothing() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", recipe = "kk", width = { given = "24 in" }, holds = "fridg" }
        b2 = { kind = "base", recipe = "k", width = { given = "24 in" }, fronts = { drawer = { slide = "slid" } } }
        [runs]
        back = { along = "CB", level = { above-top = "s" }, order = ["b1", "c7"], height = { clears = "b3" }, left = { corner = { with = "bakc", owner = "back" } }, right = { unit = "zzz" } }
        [tops]
        t = { over = ["bach"], substrate = "cor", layers = 2, facing = "laminat" }
        "#,
    );
    assert_eq!(
        job.whats(),
        [
            "`b1` names `kk`, and there is no recipe of that key; did you mean `k`?",
            "`b1` names `fridg`, and there is no good of that key; did you mean `fridge`?",
            "`b2` names `slid`, and there is no good of that key; did you mean `slide`?",
            "`back` names `CB`, and there is no wall of that key; did you mean `AB`?",
            "`back` names `c7`, and there is no unit of that key",
            "`back` names `b3`, and there is no unit of that key; did you mean `b1`?",
            "`back` names `s`, and there is no worktop of that key; did you mean `t`?",
            "`back` names `bakc`, and there is no run of that key; did you mean `back`?",
            "`back` names `zzz`, and there is no unit of that key",
            "`t` names `bach`, and there is no run of that key; did you mean `back`?",
            "`t` names `cor`, and there is no good of that key; did you mean `core`?",
            "`t` names `laminat`, and there is no good of that key; did you mean `laminate`?",
            "`b2` stands in no run, and is left out",
        ]
    );
    assert_every_fix_clears(&job);
}

#[test]
fn units_placed_twice() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = { given = "24 in" } }
        b2 = { kind = "base", width = { given = "24 in" } }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1", "b2", "b1"], left = "wall", right = "open" }
        left = { along = "AB", level = "floor", order = ["b2"], left = "wall", right = "open" }
        "#,
    );
    assert_eq!(
        job.whats(),
        ["`b1` stands twice in run `back`", "`b2` stands in run `back` already, and in `left` again"]
    );
    assert_every_fix_clears(&job);
}

#[test]
fn corners_that_are_not_agreed_on() {
    let two = |left: &str, right: &str| {
        format!(
            r#"
            [units]
            b1 = {{ kind = "base", recipe = "k", width = {{ given = "24 in" }} }}
            b2 = {{ kind = "base", recipe = "k", width = {{ given = "24 in" }} }}
            [runs]
            back = {{ along = "BC", level = "floor", order = ["b1"], left = "open", right = {left} }}
            right = {{ along = "CD", level = "floor", order = ["b2"], left = {right}, right = "open" }}
            "#
        )
    };
    let corner =
        |with: &str, owner: &str| format!(r#"{{ corner = {{ with = "{with}", owner = "{owner}" }} }}"#);
    for (left, right, said) in [
        (
            corner("right", "back"),
            corner("back", "right"),
            "run `back` says that `back` goes up to the wall in their corner, run `right` says `right`",
        ),
        (
            corner("right", "back"),
            "\"wall\"".to_owned(),
            "run `back` meets `right` in a corner, but the left end of `right` does not say so",
        ),
    ] {
        let job = job(INCH_ROOM, &two(&left, &right));
        assert_eq!(job.whats(), [said]);
        assert_every_fix_clears(&job);
    }
    let apart =
        job(INCH_ROOM, &two("\"wall\"", &corner("back", "back")).replace("along = \"BC\"", "along = \"AB\""));
    assert_eq!(
        apart.whats(),
        [
            "run `right` meets `back` in the corner on its left, but wall `BC` is round that corner, and `back` stands on `AB`"
        ]
    );
    assert_every_fix_clears(&apart);
}

#[test]
fn ends_that_hang_on_each_other() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        s1 = { kind = "floating-shelf", width = { given = "24 in" } }
        s2 = { kind = "floating-shelf", width = { given = "24 in" } }
        s3 = { kind = "floating-shelf", width = { given = "24 in" } }
        [runs]
        one = { along = "BC", level = { up = "60 in" }, order = ["s1"], left = { unit = "s2" }, right = "open" }
        two = { along = "BC", level = { up = "60 in" }, order = ["s2"], left = "wall", right = { unit = "s1" } }
        three = { along = "CD", level = { up = "60 in" }, order = ["s3"], left = { unit = "s1" }, right = "open" }
        four = { along = "AB", level = { above-top = "t" }, order = [], left = "wall", right = "open" }
        [tops]
        t = { over = ["four"], substrate = "core", layers = 1 }
        "#,
    );
    assert_eq!(
        job.whats(),
        [
            "run `three` on wall `CD` ends against `s1`, which stands on wall `BC`",
            "run `one` ends against `s2`, whose own run hangs on where `one` ends",
            "run `four` hangs above worktop `t`, which lies on it",
            "neither end of run `one` says where it stands: shown from the wall on its left",
            "neither end of run `three` says where it stands: shown from the wall on its left",
            "run `two` is too wide by 24 in: it needs 24 in and has 0 in",
        ]
    );
}

#[test]
fn wishes_that_have_no_place() {
    let job = job(
        INCH_ROOM,
        r#"
        [units]
        b1 = { kind = "base", width = "left-over" }
        f1 = { kind = "filler", width = "clears-corner" }
        b2 = { kind = "base", width = { given = "24 in" } }
        [runs]
        back = { along = "BC", level = "floor", order = ["b1"], left = "wall", right = "open" }
        left = { along = "AB", level = "floor", order = ["f1", "b2"], height = { clears = "b2" }, left = "wall", right = "open" }
        "#,
    );
    assert_eq!(
        job.whats(),
        [
            "`left` is to clear `b2`, and that holds no appliance",
            "units of run `back` share what is left, but its right end is where its last unit ends: shown up to the wall",
            "`f1` is to clear a corner, and run `left` meets no other run there",
        ]
    );
    assert_every_fix_clears(&job);
}
