use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::BufReader;
use std::path::Path;

use evidence::packet::Progress;
use evidence::{Digest, PublicKey};
use serde_json::Value;

use crate::backup::Watch;
use crate::journal::{Contents, journals, read};
use crate::log::digest;
use crate::open_export::sums::Listed;
use crate::originals::listed;
use crate::{LogCopy, LogUnion, Store, StoreError, foreign};

/// Larger originals are not taken in: everything this app keeps is far smaller.
const LARGEST_ORIGINAL: u64 = 1 << 30;

/// Something of an export that was not taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// The file, within the export.
    pub file: String,
    /// Why.
    pub why: String,
}

/// What an import brought.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ImportReport {
    /// What each log brought, by origin.
    pub logs: Vec<(String, LogUnion)>,
    /// Originals that are new here.
    pub originals_added: u64,
    /// Originals that were kept already.
    pub originals_already: u64,
    /// What was not taken in; everything else was.
    pub refused: Vec<Refused>,
    /// The exported settings, for the caller to choose from: none is changed here.
    pub settings: Value,
    /// The exported public keys, for the caller to choose from: none is trusted here.
    pub public_keys: Value,
}

impl Store {
    /// Takes in an open export by union: what is new is added, what is known stays, nothing is overwritten.
    ///
    /// Every file is held against `SHA256SUMS`, every original hashed, every record read back and chained, and every log
    /// held against the signatures of the keys known of its device: what nobody known signed for stays outside. A log that
    /// doesn't hold or that contradicts what is kept is refused and named, and the others are taken in. The jobs must be folded afterwards, see
    /// [`Store::jobs_to_fold`]. Taking in the same export again changes nothing.
    ///
    /// # Errors
    /// [`StoreError::Misfit`] when the folder is no whole export; [`StoreError::Cancelled`] keeps what was taken in until then; [`StoreError::DiskFull`], [`StoreError::File`]
    /// when the folder can't be read, and those of the database.
    pub fn open_import(&self, folder: &Path, watch: Watch<'_>) -> Result<ImportReport, StoreError> {
        let listed = Listed::read(folder)?;
        let mut report = ImportReport {
            settings: json(&folder.join("settings.json")),
            public_keys: json(&folder.join("public-keys.json")),
            ..ImportReport::default()
        };
        for gone in listed.gone() {
            report
                .refused
                .push(Refused { file: gone, why: "SHA256SUMS lists it, but it is missing".to_owned() });
        }
        self.import_originals(folder, &listed, &mut report, watch)?;
        for path in journals(&folder.join("logs"))? {
            match listed.require(&path).and_then(|()| self.import_log(&path)) {
                Ok(brought) => {
                    let left = brought.left_behind();
                    report.refused.extend(left.map(|why| refused(&listed, &path, why)));
                    report.logs.push((brought.log, brought.union));
                }
                Err(StoreError::DiskFull) => return Err(StoreError::DiskFull),
                Err(error) => report.refused.push(refused(&listed, &path, error.to_string())),
            }
        }
        Ok(report)
    }

    fn import_log(&self, path: &Path) -> Result<Brought, StoreError> {
        require_plain_file(path)?;
        let file = File::open(path).map_err(|error| StoreError::file("read", path, error))?;
        let Contents { copy, complaint } = read(&mut BufReader::new(file));
        let why = complaint.or_else(|| copy.is_none().then(|| "it is empty".to_owned()));
        match (copy, why) {
            (Some(copy), None) => self.unite_signed(copy),
            (_, why) => Err(StoreError::Misfit { why: why.unwrap_or_default() }),
        }
    }

    /// Takes in what a known key of the device signed for; the rest stays outside and is named.
    fn unite_signed(&self, copy: LogCopy) -> Result<Brought, StoreError> {
        let (log, records) = (copy.log.origin(), copy.records.len() as u64);
        match self.unite(&copy, foreign::Rule::AllOrNothing) {
            Ok(union) => Ok(Brought { log, union, unsigned: 0 }),
            Err(StoreError::NotVouched { from, .. }) if from > 0 => {
                let union = self.unite(&copy.first(from), foreign::Rule::AllOrNothing)?;
                Ok(Brought { log, union, unsigned: records.saturating_sub(from) })
            }
            Err(error) => Err(error),
        }
    }

