//! Holding what lies in the packet against the records: signatures, chain, photos, reports, disclosures, key.

use std::collections::{BTreeMap, BTreeSet};

use super::container::Hashed;
use super::ledger::Ledger;
use super::log_check::{CheckedLog, LogFiles};
use super::options::Options;
use super::pictures::{self, Picture};
use super::place::{self, InLog, Place};
use super::verdict::{Code, Findings, LogVerdict, OutsideTime, Verdict, counted};
use super::walk::File;
use super::{knowledge, script, stamps, texts};
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
            Place::Readme | Place::Certification | Place::CertificationEs => {
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
            findings.problem(
                Code::Manifest,
                "bag-info.txt",
                "it names another job than the folder, or there is no log",
            );
        }
        let checked: Vec<CheckedLog<'_>> =
            self.logs.iter().map(|(device, log)| log.check(&id, device, options, &mut findings)).collect();
        let trusted = knowledge::trusted(&checked, options);
        let logs: Vec<LogVerdict> = checked.iter().map(|log| knowledge::judge(log, &trusted)).collect();
        let times: Vec<OutsideTime> = checked.iter().flat_map(|log| log.times.iter().cloned()).collect();
        say_signed_and_chained(&logs, &times, options, &mut findings);
        self.check_other_logs(&mut findings);
        let ledgers: Vec<&Ledger> = self.ledgers().collect();
        let photos = pictures::check(&self.photos, &self.redacted, &ledgers, &mut findings);
        self.check_reports(&mut findings);
        let (disclosed, withheld) = self.check_disclosures(&mut findings);
        knowledge::check_keys(&checked, &logs, options, &mut findings);
        knowledge::check_checkpoints(&id, &checked, options, &mut findings);
        let script = self.check_texts(&mut findings);
        let Findings { proven, not_proven, problems, doubts } = findings;
        let good = problems.is_empty();
        Verdict {
            good,
            job: shop_and_job,
            logs,
            photos,
            disclosed,
            withheld,
            times,
            script,
            proven,
            not_proven,
            doubts,
            problems,
        }
    }

    /// A record that knew of another log's record shows if that log lost its tail.
    fn check_other_logs(&self, findings: &mut Findings) {
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
                        let what =
                            format!("record {sequence} of {device} knew of a record that is not in this log");
                        findings.problem(Code::OtherLogs, &place::log_folder(other), what);
                    }
                    Some(_) => {}
                }
            }
        }
        for device in absent {
            findings.not_proven(
                Code::OtherLogs,
                None,
                format!("the log of {device} is known to exist but is not in the packet"),
            );
        }
    }

    fn ledgers(&self) -> impl Iterator<Item = &Ledger> {
        self.logs.values().map(|log| &log.ledger)
    }

    fn check_reports(&self, findings: &mut Findings) {
        for (path, sha256) in &self.reports {
            if !self.ledgers().any(|ledger| ledger.reports.contains(sha256)) {
                findings.problem(Code::Report, path, "no record names a report with these bytes");
            }
        }
        if !self.reports.is_empty() {
            findings.proven_unless(
                Code::Report,
                format!("{} with the bytes a record names", counted(self.reports.len() as u64, "report")),
            );
        }
    }

    fn check_disclosures(&self, findings: &mut Findings) -> (u64, u64) {
        for (path, named, read) in &self.disclosures {
            if *read != Some(*named) {
                findings.problem(Code::Disclosure, path, "it is not the disclosure its name states");
            } else if !self.ledgers().any(|ledger| ledger.withheld.contains(named)) {
                findings.problem(Code::Disclosure, path, "no record holds the digest of this value");
            }
        }
        let (shown, all) =
            (self.disclosures.len(), self.ledgers().map(|ledger| ledger.withheld.len()).sum::<usize>());
        if shown > 0 {
            findings.proven_unless(
                Code::Disclosure,
                format!("{}: what is shown is what was sealed", counted(shown as u64, "disclosed value")),
            );
        }
        if all > shown {
            findings.not_proven(
                Code::Disclosure,
                None,
                format!("{} withheld", counted((all - shown) as u64, "value")),
            );
        }
        (shown as u64, all.saturating_sub(shown) as u64)
    }

    /// Unknown texts are no problem of the evidence, but nobody should act on them unread.
    fn check_texts(&self, findings: &mut Findings) -> Option<String> {
        let known = self.script.as_ref().and_then(script::known_script_version);
        if known.is_none() {
            let what = "this script is unknown here: do not run it";
            findings.not_proven(Code::Texts, Some("data/verify.sh"), what);
        }
        for path in ["data/README.txt", "data/certification.txt"] {
            if !self.texts.contains_key(path) {
                findings.not_proven(Code::Texts, Some(path), "this text was left out");
            }
        }
        for (path, _) in self.texts.iter().filter(|(_, known)| !**known) {
            let what = "this text is unknown here: it may have been rewritten";
            findings.not_proven(Code::Texts, Some(path), what);
        }
        findings.not_proven(
            Code::Truth,
            None,
            "\"unchanged since it was sealed\" is proven; \"true\" is not",
        );
        known.map(str::to_owned)
    }
}

fn say_signed_and_chained(
    logs: &[LogVerdict],
    times: &[OutsideTime],
    options: &Options,
    findings: &mut Findings,
) {
    let records: u64 = logs.iter().map(|log| log.records).sum();
    let what = if logs.iter().all(|log| log.keys.len() < 2) {
        "the key in each log signed every checkpoint of that log"
    } else {
        "every checkpoint is signed with the key that was valid at its place in the log"
    };
    findings.proven_unless(Code::Signature, what);
    stamps::say(times, options, findings);
    let what = format!(
        "{} unchanged, in the order in which they were sealed, none taken out between",
        counted(records, "record")
    );
    findings.proven_unless(Code::Chain, what);
}
