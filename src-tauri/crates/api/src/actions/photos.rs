//! Photos: the first bytes the app receives are made durable, then sealed; nothing is re-encoded.

use crate::entry::{CameraIntent, Form, PhotoEntry};
use crate::view::{JobPhotoView, PhotoView};
use crate::{ApiError, Workshop, settings};
use chrono::{DateTime, SecondsFormat, Utc};
use evidence::Digest;
use job::Event;
use job::PICTURE_CUT_OFF;
use job::event::{PhotoKept, PhotoPurpose};
use photo::{CaptureTime, Doubt, Facts, Preview};

/// Longest side of the preview on the screen, pixels.
const SCREEN: u32 = 960;

impl Workshop {
    /// Keeps a photo: durable file, then sealed record.
    ///
    /// # Errors
    /// Empty or other bytes than a picture (one that was cut off is kept, with a doubt); bytes that were destroyed when a customer was forgotten; a full disk.
    /// Nothing half-kept stays behind.
    pub fn photo_keep(&self, entry: &PhotoEntry, bytes: &[u8]) -> Result<PhotoView, ApiError> {
        let facts = self.inspect(bytes)?;
        let digest = Digest::of(bytes);
        let kept = PhotoKept { live: entry.live, ..photo_kept(digest, bytes.len(), entry.purpose, &facts) };
        let loaded = self.change(&Form::from(&entry.job), |loaded| {
            // What was destroyed on request doesn't come back by accident, on whichever job.
            if self.store.forgotten()?.contains(&digest) {
                return Err(ApiError::refused("photo_forgotten"));
            }
            let known = loaded.job.photos.contains_key(&digest);
            // A known photo whose original was lost is whole again with these bytes.
            if !known || !self.examine_anew(&digest).is_here() {
                self.store.keep_original(bytes, facts.kind.extension())?;
            }
            Ok((!known).then_some(Event::PhotoKept(kept)))
        })?;
        crate::show::photo(&loaded.job, &digest)
            .ok_or_else(|| ApiError::Unknown { what: "photo", value: digest.to_string() })
    }

    /// What a picture's bytes say, by this device's clock.
    pub(super) fn inspect(&self, bytes: &[u8]) -> Result<Facts, ApiError> {
        let wall = self.clock.moment().wall;
        let now = DateTime::parse_from_rfc3339(&wall).map(|t| t.to_utc()).unwrap_or(DateTime::<Utc>::MAX_UTC);
        Ok(photo::inspect(bytes, now)?)
    }

    /// One photo of a job, by its hash.
    ///
    /// # Errors
    /// An unknown job, a photo that isn't the job's.
    pub fn photo_view(&self, job: &str, hash: &str) -> Result<PhotoView, ApiError> {
        let digest: Digest = hash.parse()?;
        crate::show::photo(&self.load(job)?.job, &digest)
            .ok_or_else(|| ApiError::Unknown { what: "photo", value: hash.to_owned() })
    }

    /// Every photo of a job in the order they were kept, each with what it belongs to.
    ///
    /// # Errors
    /// An unknown job, a store that can't be read.
    pub fn job_photos(&self, job: &str) -> Result<Vec<JobPhotoView>, ApiError> {
        let packets = self.packets(job)?;
        let handed_out = packets.iter().flat_map(|packet| &packet.photos);
        let handed_out = handed_out.filter_map(|photo| photo.parse().ok()).collect();
        Ok(crate::show::job_photos(&self.load(job)?.job, &handed_out))
    }

    /// A preview without metadata, made when it is first asked for. `None` when none can be made (HEIC, rare forms, pictures
    /// beyond the limits, and those of which nothing can be read).
    ///
    /// # Errors
    /// A photo that isn't kept, or whose bytes are no longer what was sealed: an earlier preview would show as sound what is
    /// lost.
    pub fn photo_preview(&self, hash: &str) -> Result<Option<Vec<u8>>, ApiError> {
        let digest: Digest = hash.parse()?;
        if let Some(path) = self.store.preview(&digest, "screen")? {
            self.require_sound(&digest)?;
            if let Ok(bytes) = std::fs::read(path) {
                return Ok(Some(bytes));
            }
        }
        // Read anew, it is checked on the way.
        let original = self.store.original(&digest)?;
        match photo::preview(&original, SCREEN) {
            Ok(bytes) => {
                self.store.keep_preview(&digest, "screen", &bytes)?;
                Ok(Some(bytes))
            }
            Err(photo::PhotoError::NoPreview(_)) => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    /// The original bytes with their media type.
    ///
    /// # Errors
    /// A photo that isn't kept, or whose bytes are no longer what was sealed.
    pub fn photo_original(&self, hash: &str) -> Result<(Vec<u8>, &'static str), ApiError> {
        let digest: Digest = hash.parse()?;
        let path = self.store.original_path(&digest);
        let ending = path.as_deref().and_then(|p| p.extension()).and_then(|e| e.to_str()).unwrap_or_default();
        Ok((self.store.original(&digest)?, media_type(ending)))
    }

    /// Puts on disk what the camera is opened for.
    ///
    /// # Errors
    /// A store that can't be written to.
    pub fn camera_intent_keep(&self, intent: &CameraIntent) -> Result<(), ApiError> {
        Ok(self.store.keep_intent(&settings::written("camera_intent", intent)?)?)
    }

    /// What the camera was opened for, once.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn camera_intent_take(&self) -> Result<Option<CameraIntent>, ApiError> {
        Ok(self.store.take_intent()?.and_then(|value| serde_json::from_value(value).ok()))
    }
}

pub(super) fn photo_kept(sha256: Digest, bytes: usize, purpose: PhotoPurpose, facts: &Facts) -> PhotoKept {
    let size = facts.upright_size();
    PhotoKept {
        sha256,
        bytes: bytes.to_string(),
        media_type: facts.kind.media_type().to_owned(),
        purpose,
        taken: facts.taken.map(taken).unwrap_or_default(),
        width: size.map_or(0, |s| s.width),
        height: size.map_or(0, |s| s.height),
        has_preview: facts.preview == Preview::Possible,
        doubts: found(facts),
        found_later: false,
        live: false,
    }
}

/// Doubts that only the bytes tell; those about times are told from the records.
fn found(facts: &Facts) -> Vec<String> {
    let cut_off = facts.doubts.contains(&Doubt::CutOff).then(|| PICTURE_CUT_OFF.to_owned());
    cut_off.into_iter().collect()
}

/// As the camera said it: with offset when it wrote one.
pub(super) fn taken(time: CaptureTime) -> String {
    match time.instant() {
        Some(instant) => instant.to_rfc3339_opts(SecondsFormat::Secs, false),
        None => time.wall.format("%Y-%m-%dT%H:%M:%S").to_string(),
    }
}

/// Media type of an original by the ending the store gave it. The store holds copies and reports too, which have no record
/// of their own that says it.
fn media_type(ending: &str) -> &'static str {
    let kinds = [photo::Kind::Jpeg, photo::Kind::Png, photo::Kind::Webp, photo::Kind::Heic];
    kinds.into_iter().find(|kind| kind.extension() == ending).unwrap_or(photo::Kind::Unknown).media_type()
}