    fn import_originals(
        &self,
        folder: &Path,
        sums: &Listed,
        report: &mut ImportReport,
        watch: Watch<'_>,
    ) -> Result<(), StoreError> {
        let forgotten = self.forgotten()?;
        let mut paths = Vec::new();
        for shard in
            listed(&folder.join("originals")).unwrap_or_default().into_iter().filter(|path| path.is_dir())
        {
            paths.extend(listed(&shard)?);
        }
        paths.sort();
        let mut progress = Progress { done: 0, total: paths.len() as u64 };
        for path in paths {
            match sums.require(&path).and_then(|()| self.import_original(&path, &forgotten)) {
                Ok(true) => report.originals_added = report.originals_added.saturating_add(1),
                Ok(false) => report.originals_already = report.originals_already.saturating_add(1),
                Err(StoreError::DiskFull) => return Err(StoreError::DiskFull),
                Err(error) => report.refused.push(refused(sums, &path, error.to_string())),
            }
            progress.done = progress.done.saturating_add(1);
            if watch(progress).is_break() {
                return Err(StoreError::Cancelled);
            }
        }
        Ok(())
    }

    fn import_original(&self, path: &Path, forgotten: &BTreeSet<Digest>) -> Result<bool, StoreError> {
        require_plain_file(path)?;
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let digest: Digest = name.parse()?;
        if forgotten.contains(&digest) {
            return Err(StoreError::Misfit { why: "it was destroyed here on request".to_owned() });
        }
        if self.original(&digest).is_ok() {
            return Ok(false);
        }
        let bytes = fs::read(path).map_err(|error| StoreError::file("read", path, error))?;
        if Digest::of(&bytes) != digest {
            return Err(StoreError::OriginalDamaged { digest });
        }
        self.keep_original(&bytes, &path.extension().unwrap_or_default().to_string_lossy())?;
        Ok(true)
    }

    /// Digests of values and originals that were destroyed on request.
    ///
    /// # Errors
    /// Those of the database.
    pub fn forgotten(&self) -> Result<BTreeSet<Digest>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare("SELECT digest FROM forgotten")?;
        let digests = statement.query_map([], |row| digest(row, 0))?;
        Ok(digests.collect::<Result<_, _>>()?)
    }
}

/// A link or a device could lead anywhere or never end.
fn require_plain_file(path: &Path) -> Result<(), StoreError> {
    let data = fs::symlink_metadata(path).map_err(|error| StoreError::file("read", path, error))?;
    if data.is_file() && data.len() <= LARGEST_ORIGINAL {
        Ok(())
    } else {
        Err(StoreError::Misfit { why: "it is no plain file of a usual size".to_owned() })
    }
}

fn refused(listed: &Listed, path: &Path, why: String) -> Refused {
    Refused { file: listed.name_of(path), why }
}

/// What one log's file brought.
struct Brought {
    log: String,
    union: LogUnion,
    /// Records at its end that nobody known signed for.
    unsigned: u64,
}

impl Brought {
    fn left_behind(&self) -> Option<String> {
        let count = self.unsigned;
        (count > 0)
            .then(|| format!("its last {count} records are signed by no key known here and stay outside"))
    }
}

fn json(path: &Path) -> Value {
    let text = require_plain_file(path).ok().and_then(|()| fs::read(path).ok());
    text.and_then(|text| serde_json::from_slice(&text).ok()).unwrap_or_default()
}

/// Public keys in an export with the devices they are said to be of. Nothing vouches for that: compare them.
pub fn exported_keys(folder: &Path) -> Vec<(String, PublicKey)> {
    let listed = json(&folder.join("public-keys.json"));
    let key = |entry: &Value| {
        let device = entry.get("device")?.as_str()?.to_owned();
        Some((device, PublicKey::from_pem(entry.get("pem")?.as_str()?).ok()?))
    };
    listed.as_array().into_iter().flatten().filter_map(key).collect()
}
