//! Broken jobs and layouts, each with its exact message; whatever the text, reading never panics.
#![allow(clippy::cast_possible_wrap)]

use dryfit_cutting::{
    Budget, Job, LengthJob, LengthLayout, SheetJob, SheetLayout, solve_lengths, solve_sheets, verify_lengths,
    verify_sheets,
};
use proptest::prelude::*;

const SHEETS: &str = r#"{"kerf":3,"trim":0,"sheets":[{"id":"S","w":100,"h":200,"qty":null,"price":5}],"parts":[{"id":"a","w":48,"h":98,"qty":3,"can_rotate":false}]}"#;
const BARS: &str = r#"{"kerf":3,"end_trim":0,"stocks":[{"id":"S","length":100,"price":5}],"parts":[{"id":"a","length":48,"qty":3}]}"#;

fn faults(text: &str) -> Vec<String> {
    match Job::read(text) {
        Ok(_) => Vec::new(),
        Err(f) => f.iter().map(ToString::to_string).collect(),
    }
}

/// The faults after one change of a good job.
fn changed(job: &str, from: &str, to: &str) -> Vec<String> {
    assert!(job.contains(from), "{from} is not in the job");
    faults(&job.replacen(from, to, 1))
}

#[test]
fn good_jobs_read() {
    assert_eq!(faults(SHEETS), [""; 0]);
    assert_eq!(faults(BARS), [""; 0]);
    assert_eq!(changed(SHEETS, "\"kerf\"", "\"colour\":\"red\",\"kerf\""), [""; 0]);
}

#[test]
fn jobs_come_back_as_they_went() {
    for text in [SHEETS, BARS] {
        match Job::read(text).expect("a good job") {
            Job::Sheets(job) => assert_eq!(SheetJob::read(&job.to_json()), Ok(job)),
            Job::Lengths(job) => assert_eq!(LengthJob::read(&job.to_json()), Ok(job)),
        }
    }
}

