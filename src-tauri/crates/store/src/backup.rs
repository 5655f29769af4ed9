//! The whole shop as one file: a tar of the database, the originals and, if asked for, the key, encrypted by passphrase with age.
//! `age -d FILE | tar -x` opens it without this program.

mod manifest;
mod read;
mod restore;
mod tape;
mod write;

use std::ops::ControlFlow;

use evidence::packet::Progress;

pub use manifest::{BackupContents, BackupJob};
pub use read::check_backup;
pub use restore::{RestoreAs, RestoreReport, restore};
pub(crate) use restore::{beside, move_into_place, require_empty};
pub use write::{BackupKey, BackupReport};

/// Told how many bytes are done of how many; its answer may be to stop.
pub type Watch<'a> = &'a mut dyn FnMut(Progress) -> ControlFlow<()>;

/// The folder within the tar, so that unpacking by hand makes one folder.
const WITHIN: &str = "testimeter-backup/";
const MANIFEST: &str = "manifest.json";
const END: &str = "end.json";
/// The private key in use.
const KEY: &str = "keys/device.pem";
const DATABASE: &str = "testimeter.sqlite";
