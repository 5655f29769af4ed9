//! One device's log in a packet: its keys, its checkpoints, its time-stamps and its records against each other.

use std::collections::{BTreeMap, BTreeSet};

use super::heads;
use super::keys::Keys;
use super::ledger::Ledger;
use super::options::Options;
use super::place;
use super::says::Wrong;
use super::stamps::Stamps;
use super::verdict::{Code, Findings, OutsideTime};
use crate::{Checkpoint, EvidenceError, PublicKey, SignedCheckpoint};

/// The files of a log, records read and let go.
#[derive(Debug, Default)]
pub struct LogFiles {
    /// What the records hold.
    pub ledger: Ledger,
    /// Path and what is wrong with it.
    bad_records: Vec<(String, Wrong)>,
    /// By path below the log's folder: keys, checkpoints, consistency proof.
    files: BTreeMap<String, Vec<u8>>,
    /// By number of the checkpoint and count: the time-stamps.
    tokens: BTreeMap<(u32, u32), Vec<u8>>,
}

/// A log after its own checks.
#[derive(Debug)]
pub struct CheckedLog<'a> {
    /// The device.
    pub device: &'a str,
    /// What the records hold.
    pub ledger: &'a Ledger,
    /// Its keys; none if what is said about them doesn't fit.
    pub keys: Option<Keys>,
    /// By number: the checkpoints whose signature fits.
    pub checkpoints: BTreeMap<u32, Checkpoint>,
    /// The last checkpoint as a signed note.
    pub newest_note: Option<String>,
    /// Sizes at which a signature of the log lies beside it and fits.
    pub heads: Vec<u64>,
    /// Times from outside.
    pub times: Vec<OutsideTime>,
}

impl LogFiles {
    /// Takes up the next record.
    pub fn add_record(&mut self, device: &str, path: String, bytes: &[u8]) {
        let expected = place::record_path(device, self.ledger.size());
        let pushed = self.ledger.push(device, bytes);
        if path != expected {
            self.bad_records.push((path, Wrong::RecordMisplaced { expected }));
        } else if let Err(what) = pushed {
            self.bad_records.push((path, what));
        }
    }

    /// Takes up a token.
    pub fn add_token(&mut self, number: u32, count: u32, bytes: &[u8]) {
        self.tokens.insert((number, count), bytes.to_vec());
    }

    /// Takes up any other file.
    pub fn add_file(&mut self, device: &str, path: &str, bytes: &[u8]) {
        let folder = place::log_folder(device);
        let below = path.strip_prefix(&folder).and_then(|rest| rest.strip_prefix('/')).unwrap_or(path);
        self.files.insert(below.to_owned(), bytes.to_vec());
    }

