use std::path::PathBuf;

use evidence::Digest;

use crate::Rebuilt;

/// Something found while opening, reading or checking that the user should hear about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The database was damaged: it was renamed, nothing deleted, and a new one begun.
    DatabaseMovedAside {
        /// Where the damaged file is now.
        to: PathBuf,
    },
    /// One log no longer holds, and its journal doesn't mend it. It can be read, but nothing can be added to it.
    LogDamaged {
        /// Origin of the log.
        log: String,
        /// What disagrees.
        why: String,
    },
    /// A lost database was built again from the journals, the settings' file and what could be read of the old one.
    /// Fold the jobs that [`crate::Store::jobs_to_fold`] names.
    DatabaseRebuilt(Rebuilt),
    /// A log's journal held records that the database had lost; they are back.
    RecordsRecovered {
        /// Origin of the log.
        log: String,
        /// How many records came back.
        records: u64,
        /// How many more the journal speaks of, which stay behind: they don't follow, or nobody known signed for them.
        left_behind: u64,
        /// What is wrong with the first line of the journal that stayed out.
        complaint: Option<String>,
    },
    /// A log's journal and the database hold different records at one place: both are kept. Compare them.
    JournalDiffers {
        /// Origin of the log.
        log: String,
        /// Where the journal is now.
        to: PathBuf,
    },
    /// A log was changed on disk; its journal's copy, which is signed for, is in its place again.
    LogMended {
        /// Origin of the log.
        log: String,
        /// How many records were put back.
        records: u64,
        /// How many values that may be withheld were put back.
        values: u64,
    },
    /// Records that no known key signed for stood in a log or its journal; they were taken out and put aside.
    NotVouched {
        /// Origin of the log.
        log: String,
        /// How many records.
        records: u64,
        /// The file that holds them now.
        to: PathBuf,
    },
    /// Originals no longer have the bytes they were kept with, or are gone.
    OriginalsLost {
        /// Those whose bytes are others than those kept.
        damaged: Vec<Digest>,
        /// Those that are no longer there.
        missing: Vec<Digest>,
    },
    /// The signed list of known keys is gone or was changed: other devices' keys, and earlier ones of this device, are no
    /// longer known.
    KeyListLost,
    /// The public half that lay beside a locked key was another key's. What it vouched for is looked at again.
    PublicKeyReplaced,
    /// There is no key of this device, or its folder is from before there was a signed list: the keys of its devices were
    /// taken from the database, where nothing vouches for them.
    KeysBelieved {
        /// How many keys.
        keys: usize,
    },
    /// A plan to destroy files stood in the database that this device never signed; nothing was destroyed.
    ForgettingNotOurs,
    /// An earlier run ended while destroying what was to be forgotten; the rest is destroyed now.
    ForgettingFinished,
    /// Others on this system could read files of the folder: tell the user, since they may have been copied.
    FolderExposed {
        /// How many files.
        files: usize,
        /// Whether they are closed to others now.
        closed: bool,
    },
    /// An earlier run ended while writing; what it had not yet acknowledged was removed.
    LeftoversSwept {
        /// How many files.
        files: usize,
    },
}
