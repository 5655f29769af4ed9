//! What the caller knows from elsewhere, held against the logs: fingerprints and checkpoints handed over earlier.

use std::collections::{BTreeMap, BTreeSet};

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;

use super::heads;
use super::keys::{self, Keys};
use super::log_check::CheckedLog;
use super::options::Options;
use super::place;
use super::says::{Head, Open, Proven, Wrong};
use super::verdict::{Code, Findings, KeyCame, KeyVerdict, LogVerdict};
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
        note: log.newest_note.clone(),
        signed_alone: heads::stretches(&log.heads),
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
        let wrong = Wrong::KeyNotHere { fingerprint: wanted.to_string() };
        findings.problem(Code::Key, &first_key(logs), wrong);
    }
    check_joined(checked, findings);
    for log in logs {
        for key in log.keys.iter().filter(|key| key.came == KeyCame::AfterLoss) {
            let open = Open::KeyAfterLoss { device: log.device.clone(), from: key.from };
            findings.not_proven(Code::Key, Some(&place::log_folder(&log.device)), open);
        }
        if log.trusted {
            let named = |key: &KeyVerdict| options.trusted_fingerprints.contains(&key.fingerprint);
            let device = log.device.clone();
            let by_named = log.keys.last().is_some_and(named);
            let proven =
                if by_named { Proven::KeyYouNamed { device } } else { Proven::KeyFollowed { device } };
            findings.proven(Code::Key, proven);
        } else if let Some(last) = log.keys.iter().rfind(|key| key.trusted && key.checkpoints > 0) {
            let until = log.keys.iter().find(|key| key.from > last.from).map_or(log.records, |key| key.from);
            let (device, records) = (log.device.clone(), until.saturating_sub(1));
            findings.not_proven(Code::Key, None, Open::KeyAfter { device, records });
        } else {
            findings.not_proven(Code::Key, None, Open::KeyOfWhom { device: log.device.clone() });
        }
    }
}

/// Where a key of the shop named the key of another device, that device's log must hold it.
fn check_joined(checked: &[CheckedLog<'_>], findings: &mut Findings) {
    let logs: Vec<(&str, &Keys)> =
        checked.iter().filter_map(|log| Some((log.device, log.keys.as_ref()?))).collect();
    for device in keys::under_another_name(&logs) {
        let path = format!("{}/key.pem", place::log_folder(device));
        findings.problem(Code::Key, &path, Wrong::KeyUnderAnotherName);
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

/// Holds checkpoints known from elsewhere against the logs, and says of each log what they prove of it: the records up to the
/// newest of them are those that were given; the others could have been rewritten by whoever holds the key.
pub fn check_checkpoints(
    shop_and_job: &str,
    logs: &[CheckedLog<'_>],
    options: &Options,
    findings: &mut Findings,
) {
    // By device: how many records the newest checkpoint that fits covers, of those given and of those remembered.
    let (mut given, mut seen) = (BTreeMap::<&str, u64>::new(), BTreeMap::<&str, u64>::new());
    let bare = options.expected_checkpoints.iter().map(|expected| (Ok(expected.clone()), None, false));
    let notes = options.expected_notes.iter().map(|note| (note.checkpoint(), Some(note), false));
    let of_job = |note: &&SignedCheckpoint| note.text.starts_with(&format!("{shop_and_job}/"));
    let remembered = options.remembered.iter().filter(of_job);
    let remembered = remembered.map(|note| (note.checkpoint(), Some(note), true));
    for (expected, note, remembered) in bare.chain(notes).chain(remembered) {
        match expected {
            Ok(expected) => {
                let known = Known { expected: &expected, note, remembered };
                if let Some(device) = known.check(shop_and_job, logs, findings) {
                    let most = if remembered { &mut seen } else { &mut given }.entry(device).or_default();
                    *most = expected.size.max(*most);
                }
            }
            Err(cause) => {
                let wrong = Wrong::GivenUnreadable { detail: cause.to_string() };
                findings.problem(Code::Tail, "data/logs", wrong);
            }
        }
    }
    for log in logs {
        if let Some(last) = seen.get(log.device).copied().filter(|last| *last > 0) {
            findings.proven(Code::Tail, Proven::AsSeen { device: log.device.to_owned(), last });
        }
        say_given(log, given.get(log.device).copied().unwrap_or_default(), findings);
    }
}

/// What is said of a log whose first `given` records are those of a checkpoint from elsewhere.
fn say_given(log: &CheckedLog<'_>, given: u64, findings: &mut Findings) {
    let (device, records) = (log.device.to_owned(), log.ledger.size());
    if given > 0 && given == records {
        return findings.proven(Code::Tail, Proven::AllAsGiven { device, last: given });
    }
    if given > 0 {
        findings.proven(Code::Tail, Proven::AsGiven { device: device.clone(), last: given });
    }
    let mut first = given.saturating_add(1);
    let mut stretch = |last: u64, until: Option<String>, findings: &mut Findings| {
        if first <= last {
            let device = log.device.to_owned();
            findings.not_proven(Code::Tail, None, Open::Rewritable { device, first, last, until });
            first = last.saturating_add(1);
        }
    };
    // A trusted time ends what could be done to the records it covers.
    let mut times: Vec<_> = log.times.iter().filter(|time| time.trusted).collect();
    times.sort_by_key(|time| time.stamp.unix_ms);
    for time in times {
        stretch(time.size.min(records), Some(time.stamp.time.clone()), findings);
    }
    stretch(records, None, findings);
    findings.not_proven(Code::Tail, None, Open::EndMayBeMissing { device });
}

/// A checkpoint known from elsewhere.
struct Known<'k> {
    expected: &'k Checkpoint,
    note: Option<&'k SignedCheckpoint>,
    /// From an earlier check, not handed over.
    remembered: bool,
}

impl Known<'_> {
    /// The device whose log fits the checkpoint.
    fn check<'a>(
        &self,
        shop_and_job: &str,
        logs: &[CheckedLog<'a>],
        findings: &mut Findings,
    ) -> Option<&'a str> {
        let (expected, remembered) = (self.expected, self.remembered);
        let of_origin = |log: &&CheckedLog<'_>| expected.origin == format!("{shop_and_job}/{}", log.device);
        let Some(log) = logs.iter().find(of_origin) else {
            let wrong = Wrong::GivenLogNotHere { log: expected.origin.clone() };
            findings.problem(Code::Tail, "data/logs", wrong);
            return None;
        };
        let folder = place::log_folder(log.device);
        let signed_here = self.note.is_some_and(|note| signed_by_log(log, note));
        let forged = self.note.is_some() && !signed_here;
        if forged {
            findings.problem(Code::Key, &folder, Wrong::GivenByAnotherKey);
        }
        let size = log.ledger.size();
        let here = head(size, log.ledger.tree.root_at(size).unwrap_or(expected.root));
        let given = head(expected.size, expected.root);
        if expected.size > size {
            findings.problem(Code::Tail, &folder, Wrong::GivenIsLonger { remembered, given, here });
        } else if !extends(log, expected) {
            findings.problem(Code::Fork, &folder, Wrong::Forked { remembered, given, here, signed_here });
        } else if !forged {
            return Some(log.device);
        }
        None
    }
}

fn head(size: u64, root: Digest) -> Head {
    Head { size, root: BASE64.encode(root.0) }
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

fn first_key(logs: &[LogVerdict]) -> String {
    logs.first()
        .map(|log| format!("{}/key.pem", place::log_folder(&log.device)))
        .unwrap_or_else(|| "data/logs".into())
}
