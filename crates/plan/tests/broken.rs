//! Each broken plan beside the faults that are found in it, word for word.
//!
//! `UPDATE=1 cargo test -p dryfit-plan --test broken` writes the expected messages anew; look at each.
#![expect(clippy::disallowed_methods, reason = "the plans and their messages are files")]

use std::path::{Path, PathBuf};

use dryfit_plan::Plan;

fn broken_plans() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/broken");
    let files = std::fs::read_dir(folder).expect("the folder of broken plans");
    let mut plans: Vec<PathBuf> = files.map(|file| file.expect("a file").path()).collect();
    plans.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    plans.sort();
    plans
}

fn said_of(path: &Path) -> String {
    let bytes = std::fs::read(path).expect("a broken plan");
    let text = String::from_utf8_lossy(&bytes);
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let faults = Plan::from_toml_bytes(&bytes).map(|_| ()).expect_err(&name);
    faults.iter().map(|fault| fault.shown(&name, &text)).collect::<Vec<String>>().join("\n")
}

#[test]
fn every_broken_plan_says_what_is_wrong() {
    let update = std::env::var("UPDATE").is_ok();
    let plans = broken_plans();
    assert!(plans.len() >= 30, "{}", plans.len());
    let mut unlike = Vec::new();
    for path in plans {
        let said = said_of(&path);
        let beside = path.with_extension("txt");
        if update {
            std::fs::write(&beside, &said).expect("a message written");
        } else if std::fs::read_to_string(&beside).unwrap_or_default() != said {
            unlike.push(format!("{}:\n{said}", path.display()));
        }
    }
    assert!(unlike.is_empty(), "{}", unlike.join("\n\n"));
}

#[test]
fn messages_keep_to_the_style() {
    for path in broken_plans() {
        for line in
            said_of(&path).lines().filter(|line| line.starts_with("fault: ") || line.starts_with("  fix: "))
        {
            let said = line[7..].trim();
            assert!(!said.ends_with('.') || said.ends_with(".."), "a full stop: {line}");
            assert!(!said.to_lowercase().contains("invalid"), "says nothing: {line}");
            let first = said.chars().next().expect("a message");
            assert!(!first.is_uppercase() || said.starts_with("TOML"), "a capital: {line}");
        }
    }
}
