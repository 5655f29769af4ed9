//! Putting a packet together.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{Seek, Write};

use super::bag;
use super::contents::{PacketContents, PacketLog, PacketPhoto, PacketTimestamp};
use super::heads;
use super::keys::{self, Keys};
use super::ledger::Ledger;
use super::place::{self, Place};
use super::progress::OnProgress;
use super::redaction::Redaction;
use super::script::SCRIPT;
use super::texts::{self, Language};
use super::zip_out::{LogRecords, Zip};
use crate::{Checkpoint, Digest, EvidenceError, LogId, PublicKey, SignedCheckpoint, timestamp};

/// Writes the packet to `out` and answers its length in bytes. The same contents give the same bytes.
///
/// Photos and records are streamed; memory stays at the reports, a few MiB, and about 200 bytes per record and photo.
/// `out` must be empty and at its start.
///
/// # Errors
/// [`EvidenceError::BadContents`] and others if the logs contradict their checkpoints or something is in the
/// packet that no record speaks for, [`EvidenceError::PhotoChanged`], [`EvidenceError::Cancelled`],
/// [`EvidenceError::Io`]. After an error, what stands in `out` is no packet.
pub fn write<W: Write + Seek>(
    contents: &PacketContents<'_>,
    out: &mut W,
    progress: &mut OnProgress<'_>,
) -> Result<u64, EvidenceError> {
    let plan = plan(contents)?;
    let total = plan.payload.values().map(Source::size).sum();
    let info = bag::info(&plan.shop_and_job, total, plan.payload.values().map(Source::files).sum());
    let mut zip = Zip::new(out, plan.folder, total, progress);
    let mut tags = BTreeMap::new();
    for (path, text) in [("bag-info.txt", info.as_str()), ("bagit.txt", bag::DECLARATION)] {
        tags.insert(path.to_owned(), zip.add_bytes(path, text.as_bytes())?);
    }
    let mut hashes = Vec::new();
    for (path, source) in &plan.payload {
        match source {
            Source::Bytes(bytes) => hashes.push(zip.add_bytes(path, bytes)?),
            Source::Photo(photo) => hashes.push(zip.add_photo(path, photo)?),
            Source::Records(records) => zip.add_records(records, &plan.leaves, &mut hashes)?,
        }
    }
    tags.insert("manifest-sha256.txt".into(), zip.add_manifest("manifest-sha256.txt", &hashes)?);
    zip.add_bytes("tagmanifest-sha256.txt", bag::manifest(&tags).as_bytes())?;
    zip.finish()
}

/// Where the bytes of a file come from.
enum Source<'a> {
    Bytes(Cow<'a, [u8]>),
    Photo(&'a PacketPhoto<'a>),
    /// Everything in the records' folder of a log; nothing else sorts between the first and the last.
    Records(LogRecords<'a>),
}

impl Source<'_> {
    fn size(&self) -> u64 {
        match self {
            Self::Bytes(bytes) => bytes.len() as u64,
            Self::Photo(photo) => photo.photo.bytes,
            Self::Records(records) => records.bytes,
        }
    }

    fn files(&self) -> u64 {
        match self {
            Self::Bytes(_) | Self::Photo(_) => 1,
            Self::Records(records) => records.count,
        }
    }
}

/// Every file of the payload by its path, checked; records by the path of the first.
struct Plan<'a> {
    folder: String,
    shop_and_job: String,
    payload: BTreeMap<String, Source<'a>>,
    /// Of each log in the order of the contents: the leaf hash of each record.
    leaves: Vec<Vec<Digest>>,
}

fn plan<'a>(contents: &'a PacketContents<'a>) -> Result<Plan<'a>, EvidenceError> {
    let mut payload = BTreeMap::new();
    let mut add = |path: String, source: Source<'a>| {
        demand(Place::parse(&path).is_some(), || format!("{path} is not a name a packet may hold"))?;
        let taken = payload.insert(path.clone(), source);
        demand(taken.is_none(), || format!("{path} would be there twice"))
    };
    let (mut ids, mut ledgers, mut all_keys) = (Vec::new(), Vec::new(), Vec::new());
    for (number, log) in contents.logs.iter().enumerate() {
        let (id, ledger, keys) = plan_log(log, number, &mut add)?;
        all_keys.push((id.device.clone(), keys));
        ids.push(id);
        ledgers.push(ledger);
    }
    let logs: Vec<(&str, &Keys)> = all_keys.iter().map(|(device, keys)| (device.as_str(), keys)).collect();
    let strange = keys::under_another_name(&logs).first().copied();
    demand(strange.is_none(), || {
        format!("a log names another key for {} than signed its log", strange.unwrap_or_default())
    })?;
    let first = ids.first().ok_or_else(|| EvidenceError::BadContents("there is no log".into()))?.clone();
    let same = ids.iter().all(|id| (&id.shop, &id.job) == (&first.shop, &first.job));
    demand(same, || "the logs are of different jobs or shops".into())?;
    plan_beside(contents, &ledgers, &mut add)?;
    let shop_and_job = format!("{}/{}", first.shop, first.job);
    // What else the records say isn't needed any more.
    let leaves = ledgers.into_iter().map(|ledger| ledger.tree.into_leaves()).collect();
    Ok(Plan { folder: place::bag_folder(&first.job), shop_and_job, payload, leaves })
}

