use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use evidence::Digest;

use crate::disk::{Keeping, keep, owned_folder, write_owned};
use crate::{Access, Store, StoreError, log::digest};

impl Store {
    /// Keeps a photo's bytes as they came, under their SHA-256; the same bytes twice are one file.
    ///
    /// When it returns, the file survives a loss of power: it was written, synced, renamed and its folder synced.
    ///
    /// # Errors
    /// [`StoreError::FileName`] for an extension other than 1 to 8 lowercase letters or digits;
    /// [`StoreError::DiskFull`], [`StoreError::ReadOnly`], [`StoreError::File`].
    pub fn keep_original(&self, bytes: &[u8], extension: &str) -> Result<Digest, StoreError> {
        require_plain(extension)?;
        let digest = Digest::of(bytes);
        let shard = self.shard(&digest);
        self.disk.create_folder(&shard).map_err(|error| StoreError::file("create", &shard, error))?;
        // Written anew even when it is there: that may be a damaged copy, or one whose name isn't durable yet.
        let target =
            self.original_path(&digest).unwrap_or_else(|| shard.join(format!("{digest}.{extension}")));
        let (temporary, above) = (self.folder.temporary(), self.folder.originals());
        let folders = [shard.as_path(), above.as_path()];
        let keeping =
            Keeping { temporary: &temporary, target: &target, access: Access::OwnerOnly, folders: &folders };
        keep(self.disk.as_ref(), &keeping, bytes)?;
        Ok(digest)
    }

    /// Where an original lies; `None` when it isn't kept.
    pub fn original_path(&self, digest: &Digest) -> Option<PathBuf> {
        let stem = digest.to_string();
        let named = |path: &PathBuf| path.file_stem().is_some_and(|name| name == stem.as_str());
        fs::read_dir(self.shard(digest)).ok()?.filter_map(|entry| Some(entry.ok()?.path())).find(named)
    }

    /// The bytes of an original, checked against its name.
    ///
    /// # Errors
    /// [`StoreError::OriginalMissing`], [`StoreError::OriginalDamaged`], [`StoreError::File`].
    pub fn original(&self, digest: &Digest) -> Result<Vec<u8>, StoreError> {
        let path =
            self.original_path(digest).ok_or_else(|| StoreError::OriginalMissing { digest: *digest })?;
        let bytes = fs::read(&path).map_err(|error| StoreError::file("read", &path, error))?;
        if Digest::of(&bytes) == *digest {
            Ok(bytes)
        } else {
            Err(StoreError::OriginalDamaged { digest: *digest })
        }
    }

    /// Originals that no record names among its photos: photos kept just before the app ended, and what records name in
    /// other ways, as reports and copies. They are never deleted by themselves; offer the photos among them.
    ///
    /// # Errors
    /// Those of the files and the database.
    pub fn unattached_originals(&self) -> Result<Vec<Digest>, StoreError> {
        let named: BTreeSet<Digest> = {
            let connection = self.database();
            let mut statement = connection.prepare_cached("SELECT DISTINCT sha256 FROM photos")?;
            statement.query_map([], |row| digest(row, 0))?.collect::<Result<_, _>>()?
        };
        let shards = listed(&self.folder.originals())?;
        let mut unattached = BTreeSet::new();
        for path in shards.iter().map(|shard| listed(shard)).collect::<Result<Vec<_>, _>>()?.concat() {
            let kept = path.file_stem().and_then(|name| name.to_str()?.parse::<Digest>().ok());
            unattached.extend(kept.filter(|kept| !named.contains(kept)));
        }
        Ok(unattached.into_iter().collect())
    }

