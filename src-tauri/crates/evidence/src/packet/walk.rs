//! Going through a zip from its first byte to its last, and hashing what lies in it on every core.

use std::io::{Read, Seek};

use rayon::prelude::*;
use sha2::Digest as _;

use super::container::{self, Entry, Hashed, LOCAL_MAGIC, LONGEST_HEADER};
use super::place::Place;
use super::positioned::Positioned;
use super::progress::{OnProgress, Progress};
use crate::{Digest, EvidenceError};

/// A zip whose every header byte is the one we would have written.
pub struct Scan {
    /// The bag's folder.
    pub folder: String,
    /// Files with their path below the bag's folder, in the order of the zip.
    pub files: Vec<File>,
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

/// Reads all headers. The inner error says what is wrong with the container.
///
/// # Errors
/// [`EvidenceError::NotAPacket`] if it is no zip at all, [`EvidenceError::Io`].
pub fn scan<R: Read + Seek>(reader: &mut Positioned<'_, R>) -> Result<Result<Scan, String>, EvidenceError> {
    let length = reader.length();
    let mut entries: Vec<Entry> = Vec::new();
    let mut offset = 0;
    loop {
        let header = reader.read_at(offset, LONGEST_HEADER.min(length.saturating_sub(offset)))?;
        if !header.starts_with(&LOCAL_MAGIC) {
            break;
        }
        let Some(entry) = container::read_local_header(&header, offset).filter(|entry| entry.end() <= length)
        else {
            return Ok(Err(format!("the header at byte {offset} is not the one this format prescribes")));
        };
        offset = entry.end();
        entries.push(entry);
    }
    if entries.is_empty() {
        return no_entries(reader);
    }
    let wanted = container::directory(&entries, offset);
    let same_length = length.saturating_sub(offset) == wanted.len() as u64;
    if !same_length || reader.read_at(offset, wanted.len() as u64)? != wanted {
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

/// Refuses names that are unsorted, doubled, outside one folder or outside the layout.
fn understand(entries: Vec<Entry>) -> Result<Scan, String> {
    let sorted = entries.iter().zip(entries.iter().skip(1)).all(|(a, b)| a.name < b.name);
    if !sorted {
        return Err("the names are not sorted, or one stands there twice".into());
    }
    let folder =
        entries.first().and_then(|entry| entry.name.split('/').next()).unwrap_or_default().to_owned();
    if !folder.starts_with("packet-") {
        return Err("the files do not lie in a folder named after the job".into());
    }
    let files = entries.into_iter().map(|entry| {
        let path =
            entry.name.strip_prefix(&folder).and_then(|rest| rest.strip_prefix('/')).map(str::to_owned);
        let understood = path.and_then(|path| Some((Place::parse(&path)?, path)));
        let (place, path) =
            understood.ok_or_else(|| format!("{:?} does not belong in a packet", entry.name))?;
        if !place.is_large() && entry.size > LARGEST_SMALL {
            return Err(format!("{:?} is longer than such a file can be", entry.name));
        }
        Ok(File { path, place, entry })
    });
    let files = files.collect::<Result<_, _>>()?;
    Ok(Scan { folder, files })
}

/// Hashes every file and hands it on in the order of the zip, with its bytes where the file isn't large.
/// One batch is read while the one before is hashed; two batches of about 32 MiB are held at most.
///
/// # Errors
/// [`EvidenceError::Io`], [`EvidenceError::Cancelled`].
pub fn hash_all<R: Read + Seek + Send>(
    reader: &mut Positioned<'_, R>,
    files: &[File],
    progress: &mut OnProgress<'_>,
    visit: &mut dyn FnMut(&File, Hashed, &[u8]),
) -> Result<(), EvidenceError> {
    let mut reached = Reached { done: 0, total: files.iter().map(|file| file.entry.size).sum(), progress };
    let mut spare = Vec::new();
    let (mut batch, mut rest) = read_batch(reader, files, &mut spare, &mut reached)?;
    while !batch.is_empty() {
        let (hashed, next) =
            rayon::join(|| hash_batch(&batch), || read_batch(reader, rest, &mut spare, &mut reached));
        for (loaded, hashed) in batch.iter().zip(hashed) {
            let bytes = if loaded.file.place.is_large() { &[] } else { loaded.bytes.as_slice() };
            visit(loaded.file, hashed, bytes);
        }
        let held: u64 = batch.iter().map(|loaded| loaded.bytes.len() as u64).sum();
        spare.extend(
            batch.into_iter().map(|loaded| loaded.bytes).filter(|bytes| bytes.capacity() >= WORTH_KEEPING),
        );
        spare.truncate(MOST_SPARE);
        (batch, rest) = next?;
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
struct Loaded<'a> {
    file: &'a File,
    bytes: Vec<u8>,
    streamed: Option<Hashed>,
}

/// Loads files from the front of `files` up to [`BATCH_BYTES`] and hands back those left.
fn read_batch<'a, R: Read + Seek>(
    reader: &mut Positioned<'_, R>,
    files: &'a [File],
    spare: &mut Vec<Vec<u8>>,
    reached: &mut Reached<'_, '_>,
) -> Result<(Vec<Loaded<'a>>, &'a [File]), EvidenceError> {
    let (mut batch, mut rest, mut held) = (Vec::new(), files, 0_u64);
    while let Some((file, others)) = rest.split_first() {
        if held > 0 && held.saturating_add(file.entry.size) > BATCH_BYTES {
            break;
        }
        rest = others;
        held = held.saturating_add(file.entry.size.max(1024));
        let (start, size) = (file.entry.data_start(), file.entry.size);
        let long = file.place.is_large() && size > BATCH_BYTES;
        let (bytes, streamed) = if long {
            (Vec::new(), Some(hash_stream(reader, start, size, reached)?))
        } else {
            let buffer = if file.place.is_large() { spare.pop().unwrap_or_default() } else { Vec::new() };
            (reader.read_into(start, size, buffer)?, None)
        };
        batch.push(Loaded { file, bytes, streamed });
    }
    Ok((batch, rest))
}

fn hash_batch(batch: &[Loaded<'_>]) -> Vec<Hashed> {
    batch.par_iter().map(|loaded| loaded.streamed.unwrap_or_else(|| Hashed::of(&loaded.bytes))).collect()
}

fn hash_stream<R: Read + Seek>(
    reader: &mut Positioned<'_, R>,
    start: u64,
    size: u64,
    reached: &mut Reached<'_, '_>,
) -> Result<Hashed, EvidenceError> {
    let (mut sha256, mut crc) = (sha2::Sha256::new(), crc32fast::Hasher::new());
    let (mut buffer, mut left) = (vec![0; 1 << 20], size);
    while left > 0 {
        let want = left.min(buffer.len() as u64) as usize;
        let piece = buffer.get_mut(..want).unwrap_or_default();
        reader.fill_at(start.saturating_add(size - left), piece)?;
        sha256.update(&*piece);
        crc.update(piece);
        left = left.saturating_sub(want as u64);
        reached.advance(want as u64)?;
    }
    Ok(Hashed { sha256: Digest(sha256.finalize().into()), crc: crc.finalize() })
}

/// How much is loaded before it is hashed.
const BATCH_BYTES: u64 = 32 << 20;

/// Buffers of this size are used again: fresh memory costs about as much as hashing what is put there.
const WORTH_KEEPING: usize = 1 << 20;

/// How many buffers wait to be used again.
const MOST_SPARE: usize = 8;

/// The longest a file other than photo and report may be; it is held in memory.
const LARGEST_SMALL: u64 = 64 << 20;
