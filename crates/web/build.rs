//! Builds the page: installs what it is made with where that is missing, and makes it into `OUT_DIR`.
#![allow(
    clippy::disallowed_methods,
    reason = "a build script reads and writes files and asks cargo's environment"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, exit};
use std::{env, fs};

/// What the page is made of; a change of any makes it anew.
const INPUTS: [&str; 8] = [
    "src",
    "public",
    "index.html",
    "package.json",
    "package-lock.json",
    "vite.config.ts",
    "svelte.config.js",
    "tsconfig.json",
];

fn main() {
    if let Err(message) = build() {
        println!("cargo::error={message}");
        exit(1);
    }
}

fn build() -> Result<(), String> {
    let crate_folder = PathBuf::from(env::var("CARGO_MANIFEST_DIR").map_err(|e| e.to_string())?);
    let app = crate_folder.join("../../app");
    println!("cargo::rerun-if-changed=build.rs");
    for input in INPUTS {
        println!("cargo::rerun-if-changed={}", app.join(input).display());
    }
    install(&app)?;
    let page = PathBuf::from(env::var("OUT_DIR").map_err(|e| e.to_string())?).join("page");
    // no asset of an earlier build stays embedded
    if page.exists() {
        fs::remove_dir_all(&page).map_err(|e| format!("cannot empty `{}`: {e}", page.display()))?;
    }
    let out = page.display().to_string();
    npm(&app, &["run", "--silent", "build", "--", "--outDir", &out, "--emptyOutDir", "--logLevel", "error"])
}

/// Installs what the lock names, unless that is what lies there already.
fn install(app: &Path) -> Result<(), String> {
    let lock = fs::read(app.join("package-lock.json")).map_err(|e| format!("the page has no lock: {e}"))?;
    let made_from = app.join("node_modules/.made-from");
    if fs::read(&made_from).is_ok_and(|made| made == lock) {
        return Ok(());
    }
    npm(app, &["ci", "--ignore-scripts", "--prefer-offline"])?;
    fs::write(&made_from, lock).map_err(|e| format!("cannot write `{}`: {e}", made_from.display()))
}

fn npm(app: &Path, arguments: &[&str]) -> Result<(), String> {
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let line = format!("npm {}", arguments.join(" "));
    match Command::new(npm).args(arguments).current_dir(app).output() {
        Err(e) => {
            Err(format!("`{line}` could not be started ({e}): install Node 20 or newer, then build again"))
        }
        Ok(done) if done.status.success() => Ok(()),
        Ok(done) => {
            // `cargo::error` takes one line
            let said = [done.stderr, done.stdout].concat();
            let said = String::from_utf8_lossy(&said);
            let lines: Vec<&str> =
                said.lines().map(str::trim).filter(|line| !line.is_empty()).take(6).collect();
            Err(format!("`{line}` failed ({}): {}", done.status, lines.join(" / ")))
        }
    }
}
