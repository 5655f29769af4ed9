//! Packets: written from records and verified at once.

use super::sharing::Sharing;
use crate::act::Loaded;
use crate::entry::PacketEntry;
use crate::view::{VerificationView, WrittenFileView};
use crate::{ApiError, Workshop, settings, show};
use evidence::packet::{self, Language, PacketContents, PacketLog, PacketPhoto, PacketReport, Progress};
use evidence::{Digest, EvidenceError, LogId, PhotoRef};
use job::event::{CoveredCopy, ReportWritten};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{BufReader, BufWriter, Read};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

/// A packet that was written: kept beside the job so that the screen can name it again.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct WrittenPacket {
    pub name: String,
    pub bytes: String,
    pub sha256: String,
    pub written: String,
}

impl Workshop {
    /// Writes the packet for a recipient and verifies it at once, with our own key as the known one.
    ///
    /// # Errors
    /// An unknown recipient, value or photo; a folder that can't be written to; cancelled.
    pub fn packet_write(&self, job: &str, entry: &PacketEntry) -> Result<VerificationView, ApiError> {
        self.work.begin("packet");
        let written = self.write_packet(job, entry);
        self.work.end();
        written
    }

    /// Verifies a packet by its bytes. The device's own key counts as known beforehand.
    ///
    /// # Errors
    /// A file that can't be read at all.
    pub fn packet_verify(&self, path: &Path) -> Result<VerificationView, ApiError> {
        self.work.begin("verify");
        let verdict = self.verify_known(path);
        self.work.end();
        verdict
    }

    /// Folder that reports and packets are written to.
    pub fn export_folder(&self) -> PathBuf {
        self.store.folder().join("exports")
    }

    fn write_packet(&self, job: &str, entry: &PacketEntry) -> Result<VerificationView, ApiError> {
        // Records and checkpoints are read while nobody adds to them: a checkpoint larger than the records would read as
        // records taken out.
        let turn = self.store.turn();
        let loaded = self.keep_fold(self.load_with_successions(job)?);
        let sharing = self.sharing(&loaded, entry)?;
        self.sign_checkpoint(&loaded.log)?;
        let (number, reader) = (loaded.job.opened.number, sharing.recipient.code());
        let name = format!("job-{number:04}-packet-{reader}-{}.zip", entry.language);
        let path = self.export_folder().join(&name);
        let contents = self.packet_contents(&loaded, &sharing, &entry.language)?;
        drop(turn);
        self.make_export_folder()?;
        let partial = path.with_extension("partial");
        let verified = self.write_packet_file(&contents, &partial).and_then(|()| self.verify_known(&partial));
        if verified.is_err() {
            // Half a packet is no packet: a leftover would only be mistaken for one.
            let _ = std::fs::remove_file(&partial);
        }
        let view = verified?;
        std::fs::rename(&partial, &path).map_err(|e| file_error("rename", &path, e))?;
        self.remember_packet(job, &name, &path)?;
        Ok(view)
    }

    fn write_packet_file(&self, contents: &PacketContents<'_>, path: &Path) -> Result<(), ApiError> {
        let file = File::create(path).map_err(|e| file_error("create", path, e))?;
        let mut out = BufWriter::with_capacity(1 << 20, file);
        let mut progress = |p: Progress| self.go_on("packet", p);
        packet::write(contents, &mut out, &mut progress).map_err(cancelled_or)?;
        let file = out.into_inner().map_err(|e| file_error("write", path, e.into_error()))?;
        file.sync_all().map_err(|e| file_error("write", path, e))
    }

