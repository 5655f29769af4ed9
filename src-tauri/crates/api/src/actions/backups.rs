//! The whole shop as one encrypted file and back, and everything in open forms and back.

use super::{keys, shop};
use crate::entry::RestoreEntry;
use crate::view::{BackupView, DamagedBackupView, ImportView, ShopView, StrangerView, WrittenFileView};
use crate::{ApiError, Work, Workshop, show, typed};
use evidence::{DeviceKey, Digest, PublicKey, fingerprint_words};
use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};
use store::{BackupKey, OpenOptions, RestoreAs, Store, StoreError};

impl Workshop {
    /// Writes the whole shop into one encrypted file in the export folder; the signing key goes in only when it is asked for.
    ///
    /// # Errors
    /// A passphrase that is too short; a folder that can't be written to; cancelled.
    pub fn backup_write(&self, passphrase: &str, with_key: bool) -> Result<BackupView, ApiError> {
        typed::passphrase(passphrase)?;
        self.work.begin("backup");
        let key = if with_key { BackupKey::Included } else { BackupKey::LeftOut };
        let written = self.write_backup(passphrase, key);
        self.work.end();
        written
    }

    /// Writes records, photos and lists in open forms into a new folder below the export folder.
    ///
    /// # Errors
    /// A folder that can't be written to; cancelled.
    pub fn open_export(&self) -> Result<BackupView, ApiError> {
        self.work.begin("export");
        let written = self.write_open_export();
        self.work.end();
        written
    }

    /// Takes in an open export: what is new is added, what is known stays. Only what a known key signed for comes in; `trust`
    /// names keys of other devices, by fingerprint, that the user has compared and that become known.
    ///
    /// # Errors
    /// A folder that can't be read or is no whole export; cancelled, which keeps what was taken in until then.
    pub fn open_import(&self, folder: &Path, trust: &[String]) -> Result<ImportView, ApiError> {
        let exported = store::exported_keys(folder);
        self.trust(&exported, trust)?;
        self.work.begin("import");
        let taken = self.store.open_import(folder, &mut |progress| self.work.watch("import", progress));
        self.work.end();
        let folded = self.fold_waiting();
        // Also where it failed or was stopped: what came until then came.
        self.folds.drop_all();
        self.closed_jobs.drop_all();
        let report = taken?;
        folded?;
        let small = |count: u64| u32::try_from(count).unwrap_or(u32::MAX);
        Ok(ImportView {
            records_added: small(report.logs.iter().map(|(_, union)| union.added).sum()),
            records_known: small(report.logs.iter().map(|(_, union)| union.already).sum()),
            photos_added: small(report.originals_added),
            strangers: self.strangers(&exported)?,
            refused: report
                .refused
                .iter()
                .map(|refused| format!("{}: {}", refused.file, refused.why))
                .collect(),
        })
    }

    /// Keys that the user has compared become known; none can become one of this device.
    fn trust(&self, exported: &[(String, PublicKey)], trust: &[String]) -> Result<(), ApiError> {
        let own = self.shop().map(|shop| shop.device_id).unwrap_or_default();
        for (device, key) in exported.iter().filter(|(device, _)| *device != own) {
            if trust.contains(&key.fingerprint()?.to_string()) {
                self.store.keep_public_key(device, &key.pem()?)?;
            }
        }
        Ok(())
    }

    /// Devices of an export whose key isn't known here.
    fn strangers(&self, exported: &[(String, PublicKey)]) -> Result<Vec<StrangerView>, ApiError> {
        let known = self.store.known_public_keys()?;
        let unknown = exported.iter().filter(|pair| !known.contains(pair));
        let view = |(device, key): &(String, PublicKey)| {
            let fingerprint = key.fingerprint()?;
            Ok(StrangerView {
                device: device.clone(),
                words: fingerprint_words(&fingerprint),
                fingerprint: fingerprint.to_string(),
            })
        };
        unknown.map(view).collect()
    }

    /// Writes the list's line of every job that came in some other way than by an action here.
    pub(crate) fn fold_waiting(&self) -> Result<(), ApiError> {
        for job in self.store.jobs_to_fold()? {
            let loaded = self.fold_with(&job, self.store.disclosures(&job)?)?;
            self.store.keep_summary(&show::summary(&job, &loaded))?;
        }
        Ok(())
    }

