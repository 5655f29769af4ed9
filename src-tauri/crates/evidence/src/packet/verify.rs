//! Checking a packet: the container is derived again, then everything in it is held against the records.

use std::io::{Read, Seek};

use super::attribution::Inventory;
use super::checks::Gathered;
use super::positioned::Positioned;
use super::verdict::{CONTAINER, Code, Findings, counted};
use super::walk::{self, Scan};
use super::{OnProgress, Verdict};
use crate::timestamp::AuthorityRoot;
use crate::{Checkpoint, Digest, EvidenceError, SignedCheckpoint};

/// What the caller knows from outside the packet.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// Fingerprints of device keys handed over earlier; each must belong to a log of the packet, or lead to one by
    /// signed statements.
    pub trusted_fingerprints: Vec<Digest>,
    /// Checkpoints handed over or kept earlier; the packet's log must be the same or have grown from it.
    pub expected_checkpoints: Vec<Checkpoint>,
    /// The same with their signatures, which must be by a key of the log: then two histories of one log are proven to
    /// be the work of whoever holds that key.
    pub expected_notes: Vec<SignedCheckpoint>,
    /// Roots of time-stamp authorities that the caller trusts. Without them no time from outside is proven.
    pub authority_roots: Vec<AuthorityRoot>,
    /// How many threads hash; all cores if none.
    pub threads: Option<usize>,
}

/// Checks the packet that `reader` holds.
///
/// Order: container → tag files and manifests → signatures → time-stamps → chain, roots and consistency → every
/// photo against its record → reports → disclosures → key and earlier checkpoints. A changed byte is a problem at
/// the file that owns it, or at `container`. Memory stays at about 64 MiB and 200 bytes per file.
///
/// # Errors
/// [`EvidenceError::NotAPacket`], [`EvidenceError::Io`], [`EvidenceError::Cancelled`]; everything else is part of
/// the verdict.
pub fn verify<R: Read + Seek + Send>(
    reader: &mut R,
    options: &Options,
    progress: &mut OnProgress<'_>,
) -> Result<Verdict, EvidenceError> {
    let reader = &mut Positioned::new(reader)?;
    let scan = match walk::scan(reader)? {
        Ok(scan) => scan,
        Err(what) => return Ok(refused(what)),
    };
    let mut work = || check(reader, &scan, options, progress);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(options.threads.unwrap_or_default()).build();
    match pool {
        Ok(pool) => pool.install(work),
        // No thread could be started: the caller's thread does it alone.
        Err(_) => work(),
    }
}

fn check<R: Read + Seek + Send>(
    reader: &mut Positioned<'_, R>,
    scan: &Scan,
    options: &Options,
    progress: &mut OnProgress<'_>,
) -> Result<Verdict, EvidenceError> {
    let mut inventory = Inventory::default();
    let mut gathered = Gathered::default();
    walk::hash_all(reader, &scan.files, progress, &mut |file, hashed, bytes| {
        inventory.add(file, hashed, bytes);
        gathered.add(file, hashed, bytes);
    })?;
    let mut findings = Findings::default();
    findings
        .proven(Code::Container, "the zip holds nothing but the files, in the one form this format allows");
    inventory.check(&mut findings);
    let files = inventory.payload_files();
    findings.proven_unless(
        Code::Manifest,
        format!("{} in all, each as the manifests list it, and no other", counted(files, "file")),
    );
    Ok(gathered.verdict(&scan.folder, inventory.shop_and_job(), options, findings))
}

fn refused(what: String) -> Verdict {
    let mut findings = Findings::default();
    findings.problem(Code::Container, CONTAINER, format!("{what}; nothing inside was checked"));
    Verdict { problems: findings.problems, ..Verdict::default() }
}