    /// Checks keys, signatures, time-stamps, chain and roots.
    pub fn check<'a>(
        &'a self,
        shop_and_job: &str,
        device: &'a str,
        options: &Options,
        findings: &mut Findings,
    ) -> CheckedLog<'a> {
        let folder = place::log_folder(device);
        let origin = format!("{shop_and_job}/{device}");
        let keys = self.check_keys(&folder, &origin, device, findings);
        let checkpoints = self.check_signatures(&folder, &origin, keys.as_ref(), findings);
        self.check_files(&folder, keys.as_ref(), findings);
        let heads = self.check_heads(&folder, &origin, keys.as_ref(), findings);
        let stamps = Stamps { device, ledger: &self.ledger, checkpoints: &checkpoints, tokens: &self.tokens };
        let times = stamps.check(options, findings);
        self.check_chain(&folder, &origin, &checkpoints, findings);
        for (sequence, what) in &self.ledger.clock.doubts {
            findings.doubt(Code::Clock, &place::record_path(device, *sequence), what.clone());
        }
        let newest =
            checkpoints.keys().last().map(|number| format!("{}.note", place::checkpoint_stem(*number)));
        let newest_note = newest.and_then(|name| self.text(&name));
        CheckedLog { device, ledger: &self.ledger, keys, checkpoints, newest_note, heads, times }
    }

    fn check_keys(&self, folder: &str, origin: &str, device: &str, findings: &mut Findings) -> Option<Keys> {
        let path = format!("{folder}/key.pem");
        let pem = self.text("key.pem");
        let newest = pem.as_ref().and_then(|pem| PublicKey::from_pem(pem).ok());
        let Some(newest) = newest.filter(|key| key.pem().ok() == pem) else {
            findings.problem(Code::Signature, &path, Wrong::NoKey);
            return None;
        };
        let shop = origin.split('/').next().unwrap_or_default();
        match Keys::of(&self.ledger, shop, device, &newest) {
            Ok(keys) => Some(keys),
            Err((sequence, detail)) => {
                let path = place::record_path(device, sequence);
                findings.problem(Code::Key, &path, Wrong::KeyRecord { detail });
                None
            }
        }
    }

    /// By number: the checkpoints whose signature fits the key that was valid at their size.
    fn check_signatures(
        &self,
        folder: &str,
        origin: &str,
        keys: Option<&Keys>,
        findings: &mut Findings,
    ) -> BTreeMap<u32, Checkpoint> {
        let mut good = BTreeMap::new();
        for number in 1..=self.count_checkpoints().max(1) {
            match self.check_signature(number, origin, keys) {
                Ok(checkpoint) => drop(good.insert(number, checkpoint)),
                Err(cause) => {
                    let path = format!("{folder}/{}.txt", place::checkpoint_stem(number));
                    findings.problem(Code::Signature, &path, Wrong::NotSigned { detail: cause.to_string() });
                }
            }
        }
        good
    }

    fn count_checkpoints(&self) -> u32 {
        let texts =
            self.files.keys().filter(|path| path.starts_with("checkpoint-") && path.ends_with(".txt"));
        texts.count() as u32
    }

    fn check_signature(
        &self,
        number: u32,
        origin: &str,
        keys: Option<&Keys>,
    ) -> Result<Checkpoint, EvidenceError> {
        let stem = place::checkpoint_stem(number);
        let missing = EvidenceError::BadCheckpoint("its text, signature, note or key is missing or damaged");
        let signature =
            self.files.get(&format!("{stem}.sig")).and_then(|bytes| bytes.as_slice().try_into().ok());
        let parts = (self.text(&format!("{stem}.txt")), signature, self.text(&format!("{stem}.note")));
        let (Some(text), Some(signature), Some(note)) = parts else { return Err(missing) };
        let signed = SignedCheckpoint { text, signature, note };
        let size = signed.checkpoint()?.size;
        let Some(key) = keys.and_then(|keys| keys.at(size)) else { return Err(missing) };
        let checkpoint = key.verify_checkpoint(&signed)?;
        if checkpoint.origin == origin {
            Ok(checkpoint)
        } else {
            Err(EvidenceError::BadCheckpoint("it is of another shop, job or device"))
        }
    }

    /// There is exactly one way to write down keys and statements, and nothing else may lie there.
    fn check_files(&self, folder: &str, keys: Option<&Keys>, findings: &mut Findings) {
        let Some(wanted) = keys.and_then(|keys| keys.files().ok()) else { return };
        for (path, bytes) in &wanted {
            if self.files.get(path) != Some(bytes) {
                findings.problem(Code::Key, &format!("{folder}/{path}"), Wrong::KeyFile);
            }
        }
        let mut known: BTreeSet<String> = wanted.into_keys().collect();
        known.extend(["consistency.json".to_owned(), place::SIGNATURES.to_owned()]);
        for number in 1..=self.count_checkpoints() {
            let stem = place::checkpoint_stem(number);
            known.extend(["txt", "sig", "note"].map(|extension| format!("{stem}.{extension}")));
        }
        for path in self.files.keys().filter(|path| !known.contains(*path)) {
            findings.problem(Code::Signature, &format!("{folder}/{path}"), Wrong::FileUncalled);
        }
    }

    /// The sizes whose signature fits; all of them or none, so that nothing is said of a file that was tampered with.
    fn check_heads(
        &self,
        folder: &str,
        origin: &str,
        keys: Option<&Keys>,
        findings: &mut Findings,
    ) -> Vec<u64> {
        let Some(bytes) = self.files.get(place::SIGNATURES) else { return Vec::new() };
        let read = std::str::from_utf8(bytes).ok().and_then(heads::parse);
        let what = match (read, keys) {
            (None, _) => Wrong::NotSignatures,
            (_, None) => return Vec::new(),
            (Some(heads), Some(keys)) => match heads::first_wrong(&heads, &self.ledger, origin, keys) {
                None => return heads.into_iter().map(|(size, _)| size).collect(),
                Some(records) => Wrong::HeadNotSigned { records },
            },
        };
        findings.problem(Code::Signature, &format!("{folder}/{}", place::SIGNATURES), what);
        Vec::new()
    }

    fn check_chain(
        &self,
        folder: &str,
        origin: &str,
        checkpoints: &BTreeMap<u32, Checkpoint>,
        findings: &mut Findings,
    ) {
        for (path, what) in &self.bad_records {
            findings.problem(Code::Chain, path, what.clone());
        }
        let mut parts = origin.split('/').skip(1);
        let (job, device) = (parts.next(), parts.next().unwrap_or_default());
        for (sequence, code, what) in &self.ledger.unreadable {
            findings.problem(*code, &place::record_path(device, *sequence), what.clone());
        }
        if self.ledger.job.as_deref() != job {
            findings.problem(Code::Chain, folder, Wrong::RecordsOfAnotherJob);
        }
        for (number, checkpoint) in checkpoints {
            if let Some(what) = self.ledger.contradiction(checkpoint) {
                let path = format!("{folder}/{}.txt", place::checkpoint_stem(*number));
                findings.problem(Code::Chain, &path, what);
            }
        }
        let covered = checkpoints.values().last().map(|last| last.size);
        if covered != Some(self.ledger.size()) {
            findings.problem(Code::Chain, folder, Wrong::LastCoversLess);
        }
        let sizes: Vec<u64> = checkpoints.values().map(|checkpoint| checkpoint.size).collect();
        let wanted = self.ledger.consistency(&sizes).ok();
        if wanted.is_none() || self.files.get("consistency.json") != wanted.as_ref() {
            findings.problem(Code::Chain, &format!("{folder}/consistency.json"), Wrong::NotTheProof);
        }
    }

    fn text(&self, path: &str) -> Option<String> {
        String::from_utf8(self.files.get(path)?.clone()).ok()
    }
}
