//! Edits: what is refused, and what an edit of a file's text leaves as it was.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Draft, Edit, EditRefused, Plan, Width, apply_to_text};
use serde_json::{Value, json};

const POTTING_ROOM: &str = include_str!("../../../demos/potting-room.toml");

fn plan() -> Plan {
    Plan::from_toml(POTTING_ROOM).expect("the demo reads").plan
}

fn at(place: &str) -> Pointer {
    Pointer::parse(place).expect("a place")
}

fn patch(operations: &Value) -> Edit {
    serde_json::from_value(json!({ "label": "by hand", "patch": operations })).expect("an edit")
}

fn refusal(operations: &Value) -> String {
    plan().apply(&patch(operations)).expect_err("refused").to_string()
}

#[test]
fn refusals_name_the_place() {
    let test = json!([{ "op": "test", "path": "/units/b1/width", "value": "left-over" }]);
    assert_eq!(
        refusal(&test),
        r#"`/units/b1/width` has changed meanwhile: the edit was made for "left-over", now it is {"given":"24 in"}"#
    );
    let gone = json!([{ "op": "test", "path": "/units/b99", "value": {} }]);
    assert_eq!(refusal(&gone), "`/units/b99` is gone: the edit was made for {}");
    assert_eq!(refusal(&json!([{ "op": "remove", "path": "/units/b99" }])), "nothing stands at `/units/b99`");
    assert_eq!(
        refusal(&json!([{ "op": "add", "path": "/units/b99/width", "value": "left-over" }])),
        "nothing stands at `/units/b99`"
    );
    assert_eq!(
        refusal(&json!([{ "op": "add", "path": "/units/b1", "value": {} }])),
        "`/units/b1` is taken: a key is never used again"
    );
    assert_eq!(
        refusal(&json!([{ "op": "move", "from": "/units/b1", "path": "/units/b99" }])),
        "`/units/b99` is left as it is: keys do not move; add and remove instead"
    );
    assert_eq!(
        refusal(&json!([{ "op": "add", "path": "/runs/left/order/0", "value": "b9" }])),
        "`/runs/left/order/0` is left as it is: a list is replaced whole"
    );
    assert_eq!(
        refusal(&json!([{ "op": "replace", "path": "/units/b1/width/given", "value": "24" }])),
        "the edit leaves no plan\n/units/b1/width/given: `24` has no unit; write \"24 in\" or \"24 mm\""
    );
    assert_eq!(
        refusal(&json!([{ "op": "remove", "path": "" }])),
        "the plan is left as it is: a plan can be replaced, not taken out"
    );
    // a line for each key that is missing, after the first
    assert_eq!(refusal(&json!([{ "op": "replace", "path": "", "value": {} }])).lines().count(), 7);
}

#[test]
fn a_refused_edit_leaves_nothing_half_done() {
    let before = plan();
    let edit = patch(&json!([
        { "op": "replace", "path": "/name", "value": "Shed" },
        { "op": "remove", "path": "/units/b99" },
    ]));
    assert!(matches!(before.apply(&edit), Err(EditRefused::Absent { .. })));
    assert_eq!(before, plan());
}

#[test]
fn an_edit_touches_no_more_than_it_must() {
    let edit = Edit::set(&plan(), &at("/runs/left/order/1"), "b6", "b6 for b1");
    let expected = json!([
        { "op": "test", "path": "/runs/left/order", "value": ["e1", "b1", "b2", "f1"] },
        { "op": "replace", "path": "/runs/left/order", "value": ["e1", "b6", "b2", "f1"] },
    ]);
    assert_eq!(serde_json::to_value(&edit.patch).expect("JSON"), expected);
    assert_eq!(edit.places(), [at("/runs/left/order")]);

    let within =
        Width::Within { least: "20 in".parse().expect("a length"), most: "24 in".parse().expect("a length") };
    let edit = Edit::set(&plan(), &at("/units/b1/width"), within, "b1 within limits");
    assert_eq!(edit.places(), [at("/units/b1/width")], "a choice is replaced whole");

    assert!(Edit::set(&plan(), &at("/name"), "Potting room", "nothing").is_empty());
    assert!(Edit::remove(&plan(), &at("/units/b99"), "nothing").is_empty());
}

#[test]
fn tables_on_the_way_are_made() {
    let edit = Edit::set(&plan(), &at("/units/b1/figures/frame-stile"), "2 in", "wide stiles");
    let (changed, inverse) = plan().apply(&edit).expect("applied");
    assert_eq!(changed.units[&Key::literal("b1")].figures.len(), 1);
    assert_eq!(changed.apply(&inverse).expect("taken back").0, plan());
}

/// The lines that differ, as `-old` and `+new`.
fn changes(edit: &Edit) -> Vec<String> {
    let changed = apply_to_text(POTTING_ROOM, edit).expect("applied");
    let (old, new): (Vec<&str>, Vec<&str>) = (POTTING_ROOM.lines().collect(), changed.lines().collect());
    let head = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let room = old.len().min(new.len()) - head;
    let tail = old.iter().rev().zip(new.iter().rev()).take(room).take_while(|(a, b)| a == b).count();
    let gone = old[head..old.len() - tail].iter().map(|line| format!("-{line}"));
    gone.chain(new[head..new.len() - tail].iter().map(|line| format!("+{line}"))).collect()
}

