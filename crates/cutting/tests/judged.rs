//! Layouts for every cabinet and trim job, judged by checkers that share nothing with this crate; and values that
//! others have published.
//!
//! Sources: Berkey & Wang 1987 and Martello & Vigo 1998 (sheets; best known totals from Gardeyn & Wauters 2022);
//! Falkenauer 1996 and Scholl et al. 1997 (bars). Cabinet and trim sizes are common practice, no source.
#![allow(clippy::disallowed_methods, reason = "a test asks the environment for its judge")]

use dryfit_cutting::{
    Budget, Job, LengthJob, SheetJob, solve_lengths, solve_sheets, verify_lengths, verify_sheets,
};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

fn python() -> PathBuf {
    let asked = std::env::var_os("DRYFIT_JUDGES").map(PathBuf::from).filter(|p| p.is_file());
    asked.unwrap_or_else(|| "python3".into())
}

fn script(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bench").join(name)
}

fn jobs(set: &[&str]) -> Vec<String> {
    let out =
        Command::new(python()).arg("-B").arg(script("jobs.py")).args(set).output().expect("python runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).expect("UTF-8").lines().map(String::from).collect()
}

/// Faults that the checkers find, by job.
fn judge(lines: &str) -> Vec<String> {
    let mut child = Command::new(python())
        .arg("-B")
        .arg(script("judge.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python runs");
    let mut into = child.stdin.take().expect("a pipe was asked for");
    let text = lines.to_string();
    let writer = std::thread::spawn(move || into.write_all(text.as_bytes()));
    let out = child.wait_with_output().expect("the judge ends");
    writer.join().expect("no panic").expect("the judge reads all");
    assert!(out.status.success());
    String::from_utf8(out.stdout).expect("UTF-8").lines().map(String::from).collect()
}

#[test]
fn checkers_accept_every_cabinet_and_trim_job() {
    let all = [jobs(&["cabinets"]), jobs(&["trim"])].concat();
    assert_eq!(all.len(), 49 + 30);
    let mut asked = String::new();
    for text in &all {
        let budget = |pieces: i64| Budget { steps: if pieces > 300 { 300 } else { 3000 }, seed: 0 };
        let layout = match Job::read(text).expect("the generators write what is read") {
            Job::Sheets(job) => {
                let a = solve_sheets(&job, budget(job.pieces()));
                assert_eq!(verify_sheets(&job, &a.layout), [], "{}", job.name);
                a.layout.to_json()
            }
            Job::Lengths(job) => {
                let a = solve_lengths(&job, Budget { steps: 20, seed: 0 });
                assert_eq!(verify_lengths(&job, &a.layout), [], "{}", job.name);
                a.layout.to_json()
            }
        };
        asked.extend(["{\"job\":", text, ",\"layout\":", &layout, "}\n"]);
    }
    let verdicts = judge(&asked);
    assert_eq!(verdicts.len(), all.len());
    for (job, verdict) in all.iter().zip(verdicts) {
        assert!(verdict.starts_with("{\"faults\": [],"), "{verdict} on {}", &job[..60]);
    }
}

/// The bound of every published instance comes to the totals that an independent program in Python found:
/// 7170 without turning, 6886 with. The best layouts ever published are 7233 and 6986, so a bound
/// above those would be wrong.
#[test]
fn bounds_of_the_published_sheets() {
    for (turn, total) in [("no_turn", 7170), ("turn", 6886)] {
        let bound = |text: &String| {
            let job = SheetJob::read(text).expect("the archive reads");
            solve_sheets(&job, Budget { steps: 0, seed: 0 }).bound.count.expect("one kind of sheet")
        };
        assert_eq!(jobs(&["published", turn]).iter().map(bound).sum::<i64>(), total);
    }
}

/// Triplets need a third as many bars as pieces by construction; the other sets list the best known number, which
/// no proof may exceed and the search must reach.
#[test]
fn published_bars_are_proven_optimal() {
    let mut proven = 0;
    for text in jobs(&["bars"]) {
        let job = LengthJob::read(&text).expect("the archive reads");
        let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        let a = solve_lengths(&job, Budget { steps: 400, seed: 0 });
        assert_eq!(verify_lengths(&job, &a.layout), []);
        assert!(a.bound.value <= a.report.cost, "{}", job.name);
        if let Some(best) = value["best_known"].as_i64() {
            assert!(a.report.cost <= best, "{}: {} bars, {best} are known", job.name, a.report.cost);
        }
        if job.name.starts_with("falk_t") {
            assert_eq!(a.report.bars * 3, job.pieces(), "{}", job.name);
        }
        assert!(a.proven, "{}: {} against {}", job.name, a.report.cost, a.bound.value);
        proven += 1;
    }
    assert_eq!(proven, 58);
}
