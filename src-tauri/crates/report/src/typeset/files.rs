//! What Typst may read: our template with its kit, its data, its files and our fonts; nothing else.

use crate::ReportError;
use crate::sheet::{Sheet, Template};
use std::collections::BTreeMap;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

const KIT: (&str, &str) = ("kit.typ", include_str!("../../template/kit.typ"));
/// The text face, then the one that has the signs it lacks.
const FONTS: [&[u8]; 6] = [
    include_bytes!("../../fonts/SourceSans3-Regular.ttf"),
    include_bytes!("../../fonts/SourceSans3-Regular_Italic.ttf"),
    include_bytes!("../../fonts/SourceSans3-SemiBold.ttf"),
    include_bytes!("../../fonts/SourceSans3-Bold.ttf"),
    include_bytes!("../../fonts/DejaVuSans.ttf"),
    LETTERS,
];
/// The bold font of the report, for whoever letters pictures that go into it.
pub const LETTERS: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold.ttf");

impl Template {
    const fn file(self) -> (&'static str, &'static str) {
        match self {
            Self::Full => ("findings.typ", include_str!("../../template/findings.typ")),
            Self::Summary => ("summary.typ", include_str!("../../template/summary.typ")),
            Self::Statement => ("statement.typ", include_str!("../../template/statement.typ")),
        }
    }
}

/// Files by path, with the template as the main one.
pub(super) struct Files {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    template: Source,
    kit: Source,
    files: BTreeMap<String, Bytes>,
}

impl Files {
    pub(super) fn of(sheet: &Sheet) -> Result<Files, ReportError> {
        let fonts: Vec<Font> = FONTS.iter().flat_map(|bytes| Font::iter(Bytes::new(*bytes))).collect();
        let mut files: BTreeMap<String, Bytes> =
            sheet.files.iter().map(|(path, bytes)| (path.clone(), Bytes::new(bytes.clone()))).collect();
        files.insert("data.json".to_owned(), Bytes::new(sheet.data.clone()));
        Ok(Files {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            template: source(sheet.template.file())?,
            kit: source(KIT)?,
            files,
        })
    }
}

fn source((name, text): (&str, &str)) -> Result<Source, ReportError> {
    let path = VirtualPath::new(name).map_err(|e| ReportError::Typesetting(format!("{e:?}")))?;
    Ok(Source::new(RootedPath::new(VirtualRoot::Project, path).intern(), text.to_owned()))
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
        let known = [&self.template, &self.kit].into_iter().find(|source| source.id() == id);
        known.cloned().ok_or(FileError::AccessDenied)
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