    fn packet_contents(
        &self,
        loaded: &Loaded,
        sharing: &Sharing,
        language: &str,
    ) -> Result<PacketContents<'_>, ApiError> {
        let job = loaded.log.job.as_str();
        let records = self.store.job_records(job)?;
        let checkpoints = self.store.checkpoints(job)?;
        let log = |id: &LogId| {
            let mine = |device: &str| device == id.device;
            Ok::<_, ApiError>(PacketLog {
                records: records.iter().filter(|r| mine(&r.device)).map(|r| r.bytes.clone()).collect(),
                checkpoints: checkpoints
                    .iter()
                    .filter(|c| mine(&c.device))
                    .map(|c| c.signed.clone())
                    .collect(),
                public_key_pem: self.public_key_of_log(id)?.pem()?,
                timestamps: Vec::new(),
            })
        };
        let logs = self.store.logs(job)?.iter().map(log).collect::<Result<_, _>>()?;
        let mut photos = Vec::new();
        for stored in &records {
            // A record that can't be read goes out as it lies here; the verifier says so.
            photos.extend(
                evidence::Record::parse(&stored.bytes).map(|record| record.photos).unwrap_or_default(),
            );
        }
        photos.retain(|photo| sharing.lets_out(&photo.sha256) && self.is_here(&photo.sha256));
        photos.sort_by_key(|photo| photo.sha256);
        photos.dedup_by_key(|photo| photo.sha256);
        Ok(PacketContents {
            logs,
            disclosures: sharing.disclosures(),
            photos: photos.into_iter().map(|photo| self.packet_photo(photo)).collect(),
            redacted: self.covered_copies(loaded, sharing),
            reports: self.packet_reports(loaded, sharing)?,
            language: if language == "es" { Language::Es } else { Language::En },
        })
    }

    fn covered_copies(&self, loaded: &Loaded, sharing: &Sharing) -> Vec<PacketPhoto<'_>> {
        // A copy that isn't what its record says would spoil the packet; it is left out as one that isn't here.
        let here = |copy: &&CoveredCopy| self.store.original_size(&copy.sha256) == Some(copy.bytes);
        let copies = sharing.covered(&loaded.job).into_iter().filter(here);
        let photo = |copy: &CoveredCopy| PhotoRef {
            sha256: copy.sha256,
            bytes: copy.bytes,
            media_type: copy.media_type.clone(),
        };
        copies.map(|copy| self.packet_photo(photo(copy))).collect()
    }

    fn is_here(&self, digest: &Digest) -> bool {
        self.store.original_path(digest).is_some()
    }

    fn packet_photo(&self, photo: PhotoRef) -> PacketPhoto<'_> {
        let digest = photo.sha256;
        let open = move || -> std::io::Result<Box<dyn Read>> {
            let path = self.store.original_path(&digest).ok_or(std::io::ErrorKind::NotFound)?;
            Ok(Box::new(BufReader::with_capacity(1 << 20, File::open(path)?)))
        };
        PacketPhoto { photo, open: Box::new(open) }
    }

    fn packet_reports(&self, loaded: &Loaded, sharing: &Sharing) -> Result<Vec<PacketReport>, ApiError> {
        let report = |kept: &job::Kept<ReportWritten>| {
            let name = kept.event.name.trim_end_matches(".pdf").to_owned();
            Ok(PacketReport { name, bytes: self.store.original(&kept.event.sha256)? })
        };
        let theirs =
            self.reports_at_hand(&loaded.job).filter(|kept| kept.event.recipient == sharing.recipient);
        theirs.map(report).collect()
    }

    /// A packet is held against those keys of this shop that it speaks of: keys of other jobs have no place in it.
    fn verify_known(&self, path: &Path) -> Result<VerificationView, ApiError> {
        let verdict = self.verdict(path, Vec::new())?;
        let mut known = self.own_fingerprints()?;
        let spoken: BTreeSet<Digest> =
            verdict.logs.iter().flat_map(|log| &log.keys).map(|key| key.fingerprint).collect();
        known.retain(|fingerprint| spoken.contains(fingerprint));
        known.sort_unstable();
        known.dedup();
        let verdict = if known.is_empty() { verdict } else { self.verdict(path, known)? };
        Ok(show::verification(&verdict))
    }

    fn verdict(&self, path: &Path, trusted_fingerprints: Vec<Digest>) -> Result<packet::Verdict, ApiError> {
        let file = File::open(path).map_err(|e| file_error("read", path, e))?;
        let options = packet::Options {
            trusted_fingerprints,
            authority_roots: self.authority_roots()?,
            ..packet::Options::default()
        };
        let mut progress = |p: Progress| self.go_on("verify", p);
        packet::verify(&mut BufReader::with_capacity(1 << 20, file), &options, &mut progress)
            .map_err(cancelled_or)
    }

    fn go_on(&self, what: &str, progress: Progress) -> ControlFlow<()> {
        if self.work.step(what, progress.done, progress.total) {
            ControlFlow::Continue(())
        } else {
            ControlFlow::Break(())
        }
    }

    pub(crate) fn export_file(&self, name: &str, bytes: &[u8]) -> Result<(), ApiError> {
        self.make_export_folder()?;
        let path = self.export_folder().join(name);
        std::fs::write(&path, bytes).map_err(|e| file_error("write", &path, e))
    }

    pub(crate) fn make_export_folder(&self) -> Result<(), ApiError> {
        let folder = self.export_folder();
        std::fs::create_dir_all(&folder).map_err(|e| file_error("create", &folder, e))
    }

    fn remember_packet(&self, job: &str, name: &str, path: &Path) -> Result<(), ApiError> {
        let bytes = std::fs::read(path).map_err(|e| file_error("read", path, e))?;
        let _turn = self.store.turn();
        let mut packets = self.packets(job)?;
        packets.retain(|packet| packet.name != name);
        packets.push(WrittenPacket {
            name: name.to_owned(),
            bytes: bytes.len().to_string(),
            sha256: Digest::of(&bytes).to_string(),
            written: self.clock.moment().wall,
        });
        let value = settings::written("packets", &packets)?;
        Ok(self.store.set_setting(&format!("packets/{job}"), &value)?)
    }

    /// Names no packet of a job any more: its files are gone.
    pub(crate) fn forget_packets(&self, job: &str) -> Result<(), ApiError> {
        Ok(self.store.set_setting(&format!("packets/{job}"), &serde_json::json!([]))?)
    }

    pub(crate) fn packets(&self, job: &str) -> Result<Vec<WrittenPacket>, ApiError> {
        let kept = self.store.setting(&format!("packets/{job}"))?;
        Ok(kept.and_then(|value| serde_json::from_value(value).ok()).unwrap_or_default())
    }

    pub(crate) fn written_file(&self, packet: WrittenPacket) -> WrittenFileView {
        WrittenFileView {
            path: self.export_folder().join(&packet.name).display().to_string(),
            name: packet.name,
            bytes: packet.bytes,
            sha256: packet.sha256,
            written: packet.written,
        }
    }
}

fn cancelled_or(error: EvidenceError) -> ApiError {
    match error {
        EvidenceError::Cancelled => ApiError::Cancelled,
        other => other.into(),
    }
}

fn file_error(doing: &'static str, path: &Path, source: std::io::Error) -> ApiError {
    ApiError::File { doing, path: path.display().to_string(), source }
}
