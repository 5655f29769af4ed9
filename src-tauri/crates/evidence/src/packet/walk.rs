//! Going through a zip from its first byte to its last, and hashing what lies in it on every core.

use std::io::{Read, Seek};
use std::iter::Peekable;

use rayon::prelude::*;

use super::container::{self, Entry, Hashed, LOCAL_MAGIC, LONGEST_HEADER};
use super::entries::Entries;
use super::hashing::Hashing;
use super::place::Place;
use super::positioned::Positioned;
use super::progress::{OnProgress, Progress};
use crate::EvidenceError;

/// A zip whose every header byte is the one we would have written.
pub struct Scan {
    /// The bag's folder.
    pub folder: String,
    entries: Entries,
}

impl Scan {
    /// The files in the order of the zip.
    pub fn files(&self) -> impl Iterator<Item = File> + Send {
        self.entries.iter().filter_map(|entry| File::of(&self.folder, entry).ok())
    }
}

/// A file in the zip.
pub struct File {
    /// Path below the bag's folder.
    pub path: String,
    /// What lies there.
    pub place: Place,
    /// Its headers.
    pub entry: Entry,
}

impl File {
    /// Refuses one that lies outside the folder, outside the layout, or is too long for its place.
    fn of(folder: &str, entry: Entry) -> Result<Self, String> {
        let path = entry.name.strip_prefix(folder).and_then(|rest| rest.strip_prefix('/')).map(str::to_owned);
        let understood = path.and_then(|path| Some((Place::parse(&path)?, path)));
        let (place, path) =
            understood.ok_or_else(|| format!("{:?} does not belong in a packet", entry.name))?;
        let longest = if place == Place::Manifest { LONGEST_MANIFEST } else { LARGEST_SMALL };
        if !place.is_large() && entry.size > longest {
            return Err(format!("{:?} is longer than such a file can be", entry.name));
        }
        Ok(Self { path, place, entry })
    }
}

/// Reads all headers. The inner error says what is wrong with the container.
///
/// # Errors
/// [`EvidenceError::NotAPacket`] if it is no zip at all, [`EvidenceError::Io`].
pub fn scan<R: Read + Seek>(reader: &mut Positioned<'_, R>) -> Result<Result<Scan, String>, EvidenceError> {
    let length = reader.length();
    let mut entries = Entries::default();
    loop {
        let offset = entries.end();
        let header = reader.read_at(offset, LONGEST_HEADER.min(length.saturating_sub(offset)))?;
        if !header.starts_with(&LOCAL_MAGIC) {
            break;
        }
        let Some(entry) = container::read_local_header(&header, offset).filter(|entry| entry.end() <= length)
        else {
            return Ok(Err(format!("the header at byte {offset} is not the one this format prescribes")));
        };
        entries.push(&entry);
    }
    if entries.count() == 0 {
        return no_entries(reader);
    }
    if !has_directory(reader, &entries)? {
        return Ok(Err("the directory at the end is not the one that follows from the files".into()));
    }
    Ok(understand(entries))
}

/// Tells a packet whose first byte was changed from a file that never was one.
fn no_entries<R: Read + Seek>(reader: &mut Positioned<'_, R>) -> Result<Result<Scan, String>, EvidenceError> {
    let length = reader.length();
    let end = reader.read_at(length.saturating_sub(22), length.min(22))?;
    if end.starts_with(b"PK\x05\x06") {
        return Ok(Err("it does not start with a file".into()));
    }
    Err(EvidenceError::NotAPacket("it is not a zip; ask for the packet's file again"))
}

/// Whether everything behind the files is the directory that follows from them.
fn has_directory<R: Read + Seek>(reader: &mut Positioned<'_, R>, entries: &Entries) -> std::io::Result<bool> {
    let (mut offset, mut there, mut same) = (entries.end(), Vec::new(), true);
    entries.directory(|wanted| {
        let end = offset.saturating_add(wanted.len() as u64);
        same = same && end <= reader.length();
        if same {
            there = reader.read_into(offset, wanted.len() as u64, std::mem::take(&mut there))?;
            same = there == wanted;
        }
        offset = end;
        Ok::<_, std::io::Error>(())
    })?;
    Ok(same && offset == reader.length())
}

/// Refuses names that are unsorted, doubled, outside one folder or outside the layout.
fn understand(entries: Entries) -> Result<Scan, String> {
    let sorted = entries.iter().zip(entries.iter().skip(1)).all(|(a, b)| a.name < b.name);
    if !sorted {
        return Err("the names are not sorted, or one stands there twice".into());
    }
    let folder = entries.iter().next().and_then(|entry| entry.name.split('/').next().map(str::to_owned));
    let folder = folder.unwrap_or_default();
    if !folder.starts_with("packet-") {
        return Err("the files do not lie in a folder named after the job".into());
    }
    entries.iter().try_for_each(|entry| File::of(&folder, entry).map(drop))?;
    Ok(Scan { folder, entries })
}

