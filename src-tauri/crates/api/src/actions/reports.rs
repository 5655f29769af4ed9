//! Reports: written from records, never from the screen.

use super::estimates;
use super::sharing::Sharing;
use crate::act::{Loaded, Settles};
use crate::entry::{PacketEntry, Recipient, ReportEntry, ReportForm};
use crate::view::{JobView, OriginalState, WrittenFileView};
use crate::{ApiError, Workshop};
use evidence::{Checkpoint, Digest, fingerprint_words};
use job::event::{CoveredArea, MissingPhoto, ReportWritten};
use job::suppliers::accounts;
use job::{Event, Job, Kept};
use rayon::prelude::*;
use report::{
    Against, CUSTOMER_BYTES, CheckpointPrint, EightWords, FindingsInput, OutsideTimePrint, RulesPrint,
    ShopPrint,
};
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Longest side and JPEG quality of a picture in a report.
const PAPER: (u32, u8) = (480, 60);

impl Workshop {
    /// Writes a report for a reader: a PDF in the export folder and in the originals, its hash in a record. It shows what
    /// the reader's preset lets out and nothing else.
    ///
    /// # Errors
    /// An unknown supplier; a sort of paper that isn't for this reader; a store or folder that can't be written to.
    pub fn report_write(&self, job: &str, entry: &ReportEntry) -> Result<JobView, ApiError> {
        self.work.begin("report");
        let written = self.write_report(job, entry);
        self.work.end();
        written?;
        self.job_view(job)
    }

    fn write_report(&self, job: &str, entry: &ReportEntry) -> Result<(), ApiError> {
        // Held to the end: a report must not tell what a customer had forgotten meanwhile, and two reports must not take one
        // name.
        let _turn = self.store.turn();
        let mut loaded = self.load_with_successions(job)?;
        can_be_written(&loaded.job, entry)?;
        let examined = self.examine_all_anew(&loaded.job)?;
        // About a supplier, to anybody but a supplier, is a choice of the paper; what goes out is the reader's own preset.
        let supplier = if entry.recipient == Recipient::Supplier { &entry.supplier } else { "" };
        let preset = PacketEntry {
            supplier: supplier.to_owned(),
            ..PacketEntry::preset(&entry.language, entry.recipient)
        };
        let sharing = self.sharing(&loaded, &preset, examined)?;
        self.say_missing(&mut loaded, &sharing.examined)?;
        self.keep_report(&mut loaded, &sharing, entry)?;
        self.keep_fold(loaded);
        Ok(())
    }

    /// Writes the page that goes into a packet, from exactly what its reader may see; not where the newest record is that
    /// very page, written as the reader's preset has it.
    pub(crate) fn write_page(
        &self,
        loaded: &mut Loaded,
        sharing: &Sharing,
        packet: &PacketEntry,
    ) -> Result<(), ApiError> {
        let entry = ReportEntry {
            supplier: sharing.supplier.clone(),
            ..ReportEntry::preset(&packet.language, sharing.recipient)
        };
        let newest = loaded.job.timeline.last().map(|record| record.record);
        let same = |kept: &&Kept<ReportWritten>| {
            let written = &kept.event;
            let asked = (entry.form, entry.recipient, &entry.language, &entry.supplier);
            let has = (written.form, written.recipient, &written.language, &written.supplier);
            Some(kept.record) == newest && has == asked
        };
        if packet.is_preset() && self.reports_at_hand(&loaded.job).any(|kept| same(&kept)) {
            return Ok(());
        }
        self.keep_report(loaded, sharing, &entry)
    }

    fn keep_report(
        &self,
        loaded: &mut Loaded,
        sharing: &Sharing,
        entry: &ReportEntry,
    ) -> Result<(), ApiError> {
        let checkpoint = self.print_checkpoint(loaded)?;
        let printed = Checkpoint::parse(&checkpoint.text)?;
        let bytes = self.report_bytes(loaded, sharing, checkpoint, entry)?;
        let ending = entry.form.ending();
        let digest = self.store.keep_original(&bytes, ending)?;
        let kept = loaded.job.reports.len().saturating_add(1);
        let (number, reader) = (loaded.job.opened.number, sharing.recipient.code());
        let (form, language) = (entry.form.code(), &entry.language);
        let name = format!("job-{number:04}-{form}-{reader}-{language}-{kept}.{ending}");
        let size = loaded.job.timeline.iter().map(|r| r.sequence.saturating_add(1)).max().unwrap_or(0);
        let event = Event::ReportWritten(ReportWritten {
            sha256: digest,
            bytes: bytes.len().to_string(),
            name: name.clone(),
            language: language.clone(),
            recipient: sharing.recipient,
            form: entry.form,
            supplier: about(entry, sharing),
            checkpoint_size: u32::try_from(size).unwrap_or(u32::MAX),
            size: u32::try_from(printed.size).ok(),
            root: Some(printed.root),
        });
        // The file first: an error after the record was kept would have it written and kept twice.
        self.export_file(&name, &bytes)?;
        self.admit(loaded, &event, &Settles::default())?;
        if let Err(error) = self.sign_checkpoint(&loaded.log) {
            self.notice_unsigned(&loaded.log.job, &error);
        }
        Ok(())
    }