#[test]
fn a_comment_beside_a_value_stays() {
    let edit = Edit::set(&plan(), &at("/room/floor_buildup"), "3/8 in", "thinner tile");
    assert_eq!(
        changes(&edit),
        [
            "-floor_buildup = \"1/2 in\" # tile and mortar, laid before the units",
            "+floor_buildup = \"3/8 in\" # tile and mortar, laid before the units"
        ]
    );
    let edit = Edit::set(&plan(), &at("/room/walk"), ["D", "A", "B", "C"], "begin at D");
    assert_eq!(
        changes(&edit)[1],
        "+walk = [\"D\", \"A\", \"B\", \"C\"] # the order in which the corners were met, starting left of the door"
    );
}

#[test]
fn what_is_added_is_laid_out_like_its_neighbours() {
    let edit =
        Edit::set(&plan(), &at("/units/g9"), json!({ "kind": "gap", "width": { "given": "2 in" } }), "a gap");
    assert_eq!(changes(&edit), ["+g9 = { kind = \"gap\", width = { given = \"2 in\" } }"]);

    let edit = Edit::set(&plan(), &at("/units/b1/depth"), "22 in", "shallower");
    let line = &changes(&edit)[1];
    assert!(line.ends_with("fronts = { pair = {} }, depth = \"22 in\" }"), "{line}");

    let tape = json!({ "name": "masking tape", "form": { "supply": {} } });
    let edit = Edit::set(&plan(), &at("/goods/tape"), tape, "tape");
    assert_eq!(changes(&edit), ["+[goods.tape]", "+name = \"masking tape\"", "+form = { supply = {} }", "+"]);

    let waiver = json!({ "rule": "fit/tip-up", "subjects": ["t1"], "reason": "goes in first" });
    let edit = Edit::set(&plan(), &at("/decisions/w1"), waiver, "waive");
    assert_eq!(
        changes(&edit),
        [
            "+",
            "+[decisions]",
            "+w1 = { rule = \"fit/tip-up\", subjects = [\"t1\"], reason = \"goes in first\" }"
        ]
    );
}

#[test]
fn what_is_taken_out_takes_only_its_own_comment() {
    // the comment above v1 is of v1 and of those after it, but stands right above v1
    let edit = Edit::remove(&plan(), &at("/readings/r1"), "r1 was never taken");
    let gone = changes(&edit);
    assert_eq!(gone.len(), 1, "{gone:?}");
    assert!(gone[0].starts_with("-r1 = "));

    // the line above the first good is a heading of all goods
    let edit = Edit::remove(&plan(), &at("/goods/ply-18"), "no such ply");
    let gone = changes(&edit);
    assert!(gone.iter().all(|line| !line.contains("---")), "{gone:?}");
    assert!(gone[0].starts_with("-[goods.ply-18]"), "{gone:?}");
}

#[test]
fn lists_over_several_lines_keep_their_lines() {
    let text = POTTING_ROOM.replace(
        "walk = [\"A\", \"B\", \"C\", \"D\"]",
        "walk = [\n  \"A\", # left of the door\n  \"B\", # behind the bench\n  \"C\",\n  \"D\",\n]",
    );
    let edit = Edit::set(&plan(), &at("/room/walk"), ["A", "E", "B", "D"], "another corner");
    let changed = apply_to_text(&text, &edit).expect("applied");
    let walk: Vec<&str> = changed.lines().skip_while(|line| !line.starts_with("walk")).take(6).collect();
    assert_eq!(
        walk,
        [
            "walk = [",
            "  \"A\", # left of the door",
            "  \"E\",",
            "  \"B\", # behind the bench",
            "  \"D\",",
            "] # the order in which the corners were met, starting left of the door"
        ]
    );
}

#[test]
fn a_text_with_faults_is_not_edited() {
    let edit = Draft::of(&plan()).set(&at("/name"), "Shed").edit("rename");
    let refused = apply_to_text("format = 1\nname = \"Potting", &edit).expect_err("refused");
    assert!(
        matches!(&refused, EditRefused::Faults(faults) if faults.iter().any(|fault| fault.spot.is_some()))
    );
}

/// The places of all texts that are lengths.
fn lengths(json: &Value, place: &Pointer, out: &mut Vec<Pointer>) {
    match json {
        Value::String(text) if text.parse::<dryfit_measure::Stated>().is_ok() => out.push(place.clone()),
        Value::Object(members) => {
            members.iter().for_each(|(key, below)| lengths(below, &place.child(key), out));
        }
        _ => {}
    }
}

#[test]
fn any_length_of_the_demo_changes_on_its_own_line() {
    let mut places = Vec::new();
    lengths(&plan().to_json(), &Pointer::root(), &mut places);
    assert!(places.len() > 150, "{}", places.len());
    // what was typed is text, and what a pack holds may be a length without being kept as one
    let kept_as_length =
        |place: &&Pointer| !["/text", "/holds"].iter().any(|end| place.as_str().ends_with(end));
    for place in places.iter().step_by(5).filter(kept_as_length) {
        if place.as_str() == "/fineness" {
            continue;
        }
        let edit = Edit::set(&plan(), place, "7 1/32 in", "another length");
        let changed = changes(&edit);
        assert_eq!(changed.len(), 2, "{place}: {changed:?}");
        assert_eq!(changed[1].matches("7 1/32 in").count(), 1, "{place}");
    }
}
