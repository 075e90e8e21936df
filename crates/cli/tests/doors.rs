//! The command line as a builder meets it: what it prints, what it writes, how it ends.
#![expect(clippy::disallowed_methods, reason = "a test of files writes and reads files")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PLAN: &str = include_str!("../../../demos/potting-room.toml");

/// A folder of this test's own, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("the build folder can be written");
    folder
}

fn dryfit(folder: &Path, line: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_dryfit")).args(line).current_dir(folder).output().expect("it starts")
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("it ended by itself")
}

/// A folder with the demo's plan in it.
fn with_plan(name: &str, text: &str) -> PathBuf {
    let folder = folder(name);
    fs::write(folder.join("room.toml"), text).expect("written");
    folder
}

#[test]
fn demo_writes_the_plan_and_its_packet_and_never_over_anything() {
    let folder = folder("demo");
    let first = dryfit(&folder, &["demo", "-o", "room", "--date", "12 March"]);
    assert_eq!(code(&first), 0, "{}", err(&first));
    assert_eq!(err(&first), "", "quiet when nobody watches");
    let pdf = fs::read(folder.join("room/potting-room.pdf")).expect("the packet");
    assert!(pdf.starts_with(b"%PDF-"));
    assert_eq!(fs::read_to_string(folder.join("room/potting-room.toml")).expect("the plan"), PLAN);

    let again = dryfit(&folder, &["demo", "-o", "room"]);
    assert_eq!(code(&again), 2);
    assert_eq!(
        err(&again),
        "the folder `room` is not empty, and was left as it is; choose another with -o\n"
    );
    assert_eq!(fs::read(folder.join("room/potting-room.pdf")).expect("still there"), pdf);

    let other = dryfit(&folder, &["demo", "-o", "other", "--date", "12 March"]);
    assert_eq!(code(&other), 0);
    assert_eq!(
        fs::read(folder.join("other/potting-room.pdf")).expect("the packet"),
        pdf,
        "same input, same bytes"
    );
}

#[test]
fn an_unknown_demo_names_the_known_ones() {
    let output = dryfit(&folder("unknown-demo"), &["demo", "moon-room"]);
    assert_eq!(
        (code(&output), err(&output).as_str()),
        (2, "no demo is called `moon-room`; there is potting-room, troubled-room, ski-room\n")
    );
}

#[test]
fn check_of_the_demo_is_fine_and_its_json_says_the_same() {
    let folder = with_plan("check", PLAN);
    let plain = dryfit(&folder, &["check", "room.toml"]);
    assert_eq!(code(&plain), 0, "{}", out(&plain));
    let json = dryfit(&folder, &["check", "room.toml", "--json"]);
    let report: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    let findings = report["findings"].as_array().expect("a list");
    for finding in findings {
        let id = finding["id"].as_str().expect("an id");
        assert!(out(&plain).contains(&format!("[{id}]")), "{id}");
    }
}

#[test]
fn why_explains_a_door_rail_down_to_the_survey_in_twelve_lines() {
    let folder = with_plan("why", PLAN);
    let output = dryfit(&folder, &["why", "room.toml", "b3/door.d2/rail.top.length"]);
    let text = out(&output);
    assert_eq!(code(&output), 0, "{}", err(&output));
    assert!(text.lines().count() <= 12, "{text}");
    assert!(text.starts_with("rail "), "{text}");
    assert!(text.contains("reading"), "it reaches the survey:\n{text}");
    assert!(text.contains("/readings/r"), "and names readings:\n{text}");
}

