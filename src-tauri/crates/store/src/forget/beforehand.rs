//! What forgetting would destroy, said before it is done.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use evidence::Digest;

use crate::originals::{first_two, listed};
use crate::{Store, StoreError};

/// A file by the name the user may find it under, below the data folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NamedFile {
    /// Its place below the data folder, with `/` between the parts.
    pub name: String,
    /// Its size.
    pub bytes: u64,
}

/// What would be destroyed besides the values.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ToBeForgotten {
    /// Originals that are here.
    pub originals: u64,
    /// Their bytes.
    pub originals_bytes: u64,
    /// Previews of them.
    pub previews: u64,
    /// Forms of the job that were begun and not sealed.
    pub drafts: u64,
    /// Reports and packets in the export folder.
    pub exports: Vec<NamedFile>,
    /// Files that were set aside instead of being deleted: journals of the job, and databases with all that they held.
    pub put_aside: Vec<NamedFile>,
}

impl Store {
    /// What [`Store::forget`] with the same originals and exports would destroy, its damaged copies included.
    ///
    /// # Errors
    /// Those of the files and the database.
    pub fn to_be_forgotten(
        &self,
        job: &str,
        originals: &[Digest],
        exports: &[String],
    ) -> Result<ToBeForgotten, StoreError> {
        let sizes = originals.iter().filter_map(|original| self.original_size(original));
        let count = "SELECT count(*) FROM drafts WHERE job = ?";
        let drafts = self.database().query_row(count, [job], |row| row.get(0))?;
        let folder = self.folder.root().join("exports");
        let exports = exports.iter().map(|name| folder.join(name)).filter(|path| path.exists());
        let aside = self.journals_aside(job)?.into_iter().chain(self.damaged_copies()?);
        Ok(ToBeForgotten {
            originals: sizes.clone().count() as u64,
            originals_bytes: sizes.sum(),
            previews: originals.iter().map(|original| self.previews_of(original).len() as u64).sum(),
            drafts,
            exports: exports.map(|path| self.named(&path)).collect(),
            put_aside: aside.map(|path| self.named(&path)).collect(),
        })
    }

    /// Databases that were set aside as damaged, each with its logs.
    pub(super) fn damaged_copies(&self) -> Result<Vec<PathBuf>, StoreError> {
        let aside = |path: &PathBuf| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            name.starts_with("testimeter-damaged") || name.starts_with("testimeter.damaged")
        };
        let mut found: Vec<PathBuf> = listed(self.folder.root())?.into_iter().filter(aside).collect();
        found.sort();
        Ok(found)
    }

    /// Whatever lies in a job's folder of journals and is none that the database keeps up: what was set aside under any
    /// name, and journals that nobody could read.
    pub(super) fn journals_aside(&self, job: &str) -> Result<Vec<PathBuf>, StoreError> {
        let kept: BTreeSet<PathBuf> = self.logs(job)?.iter().map(|log| self.journal.path(log)).collect();
        let folder = self.journal.folder().join(job);
        let aside = |path: &PathBuf| path.is_file() && !kept.contains(path);
        let mut found: Vec<PathBuf> = listed(&folder).unwrap_or_default().into_iter().filter(aside).collect();
        found.sort();
        Ok(found)
    }

    pub(super) fn previews_of(&self, original: &Digest) -> Vec<PathBuf> {
        let name = original.to_string();
        let of_it =
            |path: &PathBuf| path.file_name().is_some_and(|file| file.to_string_lossy().starts_with(&name));
        let shard = self.folder.previews().join(first_two(original));
        listed(&shard).unwrap_or_default().into_iter().filter(of_it).collect()
    }

    fn named(&self, path: &Path) -> NamedFile {
        let below = path.strip_prefix(self.folder.root()).unwrap_or(path);
        let parts: Vec<_> = below.iter().map(|part| part.to_string_lossy()).collect();
        NamedFile { name: parts.join("/"), bytes: path.metadata().map_or(0, |data| data.len()) }
    }
}