fn plan_log<'a>(
    log: &'a PacketLog<'a>,
    number: usize,
    add: &mut impl FnMut(String, Source<'a>) -> Result<(), EvidenceError>,
) -> Result<(LogId, Ledger, Keys), EvidenceError> {
    let newest = PublicKey::from_pem(&log.public_key_pem)?;
    let stated = log.checkpoints.iter().map(SignedCheckpoint::checkpoint).collect::<Result<Vec<_>, _>>()?;
    let last = stated.last().ok_or_else(|| EvidenceError::BadContents("a log has no checkpoint".into()))?;
    let id = LogId::parse(&last.origin)?;
    let (ledger, bytes) = read_log(&id, log, &stated)?;
    let keys = Keys::of(&ledger, &id.shop, &id.device, &newest)
        .map_err(|(sequence, what)| bad(format!("record {sequence} of {}: {what}", id.origin())))?;
    for (signed, checkpoint) in log.checkpoints.iter().zip(&stated) {
        let key = keys.at(checkpoint.size).ok_or(EvidenceError::BadSignature)?;
        key.verify_checkpoint(signed)?;
    }
    let folder = place::log_folder(&id.device);
    if let Some(text) = heads::checked(&log.signatures, &ledger, &id.origin(), &keys)? {
        add(format!("{folder}/{}", place::SIGNATURES), Source::Bytes(text.into_bytes().into()))?;
    }
    let device = id.device.clone();
    let records = LogRecords { records: &log.records, device, number, count: ledger.size(), bytes };
    add(place::record_path(&id.device, 0), Source::Records(records))?;
    for (number, signed) in (1..).zip(&log.checkpoints) {
        let stem = place::checkpoint_stem(number);
        add(format!("{folder}/{stem}.txt"), Source::Bytes(signed.text.as_bytes().into()))?;
        add(format!("{folder}/{stem}.sig"), Source::Bytes(Cow::Borrowed(&signed.signature)))?;
        add(format!("{folder}/{stem}.note"), Source::Bytes(signed.note.as_bytes().into()))?;
    }
    let sizes: Vec<u64> = stated.iter().map(|checkpoint| checkpoint.size).collect();
    add(format!("{folder}/consistency.json"), Source::Bytes(ledger.consistency(&sizes)?.into()))?;
    for (path, bytes) in keys.files()? {
        add(format!("{folder}/{path}"), Source::Bytes(bytes.into()))?;
    }
    for (path, token) in tokens(&ledger, &stated, &log.timestamps)? {
        add(format!("{folder}/{path}"), Source::Bytes(token.into()))?;
    }
    Ok((id, ledger, keys))
}

/// Every token that a record holds, then those beside the log, each by its path; the same token lies there once.
fn tokens(
    ledger: &Ledger,
    checkpoints: &[Checkpoint],
    loose: &[PacketTimestamp],
) -> Result<Vec<(String, Vec<u8>)>, EvidenceError> {
    let mut given = Vec::new();
    for (_, body) in &ledger.stamps {
        given.push((body.size, Some(body.root), Some(body.nonce_number()?), body.token_bytes()?));
    }
    given.extend(loose.iter().map(|stamp| (stamp.size, None, None, stamp.token.clone())));
    let mut counts: BTreeMap<u32, Vec<Vec<u8>>> = BTreeMap::new();
    for (size, root, nonce, token) in given {
        let fits = |stated: &Checkpoint| stated.size == size && root.is_none_or(|root| root == stated.root);
        let found = (1_u32..).zip(checkpoints).find(|(_, stated)| fits(stated));
        let (number, stated) = found
            .ok_or_else(|| bad(format!("a time-stamp is over {size} records, where no checkpoint is")))?;
        timestamp::check(&token, stated.text().as_bytes(), nonce, &[])?;
        let lying = counts.entry(number).or_default();
        if !lying.contains(&token) {
            lying.push(token);
        }
    }
    let named = |(number, tokens): (u32, Vec<Vec<u8>>)| {
        (1_u32..).zip(tokens).map(move |(count, token)| (place::timestamp_name(number, count), token))
    };
    Ok(counts.into_iter().flat_map(named).collect())
}

