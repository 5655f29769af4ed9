//! Everything in open forms: JSON lines with the records' own bytes, originals as they came, CSV lists, `SHA256SUMS`.

mod import;
mod lists;
mod sums;

use std::fs;
use std::path::{Path, PathBuf};

use evidence::packet::Progress;
use evidence::{Digest, LogId};
use serde_json::Value;

pub use import::{ImportReport, Refused, exported_keys};

use crate::backup::{Watch, beside, move_into_place, require_empty};
use crate::log::log_id;
use crate::originals::listed;
use crate::{Access, Store, StoreError, journal};

/// What an export came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ExportReport {
    /// Files written.
    pub files: u64,
    /// Their bytes.
    pub bytes: u64,
    /// Originals that no longer have the bytes of their name: they were copied as they are.
    pub damaged_originals: Vec<Digest>,
    /// Records whose bytes no longer hash: they are left out.
    pub damaged_records: u64,
}

impl Store {
    /// Writes everything but private keys into an empty folder, which need not exist yet. `more` are files the caller
    /// adds, by name and bytes, such as lists of what the records mean.
    ///
    /// Everything is written beside the folder first and then renamed: a failure leaves the folder as it was.
    ///
    /// # Errors
    /// [`StoreError::NotEmpty`], [`StoreError::Cancelled`], [`StoreError::FileName`], [`StoreError::DiskFull`],
    /// [`StoreError::File`] and those of the database.
    pub fn open_export(
        &self,
        folder: &Path,
        more: &[(String, Vec<u8>)],
        watch: Watch<'_>,
    ) -> Result<ExportReport, StoreError> {
        require_empty(folder)?;
        let _files = self.hold_files();
        let part = beside(folder);
        let _ = fs::remove_dir_all(&part);
        let done = Exporting::new(self, &part, watch).and_then(|exporting| exporting.all(more));
        let done = done.and_then(|report| {
            move_into_place(&part, folder, self.disk.as_ref())?;
            Ok(report)
        });
        if done.is_err() {
            let _ = fs::remove_dir_all(&part);
        }
        done
    }

    pub(crate) fn every_log(&self) -> Result<Vec<LogId>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare("SELECT shop, job, device FROM logs ORDER BY log")?;
        let logs = statement.query_map([], |row| log_id(row, 0))?;
        Ok(logs.collect::<Result<_, _>>()?)
    }

    fn every_public_key(&self) -> Result<Value, StoreError> {
        let mut keys: Vec<Value> = Vec::new();
        for (device, key) in self.known_public_keys()? {
            keys.push(serde_json::json!({ "device": device, "pem": key.pem()? }));
        }
        for key in self.own_public_keys()? {
            if !keys.iter().any(|known| known.get("pem").and_then(Value::as_str) == key.pem().ok().as_deref())
            {
                keys.push(serde_json::json!({ "device": null, "pem": key.pem()? }));
            }
        }
        Ok(Value::Array(keys))
    }
}

struct Exporting<'a> {
    store: &'a Store,
    root: PathBuf,
    watch: Watch<'a>,
    progress: Progress,
    sums: Vec<String>,
    report: ExportReport,
}

impl<'a> Exporting<'a> {
    fn new(store: &'a Store, root: &Path, watch: Watch<'a>) -> Result<Self, StoreError> {
        let mut total = 0_u64;
        for shard in listed(&store.folder.originals())? {
            for path in listed(&shard)? {
                total = total.saturating_add(fs::metadata(&path).map_or(0, |data| data.len()));
            }
        }
        let (progress, root) = (Progress { done: 0, total }, root.to_path_buf());
        Ok(Self { store, root, watch, progress, sums: Vec::new(), report: ExportReport::default() })
    }

    fn all(mut self, more: &[(String, Vec<u8>)]) -> Result<ExportReport, StoreError> {
        self.file("README.txt", README.as_bytes())?;
        let settings = serde_json::to_vec_pretty(&self.store.settings()?)?;
        self.file("settings.json", &settings)?;
        let keys = serde_json::to_vec_pretty(&self.store.every_public_key()?)?;
        self.file("public-keys.json", &keys)?;
        for (name, text) in lists::all(&self.store.database())? {
            self.file(name, text.as_bytes())?;
        }
        for (name, bytes) in more {
            require_name(name)?;
            self.file(name, bytes)?;
        }
        for log in self.store.every_log()? {
            self.store.checked(&log)?;
            let (text, left_out) = journal::lines_of(&self.store.database(), &log)?;
            self.report.damaged_records = self.report.damaged_records.saturating_add(left_out);
            self.file(&format!("logs/{}/{}@{}.jsonl", log.job, log.device, log.shop), text.as_bytes())?;
        }
        self.originals()?;
        let sums = self.sums.concat();
        self.write(sums::NAME, sums.as_bytes())?;
        self.sync_folders(&self.root.clone())?;
        Ok(self.report)
    }

