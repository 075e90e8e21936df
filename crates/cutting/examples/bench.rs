//! The benchmark: `bench OUT.jsonl [SECONDS [SET...]]`.
//!
//! Sets: `O` and `R` (500 published sheet instances without and with turning), `cabinets`, `trim`, `bars`. Each job
//! has SECONDS of processor time (1 by default) on one thread; published instances stop at the bound, as do bars.
//! One line a job is appended to OUT.jsonl; jobs that are in it already are not run again, so a run that was cut
//! short can be taken up. Every layout passes the checkers in `tests/bench`, or the run ends with its faults.
//! The table at the end gives ratios, which hold from machine to machine better than times do.

use dryfit_cutting::{Job, LengthSearch, SheetSearch};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::error::Error;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

#[allow(clippy::disallowed_methods, reason = "a benchmark has a clock")]
fn seconds() -> f64 {
    // Processor time of this thread where the system tells it, so that a busy machine does not count.
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanoseconds = told.and_then(|s| s.split(' ').next().and_then(|n| n.parse::<f64>().ok()));
    nanoseconds.map_or_else(
        || {
            let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
            now.map_or(0.0, |d| d.as_secs_f64())
        },
        |n| n / 1e9,
    )
}

#[allow(clippy::disallowed_methods, reason = "a benchmark asks the environment for its judge")]
fn python() -> PathBuf {
    let asked = std::env::var_os("DRYFIT_JUDGES").map(PathBuf::from).filter(|p| p.is_file());
    asked.unwrap_or_else(|| "python3".into())
}

fn script(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bench").join(name)
}

fn jobs(set: &str) -> Result<Vec<String>, Box<dyn Error>> {
    let asked: &[&str] = match set {
        "O" => &["published", "no_turn"],
        "R" => &["published", "turn"],
        "cabinets" | "trim" | "bars" => &[set],
        _ => return Err(format!("`{set}` is no set: O, R, cabinets, trim or bars").into()),
    };
    let out = Command::new(python()).arg("-B").arg(script("jobs.py")).args(asked).output()?;
    if !out.status.success() {
        return Err(String::from_utf8_lossy(&out.stderr).into());
    }
    Ok(String::from_utf8(out.stdout)?.lines().map(String::from).collect())
}

/// The checkers, in one process that is asked line by line.
struct Judge {
    child: Child,
    answers: std::io::Lines<BufReader<std::process::ChildStdout>>,
}

impl Judge {
    fn new() -> Result<Judge, Box<dyn Error>> {
        let mut child = Command::new(python())
            .arg("-B")
            .arg(script("judge.py"))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()?;
        let out = child.stdout.take().ok_or("no pipe")?;
        Ok(Judge { child, answers: BufReader::new(out).lines() })
    }

    /// What the checkers measure of a layout, or its faults as an error.
    fn ask(&mut self, job: &str, layout: &str) -> Result<Value, Box<dyn Error>> {
        let stdin = self.child.stdin.as_mut().ok_or("no pipe")?;
        writeln!(stdin, "{{\"job\":{job},\"layout\":{layout}}}")?;
        let line = self.answers.next().ok_or("the judge is gone")??;
        let verdict: Value = serde_json::from_str(&line)?;
        match verdict["faults"].as_array() {
            Some(f) if f.is_empty() => Ok(verdict["measured"].clone()),
            _ => Err(line.into()),
        }
    }
}

/// Run one job; what the table needs of it.
fn run(set: &str, text: &str, limit: f64, judge: &mut Judge) -> Result<Value, Box<dyn Error>> {
    let job = Job::read(text).map_err(|f| f[0].to_string())?;
    let start = seconds();
    match job {
        Job::Sheets(job) => {
            let to_the_bound = set == "O" || set == "R";
            let mut s = SheetSearch::new(&job, 0);
            let first = seconds() - start;
            while !(to_the_bound && s.proven()) && seconds() - start < limit {
                s.run(200);
            }
            let spent = seconds() - start;
            let a = s.answer();
            let m = judge.ask(text, &a.layout.to_json())?;
            let unused = (a.report.bought - a.report.used).max(1) as f64;
            let offcut = m["largest_clean_offcut"].as_f64().unwrap_or(0.0) / unused;
            Ok(
                json!({"set": set, "name": job.name, "parts": job.pieces(), "got": m["sheets"], "cost": m["cost"],
                "bound": a.bound.count, "cost_bound": a.bound.value, "proven": a.proven, "offcut": offcut,
                "cuts": m["cuts"], "stages": m["stages_trim_max"], "first": first, "seconds": spent,
                "steps": a.report.steps}),
            )
        }
        Job::Lengths(job) => {
            let mut s = LengthSearch::new(&job, 0);
            let first = seconds() - start;
            while !s.proven() && seconds() - start < limit {
                s.run(1);
            }
            let spent = seconds() - start;
            let a = s.answer();
            let m = judge.ask(text, &a.layout.to_json())?;
            Ok(json!({"set": set, "name": job.name, "parts": job.pieces(), "got": m["cost"],
                "bound": a.bound.value, "proven": a.proven, "first": first, "seconds": spent,
                "steps": a.report.steps}))
        }
    }
}

