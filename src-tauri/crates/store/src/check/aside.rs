use std::path::{Path, PathBuf};

use evidence::{Disclosure, Frontier, LogId};
use rusqlite::{Transaction, named_params};

use crate::check::replace::settle_pointers;
use crate::check::survey::encoded_values;
use crate::disk::{Keeping, keep};
use crate::journal::{free_name, record_line};
use crate::log::{LogState, frontier_bytes, leaves_of};
use crate::{Access, Notice, Store, StoreError};

impl Store {
    /// Takes the records from `keep` on, which nobody signed for, out of a log and writes them beside its journal.
    pub(crate) fn set_tail_aside(&self, log: &LogId, from: u64) -> Result<Notice, StoreError> {
        let (text, records) = self.tail_as_text(log, from)?;
        let to = free_name(&self.journal.path(log));
        self.write_aside(&to, &text)?;
        self.transact(|transaction| {
            let Some(state) = LogState::find(transaction, log)? else { return Ok(()) };
            cut(transaction, &state, from)?;
            settle_pointers(transaction, &log.job)
        })?;
        Ok(Notice::NotVouched { log: log.origin(), records, to })
    }

    /// Renames a journal that must not be lost when a new one is written in its place.
    pub(crate) fn put_aside(&self, path: &Path) -> Result<PathBuf, StoreError> {
        let to = free_name(path);
        self.disk.rename(path, &to).map_err(|error| StoreError::file("rename", path, error))?;
        Ok(to)
    }

    fn tail_as_text(&self, log: &LogId, from: u64) -> Result<(String, u64), StoreError> {
        let connection = self.database();
        let Some(state) = LogState::find(&connection, log)? else { return Ok((String::new(), 0)) };
        let find = "SELECT record, bytes FROM records WHERE log = ? AND sequence >= ? ORDER BY sequence";
        let mut statement = connection.prepare(find)?;
        let rows =
            statement.query_map((state.log, from), |row| Ok((row.get(0)?, row.get::<_, Vec<u8>>(1)?)))?;
        let rows: Vec<(i64, Vec<u8>)> = rows.collect::<Result<_, _>>()?;
        let (mut text, mut records) = (crate::journal::heading_line(log), 0_u64);
        for (record, bytes) in rows {
            let encoded = encoded_values(&connection, record)?;
            let values: Vec<Disclosure> =
                encoded.iter().filter_map(|text| Disclosure::parse(text).ok()).collect();
            // Bytes that aren't even text can't be looked at as a line.
            text.push_str(&record_line(&bytes, &values, None).unwrap_or_default());
            records = records.saturating_add(1);
        }
        Ok((text, records))
    }

    fn write_aside(&self, to: &Path, text: &str) -> Result<(), StoreError> {
        let folder = to.parent().unwrap_or(Path::new("."));
        self.disk.create_folder(folder).map_err(|error| StoreError::file("create", folder, error))?;
        let (temporary, folders) = (self.folder.temporary(), [folder, self.journal.folder()]);
        let keeping = Keeping { temporary: &temporary, target: to, access: Access::Usual, folders: &folders };
        keep(self.disk.as_ref(), &keeping, text.as_bytes())
    }
}

/// Shortens a log to its first `size` records.
fn cut(transaction: &Transaction<'_>, state: &LogState, size: u64) -> Result<(), StoreError> {
    transaction.pragma_update(None, "defer_foreign_keys", true)?;
    let names = named_params! { ":log": state.log, ":size": size };
    for table in ["disclosures", "photos"] {
        let rows = "SELECT record FROM records WHERE log = :log AND sequence >= :size";
        transaction.execute(&format!("DELETE FROM {table} WHERE record IN ({rows})"), names)?;
    }
    for table in ["records", "signatures", "leaves"] {
        transaction.execute(&format!("DELETE FROM {table} WHERE log = :log AND sequence >= :size"), names)?;
    }
    transaction.execute("DELETE FROM checkpoints WHERE log = :log AND size > :size", names)?;
    let leaves = leaves_of(transaction, state.log)?;
    let Some(last) = leaves.last() else {
        transaction.execute("DELETE FROM logs WHERE log = ?", [state.log])?;
        return Ok(());
    };
    let tree = Frontier::of(&leaves);
    let put =
        "UPDATE logs SET size = ?, last_leaf = ?, root = ?, frontier = ?, journal_bytes = -1 WHERE log = ?";
    transaction.execute(put, (tree.size(), last.0, tree.root().0, frontier_bytes(&tree), state.log))?;
    Ok(())
}
