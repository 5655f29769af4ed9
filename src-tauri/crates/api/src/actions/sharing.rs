//! What goes out to whom: the presets of `job::sharing`, changed line by line, shown before anything is written.

use super::originals::Examined;
use crate::act::Loaded;
use crate::entry::PacketEntry;
use crate::view::{PhotoShareView, SharingView};
use crate::{ApiError, Workshop, show};
use evidence::{Digest, Disclosure, Record};
use job::event::{CoveredArea, CoveredCopy, PhotoKept, ReportForm, ReportWritten};
use job::sharing::PhotoShare;
use job::suppliers;
use job::{Event, Recipient};
use std::collections::{BTreeMap, BTreeSet};

/// What goes out, decided.
pub(crate) struct Sharing {
    pub recipient: Recipient,
    /// Whose bill it is about, where it is about a supplier's; to a supplier nothing goes out that is about another.
    pub supplier: String,
    /// Every value of the job at hand, with the kind of its record.
    pub values: Vec<(String, Disclosure, bool)>,
    pub photos: BTreeMap<Digest, PhotoShare>,
    /// What became of their originals, and what these carry.
    pub examined: BTreeMap<Digest, Examined>,
}

impl Workshop {
    /// Exactly what a packet for this recipient would hand out; nothing is written.
    ///
    /// # Errors
    /// An unknown recipient, value or photo.
    pub fn packet_preview(&self, job: &str, entry: &PacketEntry) -> Result<SharingView, ApiError> {
        let loaded = self.load(job)?;
        let sharing = self.sharing(&loaded, entry, self.examine_all(&loaded.job))?;
        let (out, stay): (Vec<_>, Vec<_>) =
            self.reports_at_hand(&loaded.job).partition(|kept| sharing.goes_with(&kept.event));
        let language = report::Language::of(&entry.language);
        let shown = |(kind, value, goes_out): &(String, Disclosure, bool)| {
            show::shared_value(kind, value, *goes_out, language)
        };
        let accounts = suppliers::accounts(&loaded.job).map_err(ApiError::from)?;
        let told = job::sharing::told_of_suppliers(sharing.recipient);
        Ok(SharingView {
            recipient: sharing.recipient,
            forms: ReportForm::offered(sharing.recipient).collect(),
            suppliers: accounts.into_iter().filter(|_| told).map(|account| account.supplier).collect(),
            values: sharing.values.iter().map(shown).collect(),
            photos: sharing
                .photos
                .iter()
                .filter_map(|(digest, share)| self.photo_share(&loaded, &sharing, digest, *share))
                .collect(),
            records: self.store.job_records(job)?.iter().map(show::public_record).collect(),
            reports: out.into_iter().map(|kept| self.report_view(kept)).collect(),
            reports_withheld: u32::try_from(stay.len()).unwrap_or(u32::MAX),
        })
    }

    /// The preset with the technician's changes. Photos go out as `examined` says that they can.
    pub(crate) fn sharing(
        &self,
        loaded: &Loaded,
        entry: &PacketEntry,
        examined: BTreeMap<Digest, Examined>,
    ) -> Result<Sharing, ApiError> {
        let recipient = entry.recipient;
        let supplier = supplier_meant(&loaded.job, entry)?;
        let others = self.of_others(loaded, recipient, &supplier)?;
        let mut values = self.values_at_hand(&loaded.log.job)?;
        for (kind, disclosure, goes_out) in &mut values {
            *goes_out = job::sharing::receives(recipient, kind, disclosure.name())
                && !others.values.contains(&disclosure.digest());
        }
        for choice in &entry.values {
            let unknown = || ApiError::Unknown { what: "value", value: choice.digest.clone() };
            let named =
                |value: &&mut (String, Disclosure, bool)| value.1.digest().to_string() == choice.digest;
            values.iter_mut().find(named).ok_or_else(unknown)?.2 = choice.goes_out;
        }
        let photos = self.photo_shares(&loaded.job, entry, &examined, &others.photos)?;
        let lettered = self.lettered_marks(loaded)?;
        for (_, disclosure, goes_out) in &mut values {
            if let Some((photo, stands)) = lettered.get(&disclosure.digest()) {
                *goes_out = *stands && photos.get(photo).is_some_and(|share| *share != PhotoShare::Withheld);
            }
        }
        Ok(Sharing { recipient, supplier, values, photos, examined })
    }

