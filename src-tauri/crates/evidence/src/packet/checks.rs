//! Holding what lies in the packet against the records: signatures, chain, photos, reports, disclosures, key.

use std::collections::{BTreeMap, BTreeSet};

use super::container::Hashed;
use super::ledger::Ledger;
use super::log_check::{CheckedLog, LogFiles};
use super::options::Options;
use super::pictures::{self, Picture};
use super::place::{self, InLog, Place};
use super::says::{Headline, Open, Proven, Signer, Wrong};
use super::verdict::{Code, Findings, LogVerdict, OutsideTime, Verdict};
use super::walk::File;
use super::{alone, knowledge, meaning, script, stamps, texts};
use crate::{Digest, Disclosure};

/// What was gathered while the files went past.
#[derive(Debug, Default)]
pub struct Gathered {
    logs: BTreeMap<String, LogFiles>,
    photos: Vec<Picture>,
    redacted: Vec<Picture>,
    reports: Vec<(String, Digest)>,
    disclosures: Vec<(String, Digest, Option<Digest>)>,
    script: Option<Digest>,
    /// By path: whether a version of this program wrote it.
    texts: BTreeMap<String, bool>,
}

impl Gathered {
    /// Takes up one file; records must come in order.
    pub fn add(&mut self, file: &File, hashed: Hashed, bytes: &[u8]) {
        let (path, sha256) = (file.path.clone(), hashed.sha256);
        match &file.place {
            Place::Log(device, which) => self.add_to_log(device, which, path, bytes),
            Place::Photo(named, extension) | Place::Redacted(named, extension) => {
                let (named, extension) = (*named, extension.clone());
                let picture = Picture { path, named, extension, sha256, bytes: file.entry.size };
                let original = matches!(file.place, Place::Photo(..));
                if original { self.photos.push(picture) } else { self.redacted.push(picture) }
            }
            Place::Report => self.reports.push((path, sha256)),
            Place::Disclosure(named) => {
                let read = std::str::from_utf8(bytes).ok().and_then(|text| Disclosure::parse(text).ok());
                self.disclosures.push((path, *named, read.map(|disclosure| disclosure.digest())));
            }
            Place::Script => self.script = Some(sha256),
            Place::Readme | Place::Certification | Place::CertificationEs | Place::RecordSchema => {
                self.texts.insert(path, texts::is_known(bytes));
            }
            Place::BagIt | Place::BagInfo | Place::Manifest | Place::TagManifest => {}
        }
    }

    fn add_to_log(&mut self, device: &str, which: &InLog, path: String, bytes: &[u8]) {
        let log = self.logs.entry(device.to_owned()).or_default();
        match which {
            InLog::Record(_) => log.add_record(device, path, bytes),
            InLog::Timestamp(number, count) => log.add_token(*number, *count, bytes),
            _ => log.add_file(device, &path, bytes),
        }
    }

    /// Makes all checks in order.
    pub fn verdict(
        self,
        folder: &str,
        shop_and_job: Option<String>,
        options: &Options,
        mut findings: Findings,
    ) -> Verdict {
        let id = shop_and_job.clone().unwrap_or_default();
        let job = id.split('/').nth(1).unwrap_or_default();
        if folder != place::bag_folder(job) || self.logs.is_empty() {
            findings.problem(Code::Manifest, "bag-info.txt", Wrong::AnotherJob);
        }
        let checked: Vec<CheckedLog<'_>> =
            self.logs.iter().map(|(device, log)| log.check(&id, device, options, &mut findings)).collect();
        let trusted = knowledge::trusted(&checked, options);
        let logs: Vec<LogVerdict> = checked.iter().map(|log| knowledge::judge(log, &trusted)).collect();
        let times: Vec<OutsideTime> = checked.iter().flat_map(|log| log.times.iter().cloned()).collect();
        say_signed_and_chained(&logs, &times, options, &mut findings);
        let complete = self.check_other_logs(&mut findings);
        let ledgers: Vec<&Ledger> = self.ledgers().collect();
        let photos = pictures::check(&self.photos, &self.redacted, &ledgers, &mut findings);
        self.check_reports(&mut findings);
        let named: Vec<(&str, &Ledger)> =
            self.logs.iter().map(|(device, log)| (device.as_str(), &log.ledger)).collect();
        meaning::check(&named, complete, &mut findings);
        let (disclosed, withheld) = self.check_disclosures(&mut findings);
        knowledge::check_keys(&checked, &logs, options, &mut findings);
        knowledge::check_checkpoints(&id, &checked, options, &mut findings);
        alone::say(&checked, &mut findings);
        let script = self.check_texts(&mut findings);
        let Findings { proven, not_proven, problems, doubts } = findings;
        let good = problems.is_empty();
        let headline = if good { Headline::Unchanged { signers: signers(&logs) } } else { Headline::Refused };
        let (times, claimed_times) = times.into_iter().partition(|time| time.trusted);
        Verdict {
            good,
            headline_said: headline.said(),
            headline,
            job: shop_and_job,
            logs,
            photos,
            disclosed,
            withheld,
            times,
            claimed_times,
            script,
            proven,
            not_proven,
            doubts,
            problems,
        }
    }

