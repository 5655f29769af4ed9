//! Checkpoints: signed after each approval, each finding, the hand-over, and at every export.

use crate::view::CheckpointView;
use crate::{ApiError, Workshop, picture};
use evidence::{Checkpoint, LogId, SignedCheckpoint, fingerprint_words};
use store::StoreError;

impl Workshop {
    /// Signs the log as it stands and keeps the checkpoint.
    pub(crate) fn sign_checkpoint(&self, log: &LogId) -> Result<SignedCheckpoint, ApiError> {
        let size = self.store.head(log)?.size;
        let root =
            self.store.root(log)?.ok_or_else(|| ApiError::Unknown { what: "log", value: log.origin() })?;
        if let Some(last) = self.latest_checkpoint(log)?.filter(|last| last.size == size) {
            return Ok(last.signed);
        }
        if let Some(from) = self.store.first_not_vouched(log)? {
            // Signing would vouch for records that nobody signed for when they were sealed.
            return Err(StoreError::NotVouched { log: log.origin(), from }.into());
        }
        let signed = self.key()?.sign(&Checkpoint { origin: log.origin(), size, root });
        self.store.append_checkpoint(log, &signed)?;
        self.queue_for_time(log, size)?;
        Ok(signed)
    }

    pub(crate) fn latest_checkpoint(&self, log: &LogId) -> Result<Option<store::StoredCheckpoint>, ApiError> {
        let all = self.store.checkpoints(&log.job)?;
        Ok(all.into_iter().filter(|c| c.device == log.device).max_by_key(|c| c.size))
    }

    /// The latest checkpoint as the customer sees it. `signed` is the wall time of the last record it covers.
    pub(crate) fn checkpoint_view(
        &self,
        log: &LogId,
        job: &job::Job,
    ) -> Result<Option<CheckpointView>, ApiError> {
        let Some(latest) = self.latest_checkpoint(log)? else { return Ok(None) };
        let checkpoint = latest.signed.checkpoint()?;
        let covered = job.timeline.iter().rfind(|r| r.sequence < checkpoint.size);
        Ok(Some(CheckpointView {
            size: u32::try_from(checkpoint.size).unwrap_or(u32::MAX),
            words: fingerprint_words(&checkpoint.root),
            qr: picture::qr(&latest.signed.note),
            text: latest.signed.text,
            signed: covered.map(|r| r.wall.clone()).unwrap_or_default(),
        }))
    }
}