    fn report_bytes(
        &self,
        loaded: &Loaded,
        sharing: &Sharing,
        checkpoint: CheckpointPrint,
        entry: &ReportEntry,
    ) -> Result<Vec<u8>, ApiError> {
        // The job as its reader may know it: folded again from the records with only the values that go out.
        let others = job::suppliers::of_others(&loaded.job, &sharing.supplier).map_err(ApiError::from)?;
        let folded = self.fold_with(&loaded.log.job, sharing.disclosures())?;
        let job = job::sharing::as_told_to(folded, sharing.recipient, &others.records);
        let against = Against::of(&about(entry, sharing), sharing.recipient);
        let on_paper = match entry.form {
            ReportForm::Full => job.photos.keys().copied().collect(),
            ReportForm::Summary | ReportForm::Page => report::summary_photos(&job).into_iter().collect(),
            ReportForm::Statement => report::statement_photos(&job, &against).into_iter().collect(),
        };
        let pictures = self.paper_pictures(loaded, sharing, &job, &on_paper)?;
        let picture = |digest: &Digest| pictures.get(digest).cloned();
        let lost = |kept: &Kept<MissingPhoto>| {
            let examined = sharing.examined.get(&kept.event.original)?;
            let lost = matches!(examined.state, OriginalState::Missing | OriginalState::Damaged);
            lost.then(|| (kept.event.original, kept.wall.clone()))
        };
        let missing_photos = loaded.job.missing.values().filter_map(lost).collect();
        let rules = estimates::rules_of(&job);
        let spanish = entry.language == "es";
        let input = FindingsInput {
            job: &job,
            number: loaded.job.reports.len().saturating_add(1),
            shop: self.letterhead(),
            drawing: if entry.form == ReportForm::Full {
                self.paper_drawing(loaded, &entry.language)?
            } else {
                String::new()
            },
            checkpoint,
            picture: &picture,
            most_bytes: CUSTOMER_BYTES,
            missing_photos,
            written: self.clock.moment().wall,
            rules: RulesPrint {
                region: if spanish { rules.name_es.clone() } else { rules.name.clone() },
                locale: rules.locale.clone(),
                card_notice_days: rules.card_notice_days,
                sources: super::shop::rules_view(&rules).sources,
            },
            outside_times: self.print_times(loaded)?,
        };
        let language = if spanish { report::Language::Spanish } else { report::Language::English };
        Ok(match entry.form {
            ReportForm::Full => report::findings_pdf(&input, language)?,
            ReportForm::Summary => report::summary_pdf(&input, language)?,
            ReportForm::Page => report::summary_page(&input, language)?.into_bytes(),
            ReportForm::Statement => report::statement_pdf(&input, &against, language)?,
        })
    }

    /// The text message that tells the customer the result, of at most 480 characters, with the words of the newest
    /// checkpoint.
    ///
    /// # Errors
    /// An unknown job; a store that can't be read.
    pub fn result_message(&self, job: &str, language: &str) -> Result<String, ApiError> {
        let loaded = self.load(job)?;
        // The words that their report shows; without a report those of the newest checkpoint.
        let theirs =
            loaded.job.reports.iter().rev().filter(|kept| kept.event.recipient == Recipient::Customer);
        let theirs = theirs.filter_map(|kept| kept.event.root).next();
        // Looking at a message signs nothing: that is for what is handed out, inside its turn.
        let newest = self.checkpoint_view(&loaded.log, &loaded.job)?;
        let newest = newest.map(|checkpoint| checkpoint.words).unwrap_or_default();
        let words = EightWords {
            in_report: theirs.is_some(),
            words: theirs.map_or(newest, |root| fingerprint_words(&root)),
        };
        let locale = estimates::rules_of(&loaded.job).locale.clone();
        let phone = self.letterhead().phone;
        Ok(report::result_message(&loaded.job, &words, &phone, report::Language::of(language), &locale))
    }

    /// What the shop's papers say of it.
    fn letterhead(&self) -> ShopPrint {
        let Ok(shop) = self.shop() else { return ShopPrint::default() };
        ShopPrint {
            address: shop.address,
            phone: shop.phone,
            email: shop.email,
            registration: shop.registration,
        }
    }

    fn print_times(&self, loaded: &Loaded) -> Result<Vec<OutsideTimePrint>, ApiError> {
        let times = self.outside_times(&loaded.job, &loaded.log.job)?.into_iter();
        let read = times.filter(|time| !time.time.is_empty()).map(|time| OutsideTimePrint {
            time: time.time,
            signer: time.signer,
            size: u64::from(time.size),
            trusted: time.trusted,
        });
        Ok(read.collect())
    }

