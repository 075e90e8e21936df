//! The command line: a door, no logic. One file a command; here they are named, and their outcome becomes the
//! exit code: 0 fine, 1 the plan has a *stop* finding or the job cannot be done, 2 the input cannot be read.

mod check;
mod cut;
mod demo;
mod export;
mod file;
mod fix;
mod open;
mod packet;
mod progress;
mod said;
mod schema;
mod why;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use said::Outcome;

/// Dry-fit the whole room before you cut the first board.
///
/// State the room as measured and what you wish for in a plan; everything else is computed from it, checked,
/// explained, drawn and priced.
#[derive(Parser)]
#[command(name = "dryfit", version, after_help = AFTER_HELP)]
struct Line {
    #[command(subcommand)]
    command: Option<Command>,
}

const AFTER_HELP: &str = "\
Begin with:  dryfit demo
Exit codes:  0 fine, 1 something will not do (a stop finding), 2 the input cannot be read";

#[derive(Subcommand)]
enum Command {
    Demo(demo::Demo),
    Check(check::Check),
    Packet(packet::Packet),
    Why(why::Why),
    Fix(fix::Fix),
    Cut(cut::Cut),
    Schema(schema::Schema),
    Open(open::Open),
    New(file::New),
    History(file::History),
    Undo(file::Undo),
    Redo(file::Redo),
    Export(export::Export),
}

fn main() -> ExitCode {
    let line = Line::parse();
    let outcome = match line.command.unwrap_or_else(|| Command::Open(open::Open::default())) {
        Command::Demo(demo) => demo.run(),
        Command::Check(check) => check.run(),
        Command::Packet(packet) => packet.run(),
        Command::Why(why) => why.run(),
        Command::Fix(fix) => fix.run(),
        Command::Cut(cut) => cut.run(),
        Command::Schema(schema::Schema {}) => schema::Schema::run(),
        Command::Open(open) => open.run(),
        Command::New(new) => new.run(),
        Command::History(history) => history.run(),
        Command::Undo(undo) => undo.run(),
        Command::Redo(redo) => redo.run(),
        Command::Export(export) => export.run(),
    };
    match outcome {
        Ok(Outcome::Fine) => ExitCode::SUCCESS,
        Ok(Outcome::WillNotDo) => ExitCode::from(1),
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::from(2)
        }
    }
}
