use super::*;

/// A backup or an open export that was written.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BackupView {
    /// The file or folder.
    pub file: WrittenFileView,
    /// Files in it.
    pub files: u32,
    /// Photos that were damaged before: they are in it as they are.
    pub damaged_photos: Vec<String>,
    /// Photos that records name and that are no longer here: they can't be in it.
    pub missing_photos: Vec<String>,
}

/// What an open export brought.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ImportView {
    /// Records that are new here.
    pub records_added: u32,
    /// Records that were kept already.
    pub records_known: u32,
    /// Photos that are new here.
    pub photos_added: u32,
    /// Devices whose key isn't known here: their records stay outside until the user has compared the key.
    pub strangers: Vec<StrangerView>,
    /// What was not taken in, and why.
    pub refused: Vec<String>,
}

/// A device of an open export whose key isn't known here.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct StrangerView {
    /// The device.
    pub device: String,
    /// Fingerprint of its public key, hexadecimal.
    pub fingerprint: String,
    /// The same in eight words, to be compared with those on the device or its papers.
    pub words: String,
}

/// What a backup holds, as far as it can be read.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct DamagedBackupView {
    /// What is wrong with it, in English; empty when it is whole.
    pub damage: String,
    /// Jobs in it.
    pub jobs: Vec<BackupJobView>,
    /// The signing key is in it: whoever has the passphrase, too, can sign as this shop.
    pub has_key: bool,
    /// Files that can be read.
    pub files_readable: u32,
    /// Files that can't.
    pub files_missing: Vec<String>,
}

/// A job in a backup.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BackupJobView {
    /// Number of the job.
    pub number: u32,
    /// What it is about.
    pub title: String,
    /// Records it has.
    pub records: u32,
    /// The records can be read.
    pub records_readable: bool,
    /// Photos that can't be read.
    pub photos_missing: u32,
}
