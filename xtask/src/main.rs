//! The chores of the repository, one file a command: `cargo xtask COMMAND`.
//!
//! Knows nothing of rooms or cabinets, and no crate of the program depends on it.
#![allow(
    clippy::disallowed_methods,
    reason = "chores read files, ask the environment and time their steps; nothing the program prints depends on them"
)]

mod licences;
mod test;
mod tidy;
mod tools;
mod tree;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What a command comes back with: nothing, or the message to end on.
type Outcome = Result<(), String>;

/// A command's name, its line of help, and the function that does it: given the root of the repository and
/// the arguments after the name.
type Command = (&'static str, &'static str, fn(&Path, &[String]) -> Outcome);

const COMMANDS: &[Command] = &[
    ("test", "install what the tests need, then run every check and test there is", test::run),
    ("tools", "install what the tests need where it is missing, and nothing else", tools::run),
    ("tidy", "check the habits of the house: who imports whom, names, sizes, paths, words", tidy::run),
    ("licences", "check that every dependency comes under a licence that may be passed on", licences::run),
];

/// The root of the repository that cargo runs this for; two clones may share one build folder.
fn repository() -> PathBuf {
    let xtask = std::env::var_os("CARGO_MANIFEST_DIR").unwrap_or_else(|| env!("CARGO_MANIFEST_DIR").into());
    Path::new(&xtask).parent().expect("xtask lies inside the repository").to_owned()
}

fn main() -> ExitCode {
    let root = repository();
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let name = arguments.first().map_or("--help", String::as_str);
    if ["--help", "-h", "help"].contains(&name) {
        println!("cargo xtask COMMAND\n");
        for (name, help, _) in COMMANDS {
            println!("  {name:<10}{help}");
        }
        return ExitCode::SUCCESS;
    }
    let Some((_, _, command)) = COMMANDS.iter().find(|(known, _, _)| *known == name) else {
        eprintln!("error: `{name}` is no command; `cargo xtask --help` lists them");
        return ExitCode::from(2);
    };
    match command(&root, &arguments[1..]) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("error: {message}");
            ExitCode::FAILURE
        }
    }
}
