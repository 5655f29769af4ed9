mod beforehand;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use evidence::{DeviceKey, Digest};
use rusqlite::{OptionalExtension, Transaction};
use serde::{Deserialize, Serialize};

use crate::journal::{lines_of, put_length};
use crate::log::digest;
use crate::originals::first_two;
use crate::{JobSummary, Notice, Store, StoreError, jobs};

pub use beforehand::{NamedFile, ToBeForgotten};

/// What is to be destroyed of one job. Records, leaves, digests and checkpoints stay: every proof still holds.
pub struct ForgetRequest<'a> {
    /// The job.
    pub job: &'a str,
    /// Digests of the disclosures whose value and salt are destroyed.
    pub disclosures: &'a [Digest],
    /// Originals that are destroyed, with all previews; one that another job names stays and is reported.
    pub originals: &'a [Digest],
    /// Files in the data folder's `exports` that are destroyed, by name.
    pub exports: &'a [String],
    /// Whether database files that were set aside as damaged are destroyed, too, with their logs: they hold what they
    /// held then, of every job. Journals of this job that were set aside go in any case.
    pub damaged_copies: bool,
    /// The job's row for lists and search without what is forgotten. `None` removes the row, and the job is to be folded.
    pub summary: Option<&'a JobSummary>,
}

/// What was destroyed, and what wasn't.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ForgetReport {
    /// Values destroyed.
    pub disclosures: u64,
    /// Originals destroyed.
    pub originals: u64,
    /// Originals that stay, because another job names them.
    pub originals_shared: Vec<Digest>,
    /// Damaged databases that were set aside and not destroyed.
    pub damaged_copies: Vec<PathBuf>,
}

/// What is left to do once the rows are gone; read again after a crash. Holds digests and names, never words.
#[derive(Serialize, Deserialize)]
struct Plan {
    job: String,
    originals: Vec<Digest>,
    exports: Vec<String>,
    damaged_copies: bool,
}

/// A plan as it stands in the database, with the device's signature over its text: a row alone destroys nothing.
#[derive(Serialize, Deserialize)]
struct SignedPlan {
    plan: String,
    signature: Vec<u8>,
}

impl Store {
    /// Destroys values, originals, previews, drafts, search words and freed database pages of one job, and the intent.
    ///
    /// The rows and a plan of the rest go in one transaction; a crash in between is made up for at the next start. Packets
    /// and backups that were handed out can't be recalled, and a flash drive may keep old blocks whatever is written.
    ///
    /// # Errors
    /// [`StoreError::Busy`] while a backup or an export is written; [`StoreError::FileName`]; [`StoreError::DiskFull`],
    /// [`StoreError::File`] and those of the database. After any of these the next start goes on.
    pub fn forget(&self, request: &ForgetRequest<'_>) -> Result<ForgetReport, StoreError> {
        let _files = self.take_files()?;
        request.exports.iter().try_for_each(|name| require_name(name))?;
        let key = self.device_key().ok().flatten().map(|stored| stored.key);
        let (plan, mut report) =
            self.transact(|transaction| destroy_rows(transaction, request, key.as_ref()))?;
        report.originals = self.carry_out(&plan)?;
        report.damaged_copies = self.damaged_copies()?;
        Ok(report)
    }

    /// Carries out a plan that an earlier run left in the database, if this device signed it; returns how many originals it
    /// destroyed, or `None` without a plan.
    pub(crate) fn finish_forgetting(&self) -> Result<Option<u64>, StoreError> {
        let find = "SELECT json FROM forgetting";
        let json: Option<String> = self.database().query_row(find, [], |row| row.get(0)).optional()?;
        let Some(json) = json else { return Ok(None) };
        let signed = serde_json::from_str(&json).ok().filter(|signed| self.is_our_plan(signed));
        let plan = signed.and_then(|signed: SignedPlan| serde_json::from_str::<Plan>(&signed.plan).ok());
        let Some(plan) = plan else {
            self.database().execute("DELETE FROM forgetting", [])?;
            self.tell([Notice::ForgettingNotOurs]);
            return Ok(None);
        };
        Ok(Some(self.carry_out(&plan)?))
    }

    fn is_our_plan(&self, signed: &SignedPlan) -> bool {
        let Ok(signature) = <[u8; 64]>::try_from(signed.signature.as_slice()) else { return false };
        self.own_keys().iter().any(|key| key.verify(signed.plan.as_bytes(), &signature).is_ok())
    }

    fn carry_out(&self, plan: &Plan) -> Result<u64, StoreError> {
        plan.exports.iter().try_for_each(|name| require_name(name))?;
        self.rewrite_journals_of(&plan.job)?;
        let destroyed = self.destroy_files(plan)?;
        self.destroy_pages()?;
        self.database().execute("DELETE FROM forgetting", [])?;
        self.empty_write_ahead_log()?;
        Ok(destroyed)
    }

    /// Journals are written anew from the database; copies that were put aside hold the old lines and go.
    fn rewrite_journals_of(&self, job: &str) -> Result<(), StoreError> {
        for log in self.logs(job)? {
            let (connection, temporary) = (self.database(), self.folder.temporary());
            // Records whose bytes don't hash stay out: what is to be forgotten must be gone.
            let (text, _) = lines_of(&connection, &log)?;
            self.journal.write_whole(self.disk.as_ref(), &temporary, &log, &text)?;
            put_length(&connection, &log, Some(text.len() as u64))?;
            self.journal.note(&log, Ok(()));
        }
        self.remove_all(&self.journal.folder().join(job), &self.journals_aside(job)?)
    }