#[test]
fn why_says_what_there_is_when_a_name_is_wrong() {
    let folder = with_plan("why-wrong", PLAN);
    let said = |asked: &str| {
        let output = dryfit(&folder, &["why", "room.toml", asked]);
        assert_eq!(code(&output), 2);
        err(&output)
    };
    assert_eq!(
        said("width"),
        "`width` names no dimension: write the place, a dot, and what of it, such as `b1.width`\n"
    );
    assert_eq!(said("b3.girth"), "`b3` has no `girth`; it has width, height, depth, along, up\n");
    assert_eq!(
        said("b3/door.d2/rail.tip.length"),
        "nothing is called `b3/door.d2/rail.tip`; did you mean `b3/door.d2/rail.top.length`?\n"
    );
}

#[test]
fn a_packet_is_not_written_over_unless_asked() {
    let folder = with_plan("packet", PLAN);
    fs::write(folder.join("room.pdf"), "mine").expect("written");
    let refused = dryfit(&folder, &["packet", "room.toml", "-o", "room.pdf"]);
    assert_eq!(
        (code(&refused), err(&refused).as_str()),
        (2, "`room.pdf` is there already, and was left as it is; choose another name\n")
    );
    assert_eq!(fs::read(folder.join("room.pdf")).expect("there"), b"mine");
    let replaced = dryfit(&folder, &["packet", "room.toml", "-o", "room.pdf", "--replace"]);
    assert_eq!(code(&replaced), 0, "{}", err(&replaced));
    assert!(fs::read(folder.join("room.pdf")).expect("there").starts_with(b"%PDF-"));
    let names: Vec<_> =
        fs::read_dir(&folder).expect("there").flatten().map(|entry| entry.file_name()).collect();
    assert_eq!(names.len(), 2, "nothing is left beside: {names:?}");
}

#[test]
fn a_plan_that_stops_still_gets_its_packet_and_ends_with_one() {
    let wide = PLAN.replace(
        r#"b4 = { kind = "sink", name = "sink", recipe = "painted", holds = "sink", width = { given = "36 in" }"#,
        r#"b4 = { kind = "sink", name = "sink", recipe = "painted", holds = "sink", width = { given = "136 in" }"#,
    );
    assert_ne!(wide, PLAN);
    let folder = with_plan("stops", &wide);
    let packet = dryfit(&folder, &["packet", "room.toml", "-o", "room.pdf"]);
    assert_eq!(code(&packet), 1, "{}", err(&packet));
    assert!(fs::read(folder.join("room.pdf")).expect("written all the same").starts_with(b"%PDF-"));
    assert_eq!(code(&dryfit(&folder, &["check", "room.toml"])), 1);
}

