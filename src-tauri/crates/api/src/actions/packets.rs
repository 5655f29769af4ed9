//! Packets: written from records and verified at once.

use super::sharing::Sharing;
use crate::act::Loaded;
use crate::entry::PacketEntry;
use crate::view::{VerificationView, WrittenFileView};
use crate::{ApiError, Workshop, settings, show};
use evidence::packet::{
    self, Language, PacketContents, PacketLog, PacketPhoto, PacketReport, Progress, Records,
};
use evidence::{Digest, EvidenceError, LogId, PhotoRef};
use job::event::{CoveredCopy, ReportWritten};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::File;
use std::io::{BufReader, BufWriter, Read};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use store::StoreError;

/// How many records are held at once while a packet is written; each has at most 1 MiB, and most less than 1 KiB.
const RECORDS_AT_ONCE: u64 = 64;

/// A packet that was written: kept beside the job so that the screen can name it again.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct WrittenPacket {
    pub name: String,
    pub bytes: String,
    pub sha256: String,
    pub written: String,
    /// Photos that went out in it, as they are or as copies; not known of older ones.
    #[serde(default)]
    pub photos: Vec<String>,
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
        let mut loaded = self.load_with_successions(job)?;
        // Read now, whatever was seen before: nothing goes out that isn't what was sealed.
        let examined = self.examine_all_anew(&loaded.job)?;
        let sharing = self.sharing(&loaded, entry, examined)?;
        self.say_missing(&mut loaded, &sharing.examined)?;
        self.keep_stripped(&mut loaded, &sharing)?;
        self.keep_marked(&mut loaded, &sharing)?;
        self.write_page(&mut loaded, &sharing, entry)?;
        let loaded = self.keep_fold(loaded);
        self.sign_checkpoint(&loaded.log)?;
        let (number, reader) = (loaded.job.opened.number, sharing.recipient.code());
        let which = which_supplier(&loaded.job, &sharing.supplier);
        let name = format!("job-{number:04}-packet-{reader}{which}-{}.zip", entry.language);
        let path = self.export_folder().join(&name);
        let contents = self.packet_contents(&loaded, &sharing, entry)?;
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
        self.remember_packet(job, &name, &path, &sharing)?;
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
        entry: &PacketEntry,
    ) -> Result<PacketContents<'_>, ApiError> {
        let job = loaded.log.job.as_str();
        let checkpoints = self.store.checkpoints(job)?;
        let ids = self.store.logs(job)?;
        let log = |id: &LogId| {
            let mine = |device: &str| device == id.device;
            Ok::<_, ApiError>(PacketLog {
                records: self.records_now(id)?,
                checkpoints: checkpoints
                    .iter()
                    .filter(|c| mine(&c.device))
                    .map(|c| c.signed.clone())
                    .collect(),
                public_key_pem: self.public_key_of_log(id)?.pem()?,
                timestamps: Vec::new(),
                signatures: self.store.signatures(id)?,
            })
        };
        let logs: Vec<PacketLog<'_>> = ids.iter().map(log).collect::<Result<_, _>>()?;
        let mut photos = BTreeMap::new();
        for log in &logs {
            let collected = log.records.each(&mut |bytes| {
                // A record that can't be read names none; the writer says what is wrong with it.
                for photo in evidence::Record::parse(bytes).map(|record| record.photos).unwrap_or_default() {
                    photos.entry(photo.sha256).or_insert(photo);
                }
                Ok(())
            });
            collected.map_err(cancelled_or)?;
        }
        photos.retain(|sha256, _| sharing.lets_out(sha256));
        Ok(PacketContents {
            logs,
            disclosures: sharing.disclosures(),
            photos: photos.into_values().map(|photo| self.packet_photo(photo)).collect(),
            redacted: self.copies_in_place(loaded, sharing),
            reports: self.packet_reports(loaded, sharing, entry.is_preset())?,
            language: if entry.language == "es" { Language::Es } else { Language::En },
        })
    }

    /// The records that a log has now, read in pieces; those that come later stay out.
    fn records_now(&self, log: &LogId) -> Result<Records<'_>, ApiError> {
        let (log, size) = (log.clone(), self.store.head(log)?.size);
        Ok(Records::read_by(move |visit| {
            let mut next = 0;
            while next < size {
                let page = self.store.records_of_log(&log, next, RECORDS_AT_ONCE.min(size - next));
                let page = page.map_err(std::io::Error::other)?;
                if page.is_empty() {
                    return Err(std::io::Error::from(std::io::ErrorKind::UnexpectedEof).into());
                }
                for bytes in page {
                    visit(&bytes)?;
                    next += 1;
                }
            }
            Ok(())
        }))
    }

    fn copies_in_place(&self, loaded: &Loaded, sharing: &Sharing) -> Vec<PacketPhoto<'_>> {
        // A copy that isn't what its record says would spoil the packet; it is left out as one that isn't here.
        let here = |copy: &&CoveredCopy| {
            self.store.original_size(&copy.sha256) == Some(copy.bytes)
                && self.examine_anew(&copy.sha256).is_here()
        };
        let copies =
            sharing.copies(&loaded.job).into_iter().chain(sharing.marked_copies(&loaded.job)).filter(here);
        let photo = |copy: &CoveredCopy| PhotoRef {
            sha256: copy.sha256,
            bytes: copy.bytes,
            media_type: copy.media_type.clone(),
        };
        copies.map(|copy| self.packet_photo(photo(copy))).collect()
    }

    fn packet_photo(&self, photo: PhotoRef) -> PacketPhoto<'_> {
        let digest = photo.sha256;
        let open = move || -> std::io::Result<Box<dyn Read>> {
            let path = self.store.original_path(&digest).ok_or(std::io::ErrorKind::NotFound)?;
            Ok(Box::new(BufReader::with_capacity(1 << 20, File::open(path)?)))
        };
        PacketPhoto { photo, open: Box::new(open) }
    }

    /// The page that was written for this packet, and the earlier ones for the same reader. Where the technician chose
    /// otherwise than the preset, an earlier page may tell what is held back now: then the new one goes alone.
    fn packet_reports(
        &self,
        loaded: &Loaded,
        sharing: &Sharing,
        with_earlier: bool,
    ) -> Result<Vec<PacketReport>, ApiError> {
        let report = |kept: &job::Kept<ReportWritten>| {
            let name = kept.event.name.clone();
            Ok(PacketReport { name, bytes: self.store.original(&kept.event.sha256)? })
        };
        let theirs = self.reports_at_hand(&loaded.job).filter(|kept| sharing.goes_with(&kept.event));
        let theirs: Vec<&job::Kept<ReportWritten>> = theirs.collect();
        let earlier = if with_earlier { 0 } else { theirs.len().saturating_sub(1) };
        theirs.into_iter().skip(earlier).map(report).collect()
    }

    /// A packet is held against those keys of this shop that signed in it: keys of other jobs have no place in it.
    fn verify_known(&self, path: &Path) -> Result<VerificationView, ApiError> {
        let verdict = self.verdict(path, Vec::new())?;
        let mut known = self.own_fingerprints()?;
        // A key that was lost before it signed anything here is named and has signed nothing.
        let signed = verdict.logs.iter().flat_map(|log| &log.keys).filter(|key| key.checkpoints > 0);
        let spoken: BTreeSet<Digest> = signed.map(|key| key.fingerprint).collect();
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
        // Small records are read through the buffer; photos are read in larger pieces, past it.
        packet::verify(&mut BufReader::with_capacity(64 << 10, file), &options, &mut progress)
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

    fn remember_packet(&self, job: &str, name: &str, path: &Path, sharing: &Sharing) -> Result<(), ApiError> {
        let sums = File::open(path).and_then(|mut file| Digest::of_reader(&mut file));
        let (sha256, bytes) = sums.map_err(|e| file_error("read", path, e))?;
        let _turn = self.store.turn();
        let mut packets = self.packets(job)?;
        packets.retain(|packet| packet.name != name);
        packets.push(WrittenPacket {
            name: name.to_owned(),
            bytes: bytes.to_string(),
            sha256: sha256.to_string(),
            written: self.clock.moment().wall,
            photos: sharing.handed_out().map(ToString::to_string).collect(),
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
        // What the store said while records were read.
        EvidenceError::Io(error) => match error.downcast::<StoreError>() {
            Ok(error) => error.into(),
            Err(error) => EvidenceError::Io(error).into(),
        },
        other => other.into(),
    }
}

fn file_error(doing: &'static str, path: &Path, source: std::io::Error) -> ApiError {
    ApiError::File { doing, path: path.display().to_string(), source }
}

/// Where a job has several suppliers, each packet about one has a name of its own; the names of businesses stay out of it.
fn which_supplier(job: &job::Job, supplier: &str) -> String {
    let accounts = job::suppliers::accounts(job).unwrap_or_default();
    let place = accounts.iter().position(|account| account.supplier == supplier);
    match place.map(|place| place.saturating_add(1)) {
        Some(place) if accounts.len() > 1 => format!("-{place}"),
        _ => String::new(),
    }
}
