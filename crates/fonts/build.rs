//! Installs the font package beside the build and copies its faces and licence into `OUT_DIR`.
//!
//! The install happens in `OUT_DIR`, from copies of `package.json` and its lock, so the source tree stays
//! as it was checked out. Cargo runs this again only when one of the three files below changes.
#![allow(
    clippy::disallowed_methods,
    reason = "a build script reads and writes files and asks cargo's environment"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, exit};
use std::{env, fs};

const PACKAGE: &str = "node_modules/@expo-google-fonts/ibm-plex-sans";

/// What is taken from the package, and the name it is embedded under.
const TAKEN: [(&str, &str); 5] = [
    ("400Regular/IBMPlexSans_400Regular.ttf", "400.ttf"),
    ("500Medium/IBMPlexSans_500Medium.ttf", "500.ttf"),
    ("600SemiBold/IBMPlexSans_600SemiBold.ttf", "600.ttf"),
    ("700Bold/IBMPlexSans_700Bold.ttf", "700.ttf"),
    ("LICENSE_FONT", "LICENCE"),
];

const INPUTS: [&str; 3] = ["package.json", "package-lock.json", ".npmrc"];

fn main() {
    for input in INPUTS.iter().chain(&["build.rs"]) {
        println!("cargo::rerun-if-changed={input}");
    }
    if let Err(message) = install() {
        println!("cargo::error={message}");
        exit(1);
    }
}

fn install() -> Result<(), String> {
    let source = PathBuf::from(env::var("CARGO_MANIFEST_DIR").map_err(|e| e.to_string())?);
    let out = PathBuf::from(env::var("OUT_DIR").map_err(|e| e.to_string())?);
    let npm_dir = out.join("npm");
    fs::create_dir_all(&npm_dir).map_err(|e| format!("cannot make `{}`: {e}", npm_dir.display()))?;
    for input in INPUTS {
        copy(&source.join(input), &npm_dir.join(input))?;
    }
    npm_ci(&npm_dir)?;
    for (from, to) in TAKEN {
        copy(&npm_dir.join(PACKAGE).join(from), &out.join(to))?;
    }
    // 4 MB of weights and italics that nothing embeds
    fs::remove_dir_all(npm_dir.join("node_modules")).map_err(|e| format!("cannot tidy up after npm: {e}"))
}

fn npm_ci(dir: &Path) -> Result<(), String> {
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let run =
        Command::new(npm).args(["ci", "--ignore-scripts", "--prefer-offline"]).current_dir(dir).output();
    match run {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
            Err("`npm` was not found, and the fonts come by it: install Node 20 or newer, then build again"
                .into())
        }
        Err(e) => {
            Err(format!("`npm` could not be started ({e}): install Node 20 or newer, then build again"))
        }
        Ok(done) if done.status.success() => Ok(()),
        Ok(done) => {
            // `cargo::error` takes one line; the first few of npm's name the cause, the rest is its own stack
            let said = String::from_utf8_lossy(&done.stderr);
            let said = said.lines().map(|line| line.trim_start_matches("npm error").trim());
            let said: Vec<&str> = said.filter(|line| !line.is_empty()).take(4).collect();
            Err(format!(
                "`npm ci` could not install the fonts ({}); the first build needs the npm registry: {}",
                done.status,
                said.join(" / ")
            ))
        }
    }
}

fn copy(from: &Path, to: &Path) -> Result<(), String> {
    fs::copy(from, to).map(|_| ()).map_err(|e| format!("cannot copy `{}`: {e}", from.display()))
}