/// What the records say, and how many bytes they are.
fn read_log(
    id: &LogId,
    log: &PacketLog<'_>,
    checkpoints: &[Checkpoint],
) -> Result<(Ledger, u64), EvidenceError> {
    let (mut ledger, mut bytes) = (Ledger::default(), 0_u64);
    log.records.each(&mut |record| {
        let sequence = ledger.size();
        let path = place::record_path(&id.device, sequence);
        demand(Place::parse(&path).is_some(), || format!("{path} is not a name a packet may hold"))?;
        bytes = bytes.saturating_add(record.len() as u64);
        let pushed = ledger.push(&id.device, record);
        pushed.map_err(|what| bad(format!("record {sequence} of {}: {}", id.origin(), what.said().en)))
    })?;
    let origin = id.origin();
    if let Some((sequence, _, what)) = ledger.unreadable.first() {
        return Err(bad(format!("record {sequence} of {origin}: {}", what.said().en)));
    }
    for checkpoint in checkpoints {
        demand(checkpoint.origin == origin, || {
            format!("a checkpoint of {origin} is of {}", checkpoint.origin)
        })?;
        if let Some(what) = ledger.contradiction(checkpoint) {
            return Err(EvidenceError::BadContents(format!("a checkpoint of {origin}: {}", what.said().en)));
        }
    }
    demand(ledger.job.as_deref() == Some(&id.job), || format!("the records are not of {origin}"))?;
    let covered = checkpoints.last().is_some_and(|last| last.size == ledger.size());
    demand(covered, || format!("the last checkpoint of {origin} must cover every record; sign a new one"))?;
    Ok((ledger, bytes))
}

/// Disclosures, photos, reports and texts: each must be something a record speaks for.
fn plan_beside<'a>(
    contents: &'a PacketContents<'a>,
    ledgers: &[Ledger],
    add: &mut impl FnMut(String, Source<'a>) -> Result<(), EvidenceError>,
) -> Result<(), EvidenceError> {
    let mut seen = BTreeSet::new();
    for disclosure in contents.disclosures.iter().filter(|disclosure| seen.insert(disclosure.digest())) {
        let digest = disclosure.digest();
        let held = ledgers.iter().any(|ledger| ledger.withheld.contains(&digest));
        demand(held, || format!("no record holds the digest of the disclosure {:?}", disclosure.name()))?;
        let text = disclosure.encoded().as_bytes();
        add(format!("data/disclosures/{digest}.txt"), Source::Bytes(text.into()))?;
    }
    for photo in contents.photos.iter().filter(|photo| seen.insert(photo.photo.sha256)) {
        let digest = photo.photo.sha256;
        let named = ledgers.iter().any(|ledger| ledger.photos.get(&digest) == Some(&photo.photo));
        demand(named, || format!("no record names the photo {digest} with this length and type"))?;
        let extension = place::extension(&photo.photo.media_type);
        add(format!("data/photos/{digest}.{extension}"), Source::Photo(photo))?;
    }
    for picture in contents.redacted.iter().filter(|picture| seen.insert(picture.photo.sha256)) {
        let digest = picture.photo.sha256;
        let redaction = ledgers.iter().find_map(|ledger| ledger.redactions.get(&digest));
        let fits = |redaction: &Redaction| {
            redaction.photo() == picture.photo
                && ledgers.iter().any(|ledger| ledger.photos.contains_key(&redaction.original))
        };
        demand(redaction.is_some_and(fits), || {
            format!("no record names the derivative {digest} of a photo of this job")
        })?;
        let extension = place::extension(&picture.photo.media_type);
        add(format!("data/photos-redacted/{digest}.{extension}"), Source::Photo(picture))?;
    }
    for report in &contents.reports {
        let named = ledgers.iter().any(|ledger| ledger.reports.contains(&report.sha256()));
        demand(named, || format!("no record names the report {}", report.name))?;
        add(format!("data/report/{}", report.name), Source::Bytes(Cow::Borrowed(&report.bytes)))?;
    }
    add("data/README.txt".into(), Source::Bytes(texts::readme(contents.language).as_bytes().into()))?;
    add("data/certification.txt".into(), Source::Bytes(texts::CERTIFICATION.as_bytes().into()))?;
    if contents.language == Language::Es {
        add("data/certification-es.txt".into(), Source::Bytes(texts::CERTIFICATION_ES.as_bytes().into()))?;
    }
    add("data/record.schema.json".into(), Source::Bytes(texts::RECORD_SCHEMA.as_bytes().into()))?;
    add("data/verify.sh".into(), Source::Bytes(SCRIPT.as_bytes().into()))
}

fn bad(what: String) -> EvidenceError {
    EvidenceError::BadContents(what)
}

fn demand(fits: bool, what: impl FnOnce() -> String) -> Result<(), EvidenceError> {
    if fits { Ok(()) } else { Err(EvidenceError::BadContents(what())) }
}