    /// What a supplier's preset leaves out because it is about other suppliers; nothing for anybody else.
    fn of_others(
        &self,
        loaded: &Loaded,
        recipient: Recipient,
        supplier: &str,
    ) -> Result<NotTheirs, ApiError> {
        let mut theirs = NotTheirs::default();
        if recipient != Recipient::Supplier {
            return Ok(theirs);
        }
        let others = suppliers::of_others(&loaded.job, supplier).map_err(ApiError::from)?;
        for stored in self.store.job_records(&loaded.log.job)? {
            let statement = self.statement_for_another(loaded, &stored.leaf, supplier);
            if !others.records.contains(&stored.leaf) && !statement {
                continue;
            }
            let Ok(record) = Record::parse(&stored.bytes) else { continue };
            theirs.values.extend(record.withheld);
        }
        theirs.photos = others.photos;
        Ok(theirs)
    }

    fn statement_for_another(&self, loaded: &Loaded, record: &Digest, supplier: &str) -> bool {
        let written = loaded.job.reports.iter().find(|kept| kept.record == *record);
        written.is_some_and(|kept| !kept.event.supplier.is_empty() && kept.event.supplier != supplier)
    }

    /// Every value of a job that is still here, with the kind of its record, in the order of the records.
    pub(crate) fn values_at_hand(&self, job: &str) -> Result<Vec<(String, Disclosure, bool)>, ApiError> {
        let mut at_hand: BTreeMap<Digest, Disclosure> =
            self.store.disclosures(job)?.into_iter().map(|value| (value.digest(), value)).collect();
        let mut values = Vec::new();
        for stored in self.store.job_records(job)? {
            let Ok(record) = Record::parse(&stored.bytes) else { continue };
            let found = record.withheld.iter().filter_map(|digest| at_hand.remove(digest));
            values.extend(found.map(|value| (record.kind.clone(), value, true)));
        }
        Ok(values)
    }

    /// Values that are texts of marks: the photo they stand on, and whether those marks are on it now. They go out with the photo,
    /// whatever was chosen for them: they are drawn in the copy beside it. Those that were taken off go to nobody.
    fn lettered_marks(&self, loaded: &Loaded) -> Result<BTreeMap<Digest, (Digest, bool)>, ApiError> {
        let mut texts = BTreeMap::new();
        if loaded.job.marks.is_empty() {
            return Ok(texts);
        }
        for stored in self.store.job_records(&loaded.log.job)? {
            let Ok(record) = Record::parse(&stored.bytes) else { continue };
            let marked = loaded.job.entry(&stored.leaf).and_then(|entry| entry.event.as_ref());
            if let Some(Event::PhotoMarked(marked)) = marked {
                let stands =
                    loaded.job.marks.get(&marked.photo).is_some_and(|kept| kept.record == stored.leaf);
                texts.extend(record.withheld.iter().map(|digest| (*digest, (marked.photo, stands))));
            }
        }
        Ok(texts)
    }

    fn photo_share(
        &self,
        loaded: &Loaded,
        sharing: &Sharing,
        digest: &Digest,
        share: PhotoShare,
    ) -> Option<PhotoShareView> {
        let covered = self.covered_here(&loaded.job, digest);
        let examined = sharing.examined.get(digest)?;
        Some(PhotoShareView {
            photo: show::photo(&loaded.job, digest)?,
            covered: covered.map(|copy| copy.sha256.to_string()).unwrap_or_default(),
            share,
            original: examined.state,
            missing_since: loaded.job.missing.get(digest).map(|kept| kept.wall.clone()).unwrap_or_default(),
            carries: examined.carries.iter().map(show::code).collect(),
            can_strip: examined.can_strip,
            marks: loaded.job.marks_on(digest).map_or(0, |kept| show::small(kept.event.marks.len())),
        })
    }

    /// The newest copy of a photo with covered areas, if its bytes are here.
    fn covered_here<'j>(&self, job: &'j job::Job, photo: &Digest) -> Option<&'j CoveredCopy> {
        job.covered_copy(photo).filter(|copy| self.is_sound(&copy.sha256))
    }

    fn photo_shares(
        &self,
        job: &job::Job,
        entry: &PacketEntry,
        examined: &BTreeMap<Digest, Examined>,
        not_theirs: &BTreeSet<Digest>,
    ) -> Result<BTreeMap<Digest, PhotoShare>, ApiError> {
        let preset = |kept: &job::Kept<PhotoKept>| {
            let photo = kept.event.sha256;
            let covered = self.covered_here(job, &photo).is_some();
            let share = if not_theirs.contains(&photo) {
                PhotoShare::Withheld
            } else {
                PhotoShare::preset(entry.recipient, kept.event.purpose, covered)
            };
            (photo, possible(share, examined.get(&photo)).unwrap_or(PhotoShare::Withheld))
        };
        let mut shares: BTreeMap<Digest, PhotoShare> = job.photos.values().map(preset).collect();
        for choice in &entry.photos {
            let unknown = || ApiError::Unknown { what: "photo", value: choice.photo.clone() };
            let photo: Digest = choice.photo.parse().map_err(|_| unknown())?;
            if choice.share == PhotoShare::Covered && self.covered_here(job, &photo).is_none() {
                return Err(ApiError::refused("no_covered_copy"));
            }
            let share = possible(choice.share, examined.get(&photo));
            *shares.get_mut(&photo).ok_or_else(unknown)? =
                share.ok_or_else(|| ApiError::refused("cannot_strip"))?;
        }
        Ok(shares)
    }
}