    fn originals(&mut self) -> Result<(), StoreError> {
        let mut shards = listed(&self.store.folder.originals())?;
        shards.sort();
        for shard in shards {
            let mut paths = listed(&shard)?;
            paths.sort();
            for path in paths {
                self.original(&shard, &path)?;
            }
        }
        Ok(())
    }

    fn original(&mut self, shard: &Path, path: &Path) -> Result<(), StoreError> {
        let name = |path: &Path| path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let bytes = fs::read(path).map_err(|error| StoreError::file("read", path, error))?;
        let named: Option<Digest> = path.file_stem().and_then(|stem| stem.to_str()?.parse().ok());
        self.report.damaged_originals.extend(named.filter(|named| Digest::of(&bytes) != *named));
        self.file(&format!("originals/{}/{}", name(shard), name(path)), &bytes)?;
        self.progress.done = self.progress.done.saturating_add(bytes.len() as u64);
        if (self.watch)(self.progress).is_break() { Err(StoreError::Cancelled) } else { Ok(()) }
    }

    fn file(&mut self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        self.sums.push(format!("{}  {name}\n", Digest::of(bytes)));
        self.write(name, bytes)
    }

    fn write(&mut self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let (path, disk) = (self.root.join(name), self.store.disk.as_ref());
        let folder = path.parent().unwrap_or(&self.root);
        disk.create_folder(folder).map_err(|error| StoreError::file("create", folder, error))?;
        let file = disk.create(&path, Access::Usual);
        let mut file = file.map_err(|error| StoreError::file("create", &path, error))?;
        file.write(bytes).map_err(|error| StoreError::file("write", &path, error))?;
        file.sync().map_err(|error| StoreError::file("sync", &path, error))?;
        self.report.files = self.report.files.saturating_add(1);
        self.report.bytes = self.report.bytes.saturating_add(bytes.len() as u64);
        Ok(())
    }

    fn sync_folders(&self, folder: &Path) -> Result<(), StoreError> {
        for path in listed(folder)?.into_iter().filter(|path| path.is_dir()) {
            self.sync_folders(&path)?;
        }
        self.store.disk.sync_folder(folder).map_err(|error| StoreError::file("sync", folder, error))
    }
}

/// A plain name of the caller's, so that it can't replace one of ours or leave the folder.
fn require_name(name: &str) -> Result<(), StoreError> {
    let plain = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || b"._-".contains(&byte);
    let ours = ["settings.json", "public-keys.json"].contains(&name) || lists::is_list(name);
    let first = name.bytes().next().is_some_and(|byte| byte.is_ascii_lowercase());
    if first && name.bytes().all(plain) && !ours {
        Ok(())
    } else {
        Err(StoreError::FileName { name: name.to_owned() })
    }
}

const README: &str = "\
Everything this shop has kept, in open forms. Nothing here needs the program that wrote it.

logs/JOB/DEVICE@SHOP.jsonl   One log: JSON lines (UTF-8). The first line names the log. A line with \"record\" holds
                             one sealed record: the characters from the brace after \"record\": to the last brace but
                             one are its exact bytes (RFC 8785). SHA-256 over a zero byte and them is its leaf hash
                             (RFC 6962), which the next record repeats as \"previous\". \"disclosures\" are the values
                             that may be withheld (RFC 9901): the SHA-256 of each text stands in the record.
                             \"signature\" (base64) is the device's Ed25519 signature (RFC 8032), made when the record
                             was sealed, over three lines: SHOP/JOB/DEVICE, how many records the log has with this one,
                             and the root of the tree over their leaf hashes (RFC 6962) in base64.
                             A line with \"checkpoint\" is a signed head of the log (C2SP signed note).
                             A line with \"forgotten\" lists digests of what was destroyed on request.
originals/AB/HASH.EXT        Photos and reports as they came; each is named by its SHA-256.
*.csv                        Lists for a spreadsheet (RFC 4180, UTF-8). A text that a spreadsheet would take for a
                             formula has an apostrophe before it. They are derived: the logs are what counts.
settings.json                The shop's details and preferences.
public-keys.json             Public keys of the devices. Private keys are never exported.
SHA256SUMS                   Check with: sha256sum -c SHA256SUMS
";
