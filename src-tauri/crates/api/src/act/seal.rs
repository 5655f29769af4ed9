//! An event becomes a sealed record.

use crate::{ApiError, Workshop};
use evidence::{Digest, LogId, PhotoRef, Sealed};
use job::event::PhotoKept;
use job::{Event, Job};

impl Workshop {
    /// Seals an event at the head of a log.
    pub(super) fn seal(&self, log: &LogId, job: &Job, event: &Event) -> Result<Sealed, ApiError> {
        let parts = event.parts()?;
        let photos = event.photos();
        let new = evidence::NewRecord {
            kind: parts.kind,
            moment: self.clock.moment(),
            others: self.store.other_heads(log)?,
            photos: photos.iter().map(|photo| photo_ref(job, event, photo)).collect::<Result<_, _>>()?,
            body: parts.body,
            withheld: parts.withheld,
        };
        let mut salts = Salts { failed: false };
        let sealed = evidence::seal(log, &self.store.head(log)?, new, &mut || salts.next())?;
        salts.check()?;
        Ok(sealed)
    }
}

impl Workshop {
    /// This device's signature over the log as it will be with a record that was just sealed.
    pub(super) fn sign_head(&self, log: &LogId, sealed: &Sealed) -> Result<[u8; 64], ApiError> {
        let head = self.store.next_head(log, sealed.leaf)?;
        Ok(self.key()?.sign_bytes(head.text().as_bytes()))
    }
}

/// Size and media type of a photo, as its own record has them.
fn photo_ref(job: &Job, event: &Event, photo: &Digest) -> Result<PhotoRef, ApiError> {
    let unknown = || ApiError::Unknown { what: "photo", value: photo.to_string() };
    let kept: &PhotoKept = match event {
        Event::PhotoKept(kept) => kept,
        _ => &job.photos.get(photo).ok_or_else(unknown)?.event,
    };
    let bytes = kept.bytes.parse().map_err(|_| unknown())?;
    Ok(PhotoRef { sha256: *photo, bytes, media_type: kept.media_type.clone() })
}

/// Random salts. The system's source can fail; then nothing may be sealed, because a guessable salt betrays its value.
struct Salts {
    failed: bool,
}

impl Salts {
    fn next(&mut self) -> [u8; 16] {
        let mut salt = [0; 16];
        self.failed |= getrandom::fill(&mut salt).is_err();
        salt
    }

    fn check(&self) -> Result<(), ApiError> {
        if self.failed { Err(ApiError::NoRandomness) } else { Ok(()) }
    }
}
