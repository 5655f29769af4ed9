//! The whole shop as one encrypted file and back, and everything in open forms and back.

use super::{keys, shop};
use crate::entry::RestoreEntry;
use crate::view::{BackupView, DamagedBackupView, ImportView, ShopView, WrittenFileView};
use crate::{ApiError, Workshop, show, typed};
use evidence::packet::Progress;
use evidence::{DeviceKey, Digest};
use std::fs::File;
use std::io::BufReader;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use store::{OpenOptions, RestoreAs, Store, StoreError};

/// Rows of the list that are read at a time.
const PAGE: u32 = 500;

impl Workshop {
    /// Writes the whole shop into one encrypted file in the export folder.
    ///
    /// # Errors
    /// A passphrase that is too short; a folder that can't be written to; cancelled.
    pub fn backup_write(&self, passphrase: &str) -> Result<BackupView, ApiError> {
        typed::passphrase(passphrase)?;
        self.work.begin("backup");
        let written = self.write_backup(passphrase);
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

    /// Takes in an open export: what is new is added, what is known stays.
    ///
    /// # Errors
    /// A folder that can't be read; cancelled, which keeps what was taken in until then.
    pub fn open_import(&self, folder: &Path) -> Result<ImportView, ApiError> {
        self.work.begin("import");
        let taken = self.store.open_import(folder, &mut |progress| self.watch("import", progress));
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
            refused: report
                .refused
                .iter()
                .map(|refused| format!("{}: {}", refused.file, refused.why))
                .collect(),
        })
    }

    /// Writes the list's line of every job that came in some other way than by an action here.
    pub(crate) fn fold_waiting(&self) -> Result<(), ApiError> {
        for job in self.store.jobs_to_fold()? {
            let loaded = self.fold_with(&job, self.store.disclosures(&job)?)?;
            self.store.keep_summary(&show::summary(&job, &loaded))?;
        }
        Ok(())
    }

    fn write_backup(&self, passphrase: &str) -> Result<BackupView, ApiError> {
        let path = self.new_export("backup", ".tar.age")?;
        let report = self.store.backup(&path, passphrase, &mut |progress| self.watch("backup", progress))?;
        self.written(&path, report.files, &report.damaged_originals)
    }

    fn write_open_export(&self) -> Result<BackupView, ApiError> {
        let folder = self.new_export("records", "")?;
        let lists = self.lists()?;
        let report =
            self.store.open_export(&folder, &lists, &mut |progress| self.watch("export", progress))?;
        self.written(&folder, report.files, &report.damaged_originals)
    }

    /// Lists for a spreadsheet that only those who know what a record means can make.
    fn lists(&self) -> Result<Vec<(String, Vec<u8>)>, ApiError> {
        let mut jobs = Vec::new();
        let mut after = None;
        loop {
            let page = self.store.jobs("", PAGE, after)?;
            for row in page.rows {
                jobs.push(self.load_from_records(&row.job)?.job);
            }
            after = page.next;
            if after.is_none() {
                break;
            }
        }
        Ok(vec![("readings.csv".to_owned(), report::readings_csv(&jobs)?)])
    }

    fn new_export(&self, what: &str, ending: &str) -> Result<PathBuf, ApiError> {
        self.make_export_folder()?;
        let wall = self.clock.moment().wall;
        let day: String = wall.chars().take(19).filter(char::is_ascii_digit).collect();
        Ok(self.export_folder().join(format!("{what}-{day}{ending}")))
    }

    fn written(&self, path: &Path, files: u64, damaged: &[Digest]) -> Result<BackupView, ApiError> {
        let bytes =
            std::fs::metadata(path).map(|data| if data.is_file() { data.len() } else { 0 }).unwrap_or(0);
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let file = WrittenFileView {
            path: path.display().to_string(),
            name,
            bytes: bytes.to_string(),
            sha256: String::new(),
            written: self.clock.moment().wall,
        };
        let files = u32::try_from(files).unwrap_or(u32::MAX);
        Ok(BackupView { file, files, damaged_photos: damaged.iter().map(Digest::to_string).collect() })
    }

    fn watch(&self, what: &str, progress: Progress) -> ControlFlow<()> {
        if self.work.step(what, progress.done, progress.total) {
            ControlFlow::Continue(())
        } else {
            ControlFlow::Break(())
        }
    }
}

/// Restores a backup into the data folder of a device that was not set up yet, and opens it.
///
/// As the same device it goes on with the backup's key; the device that made the backup must then never be used again.
/// As a second device it gets a key and an id of its own, and the first device has to sign for it.
///
/// # Errors
/// A shop that is set up here already; a wrong passphrase; a damaged backup. The folder stays as it was.
pub fn restore(folder: &Path, entry: &RestoreEntry) -> Result<ShopView, ApiError> {
    require_fresh(folder)?;
    // Whole beside its place first: a shop that were there with the first device's id and the second one's key would
    // write into the first one's logs.
    let staging = beside(folder, ".restoring");
    clear(&staging)?;
    let restored = bring_back(&staging, entry).and_then(|()| put_in_place(&staging, folder));
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
/// A wrong passphrase, a file that is no backup.
pub fn backup_check(path: &Path, passphrase: &str) -> Result<DamagedBackupView, ApiError> {
    let file = File::open(path).map_err(|source| failed("read", path, source))?;
    let checked =
        store::check_backup(&mut BufReader::new(file), passphrase, &mut |_| ControlFlow::Continue(()));
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
fn bring_back(staging: &Path, entry: &RestoreEntry) -> Result<(), ApiError> {
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
        &mut |_| ControlFlow::Continue(()),
    )?;
    match second {
        Some(key) => become_second(staging, &report.public_keys, &key),
        None => Ok(()),
    }
}

/// Gives the device an id of its own before anything is opened with the new key.
fn become_second(staging: &Path, first_keys: &[String], key: &DeviceKey) -> Result<(), ApiError> {
    let store = Store::open(staging, &OpenOptions::default())?;
    let first = shop::kept_in(&store)?;
    first_keys.iter().try_for_each(|pem| store.keep_public_key(&first.device_id, pem))?;
    let device_id = shop::new_id("device")?;
    store.keep_public_key(&device_id, &key.public_pem()?)?;
    shop::keep_in(&store, &shop::Shop { device_id, ..first })
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
