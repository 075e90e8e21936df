//! `cargo xtask tools`: installs what the tests need where it is missing, so that a fresh machine with Rust, Node
//! and Python runs them with one command.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{env, fs};

use crate::Outcome;

/// Programs that judge the printed packet and show the page, each with the Debian package it comes in.
const PROGRAMS: &[(&str, &str)] = &[
    ("qpdf", "qpdf"),
    ("pdftotext", "poppler-utils"),
    ("pdftoppm", "poppler-utils"),
    ("chromium", "chromium"),
];

/// The pins of the Python judges, and the folder of their environment.
const PINS: &str = "judges.txt";
const FOLDER: &str = "judges";

/// Installs all of it under `root`, saying what it does only when it does something.
///
/// # Errors
/// When something is missing and cannot be installed from here; the message says what to install by hand.
pub fn run(root: &Path, _arguments: &[String]) -> Outcome {
    programs()?;
    judges(root)?;
    validator(root)
}

/// The Python that the tests ask: the one named in `DRYFIT_JUDGES`, which `.cargo/config.toml` sets unless the
/// environment does.
pub fn judges_python(root: &Path) -> PathBuf {
    env::var_os("DRYFIT_JUDGES").map_or_else(|| own_python(root), PathBuf::from)
}

fn own_python(root: &Path) -> PathBuf {
    root.join(FOLDER).join("bin/python")
}

/// Whether `python` is the one of the repository, through whichever link the root was reached.
fn is_own(root: &Path, python: &Path) -> bool {
    let Some(their_root) = python.ancestors().nth(3) else { return false };
    let same_root = match (fs::canonicalize(root), fs::canonicalize(their_root)) {
        (Ok(ours), Ok(theirs)) => ours == theirs,
        _ => false,
    };
    same_root && python.strip_prefix(their_root).is_ok_and(|rest| own_python(root) == root.join(rest))
}

fn programs() -> Outcome {
    let found = |program: &str| {
        let paths = env::var_os("PATH").unwrap_or_default();
        env::split_paths(&paths).any(|folder| folder.join(program).is_file())
    };
    let missing = PROGRAMS.iter().filter(|(program, _)| !found(program));
    let mut packages: Vec<&str> = missing.map(|(_, package)| *package).collect();
    packages.dedup();
    if packages.is_empty() {
        return Ok(());
    }
    let by_hand =
        format!("install {} with the system's package manager, then run again", packages.join(" and "));
    if !found("apt-get") {
        return Err(format!(
            "the tests need {}, and there is no apt-get here: {by_hand}",
            packages.join(" and ")
        ));
    }
    install(&packages, found("sudo")).map_err(|said| format!("{said}: {by_hand}"))
}

fn install(packages: &[&str], has_sudo: bool) -> Outcome {
    let is_root = Command::new("id").arg("-u").output().is_ok_and(|id| id.stdout.trim_ascii() == b"0");
    let prefix: &[&str] = match (is_root, has_sudo) {
        (true, _) => &["env"],
        (false, true) => &["sudo", "-n", "env"],
        (false, false) => return Err("`apt-get` needs root, and there is no sudo here".into()),
    };
    println!("installing {} by apt-get", packages.join(", "));
    for arguments in
        [&["update", "-qq"][..], &[&["install", "-qq", "--no-install-recommends"], packages].concat()]
    {
        let mut command = Command::new(prefix[0]);
        command
            .args(&prefix[1..])
            .args(["DEBIAN_FRONTEND=noninteractive", "apt-get", "-y", "-o", "Acquire::Retries=3"])
            .args(arguments);
        quietly(&mut command)?;
    }
    Ok(())
}

/// Makes the Python environment when it is missing or made from other pins. It counts as made only once the
/// copy of the pins lies in it, so one that was broken off is made again.
fn judges(root: &Path) -> Outcome {
    let python = judges_python(root);
    if !is_own(root, &python) {
        return if python.is_file() {
            Ok(())
        } else {
            Err(format!(
                "`DRYFIT_JUDGES` names `{}`, which is no file: unset it, or name a Python",
                python.display()
            ))
        };
    }
    let folder = root.join(FOLDER);
    let pins = fs::read_to_string(root.join(PINS)).map_err(|e| format!("cannot read `{PINS}`: {e}"))?;
    let made_from = folder.join(PINS);
    if python.is_file() && fs::read_to_string(&made_from).is_ok_and(|made| made == pins) {
        return Ok(());
    }
    println!("making the Python environment `{FOLDER}` from `{PINS}`");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|e| format!("cannot remove the old `{FOLDER}`: {e}"))?;
    }
    quietly(Command::new("python3").args(["-m", "venv"]).arg(&folder)).map_err(|said| {
        format!("{said}: install Python 3.11 or newer with its venv module, then run again")
    })?;
    let mut pip = Command::new(&python);
    pip.args([
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--no-input",
        "--requirement",
    ]);
    quietly(pip.arg(root.join(PINS)))?;
    fs::write(&made_from, pins).map_err(|e| format!("cannot write `{}`: {e}", made_from.display()))
}

/// Where the package that judges 3-D scenes is installed, from its lock.
const VALIDATOR: &str = "crates/drawing/tests/validator";

/// Installs what judges 3-D scenes when it is missing or made from another lock. It counts as made only once the copy
/// of the lock lies in it.
fn validator(root: &Path) -> Outcome {
    let folder = root.join(VALIDATOR);
    let lock = folder.join("package-lock.json");
    let wanted = fs::read_to_string(&lock).map_err(|e| format!("cannot read `{}`: {e}", lock.display()))?;
    let made_from = folder.join("node_modules/made-from.json");
    if fs::read_to_string(&made_from).is_ok_and(|made| made == wanted) {
        return Ok(());
    }
    println!("installing what judges 3-D scenes into `{VALIDATOR}`");
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let mut install = Command::new(npm);
    quietly(install.args(["ci", "--ignore-scripts", "--prefer-offline"]).current_dir(&folder))
        .map_err(|said| format!("{said}: install Node 20 or newer with npm, then run again"))?;
    fs::write(&made_from, wanted).map_err(|e| format!("cannot write `{}`: {e}", made_from.display()))
}

/// Runs `command` without input, and shows what it printed only when it failed.
fn quietly(command: &mut Command) -> Outcome {
    let name = format!("{} {}", command.get_program().display(), line_of_arguments(command));
    let done =
        command.stdin(Stdio::null()).output().map_err(|e| format!("`{name}` could not be started ({e})"))?;
    if done.status.success() {
        return Ok(());
    }
    eprint!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    Err(format!("`{name}` failed ({})", done.status))
}

fn line_of_arguments(command: &Command) -> String {
    let arguments: Vec<String> = command.get_args().map(|a| a.display().to_string()).collect();
    arguments.join(" ")
}
