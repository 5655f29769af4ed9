//! BagIt's own files (RFC 8493 section 2): each can be derived from the payload alone.

use std::collections::BTreeMap;

use crate::Digest;

/// `bagit.txt` (RFC 8493 section 2.1.1).
pub const DECLARATION: &str = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

/// `bag-info.txt` (RFC 8493 section 2.2.2): whose bag it is and how much it holds; nothing that varies by
/// program or day.
pub fn info(shop_and_job: &str, bytes: u64, files: u64) -> String {
    format!("External-Identifier: {shop_and_job}\nPayload-Oxum: {bytes}.{files}\n")
}

/// A manifest (RFC 8493 section 2.1.3), sorted by path, as `sha256sum` writes and checks it.
pub fn manifest(hashes: &BTreeMap<String, Digest>) -> String {
    hashes.iter().map(|(path, sha256)| manifest_line(path, sha256)).collect()
}

/// One line of a manifest.
pub fn manifest_line(path: &str, sha256: &Digest) -> String {
    format!("{sha256}  {path}\n")
}
