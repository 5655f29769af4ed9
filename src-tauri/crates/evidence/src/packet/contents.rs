//! What goes into a packet.

use std::io::Read;

use super::records::Records;
use super::texts::Language;
use crate::{Digest, Disclosure, PhotoRef, SignedCheckpoint};

/// Everything of one job that goes into a packet.
#[derive(Default)]
pub struct PacketContents<'a> {
    /// The job's logs, one per device.
    pub logs: Vec<PacketLog<'a>>,
    /// The values to disclose; those left out stay withheld and every proof still holds.
    pub disclosures: Vec<Disclosure>,
    /// The originals to include; those left out (forgotten ones) are listed by the verdict as absent.
    pub photos: Vec<PacketPhoto<'a>>,
    /// Derivatives that stand in for originals; a record of kind [`super::redaction::KIND`] must name each.
    pub redacted: Vec<PacketPhoto<'a>>,
    /// Reports. The hash of each must stand in a record of kind `report_written` as `body.sha256`.
    pub reports: Vec<PacketReport>,
    /// The language of the README.
    pub language: Language,
}

/// One device's log.
#[derive(Default)]
pub struct PacketLog<'a> {
    /// Its records; `Vec<Vec<u8>>` turns into them where they lie in memory.
    pub records: Records<'a>,
    /// Its checkpoints in order; the last covers every record.
    pub checkpoints: Vec<SignedCheckpoint>,
    /// The device's newest public key as PEM, see [`crate::PublicKey::pem`]. Earlier ones stand in the records.
    pub public_key_pem: String,
    /// Time-stamps that no record holds yet: at most the last. Those in records are put beside their checkpoint by the
    /// writer.
    pub timestamps: Vec<PacketTimestamp>,
    /// Signatures made as a record was sealed, over [`crate::Checkpoint::text`] of the log up to that record: how many records
    /// that is, and the signature by the key valid there. Sorted by size; records of earlier versions have none.
    pub signatures: Vec<(u64, [u8; 64])>,
}

/// A token beside the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PacketTimestamp {
    /// The size of the stamped checkpoint, one of [`PacketLog::checkpoints`].
    pub size: u64,
    /// The token (`ContentInfo` in DER).
    pub token: Vec<u8>,
}

/// Opens a file to be read from its beginning.
pub type Open<'a> = Box<dyn Fn() -> std::io::Result<Box<dyn Read>> + 'a>;

/// One original; its bytes are read once and in pieces.
pub struct PacketPhoto<'a> {
    /// As its record names it.
    pub photo: PhotoRef,
    /// Opens the original.
    pub open: Open<'a>,
}

/// One report.
#[derive(Clone, Debug)]
pub struct PacketReport {
    /// File name without folder: `A-Z a-z 0-9 . _ -`, with `.pdf` or `.html` at its end.
    pub name: String,
    /// The file.
    pub bytes: Vec<u8>,
}

impl PacketReport {
    /// The hash that must stand in a `report_written` record.
    pub fn sha256(&self) -> Digest {
        Digest::of(&self.bytes)
    }
}
