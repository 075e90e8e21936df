//! The verifier finds each kind of fault in layouts that are broken on purpose, and nothing in good ones.

use dryfit_cutting::{
    LengthFault, LengthJob, LengthLayout, SheetFault, SheetJob, SheetLayout, verify_lengths, verify_sheets,
};

const JOB: &str = r#"{"kerf":3,"trim":0,
  "sheets":[{"id":"S","w":100,"h":200,"qty":2,"price":5},{"id":"T","w":50,"h":50,"qty":1,"price":0}],
  "parts":[{"id":"a","w":48,"h":98,"qty":3,"can_rotate":false},{"id":"b","w":30,"h":20,"qty":2,"can_rotate":true}]}"#;

const GOOD: [(&str, i64, i64, i64, i64); 5] = [
    ("a", 0, 0, 48, 98),
    ("a", 51, 0, 48, 98),
    ("a", 0, 101, 48, 98),
    ("b", 51, 101, 30, 20),
    ("b", 51, 124, 20, 30),
];

fn sheet(id: &str, placed: &[(&str, i64, i64, i64, i64)]) -> String {
    let p: Vec<String> = placed
        .iter()
        .map(|(id, x, y, w, h)| format!(r#"{{"part_id":"{id}","x":{x},"y":{y},"w":{w},"h":{h}}}"#))
        .collect();
    format!(r#"{{"sheet_id":"{id}","placements":[{}]}}"#, p.join(","))
}

fn faults(job: &str, sheets: &[String], more: &str) -> Vec<SheetFault> {
    let job = SheetJob::read(job).expect("the job reads");
    let text = format!(r#"{{"sheets":[{}]{more}}}"#, sheets.join(","));
    let layout = SheetLayout::read(&text).expect("the layout reads");
    verify_sheets(&job, &layout)
}

fn with(i: usize, p: (&'static str, i64, i64, i64, i64)) -> Vec<SheetFault> {
    let mut placed = GOOD;
    placed[i] = p;
    faults(JOB, &[sheet("S", &placed)], "")
}

/// The messages, for tests of their exact words.
fn words(faults: &[SheetFault]) -> Vec<String> {
    faults.iter().map(ToString::to_string).collect()
}

#[test]
fn a_good_layout_has_no_fault() {
    assert_eq!(faults(JOB, &[sheet("S", &GOOD)], r#","claims":{"sheets":1,"cost":5}"#), []);
}

#[test]
fn claims_are_measured() {
    let f = faults(JOB, &[sheet("S", &GOOD)], r#","claims":{"sheets":2,"cost":7}"#);
    assert_eq!(words(&f), ["claims 2 sheets, measured 1", "claims 7 cost, measured 5"]);
}

#[test]
fn overlap_and_kerf() {
    let f = with(1, ("a", 40, 0, 48, 98));
    assert!(f.contains(&SheetFault::Overlap { sheet: 0, a: "a".into(), b: "a".into() }), "{f:?}");
    assert!(words(&with(1, ("a", 0, 0, 48, 98))).contains(&"sheet 0: parts `a` and `a` overlap".into()));
    let f = words(&with(1, ("a", 50, 0, 48, 98)));
    assert_eq!(f[0], "sheet 0: parts `a` and `a` are 2 apart, the kerf is 3");
    let f = words(&with(2, ("a", 0, 100, 48, 98)));
    assert_eq!(f[0], "sheet 0: parts `a` and `a` are 2 apart, the kerf is 3");
    let f = with(3, ("b", 49, 99, 30, 20));
    assert!(f.iter().any(|f| matches!(f, SheetFault::CloserThanKerf { gap: 1, .. })), "{f:?}");
}

#[test]
fn inside_the_sheet_less_its_trim() {
    for p in [("a", 53, 0, 48, 98), ("a", -1, 0, 48, 98), ("a", 51, -1, 48, 98)] {
        let f = with(1, p);
        assert!(f.iter().any(|f| matches!(f, SheetFault::LeavesSheet { .. })), "{f:?}");
    }
    assert!(with(2, ("a", 0, 103, 48, 98)).iter().any(|f| matches!(f, SheetFault::LeavesSheet { .. })));
    let f = words(&faults(&JOB.replace("\"trim\":0", "\"trim\":1"), &[sheet("S", &GOOD)], ""));
    assert_eq!(f[0], "sheet 0: part `a` at 0, 0 leaves the sheet less its trim");
}

#[test]
fn each_part_as_often_as_wanted() {
    let f = words(&faults(JOB, &[sheet("S", &GOOD[..4])], ""));
    assert_eq!(f, ["part `b`: 1 placed, 2 wanted"]);
    let mut more = GOOD.to_vec();
    more.push(("b", 51, 160, 30, 20));
    assert_eq!(words(&faults(JOB, &[sheet("S", &more)], "")), ["part `b`: 3 placed, 2 wanted"]);
}

#[test]
fn unknown_names() {
    assert!(words(&with(0, ("zz", 0, 0, 48, 98)))[0].contains("part `zz` is not in the job"));
    let f = words(&faults(JOB, &[sheet("zz", &GOOD)], ""));
    assert_eq!(f[0], "sheet 0: kind `zz` is not in the job");
}

#[test]
fn grain_and_size() {
    assert!(
        words(&with(0, ("a", 0, 0, 98, 48)))
            .contains(&"sheet 0: part `a` is turned against its grain".into())
    );
    assert_eq!(words(&with(0, ("a", 0, 0, 47, 98))), ["sheet 0: part `a` lies as 47 x 98, wanted 48 x 98"]);
}

#[test]
fn empty_sheets_and_stock() {
    let f = words(&faults(JOB, &[sheet("S", &GOOD), sheet("S", &[])], ""));
    assert_eq!(f, ["sheet 1: holds no part"]);
    let one = |n: usize| sheet("T", &GOOD[n..=n].iter().map(|p| (p.0, 0, 0, p.3, p.4)).collect::<Vec<_>>());
    let f = words(&faults(JOB, &[one(3), one(4), sheet("S", &GOOD[..3])], ""));
    assert_eq!(f, ["sheet kind `T`: 2 used, 1 in stock"]);
}

/// Five parts around a middle, apart and inside, that no edge-to-edge cut divides.
#[test]
fn a_pinwheel_is_not_guillotine() {
    let job = r#"{"kerf":2,"sheets":[{"id":"S","w":32,"h":32,"price":1}],
      "parts":[{"id":"v","w":10,"h":20,"qty":2},{"id":"h","w":20,"h":10,"qty":2},{"id":"c","w":8,"h":8,"qty":1}]}"#;
    let pin = [
        ("v", 0, 0, 10, 20),
        ("h", 12, 0, 20, 10),
        ("v", 22, 12, 10, 20),
        ("h", 0, 22, 20, 10),
        ("c", 12, 12, 8, 8),
    ];
    let f = words(&faults(job, &[sheet("S", &pin)], ""));
    assert_eq!(f, ["sheet 0: no edge-to-edge cut divides v, h, v, h, c"]);
}

fn tree(cut: &str) -> Vec<String> {
    let job = r#"{"kerf":2,"max_stages":2,"sheets":[{"id":"S","w":40,"h":40,"price":1}],
      "parts":[{"id":"p","w":19,"h":40,"qty":2}]}"#;
    let text = sheet("S", &[("p", 0, 0, 19, 40), ("p", 21, 0, 19, 40)]);
    let text = text.strip_suffix('}').expect("an object").to_string() + r#","cut":"# + cut + "}";
    words(&faults(job, &[text], ""))
}

#[test]
fn the_tree_of_cuts_is_judged() {
    let good = r#"{"x":0,"y":0,"w":40,"h":40,"cut":"x","pieces":[
      {"x":0,"y":0,"w":19,"h":40,"part":"p"},{"x":21,"y":0,"w":19,"h":40,"part":"p"}]}"#;
    assert_eq!(tree(good), [""; 0]);
    assert_eq!(
        tree(&good.replace("\"x\":21", "\"x\":20"))[0],
        "sheet 0: piece at 0, 0 has pieces that are not one kerf apart"
    );
    assert_eq!(
        tree(&good.replacen("\"w\":40", "\"w\":41", 1)),
        ["sheet 0: piece at 0, 0 is not the sheet less its trim"]
    );
    assert_eq!(
        tree(&good.replacen("\"x\":0,\"y\":0,\"w\":19", "\"x\":1,\"y\":0,\"w\":19", 1))[0],
        "sheet 0: piece at 0, 0 has a gap before its first piece"
    );
    assert_eq!(
        tree(&good.replace("\"h\":40,\"part\"", "\"h\":39,\"part\""))[0],
        "sheet 0: piece at 0, 0 is cut into a piece that does not reach from edge to edge"
    );
    let short = r#"{"x":0,"y":0,"w":40,"h":40,"cut":"x","pieces":[{"x":0,"y":0,"w":19,"h":40,"part":"p"}]}"#;
    assert_eq!(
        tree(short),
        [
            "sheet 0: piece at 0, 0 has an end that no piece accounts for",
            "sheet 0: the cuts free other parts than are placed"
        ]
    );
    let deep = good.replacen(
        r#"{"x":0,"y":0,"w":19,"h":40,"part":"p"}"#,
        r#"{"x":0,"y":0,"w":19,"h":40,"cut":"y","pieces":[{"x":0,"y":0,"w":19,"h":40,"cut":"x","pieces":[{"x":0,"y":0,"w":19,"h":40,"part":"p"}]}]}"#,
        1,
    );
    assert_eq!(tree(&deep), ["sheet 0: 3 stages of cuts, at most 2 allowed"]);
    assert_eq!(
        tree(r#"{"x":0,"y":0,"w":40,"h":40,"cut":"x","pieces":[]}"#)[0],
        "sheet 0: piece at 0, 0 is cut into no pieces"
    );
}

#[test]
fn members_of_a_matched_group_stay_in_order() {
    let job = r#"{"kerf":3,"sheets":[{"id":"S","w":50,"h":100,"price":1}],
      "parts":[{"id":"bank","w":40,"h":63,"qty":1,"members":[{"id":"top","length":20},{"id":"low","length":40}]}]}"#;
    let placed = |members: &str| {
        let text = format!(
            r#"{{"sheet_id":"S","placements":[{{"part_id":"bank","x":0,"y":0,"w":40,"h":63,"members":[{members}]}}]}}"#
        );
        words(&faults(job, &[text], ""))
    };
    let top = r#"{"id":"top","x":0,"y":0,"w":40,"h":20}"#;
    let low = r#"{"id":"low","x":0,"y":23,"w":40,"h":40}"#;
    assert_eq!(placed(&format!("{top},{low}")), [""; 0]);
    let want = ["sheet 0: the members of `bank` are not in order a kerf apart"];
    assert_eq!(placed(&format!("{low},{top}")), want);
    assert_eq!(placed(top), want);
    assert_eq!(placed(&format!("{top},{}", low.replace("23", "22"))), want);
}

const BARS: &str = r#"{"kerf":3,"end_trim":0,"stocks":[{"id":"S","length":103,"qty":2,"price":4},{"id":"T","length":60,"qty":null,"price":2}],
  "parts":[{"id":"a","length":50,"qty":3},{"id":"b","length":10,"qty":1}]}"#;

fn bars(job: &str, bars: &str, more: &str) -> Vec<String> {
    let job = LengthJob::read(job).expect("the job reads");
    let layout = LengthLayout::read(&format!(r#"{{"bars":[{bars}]{more}}}"#)).expect("the layout reads");
    verify_lengths(&job, &layout).iter().map(LengthFault::to_string).collect()
}

#[test]
fn bars_are_judged() {
    let (aa, ab) = (r#"{"stock_id":"S","parts":["a","a"]}"#, r#"{"stock_id":"S","parts":["a","b"]}"#);
    let good = format!("{aa},{ab}");
    assert_eq!(bars(BARS, &good, r#","claims":{"bars":2,"cost":8}"#), [""; 0]);
    assert_eq!(bars(BARS, &good, r#","claims":{"bars":2,"cost":7}"#), ["claims 7 cost, measured 8"]);
    assert_eq!(bars(BARS, &format!("{aa},{}", ab.replace('S', "T")), ""), ["bar 1: needs 63 of 60"]);
    assert_eq!(bars(BARS, aa, ""), ["part `a`: 2 cut, 3 wanted", "part `b`: 0 cut, 1 wanted"]);
    let b = r#"{"stock_id":"T","parts":["b"]}"#;
    assert_eq!(bars(BARS, &format!("{good},{b}"), ""), ["part `b`: 2 cut, 1 wanted"]);
    assert_eq!(
        bars(BARS, &format!("{good},{}", b.replace("\"b\"", "\"z\"")), ""),
        ["bar 2: part `z` is not in the job"]
    );
    assert_eq!(
        bars(BARS, &format!("{good},{}", b.replace('T', "Z")), ""),
        ["bar 2: stock `Z` is not in the job"]
    );
    let three = r#"{"stock_id":"S","parts":["a"],"count":3}"#;
    assert_eq!(bars(BARS, &format!("{three},{b}"), ""), ["stock `S`: 3 used, 2 in stock"]);
    assert_eq!(bars(BARS, &format!("{good},{}", b.replace("\"b\"", "")), ""), ["bar 2: holds no part"]);
    let trimmed = BARS.replace("\"end_trim\":0", "\"end_trim\":1");
    assert_eq!(bars(&trimmed, &good, ""), ["bar 0: needs 103 of 101"]);
    let mut layout = LengthLayout::read(&format!(r#"{{"bars":[{good}]}}"#)).expect("the layout reads");
    layout.bars[0].count = 0;
    let f = verify_lengths(&LengthJob::read(BARS).expect("the job reads"), &layout);
    assert_eq!(f[0].to_string(), "bar 0: is listed 0 times");
}