    /// Small pictures of those photos on a paper that its reader may see, about 30 KB each. They are made from the sealed
    /// originals each time: a small copy kept on disk could be changed there, and what a paper shows is taken for what
    /// was sealed.
    fn paper_pictures(
        &self,
        loaded: &Loaded,
        sharing: &Sharing,
        told: &Job,
        on_paper: &BTreeSet<Digest>,
    ) -> Result<BTreeMap<Digest, Vec<u8>>, ApiError> {
        let shown = |photo: &Digest| Some((*photo, sharing.shown(&loaded.job, photo)?));
        let photos: Vec<(Digest, (Digest, Vec<CoveredArea>))> = on_paper.iter().filter_map(shown).collect();
        let done = AtomicUsize::new(0);
        let made = photos.par_iter().map(|(photo, (source, covered))| {
            self.work.count("pictures", done.fetch_add(1, Ordering::Relaxed), photos.len())?;
            let picture = match told.marks_on(photo) {
                None => self.paper_picture(source),
                Some(_) => self.marked_picture(told, photo, source, covered, PAPER),
            };
            Ok(picture.map(|picture| (*photo, picture)))
        });
        let pictures = made.collect::<Result<Vec<_>, ApiError>>()?.into_iter().flatten().collect();
        self.work.count("typesetting", 0, 0)?;
        Ok(pictures)
    }

    fn paper_picture(&self, digest: &Digest) -> Option<Vec<u8>> {
        photo::for_report(&self.store.original(digest).ok()?, PAPER.0, PAPER.1).ok()
    }

    fn print_checkpoint(&self, loaded: &Loaded) -> Result<CheckpointPrint, ApiError> {
        let signed = self.sign_checkpoint(&loaded.log)?;
        let checkpoint = signed.checkpoint()?;
        let fingerprint = self.key()?.fingerprint()?;
        Ok(CheckpointPrint {
            size: checkpoint.size,
            root_words: fingerprint_words(&checkpoint.root),
            note: signed.note,
            text: signed.text,
            fingerprint,
            fingerprint_words: fingerprint_words(&fingerprint),
            signed: self.clock.moment().wall,
        })
    }

    /// Where a report or packet of a job lies, by its name as the job's view shows it. A report that was moved away is written
    /// there again from its kept bytes.
    ///
    /// # Errors
    /// A name that isn't one of this job's files; a packet that isn't there any more.
    pub fn written_path(&self, job: &str, name: &str) -> Result<PathBuf, ApiError> {
        let loaded = self.load(job)?;
        let path = self.export_folder().join(name);
        if let Some(kept) = self.reports_at_hand(&loaded.job).find(|kept| kept.event.name == name) {
            if !path.exists() {
                self.export_file(name, &self.store.original(&kept.event.sha256)?)?;
            }
            return Ok(path);
        }
        let known = self.packets(job)?.iter().any(|packet| packet.name == name);
        let unknown = || ApiError::Unknown { what: "file", value: name.to_owned() };
        (known && path.exists()).then_some(path).ok_or_else(unknown)
    }

    /// Reports whose bytes are still here: forgetting the customer destroys them.
    pub(crate) fn reports_at_hand<'j>(
        &'j self,
        job: &'j job::Job,
    ) -> impl Iterator<Item = &'j Kept<ReportWritten>> {
        job.reports.iter().filter(|kept| self.store.original_path(&kept.event.sha256).is_some())
    }

    pub(crate) fn report_view(&self, kept: &Kept<ReportWritten>) -> WrittenFileView {
        WrittenFileView {
            path: self.export_folder().join(&kept.event.name).display().to_string(),
            name: kept.event.name.clone(),
            bytes: kept.event.bytes.clone(),
            sha256: kept.event.sha256.to_string(),
            written: kept.wall.clone(),
        }
    }
}

/// The supplier whom a paper is about: the one asked for, else the one whom what goes out is for.
fn about(entry: &ReportEntry, sharing: &Sharing) -> String {
    let asked = if entry.form == ReportForm::Statement { entry.supplier.as_str() } else { "" };
    if asked.is_empty() { sharing.supplier.clone() } else { asked.to_owned() }
}

/// A statement about a supplier whom the job doesn't know would be about somebody else's bill.
fn can_be_written(job: &Job, entry: &ReportEntry) -> Result<(), ApiError> {
    if !entry.form.is_for(entry.recipient) {
        return Err(ApiError::Unknown { what: "report_form", value: entry.form.code().to_owned() });
    }
    let known = accounts(job).map_err(ApiError::from)?.iter().any(|one| one.supplier == entry.supplier);
    if entry.supplier.is_empty() || (known && job::sharing::told_of_suppliers(entry.recipient)) {
        return Ok(());
    }
    Err(ApiError::Unknown { what: "supplier", value: entry.supplier.clone() })
}
