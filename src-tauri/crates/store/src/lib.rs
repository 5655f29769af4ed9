//! The data folder of one device: SQLite for records and lists, plain files for photos and the key.
//!
//! The store takes bytes, leaves and ready-made summaries. It does not know what a job, a reading or a photo means,
//! reads no clock and makes no randomness. What a call has acknowledged survives a kill and a loss of power.
#![deny(missing_docs)]

mod append;
mod backup;
mod check;
mod checkpoints;
mod database;
mod disk;
mod error;
mod exposure;
mod folder;
mod foreign;
mod forget;
mod hashing;
mod heads;
mod jobs;
mod journal;
mod keys;
mod known_keys;
mod log;
mod notice;
mod open_export;
mod originals;
mod passphrase;
mod rebuild;
mod records;
mod search;
mod settings;
mod store;
mod time_stamps;
mod verify_logs;

pub use append::AppendRequest;
pub use backup::{
    BackupContents, BackupJob, BackupKey, BackupReport, RestoreAs, RestoreReport, Watch, check_backup,
    restore,
};
pub use check::{CheckReport, CheckState};
pub use checkpoints::StoredCheckpoint;
pub use database::SCHEMA;
pub use disk::{Access, Disk, NewFile, RealDisk};
pub use error::StoreError;
pub use foreign::{CopiedRecord, LogCopy, LogUnion};
pub use forget::{ForgetReport, ForgetRequest, NamedFile, ToBeForgotten};
pub use jobs::{COUNTED, JobHeads, JobMark, JobRow, JobSummary, JobsPage};
pub use keys::{FileKeys, KeyProtection, KeyStore, StoredKey};
pub use notice::Notice;
pub use open_export::{ExportReport, ImportReport, Refused, exported_keys};
pub use rebuild::{Rebuilt, RebuiltLog};
pub use records::{Standing, StoredRecord};
pub use store::{OpenOptions, Store};
pub use time_stamps::TimeStampWaiting;
pub use verify_logs::VerifiedLog;
