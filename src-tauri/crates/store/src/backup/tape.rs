use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

use evidence::Digest;
use evidence::packet::Progress;

use crate::StoreError;
use crate::backup::manifest::{End, ListedFile};
use crate::backup::{BackupReport, END, WITHIN, Watch};
use crate::hashing::Hashing;

/// A file to go in.
pub(super) struct Source {
    pub(super) listed: ListedFile,
    from: PathBuf,
    /// Its hash is in its name, so it wasn't read yet.
    named_by_hash: bool,
}

impl Source {
    pub(super) fn hashed(path: String, from: &Path) -> Result<Self, StoreError> {
        let read = |error| StoreError::file("read", from, error);
        let (sha256, bytes) = Digest::of_reader(&mut File::open(from).map_err(read)?).map_err(read)?;
        let listed = ListedFile { path, bytes, sha256 };
        Ok(Self { listed, from: from.to_path_buf(), named_by_hash: false })
    }

    pub(super) fn original(shard: &str, from: &Path) -> Option<Self> {
        let sha256 = from.file_stem()?.to_str()?.parse().ok()?;
        let bytes = fs::metadata(from).ok()?.len();
        let listed = ListedFile { path: format!("originals/{shard}/{}", name_of(from)), bytes, sha256 };
        Some(Self { listed, from: from.to_path_buf(), named_by_hash: true })
    }
}

/// The tar as it is written into the encrypted stream.
pub(super) struct Tape<'a, W: Write> {
    tar: tar::Builder<W>,
    watch: Watch<'a>,
    progress: Progress,
    report: BackupReport,
}

impl<'a, W: Write> Tape<'a, W> {
    pub(super) fn begin(stream: W, sources: &[Source], watch: Watch<'a>) -> Self {
        let total = sources.iter().map(|source| source.listed.bytes).sum();
        let tar = tar::Builder::new(stream);
        Self { tar, watch, progress: Progress { done: 0, total }, report: BackupReport::default() }
    }

    pub(super) fn small(&mut self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let header = header(name, bytes.len() as u64)?;
        self.tar.append(&header, bytes).map_err(written)
    }

    pub(super) fn file(&mut self, source: &Source) -> Result<(), StoreError> {
        let read = |error| StoreError::file("read", &source.from, error);
        let file = File::open(&source.from).map_err(read)?;
        let header = header(&source.listed.path, source.listed.bytes)?;
        let (mut hash, mut stopped) = (Hashing::default(), false);
        let (done, total) = (self.progress.done, self.progress.total);
        let mut step = |bytes| {
            let go_on = (self.watch)(Progress { done: done.saturating_add(bytes), total });
            stopped |= go_on.is_break();
            go_on
        };
        let left = source.listed.bytes;
        let mut input = Watched { input: file, left, done: 0, hash: &mut hash, step: &mut step };
        let appended = self.tar.append(&header, &mut input);
        if stopped {
            return Err(StoreError::Cancelled);
        }
        appended.map_err(written)?;
        self.note(source, hash.finish());
        Ok(())
    }

    fn note(&mut self, source: &Source, sha256: Digest) {
        self.progress.done = self.progress.done.saturating_add(source.listed.bytes);
        self.report.files = self.report.files.saturating_add(1);
        self.report.bytes = self.report.bytes.saturating_add(source.listed.bytes);
        if source.named_by_hash && sha256 != source.listed.sha256 {
            self.report.damaged_originals.push(source.listed.sha256);
        }
    }

    pub(super) fn end(mut self) -> Result<(W, BackupReport), StoreError> {
        let end = serde_json::to_vec(&End { damaged: self.report.damaged_originals.clone() })?;
        self.small(END, &end)?;
        Ok((self.tar.into_inner().map_err(written)?, self.report))
    }
}

/// The same header for the same file, whoever made it and whenever.
fn header(name: &str, bytes: u64) -> Result<tar::Header, StoreError> {
    let mut header = tar::Header::new_ustar();
    header.set_path(format!("{WITHIN}{name}")).map_err(written)?;
    header.set_size(bytes);
    header.set_mode(0o600);
    header.set_mtime(0);
    header.set_entry_type(tar::EntryType::Regular);
    header.set_cksum();
    Ok(header)
}

/// Gives exactly the announced bytes, hashed, and asks after each piece whether to go on.
struct Watched<'a> {
    input: File,
    left: u64,
    done: u64,
    hash: &'a mut Hashing,
    step: &'a mut dyn FnMut(u64) -> ControlFlow<()>,
}

impl Read for Watched<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let most = usize::try_from(self.left).unwrap_or(usize::MAX).min(buffer.len());
        let read = self.input.read(buffer.get_mut(..most).unwrap_or_default())?;
        if read == 0 && self.left > 0 && !buffer.is_empty() {
            return Err(io::Error::new(
                io::ErrorKind::UnexpectedEof,
                "a file became shorter while it was read",
            ));
        }
        self.hash.add(buffer.get(..read).unwrap_or_default());
        self.left = self.left.saturating_sub(read as u64);
        self.done = self.done.saturating_add(read as u64);
        match (self.step)(self.done) {
            ControlFlow::Continue(()) => Ok(read),
            ControlFlow::Break(()) => Err(io::Error::other("stopped on request")),
        }
    }
}

pub(super) fn name_of(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

pub(super) fn written(error: io::Error) -> StoreError {
    StoreError::file("write", Path::new("the backup"), error)
}
