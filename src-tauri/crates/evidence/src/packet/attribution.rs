//! Which file a changed byte belongs to: manifests and tag files are derived again, the header's CRC decides
//! between a file and the manifest that lists it.

use std::cell::OnceCell;
use std::collections::BTreeMap;

use super::bag;
use super::container::Hashed;
use super::says::Wrong;
use super::verdict::{CONTAINER, Code, Findings};
use super::walk::File;
use crate::Digest;

/// Hashes of everything in the bag, and the text of the tag files.
#[derive(Debug, Default)]
pub struct Inventory {
    /// Of every file below `data/`, in the order of the zip.
    payload: Vec<Digest>,
    tags: BTreeMap<String, Digest>,
    texts: BTreeMap<String, Vec<u8>>,
    bytes: u64,
    /// Files whose bytes don't fit the CRC in their (undamaged) header, with what they hash to.
    damaged: BTreeMap<String, Digest>,
}

impl Inventory {
    /// Takes up one file; its bytes where it isn't large.
    pub fn add(&mut self, file: &File, hashed: Hashed, bytes: Vec<u8>) {
        if hashed.crc != file.entry.crc {
            self.damaged.insert(file.path.clone(), hashed.sha256);
        }
        if file.place.is_tag_file() {
            self.tags.insert(file.path.clone(), hashed.sha256);
            self.texts.insert(file.path.clone(), bytes);
        } else {
            self.payload.push(hashed.sha256);
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

    /// Checks tag files and manifests, naming the file that was changed. `paths` are those of all files in the order
    /// of the zip.
    pub fn check(&self, paths: impl Iterator<Item = String>, findings: &mut Findings) {
        let manifest = Listing::of(self.texts.get(MANIFEST));
        let tag_manifest = Listing::of(self.texts.get(TAG_MANIFEST));
        self.report_damaged(&manifest, findings);
        let payload = paths.filter(|path| !self.tags.contains_key(path)).zip(self.payload.iter().copied());
        self.compare(payload, &manifest, MANIFEST, findings);
        self.compare_text("bagit.txt", bag::DECLARATION, findings);
        let id = self.shop_and_job().unwrap_or_default();
        self.compare_text(INFO, &bag::info(&id, self.bytes, self.payload_files()), findings);
        let listed = self.tags.iter().filter(|(path, _)| *path != TAG_MANIFEST);
        let listed = listed.map(|(path, sha256)| (path.clone(), *sha256));
        self.compare(listed, &tag_manifest, TAG_MANIFEST, findings);
    }

    /// A file that doesn't fit its CRC was changed, unless an unchanged manifest lists exactly what it is now:
    /// then it was the CRC.
    fn report_damaged(&self, manifest: &Listing<'_>, findings: &mut Findings) {
        for (path, sha256) in &self.damaged {
            let listed =
                !self.tags.contains_key(path) && manifest.lists(bag::manifest_line(path, sha256).as_bytes());
            if listed && !self.damaged.contains_key(MANIFEST) {
                findings.problem(Code::Container, CONTAINER, Wrong::CrcDiffers { file: path.clone() });
            } else {
                findings.problem(Code::Manifest, path, Wrong::NotAsPacked);
            }
        }
    }

    /// Holds a manifest against the files it should list, in its order. Nothing is said again that the damage of the
    /// manifest or of one of its files explains.
    fn compare(
        &self,
        files: impl Iterator<Item = (String, Digest)>,
        listing: &Listing<'_>,
        name: &str,
        findings: &mut Findings,
    ) {
        let (before, own_damage) = (findings.problems.len(), self.damaged.contains_key(name));
        let (mut rest, mut explained) = (Some(listing.text), own_damage);
        for (path, sha256) in files {
            let line = bag::manifest_line(&path, &sha256);
            rest = rest.and_then(|rest| rest.strip_prefix(line.as_bytes()));
            let damaged = self.damaged.contains_key(&path);
            explained |= damaged;
            // As long as line follows line as they should, each stands there.
            if rest.is_none() && !damaged && !own_damage && !listing.lists(line.as_bytes()) {
                findings.problem(Code::Manifest, &path, Wrong::HashNotListed { list: name.to_owned() });
            }
        }
        let same = rest.is_some_and(<[u8]>::is_empty);
        if before == findings.problems.len() && !same && !explained {
            findings.problem(Code::Manifest, name, Wrong::NotTheList);
        }
    }

    fn compare_text(&self, name: &str, wanted: &str, findings: &mut Findings) {
        let same = self.texts.get(name).is_some_and(|bytes| bytes == wanted.as_bytes());
        if !same && !self.damaged.contains_key(name) {
            findings.problem(Code::Manifest, name, Wrong::NotTheText);
        }
    }
}

/// A manifest as it stands in the packet.
struct Listing<'a> {
    text: &'a [u8],
    /// Sorted; only where somebody asks.
    lines: OnceCell<Vec<&'a [u8]>>,
}

impl<'a> Listing<'a> {
    fn of(bytes: Option<&'a Vec<u8>>) -> Self {
        Self { text: bytes.map(Vec::as_slice).unwrap_or_default(), lines: OnceCell::new() }
    }

    fn lists(&self, line: &[u8]) -> bool {
        let sorted = || {
            let mut lines: Vec<_> = self.text.split_inclusive(|byte| *byte == b'\n').collect();
            lines.sort_unstable();
            lines
        };
        self.lines.get_or_init(sorted).binary_search(&line).is_ok()
    }
}

const INFO: &str = "bag-info.txt";
const MANIFEST: &str = "manifest-sha256.txt";
const TAG_MANIFEST: &str = "tagmanifest-sha256.txt";
