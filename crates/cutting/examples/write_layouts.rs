//! Write a layout for each job of a folder: `write_layouts JOBS OUT STEPS [SEED]`. The verifier judges each; the
//! exit code is 1 if it finds a fault.

use dryfit_cutting::{Budget, Job, solve_lengths, solve_sheets, verify_lengths, verify_sheets};
use std::path::Path;

#[allow(clippy::disallowed_methods, reason = "an example is a door")]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().collect();
    let [_, jobs, out, steps, rest @ ..] = args.as_slice() else {
        return Err("usage: write_layouts JOBS OUT STEPS [SEED]".into());
    };
    let seed = rest.first().map_or(Ok(0), |s| s.parse())?;
    let budget = Budget { steps: steps.parse()?, seed };
    std::fs::create_dir_all(out)?;
    let mut files: Vec<_> = std::fs::read_dir(jobs)?.collect::<Result<_, _>>()?;
    files.sort_by_key(std::fs::DirEntry::file_name);
    let mut bad = 0;
    for file in files {
        let text = std::fs::read_to_string(file.path())?;
        let job = Job::read(&text).map_err(|f| format!("{}: {}", file.path().display(), f[0]))?;
        let (json, faults, line) = match job {
            Job::Sheets(job) => {
                let a = solve_sheets(&job, budget);
                let faults: Vec<String> =
                    verify_sheets(&job, &a.layout).iter().map(ToString::to_string).collect();
                let r = a.report;
                let line = format!("{} sheets, cost {}, bound {}", r.sheets, r.cost, a.bound.value);
                (a.layout.to_json(), faults, line)
            }
            Job::Lengths(job) => {
                let a = solve_lengths(&job, budget);
                let faults: Vec<String> =
                    verify_lengths(&job, &a.layout).iter().map(ToString::to_string).collect();
                let r = a.report;
                let line = format!("{} bars, cost {}, bound {}", r.bars, r.cost, a.bound.value);
                (a.layout.to_json(), faults, line)
            }
        };
        println!("{}: {line}", file.file_name().to_string_lossy());
        for f in &faults {
            println!("  {f}");
        }
        bad += faults.len();
        std::fs::write(Path::new(out).join(file.file_name()), json)?;
    }
    if bad > 0 { Err(format!("{bad} faults").into()) } else { Ok(()) }
}