#[test]
fn the_text_as_a_whole() {
    assert_eq!(faults(""), ["/: not JSON at line 1, column 0; write one JSON object"]);
    assert_eq!(faults("{\"kerf\":}"), ["/: not JSON at line 1, column 9; write one JSON object"]);
    assert_eq!(faults("[]"), ["/: expected an object; write { ... } with `sheets` or `stocks`, and `parts`"]);
    assert_eq!(
        faults("{}"),
        [
            "/: neither `sheets` nor `stocks` is listed; list `sheets` to cut from sheets, `stocks` to cut from bars"
        ]
    );
    assert_eq!(
        faults(r#"{"sheets":[],"stocks":[]}"#),
        ["/: both `sheets` and `stocks` are listed; make two jobs of it"]
    );
    let deep = "[".repeat(200_000);
    assert_eq!(faults(&deep).len(), 1);
}

#[test]
fn fields_of_a_sheet_job() {
    let whole = "write a whole number from 0 to 1000000000000";
    let size = "write a whole number from 1 to 1000000000000";
    let cases: &[(&str, &str, &str)] = &[
        ("\"kerf\":3,", "", &format!("/kerf: is missing; {whole}")),
        ("\"kerf\":3", "\"kerf\":-1", &format!("/kerf: -1 is less than 0; {whole}")),
        ("\"kerf\":3", "\"kerf\":\"3\"", &format!("/kerf: expected a whole number, found text; {whole}")),
        (
            "\"kerf\":3",
            "\"kerf\":3.2",
            "/kerf: 3.2 is not a whole number; write it in a finer unit, such as 0.1 mm or 1/64 in",
        ),
        (
            "\"trim\":0",
            "\"trim\":50",
            "/sheets/0: `S` is 100 x 200, nothing is left after a trim of 50; make trim smaller, or leave this sheet out",
        ),
        ("\"w\":100", "\"w\":0", &format!("/sheets/0/w: 0 is less than 1; {size}")),
        (
            "\"w\":100",
            "\"w\":2000000000000",
            &format!("/sheets/0/w: 2000000000000 is over 1000000000000; {size}"),
        ),
        (
            "\"w\":100",
            "\"w\":18446744073709551615",
            &format!("/sheets/0/w: 18446744073709551615 is over 1000000000000; {size}"),
        ),
        (
            "\"price\":5",
            "\"price\":null",
            &format!("/sheets/0/price: expected a whole number, found null; {whole}"),
        ),
        (
            "\"price\":5",
            "\"price\":5,\"grain\":\"w\"",
            "/sheets/0/grain: the grain must run along h; write \"h\" or null; where the grain runs along w, exchange w and h of the sheet",
        ),
        ("\"id\":\"S\",", "", "/sheets/0/id: is missing; write a name in quotes"),
        ("\"id\":\"S\"", "\"id\":7", "/sheets/0/id: expected text, found a number; write a name in quotes"),
        ("\"id\":\"a\"", "\"id\":\"\"", "/parts/0/id: is empty; write a name in quotes"),
        (
            "\"h\":98",
            "\"h\":true",
            &format!("/parts/0/h: expected a whole number, found true or false; {size}"),
        ),
        ("\"qty\":3,", "", "/parts/0/qty: is missing; write a whole number from 0 to 100000"),
        (
            "\"qty\":3",
            "\"qty\":100001",
            "/parts/0/qty: 100001 is over 100000; write a whole number from 0 to 100000",
        ),
        (
            "\"can_rotate\":false",
            "\"can_rotate\":\"no\"",
            "/parts/0/can_rotate: expected true or false, found text; write true or false",
        ),
        (
            "\"kerf\":3",
            "\"kerf\":3,\"max_stages\":1",
            "/max_stages: 1 is less than 2; write a whole number from 2 to 24",
        ),
        (
            "\"kerf\":3",
            "\"kerf\":3,\"name\":4",
            "/name: expected text, found a number; write it in quotes, or leave it out",
        ),
        ("\"parts\":[", "\"parts\":[[],", "/parts/0: expected an object, found a list; write { ... }"),
    ];
    for (from, to, want) in cases {
        assert_eq!(changed(SHEETS, from, to), [*want]);
    }
    assert_eq!(
        faults(r#"{"kerf":1,"sheets":[],"parts":{}}"#),
        [
            "/parts: expected a list, found an object; write a list [ ... ]",
            "/sheets: no sheet is listed; list at least one kind of sheet"
        ]
    );
}

#[test]
fn ids_are_unique_and_pieces_are_limited() {
    let part = r#"{"id":"a","w":48,"h":98,"qty":3,"can_rotate":false}"#;
    assert_eq!(
        changed(SHEETS, part, &format!("{part},{part}")),
        ["/parts/1/id: id `a` is already used at /parts/0/id; give each entry an id of its own"]
    );
    let many = part.replace("\"qty\":3", "\"qty\":100000");
    let more = many.replace("\"id\":\"a\"", "\"id\":\"b\"");
    assert_eq!(
        changed(SHEETS, part, &format!("{many},{more}")),
        ["/parts: 200000 pieces, at most 100000 are read; split the job"]
    );
}

#[test]
fn matched_groups() {
    let group = |more: &str| changed(SHEETS, "\"can_rotate\":false", more);
    let members = r#""members":[{"id":"one","length":50},{"id":"two","length":45}]"#;
    assert_eq!(group(members), [""; 0]);
    assert_eq!(
        group(&members.replace("45", "44")),
        ["/parts/0/h: h is 98, its members with a kerf of 3 between them come to 97; write \"h\": 97"]
    );
    assert_eq!(
        group(&format!("\"can_rotate\":true,{members}")),
        [
            "/parts/0/can_rotate: a matched group keeps its grain and may not turn; write \"can_rotate\": false"
        ]
    );
    assert_eq!(
        group(&members.replace("two", "one")),
        [
            "/parts/0/members/1/id: id `one` is already used at /parts/0/members/0/id; give each entry an id of its own"
        ]
    );
    assert_eq!(
        group(&format!("{members},\"members_along\":\"z\"")),
        ["/parts/0/members_along: names no direction; write \"x\" or \"y\""]
    );
}

#[test]
fn every_fault_is_told_at_once() {
    let f = faults(r#"{"kerf":-1,"sheets":[{"id":"S"}],"parts":[{"w":1.5,"h":2,"qty":1}]}"#);
    let at: Vec<&str> = f.iter().map(|f| f.split(':').next().unwrap_or("")).collect();
    assert_eq!(at, ["/kerf", "/sheets/0/w", "/sheets/0/h", "/sheets/0/price", "/parts/0/id", "/parts/0/w"]);
}

#[test]
fn fields_of_a_length_job() {
    assert_eq!(
        changed(BARS, "\"end_trim\":0", "\"end_trim\":50"),
        [
            "/stocks/0: `S` is 100, nothing is left after an end trim of 50; make end_trim smaller, or leave this stock out"
        ]
    );
    assert_eq!(
        changed(BARS, "\"length\":48", "\"length\":0"),
        ["/parts/0/length: 0 is less than 1; write a whole number from 1 to 1000000000000"]
    );
    assert_eq!(
        changed(BARS, r#"{"id":"S","length":100,"price":5}"#, ""),
        ["/stocks: no stock is listed; list at least one kind of bar"]
    );
}

#[test]
fn layouts() {
    let read = |text: &str| SheetLayout::read(text).expect_err("broken")[0].to_string();
    assert_eq!(read("{}"), "/sheets: is missing; write a list [ ... ]");
    assert_eq!(
        read(r#"{"sheets":[{"sheet_id":"S","placements":[],"cut":{"x":0,"y":0,"w":1,"h":1}}]}"#),
        "/sheets/0/cut: says neither part, waste nor cut; write one of \"part\": id, \"waste\": true, \"cut\": \"x\" or \"y\" with its pieces"
    );
    let bars =
        LengthLayout::read(r#"{"bars":[{"stock_id":"S","count":0,"parts":[1]}]}"#).expect_err("broken");
    let bars: Vec<String> = bars.iter().map(ToString::to_string).collect();
    assert_eq!(
        bars,
        [
            "/bars/0/count: 0 is less than 1; write a whole number from 1 to 100000",
            "/bars/0/parts/0: expected a part's id; write it in quotes"
        ]
    );
}

#[test]
fn what_cannot_be_placed_says_why() {
    let why = |job: &str| {
        let job = SheetJob::read(job).expect("a good job");
        let a = solve_sheets(&job, Budget { steps: 10, seed: 0 });
        assert!(!a.proven);
        let u = &a.layout.unplaced[0];
        format!("{} of `{}`: {}", u.qty, u.part_id, u.why)
    };
    assert_eq!(
        why(&SHEETS.replace("\"w\":48", "\"w\":150")),
        "3 of `a`: it is 150 x 98 and may not be turned; `S` has 100 x 200"
    );
    assert_eq!(
        why(&SHEETS.replace("\"w\":48", "\"w\":250").replace("\"trim\":0", "\"trim\":2")),
        "3 of `a`: it is 250 x 98; `S` has 96 x 196 after a trim of 2"
    );
    assert_eq!(why(&SHEETS.replace("\"qty\":null", "\"qty\":0")), "3 of `a`: no sheet is in stock");
    assert_eq!(
        why(&SHEETS.replace("\"qty\":null", "\"qty\":1").replace("\"w\":48", "\"w\":98")),
        "1 of `a`: the stock is used up: 1 of `S`"
    );
    let job = LengthJob::read(&BARS.replace("\"length\":48", "\"length\":148")).expect("a good job");
    let a = solve_lengths(&job, Budget { steps: 10, seed: 0 });
    assert_eq!(a.layout.unplaced[0].why, "it is 148 long; `S` has 100");
}

/// The longest lengths, highest prices and most pieces that are read neither overflow nor stall.
#[test]
fn the_limits_hold() {
    let big = r#"{"kerf":1000000000000,"sheets":[{"id":"S","w":1000000000000,"h":1000000000000,"price":1000000000000}],
      "parts":[{"id":"a","w":1000000000000,"h":1,"qty":1000},{"id":"b","w":1,"h":1000000000000,"qty":3,"can_rotate":true}]}"#;
    let job = SheetJob::read(big).expect("within the limits");
    let a = solve_sheets(&job, Budget { steps: 20, seed: 0 });
    assert_eq!(verify_sheets(&job, &a.layout), []);
    let many = SHEETS.replace("\"qty\":3", "\"qty\":100000");
    let job = SheetJob::read(&many).expect("within the limits");
    let a = solve_sheets(&job, Budget { steps: 0, seed: 0 });
    assert_eq!(verify_sheets(&job, &a.layout), []);
    assert_eq!(a.report.sheets, 25000);
    let big = r#"{"kerf":1000000000000,"stocks":[{"id":"S","length":1000000000000,"price":1000000000000}],
      "parts":[{"id":"a","length":1000000000000,"qty":1000},{"id":"b","length":1,"qty":3}]}"#;
    let job = LengthJob::read(big).expect("within the limits");
    let a = solve_lengths(&job, Budget { steps: 20, seed: 0 });
    assert_eq!(verify_lengths(&job, &a.layout), []);
}

fn json() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        Just("null".to_string()),
        Just("true".to_string()),
        any::<i64>().prop_map(|n| n.to_string()),
        (-3i64..200).prop_map(|n| n.to_string()),
        Just("1e300".to_string()),
        "[a-zS]{0,2}".prop_map(|s| format!("\"{s}\"")),
    ];
    let key = prop::sample::select(vec![
        "kerf",
        "trim",
        "sheets",
        "stocks",
        "parts",
        "id",
        "w",
        "h",
        "x",
        "y",
        "qty",
        "price",
        "grain",
        "length",
        "members",
        "can_rotate",
        "bars",
        "cut",
        "pieces",
        "part",
        "waste",
        "placements",
        "sheet_id",
        "claims",
    ]);
    leaf.prop_recursive(5, 60, 6, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(|v| format!("[{}]", v.join(","))),
            prop::collection::vec((key.clone(), inner), 0..8).prop_map(|v| {
                let v: Vec<String> = v.into_iter().map(|(k, v)| format!("\"{k}\":{v}")).collect();
                format!("{{{}}}", v.join(","))
            }),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// Any text: faults or a job, and a job that reads can be solved and judged.
    #[test]
    fn reading_never_panics(text in prop_oneof![json(), any::<String>()]) {
        let _ = Job::read(&text);
        let _ = SheetLayout::read(&text);
        let _ = LengthLayout::read(&text);
    }

    /// Any layout: the verifier judges it and never panics.
    #[test]
    fn the_verifier_never_panics(
        placed in prop::collection::vec((any::<bool>(), -300i64..300, -300i64..300, 0i64..300, 0i64..300), 0..8),
        far in prop_oneof![Just(0i64), Just(1_000_000_000_000), Just(-1_000_000_000_000)],
    ) {
        let job = SheetJob::read(SHEETS).expect("a good job");
        let list: Vec<String> = placed
            .iter()
            .map(|(known, x, y, w, h)| {
                let id = if *known { "a" } else { "z" };
                format!(r#"{{"part_id":"{id}","x":{},"y":{y},"w":{w},"h":{h}}}"#, (x + far).clamp(-1_000_000_000_000, 1_000_000_000_000))
            })
            .collect();
        let text = format!(r#"{{"sheets":[{{"sheet_id":"S","placements":[{}]}}]}}"#, list.join(","));
        let layout = SheetLayout::read(&text).expect("it reads");
        prop_assert!(!verify_sheets(&job, &layout).is_empty());
    }
}