    fn write_backup(&self, passphrase: &str, key: BackupKey) -> Result<BackupView, ApiError> {
        // A backup of what doesn't hold would only spread it: everything is read first, and mended where it can be.
        self.shop_check()?;
        self.work.begin("backup");
        let path = self.new_export("backup", ".tar.age")?;
        let watch = &mut |progress| self.work.watch("backup", progress);
        let report = self.store.backup(&path, passphrase, key, watch)?;
        self.written("backup", &path, report.files, &report.damaged_originals, report.sha256)
    }

    fn write_open_export(&self) -> Result<BackupView, ApiError> {
        let folder = self.new_export("records", "")?;
        let lists = self.lists()?;
        let report =
            self.store.open_export(&folder, &lists, &mut |progress| self.work.watch("export", progress))?;
        // The list of every file's hash stands for the folder.
        let sums = std::fs::read(folder.join("SHA256SUMS")).ok().map(|sums| Digest::of(&sums));
        self.written("open_export", &folder, report.files, &report.damaged_originals, sums)
    }

    /// Lists for a spreadsheet that only those who know what a record means can make, and the ledger for a bookkeeper.
    fn lists(&self) -> Result<Vec<(String, Vec<u8>)>, ApiError> {
        let jobs = self.all_jobs()?;
        let ledger = self.ledger_of(&jobs)?;
        Ok(vec![
            ("readings.csv".to_owned(), report::readings_csv(&jobs)?),
            ("ledger.csv".to_owned(), ledger.csv.into_bytes()),
            ("ledger.journal".to_owned(), ledger.journal.into_bytes()),
        ])
    }

    fn new_export(&self, what: &str, ending: &str) -> Result<PathBuf, ApiError> {
        self.make_export_folder()?;
        let wall = self.clock.moment().wall;
        let day: String = wall.chars().take(19).filter(char::is_ascii_digit).collect();
        Ok(self.export_folder().join(format!("{what}-{day}{ending}")))
    }

    fn written(
        &self,
        what: &str,
        path: &Path,
        files: u64,
        damaged: &[Digest],
        sha256: Option<Digest>,
    ) -> Result<BackupView, ApiError> {
        let bytes =
            std::fs::metadata(path).map(|data| if data.is_file() { data.len() } else { 0 }).unwrap_or(0);
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let file = WrittenFileView {
            path: path.display().to_string(),
            name,
            bytes: bytes.to_string(),
            sha256: sha256.map(|digest| digest.to_string()).unwrap_or_default(),
            written: self.clock.moment().wall,
        };
        self.remember_copy(what, &file)?;
        let files = u32::try_from(files).unwrap_or(u32::MAX);
        let named = |digests: &[Digest]| digests.iter().map(Digest::to_string).collect();
        let missing_photos = named(&self.store.originals_missing()?);
        Ok(BackupView { file, files, damaged_photos: named(damaged), missing_photos })
    }
}

/// Restores a backup into the data folder of a device that was not set up yet, and opens it.
///
/// As the same device it goes on with the backup's key; the device that made the backup must then never be used again.
/// As a second device it gets a key and an id of its own, and the first device has to sign for it.
///
/// A backup without the signing key leaves the same device with a lost key: a new one is made when the user says so, and
/// every check shows the break.
///
/// # Errors
/// A shop that is set up here already; a wrong passphrase; a damaged backup; cancelled. The folder stays as it was.
pub fn restore(folder: &Path, entry: &RestoreEntry, work: &Work) -> Result<ShopView, ApiError> {
    work.begin("restore");
    let restored = restore_watched(folder, entry, work);
    work.end();
    restored
}

fn restore_watched(folder: &Path, entry: &RestoreEntry, work: &Work) -> Result<ShopView, ApiError> {
    require_fresh(folder)?;
    // Whole beside its place first: a shop that were there with the first device's id and the second one's key would
    // write into the first one's logs.
    let staging = beside(folder, ".restoring");
    clear(&staging)?;
    let restored = bring_back(&staging, entry, work).and_then(|()| put_in_place(&staging, folder));
    if restored.is_err() {
        // Made here from the backup, which still has it all.
        let _ = std::fs::remove_dir_all(&staging);
    }
    restored?;
    Workshop::open(folder)?.shop_view()
}

