//! What is being done, for whoever watches a terminal; silent when nobody does.

use std::io::{IsTerminal, Write};

/// A line that says what is being done, and is wiped away when it is done.
pub struct Doing {
    shown: bool,
}

impl Doing {
    /// Says it, if somebody watches.
    pub fn now(what: &str) -> Doing {
        let shown = std::io::stderr().is_terminal();
        if shown {
            eprint!("\r\x1b[2K{what} ...");
            let _ = std::io::stderr().flush();
        }
        Doing { shown }
    }
}

impl Drop for Doing {
    fn drop(&mut self) {
        if self.shown {
            eprint!("\r\x1b[2K");
            let _ = std::io::stderr().flush();
        }
    }
}
