//! Source text, data and fonts in, PDF bytes out.
//!
//! The typesetting engine (Typst) stands alone in this crate, because it takes minutes to compile and nobody
//! else needs it. It works in memory: knows no file, no package, no clock, no font of the system, and nothing
//! of rooms or cupboards. Equal input gives equal bytes.

mod complaint;
mod world;

pub use complaint::{Complaint, Fault};

use typst::comemo;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// One named file that the engine may read: a source (`.typ`) or data (`.json`).
#[derive(Clone, Copy, Debug)]
pub struct File<'a> {
    /// Name within the job, without a folder: `packet.typ`.
    pub name: &'a str,
    /// Its text.
    pub text: &'a str,
}

/// What came out.
#[derive(Clone, Debug)]
pub struct Typeset {
    /// A tagged PDF that follows PDF/UA-1 (ISO 14289-1).
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// What the engine was not content with; a good template gives none.
    pub warnings: Vec<Complaint>,
}

/// Sets the first file in type; it may import or read the others by name.
///
/// The document has to give itself a title and a language, which PDF/UA asks for.
///
/// # Errors
/// Every complaint of the engine, each with file and line: a mistake in the template, data of another shape
/// than the template expects, or a breach of PDF/UA-1.
pub fn typeset(files: &[File<'_>]) -> Result<Typeset, Fault> {
    let world = world::Desk::new(files)?;
    let compiled = typst::compile::<PagedDocument>(&world);
    let warnings = compiled.warnings.iter().map(|d| Complaint::locate(d, &world)).collect();
    let document = compiled.output.map_err(|all| Fault::locate(&all, &world))?;
    let standards = PdfStandards::new(&[PdfStandard::Ua_1])
        .map_err(|e| Fault::plain(format!("the engine refuses PDF/UA-1: {}", e.message())))?;
    let options = PdfOptions { creator: Smart::Custom(None), standards, ..PdfOptions::default() };
    let pdf = typst_pdf::pdf(&document, &options).map_err(|all| Fault::locate(&all, &world))?;
    let pages = document.pages().len();
    // the engine remembers what it laid out, for the next run; without this, a long-lived process only grows
    comemo::evict(4);
    Ok(Typeset { pdf, pages, warnings })
}

/// Whether the typeface has a letter for this character. One that has none cannot be set: PDF/UA-1 forbids the
/// empty box that would stand for it (ISO 14289-1, 7.21.8).
///
/// ```
/// use dryfit_typeset::covers;
/// assert!("22 13/16 × ½ − é".chars().all(covers));
/// assert!(!covers('木'));
/// ```
pub fn covers(character: char) -> bool {
    world::desk_fonts().iter().all(|font| font.info().coverage.contains(u32::from(character)))
}
