//! The world Typst sees: our template, our fonts, the page's data and pictures. Nothing else exists in it.

use crate::ReportError;
use crate::page::Page;
use std::collections::BTreeMap;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

const TEMPLATE: &str = include_str!("../../template/findings.typ");
const FONTS: [&[u8]; 2] = [include_bytes!("../../fonts/DejaVuSans.ttf"), LETTERS];
/// The bold font of the report, for whoever letters pictures that go into it.
pub const LETTERS: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold.ttf");

/// Files by path, with the template as the main one.
pub(super) struct Files {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    template: Source,
    files: BTreeMap<String, Bytes>,
}

impl Files {
    pub(super) fn of(page: &Page) -> Result<Files, ReportError> {
        let main =
            VirtualPath::new("findings.typ").map_err(|e| ReportError::Typesetting(format!("{e:?}")))?;
        let main = RootedPath::new(VirtualRoot::Project, main).intern();
        let fonts: Vec<Font> = FONTS.iter().flat_map(|bytes| Font::iter(Bytes::new(*bytes))).collect();
        let mut files: BTreeMap<String, Bytes> =
            page.files.iter().map(|(path, bytes)| (path.clone(), Bytes::new(bytes.clone()))).collect();
        files.insert("data.json".to_owned(), Bytes::new(serde_json::to_vec(page)?));
        Ok(Files {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            template: Source::new(main, TEMPLATE.to_owned()),
            files,
        })
    }
}

impl World for Files {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.template.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.template.id() { Ok(self.template.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let path = id.get().vpath().get_without_slash();
        self.files.get(path).cloned().ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
