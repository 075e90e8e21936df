//! Exports of the demos read by Python's own CSV reader and by the icalendar library.

use std::path::{Path, PathBuf};
use std::process::Command;

use dryfit_project::{DEMOS, Form, Project, lay_down};
use serde_json::Value;

/// A folder of this test's own, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

#[allow(clippy::disallowed_methods, reason = "the environment says where the judges are")]
fn judge(script: &str, folder: &Path) -> Value {
    let python = std::env::var("DRYFIT_JUDGES").expect("`cargo xtask tools` makes the judges' Python");
    let done = Command::new(python).args(["-c", script]).arg(folder).output().expect("Python starts");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    serde_json::from_slice(&done.stdout).expect("JSON")
}

fn demos() -> impl Iterator<Item = (&'static str, Project)> {
    DEMOS
        .iter()
        .map(|demo| (demo.name, Project::from_text(demo.name, demo.plan().into_owned()).expect("it opens")))
}

/// RFC 4180 by a reader that insists on it: equal rows, CRLF, quotes doubled.
const CSV: &str = r#"
import csv, json, sys, pathlib
out = {}
for path in sorted(pathlib.Path(sys.argv[1]).rglob("*.csv")):
    raw = path.read_bytes().decode()
    assert raw.endswith("\r\n") and "\n" not in raw.replace("\r\n", ""), path
    rows = list(csv.reader(raw.splitlines(keepends=True), strict=True))
    assert len({len(row) for row in rows}) == 1, path
    out[path.name] = [dict(zip(rows[0], row)) for row in rows[1:]]
print(json.dumps(out))
"#;

#[test]
fn lists_read_back_row_by_row() {
    for (name, project) in demos() {
        let folder = folder(&format!("csv-{name}"));
        lay_down(&folder, &project.export(Form::Csv)).expect("written");
        let tables = judge(CSV, &folder);
        let cut = tables["cut-list.csv"].as_array().expect("rows");
        let pieces: usize = project.derived.cut_list.groups.iter().map(|group| group.pieces.len()).sum();
        assert_eq!(cut.len(), pieces, "{name}");
        for (row, piece) in
            cut.iter().zip(project.derived.cut_list.groups.iter().flat_map(|group| &group.pieces))
        {
            assert_eq!(row["path"], piece.path.as_str(), "{name}");
            let mm: f64 = row["length_mm"].as_str().and_then(|text| text.parse().ok()).expect("a number");
            assert!((mm - piece.length.length().as_mm_f64()).abs() < 1e-6, "{row}");
        }
        // the lines of the buying list add up to its sum, to the cent
        let buying = tables["buying-list.csv"].as_array().expect("rows");
        let cents = |row: &Value| {
            let text = row["price"].as_str().unwrap_or_default().replace('.', "");
            text.parse::<i64>().unwrap_or(0)
        };
        let (sums, lines): (Vec<&Value>, Vec<&Value>) = buying.iter().partition(|row| row["good"] == "");
        assert_eq!(lines.len(), project.derived.takeoff.lines.len());
        assert_eq!(lines.iter().map(|row| cents(row)).sum::<i64>(), cents(sums[0]), "{name}");
        // what was paid is the same by receipt and by category, and what the receipts say
        let paid = |table: &str, column: &str| -> i64 {
            let rows = tables[table].as_array().expect("rows");
            let cents =
                |row: &Value| row[column].as_str().and_then(|it| it.replace('.', "").parse::<i64>().ok());
            rows.iter().map(|row| cents(row).expect("money")).sum()
        };
        let receipts = project.plan.receipts.values();
        let said: i64 = receipts.map(|it| (it.paid() - it.credited()).hundredths()).sum();
        assert_eq!(paid("receipts.csv", "money"), said, "{name}");
        assert_eq!(paid("costs.csv", "paid"), said, "{name}");
    }
}

const ICS: &str = r#"
import icalendar, json, sys, pathlib
raw = pathlib.Path(sys.argv[1], "calendar.ics").read_bytes()
calendar = icalendar.Calendar.from_ical(raw)
assert calendar["VERSION"] == "2.0" and str(calendar["PRODID"]), calendar
entries = [c for c in calendar.walk() if c.name in ("VTODO", "VEVENT")]
for entry in entries:
    assert not entry.errors, entry.errors
    assert entry["DTSTAMP"].dt.tzinfo is not None
print(json.dumps([[str(e["UID"]), str(e["SUMMARY"]), str(e["DTSTAMP"].dt), str(e["DTSTART"].dt) if "DTSTART" in e else str(e["DUE"].dt) if "DUE" in e else None] for e in entries]))
"#;

#[test]
fn the_calendar_opens_and_says_what_to_order() {
    for (name, project) in demos() {
        let folder = folder(&format!("ics-{name}"));
        lay_down(&folder, &project.export(Form::Ics)).expect("written");
        let entries = judge(ICS, &folder);
        let entries = entries.as_array().expect("entries");
        let ids: std::collections::BTreeSet<&str> =
            entries.iter().filter_map(|entry| entry[0].as_str()).collect();
        assert_eq!(ids.len(), entries.len(), "{name}: every entry has an id of its own");
        let named = |start: &str| {
            entries.iter().filter(|entry| entry[1].as_str().is_some_and(|it| it.starts_with(start))).count()
        };
        let order = &project.derived.order;
        let lead = project.derived.takeoff.lines.iter().filter(|line| {
            let good = project.plan.goods.get(&line.good);
            line.is_bought() && good.and_then(|good| good.lead_days).is_some_and(|days| days > 0)
        });
        let dated = entries.iter().filter(|entry| entry[3] != Value::Null).count();
        if order.start.is_some() {
            let left = order.tasks.iter().filter(|task| task.done.is_none()).count();
            assert_eq!(dated, left + order.order_by.len(), "{name}");
        } else {
            assert_eq!((named("order "), dated), (lead.count(), 0), "{name}");
        }
    }
}

/// Equal plans give equal bytes, and a file that is there is never written over: then nothing is written at all.
#[test]
fn exports_are_the_same_twice_and_write_over_nothing() {
    let demo = &DEMOS[0];
    let open = || Project::from_text(demo.name, demo.plan().into_owned()).expect("it opens");
    let (once, again) = (open(), open());
    let mut all = Vec::new();
    for form in [Form::Csv, Form::Ics, Form::Glb, Form::Json, Form::Toml] {
        let files = once.export(form);
        assert_eq!(files, again.export(form), "{form:?}");
        assert!(files.iter().all(|file| !file.bytes.is_empty()), "{form:?}");
        all.extend(files);
    }
    let folder = folder("over");
    lay_down(&folder, &all[2..3]).expect("written");
    let fault = lay_down(&folder, &all).expect_err("one is there already");
    assert!(fault.to_string().contains("is there already"), "{fault}");
    assert!(!folder.join("cut-list.csv").exists(), "nothing was written");
    let plan = all.iter().find(|file| file.path == "plan.toml").expect("the plan");
    assert_eq!(plan.bytes, demo.plan().as_bytes(), "comments and all");
}