/// Reads a backup to its end and says what is in it, also of a damaged one; nothing is restored.
///
/// # Errors
/// A wrong passphrase, a file that is no backup; cancelled.
pub fn backup_check(path: &Path, passphrase: &str, work: &Work) -> Result<DamagedBackupView, ApiError> {
    let file = File::open(path).map_err(|source| failed("read", path, source))?;
    work.begin("check");
    let watch = &mut |progress| work.watch("check", progress);
    let checked = store::check_backup(&mut BufReader::new(file), passphrase, watch);
    work.end();
    match checked {
        Ok(contents) => Ok(show::backup(&contents)),
        Err(StoreError::BackupDamaged(contents)) => Ok(show::backup(&contents)),
        Err(error) => Err(error.into()),
    }
}

fn require_fresh(folder: &Path) -> Result<(), ApiError> {
    let workshop = Workshop::open(folder)?;
    let fresh = matches!(workshop.shop(), Err(ApiError::NotSetUp))
        && workshop.store.jobs("", 1, None)?.rows.is_empty();
    if fresh { Ok(()) } else { Err(ApiError::refused("already_set_up")) }
}

/// The shop of a backup in a folder of its own, as this device goes on with it.
fn bring_back(staging: &Path, entry: &RestoreEntry, work: &Work) -> Result<(), ApiError> {
    typed::one_of("restore_as", &entry.restore_as, &["same_device", "second_device"])?;
    let path = PathBuf::from(typed::required("path", &entry.path)?);
    let file = File::open(&path).map_err(|source| failed("read", &path, source))?;
    let second = (entry.restore_as == "second_device").then(keys::new_key).transpose()?;
    let restore_as = second.as_ref().map_or(RestoreAs::SameDevice, RestoreAs::SecondDevice);
    let report = store::restore(
        &mut BufReader::with_capacity(1 << 20, file),
        &entry.passphrase,
        staging,
        &restore_as,
        &OpenOptions::default(),
        &mut |progress| work.watch("restore", progress),
    )?;
    match second {
        Some(key) => become_second(staging, &report.public_keys, &key),
        None => Ok(()),
    }
}

/// Gives the device an id of its own before anything is opened with the new key.
fn become_second(staging: &Path, first_keys: &[String], key: &DeviceKey) -> Result<(), ApiError> {
    let options = OpenOptions { believe_keys: true, ..OpenOptions::default() };
    let store = Store::open(staging, &options)?;
    let first = shop::kept_in(&store)?;
    first_keys.iter().try_for_each(|pem| store.keep_public_key(&first.device_id, pem))?;
    let device_id = shop::new_id("device")?;
    store.keep_public_key(&device_id, &key.public_pem()?)?;
    // It may never meet the first again: what it writes is numbered apart from the first moment on.
    shop::keep_in(&store, &shop::Shop { device_id, numbered_apart: true, second: true, ..first })
}

/// The fresh folder goes, the restored one takes its place.
fn put_in_place(staging: &Path, folder: &Path) -> Result<(), ApiError> {
    let aside = beside(folder, ".before-restoring");
    clear(&aside)?;
    if folder.exists() {
        std::fs::rename(folder, &aside).map_err(|source| failed("rename", folder, source))?;
    }
    std::fs::rename(staging, folder).map_err(|source| {
        // The first start then goes on as if nothing had happened.
        let _ = std::fs::rename(&aside, folder);
        failed("rename", staging, source)
    })?;
    let _ = std::fs::remove_dir_all(&aside);
    Ok(())
}

/// What an earlier try left behind: never more than a fresh folder, or half of a backup.
fn clear(leftover: &Path) -> Result<(), ApiError> {
    if leftover.exists() {
        std::fs::remove_dir_all(leftover).map_err(|source| failed("remove", leftover, source))?;
    }
    Ok(())
}

fn beside(folder: &Path, ending: &str) -> PathBuf {
    let mut name = folder.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

fn failed(doing: &'static str, path: &Path, source: std::io::Error) -> ApiError {
    ApiError::File { doing, path: path.display().to_string(), source }
}