    /// Destroys an original that no record names, with its previews: somebody looked at it and doesn't want it.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] for one that a record names; [`StoreError::OriginalMissing`]; [`StoreError::Busy`] while a
    /// backup or an export is written; [`StoreError::File`] and those of the database.
    pub fn destroy_unattached(&self, digest: &Digest) -> Result<(), StoreError> {
        let _files = self.take_files()?;
        let count = "SELECT count(*) FROM photos WHERE sha256 = ?";
        let named: i64 = self.database().query_row(count, [digest.0], |row| row.get(0))?;
        if named > 0 {
            return Err(StoreError::Misfit { why: format!("a record names the photo {digest}") });
        }
        let path =
            self.original_path(digest).ok_or_else(|| StoreError::OriginalMissing { digest: *digest })?;
        let (shard, name) = (self.folder.previews().join(first_two(digest)), digest.to_string());
        let of_it =
            |path: &PathBuf| path.file_name().is_some_and(|file| file.to_string_lossy().starts_with(&name));
        let previews = listed(&shard).unwrap_or_default().into_iter().filter(of_it);
        // The original last: while it lies here it is offered again.
        for path in previews.chain([path]) {
            self.disk.remove(&path).map_err(|error| StoreError::file("remove", &path, error))?;
        }
        let shard = self.shard(digest);
        self.disk.sync_folder(&shard).map_err(|error| StoreError::file("sync", &shard, error))
    }

    /// The bytes of every record of a kind, over all jobs.
    ///
    /// # Errors
    /// Those of the database.
    pub fn records_of_kind(&self, kind: &str) -> Result<Vec<Vec<u8>>, StoreError> {
        let connection = self.database();
        let mut statement =
            connection.prepare_cached("SELECT bytes FROM records WHERE kind = ? ORDER BY record")?;
        let rows = statement.query_map([kind], |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// How many records of a kind there are, over all jobs and devices.
    ///
    /// # Errors
    /// Those of the database.
    pub fn count_of_kind(&self, kind: &str) -> Result<u64, StoreError> {
        let count = "SELECT count(*) FROM records WHERE kind = ?";
        Ok(self.database().prepare_cached(count)?.query_row([kind], |row| row.get(0))?)
    }

    /// Keeps a picture derived from an original, such as a small one for lists. It may be lost and made again.
    ///
    /// # Errors
    /// [`StoreError::FileName`], [`StoreError::DiskFull`], [`StoreError::File`].
    pub fn keep_preview(&self, digest: &Digest, name: &str, bytes: &[u8]) -> Result<PathBuf, StoreError> {
        let path = self.preview_file(digest, name)?;
        let shard = path.parent().unwrap_or(Path::new("."));
        owned_folder(shard).map_err(|error| StoreError::file("create", shard, error))?;
        let temporary = self.folder.temporary();
        write_owned(&temporary, bytes).map_err(|error| {
            let _ = fs::remove_file(&temporary);
            StoreError::file("write", &temporary, error)
        })?;
        fs::rename(&temporary, &path).map_err(|error| StoreError::file("rename", &path, error))?;
        Ok(path)
    }

    /// Where a preview lies; `None` when it must be made first.
    ///
    /// # Errors
    /// [`StoreError::FileName`].
    pub fn preview(&self, digest: &Digest, name: &str) -> Result<Option<PathBuf>, StoreError> {
        Ok(Some(self.preview_file(digest, name)?).filter(|path| path.exists()))
    }

    /// Size of an original in bytes; `None` when it isn't kept.
    pub fn original_size(&self, digest: &Digest) -> Option<u64> {
        Some(fs::metadata(self.original_path(digest)?).ok()?.len())
    }

    fn shard(&self, digest: &Digest) -> PathBuf {
        self.folder.originals().join(first_two(digest))
    }

    fn preview_file(&self, digest: &Digest, name: &str) -> Result<PathBuf, StoreError> {
        name.split('.').try_for_each(require_plain)?;
        Ok(self.folder.previews().join(first_two(digest)).join(format!("{digest}-{name}")))
    }
}

/// At most 256 folders keep each one small.
pub(crate) fn first_two(digest: &Digest) -> String {
    digest.to_string().chars().take(2).collect()
}

pub(crate) fn listed(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let entries = fs::read_dir(folder).map_err(|error| StoreError::file("list", folder, error))?;
    Ok(entries.filter_map(|entry| Some(entry.ok()?.path())).collect())
}

fn require_plain(name: &str) -> Result<(), StoreError> {
    let plain = name.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit());
    if plain && (1..=8).contains(&name.len()) {
        Ok(())
    } else {
        Err(StoreError::FileName { name: name.to_owned() })
    }
}