    /// A record that knew of another log's record shows if that log lost its tail. Answers whether every log that is known of
    /// is here.
    fn check_other_logs(&self, findings: &mut Findings) -> bool {
        let asked = |device: &str| self.logs.values().any(|log| log.ledger.others.names(device));
        let sorted = |log: &LogFiles| {
            let mut leaves = log.ledger.tree.leaves().to_vec();
            leaves.sort_unstable();
            leaves
        };
        let known = self.logs.iter().filter(|(device, _)| asked(device));
        let leaves: BTreeMap<&str, _> = known.map(|(device, log)| (device.as_str(), sorted(log))).collect();
        let mut absent = BTreeSet::new();
        for (device, log) in &self.logs {
            for (sequence, other, leaf) in log.ledger.others.iter() {
                match leaves.get(other) {
                    None => drop(absent.insert(other)),
                    Some(leaves) if leaves.binary_search(leaf).is_err() => {
                        let record = sequence.saturating_add(1);
                        let wrong = Wrong::LogLacks { device: device.clone(), record };
                        findings.problem(Code::OtherLogs, &place::log_folder(other), wrong);
                    }
                    Some(_) => {}
                }
            }
        }
        for device in &absent {
            findings.not_proven(Code::OtherLogs, None, Open::LogAbsent { device: (*device).to_owned() });
        }
        absent.is_empty()
    }

    fn ledgers(&self) -> impl Iterator<Item = &Ledger> {
        self.logs.values().map(|log| &log.ledger)
    }

    fn check_reports(&self, findings: &mut Findings) {
        for (path, sha256) in &self.reports {
            if !self.ledgers().any(|ledger| ledger.reports.contains(sha256)) {
                findings.problem(Code::Report, path, Wrong::ReportUnnamed);
            }
        }
        if !self.reports.is_empty() {
            let reports = self.reports.len() as u64;
            findings.proven_unless(Code::Report, Proven::ReportsFit { reports });
        }
    }

    fn check_disclosures(&self, findings: &mut Findings) -> (u64, u64) {
        for (path, named, read) in &self.disclosures {
            if *read != Some(*named) {
                findings.problem(Code::Disclosure, path, Wrong::NotTheDisclosure);
            } else if !self.ledgers().any(|ledger| ledger.withheld.contains(named)) {
                findings.problem(Code::Disclosure, path, Wrong::ValueUnnamed);
            }
        }
        let shown = self.disclosures.len() as u64;
        let all = self.ledgers().map(|ledger| ledger.withheld.len() as u64).sum::<u64>();
        let values = all.saturating_sub(shown);
        if shown > 0 {
            findings.proven_unless(Code::Disclosure, Proven::ValuesFit { values: shown });
        }
        if values > 0 {
            findings.not_proven(Code::Disclosure, None, Open::ValuesWithheld { values });
        }
        (shown, values)
    }

    /// Unknown texts are no problem of the evidence, but nobody should act on them unread.
    fn check_texts(&self, findings: &mut Findings) -> Option<String> {
        let known = self.script.as_ref().and_then(script::known_script_version);
        if known.is_none() {
            findings.not_proven(Code::Texts, Some("data/verify.sh"), Open::ScriptUnknown);
        }
        for path in ["data/README.txt", "data/certification.txt"] {
            if !self.texts.contains_key(path) {
                findings.not_proven(Code::Texts, Some(path), Open::TextLeftOut);
            }
        }
        for (path, _) in self.texts.iter().filter(|(_, known)| !**known) {
            findings.not_proven(Code::Texts, Some(path), Open::TextUnknown);
        }
        findings.not_proven(Code::Truth, None, Open::Truth);
        known.map(str::to_owned)
    }
}

/// The keys that a good packet's checkpoints are signed with, for the first line of the verdict.
fn signers(logs: &[LogVerdict]) -> Vec<Signer> {
    let of_log = |log: &LogVerdict| {
        let device = log.device.clone();
        let signed = log.keys.iter().filter(|key| key.checkpoints > 0).cloned().collect::<Vec<_>>();
        signed.into_iter().map(move |key| Signer {
            device: device.clone(),
            fingerprint: key.fingerprint.to_string(),
            words: key.words,
        })
    };
    logs.iter().flat_map(of_log).collect()
}

fn say_signed_and_chained(
    logs: &[LogVerdict],
    times: &[OutsideTime],
    options: &Options,
    findings: &mut Findings,
) {
    let records: u64 = logs.iter().map(|log| log.records).sum();
    let one_key = logs.iter().all(|log| log.keys.len() < 2);
    findings
        .proven_unless(Code::Signature, if one_key { Proven::SignedByOneKey } else { Proven::SignedByKeys });
    stamps::say(times, options, findings);
    findings.proven_unless(Code::Chain, Proven::RecordsUnchanged { records });
}
