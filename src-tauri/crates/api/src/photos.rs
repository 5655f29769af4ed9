//! Photos: the first bytes the app receives are made durable, then sealed; nothing is re-encoded.

use crate::entry::{CameraIntent, PhotoEntry, PhotoPurpose};
use crate::view::PhotoView;
use crate::{ApiError, Workshop};
use chrono::{DateTime, SecondsFormat, Utc};
use evidence::Digest;
use job::Event;
use job::event::PhotoKept;
use photo::{CaptureTime, Facts, Preview};

/// Longest side of the preview on the screen, pixels.
const SCREEN: u32 = 960;

impl Workshop {
    /// Keeps a photo: durable file, then sealed record.
    ///
    /// # Errors
    /// Empty, truncated or other bytes than a picture; a full disk. Nothing half-kept stays behind.
    pub fn photo_keep(&self, entry: &PhotoEntry, bytes: &[u8]) -> Result<PhotoView, ApiError> {
        let wall = self.clock.moment().wall;
        let now = DateTime::parse_from_rfc3339(&wall).map(|t| t.to_utc()).unwrap_or(DateTime::<Utc>::MAX_UTC);
        let facts = photo::inspect(bytes, now)?;
        let digest = Digest::of(bytes);
        if let Some(view) = self.kept_before(&entry.job, digest)? {
            return Ok(view);
        }
        let digest = self.store.keep_original(bytes, facts.kind.extension())?;
        let event = Event::PhotoKept(photo_kept(digest, bytes.len(), entry.purpose, &facts));
        let loaded = self.keep(&entry.job, &event)?;
        crate::show::photo(&loaded.job, &digest)
            .ok_or_else(|| ApiError::Unknown { what: "photo", value: digest.to_string() })
    }

    /// A preview without metadata, made when it is first asked for. `None` when none can be made (HEIC).
    ///
    /// # Errors
    /// A photo that isn't kept.
    pub fn photo_preview(&self, hash: &str) -> Result<Option<Vec<u8>>, ApiError> {
        let digest: Digest = hash.parse()?;
        if let Some(path) = self.store.preview(&digest, "screen")?
            && let Ok(bytes) = std::fs::read(path)
        {
            return Ok(Some(bytes));
        }
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
        let media_type = crate::workshop::media_type(ending);
        Ok((self.store.original(&digest)?, media_type))
    }

    /// Puts on disk what the camera is opened for.
    ///
    /// # Errors
    /// A store that can't be written to.
    pub fn camera_intent_keep(&self, intent: &CameraIntent) -> Result<(), ApiError> {
        let value = serde_json::to_value(intent).map_err(|e| job::JobError::Event(e.to_string()))?;
        Ok(self.store.keep_intent(&value)?)
    }

    /// What the camera was opened for, once.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn camera_intent_take(&self) -> Result<Option<CameraIntent>, ApiError> {
        Ok(self.store.take_intent()?.and_then(|value| serde_json::from_value(value).ok()))
    }

    fn kept_before(&self, job: &str, digest: Digest) -> Result<Option<PhotoView>, ApiError> {
        Ok(crate::show::photo(&self.load(job)?.job, &digest))
    }
}

fn photo_kept(sha256: Digest, bytes: usize, purpose: PhotoPurpose, facts: &Facts) -> PhotoKept {
    let size = facts.upright_size();
    PhotoKept {
        sha256,
        bytes: bytes.to_string(),
        media_type: facts.kind.media_type().to_owned(),
        purpose: purpose.code().to_owned(),
        taken: facts.taken.map(taken).unwrap_or_default(),
        width: size.map_or(0, |s| s.width),
        height: size.map_or(0, |s| s.height),
        has_preview: facts.preview == Preview::Possible,
        doubts: Vec::new(),
    }
}

/// As the camera said it: with offset when it wrote one.
fn taken(time: CaptureTime) -> String {
    match time.instant() {
        Some(instant) => instant.to_rfc3339_opts(SecondsFormat::Secs, false),
        None => time.wall.format("%Y-%m-%dT%H:%M:%S").to_string(),
    }
}
