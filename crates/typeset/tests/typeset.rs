//! The engine set to small jobs: what comes out, and what is said when nothing can.

use dryfit_typeset::{File, typeset};

const PREAMBLE: &str =
    "#set document(title: \"A job\", date: none)\n#set text(lang: \"en\", font: \"IBM Plex Sans\")\n";

fn job(body: &str) -> String {
    format!("{PREAMBLE}{body}")
}

#[test]
fn sets_data_of_another_file_in_type() {
    let main = job("#for row in json(\"rows.json\") [#row #pagebreak(weak: true)]");
    let files =
        [File { name: "main.typ", text: &main }, File { name: "rows.json", text: "[\"one\", \"two\"]" }];
    let set = typeset(&files).expect("a sound job");
    assert_eq!(set.pages, 2);
    assert_eq!(set.warnings, []);
    assert!(set.pdf.starts_with(b"%PDF-1.7"));
    assert!(
        set.pdf.windows(12).any(|w| w == b"pdfuaid:part"),
        "the metadata declare PDF/UA (ISO 14289-1, clause 5)"
    );
}

#[test]
fn equal_input_gives_equal_bytes() {
    let main = job("= Head\n#lorem(300)");
    let once = typeset(&[File { name: "main.typ", text: &main }]).expect("a sound job");
    let again = typeset(&[File { name: "main.typ", text: &main }]).expect("a sound job");
    assert_eq!(once.pdf, again.pdf);
}

#[test]
fn a_mistake_is_named_with_file_and_line() {
    let main = job("#import \"part.typ\": draw\n#draw()");
    let part = "\n\n#let draw() = nosuch";
    let files = [File { name: "main.typ", text: &main }, File { name: "part.typ", text: part }];
    let fault = typeset(&files).expect_err("an unknown name");
    assert_eq!(fault.to_string(), "part.typ:3: unknown variable: nosuch");
}

#[test]
fn a_missing_file_is_named() {
    let main = job("#json(\"rows.json\")");
    let fault = typeset(&[File { name: "main.typ", text: &main }]).expect_err("no such file");
    assert_eq!(fault.to_string(), "main.typ:3: file not found (searched at rows.json)");
}

#[test]
fn what_is_not_accessible_is_refused() {
    let main = "#set text(font: \"IBM Plex Sans\")\nno title";
    let fault = typeset(&[File { name: "main.typ", text: main }]).expect_err("PDF/UA asks for a title");
    assert!(fault.to_string().contains("title"), "{fault}");
}

#[test]
fn another_typeface_is_warned_of() {
    let main = job("#text(font: \"No Such Face\")[x]");
    let set = typeset(&[File { name: "main.typ", text: &main }]).expect("falls back");
    assert_eq!(set.warnings.len(), 1);
    assert!(set.warnings[0].to_string().starts_with("main.typ:3: unknown font family: no such face"));
}

#[test]
fn an_empty_job_is_a_fault() {
    assert_eq!(typeset(&[]).expect_err("nothing to do").to_string(), "there is no file to set in type");
}
