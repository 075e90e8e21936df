//! The desk: the few files and the one typeface that the engine is given.

use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use crate::{Fault, File};

/// The faces, read once: they never change.
pub(crate) fn desk_fonts() -> &'static [Font] {
    static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
        dryfit_fonts::FACES.iter().flat_map(|face| Font::iter(Bytes::new(face.bytes))).collect()
    });
    &FONTS
}

/// Everything that the engine may see.
pub(crate) struct Desk {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    main: FileId,
    sources: Vec<(FileId, Source)>,
    data: Vec<(FileId, Bytes)>,
}

impl Desk {
    pub(crate) fn new(files: &[File<'_>]) -> Result<Self, Fault> {
        let fonts = desk_fonts().to_vec();
        let mut sources = Vec::new();
        let mut data = Vec::new();
        let mut main = None;
        for file in files {
            let path = VirtualPath::new(file.name)
                .map_err(|_| Fault::plain(format!("`{}` is no name for a file", file.name)))?;
            let id = RootedPath::new(VirtualRoot::Project, path).intern();
            main.get_or_insert(id);
            let text = file.text.to_owned();
            if id.get().vpath().extension() == Some("typ") {
                sources.push((id, Source::new(id, text)));
            } else {
                data.push((id, Bytes::from_string(text)));
            }
        }
        let main = main.ok_or_else(|| Fault::plain("there is no file to set in type".to_owned()))?;
        Ok(Desk {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(desk_fonts())),
            fonts,
            main,
            sources,
            data,
        })
    }
}

/// The file of this name among the few there are.
fn find<T: Clone>(among: &[(FileId, T)], id: FileId) -> FileResult<T> {
    let named = among.iter().find(|(name, _)| *name == id).map(|(_, file)| file.clone());
    named.ok_or_else(|| FileError::NotFound(id.get().vpath().get_without_slash().into()))
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        find(&self.sources, id)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        find(&self.data, id)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