#[allow(clippy::disallowed_methods, reason = "a benchmark keeps its results in a file")]
fn main() -> Result<(), Box<dyn Error>> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [out, rest @ ..] = args.as_slice() else {
        return Err("usage: bench OUT.jsonl [SECONDS [SET...]]".into());
    };
    let limit: f64 = rest.first().map_or(Ok(1.0), |s| s.parse())?;
    let sets: Vec<&str> = match rest.get(1..) {
        Some(s) if !s.is_empty() => s.iter().map(String::as_str).collect(),
        _ => vec!["bars", "trim", "cabinets", "O", "R"],
    };
    let mut results: Vec<Value> = Vec::new();
    if Path::new(out).exists() {
        for line in std::fs::read_to_string(out)?.lines() {
            results.push(serde_json::from_str(line)?);
        }
    }
    let mut file = std::fs::OpenOptions::new().create(true).append(true).open(out)?;
    let mut judge = Judge::new()?;
    for set in &sets {
        for text in jobs(set)? {
            let job: Value = serde_json::from_str(&text)?;
            if results.iter().any(|r| r["set"] == *set && r["name"] == job["name"]) {
                continue;
            }
            let r = run(set, &text, limit, &mut judge)?;
            writeln!(file, "{r}")?;
            results.push(r);
        }
    }
    let library: Value = serde_json::from_str(&std::fs::read_to_string(script("data/library_best.json"))?)?;
    table(&results, &library);
    Ok(())
}

fn group(r: &Value) -> String {
    let set = r["set"].as_str().unwrap_or("");
    let name = r["name"].as_str().unwrap_or("");
    match set {
        "cabinets" if name.ends_with("multi") => "cabinets, several sizes".into(),
        "cabinets" => format!("cabinets, {:4} parts", r["parts"].as_i64().unwrap_or(0)),
        "trim" => format!("trim, {:3} pieces", r["parts"].as_i64().unwrap_or(0)),
        "O" => "published, no turning".into(),
        "R" => "published, turning".into(),
        _ => "published bars".into(),
    }
}

fn table(results: &[Value], library: &Value) {
    let mut groups: BTreeMap<String, Vec<&Value>> = BTreeMap::new();
    for r in results {
        groups.entry(group(r)).or_default().push(r);
    }
    println!(
        "{:24} jobs   got  bound   ratio proven library worse  offcut cuts/part stages  mean s   first s",
        "set"
    );
    for (name, rs) in groups {
        let sum = |key: &str| rs.iter().filter_map(|r| r[key].as_f64()).sum::<f64>();
        let n = rs.len() as f64;
        let several = name.ends_with("sizes");
        let (got, bound) =
            if several { (sum("cost"), sum("cost_bound")) } else { (sum("got"), sum("bound")) };
        let proven = rs.iter().filter(|r| r["proven"] == true).count();
        let key = match rs[0]["set"].as_str() {
            Some("O") => "no_turn",
            Some("R") => "turn",
            _ => "cabinet",
        };
        let known = |r: &&&Value| library[key][r["name"].as_str().unwrap_or("")].as_f64();
        let baseline: f64 = rs.iter().filter_map(|r| known(&r)).sum();
        let worse = rs.iter().filter(|r| known(r).is_some_and(|k| r["got"].as_f64() > Some(k))).count();
        print!("{name:24} {:4} {got:5.0} {bound:6.0} {:7.4} {proven:6}", rs.len(), got / bound);
        if baseline > 0.0 {
            print!(" {baseline:7.0} {worse:5}");
        } else {
            print!("       -     -");
        }
        if rs[0]["cuts"].is_null() {
            print!("       -         -      -");
        } else {
            let stages = rs.iter().filter_map(|r| r["stages"].as_i64()).max().unwrap_or(0);
            print!(" {:7.3} {:9.3} {stages:6}", sum("offcut") / n, sum("cuts") / sum("parts"));
        }
        println!(" {:7.3} {:9.5}", sum("seconds") / n, sum("first") / n);
    }
    for r in results.iter().filter(|r| r["set"] == "cabinets" && r["proven"] == false) {
        println!("open: {} {} sheets, bound {}", r["name"], r["got"], r["bound"]);
    }
}
