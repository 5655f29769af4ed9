//! Which file a changed byte belongs to: manifests and tag files are derived again, the header's CRC decides
//! between a file and the manifest that lists it.

use std::collections::{BTreeMap, BTreeSet};

use super::bag;
use super::container::Hashed;
use super::says::Wrong;
use super::verdict::{CONTAINER, Code, Findings};
use super::walk::File;
use crate::Digest;

/// Hashes of everything in the bag, and the text of the tag files.
#[derive(Debug, Default)]
pub struct Inventory {
    payload: BTreeMap<String, Digest>,
    tags: BTreeMap<String, Digest>,
    texts: BTreeMap<String, Vec<u8>>,
    bytes: u64,
    /// Files whose bytes don't fit the CRC in their (undamaged) header.
    damaged: BTreeSet<String>,
}

impl Inventory {
    /// Takes up one file.
    pub fn add(&mut self, file: &File, hashed: Hashed, bytes: &[u8]) {
        if hashed.crc != file.entry.crc {
            self.damaged.insert(file.path.clone());
        }
        if file.place.is_tag_file() {
            self.tags.insert(file.path.clone(), hashed.sha256);
            self.texts.insert(file.path.clone(), bytes.to_vec());
        } else {
            self.payload.insert(file.path.clone(), hashed.sha256);
            self.bytes = self.bytes.saturating_add(file.entry.size);
        }
    }

    /// How many files lie below `data/`.
    pub fn payload_files(&self) -> u64 {
        self.payload.len() as u64
    }

    /// What `bag-info.txt` states as `shop/job`.
    pub fn shop_and_job(&self) -> Option<String> {
        let text = std::str::from_utf8(self.texts.get(INFO)?).ok()?;
        Some(text.lines().next()?.strip_prefix("External-Identifier: ")?.to_owned())
    }

    /// Checks tag files and manifests, naming the file that was changed.
    pub fn check(&self, findings: &mut Findings) {
        let manifest = Listing::of(self.texts.get(MANIFEST));
        let tag_manifest = Listing::of(self.texts.get(TAG_MANIFEST));
        self.report_damaged(&manifest, findings);
        self.compare(&self.payload, &manifest, MANIFEST, findings);
        self.compare_text("bagit.txt", bag::DECLARATION, findings);
        let id = self.shop_and_job().unwrap_or_default();
        self.compare_text(INFO, &bag::info(&id, self.bytes, self.payload_files()), findings);
        let listed = self.tags.iter().filter(|(path, _)| *path != TAG_MANIFEST);
        let listed = listed.map(|(path, sha256)| (path.clone(), *sha256)).collect();
        self.compare(&listed, &tag_manifest, TAG_MANIFEST, findings);
    }

    /// A file that doesn't fit its CRC was changed, unless an unchanged manifest lists exactly what it is now:
    /// then it was the CRC.
    fn report_damaged(&self, manifest: &Listing, findings: &mut Findings) {
        for path in &self.damaged {
            let listed = self.payload.get(path).is_some_and(|sha256| manifest.lists(path, sha256));
            if listed && !self.damaged.contains(MANIFEST) {
                findings.problem(Code::Container, CONTAINER, Wrong::CrcDiffers { file: path.clone() });
            } else {
                findings.problem(Code::Manifest, path, Wrong::NotAsPacked);
            }
        }
    }

    fn compare(
        &self,
        hashes: &BTreeMap<String, Digest>,
        listing: &Listing,
        name: &str,
        findings: &mut Findings,
    ) {
        let before = findings.problems.len();
        let unlisted = hashes.iter().filter(|(path, sha256)| !listing.lists(path, sha256));
        let damage_explains = |path: &str| self.damaged.contains(path) || self.damaged.contains(name);
        let unexplained: Vec<_> = unlisted.filter(|(path, _)| !damage_explains(path)).collect();
        for (path, _) in unexplained {
            findings.problem(Code::Manifest, path, Wrong::HashNotListed { list: name.to_owned() });
        }
        if before == findings.problems.len()
            && listing.text != bag::manifest(hashes)
            && !self.explained(hashes, name)
        {
            findings.problem(Code::Manifest, name, Wrong::NotTheList);
        }
    }

    /// Whether a difference was reported already, at the manifest or at one of its files.
    fn explained(&self, hashes: &BTreeMap<String, Digest>, name: &str) -> bool {
        self.damaged.contains(name) || hashes.keys().any(|path| self.damaged.contains(path))
    }

    fn compare_text(&self, name: &str, wanted: &str, findings: &mut Findings) {
        let same = self.texts.get(name).is_some_and(|bytes| bytes == wanted.as_bytes());
        if !same && !self.damaged.contains(name) {
            findings.problem(Code::Manifest, name, Wrong::NotTheText);
        }
    }
}

/// A manifest as it stands in the packet.
struct Listing {
    text: String,
    lines: BTreeSet<String>,
}

impl Listing {
    fn of(bytes: Option<&Vec<u8>>) -> Self {
        let text = bytes.map(|bytes| String::from_utf8_lossy(bytes).into_owned()).unwrap_or_default();
        let lines = text.split_inclusive('\n').map(str::to_owned).collect();
        Self { text, lines }
    }

    fn lists(&self, path: &str, sha256: &Digest) -> bool {
        self.lines.contains(&bag::manifest_line(path, sha256))
    }
}

const INFO: &str = "bag-info.txt";
const MANIFEST: &str = "manifest-sha256.txt";
const TAG_MANIFEST: &str = "tagmanifest-sha256.txt";