    fn destroy_files(&self, plan: &Plan) -> Result<u64, StoreError> {
        let mut destroyed = 0_u64;
        for original in &plan.originals {
            if let Some(path) = self.original_path(original) {
                self.remove_all(path.parent().unwrap_or(Path::new(".")), std::slice::from_ref(&path))?;
                destroyed = destroyed.saturating_add(1);
            }
            let shard = self.folder.previews().join(first_two(original));
            let previews = self.previews_of(original);
            self.remove_all(&shard, &previews)?;
        }
        let exports = self.folder.root().join("exports");
        let named = plan.exports.iter().map(|name| exports.join(name)).filter(|path| path.exists());
        self.remove_all(&exports, &named.collect::<Vec<_>>())?;
        if plan.damaged_copies {
            self.remove_all(self.folder.root(), &self.damaged_copies()?)?;
        }
        Ok(destroyed)
    }

    /// The search index and the database are written anew, so that no freed page keeps a word.
    fn destroy_pages(&self) -> Result<(), StoreError> {
        {
            let connection = self.database();
            connection.execute("INSERT INTO job_search (job_search) VALUES ('rebuild')", [])?;
            connection.execute_batch("VACUUM")?;
        }
        self.empty_write_ahead_log()
    }

    fn empty_write_ahead_log(&self) -> Result<(), StoreError> {
        self.database().query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        Ok(())
    }

    fn remove_all(&self, folder: &Path, paths: &[PathBuf]) -> Result<(), StoreError> {
        for path in paths {
            self.disk.remove(path).map_err(|error| StoreError::file("remove", path, error))?;
        }
        if paths.is_empty() {
            return Ok(());
        }
        self.disk.sync_folder(folder).map_err(|error| StoreError::file("sync", folder, error))
    }
}

fn destroy_rows(
    transaction: &Transaction<'_>,
    request: &ForgetRequest<'_>,
    key: Option<&DeviceKey>,
) -> Result<(Plan, ForgetReport), StoreError> {
    let (own, shared) = split_shared(transaction, request)?;
    let disclosures = destroy_values(transaction, request)?;
    let insert = "INSERT INTO forgotten (digest, job) VALUES (?, ?) ON CONFLICT DO NOTHING";
    for digest in request.disclosures.iter().chain(&own) {
        transaction.prepare_cached(insert)?.execute((digest.0, request.job))?;
    }
    transaction.execute("DELETE FROM drafts WHERE job = ?", [request.job])?;
    transaction.execute("DELETE FROM intent", [])?;
    match (request.summary, newest_record(transaction, request.job)?) {
        (Some(summary), Some(record)) if summary.row.job == request.job => {
            jobs::put(transaction, record, summary)?
        }
        _ => drop(transaction.execute("DELETE FROM jobs WHERE job = ?", [request.job])?),
    }
    let (job, exports) = (request.job.to_owned(), request.exports.to_vec());
    let plan = Plan { job, originals: own, exports, damaged_copies: request.damaged_copies };
    let text = serde_json::to_string(&plan)?;
    let signature = key.map(|key| key.sign_bytes(text.as_bytes()).to_vec()).unwrap_or_default();
    let put = "INSERT INTO forgetting (only, json) VALUES (1, ?)";
    transaction.execute(put, [serde_json::to_string(&SignedPlan { plan: text, signature })?])?;
    Ok((plan, ForgetReport { disclosures, originals_shared: shared, ..ForgetReport::default() }))
}

fn newest_record(transaction: &Transaction<'_>, job: &str) -> Result<Option<i64>, StoreError> {
    let newest = "SELECT max(record) FROM records JOIN logs USING (log) WHERE job = ?";
    Ok(transaction.query_row(newest, [job], |row| row.get(0))?)
}

fn destroy_values(transaction: &Transaction<'_>, request: &ForgetRequest<'_>) -> Result<u64, StoreError> {
    let wanted: BTreeSet<Digest> = request.disclosures.iter().copied().collect();
    let mut statement = transaction.prepare_cached(include_str!("sql/disclosure_rows_of_job.sql"))?;
    let rows = statement.query_map([request.job], |row| {
        Ok((row.get::<_, i64>(0)?, row.get::<_, i64>(1)?, row.get::<_, String>(2)?))
    })?;
    let rows: Vec<(i64, i64, String)> = rows.collect::<Result<_, _>>()?;
    let mut destroyed = 0_u64;
    for (record, position, _) in rows.iter().filter(|row| wanted.contains(&Digest::of(row.2.as_bytes()))) {
        let delete = "DELETE FROM disclosures WHERE record = ? AND position = ?";
        transaction.prepare_cached(delete)?.execute((record, position))?;
        destroyed = destroyed.saturating_add(1);
    }
    Ok(destroyed)
}

/// Originals of this job alone, and those that another job names as well.
fn split_shared(
    transaction: &Transaction<'_>,
    request: &ForgetRequest<'_>,
) -> Result<(Vec<Digest>, Vec<Digest>), StoreError> {
    let mut statement = transaction.prepare_cached(include_str!("sql/originals_of_others.sql"))?;
    let others: BTreeSet<Digest> =
        statement.query_map([request.job], |row| digest(row, 0))?.collect::<Result<_, _>>()?;
    Ok(request.originals.iter().partition(|original| !others.contains(original)))
}

fn require_name(name: &str) -> Result<(), StoreError> {
    let plain = !name.is_empty() && !name.starts_with('.') && !name.contains(['/', '\\', '\0']);
    if plain { Ok(()) } else { Err(StoreError::FileName { name: name.to_owned() }) }
}
