use crate::view::{BackupJobView, DamagedBackupView};
use store::BackupContents;

/// What a backup holds.
pub(crate) fn backup(contents: &BackupContents) -> DamagedBackupView {
    let job = |job: &store::BackupJob| BackupJobView {
        number: small(job.number),
        title: job.title.clone(),
        records: small(job.records),
        records_readable: job.records_readable,
        photos_missing: small(job.originals_missing),
    };
    DamagedBackupView {
        damage: contents.damage.clone().unwrap_or_default(),
        jobs: contents.jobs.iter().map(job).collect(),
        has_key: contents.has_key,
        files_readable: small(contents.files_readable),
        files_missing: contents.files_missing.clone(),
    }
}

fn small(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
