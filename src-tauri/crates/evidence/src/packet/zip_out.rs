//! Writing the zip file by file, and what is remembered of each.

use std::io::{Read, Seek, SeekFrom, Write};

use super::bag;
use super::container::{Entry, Hashed};
use super::contents::PacketPhoto;
use super::entries::Entries;
use super::hashing::Hashing;
use super::place;
use super::progress::{OnProgress, Progress};
use super::records::Records;
use crate::{Digest, EvidenceError, tree};

/// The records of one log, already read once.
pub struct LogRecords<'a> {
    pub records: &'a Records<'a>,
    pub device: String,
    /// Which log it is, in the order of the contents.
    pub number: usize,
    pub count: u64,
    pub bytes: u64,
}

/// A zip under construction.
pub struct Zip<'a, 'p, W> {
    out: &'a mut W,
    /// The bag's folder.
    folder: String,
    entries: Entries,
    done: u64,
    total: u64,
    progress: &'a mut OnProgress<'p>,
}

impl<'a, 'p, W: Write + Seek> Zip<'a, 'p, W> {
    /// Begins one whose payload has `total` bytes.
    pub fn new(out: &'a mut W, folder: String, total: u64, progress: &'a mut OnProgress<'p>) -> Self {
        Self { out, folder, entries: Entries::default(), done: 0, total, progress }
    }

    /// A file whose bytes are here.
    pub fn add_bytes(&mut self, path: &str, bytes: &[u8]) -> Result<Digest, EvidenceError> {
        let hashed = Hashed::of(bytes);
        let entry = self.entry(path, bytes.len() as u64, hashed.crc);
        self.out.write_all(&entry.local_header())?;
        self.out.write_all(bytes)?;
        self.entries.push(&entry);
        self.advance(bytes.len() as u64)?;
        Ok(hashed.sha256)
    }

    /// A photo. The CRC stands before the bytes, so the header is written again once the bytes went past.
    pub fn add_photo(&mut self, path: &str, photo: &PacketPhoto<'_>) -> Result<Digest, EvidenceError> {
        let mut entry = self.entry(path, photo.photo.bytes, 0);
        self.out.write_all(&entry.local_header())?;
        let hashed = self.copy((photo.open)()?, &photo.photo.sha256, photo.photo.bytes)?;
        entry.crc = hashed.crc;
        self.out.seek(SeekFrom::Start(entry.offset))?;
        self.out.write_all(&entry.local_header())?;
        self.out.seek(SeekFrom::Start(entry.end()))?;
        self.entries.push(&entry);
        Ok(hashed.sha256)
    }

    /// The records of a log, which must be those that were checked.
    pub fn add_records(
        &mut self,
        log: &LogRecords<'_>,
        leaves: &[Vec<Digest>],
        hashes: &mut Vec<Digest>,
    ) -> Result<(), EvidenceError> {
        let changed = || {
            let what = format!("the records of {} changed while it was written; write it again", log.device);
            EvidenceError::BadContents(what)
        };
        let (mut sequence, mut left) = (0, leaves.get(log.number).into_iter().flatten());
        log.records.each(&mut |record| {
            if left.next() != Some(&tree::leaf(record)) {
                return Err(changed());
            }
            hashes.push(self.add_bytes(&place::record_path(&log.device, sequence), record)?);
            sequence = sequence.saturating_add(1);
            Ok(())
        })?;
        if left.next().is_none() { Ok(()) } else { Err(changed()) }
    }

    /// The manifest over the payload, whose hashes are `hashes` in the order of the zip. It is made twice, for its
    /// sums and for its bytes, because of a large log it is too long to be held.
    pub fn add_manifest(&mut self, path: &str, hashes: &[Digest]) -> Result<Digest, EvidenceError> {
        let payload = format!("{}/data/", self.folder);
        let bag = payload.len().saturating_sub("data/".len());
        let listed = |take: &mut dyn FnMut(&[u8]) -> Result<(), EvidenceError>| {
            let files = self.entries.iter().filter(|entry| entry.name.starts_with(&payload));
            files.zip(hashes).try_for_each(|(entry, sha256)| {
                take(bag::manifest_line(entry.name.get(bag..).unwrap_or_default(), sha256).as_bytes())
            })
        };
        let (mut hashing, mut size) = (Hashing::default(), 0_u64);
        listed(&mut |line| {
            hashing.update(line);
            size = size.saturating_add(line.len() as u64);
            Ok(())
        })?;
        let hashed = hashing.finish();
        let entry = self.entry(path, size, hashed.crc);
        self.out.write_all(&entry.local_header())?;
        listed(&mut |line| Ok(self.out.write_all(line)?))?;
        self.entries.push(&entry);
        self.advance(size)?;
        Ok(hashed.sha256)
    }

    fn copy(&mut self, mut from: impl Read, wanted: &Digest, size: u64) -> Result<Hashed, EvidenceError> {
        let mut hashing = Hashing::default();
        let (mut buffer, mut length) = (vec![0; 1 << 20], 0_u64);
        loop {
            let count = from.read(&mut buffer)?;
            let piece = buffer.get(..count).unwrap_or_default();
            length = length.saturating_add(count as u64);
            if piece.is_empty() || length > size {
                break;
            }
            hashing.update(piece);
            self.out.write_all(piece)?;
            self.advance(count as u64)?;
        }
        let hashed = hashing.finish();
        let same = length == size && hashed.sha256 == *wanted;
        if same { Ok(hashed) } else { Err(EvidenceError::PhotoChanged(*wanted)) }
    }

    fn entry(&self, path: &str, size: u64, crc: u32) -> Entry {
        Entry { name: format!("{}/{path}", self.folder), size, crc, offset: self.entries.end() }
    }

    fn advance(&mut self, bytes: u64) -> Result<(), EvidenceError> {
        self.done = self.done.saturating_add(bytes);
        let progress = Progress { done: self.done.min(self.total), total: self.total };
        if (self.progress)(progress).is_break() { Err(EvidenceError::Cancelled) } else { Ok(()) }
    }

    /// Writes the directory and answers the zip's length.
    pub fn finish(self) -> Result<u64, EvidenceError> {
        let mut length = self.entries.end();
        self.entries.directory(|piece| {
            length = length.saturating_add(piece.len() as u64);
            self.out.write_all(piece)
        })?;
        self.out.flush()?;
        Ok(length)
    }
}