/// What is to become of a photo, as far as its original allows: nothing goes out of a lost one, and one that carries nothing
/// is its own copy. `None` where a copy was asked for that can't be made.
fn possible(share: PhotoShare, examined: Option<&Examined>) -> Option<PhotoShare> {
    let examined = examined.filter(|examined| examined.is_here());
    match (share, examined) {
        (PhotoShare::Covered | PhotoShare::Withheld, _) => Some(share),
        (_, None) => Some(PhotoShare::Withheld),
        (PhotoShare::Stripped, Some(examined)) if examined.carries.is_empty() => Some(PhotoShare::Original),
        (PhotoShare::Stripped, Some(examined)) => examined.can_strip.then_some(PhotoShare::Stripped),
        (PhotoShare::Original, Some(_)) => Some(PhotoShare::Original),
    }
}

/// What a supplier's preset leaves out: values by their salted digests, and photos.
#[derive(Default)]
struct NotTheirs {
    values: BTreeSet<Digest>,
    photos: BTreeSet<Digest>,
}

/// The supplier whose bill a packet is about, as the job names it; empty where it is about the customer's.
fn supplier_meant(job: &job::Job, entry: &PacketEntry) -> Result<String, ApiError> {
    let about_one = match entry.recipient {
        Recipient::Supplier => true,
        Recipient::Arbiter => !entry.supplier.is_empty(),
        Recipient::Customer | Recipient::CardIssuer => false,
    };
    let unknown = || ApiError::Unknown { what: "supplier", value: entry.supplier.clone() };
    if !about_one {
        // A name for a reader who isn't told of it is a slip.
        return if entry.supplier.is_empty() { Ok(String::new()) } else { Err(unknown()) };
    }
    let accounts = suppliers::accounts(job).map_err(ApiError::from)?;
    match suppliers::meant(&accounts, &entry.supplier) {
        Some(account) => Ok(account.supplier.clone()),
        None if entry.supplier.is_empty() => Ok(String::new()),
        None => Err(unknown()),
    }
}

impl Sharing {
    /// Does a report go with it: one for the same reader, and about the same bill?
    pub fn goes_with(&self, report: &ReportWritten) -> bool {
        let same_bill = report.supplier == self.supplier
            // Reports before the supplier was kept don't say, so they go with none of several.
            || self.recipient == Recipient::Arbiter;
        report.recipient == self.recipient && same_bill
    }

    /// Values that go out.
    pub fn disclosures(&self) -> Vec<Disclosure> {
        let out = self.values.iter().filter(|(_, _, goes_out)| *goes_out);
        out.map(|(_, value, _)| value.clone()).collect()
    }

    /// Does the original of a photo go out?
    pub fn lets_out(&self, photo: &Digest) -> bool {
        self.photos.get(photo) == Some(&PhotoShare::Original)
    }

    /// Photos that go out, as they are or as copies.
    pub fn handed_out(&self) -> impl Iterator<Item = &Digest> {
        self.photos.iter().filter(|(_, share)| **share != PhotoShare::Withheld).map(|(photo, _)| photo)
    }

    /// Photos of which a copy without metadata goes out.
    pub fn stripped(&self) -> impl Iterator<Item = &Digest> {
        self.photos.iter().filter(|(_, share)| **share == PhotoShare::Stripped).map(|(photo, _)| photo)
    }

    /// Copies that go out in place of their originals.
    pub fn copies<'j>(&self, job: &'j job::Job) -> Vec<&'j CoveredCopy> {
        let copy = |(photo, share): (&Digest, &PhotoShare)| match share {
            PhotoShare::Covered => job.covered_copy(photo),
            PhotoShare::Stripped => job.stripped_copy(photo),
            PhotoShare::Original | PhotoShare::Withheld => None,
        };
        self.photos.iter().filter_map(copy).collect()
    }

    /// What a report for this recipient shows in place of a photo, and what is covered in that.
    pub fn shown(&self, job: &job::Job, photo: &Digest) -> Option<(Digest, Vec<CoveredArea>)> {
        // A report shows a small picture, encoded anew.
        super::marking::source(job, photo, *self.photos.get(photo).unwrap_or(&PhotoShare::Original))
    }
}
