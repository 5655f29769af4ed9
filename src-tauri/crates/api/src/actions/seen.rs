//! The number on a reading's photo: read when it is asked for, remembered while the app runs, proposed and never taken.

use crate::entry::{ReadingEntry, SeenEntry};
use crate::view::ProposalView;
use crate::{ApiError, Workshop, settings};
use evidence::Digest;
use job::Job;
use job::event::{ReadingKept, SeenOnPhoto};
use job::rule::seen::{self, Asked, POSSIBLE, SeenNumber};
use std::collections::BTreeMap;

/// Most digits that each meter of the shop has shown, by its name.
const SETTING: &str = "meter_digits";
/// Photos whose number is remembered: more than are in hand at once.
const REMEMBERED: usize = 200;

/// What photos were read as since the start; nothing where no number was found.
pub(crate) type SeenPhotos = BTreeMap<Digest, Option<SeenNumber>>;

impl Workshop {
    /// What the photo of a reading seems to show. It takes up to seconds the first time; nobody waits for it, and nothing is kept.
    ///
    /// # Errors
    /// An unknown job, a photo that isn't the job's or whose bytes are no longer what was sealed.
    pub fn photo_seen(&self, job: &str, entry: &SeenEntry) -> Result<ProposalView, ApiError> {
        let photo: Digest = entry.photo.parse()?;
        let loaded = self.load(job)?;
        if !loaded.job.photos.contains_key(&photo) {
            return Err(ApiError::Unknown { what: "photo", value: entry.photo.clone() });
        }
        let answered = entry.mode.is_answered();
        let number = if answered { None } else { self.number_on(photo)? };
        let most_digits = self.most_digits(&loaded.job)?;
        let asked = Asked { mode: entry.mode, unit: entry.unit, range: &entry.range, most_digits };
        let proposal = seen::proposal(number.as_ref(), &asked);
        Ok(ProposalView {
            photo: entry.photo.clone(),
            value: proposal.value,
            says: proposal.says,
            look: proposal.look,
            remark: proposal.remark,
        })
    }

    fn number_on(&self, photo: Digest) -> Result<Option<SeenNumber>, ApiError> {
        if let Some(known) = self.read_before(&photo) {
            return Ok(known);
        }
        let _reader = self.reader.lock();
        // Somebody else may have asked meanwhile.
        if let Some(known) = self.read_before(&photo) {
            return Ok(known);
        }
        let bytes = self.store.original(&photo)?;
        // A picture that can't be taken apart shows no number; its reading is typed.
        let read = ::photo::read_display(&bytes).ok().and_then(number);
        if let Ok(mut all) = self.seen.lock() {
            if all.len() >= REMEMBERED {
                all.clear();
            }
            all.insert(photo, read.clone());
        }
        Ok(read)
    }

    fn read_before(&self, photo: &Digest) -> Option<Option<SeenNumber>> {
        self.seen.lock().ok()?.get(photo).cloned()
    }

    /// What a reading's record says of its last photo. A photo that wasn't read yet keeps nobody waiting; a correction goes by
    /// what was read for the reading it corrects.
    pub(super) fn seen_for(
        &self,
        entry: &ReadingEntry,
        reading: &ReadingKept,
        corrected: Option<&SeenOnPhoto>,
    ) -> Option<SeenOnPhoto> {
        let photo = *reading.photos.last().filter(|_| !reading.mode.is_answered())?;
        let earlier = corrected.filter(|seen| seen.photo == photo).map(|seen| SeenNumber {
            value: seen.value.clone(),
            certainty: seen.certainty,
            at_edge: false,
        });
        let number =
            self.read_before(&photo).flatten().or(earlier).filter(|one| one.certainty >= POSSIBLE)?;
        Some(seen::on_record(&number, photo, reading, entry.photo_taken, entry.kept_against_photo))
    }

    /// Most digits that the job's meter has shown, over all jobs of the shop on this device.
    fn most_digits(&self, job: &Job) -> Result<usize, ApiError> {
        let Some(meter) = &job.meter else { return Ok(0) };
        Ok(self.digits_by_meter()?.get(&meter.event.name).copied().unwrap_or(0))
    }

    fn digits_by_meter(&self) -> Result<BTreeMap<String, usize>, ApiError> {
        self.store
            .setting(SETTING)?
            .map_or_else(|| Ok(BTreeMap::new()), |value| settings::read(SETTING, value))
    }

    pub(super) fn remember_digits(&self, meter: &str, digits: usize) -> Result<(), ApiError> {
        let _turn = self.store.turn();
        let mut all = self.digits_by_meter().unwrap_or_default();
        let known = all.entry(meter.to_owned()).or_default();
        if *known >= digits {
            return Ok(());
        }
        *known = digits;
        Ok(self.store.set_setting(SETTING, &settings::written(SETTING, &all)?)?)
    }
}

/// The meter of a job, and how many digits it showed in a reading.
pub(super) fn digits_shown(job: &Job, reading: &ReadingKept) -> Option<(String, usize)> {
    let meter = job.meter.as_ref().filter(|_| !reading.mode.is_answered())?;
    let numbers = [&reading.value, &reading.lowest, &reading.highest];
    Some((meter.event.name.clone(), numbers.into_iter().map(|number| seen::digits(number)).max()?))
}

/// What the reader says, in thousandths rounded down, so that nothing just below a limit is taken for it.
fn number(read: ::photo::DisplayReading) -> Option<SeenNumber> {
    let certainty = (read.confidence.clamp(0.0, 1.0) * 1000.0).floor() as u32;
    Some(SeenNumber { value: read.value?, certainty, at_edge: read.at_edge })
}
