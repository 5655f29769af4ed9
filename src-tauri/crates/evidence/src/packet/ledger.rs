//! One device's log as it is read record by record: leaf hashes, and what the records speak for.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::clock::Clock;
use super::missing;
use super::others::Others;
use super::redaction::{self, Redaction};
use super::said::{REPORT_KIND, Said};
use super::says::Wrong;
use super::verdict::Code;
use crate::succession::{self, DeviceAdded, KeyChanged, KeyLost};
use crate::timestamp::{self, TimestampBody};
use crate::{Checkpoint, Digest, EvidenceError, Levels, PhotoRef, Record, canonical, tree};

/// What is kept of a log: about a hundred bytes per record and photo, never the records themselves.
#[derive(Debug, Default)]
pub struct Ledger {
    /// Leaf hash of every record, in order, and the tree over them.
    pub tree: Levels,
    /// The job the records belong to.
    pub job: Option<String>,
    /// By hash: every photo the records speak for.
    pub photos: BTreeMap<Digest, PhotoRef>,
    /// By hash of the derivative: what stands in for an original.
    pub redactions: BTreeMap<Digest, Redaction>,
    /// By hash of the original: since when the shop says that it no longer has it, by the device's own clock.
    pub missing: BTreeMap<Digest, String>,
    /// Digests of the values that may be withheld.
    pub withheld: BTreeSet<Digest>,
    /// Hashes of the reports.
    pub reports: BTreeSet<Digest>,
    /// Which record of which other log the records knew of: see there.
    pub others: Others,
    /// Records about keys, with their sequence.
    pub keys: Vec<(u64, KeyRecord)>,
    /// Records that hold a time-stamp, with their sequence.
    pub stamps: Vec<(u64, TimestampBody)>,
    /// How the clock ran.
    pub clock: Clock,
    /// Records whose kind promises a body they don't have.
    pub unreadable: Vec<(u64, Code, Wrong)>,
    /// What the records say about each other.
    pub said: Said,
}

/// What a record says about keys.
#[derive(Debug)]
pub enum KeyRecord {
    /// The device goes on with a new key, named by the old one.
    Changed(KeyChanged),
    /// The device goes on with a new key, named by nobody.
    Lost(KeyLost),
    /// Another device's key is named.
    Added(DeviceAdded),
}

/// One step of `consistency.json`.
#[derive(Serialize)]
struct Step {
    from: u64,
    to: u64,
    proof: Vec<Digest>,
}

impl Ledger {
    /// How many records were read.
    pub fn size(&self) -> u64 {
        self.tree.size()
    }

    /// Reads the next record of `device`'s log. The leaf is kept even if something is wrong with the record, so
    /// that one bad record is one problem.
    ///
    /// # Errors
    /// What is wrong with the record.
    pub fn push(&mut self, device: &str, bytes: &[u8]) -> Result<(), Wrong> {
        let (sequence, previous) = (self.size(), self.tree.leaves().last().copied());
        let leaf = tree::leaf(bytes);
        self.tree.push(leaf);
        let record = Record::parse(bytes).map_err(|cause| Wrong::NotARecord { detail: cause.to_string() })?;
        let job = self.job.get_or_insert_with(|| record.job.clone()).clone();
        self.clock.tick(sequence, &record.moment());
        self.said.take(sequence, leaf, &record);
        self.speak_for(sequence, &record);
        if record.sequence != sequence {
            let one_more = |place: u64| place.saturating_add(1);
            return Err(Wrong::RecordNumbered {
                states: one_more(record.sequence),
                stands: one_more(sequence),
            });
        }
        if record.previous != previous {
            return Err(Wrong::RecordNotChained);
        }
        if record.device != device || record.job != job {
            return Err(Wrong::RecordElsewhere);
        }
        Ok(())
    }

    fn speak_for(&mut self, sequence: u64, record: &Record) {
        self.photos.extend(record.photos.iter().map(|photo| (photo.sha256, photo.clone())));
        self.withheld.extend(&record.withheld);
        record.others.iter().for_each(|(device, leaf)| self.others.push(sequence, device, *leaf));
        match record.kind.as_str() {
            REPORT_KIND => {
                let sha256 =
                    record.body.get("sha256").and_then(|value| value.as_str()?.parse::<Digest>().ok());
                self.reports.extend(sha256);
            }
            redaction::KIND => {
                if let Some(body) = self.body::<redaction::Redactions>(sequence, Code::Redaction, record) {
                    self.redactions.extend(body.redactions.into_iter().map(|one| (one.sha256, one)));
                }
            }
            missing::KIND => {
                if let Some(body) = self.body::<missing::Missing>(sequence, Code::PhotoMissing, record) {
                    for one in body.missing {
                        self.missing.entry(one.original).or_insert_with(|| record.wall.clone());
                    }
                }
            }
            timestamp::KIND => {
                let body = self.body(sequence, Code::Timestamp, record);
                self.stamps.extend(body.map(|body| (sequence, body)));
            }
            succession::CHANGED => {
                let body = self.body(sequence, Code::Key, record);
                self.keys.extend(body.map(|body| (sequence, KeyRecord::Changed(body))));
            }
            succession::LOST => {
                let body = self.body(sequence, Code::Key, record);
                self.keys.extend(body.map(|body| (sequence, KeyRecord::Lost(body))));
            }
            succession::ADDED => {
                let body = self.body(sequence, Code::Key, record);
                self.keys.extend(body.map(|body| (sequence, KeyRecord::Added(body))));
            }
            _ => {}
        }
    }

    /// The body as its kind promises it; remembers if it isn't.
    fn body<T: DeserializeOwned>(&mut self, sequence: u64, code: Code, record: &Record) -> Option<T> {
        match serde_json::from_value(record.body.clone()) {
            Ok(body) => Some(body),
            Err(cause) => {
                let (kind, detail) = (record.kind.clone(), cause.to_string());
                self.unreadable.push((sequence, code, Wrong::BodyOfKind { kind, detail }));
                None
            }
        }
    }

    /// What is wrong with a checkpoint, compared with the records; nothing if it fits.
    pub fn contradiction(&self, checkpoint: &Checkpoint) -> Option<Wrong> {
        match self.tree.root_at(checkpoint.size) {
            None => Some(Wrong::CoversTooMany { covers: checkpoint.size, records: self.size() }),
            Some(root) if root != checkpoint.root => Some(Wrong::RootDiffers { records: checkpoint.size }),
            Some(_) => None,
        }
    }

    /// The content of `consistency.json`: from each checkpoint to the next, the proof of RFC 6962 section 2.1.2.
    ///
    /// # Errors
    /// Sizes that go down or beyond the log.
    pub fn consistency(&self, sizes: &[u64]) -> Result<Vec<u8>, EvidenceError> {
        let wrong = || EvidenceError::BadContents("the checkpoints are not in order".into());
        let steps = sizes.iter().zip(sizes.iter().skip(1)).map(|(&from, &to)| {
            let proof = self.tree.consistency_proof(from, to).ok_or_else(wrong)?;
            Ok(Step { from, to, proof })
        });
        canonical::bytes(&steps.collect::<Result<Vec<_>, EvidenceError>>()?)
    }
}
