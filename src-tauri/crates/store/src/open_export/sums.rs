//! `SHA256SUMS` of an export, in the form that coreutils' `sha256sum` writes and checks.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use evidence::Digest;

use crate::StoreError;

/// The name of the list.
pub(super) const NAME: &str = "SHA256SUMS";

/// An export with the list of its files.
pub(super) struct Listed {
    folder: PathBuf,
    sums: BTreeMap<String, Digest>,
}

impl Listed {
    /// Reads the list.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] where there is none, or it isn't one.
    pub(super) fn read(folder: &Path) -> Result<Self, StoreError> {
        let text = fs::read_to_string(folder.join(NAME)).map_err(|_| {
            misfit(
                "SHA256SUMS is missing or can't be read: it isn't a whole export; copy the folder again"
                    .to_owned(),
            )
        })?;
        let line = |line: &str| {
            let (sum, name) = line.split_once("  ")?;
            Some((name.to_owned(), sum.parse().ok()?))
        };
        let sums = text.lines().map(line).collect::<Option<_>>();
        let sums =
            sums.ok_or_else(|| misfit("SHA256SUMS isn't in the form that sha256sum writes".to_owned()))?;
        Ok(Self { folder: folder.to_path_buf(), sums })
    }

    /// The name of a file as the list has it.
    pub(super) fn name_of(&self, path: &Path) -> String {
        let within = path.strip_prefix(&self.folder).unwrap_or(path);
        within.iter().map(|part| part.to_string_lossy()).collect::<Vec<_>>().join("/")
    }

    /// Whether a file has the bytes that were exported.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] where it hasn't, or isn't on the list.
    pub(super) fn require(&self, path: &Path) -> Result<(), StoreError> {
        let wanted = self.sums.get(&self.name_of(path));
        let wanted = wanted.ok_or_else(|| misfit("SHA256SUMS doesn't list it".to_owned()))?;
        // A link or a device could lead anywhere or never end.
        if !fs::symlink_metadata(path).is_ok_and(|data| data.is_file()) {
            return Err(misfit("it is no plain file".to_owned()));
        }
        let read = File::open(path).and_then(|mut file| Digest::of_reader(&mut file));
        let (found, _) = read.map_err(|error| StoreError::file("read", path, error))?;
        if found == *wanted { Ok(()) } else { Err(misfit("its hash isn't the one in SHA256SUMS".to_owned())) }
    }

    /// Files on the list that are gone.
    pub(super) fn gone(&self) -> Vec<String> {
        let missing = |name: &&String| !self.folder.join(name).exists();
        self.sums.keys().filter(missing).cloned().collect()
    }
}

fn misfit(why: String) -> StoreError {
    StoreError::Misfit { why }
}
