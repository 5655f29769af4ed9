use std::fs;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use evidence::Digest;
use rusqlite::Connection;

use crate::backup::manifest::{ListedJob, Manifest};
use crate::backup::tape::{Source, Tape, name_of, written};
use crate::backup::{DATABASE, MANIFEST, Watch};
use crate::hashing::Hashing;
use crate::originals::listed;
use crate::{Access, NewFile, Store, StoreError, log::digest, passphrase};

/// What becomes of the device's private key.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BackupKey {
    /// It stays on the device: a restored shop goes on as a second device, or reports the key lost and gets a new one.
    #[default]
    LeftOut,
    /// It goes in: whoever has the backup and its passphrase can sign as this device.
    Included,
}

/// What a backup came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BackupReport {
    /// SHA-256 of the encrypted file; nothing for a stream of the caller's own.
    pub sha256: Option<Digest>,
    /// Files in it.
    pub files: u64,
    /// Their bytes, before encryption.
    pub bytes: u64,
    /// Originals that no longer have the bytes of their name: they are in the backup as they are.
    pub damaged_originals: Vec<Digest>,
}

impl Store {
    /// Writes the whole shop into one encrypted file: database, originals, public keys, and the private one if asked for. Memory stays small however large it is.
    ///
    /// The file is written beside its place, synced and renamed; when this returns, it survives a loss of power.
    ///
    /// # Errors
    /// [`StoreError::Cancelled`]; [`StoreError::DiskFull`], [`StoreError::ReadOnly`], [`StoreError::File`];
    /// those of the database. None leaves a file behind.
    pub fn backup(
        &self,
        target: &Path,
        passphrase: &str,
        key: BackupKey,
        watch: Watch<'_>,
    ) -> Result<BackupReport, StoreError> {
        let name = target.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let folder =
            target.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let temporary = folder.join(format!(".{name}.part"));
        let _ = fs::remove_file(&temporary);
        let written = self.backup_synced(&temporary, passphrase, key, watch).and_then(|report| {
            let renamed = self.disk.rename(&temporary, target);
            renamed.map_err(|error| StoreError::file("rename", target, error)).map(|()| report)
        });
        if written.is_err() {
            let _ = fs::remove_file(&temporary);
        }
        let report = written?;
        self.disk.sync_folder(folder).map_err(|error| StoreError::file("sync", folder, error))?;
        Ok(report)
    }

    fn backup_synced(
        &self,
        path: &Path,
        words: &str,
        key: BackupKey,
        watch: Watch<'_>,
    ) -> Result<BackupReport, StoreError> {
        let file = self.disk.create(path, Access::OwnerOnly);
        let file = file.map_err(|error| StoreError::file("create", path, error))?;
        let mut output = BufWriter::with_capacity(256 << 10, Writing::to(file));
        let report = self.backup_to(&mut output, words, passphrase::WORK, key, watch)?;
        let inner =
            output.into_inner().map_err(|error| StoreError::file("write", path, error.into_error()))?;
        let Writing { mut file, hash } = inner;
        file.sync().map_err(|error| StoreError::file("sync", path, error))?;
        Ok(BackupReport { sha256: Some(hash.finish()), ..report })
    }

    /// As [`Store::backup`], into any stream. `work` is the base-2 logarithm of scrypt's N; 16 is usual.
    ///
    /// # Errors
    /// As [`Store::backup`]. What was written until then is useless.
    pub fn backup_to(
        &self,
        output: &mut dyn Write,
        passphrase: &str,
        work: u8,
        key: BackupKey,
        watch: Watch<'_>,
    ) -> Result<BackupReport, StoreError> {
        let _files = self.hold_files();
        let snapshot = Snapshot(self.folder.temporary());
        let jobs = self.snapshot(&snapshot.0)?;
        let sources = self.sources(&snapshot.0, key)?;
        let files = sources.iter().map(|source| source.listed.clone()).collect();
        let manifest = serde_json::to_vec_pretty(&Manifest { version: 1, files, jobs })?;
        let stream = passphrase::seal(output, passphrase, work)?;
        let mut tape = Tape::begin(stream, &sources, watch);
        tape.small(MANIFEST, &manifest)?;
        sources.iter().try_for_each(|source| tape.file(source))?;
        let (stream, report) = tape.end()?;
        stream.finish().map_err(written)?;
        Ok(report)
    }

    /// A consistent copy of the database without freed pages, and its list of jobs at that moment.
    fn snapshot(&self, to: &Path) -> Result<Vec<ListedJob>, StoreError> {
        let connection = self.database();
        let jobs = listed_jobs(&connection)?;
        connection.execute("VACUUM INTO ?", [to.to_string_lossy()])?;
        Ok(jobs)
    }

    fn sources(&self, snapshot: &Path, key: BackupKey) -> Result<Vec<Source>, StoreError> {
        let mut sources = vec![Source::hashed(DATABASE.to_owned(), snapshot)?];
        let keys = self.folder.keys();
        for (within, folder) in [("keys/earlier/", keys.join("earlier")), ("keys/", keys)] {
            let mut paths = listed(&folder).unwrap_or_default();
            paths.sort();
            for path in paths {
                let name = name_of(&path);
                let public = name.ends_with(".pub.pem") || name.ends_with(".note");
                if public || name.ends_with(".pem") && key == BackupKey::Included {
                    sources.push(Source::hashed(format!("{within}{name}"), &path)?);
                }
            }
        }
        let mut shards = listed(&self.folder.originals())?;
        shards.sort();
        for shard in shards {
            let mut originals = listed(&shard)?;
            originals.sort();
            sources.extend(originals.iter().filter_map(|path| Source::original(&name_of(&shard), path)));
        }
        Ok(sources)
    }
}

fn listed_jobs(connection: &Connection) -> Result<Vec<ListedJob>, StoreError> {
    let mut statement = connection.prepare(include_str!("../sql/jobs_for_backup.sql"))?;
    let rows = statement.query_map([], |row| {
        let (job, number, title, records) = (row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?);
        Ok(ListedJob { job, number, title, records, originals: Vec::new() })
    })?;
    let mut jobs: Vec<ListedJob> = rows.collect::<Result<_, _>>()?;
    let mut named = connection.prepare(include_str!("../sql/originals_of_job.sql"))?;
    for job in &mut jobs {
        job.originals = named.query_map([&job.job], |row| digest(row, 0))?.collect::<Result<_, _>>()?;
    }
    Ok(jobs)
}

/// Removes the database's copy however the backup ends.
struct Snapshot(PathBuf);

impl Drop for Snapshot {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.0);
    }
}

/// Hashes what goes into the file.
struct Writing {
    file: Box<dyn NewFile>,
    hash: Hashing,
}

impl Writing {
    fn to(file: Box<dyn NewFile>) -> Self {
        Self { file, hash: Hashing::default() }
    }
}

impl Write for Writing {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.file.write(bytes)?;
        self.hash.add(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
