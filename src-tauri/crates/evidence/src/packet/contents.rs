//! What goes into a packet.

use std::io::Read;

use super::Language;
use crate::{Digest, Disclosure, PhotoRef, SignedCheckpoint};

/// Everything of one job that goes into a packet.
pub struct PacketContents<'a> {
    /// The job's logs, one per device.
    pub logs: Vec<PacketLog>,
    /// The values to disclose; those left out stay withheld and every proof still holds.
    pub disclosures: Vec<Disclosure>,
    /// The originals to include; those left out (forgotten ones) are listed by the verdict as absent.
    pub photos: Vec<PacketPhoto<'a>>,
    /// Reports. The hash of each must stand in a record of kind `report_written` as `body.sha256`.
    pub reports: Vec<PacketReport>,
    /// The language of the README.
    pub language: Language,
}

/// One device's log.
#[derive(Clone, Debug)]
pub struct PacketLog {
    /// The exact bytes of its records, from sequence 0.
    pub records: Vec<Vec<u8>>,
    /// Its checkpoints in order; the last covers every record.
    pub checkpoints: Vec<SignedCheckpoint>,
    /// The device's public key as PEM, see [`crate::PublicKey::pem`].
    pub public_key_pem: String,
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
    /// File name without folder and ending: `A-Z a-z 0-9 . _ -`.
    pub name: String,
    /// The PDF.
    pub bytes: Vec<u8>,
}

impl PacketReport {
    /// The hash that must stand in a `report_written` record.
    pub fn sha256(&self) -> Digest {
        Digest::of(&self.bytes)
    }
}
