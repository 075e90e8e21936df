//! The judges of a PDF, all from outside: qpdf for its structure, poppler for fonts, pages and text.
#![allow(clippy::disallowed_methods, reason = "a test writes what an outside program reads")]
#![allow(dead_code, reason = "each test file asks its own judges")]

use std::fs;
use std::path::PathBuf;
use std::process::Command;

/// A PDF on disk for the judges.
pub struct Judged {
    path: PathBuf,
}

impl Judged {
    pub fn new(name: &str, pdf: &[u8]) -> Self {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.pdf"));
        fs::write(&path, pdf).expect("the test folder can be written to");
        Judged { path }
    }

    fn ask(&self, program: &str, before: &[&str], after: &[&str]) -> String {
        let run = Command::new(program).args(before).arg(&self.path).args(after).output();
        let run = run.unwrap_or_else(|e| panic!("`{program}` is needed (packages qpdf, poppler-utils): {e}"));
        assert!(run.status.success(), "{program}: {}", String::from_utf8_lossy(&run.stderr));
        String::from_utf8_lossy(&run.stdout).into_owned()
    }

    /// Sound structure and streams, by qpdf.
    pub fn is_sound(&self) {
        let said = self.ask("qpdf", &["--check"], &[]);
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }

    /// Names of the fonts; every one has to be embedded.
    pub fn fonts(&self) -> Vec<String> {
        let listed = self.ask("pdffonts", &[], &[]);
        let rows = listed.lines().skip(2);
        rows.map(|row| {
            let cells: Vec<&str> = row.split_whitespace().collect();
            let emb = cells[cells.len() - 5];
            assert_eq!(emb, "yes", "embedded: {row}");
            cells[0].split('+').next_back().unwrap_or_default().to_owned()
        })
        .collect()
    }

    /// Pages, and the size of the first in points.
    pub fn pages(&self) -> (usize, [f64; 2]) {
        let info = self.ask("pdfinfo", &[], &[]);
        let line =
            |head: &str| info.lines().find_map(|line| line.strip_prefix(head)).unwrap_or_default().trim();
        let size: Vec<f64> = line("Page size:").split_whitespace().filter_map(|w| w.parse().ok()).collect();
        assert_eq!(line("Tagged:"), "yes");
        (line("Pages:").parse().expect("a number of pages"), [size[0], size[1]])
    }

    /// What a reader that follows columns finds, page by page, single spaces between.
    pub fn words(&self) -> Vec<String> {
        self.told(&[]).iter().map(|page| spaced(page, " ")).collect()
    }

    /// The letters of each page in the order in which they were set, without any space.
    pub fn letters(&self) -> Vec<String> {
        self.told(&["-raw"]).iter().map(|page| spaced(page, "")).collect()
    }

    /// The text of each page, its lines as they lie.
    pub fn texts(&self) -> Vec<String> {
        self.told(&["-layout"])
    }

    /// The text of one page (from 1).
    pub fn text(&self, page: usize) -> String {
        self.texts().swap_remove(page - 1)
    }

    /// Pages end with a form feed.
    fn told(&self, mode: &[&str]) -> Vec<String> {
        let text = self.ask("pdftotext", mode, &["-"]);
        text.split_terminator('\u{c}').map(str::to_owned).collect()
    }
}

fn spaced(text: &str, between: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(between)
}
