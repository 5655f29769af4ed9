//! The data folder of one device: SQLite for records and lists, plain files for photos and the key.
//!
//! The store takes bytes, leaves and ready-made summaries. It does not know what a job, a reading or a photo means,
//! reads no clock and makes no randomness. What a call has acknowledged survives a kill and a loss of power.
#![deny(missing_docs)]

mod append;
mod backup;
mod checkpoints;
mod database;
mod device_keys;
mod disk;
mod error;
mod folder;
mod foreign;
mod forget;
mod hashing;
mod jobs;
mod journal;
mod keys;
mod log;
mod open_export;
mod originals;
mod passphrase;
mod rebuild;
mod records;
mod search;
mod settings;
mod store;
mod tail;
mod time_stamps;
mod verify_logs;

pub use append::AppendRequest;
pub use backup::{
    BackupContents, BackupJob, BackupReport, RestoreAs, RestoreReport, Watch, check_backup, restore,
};
pub use checkpoints::StoredCheckpoint;
pub use database::SCHEMA;
pub use disk::{Access, Disk, NewFile, RealDisk};
pub use error::StoreError;
pub use foreign::{CopiedRecord, LogCopy, LogUnion};
pub use forget::{ForgetReport, ForgetRequest};
pub use jobs::{COUNTED, JobHeads, JobRow, JobSummary, JobsPage};
pub use keys::{FileKeys, KeyProtection, KeyStore, StoredKey};
pub use open_export::{ExportReport, ImportReport, Refused};
pub use rebuild::{Rebuilt, RebuiltLog};
pub use records::StoredRecord;
pub use store::{Notice, OpenOptions, Store};
pub use time_stamps::TimeStampWaiting;
pub use verify_logs::VerifiedLog;
