//! A project in forms that other programs open, open standards all of them: one file of this folder a form.
//!
//! Each gives named files in memory; [`lay_down`] writes them. Nothing here asks the clock or the machine: the same
//! project gives the same bytes.

mod calendar;
mod data;
mod tables;

use std::path::{Path, PathBuf};

use dryfit_drawing::solid::scene;
use dryfit_drawing::{Drawing, dxf, glb, svg, views};

use crate::files::{Overwrite, WriteFault, write};
use crate::open::Project;

/// Forms that a project is exported in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Form {
    /// Every drawing as SVG.
    Svg,
    /// Every drawing as DXF, in real-world units.
    Dxf,
    /// Cut list and buying list as CSV (RFC 4180).
    Csv,
    /// What there is to order and to do as iCalendar (RFC 5545).
    Ics,
    /// The room in 3-D as binary glTF.
    Glb,
    /// The plan and what follows from it as JSON.
    Json,
    /// The plan as TOML, comments and all.
    Toml,
}

/// A file that is not written yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exported {
    /// Its path below the folder it will lie in, parts joined by `/`.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

impl Exported {
    fn new(path: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Exported {
        Exported { path: path.into(), bytes: bytes.into() }
    }
}

impl Project {
    /// The project in one form, in the order of the packet.
    pub fn export(&self, form: Form) -> Vec<Exported> {
        match form {
            Form::Svg => self.drawings("svg", |drawing| svg(drawing).into_bytes()),
            Form::Dxf => self.drawings("dxf", |drawing| dxf(drawing, self.plan.entry_unit)),
            Form::Csv => vec![
                Exported::new("cut-list.csv", tables::cut_list(self)),
                Exported::new("buying-list.csv", tables::buying_list(self)),
                Exported::new("receipts.csv", tables::receipts(self)),
                Exported::new("costs.csv", tables::costs(self)),
            ],
            Form::Ics => vec![Exported::new("calendar.ics", calendar::calendar(self))],
            Form::Glb => vec![Exported::new("room.glb", glb(&scene(&self.plan, &self.derived)))],
            Form::Json => vec![
                Exported::new("plan.json", format!("{:#}\n", self.plan.to_json())),
                Exported::new("derived.json", data::derived(self)),
            ],
            Form::Toml => vec![Exported::new("plan.toml", self.text.clone())],
        }
    }

    /// Every drawing of the job under its key, in a folder of its own.
    fn drawings(&self, kind: &str, writer: impl Fn(&Drawing) -> Vec<u8>) -> Vec<Exported> {
        let drawn = |picture: &views::Picture<'_>| {
            let drawing = picture.draw(views::PAGE)?;
            Some(Exported::new(format!("{kind}/{}.{kind}", picture.key), writer(&drawing)))
        };
        views::all(&self.plan, &self.derived).iter().filter_map(drawn).collect()
    }
}

/// Writes files below a folder, which is made where it is missing. Nothing is written over: where any of the files
/// is there already, none is written.
///
/// # Errors
/// When a file is there already, or the system refuses.
pub fn lay_down(folder: &Path, files: &[Exported]) -> Result<Vec<PathBuf>, WriteFault> {
    let paths: Vec<PathBuf> = files
        .iter()
        .map(|file| file.path.split('/').fold(folder.to_owned(), |to, part| to.join(part)))
        .collect();
    if let Some(path) = paths.iter().find(|path| path.symlink_metadata().is_ok()) {
        return Err(WriteFault::Exists { path: path.clone() });
    }
    for (path, file) in paths.iter().zip(files) {
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)
                .map_err(|cause| WriteFault::System { path: parent.to_owned(), cause })?;
        }
        write(path, &file.bytes, Overwrite::Refuse)?;
    }
    Ok(paths)
}
