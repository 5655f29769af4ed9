//! One device's log in a packet: its key, its checkpoints and its records against each other.

use std::collections::BTreeMap;

use super::ledger::Ledger;
use super::place;
use super::verdict::{Code, Findings};
use super::{LogVerdict, Options};
use crate::{Checkpoint, EvidenceError, PublicKey, SignedCheckpoint, fingerprint_words};

/// The files of a log, records read and let go.
#[derive(Debug, Default)]
pub struct LogFiles {
    /// What the records hold.
    pub ledger: Ledger,
    /// Whether outside time-stamps lie there.
    pub has_timestamps: bool,
    /// Path and what is wrong with it.
    bad_records: Vec<(String, String)>,
    /// By path: key, checkpoints, consistency proof.
    files: BTreeMap<String, Vec<u8>>,
}

impl LogFiles {
    /// Takes up the next record.
    pub fn add_record(&mut self, device: &str, path: String, bytes: &[u8]) {
        let expected =
            format!("{}/records/{}", place::log_folder(device), place::record_name(self.ledger.size()));
        let pushed = self.ledger.push(device, bytes);
        if path != expected {
            self.bad_records.push((path, format!("{expected} should stand here")));
        } else if let Err(what) = pushed {
            self.bad_records.push((path, what));
        }
    }

    /// Takes up any other file.
    pub fn add_file(&mut self, path: String, bytes: &[u8]) {
        self.files.insert(path, bytes.to_vec());
    }

    /// Checks signatures, chain, roots and what the caller knew before.
    pub fn check(
        &self,
        shop_and_job: &str,
        device: &str,
        options: &Options,
        findings: &mut Findings,
    ) -> LogVerdict {
        let folder = place::log_folder(device);
        let key = self.read_key(&folder, findings);
        let origin = format!("{shop_and_job}/{device}");
        let checkpoints = self.check_signatures(&folder, &origin, key.as_ref(), findings);
        self.check_chain(&folder, &origin, &checkpoints, findings);
        self.check_expected(&folder, &origin, options, findings);
        let fingerprint = key.and_then(|key| key.fingerprint().ok());
        let fits = |checkpoint: &&(String, Checkpoint)| self.ledger.contradiction(&checkpoint.1).is_none();
        LogVerdict {
            device: device.to_owned(),
            records: self.ledger.size(),
            fingerprint,
            words: fingerprint.as_ref().map(fingerprint_words),
            trusted: fingerprint.is_some_and(|print| options.trusted_fingerprints.contains(&print)),
            checkpoint: checkpoints.iter().rfind(fits).map(|(_, checkpoint)| checkpoint.clone()),
        }
    }

    fn read_key(&self, folder: &str, findings: &mut Findings) -> Option<PublicKey> {
        let path = format!("{folder}/key.pem");
        let pem = self.text(&path);
        let key = pem.as_ref().and_then(|pem| PublicKey::from_pem(pem).ok());
        let key = key.filter(|key| key.pem().ok() == pem);
        if key.is_none() {
            findings.problem(Code::Signature, &path, "it is missing, or no Ed25519 key in the one form");
        }
        key
    }

    /// The checkpoints whose signature fits, with the path of their text.
    fn check_signatures(
        &self,
        folder: &str,
        origin: &str,
        key: Option<&PublicKey>,
        findings: &mut Findings,
    ) -> Vec<(String, Checkpoint)> {
        let mut good = Vec::new();
        let texts = self.files.keys().filter(|path| path.ends_with(".txt")).count() as u32;
        for number in 1..=texts.max(1) {
            let path = format!("{folder}/{}.txt", place::checkpoint_stem(number));
            match self.check_signature(folder, number, origin, key) {
                Ok(checkpoint) => good.push((path, checkpoint)),
                Err(cause) => findings.problem(Code::Signature, &path, cause.to_string()),
            }
        }
        if self.files.len() as u32 != 3 * texts + 2 {
            findings.problem(
                Code::Signature,
                folder,
                "a signature, note, key or consistency proof is missing or too many",
            );
        }
        good
    }

    fn check_signature(
        &self,
        folder: &str,
        number: u32,
        origin: &str,
        key: Option<&PublicKey>,
    ) -> Result<Checkpoint, EvidenceError> {
        let stem = format!("{folder}/{}", place::checkpoint_stem(number));
        let missing = EvidenceError::BadCheckpoint("its text, signature, note or key is missing or damaged");
        let signature =
            self.files.get(&format!("{stem}.sig")).and_then(|bytes| bytes.as_slice().try_into().ok());
        let parts = (self.text(&format!("{stem}.txt")), signature, self.text(&format!("{stem}.note")), key);
        let (Some(text), Some(signature), Some(note), Some(key)) = parts else { return Err(missing) };
        let checkpoint = key.verify_checkpoint(&SignedCheckpoint { text, signature, note })?;
        if checkpoint.origin == origin {
            Ok(checkpoint)
        } else {
            Err(EvidenceError::BadCheckpoint("it is of another shop, job or device"))
        }
    }

    fn check_chain(
        &self,
        folder: &str,
        origin: &str,
        checkpoints: &[(String, Checkpoint)],
        findings: &mut Findings,
    ) {
        for (path, what) in &self.bad_records {
            findings.problem(Code::Chain, path, what);
        }
        let job = origin.split('/').nth(1);
        if self.ledger.job.as_deref() != job {
            findings.problem(Code::Chain, folder, "its records are of another job than its checkpoints");
        }
        for (path, checkpoint) in checkpoints {
            if let Some(what) = self.ledger.contradiction(checkpoint) {
                findings.problem(Code::Chain, path, what);
            }
        }
        let covered = checkpoints.last().map(|(_, last)| last.size);
        if covered != Some(self.ledger.size()) {
            findings.problem(Code::Chain, folder, "the last checkpoint does not cover every record");
        }
        let path = format!("{folder}/consistency.json");
        let sizes: Vec<u64> = checkpoints.iter().map(|(_, checkpoint)| checkpoint.size).collect();
        let wanted = self.ledger.consistency(&sizes).ok();
        if wanted.is_none() || self.files.get(&path) != wanted.as_ref() {
            findings.problem(
                Code::Chain,
                &path,
                "it is not the proof that follows from records and checkpoints",
            );
        }
    }

    fn check_expected(&self, folder: &str, origin: &str, options: &Options, findings: &mut Findings) {
        for expected in options.expected_checkpoints.iter().filter(|expected| expected.origin == origin) {
            if let Some(what) = self.ledger.contradiction(expected) {
                findings.problem(
                    Code::Tail,
                    folder,
                    format!("compared with the checkpoint you gave: {what}"),
                );
            }
        }
    }

    fn text(&self, path: &str) -> Option<String> {
        String::from_utf8(self.files.get(path)?.clone()).ok()
    }
}
