//! The repository speaks of the project alone: no folder of a machine, no registry's address, no tracker's number.

use regex_lite::Regex;

use super::Problem;
use crate::tree::{Source, Tree, line_of};

/// What is looked for, what it is called, and the remedy. The first group of each is what is shown.
///
/// A folder counts where a path begins, so `app/home/` passes; `/work/set~1b3` is a place in a plan (an escaped
/// `set/b3`, RFC 6901), no folder.
const PATTERNS: &[(&str, &str, &str)] = &[
    (
        r"(?:^|[^\w.~/-])(/(?:tmp|root|home|Users)/[\w.-]*)",
        "a path of one machine",
        "say it relative to the root",
    ),
    (r"(?:^|[^\w.~/-])(/work/[\w.~-]*)", "a path of one machine", "say it relative to the root"),
    (r"(\.\./shared\b)", "a path outside the repository", "copy what is needed into the repository"),
    (
        r"(?i)\b((?:index|static)\.crates\.io|crates\.io\b/|registry\.npmjs\.org|registry\.yarnpkg\.com|pypi\.org|pythonhosted\.org|deb\.debian\.org)",
        "a registry's address",
        "name the package alone",
    ),
    (r"(?i)\b(issue #?\d+)\b", "a number of the tracker", "say what it was about"),
];

/// The rules themselves name what they forbid.
pub const OWN_FOLDER: &str = "xtask/src/tidy";

pub fn check(tree: &Tree) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (pattern, what, remedy) in PATTERNS {
        let pattern = Regex::new(pattern).expect("a pattern of ours compiles");
        for source in tree.sources.iter().filter(|source| !source.path.starts_with(OWN_FOLDER)) {
            for found in pattern.captures_iter(&source.text) {
                let Some(shown) = found.get(1).filter(|shown| !is_plan_address(shown.as_str())) else {
                    continue;
                };
                let line = line_of(&source.text, shown.start());
                problems.push(Problem::new(
                    &source.path,
                    line,
                    format!("{what}: `{}`", shown.as_str()),
                    *remedy,
                ));
            }
        }
    }
    problems.extend(tree.sources.iter().flat_map(check_lock));
    problems
}

fn is_plan_address(path: &str) -> bool {
    path.starts_with("/work/") && path.contains("~1")
}

/// A lock file names versions and digests, never where a package was fetched from; `Cargo.lock` may name the
/// default index, as Cargo always does.
fn check_lock(source: &Source) -> Vec<Problem> {
    const DEFAULT_INDEX: &str = "source = \"registry+https://github.com/rust-lang/crates.io-index\"";
    let name = source.path.rsplit('/').next().unwrap_or_default();
    let mut problems = Vec::new();
    for (index, line) in source.text.lines().map(str::trim).enumerate() {
        let (what, remedy) = match name {
            "Cargo.lock" if line.starts_with("source = ") && line != DEFAULT_INDEX => {
                ("a source other than the default index", "take the crate from the default index by its name")
            }
            "package-lock.json" | "npm-shrinkwrap.json" if line.starts_with("\"resolved\": \"http") => (
                "a download address",
                "set `omit-lockfile-registry-resolved=true` in `.npmrc` and lock again",
            ),
            ".npmrc" if line.contains("registry=") || line.contains("registry =") => {
                ("a registry of one's own", "leave the registry to the machine that installs")
            }
            "judges.txt" if line.contains("-url") || line.contains("://") => {
                ("a download address", "name the package and its version alone")
            }
            _ => continue,
        };
        problems.push(Problem::new(&source.path, index + 1, what, remedy));
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(path: &str, text: &str) -> Vec<(usize, String)> {
        check(&Tree::of(&[(path, text)])).into_iter().map(|problem| (problem.line, problem.what)).collect()
    }

    #[test]
    fn paths_of_the_repository_and_of_a_plan_pass() {
        let text = "crates/app/home/a.ts /work/set~1b3/done ~/tmp/x docs.rs/crate crates.io-index the issue of 2 pages";
        assert_eq!(found("a.md", text), []);
    }

    #[test]
    fn a_path_of_a_machine_fails() {
        for path in ["/work/main", "/tmp/x.pdf", "/root/.cargo", "/home/me", "/Users/me"] {
            assert_eq!(
                found("a.rs", &format!("\nread(\"{path}/b\")")),
                [(2, format!("a path of one machine: `{path}`"))]
            );
        }
        assert_eq!(found("a.md", "see ../shared/house.md").len(), 1);
    }

    #[test]
    fn a_registrys_address_fails() {
        for host in
            ["index.crates.io", "registry.npmjs.org", "pypi.org", "files.pythonhosted.org", "deb.debian.org"]
        {
            assert_eq!(found("a.toml", &format!("x = \"https://{host}/a\"")).len(), 1, "{host}");
        }
    }

    #[test]
    fn a_number_of_the_tracker_fails() {
        assert_eq!(found("a.md", "as Issue 2 says"), [(1, "a number of the tracker: `Issue 2`".into())]);
    }

    #[test]
    fn a_lock_that_names_versions_and_digests_passes() {
        let cargo = "source = \"registry+https://github.com/rust-lang/crates.io-index\"\n";
        assert_eq!(found("Cargo.lock", cargo), []);
        let npm = "\"version\": \"1\",\n\"funding\": { \"url\": \"https://example.org\" }\n";
        assert_eq!(found("app/package-lock.json", npm), []);
        assert_eq!(found(".npmrc", "omit-lockfile-registry-resolved=true\n"), []);
        assert_eq!(found("judges.txt", "numpy==2.4.6\n"), []);
    }

    #[test]
    fn a_lock_that_names_an_address_fails() {
        for (path, text) in [
            ("Cargo.lock", "source = \"sparse+https://mirror.example/\""),
            ("Cargo.lock", "source = \"git+https://example.org/a\""),
            ("crates/fonts/package-lock.json", "  \"resolved\": \"https://mirror.example/a.tgz\","),
            ("app/.npmrc", "registry=https://mirror.example"),
            ("judges.txt", "--index-url https://mirror.example"),
        ] {
            assert_eq!(found(path, text).len(), 1, "{path}: {text}");
        }
    }
}
