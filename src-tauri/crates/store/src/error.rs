use std::io;
use std::path::{Path, PathBuf};

use evidence::{Digest, EvidenceError};

use crate::BackupContents;

/// What went wrong while keeping or reading, with what to try.
///
/// Whatever an earlier call has acknowledged is still kept after any of these.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another running copy of the app holds this folder.
    #[error("{} is already in use by another running copy. Close the other one and try again.", .folder.display())]
    AlreadyOpen {
        /// The data folder.
        folder: PathBuf,
    },
    /// The folder can't be written to.
    #[error("{} can't be written to. Make it writable or choose another folder; nothing was changed.", .path.display())]
    ReadOnly {
        /// The folder or file that refused.
        path: PathBuf,
    },
    /// No space is left on the device.
    #[error("The device is full. Free some space and try again; everything kept so far is safe.")]
    DiskFull,
    /// The database was written by a newer version of the app.
    #[error(
        "This data was written by a newer version (schema {found}; this version knows {known}). Update the app; nothing was changed."
    )]
    TooNew {
        /// Schema in the file.
        found: u32,
        /// Newest schema this version knows.
        known: u32,
    },
    /// The file in the database's place is some other program's database.
    #[error("{} is not this app's database. Move it elsewhere or choose another folder; nothing was changed.", .path.display())]
    Foreign {
        /// The database file.
        path: PathBuf,
    },
    /// The database file is damaged. When found at the start it is moved aside; otherwise start again to do so.
    #[error(
        "The database is damaged ({detail}). Restart the app: the damaged file is set aside, never deleted, and a new one is built from the journals."
    )]
    Damaged {
        /// What the check reported.
        detail: String,
    },
    /// One log no longer agrees with its stored root; it may be read but not continued.
    #[error(
        "The log {log} no longer agrees with its stored root, so nothing can be added to it. Restore it from a backup; other jobs are unaffected."
    )]
    LogDamaged {
        /// Origin of the log.
        log: String,
    },
    /// A record comes without the signature of its device.
    #[error("Nobody known here signed for what log {log} gets. Nothing was kept.")]
    NotSigned {
        /// Origin of the log.
        log: String,
    },
    /// Records at the end of a log are signed for by no key that is known of its device.
    #[error(
        "From record {from} on, no key known here signed for log {log}. Nothing can be added before its owner takes those records in as what they are."
    )]
    NotVouched {
        /// Origin of the log.
        log: String,
        /// The first record that nobody signed for, counted from 0.
        from: u64,
    },
    /// Two different records claim the same place in a log.
    #[error(
        "Two different records claim place {sequence} of log {log}. Nothing was overwritten. Keep both devices as they are and compare them."
    )]
    Fork {
        /// Origin of the log.
        log: String,
        /// The place both claim.
        sequence: u64,
    },
    /// This very record is kept already.
    #[error("Record {sequence} of log {log} is kept already; there is nothing to do.")]
    AlreadyKept {
        /// Origin of the log.
        log: String,
        /// Its place.
        sequence: u64,
    },
    /// A record comes too early: others before it are missing.
    #[error(
        "Record {sequence} of log {log} can't be kept before record {expected}. Add the missing records first."
    )]
    Gap {
        /// Origin of the log.
        log: String,
        /// The record's place.
        sequence: u64,
        /// The next free place.
        expected: u64,
    },
    /// Something came in between the moment an action was found allowed and its record.
    #[error(
        "The job {job} has {found} records by now, not {expected}: something came in between. Look at it again and repeat."
    )]
    Moved {
        /// The job.
        job: String,
        /// How many records the action counted on.
        expected: u64,
        /// How many there are.
        found: u64,
    },
    /// A log from elsewhere doesn't hold together.
    #[error(
        "The copy of log {log} is damaged at record number {place} of it: {why}. Nothing was kept; fetch it again."
    )]
    CopyDamaged {
        /// Origin of the log.
        log: String,
        /// Which record of the copy, counted from 0.
        place: usize,
        /// What disagrees.
        why: String,
    },
    /// The record does not say what the request says about it.
    #[error("The record doesn't belong here: {why}. Nothing was kept; seal it again for this log.")]
    Misfit {
        /// What disagrees.
        why: String,
    },
    /// A record names an original that isn't on disk.
    #[error("The photo {digest} isn't kept, so a record that names it can't be. Keep the photo first.")]
    OriginalMissing {
        /// SHA-256 of the original.
        digest: Digest,
    },
    /// An original no longer has the bytes it was kept with.
    #[error(
        "The photo {digest} no longer has the bytes it was kept with. Restore it from a backup; the record still tells what it was."
    )]
    OriginalDamaged {
        /// SHA-256 of the original.
        digest: Digest,
    },
    /// A name given for a file is not safe to use.
    #[error("\"{name}\" can't be part of a file name here: use a to z and 0 to 9 only.")]
    FileName {
        /// The name given.
        name: String,
    },
    /// The key file can be read by others and this user may not change that.
    #[error("{} can be read by others and belongs to another user. Have its owner run `chmod 600` on it, or give it back to this user.", .path.display())]
    KeyExposed {
        /// The key file.
        path: PathBuf,
    },
    /// The key file is not an Ed25519 private key.
    #[error("{} is not an Ed25519 private key in PKCS#8 form. Restore it from a backup; a new key would be a new device.", .path.display())]
    KeyUnreadable {
        /// The key file.
        path: PathBuf,
    },
    /// A key is there already and is never overwritten.
    #[error("{} holds a key already. To replace it, let the old key sign for a new one.", .path.display())]
    KeyExists {
        /// The key file.
        path: PathBuf,
    },
    /// The key is encrypted and hasn't been unlocked.
    #[error("The device's key is protected by a passphrase. Enter it first.")]
    KeyLocked,
    /// The passphrase is not the one, or the beginning of the file is damaged; nobody can tell these apart.
    #[error(
        "The passphrase is wrong, or the beginning of the file is damaged. Type it again; mind capitals and spaces."
    )]
    WrongPassphrase,
    /// A file asks for more work or memory than this device gives.
    #[error(
        "The file asks for scrypt work of 2^{work}, which is more than this app gives. It was not made here; don't trust it."
    )]
    TooCostly {
        /// Base-2 logarithm of scrypt's N.
        work: u8,
    },
    /// The file isn't what a backup or key looks like.
    #[error("This is not a file that was encrypted here: {why}. Choose another file.")]
    NotABackup {
        /// What is wrong with it.
        why: String,
    },
    /// The backup is damaged or cut off; what of it can be read is told.
    #[error(
        "The backup is damaged: {}. {} of its files can be read, {} can't. Nothing was restored; use another copy of the backup.",
        .0.damage.as_deref().unwrap_or("it can't be read"), .0.files_readable, .0.files_missing.len()
    )]
    BackupDamaged(Box<BackupContents>),
    /// Restoring never mixes with what is there.
    #[error("{} isn't empty, and a backup is restored into an empty folder only. Choose or make another folder; nothing was changed.", .folder.display())]
    NotEmpty {
        /// The folder.
        folder: PathBuf,
    },
    /// The files are held by other work.
    #[error("A backup or an export is being written. Wait until it is done, or stop it, and try again.")]
    Busy,
    /// The work was stopped on request.
    #[error("Stopped on request; nothing is left behind.")]
    Cancelled,
    /// Encrypting failed.
    #[error("Could not encrypt: {0}. Check the storage and try again; nothing was changed.")]
    Encryption(String),
    /// The system refused to read or write a file.
    #[error("Could not {doing} {}: {source}. Check the storage and try again; everything kept so far is safe.", .path.display())]
    File {
        /// What was being done.
        doing: &'static str,
        /// With which file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// SQLite refused.
    #[error("The database refused: {0}. Check the storage and try again; everything kept so far is safe.")]
    Database(rusqlite::Error),
    /// The record, checkpoint or proof itself is wrong.
    #[error(transparent)]
    Evidence(#[from] EvidenceError),
    /// Stored JSON can't be read back.
    #[error("A stored setting or draft can't be read: {0}. Enter it again.")]
    Json(#[from] serde_json::Error),
}

impl StoreError {
    /// Wraps what the system said about a file, naming the cases a user can act on.
    pub(crate) fn file(doing: &'static str, path: &Path, source: io::Error) -> Self {
        match source.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::DiskFull,
            io::ErrorKind::ReadOnlyFilesystem | io::ErrorKind::PermissionDenied if doing != "read" => {
                Self::ReadOnly { path: path.to_path_buf() }
            }
            _ => Self::File { doing, path: path.to_path_buf(), source },
        }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(source: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode::{DatabaseCorrupt, DiskFull, NotADatabase};
        match source.sqlite_error_code() {
            Some(DiskFull) => Self::DiskFull,
            Some(DatabaseCorrupt | NotADatabase) => Self::Damaged { detail: source.to_string() },
            _ => Self::Database(source),
        }
    }
}
