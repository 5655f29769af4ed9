//! Checking a packet: the container is derived again, then everything in it is held against the records.

use std::io::{Read, Seek};

use super::attribution::Inventory;
use super::checks::Gathered;
use super::options::Options;
use super::positioned::Positioned;
use super::progress::OnProgress;
use super::says::{Headline, Proven, Wrong};
use super::verdict::{CONTAINER, Code, Findings, Verdict};
use super::walk::{self, Scan};
use crate::EvidenceError;

/// Checks the packet that `reader` holds.
///
/// Order: container → tag files and manifests → signatures → time-stamps → chain, roots and consistency → every
/// photo against its record → reports → disclosures → key and earlier checkpoints. A changed byte is a problem at
/// the file that owns it, or at `container`. Memory stays at about 64 MiB and 300 bytes per file.
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
    walk::hash_all(reader, scan, progress, &mut |file, hashed, bytes| {
        gathered.add(file, hashed, &bytes);
        inventory.add(file, hashed, bytes);
    })?;
    let mut findings = Findings::default();
    findings.proven(Code::Container, Proven::OneForm);
    inventory.check(scan.files().map(|file| file.path), &mut findings);
    let files = inventory.payload_files();
    findings.proven_unless(Code::Manifest, Proven::FilesListed { files });
    Ok(gathered.verdict(&scan.folder, inventory.shop_and_job(), options, findings))
}

fn refused(detail: String) -> Verdict {
    let mut findings = Findings::default();
    findings.problem(Code::Container, CONTAINER, Wrong::NotTheContainer { detail });
    Verdict { problems: findings.problems, headline_said: Headline::Refused.said(), ..Verdict::default() }
}
