//! `dryfit open`: the page.

use std::io::IsTerminal as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use clap::Args;
use dryfit_project::Desk;
use dryfit_web::{Clock, serve};

use crate::file::now;
use crate::said::{Ended, Fault, Outcome, say};

/// Open the page: a project, a text plan, or what was open last
#[derive(Args, Default)]
pub struct Open {
    /// The project, or a text plan (.toml) to make one of beside it
    file: Option<PathBuf>,
    /// Only say the address
    #[arg(long = "no-open")]
    only_say: bool,
    /// The port to listen at, on this machine alone; 0 is any that is free
    #[arg(long, default_value_t = 0)]
    port: u16,
}

impl Open {
    /// The page on a project or a plan.
    pub fn of(file: &Path) -> Open {
        Open { file: Some(file.to_owned()), ..Open::default() }
    }

    /// Serves the page until it is interrupted.
    pub fn run(self) -> Ended {
        let folder = std::env::current_dir()?;
        let mut desk = Desk::new(folder, remembers());
        if let Some(file) = self.file.clone().or_else(|| desk.last()) {
            match desk.open(&file, &now()) {
                Ok(()) => {}
                // what was open last is offered, not insisted on
                Err(fault) if self.file.is_none() => say(&format!("{fault}\n"))?,
                Err(fault) => return Err(fault.into()),
            }
        }
        serve_desk(desk, self.port, !self.only_say)
    }
}

/// Serves a desk, says where, and shows it where there is a display.
pub fn serve_desk(desk: Desk, port: u16, show: bool) -> Ended {
    let clock = Clock { now, today };
    let trouble = serve(desk, port, clock, |address| {
        // a reader that went away is no fault, and the page is served all the same
        let _ = say(&format!("page:   {address}\n        (Ctrl C ends it; every edit is kept)\n"));
        if show {
            browse(address);
        }
    })?;
    match trouble {
        None => Ok(Outcome::Fine),
        Some(said) => Err(Fault::from(said)),
    }
}

/// The day, as a packet bears it.
fn today() -> String {
    jiff::Zoned::now().strftime("%-d %B %Y").to_string()
}

/// Where it is remembered which projects were open (XDG Base Directory, `XDG_STATE_HOME`).
fn remembers() -> Option<PathBuf> {
    let own = std::env::var_os("XDG_STATE_HOME").map(PathBuf::from).filter(|path| path.is_absolute());
    let home = || std::env::home_dir().map(|home| home.join(".local").join("state"));
    Some(own.or_else(home)?.join("dryfit").join("open-last"))
}

/// Shows an address in the browser of the system, where there is somebody to see it.
fn browse(address: &str) {
    let graphical = cfg!(any(windows, target_os = "macos"))
        || ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some());
    if !graphical || !std::io::stdout().is_terminal() {
        return;
    }
    let (program, before): (&str, &[&str]) = if cfg!(windows) {
        ("rundll32", &["url.dll,FileProtocolHandler"])
    } else if cfg!(target_os = "macos") {
        ("open", &[])
    } else {
        ("xdg-open", &[])
    };
    let quiet = Command::new(program)
        .args(before)
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    // the address was said; without a browser it is opened by hand
    drop(quiet);
}
