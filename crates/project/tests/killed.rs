//! A process that is killed while it edits: no acknowledged edit is lost, and the file always opens.
//!
//! Fifty times by default; `DRYFIT_KILLS=500` tries more.
#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "tests")]

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;
use std::{env, fs};

use dryfit_measure::Pointer;
use dryfit_plan::{Edit, Plan};
use dryfit_project::ProjectFile;

/// A small plan: what is tried here is the file.
const PLAN: &str = r#"
format = 1
name = "Kill"
entry_unit = "mm"
fineness = "1 mm"
money = { currency = "EUR" }

[room]
walk = ["A", "B", "C"]
sense = "clockwise"
ceiling_about = "2000 mm"
"#;

/// What the child does: edits without end, and says so after each.
///
/// It is a test only so that the other one can start it by its name; alone it has nothing to do.
#[test]
fn child() {
    let Ok(path) = env::var("DRYFIT_CHILD") else { return };
    let mut file = ProjectFile::open(Path::new(&path)).unwrap();
    for _ in 0..10_000 {
        let here = file.here().unwrap();
        let text = file.text(here).unwrap();
        let plan = Plan::from_toml(&text).unwrap().plan;
        let height = format!("{} mm", 2001 + here);
        let at = Pointer::parse("/room/ceiling_about").unwrap();
        let edit = Edit::set(&plan, &at, &height, format!("ceiling {height}"));
        let (after, inverse) = plan.apply(&edit).unwrap();
        let moment = file.append(&edit, &inverse, &after.to_toml(), "2026-03-02T10:00:00Z").unwrap();
        println!("kept {moment}");
    }
}

#[test]
fn no_acknowledged_edit_is_lost() {
    let kills = env::var("DRYFIT_KILLS").ok().and_then(|kills| kills.parse().ok()).unwrap_or(50_u64);
    let folder = env::temp_dir().join(format!("dryfit-killed-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let path: PathBuf = folder.join("room.dryfit");
    ProjectFile::create(&path, PLAN, "begun", "2026-03-01T09:00:00Z").unwrap().close().unwrap();
    let (mut acknowledged, mut torn) = (0, 0);
    for kill in 0..kills {
        let mut child = Command::new(env::current_exe().unwrap())
            .args(["--exact", "child", "--nocapture"])
            .env("DRYFIT_CHILD", &path)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        // after a few edits, at no particular point of the next
        let kept = |line: std::io::Result<String>| line.ok()?.rsplit_once("kept ")?.1.parse::<i64>().ok();
        for _ in 0..=kill % 3 {
            acknowledged = lines.by_ref().find_map(kept).unwrap_or(acknowledged);
        }
        std::thread::sleep(Duration::from_micros(kill * 977 % 9_000));
        child.kill().unwrap();
        child.wait().unwrap();
        acknowledged = lines.filter_map(kept).last().unwrap_or(acknowledged);

        torn += u64::from(folder.join("room.dryfit-wal").metadata().is_ok_and(|log| log.len() > 0));
        let file = ProjectFile::open(&path).unwrap();
        let here = file.here().unwrap();
        assert!(here == acknowledged || here == acknowledged + 1, "kill {kill}: {here} of {acknowledged}");
        acknowledged = here;
        let plan = Plan::from_toml(&file.text(here).unwrap()).unwrap().plan;
        assert_eq!(plan.room.ceiling_about.unwrap().to_string(), format!("{} mm", 2000 + here));
        file.close().unwrap();
        assert!(!folder.join("room.dryfit-wal").exists());
    }
    assert_eq!(torn, kills, "every kill left a log to be recovered");
    println!("{kills} kills, {acknowledged} edits kept");
    fs::remove_dir_all(&folder).unwrap();
}
