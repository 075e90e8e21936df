//! `cargo xtask licences`: every dependency comes under a licence that lets the program be passed on under MIT or
//! Apache-2.0. Reads Cargo's metadata and npm's lock files.

use std::path::Path;
use std::process::Command;

use serde_json::Value;
use spdx::{Expression, ParseMode};

use crate::Outcome;
use crate::tree::Tree;

/// SPDX identifiers that are accepted. MPL-2.0 binds only its own files; OFL-1.1 is that of the fonts.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BlueOak-1.0.0",
    "BSD-1-Clause",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "NCSA",
    "OFL-1.1",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "Unlicense",
    "Zlib",
];

/// Names each dependency of the repository at `root` whose licence is not on the list.
///
/// # Errors
/// When there is one, or the metadata cannot be had.
pub fn run(root: &Path, _arguments: &[String]) -> Outcome {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let asked = Command::new(cargo)
        .args(["metadata", "--format-version=1", "--locked"])
        .current_dir(root)
        .output()
        .map_err(|e| format!("`cargo metadata` could not be started: {e}"))?;
    if !asked.status.success() {
        return Err(format!("`cargo metadata` failed: {}", String::from_utf8_lossy(&asked.stderr).trim()));
    }
    let metadata = parse("the answer of `cargo metadata`", &String::from_utf8_lossy(&asked.stdout))?;
    let mut refused: Vec<String> =
        crates(&metadata).filter_map(|(name, licence)| judge(&name, licence)).collect();
    let tree = Tree::read(root)?;
    for lock in tree.ending(&["package-lock.json"]) {
        let text = parse(&lock.path, &lock.text)?;
        refused.extend(npm_packages(&text).filter_map(|(name, licence)| judge(&name, licence)));
    }
    for line in &refused {
        println!("{line}");
    }
    match refused.len() {
        0 => Ok(()),
        1 => Err("1 dependency comes under a licence that is not on the list".into()),
        n => Err(format!("{n} dependencies come under licences that are not on the list")),
    }
}

fn parse(what: &str, text: &str) -> Result<Value, String> {
    serde_json::from_str(text).map_err(|e| format!("{what} is not JSON: {e}"))
}

/// Each crate of Cargo's metadata with its licence expression.
fn crates(metadata: &Value) -> impl Iterator<Item = (String, Option<&str>)> {
    metadata["packages"].as_array().into_iter().flatten().map(|package| {
        let (name, version) = (&package["name"], &package["version"]);
        let name = format!("{} {}", name.as_str().unwrap_or("?"), version.as_str().unwrap_or("?"));
        (name, package["license"].as_str())
    })
}

/// Each package of an npm lock with its licence expression.
fn npm_packages(lock: &Value) -> impl Iterator<Item = (String, Option<&str>)> {
    lock["packages"].as_object().into_iter().flatten().filter(|(path, _)| !path.is_empty()).map(
        |(path, package)| {
            let name = path.rsplit("node_modules/").next().unwrap_or(path);
            (format!("{name} {}", package["version"].as_str().unwrap_or("?")), package["license"].as_str())
        },
    )
}

/// What is wrong with the licence of dependency `name`; `None` when nothing is.
fn judge(name: &str, licence: Option<&str>) -> Option<String> {
    let remedy = "take another crate, or add the licence to `xtask/src/licences.rs` once it was read";
    let Some(licence) = licence else { return Some(format!("{name}: no licence stated; {remedy}")) };
    match Expression::parse_mode(licence, ParseMode::LAX) {
        Err(e) => Some(format!("{name}: licence `{licence}` cannot be read ({}); {remedy}", e.reason)),
        Ok(terms)
            if terms.evaluate(|term| term.license.id().is_some_and(|id| ALLOWED.contains(&id.name))) =>
        {
            None
        }
        Ok(_) => Some(format!("{name}: licence `{licence}` is not on the list; {remedy}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_may_be_passed_on_passes() {
        for licence in [
            "MIT",
            "MIT OR Apache-2.0",
            "MIT/Apache-2.0",
            "Apache-2.0 / MIT",
            "GPL-3.0-only OR MIT",
            "Apache-2.0 WITH LLVM-exception",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "MIT AND OFL-1.1",
            "Zlib OR Apache-2.0 OR MIT",
        ] {
            assert_eq!(judge("a 1.0.0", Some(licence)), None, "{licence}");
        }
    }

    #[test]
    fn what_may_not_is_named_with_its_licence() {
        for licence in ["GPL-3.0-only", "MIT AND AGPL-3.0-only", "LGPL-2.1-or-later", "SSPL-1.0"] {
            let said = judge("a 1.0.0", Some(licence)).expect("a refusal");
            assert!(said.starts_with(&format!("a 1.0.0: licence `{licence}` is not on the list")), "{said}");
        }
        assert!(judge("a 1.0.0", None).is_some_and(|said| said.starts_with("a 1.0.0: no licence stated")));
        assert!(judge("a 1.0.0", Some("see file")).is_some_and(|said| said.contains("cannot be read")));
    }

    #[test]
    fn crates_and_packages_are_found_in_what_the_tools_write() {
        let cargo = parse(
            "",
            r#"{"packages": [{"name": "a", "version": "1.0.0", "license": "MIT"}, {"name": "b", "version": "2.0.0", "license": null}]}"#,
        );
        let cargo = cargo.expect("JSON");
        assert_eq!(
            crates(&cargo).collect::<Vec<_>>(),
            [("a 1.0.0".into(), Some("MIT")), ("b 2.0.0".into(), None)]
        );
        let npm = parse(
            "",
            r#"{"packages": {"": {"license": "MIT"}, "node_modules/@x/y": {"version": "3.0.0", "license": "OFL-1.1"}}}"#,
        );
        let npm = npm.expect("JSON");
        assert_eq!(npm_packages(&npm).collect::<Vec<_>>(), [("@x/y 3.0.0".into(), Some("OFL-1.1"))]);
    }
}
