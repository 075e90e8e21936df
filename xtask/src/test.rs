//! `cargo xtask test`: the one test command. Installs what is missing, then runs every check and test in order
//! and stops at the first step that fails.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

use crate::{Outcome, licences, tidy, tools};

/// A step: what it checks, and how.
type Step = (&'static str, fn(&Path) -> Outcome);

/// Cheap steps first; the tests last, so that their closing lines end the run.
const STEPS: &[Step] = &[
    ("tools: qpdf, poppler, the Python judges and the validator of scenes are there", |root| {
        tools::run(root, &[])
    }),
    ("format: every Rust file is laid out by rustfmt", |root| cargo(root, &["fmt", "--all", "--check"], &[])),
    ("tidy: the habits of the house hold", |root| tidy::run(root, &[])),
    ("licences: every dependency may be passed on", |root| licences::run(root, &[])),
    ("lints: clippy has nothing to say", |root| {
        cargo(
            root,
            &["clippy", "--workspace", "--all-targets", "--locked", "--quiet", "--", "-D", "warnings"],
            &[],
        )
    }),
    ("docs: rustdoc has nothing to say", |root| {
        cargo(
            root,
            &["doc", "--workspace", "--no-deps", "--locked", "--quiet"],
            &[("RUSTDOCFLAGS", "-D warnings")],
        )
    }),
    ("page: its types and parts hold, and a browser goes from nothing to the packet", page),
    ("tests: unit, integration and doc tests of every crate", tests),
];

/// Runs every step in the repository at `root`.
///
/// # Errors
/// At the first step that fails, naming it.
pub fn run(root: &Path, arguments: &[String]) -> Outcome {
    if let Some(extra) = arguments.first() {
        return Err(format!(
            "`test` takes no argument (`{extra}`); for one test use `cargo test -p CRATE NAME`"
        ));
    }
    let started = Instant::now();
    for (index, (step, check)) in STEPS.iter().enumerate() {
        let began = Instant::now();
        let (name, what) = step.split_once(": ").unwrap_or((step, ""));
        println!("[{}/{}] {name}: {what}", index + 1, STEPS.len());
        check(root).map_err(|said| format!("step `{name}` failed: {said}"))?;
        println!("      done in {:.1} s", began.elapsed().as_secs_f64());
    }
    println!("every step passed in {:.0} s", started.elapsed().as_secs_f64());
    Ok(())
}

fn command(root: &Path, arguments: &[&str], environment: &[(&str, &str)]) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(arguments).envs(environment.iter().copied()).current_dir(root).stdin(Stdio::null());
    command
}

fn cargo(root: &Path, arguments: &[&str], environment: &[(&str, &str)]) -> Outcome {
    let line = format!("cargo {}", arguments.join(" "));
    let status = command(root, arguments, environment).status();
    match status.map_err(|e| format!("`{line}` could not be started: {e}"))? {
        status if status.success() => Ok(()),
        _ => Err(format!("`{line}` found what is printed above")),
    }
}

/// Builds the program, which installs what the page is made with, then tries the page.
fn page(root: &Path) -> Outcome {
    cargo(root, &["build", "--package", "dryfit-cli", "--locked", "--quiet"], &[])?;
    let built = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), PathBuf::from);
    let program = root.join(built).join("debug").join("dryfit");
    let app = root.join("app");
    npm(&app, &["run", "--silent", "check"])?;
    npm(&app, &["run", "--silent", "test"])?;
    npm(&app, &["run", "--silent", "e2e", "--", &program.display().to_string()])
}

fn npm(app: &Path, arguments: &[&str]) -> Outcome {
    let line = format!("npm {}", arguments.join(" "));
    let status = Command::new("npm").args(arguments).current_dir(app).stdin(Stdio::null()).status();
    match status.map_err(|e| format!("`{line}` could not be started: {e}"))? {
        status if status.success() => Ok(()),
        _ => Err(format!("`{line}` found what is printed above")),
    }
}

/// Runs the tests, passes their lines on as they come, and ends with the sum over all crates.
fn tests(root: &Path) -> Outcome {
    let arguments = ["test", "--workspace", "--locked", "--no-fail-fast"];
    let python = tools::judges_python(root);
    let mut running = command(root, &arguments, &[])
        .env("DRYFIT_JUDGES", python)
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|e| format!("`cargo test` could not be started: {e}"))?;
    let mut sum = Counts::default();
    for line in BufReader::new(running.stdout.take().expect("a pipe was asked for")).lines() {
        let line = line.map_err(|e| format!("cannot read what `cargo test` prints: {e}"))?;
        println!("{line}");
        sum.add(&line);
    }
    let status = running.wait().map_err(|e| format!("`cargo test` was lost: {e}"))?;
    println!("\n{} passed, {} failed, {} skipped", sum.passed, sum.failed, sum.ignored);
    match (status.success(), sum.passed) {
        (true, 0) => Err("`cargo test` ran no test".into()),
        (true, _) => Ok(()),
        (false, _) => Err("`cargo test` found what is printed above".into()),
    }
}

/// The sum of the closing lines of the test runs.
#[derive(Debug, Default, PartialEq, Eq)]
struct Counts {
    passed: usize,
    failed: usize,
    ignored: usize,
}

impl Counts {
    /// Adds a closing line, `test result: ok. 3 passed; 0 failed; 1 ignored; ...`; other lines count nothing.
    fn add(&mut self, line: &str) {
        let Some((_, counts)) = line.strip_prefix("test result: ").and_then(|rest| rest.split_once(". "))
        else {
            return;
        };
        for count in counts.split("; ") {
            match count.split_once(' ').map(|(n, what)| (n.parse::<usize>(), what)) {
                Some((Ok(n), "passed")) => self.passed += n,
                Some((Ok(n), "failed")) => self.failed += n,
                Some((Ok(n), "ignored")) => self.ignored += n,
                _ => {}
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closing_lines_are_summed_and_other_lines_are_not() {
        let mut sum = Counts::default();
        for line in [
            "test result: ok. 3 passed; 0 failed; 1 ignored; 0 measured; 2 filtered out; finished in 0.00s",
            "test a::b ... ok",
            "9 passed; 9 failed",
            "test result: FAILED. 4 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.10s",
        ] {
            sum.add(line);
        }
        assert_eq!(sum, Counts { passed: 7, failed: 2, ignored: 1 });
    }

    #[test]
    fn every_step_has_a_name_and_says_what_it_checks() {
        for (step, _) in STEPS {
            assert!(
                step.split_once(": ").is_some_and(|(name, what)| !name.is_empty() && !what.is_empty()),
                "{step}"
            );
        }
    }
}
