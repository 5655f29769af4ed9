//! What the caller knows from elsewhere, held against the logs: fingerprints and checkpoints handed over earlier.

use std::collections::BTreeSet;

use super::keys::{self, Keys};
use super::log_check::CheckedLog;
use super::options::Options;
use super::place;
use super::verdict::{Code, Findings, KeyCame, KeyVerdict, LogVerdict, counted};
use crate::{Checkpoint, Digest, SignedCheckpoint, fingerprint_words, tree};

/// The fingerprints that are trusted: those named, and those to which signed statements lead from them.
pub fn trusted(logs: &[CheckedLog<'_>], options: &Options) -> BTreeSet<Digest> {
    let mut trusted: BTreeSet<Digest> = options.trusted_fingerprints.iter().copied().collect();
    let keys = || logs.iter().filter_map(|log| log.keys.as_ref());
    let followed = keys().flat_map(|keys| keys.all.iter().filter_map(|signing| signing.link.as_ref()));
    let links: Vec<_> = followed.chain(keys().flat_map(|keys| &keys.joined)).collect();
    let statements: Vec<_> =
        links.iter().filter_map(|link| link.signed.as_ref()).map(|(said, _)| said).collect();
    // Each round can add at least one; there are no more than there are statements.
    for _ in 0..statements.len() {
        let reached = statements.iter().filter(|said| trusted.contains(&said.signer)).map(|said| said.named);
        let reached: Vec<Digest> = reached.collect();
        trusted.extend(reached);
    }
    trusted
}

/// The verdict on one log, once all that is trusted is known.
pub fn judge(log: &CheckedLog<'_>, trusted: &BTreeSet<Digest>) -> LogVerdict {
    let keys: Vec<KeyVerdict> = log.keys.iter().flat_map(|keys| key_verdicts(log, keys, trusted)).collect();
    let fits = |checkpoint: &&Checkpoint| log.ledger.contradiction(checkpoint).is_none();
    LogVerdict {
        device: log.device.to_owned(),
        records: log.ledger.size(),
        fingerprint: keys.last().map(|key| key.fingerprint),
        words: keys.last().map(|key| key.words.clone()),
        trusted: keys.last().is_some_and(|key| key.trusted),
        keys,
        restarts: log.ledger.clock.restarts,
        checkpoint: log.checkpoints.values().rfind(fits).cloned(),
    }
}

fn key_verdicts(log: &CheckedLog<'_>, keys: &Keys, trusted: &BTreeSet<Digest>) -> Vec<KeyVerdict> {
    let verdict = |signing: &super::keys::Signing| {
        let fingerprint = signing.key.fingerprint().ok()?;
        let signed = |checkpoint: &&Checkpoint| keys.at(checkpoint.size) == Some(&signing.key);
        Some(KeyVerdict {
            fingerprint,
            words: fingerprint_words(&fingerprint),
            from: signing.from,
            checkpoints: log.checkpoints.values().filter(signed).count() as u64,
            came: match &signing.link {
                None => KeyCame::First,
                Some(link) if link.signed.is_some() => KeyCame::Named,
                Some(_) => KeyCame::AfterLoss,
            },
            trusted: trusted.contains(&fingerprint),
        })
    };
    keys.all.iter().filter_map(verdict).collect()
}

/// Says whose keys signed, and what is wrong with that.
pub fn check_keys(
    checked: &[CheckedLog<'_>],
    logs: &[LogVerdict],
    options: &Options,
    findings: &mut Findings,
) {
    let signers: BTreeSet<Digest> = signers(checked, logs);
    for wanted in options.trusted_fingerprints.iter().filter(|wanted| !signers.contains(wanted)) {
        findings.problem(
            Code::Key,
            &first_key(logs),
            format!("no log here is signed with the key {wanted}, or by one that it named"),
        );
    }
    check_joined(checked, findings);
    for log in logs {
        for key in log.keys.iter().filter(|key| key.came == KeyCame::AfterLoss) {
            let what = format!(
                "who holds the key of {} from record {} on: the key before was reported lost and did not name this one",
                log.device, key.from
            );
            findings.not_proven(Code::Key, Some(&place::log_folder(&log.device)), what);
        }
        if log.trusted {
            let way =
                if log.keys.last().is_some_and(|key| options.trusted_fingerprints.contains(&key.fingerprint))
                {
                    "with the key you named"
                } else {
                    "with a key to which signed statements lead from the one you named"
                };
            findings.proven(Code::Key, format!("the log of {} is signed {way}", log.device));
        } else if let Some(last) = log.keys.iter().rfind(|key| key.trusted && key.checkpoints > 0) {
            let until = log.keys.iter().find(|key| key.from > last.from).map_or(log.records, |key| key.from);
            let what = format!(
                "whose key signed the log of {} after its first {}: only those before are signed with the key \
                 you named",
                log.device,
                counted(until.saturating_sub(1), "record")
            );
            findings.not_proven(Code::Key, None, what);
        } else {
            let what = format!(
                "whose key signed the log of {}: compare its fingerprint with the one handed over",
                log.device
            );
            findings.not_proven(Code::Key, None, what);
        }
    }
}

/// Where a key of the shop named the key of another device, that device's log must hold it.
fn check_joined(checked: &[CheckedLog<'_>], findings: &mut Findings) {
    let logs: Vec<(&str, &Keys)> =
        checked.iter().filter_map(|log| Some((log.device, log.keys.as_ref()?))).collect();
    for device in keys::under_another_name(&logs) {
        let path = format!("{}/key.pem", place::log_folder(device));
        let what = "another log of the job names another key for this device: this log is not by that device";
        findings.problem(Code::Key, &path, what);
    }
}

/// Keys that signed a checkpoint or a statement here; a key that is only mentioned proves nothing.
fn signers(checked: &[CheckedLog<'_>], logs: &[LogVerdict]) -> BTreeSet<Digest> {
    let of_checkpoints =
        logs.iter().flat_map(|log| &log.keys).filter(|key| key.checkpoints > 0).map(|key| key.fingerprint);
    let keys = || checked.iter().filter_map(|log| log.keys.as_ref());
    let followed = keys().flat_map(|keys| keys.all.iter().filter_map(|signing| signing.link.as_ref()));
    let links = followed.chain(keys().flat_map(|keys| &keys.joined));
    let of_statements = links.filter_map(|link| link.signed.as_ref()).map(|(said, _)| said.signer);
    of_checkpoints.chain(of_statements).collect()
}

/// Holds checkpoints known from elsewhere against the logs.
pub fn check_checkpoints(
    shop_and_job: &str,
    logs: &[CheckedLog<'_>],
    options: &Options,
    findings: &mut Findings,
) {
    let before = findings.problems.len();
    for expected in &options.expected_checkpoints {
        check_checkpoint(shop_and_job, logs, expected, None, findings);
    }
    for note in &options.expected_notes {
        match note.checkpoint() {
            Ok(expected) => check_checkpoint(shop_and_job, logs, &expected, Some(note), findings),
            Err(cause) => findings.problem(Code::Tail, "data/logs", cause.to_string()),
        }
    }
    if options.expected_checkpoints.is_empty() && options.expected_notes.is_empty() {
        let what = "that no record is missing at the end: compare a checkpoint handed over earlier";
        findings.not_proven(Code::Tail, None, what);
    } else if findings.problems.len() == before {
        let what = "the logs are those of the checkpoints you gave, or have grown from them";
        findings.proven(Code::Tail, what);
    }
}

fn check_checkpoint(
    shop_and_job: &str,
    logs: &[CheckedLog<'_>],
    expected: &Checkpoint,
    note: Option<&SignedCheckpoint>,
    findings: &mut Findings,
) {
    let of_origin = |log: &&CheckedLog<'_>| expected.origin == format!("{shop_and_job}/{}", log.device);
    let Some(log) = logs.iter().find(of_origin) else {
        let what = format!("the log {} is not in the packet", expected.origin);
        return findings.problem(Code::Tail, "data/logs", what);
    };
    let folder = place::log_folder(log.device);
    let signed_here = note.is_some_and(|note| signed_by_log(log, note));
    if note.is_some() && !signed_here {
        let what = "the checkpoint you gave is not signed with a key of this log: the log was signed anew with another \
                    key, or the checkpoint is forged";
        findings.problem(Code::Key, &folder, what);
    }
    if expected.size > log.ledger.size() {
        let what = format!(
            "compared with the checkpoint you gave: it covers {}, but there are {}. Records were taken off the \
             end, or this packet is older than your checkpoint",
            counted(expected.size, "record"),
            log.ledger.size()
        );
        findings.problem(Code::Tail, &folder, what);
    } else if !extends(log, expected) {
        let who = if signed_here {
            ". Both carry a good signature: whoever holds the key has sealed two histories"
        } else {
            ": one of the two was made up"
        };
        let what = format!(
            "compared with the checkpoint you gave: its first {} not the ones here (a fork){who}",
            are(expected.size)
        );
        findings.problem(Code::Fork, &folder, what);
    }
}

/// Whether the log has grown from the checkpoint, by a proof made and checked (RFC 6962 section 2.1.2).
fn extends(log: &CheckedLog<'_>, old: &Checkpoint) -> bool {
    let (tree_now, size) = (&log.ledger.tree, log.ledger.size());
    let proof = tree_now.consistency_proof(old.size, size).zip(tree_now.root_at(size));
    proof.is_some_and(|(proof, root)| tree::verify_consistency(old.size, &old.root, size, &root, &proof))
}

fn signed_by_log(log: &CheckedLog<'_>, note: &SignedCheckpoint) -> bool {
    let keys = log.keys.iter().flat_map(|keys| &keys.all);
    keys.into_iter().any(|signing| signing.key.verify_checkpoint(note).is_ok())
}

fn are(count: u64) -> String {
    format!("{} {}", counted(count, "record"), if count == 1 { "is" } else { "are" })
}

fn first_key(logs: &[LogVerdict]) -> String {
    logs.first()
        .map(|log| format!("{}/key.pem", place::log_folder(&log.device)))
        .unwrap_or_else(|| "data/logs".into())
}