/// Hashes every file and hands it on in the order of the zip, with its bytes where the file isn't large.
/// One batch is read while the one before is hashed; two batches of about 32 MiB are held at most. A single thread
/// has nothing to hash meanwhile: it takes large files in pieces, which are still in its cache when they are hashed.
///
/// # Errors
/// [`EvidenceError::Io`], [`EvidenceError::Cancelled`].
pub fn hash_all<R: Read + Seek + Send>(
    reader: &mut Positioned<'_, R>,
    scan: &Scan,
    progress: &mut OnProgress<'_>,
    visit: &mut dyn FnMut(&File, Hashed, Vec<u8>),
) -> Result<(), EvidenceError> {
    let total = scan.entries.iter().map(|entry| entry.size).sum();
    let mut reached = Reached { done: 0, total, progress };
    let (mut spare, mut files) = (Vec::new(), scan.files().peekable());
    let mut batch = read_batch(reader, &mut files, &mut spare, &mut reached)?;
    while !batch.is_empty() {
        let (hashed, next) =
            rayon::join(|| hash_batch(&batch), || read_batch(reader, &mut files, &mut spare, &mut reached));
        let held: u64 = batch.iter().map(|loaded| loaded.bytes.len() as u64).sum();
        for (loaded, hashed) in batch.into_iter().zip(hashed) {
            let Loaded { file, bytes, .. } = loaded;
            if !file.place.is_large() {
                visit(&file, hashed, bytes);
                continue;
            }
            visit(&file, hashed, Vec::new());
            if bytes.capacity() >= WORTH_KEEPING {
                spare.push(bytes);
            }
        }
        spare.truncate(MOST_SPARE);
        batch = next?;
        reached.advance(held)?;
    }
    Ok(())
}

/// How far the work has come, told to the caller, who may stop it.
struct Reached<'a, 'p> {
    done: u64,
    total: u64,
    progress: &'a mut OnProgress<'p>,
}

impl Reached<'_, '_> {
    fn advance(&mut self, bytes: u64) -> Result<(), EvidenceError> {
        self.done = self.done.saturating_add(bytes);
        let step = Progress { done: self.done, total: self.total };
        if (self.progress)(step).is_break() { Err(EvidenceError::Cancelled) } else { Ok(()) }
    }
}

/// A file in memory, or already hashed because it is too long for that.
struct Loaded {
    file: File,
    bytes: Vec<u8>,
    streamed: Option<Hashed>,
}

/// Loads the next files, up to [`BATCH_BYTES`] and [`BATCH_FILES`].
fn read_batch<R: Read + Seek>(
    reader: &mut Positioned<'_, R>,
    files: &mut Peekable<impl Iterator<Item = File>>,
    spare: &mut Vec<Vec<u8>>,
    reached: &mut Reached<'_, '_>,
) -> Result<Vec<Loaded>, EvidenceError> {
    let alone = rayon::current_num_threads() == 1;
    let (mut batch, mut held) = (Vec::new(), 0_u64);
    let fits = |held: u64, count: usize, file: &File| {
        held == 0 || (held.saturating_add(file.entry.size) <= BATCH_BYTES && count < BATCH_FILES)
    };
    while let Some(file) = files.next_if(|file| fits(held, batch.len(), file)) {
        let (start, size) = (file.entry.data_start(), file.entry.size);
        held = held.saturating_add(size.max(1));
        let large = file.place.is_large();
        let (bytes, streamed) = if large && (alone || size > BATCH_BYTES) {
            (Vec::new(), Some(hash_stream(reader, start, size, reached)?))
        } else {
            let buffer = if large { spare.pop().unwrap_or_default() } else { Vec::new() };
            (reader.read_into(start, size, buffer)?, None)
        };
        batch.push(Loaded { file, bytes, streamed });
    }
    Ok(batch)
}

fn hash_batch(batch: &[Loaded]) -> Vec<Hashed> {
    batch.par_iter().map(|loaded| loaded.streamed.unwrap_or_else(|| Hashed::of(&loaded.bytes))).collect()
}

fn hash_stream<R: Read + Seek>(
    reader: &mut Positioned<'_, R>,
    start: u64,
    size: u64,
    reached: &mut Reached<'_, '_>,
) -> Result<Hashed, EvidenceError> {
    let mut hashing = Hashing::default();
    let (mut buffer, mut left) = (vec![0; PIECE], size);
    while left > 0 {
        let want = left.min(buffer.len() as u64) as usize;
        let piece = buffer.get_mut(..want).unwrap_or_default();
        reader.fill_at(start.saturating_add(size - left), piece)?;
        hashing.update(piece);
        left = left.saturating_sub(want as u64);
        reached.advance(want as u64)?;
    }
    Ok(hashing.finish())
}

/// How much is loaded before it is hashed.
const BATCH_BYTES: u64 = 32 << 20;

/// How many files at most: of small ones, what is remembered weighs more than their bytes.
const BATCH_FILES: usize = 4096;

/// How much of a long file is read at once: it fits a processor's second cache, and is more than a `BufReader` with 64
/// KiB holds, which then reads straight into it.
const PIECE: usize = 128 * 1024;

/// Buffers of this size are used again: fresh memory costs about as much as hashing what is put there.
const WORTH_KEEPING: usize = 1 << 20;

/// How many buffers wait to be used again.
const MOST_SPARE: usize = 8;

/// The longest a file other than photo, report and manifest may be; it is held in memory.
const LARGEST_SMALL: u64 = 64 << 20;

/// The longest the manifest may be: a line takes 112 bytes and more, and two logs may have a million records each.
const LONGEST_MANIFEST: u64 = 512 << 20;