#[test]
fn every_fault_of_a_plan_is_said_at_once_with_its_place() {
    let broken = PLAN.replace("sense =", "sence =").replace(r#"height = "36 in""#, r#"height = "36""#);
    let folder = with_plan("faults", &broken);
    let output = dryfit(&folder, &["check", "room.toml"]);
    let said = err(&output);
    assert_eq!(code(&output), 2);
    assert!(said.contains("fault: unknown key: `sence`"), "{said}");
    assert!(said.contains("room.toml:21:1"), "{said}");
    assert!(said.contains("fault: `36` has no unit"), "{said}");
    assert!(said.contains(r#"fix: write "36 in" or "36 mm""#), "{said}");
    assert!(said.trim_end().ends_with("faults in `room.toml`; nothing was changed"), "{said}");
}

#[test]
fn files_that_are_no_plans_are_refused_by_name() {
    let folder = folder("no-plans");
    fs::write(folder.join("photo.toml"), [0xff, 0xd8, 0xff, 0x00]).expect("written");
    let photo = dryfit(&folder, &["check", "photo.toml"]);
    assert_eq!(
        (code(&photo), err(&photo).as_str()),
        (2, "`photo.toml` is not text in UTF-8; is it the right file?\n")
    );
    let missing = dryfit(&folder, &["check", "nowhere.toml"]);
    assert_eq!(code(&missing), 2);
    assert!(err(&missing).starts_with("`nowhere.toml` could not be read: "), "{}", err(&missing));
    let directory = dryfit(&folder, &["check", "."]);
    assert_eq!(code(&directory), 2);
    assert!(err(&directory).starts_with("`.` could not be read: "), "{}", err(&directory));
}

#[test]
fn fix_names_the_findings_there_are() {
    let folder = with_plan("fix-unknown", PLAN);
    let output = dryfit(&folder, &["fix", "room.toml", "fit/no-such-rule", "-o", "new.toml"]);
    assert_eq!(code(&output), 2);
    assert!(err(&output).starts_with("no finding is called `fit/no-such-rule`"), "{}", err(&output));
    assert!(!folder.join("new.toml").exists());
}

#[test]
fn fix_shows_the_edit_writes_it_and_keeps_the_comments() {
    let mistyped = PLAN.replace(
        r#"right = { along = "CD", level = "floor", order = ["f2","#,
        r#"right = { along = "CD", level = "floor", order = ["f22","#,
    );
    assert_ne!(mistyped, PLAN);
    let folder = with_plan("fix", &mistyped);
    let json = dryfit(&folder, &["check", "room.toml", "--json"]);
    let report: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    let finding = report["findings"]
        .as_array()
        .into_iter()
        .flatten()
        .find(|finding| finding["severity"] == "stop" && finding["fixes"][0].is_object())
        .expect("an unknown unit is a stop with a remedy");
    let id = finding["id"].as_str().expect("an id");
    let fixed = dryfit(&folder, &["fix", "room.toml", id, "-o", "new.toml"]);
    assert_eq!(code(&fixed), 0, "{}", err(&fixed));
    assert!(out(&fixed).contains(&format!("clears: {id}")), "{}", out(&fixed));
    let new = fs::read_to_string(folder.join("new.toml")).expect("written");
    assert!(new.starts_with("# A crooked lean-to"), "comments stay");
    assert_eq!(
        fs::read_to_string(folder.join("room.toml")).expect("there"),
        mistyped,
        "the plan is left alone"
    );
    assert_eq!(code(&dryfit(&folder, &["fix", "room.toml", id, "--in-place"])), 0);
    assert_eq!(fs::read_to_string(folder.join("room.toml")).expect("there"), new);
}

const JOB: &str = r#"{"name":"two","unit":"1/64in","kerf":8,"trim":16,
 "sheets":[{"id":"ply","w":3072,"h":6144,"price":100,"grain":"h"}],
 "parts":[{"id":"side","w":1500,"h":2256,"qty":4,"can_rotate":false},{"id":"rail","w":256,"h":1400,"qty":6,"can_rotate":true}]}"#;

#[test]
fn cut_gives_the_same_bytes_for_the_same_steps() {
    let folder = folder("cut");
    fs::write(folder.join("job.json"), JOB).expect("written");
    let line = |name: &'static str| ["cut", "job.json", "--steps", "2000", "--seed", "7", "-o", name];
    for name in ["one.json", "two.json"] {
        let output = dryfit(&folder, &line(name));
        assert_eq!(code(&output), 0, "{}", err(&output));
    }
    let read = |name: &str| fs::read(folder.join(name)).expect("written");
    assert_eq!(read("one.json"), read("two.json"));
    let again = dryfit(&folder, &line("one.json"));
    assert_eq!(
        (code(&again), err(&again).as_str()),
        (2, "`one.json` is there already, and was left as it is; choose another name\n")
    );
}

#[test]
fn cut_says_why_a_job_cannot_be_done_and_what_a_bad_one_lacks() {
    let folder = folder("cut-bad");
    fs::write(folder.join("large.json"), JOB.replace("2256", "9000")).expect("written");
    let large = dryfit(&folder, &["cut", "large.json", "-o", "layout.json", "--steps", "0"]);
    assert_eq!(code(&large), 1);
    assert!(err(&large).contains("side"), "{}", err(&large));
    fs::write(folder.join("bad.json"), JOB.replace("\"kerf\":8", "\"kerf\":-8")).expect("written");
    let bad = dryfit(&folder, &["cut", "bad.json", "-o", "bad-layout.json"]);
    assert_eq!(code(&bad), 2);
    assert!(err(&bad).contains("kerf"), "{}", err(&bad));
    assert!(!folder.join("bad-layout.json").exists());
}

#[test]
fn schema_is_json() {
    let output = dryfit(&folder("schema"), &["schema"]);
    let schema: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert!(schema["properties"]["readings"].is_object());
}

#[test]
fn a_project_file_keeps_every_edit_and_gives_its_plan_back() {
    let folder = with_plan("project-file", PLAN);
    let new = dryfit(&folder, &["new", "room.dryfit", "--from", "room.toml"]);
    assert_eq!(code(&new), 0, "{}", err(&new));
    assert!(out(&new).contains("open it: dryfit open room.dryfit"), "{}", out(&new));
    let again = dryfit(&folder, &["new", "room.dryfit"]);
    assert_eq!(code(&again), 2);
    assert!(err(&again).contains("is there already"), "{}", err(&again));

    // what a plan answers, a project answers
    let why = dryfit(&folder, &["why", "room.dryfit", "b1.width"]);
    assert_eq!((code(&why), out(&why)), (0, out(&dryfit(&folder, &["why", "room.toml", "b1.width"]))));
    let exported = dryfit(&folder, &["export", "room.dryfit", "-o", "out.toml"]);
    assert_eq!(code(&exported), 0, "{}", err(&exported));
    assert_eq!(fs::read_to_string(folder.join("out.toml")).expect("written"), PLAN);

    let undo = dryfit(&folder, &["undo", "room.dryfit"]);
    assert_eq!((code(&undo), err(&undo).as_str()), (2, "there is nothing to take back\n"));
    let history = out(&dryfit(&folder, &["history", "room.dryfit"]));
    assert!(history.ends_with("begun from room.toml  <- here\n"), "{history}");

    fs::write(folder.join("other.dryfit"), "no project").expect("written");
    let other = dryfit(&folder, &["history", "other.dryfit"]);
    assert_eq!(code(&other), 2);
    assert!(err(&other).contains("it is a text"), "{}", err(&other));
}

#[test]
fn a_remedy_in_a_project_is_an_edit_that_undo_takes_back() {
    let narrow = PLAN.replace("b4 = { kind = \"sink\", name = \"sink\", recipe = \"painted\", holds = \"sink\", width = { given = \"36 in\" }", "b4 = { kind = \"sink\", name = \"sink\", recipe = \"painted\", holds = \"sink\", width = { given = \"24 in\" }");
    let folder = with_plan("project-remedy", &narrow);
    assert_eq!(code(&dryfit(&folder, &["new", "room.dryfit", "--from", "room.toml"])), 0);
    let findings = out(&dryfit(&folder, &["check", "room.dryfit"]));
    let before = findings.lines().last().expect("a count").to_owned();
    let finding = findings
        .split("\n\n")
        .find(|one| one.contains("  fix 1: "))
        .and_then(|one| one.trim_start().split(['[', ']']).nth(1))
        .expect("a finding with a remedy")
        .to_owned();
    let fix = dryfit(&folder, &["fix", "room.dryfit", &finding, "--in-place"]);
    assert_eq!(code(&fix), 0, "{}", err(&fix));
    assert!(out(&fix).contains("kept in: room.dryfit"), "{}", out(&fix));
    let undo = dryfit(&folder, &["undo", "room.dryfit"]);
    assert_eq!(out(&undo).lines().last(), Some(before.as_str()), "{}", err(&undo));
    let redo = dryfit(&folder, &["redo", "room.dryfit"]);
    assert!(out(&redo).starts_with("done again: "), "{}", err(&redo));
    let history = out(&dryfit(&folder, &["history", "room.dryfit"]));
    assert_eq!(history.lines().count(), 2);
}
